/**
 * Points set on the drawing by taps and by keys: an outline traced, or two marks on the photo.
 * @module
 */
import { make, setAttribute, setText, strokes } from "../elements.js";
import { region, say } from "../words.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** Aft of the forward end of the waterline, and up from it [m]. @typedef {[number, number]} Point */
/**
 * @typedef {object} Task
 * @property {string} hint what to tap on, in words
 * @property {Point[]} points
 * @property {boolean} [closed]
 * @property {number} least
 * @property {number} [most]
 * @property {string} [label] of something to be typed beside
 * @property {string} [typed]
 * @property {(points: Point[], typed: string) => string} done the problem in words, or ""
 * @property {() => void} ended wherever the focus goes
 */

const MOST_POINTS = 200;
/** A finger that moves further [CSS px] does not tap. */
const STILL = 6;
/** So far round a point [CSS px] a thumb takes hold of it. */
const REACH = 22;

/** On which side of the line from a to b c lies. @param {Point} a @param {Point} b @param {Point} c */
const side = (a, b, c) => Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));

/** Whether a closed outline crosses itself. @param {Point[]} points */
function crosses(points) {
  return points.some((a, from) => {
    const b = points[from + 1] ?? points[0] ?? a;
    return points.some((c, to) => {
      const d = points[to + 1] ?? points[0] ?? c;
      return to > from && side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
    });
  });
}

/**
 * @param {Desk} desk
 * @param {{ pane: HTMLElement, placed: () => ArrayLike<number> }} drawing
 */
export function makeTracing(desk, { pane, placed }) {
  /** @param {string} word @param {() => void} onclick */
  const button = (word, onclick) => make("button", { type: "button", class: "button", word, onclick });
  const lines = strokes("", 1, 1);
  lines.removeAttribute("viewBox");
  lines.append(lines.firstChild?.cloneNode() ?? "");
  const layer = make("div", { class: "trace", role: "application", label: "page.trace.points" }, lines);
  const status = make("p", { role: "status" });
  const entry = make("input", { type: "text", autocomplete: "off", maxlength: "60", enterkeyhint: "done" });
  const named = make("label", {}, make("span"), make("span", { class: "entry" }, entry));
  const add = button("page.trace.add", insert);
  const remove = button("page.trace.remove", takeOut);
  const done = button("page.projects.rename_done", finish);
  const bar = make("div", { class: "notice plain trace-bar", role: "group", label: "page.trace.points" }, status, named, make("div", { class: "notice-actions" }, add, remove, button("page.cancel", stop), done));
  entry.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && !done.disabled) finish();
  });

  /** @type {Task | null} */
  let task = null;
  /** @type {Point[]} */
  let points = [];
  /** The point last touched: the next comes after it. */
  let at = -1;
  let problem = "";
  /** @type {HTMLElement[]} */
  const nodes = [];

  /** @param {Point} point */
  function toPane([x, z]) {
    const [scale = 1, left = 0, top = 0] = Array.from(placed());
    return { x: left + scale * x, y: top - scale * z };
  }
  /** @param {number} x @param {number} y in the pane @returns {Point} */
  function toShip(x, y) {
    const [scale = 1, left = 0, top = 0] = Array.from(placed());
    return [(x - left) / scale, (top - y) / scale];
  }

  function insert() {
    const [x, z] = points[at] ?? [0, 0];
    // Halfway to the next, or half a metre aft.
    const [toX, toZ] = points[at + 1] ?? [x + 1, z];
    put([(x + toX) / 2, (z + toZ) / 2]);
    nodes[at]?.focus({ preventScroll: true });
  }

  /** @param {Point} point */
  function put(point) {
    if (points.length >= (task?.most ?? MOST_POINTS)) return;
    at += 1;
    points.splice(at, 0, point);
    show();
  }

  function takeOut() {
    if (!points[at]) return;
    const held = document.activeElement === nodes[at];
    points.splice(at, 1);
    at = Math.max(at - 1, Math.min(0, points.length - 1));
    show();
    if (held) (nodes[at] ?? add).focus({ preventScroll: true });
  }

  function addNode() {
    const node = make("button", { type: "button", class: "handle" }, make("span"));
    node.addEventListener("focus", () => {
      at = nodes.indexOf(node);
      show();
    });
    node.addEventListener("keydown", (event) => {
      const [right, up] = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key] ?? [0, 0];
      const point = points[at];
      if (event.key === "Delete" || event.key === "Backspace") takeOut();
      else if (event.key === "Enter") insert();
      else if ((right || up) && point) {
        const far = event.shiftKey ? 10 : 1;
        const { x, y } = toPane(point);
        points[at] = toShip(x + right * far, y + up * far);
        show();
      } else return;
      event.preventDefault();
    });
    layer.append(node);
    nodes.push(node);
  }

  /** @param {number} number @param {Point} point */
  function spoken(number, [x, z]) {
    const feet = desk.settings.units === "ft";
    const [aft = "", up = ""] = [x, z].map((metres) => `${(Math.round(metres / (feet ? 0.003048 : 0.01)) / 100 + 0).toLocaleString(region(), { minimumFractionDigits: 2, useGrouping: false })} ${say(feet ? "page.units.ft" : "page.units.m")}`);
    return say("page.trace.point", { number, aft, up });
  }

  /** The points have changed. */
  function show() {
    problem = "";
    while (nodes.length < points.length) addNode();
    while (nodes.length > points.length) nodes.pop()?.remove();
    nodes.forEach((node, number) => {
      const point = points[number];
      if (point) setAttribute(node, "aria-label", spoken(number + 1, point));
      node.classList.toggle("now", number === at);
    });
    tell();
    draw();
  }

  function tell() {
    if (!task) return;
    const here = points[at];
    const words = problem || (task.closed && crosses(points) ? say("page.trace.crosses") : "");
    setText(status, words || (here && !task.most && points.length >= task.least ? spoken(at + 1, here) : task.hint));
    bar.classList.toggle("danger", words !== "");
    remove.disabled = !here;
    add.disabled = points.length >= (task.most ?? MOST_POINTS);
    // Nothing at all takes away what was there.
    done.disabled = points.length < task.least && (points.length > 0 || task.points.length === 0);
  }

  function draw() {
    if (!task) return;
    const places = points.map(toPane);
    places.forEach(({ x, y }, number) => {
      const node = nodes[number];
      if (node) node.style.transform = `translate(${x}px, ${y}px)`;
    });
    const path = places.map(({ x, y }) => `${x} ${y}`).join("L");
    for (const line of lines.children) line.setAttribute("d", path && `M${path}${task.closed ? "z" : ""}`);
  }

  function finish() {
    problem = task?.done(points, entry.value) ?? "";
    if (problem) {
      tell();
      entry.focus();
    } else stop();
  }

  function stop() {
    if (!task) return;
    const { ended } = task;
    task = null;
    pane.classList.remove("tracing");
    layer.remove();
    bar.remove();
    desk.setView({ hands: !desk.lookOnly });
    ended();
  }

  // --- Fingers -----------------------------------------------------------------------------------

  /** What a finger came down on: a point within its reach, or none. @type {{ x: number, y: number, near: number, from: Point, off: number, moved: boolean } | null} */
  let hold = null;

  /** @param {PointerEvent} event */
  function seize(event) {
    putBack();
    // A second finger zooms.
    if (!task || event.button !== 0 || !event.isPrimary) return;
    const box = pane.getBoundingClientRect();
    const [x, y] = [event.clientX - box.left, event.clientY - box.top];
    hold = { x, y, near: -1, from: toShip(x, y), off: REACH, moved: false };
    for (const [number, point] of points.entries()) {
      const there = toPane(point);
      const off = Math.hypot(there.x - x, there.y - y);
      if (off < hold.off) Object.assign(hold, { near: number, from: point, off });
    }
  }

  /** @param {PointerEvent} event */
  function follow(event) {
    if (!hold || !event.isPrimary) return;
    const box = pane.getBoundingClientRect();
    const [x, y] = [event.clientX - box.left - hold.x, event.clientY - box.top - hold.y];
    hold.moved ||= Math.hypot(x, y) > STILL;
    if (hold.near < 0) return;
    // The drawing is not panned meanwhile.
    event.stopPropagation();
    if (!hold.moved) return;
    at = hold.near;
    const from = toPane(hold.from);
    points[at] = toShip(from.x + x, from.y + y);
    show();
  }

  function letGo() {
    const held = hold;
    hold = null;
    if (!held || held.moved) return;
    // Close beside a point there may be another.
    if (held.off > REACH / 2) return put(toShip(held.x, held.y));
    at = held.near;
    nodes[at]?.focus({ preventScroll: true });
    show();
  }

  function putBack() {
    if (hold?.moved && hold.near >= 0) {
      points[hold.near] = hold.from;
      show();
    }
    hold = null;
  }
  // Before the drawing, which zooms and pans by the same fingers.
  pane.addEventListener("pointerdown", seize, { capture: true });
  pane.addEventListener("pointermove", follow, { capture: true });
  pane.addEventListener("pointerup", letGo);
  pane.addEventListener("pointercancel", putBack);

  return {
    /** @param {Task} next */
    start(next) {
      stop();
      desk.settle();
      task = next;
      points = [...next.points];
      at = points.length - 1;
      named.hidden = next.label === undefined;
      setText(named.firstElementChild ?? named, next.label ?? "");
      entry.value = next.typed ?? "";
      pane.classList.add("tracing");
      pane.append(layer);
      desk.notices.root.prepend(bar);
      desk.setView({ hands: false });
      show();
      add.focus({ preventScroll: true });
    },
    stop,
    update() {
      if (desk.lookOnly) stop();
      draw();
    },
  };
}
