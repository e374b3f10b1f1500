/**
 * The hoist beside the drawing: a scale of panels lowered, with a detent at each whole panel. Dragging it
 * is hauling or easing the halyard.
 * @module
 */
import { make, setAttribute } from "../elements.js";
import { say } from "../words.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../desk.js").Change} Change */
/** @typedef {import("../engine.js").HoistScale} HoistScale */
/** @typedef {import("../engine.js").ReefTable} ReefTable */

/** How near to a whole panel the hand is taken to mean it, in panels. */
const DETENT = 0.12;
/** A press that moves less than this is a tap, CSS px. */
const TAP_PX = 5;
/** Height that a number of the scale needs, of the page's lettering. */
const LABEL_REM = 1.06;
const KEYS = "hoist";

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 */
export function makeHoist(root, desk) {
  const select = make("select", { id: "hoist-of", label: "page.hoist.of" });
  const chooser = make("div", { class: "hoist-of", hidden: true }, select);
  const ticks = make("div", { class: "hoist-ticks", "aria-hidden": "true" });
  const thumb = make("div", { id: "hoist", class: "hoist-thumb", role: "slider", tabindex: "0", "aria-orientation": "vertical" }, make("span", { class: "hoist-grip" }));
  const track = make("div", { class: "hoist-track" }, ticks, thumb);
  root.append(chooser, track);

  /** @type {HoistScale[]} */
  let scales = [];
  /** @type {number[][]} */
  let sequence = [];
  let chosen = -1;
  let drawn = "";
  let options = "";
  /** @type {{ id: number, startY: number, offset: number, moved: boolean } | null} */
  let hold = null;

  const scale = () => scales.find(({ mast }) => mast === chosen) ?? scales[0];

  select.addEventListener("change", () => {
    chosen = Number(select.value);
    if (chosen >= 0) desk.setView({ mast: chosen });
    desk.request();
  });

  /** The panels lowered on each mast for a place on the scale. @param {number} value @returns {number[]} */
  function hoistAt(value) {
    const now = scale();
    if (!now) return desk.view.hoist;
    if (now.mast >= 0) return desk.view.hoist.map((old, mast) => (mast === now.mast ? value : old));
    const low = sequence[Math.floor(value)];
    const high = sequence[Math.ceil(value)] ?? low;
    if (!low || !high) return desk.view.hoist;
    const share = value - Math.floor(value);
    return low.map((from, mast) => from + ((high[mast] ?? from) - from) * share);
  }

  /** @param {number} value */
  const clamped = (value) => Math.min(scale()?.panels ?? 0, Math.max(0, value));

  /** @param {number} clientY */
  function valueAt(clientY) {
    const box = track.getBoundingClientRect();
    return clamped(((clientY - box.top) / Math.max(1, box.height)) * (scale()?.panels ?? 0));
  }

  track.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    if (hold) {
      // A second finger: as it was.
      cancel();
      return;
    }
    event.preventDefault();
    thumb.focus({ preventScroll: true });
    const onThumb = thumb.contains(/** @type {Node} */ (event.target));
    const box = thumb.getBoundingClientRect();
    hold = { id: event.pointerId, startY: event.clientY, offset: onThumb ? event.clientY - (box.top + box.height / 2) : 0, moved: false };
    track.setPointerCapture(event.pointerId);
  });
  track.addEventListener("pointermove", (event) => {
    if (!hold || hold.id !== event.pointerId) return;
    if (!hold.moved) {
      if (Math.abs(event.clientY - hold.startY) < TAP_PX) return;
      hold.moved = true;
      desk.grasp("hoist");
    }
    const at = event.clientY - hold.offset;
    desk.drag(() => {
      let value = valueAt(at);
      if (Math.abs(value - Math.round(value)) < DETENT) value = Math.round(value);
      desk.setView({ hoist: hoistAt(value) });
    });
  });
  track.addEventListener("pointerup", (event) => {
    if (!hold || hold.id !== event.pointerId) return;
    const { moved } = hold;
    hold = null;
    if (moved) desk.release();
    else desk.slideTo(hoistAt(Math.round(valueAt(event.clientY))));
  });
  function cancel() {
    if (!hold) return;
    const { moved, id } = hold;
    hold = null;
    if (track.hasPointerCapture(id)) track.releasePointerCapture(id);
    if (moved) desk.revert();
  }
  track.addEventListener("pointercancel", (event) => {
    if (hold?.id === event.pointerId) cancel();
  });
  track.addEventListener("lostpointercapture", (event) => {
    if (hold?.id === event.pointerId) cancel();
  });

  thumb.addEventListener("keydown", (event) => {
    if (event.key === "Escape") {
      if (hold) cancel();
      else if (!desk.revertBurst(KEYS)) return;
      event.preventDefault();
      event.stopPropagation();
      return;
    }
    const now = scale();
    if (!now || event.ctrlKey || event.metaKey || event.altKey) return;
    const value = now.value;
    const fine = event.shiftKey;
    const places = new Map([
      ["ArrowDown", fine ? value + 0.1 : Math.floor(value + 1e-6) + 1],
      ["ArrowRight", fine ? value + 0.1 : Math.floor(value + 1e-6) + 1],
      ["ArrowUp", fine ? value - 0.1 : Math.ceil(value - 1e-6) - 1],
      ["ArrowLeft", fine ? value - 0.1 : Math.ceil(value - 1e-6) - 1],
      ["PageDown", Math.floor(value + 1e-6) + 3],
      ["PageUp", Math.ceil(value - 1e-6) - 3],
      ["Home", 0],
      ["End", now.panels],
    ]);
    const to = places.get(event.key);
    if (to === undefined) return;
    event.preventDefault();
    desk.press(KEYS);
    desk.setView({ hoist: hoistAt(clamped(Math.round(to * 10) / 10)) });
    // The next key press counts from here, also before the next frame.
    now.value = clamped(Math.round(to * 10) / 10);
  });
  thumb.addEventListener("blur", () => desk.sealBurst(KEYS));

  let height = 0;
  let label = 18;
  function drawTicks() {
    const now = scale();
    if (!now) return;
    const every = Math.max(1, Math.ceil((label * now.panels) / Math.max(1, height)));
    const key = `${now.panels} ${every}`;
    if (key === drawn) return;
    drawn = key;
    ticks.replaceChildren(
      ...Array.from({ length: now.panels + 1 }, (_, panel) => {
        const tick = make("span", { class: "hoist-tick", text: panel === now.panels || (panel % every === 0 && now.panels - panel >= every) ? String(panel) : "" });
        tick.style.top = `${(panel / Math.max(1, now.panels)) * 100}%`;
        return tick;
      }),
    );
  }
  // Asking for the height in a frame would make the browser lay the page out in the middle of it.
  new ResizeObserver(([entry]) => {
    height = entry?.contentRect.height ?? height;
    label = LABEL_REM * parseFloat(getComputedStyle(document.documentElement).fontSize);
    drawTicks();
  }).observe(track);

  /** @param {Change} change */
  return (change) => {
    // A handle under the hand moves no halyard.
    const { active } = desk.view;
    if (change.dragging && active !== "" && active !== "hoist" && !change.opened) return;
    scales = desk.ask("hoist_scale", (bench) => bench.hoist_scale(), /** @type {HoistScale[]} */ ([]));
    if (scales.length > 1 && !change.dragging && (change.document || sequence.length === 0)) {
      const table = desk.ask("reef_table", (bench) => bench.reef_table(), /** @type {ReefTable | null} */ (null));
      sequence = table?.rows.map(({ hoist }) => hoist) ?? [];
    }
    if (change.opened) chosen = scales[0]?.mast ?? 0;
    const key = JSON.stringify(scales.map(({ mast, label }) => [mast, label]));
    if (key !== options) {
      options = key;
      select.replaceChildren(...scales.map(({ mast, label }) => make("option", { value: String(mast), text: mast < 0 ? say("page.hoist.all") : label })));
      chooser.hidden = scales.length < 2;
    }
    const now = scale();
    if (!now) return;
    if (select.value !== String(now.mast)) select.value = String(now.mast);
    drawTicks();
    setAttribute(thumb, "aria-label", scales.length > 1 ? `${say("page.hoist")}, ${now.label}` : say("page.hoist"));
    setAttribute(thumb, "aria-valuemin", "0");
    setAttribute(thumb, "aria-valuemax", String(now.panels));
    setAttribute(thumb, "aria-valuenow", String(Math.round(now.value * 100) / 100));
    setAttribute(thumb, "aria-valuetext", now.valuetext);
    thumb.style.top = `${(clamped(now.value) / Math.max(1, now.panels)) * 100}%`;
    Array.from(ticks.children).forEach((tick, panel) => tick.classList.toggle("now", Math.abs(now.value - panel) < 0.5));
    thumb.classList.toggle("held", desk.view.active === "hoist");
  };
}
