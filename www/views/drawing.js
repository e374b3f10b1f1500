/**
 * The drawing: a canvas as sharp as the screen, zoomed and panned by hand, with the handles laid over it as
 * real sliders.
 * @module
 */
import { make, setAttribute, setText } from "../elements.js";
import { say } from "../words.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../desk.js").Change} Change */
/** @typedef {import("../engine.js").Handle} HandleRow */
/** @typedef {import("../pkg/site.js").Workbench} Workbench */

/** A press that moves less than this is a tap, CSS px. */
const STILL_PX = 8;
const WHEEL = 0.0016;
const WIDE = "(min-width: 900px), (orientation: landscape) and (min-width: 640px)";

/**
 * A drag or a key press gives either edits of the design or another hoist.
 * @param {Desk} desk @param {string} answer @param {(edits: string) => void} edit
 */
export function takeAnswer(desk, answer, edit) {
  if (answer === "" || answer === "[]") return;
  const found = JSON.parse(answer);
  if (Array.isArray(found)) edit(answer);
  else if (Array.isArray(found.hoist)) desk.setView({ hoist: found.hoist });
}

/**
 * Handles laid over a picture, as real sliders.
 * @param {HTMLElement} overlay
 * @param {Desk} desk
 * @param {{ rows: (bench: Workbench) => HandleRow[], nudge: (bench: Workbench, id: string, steps: number, upright: boolean) => string, letGo: () => boolean }} how
 *   `letGo`: the hand lets go of what it holds, if it holds anything
 */
export function makeHandles(overlay, desk, how) {
  /** @type {Map<string, HandleRow>} */
  const rows = new Map();
  /** @type {Map<string, HTMLElement>} */
  const nodes = new Map();
  /** The one that was held when they were last placed. */
  let held = "";

  /** @param {string} id */
  function addHandle(id) {
    const name = `nudge ${id}`;
    const node = make("div", { class: "handle", role: "slider", tabindex: "0", "data-handle": id }, make("span"));
    node.addEventListener("keydown", (event) => {
      if (event.key === "Escape") {
        if (how.letGo()) desk.revert();
        else if (!desk.revertBurst(name)) return;
        event.preventDefault();
        event.stopPropagation();
        return;
      }
      if (event.ctrlKey || event.metaKey || event.altKey || desk.lookOnly) return;
      const sign = new Map([
        ["ArrowRight", 1],
        ["ArrowUp", 1],
        ["ArrowLeft", -1],
        ["ArrowDown", -1],
        ["PageUp", 10],
        ["PageDown", -10],
      ]).get(event.key);
      if (sign === undefined) return;
      event.preventDefault();
      const steps = event.shiftKey && Math.abs(sign) === 1 ? sign * 10 : sign;
      desk.press(name);
      takeAnswer(desk, desk.ask(`nudge ${id}`, (bench) => how.nudge(bench, id, steps, /Up|Down/.test(event.key)), ""), (edits) => desk.commit(edits, name));
    });
    node.addEventListener("blur", () => desk.sealBurst(name));
    overlay.append(node);
    nodes.set(id, node);
    return node;
  }

  return {
    /** @param {string} id */
    row: (id) => rows.get(id),
    /** @param {boolean} dragging @param {number} width @param {number} height */
    place(dragging, width, height) {
      const found = desk.ask("handles", how.rows, /** @type {HandleRow[]} */ ([]));
      if (!dragging)
        for (const [id, node] of nodes)
          if (!found.some((row) => row.id === id)) {
            node.remove();
            nodes.delete(id);
            rows.delete(id);
          }
      const { active } = desk.view;
      for (const row of found) {
        const before = rows.get(row.id);
        rows.set(row.id, row);
        const node = nodes.get(row.id) ?? addHandle(row.id);
        if (active !== held || !before) node.classList.toggle("held", active === row.id);
        // While dragging only places are seen, and the number of what is held; the rest comes afterwards.
        if (dragging && before && before.x === row.x && before.y === row.y) continue;
        node.style.transform = `translate(${row.x}px, ${row.y}px)`;
        const inside = row.x >= 0 && row.y >= 0 && row.x <= width && row.y <= height;
        if (node.hidden !== (!inside && active !== row.id)) node.hidden = !node.hidden;
        if (dragging && before && row.id !== active) continue;
        setAttribute(node, "aria-valuenow", String(row.now));
        setAttribute(node, "aria-valuetext", row.valuetext ?? null);
        if (dragging && before) continue;
        setAttribute(node, "aria-label", row.label ?? null);
        setAttribute(node, "aria-valuemin", String(row.min));
        setAttribute(node, "aria-valuemax", String(row.max));
        setAttribute(node, "aria-orientation", row.axis === "turn" ? null : row.axis === "x" ? "horizontal" : "vertical");
        node.dataset.axis = row.axis;
      }
      held = active;
    },
  };
}

/**
 * @param {HTMLElement} pane
 * @param {Desk} desk
 */
export function makeDrawing(pane, desk) {
  const canvas = make("canvas", { id: "canvas", role: "img", "aria-describedby": "reading" });
  const overlay = make("div", { class: "handles" });
  const tag = make("div", { class: "live-tag", "aria-hidden": "true", hidden: true }, make("span"), make("strong"));
  pane.append(canvas, overlay, tag);
  const ink = canvas.getContext("2d");

  let width = 0;
  let height = 0;
  let ratio = 1;

  function paint() {
    if (!ink || width === 0 || height === 0) return;
    desk.ask("paint", (bench) => bench.paint(ink, width, height, ratio), undefined);
  }

  /**
   * Takes the pane's size; the canvas has whole device pixels.
   * @param {number} nowWide @param {number} nowHigh in CSS pixels
   * @param {ResizeObserverSize} [device] the same in device pixels, where the browser tells them in the page's own scale
   * @returns {boolean} whether it has been painted for that
   */
  function resize(nowWide, nowHigh, device) {
    const told = device !== undefined && Math.abs(device.inlineSize - nowWide * devicePixelRatio) < 2;
    const wide = told ? device.inlineSize : Math.round(nowWide * devicePixelRatio);
    const high = told ? device.blockSize : Math.round(nowHigh * devicePixelRatio);
    if (nowWide === width && nowHigh === height && canvas.width === wide && canvas.height === high) return false;
    width = nowWide;
    height = nowHigh;
    ratio = width > 0 ? wide / width : 1;
    if (canvas.width !== wide || canvas.height !== high) {
      canvas.width = wide;
      canvas.height = high;
    }
    // At once, before the frame is shown: a resized canvas is blank.
    paint();
    desk.request();
    return true;
  }
  const observer = new ResizeObserver((entries) => {
    for (const { contentRect, devicePixelContentBoxSize } of entries) resize(contentRect.width, contentRect.height, devicePixelContentBoxSize?.[0]);
  });
  try {
    observer.observe(pane, { box: "device-pixel-content-box" });
  } catch {
    observer.observe(pane);
  }
  // The canvas letters with the page's own face, once it is there.
  for (const weight of ["400", "600"]) void document.fonts?.load(`${weight} 16px Battenwright`).then(() => desk.request(), () => {});

  // --- Zoom and pan ----------------------------------------------------------------------------

  /** Looks at the drawing in another way, of which some stays in sight. @param {Partial<import("../engine.js").View>} patch */
  function look(patch) {
    desk.setView(patch);
    const [, , , pan_x = 0, pan_y = 0] = placed();
    Object.assign(desk.view, { pan_x, pan_y });
  }

  /** CSS px to the metre, where the forward end of the waterline lies, how far it is panned. */
  const placed = () => desk.ask("placed", (bench) => bench.placed(width, height), new Float64Array(5));

  /** Zooms so that what lies under a point of the pane stays there. @param {number} factor @param {number} x @param {number} y */
  function zoomAt(factor, x, y) {
    const { zoom, pan_x, pan_y } = desk.view;
    const next = Math.min(12, Math.max(1, zoom * factor));
    const grown = next / zoom;
    const fromX = x - width / 2;
    const fromY = y - height / 2;
    look({ zoom: next, pan_x: fromX - (fromX - pan_x) * grown, pan_y: fromY - (fromY - pan_y) * grown });
  }

  pane.addEventListener(
    "wheel",
    (event) => {
      if (!event.ctrlKey && !event.metaKey && !matchMedia(WIDE).matches) return;
      event.preventDefault();
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
      const box = pane.getBoundingClientRect();
      const speed = event.ctrlKey && Math.abs(event.deltaY) < 50 ? 6 : 1;
      zoomAt(Math.exp(-event.deltaY * lines * WHEEL * speed), event.clientX - box.left, event.clientY - box.top);
    },
    { passive: false },
  );

  // --- Pointers --------------------------------------------------------------------------------

  /** @type {Map<number, { x: number, y: number }>} */
  const fingers = new Map();
  /** @type {{ kind: "handle", id: number, handle: string, offX: number, offY: number, moved: boolean } | { kind: "pan", id: number } | { kind: "pinch" } | null} */
  let hold = null;
  /** Where a finger came down that may be a tap, on a handle perhaps. @type {{ x: number, y: number, held: boolean } | null} */
  let tap = null;
  /** Where it was one. @type {{ x: number, y: number, held: boolean } | null} */
  let meant = null;

  /** Where the pane lay when the first finger came down: asking at each move would cost a layout. */
  let corner = { left: 0, top: 0 };
  /** @param {PointerEvent} event */
  const place = (event) => ({ x: event.clientX - corner.left, y: event.clientY - corner.top });

  pane.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    if (fingers.size === 0) corner = pane.getBoundingClientRect();
    const at = place(event);
    fingers.set(event.pointerId, at);
    // Captured, so that its end is seen wherever it comes.
    pane.setPointerCapture(event.pointerId);
    const onHandle = event.target instanceof Element && event.target.closest("[data-handle]") !== null;
    // While points are set over the drawing the taps are theirs.
    tap = fingers.size === 1 && !pane.classList.contains("tracing") ? { ...at, held: onHandle } : null;
    if (fingers.size === 2) {
      // A second finger takes back what the first has done, and the two zoom.
      if (hold?.kind === "handle") desk.revert();
      hold = { kind: "pinch" };
      return;
    }
    if (fingers.size > 2) return;
    const target = event.target instanceof Element ? event.target.closest("[data-handle]") : null;
    if (target instanceof HTMLElement && !desk.lookOnly) {
      const row = handles.row(target.dataset.handle ?? "");
      if (!row) return;
      event.preventDefault();
      target.focus({ preventScroll: true });
      hold = { kind: "handle", id: event.pointerId, handle: row.id, offX: at.x - row.x, offY: at.y - row.y, moved: false };
    } else if (desk.view.zoom > 1) {
      hold = { kind: "pan", id: event.pointerId };
    }
  });

  pane.addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const at = place(event);
    if (hold?.kind === "pinch") {
      const other = [...fingers].find(([id]) => id !== event.pointerId)?.[1];
      if (other) {
        const apart = Math.hypot(before.x - other.x, before.y - other.y);
        const nowApart = Math.hypot(at.x - other.x, at.y - other.y);
        const middle = { x: (at.x + other.x) / 2, y: (at.y + other.y) / 2 };
        if (apart > 1) zoomAt(nowApart / apart, middle.x, middle.y);
        look({ pan_x: desk.view.pan_x + (at.x - before.x) / 2, pan_y: desk.view.pan_y + (at.y - before.y) / 2 });
      }
    } else if (hold?.kind === "pan" && hold.id === event.pointerId) {
      look({ pan_x: desk.view.pan_x + at.x - before.x, pan_y: desk.view.pan_y + at.y - before.y });
    } else if (hold?.kind === "handle" && hold.id === event.pointerId) {
      const { handle, offX, offY } = hold;
      if (!hold.moved) {
        if (Math.hypot(at.x - before.x, at.y - before.y) < 2) return;
        hold.moved = true;
        desk.grasp(handle);
      }
      desk.drag(() => follow(handle, at.x - offX, at.y - offY));
    }
    fingers.set(event.pointerId, at);
  });

  /** @param {string} handle @param {number} x @param {number} y */
  function follow(handle, x, y) {
    takeAnswer(desk, desk.ask(`drag ${handle}`, (bench) => bench.drag(handle, x, y, width, height), ""), (edits) => desk.live(edits));
  }

  /** @param {PointerEvent} event @param {boolean} kept */
  function letGo(event, kept) {
    if (!fingers.delete(event.pointerId)) return;
    if (hold?.kind === "pinch") {
      if (fingers.size === 0) {
        hold = null;
        desk.announce();
      }
      return;
    }
    if (!hold || hold.id !== event.pointerId) return;
    const { kind } = hold;
    hold = null;
    if (kind !== "handle") return;
    if (kept) desk.release();
    else desk.revert();
  }
  pane.addEventListener("pointerup", (event) => {
    const at = place(event);
    const moved = hold?.kind === "handle" && hold.moved;
    meant = tap !== null && !moved && fingers.size === 1 && Math.hypot(at.x - tap.x, at.y - tap.y) < STILL_PX ? { ...at, held: tap.held } : null;
    letGo(event, true);
    tap = null;
  });
  // With the click that follows: it would close again what opened before it.
  pane.addEventListener("click", () => {
    if (meant) desk.tap(false, meant.x, meant.y, width, height, meant.held);
    meant = null;
  });
  pane.addEventListener("pointercancel", (event) => letGo(event, false));
  pane.addEventListener("lostpointercapture", (event) => letGo(event, false));

  const handles = makeHandles(overlay, desk, {
    rows: (bench) => bench.handles(width, height),
    nudge: (bench, id, steps, upright) => bench.nudge(id, steps, upright, false),
    letGo() {
      if (hold?.kind !== "handle") return false;
      hold = null;
      return true;
    },
  });

  function placeHandles(/** @type {boolean} */ dragging) {
    handles.place(dragging, width, height);
    const held = handles.row(desk.view.active);
    if (tag.hidden !== !held) tag.hidden = !held;
    if (held) {
      setText(tag.firstElementChild ?? tag, held.label ?? "");
      setText(tag.lastElementChild ?? tag, held.valuetext ?? "");
    }
  }

  return {
    pane,
    placed,
    /** Paints at once, without waiting for a frame. */
    show() {
      const box = pane.getBoundingClientRect();
      if (!resize(box.width, box.height)) paint();
    },
    zoomIn: () => zoomAt(1.4, width / 2, height / 2),
    zoomOut: () => zoomAt(1 / 1.4, width / 2, height / 2),
    fit: () => desk.setView({ zoom: 1, pan_x: 0, pan_y: 0 }),
    paint,
    /** What lies over the picture. @param {Change} change */
    update(change) {
      placeHandles(change.dragging);
      if (change.dragging) return;
      overlay.hidden = desk.lookOnly;
      pane.classList.toggle("zoomed", desk.view.zoom > 1);
      setAttribute(canvas, "aria-label", say("page.drawing_of", { name: desk.project?.name ?? "" }));
    },
  };
}
