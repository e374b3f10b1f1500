/**
 * The photo under the sail plan, and what is traced over it: the hull, the deck, the sails she has now.
 * @module
 */
import { icon, make, setAttribute } from "../elements.js";
import { blobOf, readPhoto, takeIn, takePhoto, writePhoto } from "../photos.js";
import { say, spoken } from "../words.js";
import { listAt, mastNames } from "./fields.js";
import { makeTracing } from "./tracing.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../photos.js").Photo} Photo */
/** @typedef {import("./tracing.js").Point} Point */

/**
 * A photo's place is [cos, sin, side, x, z]: a pixel (u, v) lies at x + cos side u + sin v aft of the forward end of
 * the waterline and z + sin side u - cos v above it [m]; side -1 turns a bow that points to the right.
 * @param {HTMLElement} root where the controls go
 * @param {Desk} desk
 * @param {ReturnType<typeof import("./drawing.js").makeDrawing>} drawing
 */
export function makeUnderlay(root, desk, drawing) {
  const { pane } = drawing;
  const { notices } = desk;
  const tracing = makeTracing(desk, drawing);
  const picture = make("img", { class: "underlay", hidden: true });
  pane.prepend(picture);

  /** @type {Photo | undefined} */
  let photo;
  /** Whose photo it is. */
  let project = "";

  // --- Controls ----------------------------------------------------------------------------------

  /** @param {string} word @param {() => void} onclick */
  const button = (word, onclick) => make("button", { type: "button", class: "button", word, onclick });
  const file = make("input", { type: "file", id: "photo-file", accept: "image/jpeg,image/png,image/webp", hidden: true });
  const told = make("p", { class: "group-note" });
  const load = button("page.photo.load", () => file.click());
  const scale = button("page.photo.scale", setScale);
  const level = button("page.photo.level", setLevel);
  const away = button("page.photo.remove", takeAway);
  const shown = make("input", { type: "checkbox" });
  const opacity = make("input", { type: "range", min: "5", max: "100", step: "5", label: "page.photo.opacity" });
  const look = make("div", { class: "photo-look" }, make("label", { class: "tick" }, shown, make("span", { word: "page.photo.show" })), opacity);
  const outlines = make("div");
  root.append(told, look, make("div", { class: "group-buttons" }, scale, level, load, away), file, outlines);

  file.addEventListener("change", async () => {
    const chosen = file.files?.[0];
    file.value = "";
    if (!chosen) return;
    const id = project;
    const taken = await takeIn(chosen);
    if (id !== project) return;
    if (typeof taken === "string") {
      notices.show("photo", { tone: "danger", text: () => say(taken) });
      return;
    }
    // A project that nobody has changed is not kept yet, and its photo would be nobody's.
    desk.commit("[]");
    // At first it fills the pane as it is seen now.
    const [scale = 1, left = 0, top = 0] = drawing.placed();
    const wide = Math.min(pane.clientWidth / taken.width, pane.clientHeight / taken.height);
    const from = (pane.clientWidth - wide * taken.width) / 2;
    const down = (pane.clientHeight - wide * taken.height) / 2;
    lay({ bytes: taken.bytes, place: [wide / scale, 0, 1, (from - left) / scale, (top - down) / scale], scaled: false, level: false, shown: true, opacity: desk.view.dark ? 45 : 70 });
    keep();
  });
  shown.addEventListener("change", () => {
    if (photo) lay({ ...photo, shown: shown.checked });
    keep();
  });
  opacity.addEventListener("input", () => {
    if (photo) lay({ ...photo, opacity: Number(opacity.value) });
  });
  opacity.addEventListener("change", keep);

  function takeAway() {
    const was = photo;
    const id = project;
    void takePhoto(id).catch(() => {});
    lay(undefined);
    load.focus();
    notices.show("photo", {
      tone: "plain",
      text: () => say("page.photo.removed"),
      actions: [{ word: "page.undo", run: () => {
        if (was && id === project) {
          lay(was);
          keep();
        }
      } }],
    });
  }

  /** Stores the photo; where that fails it lies there till the page goes. */
  function keep() {
    if (!photo || desk.lookOnly) return;
    writePhoto(project, photo).then(
      () => notices.remove("photo"),
      () => notices.show("photo", { tone: "danger", text: () => say("page.photo.not_kept") }),
    );
  }

  /** Puts a photo under the drawing, or none. @param {Photo | undefined} next */
  function lay(next) {
    if (next?.bytes !== photo?.bytes) {
      URL.revokeObjectURL(picture.src);
      picture.removeAttribute("src");
      if (next) picture.src = URL.createObjectURL(blobOf(next));
    }
    photo = next;
    picture.hidden = !photo?.shown;
    if (photo) {
      picture.style.opacity = String(photo.opacity / 100);
      shown.checked = photo.shown;
      opacity.value = String(photo.opacity);
    }
    look.hidden = scale.hidden = level.hidden = away.hidden = !photo;
    picture.alt = say("page.photo.alt");
    told.textContent = say(photo ? "page.photo.next" : "page.photo.about");
    told.hidden = photo?.scaled === true && photo.level;
    place();
  }

  /** The photo lies where the drawing lies. */
  function place() {
    setAttribute(pane, "data-over", photo?.shown ? (desk.view.dark ? "dark" : "light") : null);
    if (!photo?.shown) return;
    const [metre = 1, left = 0, top = 0] = drawing.placed();
    const [cos = 1, sin = 0, side = 1, x = 0, z = 0] = photo.place;
    picture.style.transform = `matrix(${[cos * side, -sin * side, sin, cos].map((part) => part * metre).join()},${left + metre * x},${top - metre * z})`;
  }

  // --- Scale and level ---------------------------------------------------------------------------

  /**
   * Two marks on the photo.
   * @param {string} hint @param {HTMLElement} from @param {(marks: [Point, Point], typed: string, photo: Photo) => Partial<Photo> | string} work
   * @param {string} [label]
   */
  function mark(hint, from, work, label) {
    if (!photo) return;
    lay({ ...photo, shown: true });
    tracing.start({
      hint: say(hint),
      points: [],
      least: 2,
      most: 2,
      label,
      done([one, other], typed) {
        if (!photo || !one || !other || (one[0] === other[0] && one[1] === other[1])) return say(hint);
        const answer = work([one, other], typed, photo);
        if (typeof answer === "string") return answer;
        lay({ ...photo, ...answer });
        keep();
        return "";
      },
      ended: () => from.focus(),
    });
  }

  function setScale() {
    /** @param {[Point, Point]} marks @param {string} typed @param {Photo} photo */
    const work = ([one, other], typed, { place: [cos = 1, sin = 0, side = 1, x = 0, z = 0] }) => {
      // Read as any place along the ship is.
      const answer = desk.ask("type_in", (bench) => bench.type_in("masts.0.position_m", typed), { problem: "" });
      if ("problem" in answer) return answer.problem;
      const length = Number(JSON.parse(answer.edits)[0]?.[1]);
      if (!(length > 0)) return say("page.photo.scale.hint");
      const times = length / Math.hypot(other[0] - one[0], other[1] - one[1]);
      return { scaled: true, place: [cos * times, sin * times, side, x * times, z * times] };
    };
    mark("page.photo.scale.hint", scale, work, say("page.photo.distance"));
  }

  function setLevel() {
    mark("page.photo.level.hint", level, ([fore, aft], _, { place: [cos = 1, sin = 0, side = 1, x = 0, z = 0] }) => {
      // A bow to the right is turned to the left.
      const turn = aft[0] < fore[0] ? -1 : 1;
      const [along, up] = [(aft[0] - fore[0]) * turn, aft[1] - fore[1]];
      const length = Math.hypot(along, up);
      const [c, s] = [along / length, up / length];
      const [fromX, fromZ, bent] = [(x - fore[0]) * turn, z - fore[1], sin * turn];
      return { level: true, place: [cos * c + bent * s, bent * c - cos * s, side * turn, fromX * c + fromZ * s, fromZ * c - fromX * s] };
    });
  }

  // --- Outlines ----------------------------------------------------------------------------------

  let listed = "";

  /** @param {any[]} points @returns {Point[]} */
  const pointsOf = (points) => (Array.isArray(points) ? points.map((point) => [Number(point?.x_m) || 0, Number(point?.z_m) || 0]) : []);
  /** @param {Point[]} points To the millimetre. */
  const rowsOf = (points) => points.map(([x, z]) => ({ x_m: Math.round(x * 1000) / 1000, z_m: Math.round(z * 1000) / 1000 }));

  /** @param {string} path @param {unknown[]} list nothing takes the whole away */
  const commit = (path, list) => desk.commit(JSON.stringify([[path, list.length > 0 ? list : null]]));

  /**
   * A line of the list: an outline, to be traced or taken away.
   * @param {string} key @param {string} name @param {Omit<import("./tracing.js").Task, "ended">} task @param {(() => void) | null} remove
   */
  function line(key, name, task, remove) {
    const ended = () => /** @type {HTMLElement | null} */ (outlines.querySelector(`[data-trace="${key}"]`))?.focus();
    const trace = make("button", { type: "button", class: "button", "data-trace": key, word: "page.trace", onclick: () => tracing.start({ ...task, ended }) });
    setAttribute(trace, "aria-label", `${say("page.trace")}: ${name}`);
    const takeOff = remove && make("button", { type: "button", class: "icon-button", onclick: () => {
      remove();
      ended();
    } }, icon("close"));
    if (takeOff) setAttribute(takeOff, "aria-label", say("page.trace.remove_of", { name }));
    return make("div", { class: "field" }, make("span", { class: "field-name", text: name }), make("div", { class: "field-entry" }, takeOff, trace));
  }

  /** The sails she carries now, as they stand. @returns {any[]} */
  const sailsNow = () => listAt(desk.text, "boat.sails");

  function list() {
    const { boat } = mastNames(desk.text).tree;
    /** @type {any[]} */
    const sails = Array.isArray(boat?.sails) ? boat.sails : [];
    const key = JSON.stringify([boat?.profile, boat?.deck, sails, desk.lookOnly, spoken()]);
    if (key === listed) return;
    listed = key;
    const held = document.activeElement?.getAttribute("data-trace");
    /** @param {string} leaf @param {boolean} closed */
    const single = (leaf, closed) =>
      line(
        leaf,
        say(`page.trace.${leaf}`),
        { hint: say(`page.trace.${leaf}.hint`), points: pointsOf(boat?.[leaf]), closed, least: closed ? 3 : 2, done: (points) => (commit(`boat.${leaf}`, rowsOf(points)), "") },
        boat?.[leaf] ? () => commit(`boat.${leaf}`, []) : null,
      );
    outlines.replaceChildren(
      single("profile", true),
      single("deck", false),
      ...[...sails, null].map((sail, at) => {
        const name = String(sail?.name ?? say("page.trace.sail.numbered", { number: at + 1 }));
        return line(
          `sail-${at}`,
          sail ? name : say("page.trace.sail"),
          {
            hint: say("page.trace.sail.hint"),
            points: pointsOf(sail?.points),
            closed: true,
            least: 3,
            label: say("page.trace.sail.name"),
            typed: name,
            // What else has been done to her sails meanwhile stays.
            done(points, typed) {
              const now = sailsNow();
              const rest = now.filter((_, other) => other !== at);
              commit("boat.sails", points.length > 0 ? [...rest.slice(0, at), { ...(sail ? now[at] : null), name: typed, points: rowsOf(points) }, ...rest.slice(at)] : rest);
              return "";
            },
          },
          sail ? () => commit("boat.sails", sailsNow().filter((_, other) => other !== at)) : null,
        );
      }),
    );
    if (held) /** @type {HTMLElement | null} */ (outlines.querySelector(`[data-trace="${held}"]`))?.focus();
    for (const control of root.querySelectorAll("button")) control.disabled = desk.lookOnly;
  }

  // --- Frames ------------------------------------------------------------------------------------

  /** Another project lies on the desk. */
  async function open() {
    const id = desk.project?.id ?? "";
    const before = id === project ? photo : undefined;
    if (id !== project) {
      project = id;
      tracing.stop();
      lay(undefined);
    }
    // Taken over from another window, the same project may have another photo.
    const found = await readPhoto(id).catch(() => before);
    if (id === project && photo === before) lay(found);
  }

  /** @param {import("../desk.js").Change} change */
  function update({ opened, document, dragging }) {
    if (opened) void open();
    if (document && !dragging) list();
    place();
    tracing.update();
  }
  lay(undefined);
  desk.addView(update);
  // A frame of its own would build fields anew under the hand.
  if (desk.open) update({ opened: true, document: true, dragging: false });
}
