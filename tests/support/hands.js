/**
 * Hands on the page: a mouse where there is one, fingers by the browser's own touch input elsewhere, so
 * that scrolling, capture and cancelling are the browser's.
 * @module
 */

/** @typedef {import("@playwright/test").Page} Page */
/** @typedef {{ x: number, y: number }} Place */

/** One finger, or the mouse with its button down. */
export class Hand {
  /** @type {import("@playwright/test").CDPSession | null} */
  #wire = null;
  /** @type {Map<number, Place>} */
  #fingers = new Map();

  /** @param {Page} page @param {boolean} touch */
  constructor(page, touch) {
    this.page = page;
    this.touch = touch;
  }

  /** @param {"touchStart" | "touchMove" | "touchEnd" | "touchCancel"} type @param {Map<number, Place>} [fingers] */
  async #send(type, fingers = this.#fingers) {
    this.#wire ??= await this.page.context().newCDPSession(this.page);
    await this.#wire.send("Input.dispatchTouchEvent", { type, touchPoints: Array.from(fingers, ([id, { x, y }]) => ({ x, y, id })) });
  }

  /** @param {Place} at @param {number} [finger] */
  async down(at, finger = 0) {
    if (this.touch) {
      this.#fingers.set(finger, at);
      await this.#send("touchStart");
    } else {
      await this.page.mouse.move(at.x, at.y);
      await this.page.mouse.down();
    }
  }

  /** @param {Place} at @param {number} [finger] */
  async to(at, finger = 0) {
    if (this.touch) {
      this.#fingers.set(finger, at);
      await this.#send("touchMove");
    } else await this.page.mouse.move(at.x, at.y);
  }

  /** @param {number} [finger] */
  async up(finger = 0) {
    if (this.touch) {
      const at = this.#fingers.get(finger);
      if (!at) return;
      this.#fingers.delete(finger);
      // An end names the finger that is lifted.
      await this.#send("touchEnd", new Map([[finger, at]]));
    } else await this.page.mouse.up();
  }

  /** The system takes the touch away, as for a call coming in. A mouse is never taken away: there the event is told. */
  async cancel() {
    if (this.touch) {
      this.#fingers.clear();
      await this.#send("touchCancel");
      return;
    }
    await this.page.evaluate(() => {
      const told = { pointerId: 1, pointerType: "mouse", isPrimary: true, bubbles: true };
      document.activeElement?.dispatchEvent(new PointerEvent("pointercancel", told));
    });
    await this.page.mouse.up();
  }

  /**
   * Along a straight line in small steps, as a hand goes.
   * @param {Place} from @param {Place} to @param {number} [steps]
   */
  async along(from, to, steps = 8) {
    for (let step = 1; step <= steps; step += 1) {
      const share = step / steps;
      await this.to({ x: from.x + (to.x - from.x) * share, y: from.y + (to.y - from.y) * share });
    }
  }

  /** @param {Place} from @param {Place} to */
  async drag(from, to) {
    await this.down(from);
    await this.along(from, to);
    await this.up();
  }
}

/**
 * Two fingers that go apart or together about a point, by the browser's touch input.
 * @param {Page} page @param {Place} about @param {number} from how far apart at first, px @param {number} to
 */
export async function pinch(page, about, from, to) {
  const hand = new Hand(page, true);
  const at = (/** @type {number} */ apart, /** @type {1 | -1} */ side) => ({ x: about.x + (side * apart) / 2, y: about.y + (side * apart) / 6 });
  await hand.down(at(from, -1), 0);
  await hand.down(at(from, 1), 1);
  for (let step = 1; step <= 8; step += 1) {
    const apart = from + ((to - from) * step) / 8;
    await hand.to(at(apart, -1), 0);
    await hand.to(at(apart, 1), 1);
  }
  await hand.up(0);
  await hand.up(1);
}

/**
 * A thumb pushes the page upward, quickly and without a fling.
 * @param {Page} page @param {Place} from @param {number} distance px, positive scrolls down
 */
export async function thumbScroll(page, from, distance) {
  await new Hand(page, true).drag(from, { x: from.x, y: from.y - distance });
}
