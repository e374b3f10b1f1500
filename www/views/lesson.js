/**
 * A lesson before a class: the drawing and its words in large letters, step by step. The teacher writes own ones here.
 * @module
 */
import { icon, make, setAttribute, setText } from "../elements.js";
import { say, spoken } from "../words.js";
import { renew } from "./balance.js";
import { FieldSection, listAt } from "./fields.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").Figure} Figure */
/** @typedef {import("../pkg/site.js").LessonRow} LessonRow */
/** @typedef {import("../types/rows.d.ts").Path} Path */

/** How long the sail takes for a panel, and at most [ms]. */
const PANEL_MS = 1100;
const LONGEST_MS = 2600;
/** Width or height of the drawing that has lettering of the usual size [CSS px]. */
const LETTERED = 430;
const MOST_LETTERING = 2.2;
const WAYS_HIGH = 480;
const MOST_BLOW = 50;
const MOST_OWN = 8;
const MOST_SHOWN = 60;
const LEAVES = ["title", "words", "drawing", "reef", "from", "sail", "line", "stage", "mast", "part", "wind_kn", "sheet_deg", "area_told", "centre_told", "balance_told", "lead_told", "heel_told", "advice_told", "amount_told"];
const ONWARD = new Map([["ArrowRight", 1], ["PageDown", 1], [" ", 1], ["ArrowLeft", -1], ["PageUp", -1], ["Home", -MOST_SHOWN], ["End", MOST_SHOWN]]);

/** @param {Desk} desk @returns {() => void} opens it */
export function makeLesson(desk) {
  const page = /** @type {HTMLElement} */ (document.getElementById("page"));
  const sections = /** @type {HTMLElement} */ (document.getElementById("sections"));
  const column = /** @type {HTMLElement} */ (document.getElementById("hoist-column"));
  const thumb = /** @type {HTMLElement} */ (document.getElementById("hoist"));
  const hoist = [...column.querySelectorAll(".hoist-of, .hoist-track")];

  /** @type {LessonRow[]} */
  let lessons = [];
  /** Which of them, the step of it, and whether it is being written. */
  let chosen = -1;
  let at = 0;
  let writing = false;
  /** Where each was left in this visit, by its place among them. @type {Map<number, number>} */
  const left = new Map();
  /** Numbers that have been asked for at this step: key, and which of those of one key. @type {Set<string>} */
  const answered = new Set();
  /** What was looked at before. @type {Partial<import("../engine.js").View>} */
  let before = {};
  let scrolled = [0, 0];
  let full = false;

  const lesson = () => lessons[chosen];
  const step = () => lesson()?.steps[at];

  // --- The class's view ----------------------------------------------------------------------------
  const canvas = make("canvas", { class: "lesson-canvas", role: "img" });
  const ink = canvas.getContext("2d");
  const pane = make("div", { class: "lesson-pane" }, canvas);
  const byHand = make("div", { class: "hoist-column" });
  const head = make("h2");
  const words = make("p", { class: "lesson-words" });
  const numbers = make("ul", { class: "lesson-numbers" });
  const wind = make("input", { type: "range", id: "lesson-wind", min: "0", max: String(MOST_BLOW), step: "1", oninput: () => desk.setView({ wind_kn: Number(wind.value) }) });
  const blows = make("output", { for: "lesson-wind", class: "wind-told" });
  const back = make("button", { type: "button", class: "button", onclick: () => go(at - 1) }, icon("down"), make("span", { word: "page.lesson.back" }));
  const on = make("button", { type: "button", class: "button", onclick: () => go(at + 1) }, make("span", { word: "page.lesson.next" }), icon("down"));
  const heard = make("p", { class: "unseen", role: "status" });
  const show = make(
    "div",
    { class: "lesson-show" },
    make("div", { class: "lesson-stage" }, pane, byHand),
    make(
      "div",
      { class: "lesson-told" },
      make("div", { class: "lesson-text", tabindex: "0", role: "group", label: "page.lesson.told" }, head, words, numbers, make("div", { class: "wind-slider" }, make("label", { for: "lesson-wind", word: "label.true_wind" }), blows, wind), make("p", { class: "cautions", word: "page.caution.short" })),
      make("div", { class: "lesson-keys" }, back, on),
    ),
    heard,
  );

  // --- All lessons, and the writing of one ----------------------------------------------------------
  const list = make("ul", { class: "lesson-list" });
  const blank = make("button", { type: "button", class: "button", word: "page.lesson.new", onclick: () => take(JSON.stringify([[`lesson.${lessons.length - ready()}`, { steps: [{}] }]])) });
  const choice = make("div", { class: "lesson-choice" }, make("p", { class: "quiet", word: "page.lesson.keys" }), list, blank);
  const order = make("ol", { class: "lesson-order" });
  const add = make("select", { label: "page.lesson.add" });
  const steps = make("div", {}, order, make("div", { class: "group-buttons" }, make("div", { class: "entry choice" }, add, icon("down"))));
  const undo = make("button", { type: "button", class: "icon-button", label: "page.undo", onclick: () => desk.undo() }, icon("undo"));
  const fields = make("div", { class: "groups" });
  const write = make(
    "div",
    { class: "lesson-choice" },
    fields,
    make("div", { class: "group-buttons" }, make("button", { type: "button", class: "button", word: "page.lesson.show", onclick: () => turn(chosen, false, at) }), make("button", { type: "button", class: "button danger", word: "page.lesson.delete", onclick: () => {
      const { path = "" } = lesson() ?? {};
      turn(-1);
      left.clear();
      desk.commit(JSON.stringify([[lessons.length - ready() > 1 ? path : "lesson", null]]));
    } })),
  );
  const section = new FieldSection(desk, fields, () => {
    const { path = "" } = lesson() ?? {};
    return {
      key: `${path} ${at} ${desk.view.hoist.length} ${desk.lookOnly} ${spoken()}`,
      groups: [
        { key: "lesson-whole", title: "page.lesson.whole", open: true, items: [/** @type {Path} */ (`${path}.title`), { element: steps }] },
        { key: "lesson-step", title: "page.lesson.step", open: true, items: LEAVES.filter((leaf) => desk.view.hoist.length > 1 || !/^(mast|sail)$/.test(leaf) || leaf in Object(own()[at])).map((leaf) => /** @type {Path} */ (`${path}.steps.${at}.${leaf}`)) },
      ],
    };
  });

  const title = make("h1", { id: "lesson-title" });
  const counted = make("span", { class: "lesson-count" });
  const all = make("button", { type: "button", class: "button", word: "page.lesson.all", onclick: () => turn(-1) });
  const root = make(
    "section",
    { id: "lesson", tabindex: "-1", "aria-labelledby": "lesson-title" },
    make("div", { class: "lesson-bar" }, title, counted, undo, all, make("button", { type: "button", class: "icon-button", label: "page.close", onclick: leave }, icon("close"))),
    show,
    choice,
    write,
  );

  const ready = () => lessons.filter(({ path }) => path === "").length;
  const ask = () => {
    lessons = desk.ask("lessons", (bench) => bench.lessons(), lessons);
  };

  /** Commits what makes one more lesson of one's own, and opens it to be written. @param {string} edits */
  function take(edits) {
    if (!desk.commit(edits)) return;
    ask();
    turn(lessons.length - 1, true);
  }
  /** @param {number} which */
  const copyOf = (which) => desk.ask("lesson_copy", (bench) => bench.lesson_copy(which), "[]");

  /** Another lesson, or all of them; to be shown, or to be written. @param {number} which @param {boolean} [toWrite] @param {number} [from] */
  function turn(which, toWrite = false, from = 0) {
    chosen = which;
    writing = toWrite;
    at = from;
    if (which >= 0 && !toWrite) go(from);
    desk.request();
    root.focus({ preventScroll: true });
  }

  /** Shows a step: the sail goes where it stands there, its line is lit, its part named. @param {number} next */
  function go(next) {
    const count = lesson()?.steps.length ?? 0;
    at = Math.max(0, Math.min(count - 1, next));
    answered.clear();
    const shown = step();
    if (!shown) return;
    left.set(chosen, at);
    const { mast, sheet_deg, wind_kn, line, part, told } = shown;
    desk.settle();
    desk.setView({ mast, sheet_deg, wind_kn, line, lines: line !== "", named: part, pointed: "", hands: false, zoom: 1, shown: { dimensions: false, parrels: false, lifts: true, trail: told.some(([key]) => key === "centre"), heel: !asked("heel") } });
    const moves = Math.max(...shown.hoist.map((to, of) => Math.abs(to - (desk.view.hoist[of] ?? 0))));
    if (moves > 0) desk.slideTo(shown.hoist, Math.min(LONGEST_MS, PANEL_MS * moves));
    const { label = "", value = "" } = told.some(([key]) => key === "amount") && !asked("amount") ? (shown.handled ?? {}) : {};
    setText(heard, [say("page.lesson.at", { number: at + 1, count }), shown.title, shown.words, `${label} ${value}`].join(". "));
    show.querySelector(".lesson-text")?.scrollTo(0, 0);
  }

  /** Whether numbers of a key are to be asked for. @param {string} key */
  const asks = (key) => step()?.told.some(([known, how]) => known === key && how === "asked");
  /** Whether a number waits for it; each of one key by itself. @param {string} key @param {number} [nth] */
  const asked = (key, nth = 0) => asks(key) && !answered.has(key + nth);

  /** Shows a number that was asked for, or hides it again. @param {string} id @param {string} said */
  function answer(id, said) {
    if (!answered.delete(id)) answered.add(id);
    setText(heard, answered.has(id) ? said : "");
    desk.setView({ shown: { ...desk.view.shown, heel: !asked("heel") } });
  }

  function tell() {
    const shown = step();
    const found = desk.ask("lesson_figures", (bench) => bench.lesson_figures(), /** @type {Figure[]} */ ([]));
    if (shown?.handled) found.push(shown.handled);
    const told = (shown?.told ?? []).flatMap(([key]) => found.filter((figure) => figure.key === key).map((figure, nth) => ({ ...figure, id: key + nth, asks: asks(key), hidden: asked(key, nth) })));
    renew(numbers, told, () =>
      told.map(({ key, id, label, value, unit, asks: toggles, hidden }) => {
        const spelled = /^[°%]/.test(unit) || !unit ? unit : ` ${unit}`;
        const said = `${label}: ${value}${spelled}`;
        const number = hidden ? "?" : make("strong", {}, value, make("span", { class: "unit", text: spelled }));
        return make(
          "li",
          { class: /\D{12}/.test(value) ? "wordy" : "", "data-told": key },
          make("span", { text: label }),
          toggles
            ? make("button", { type: "button", class: "lesson-ask", "aria-expanded": String(!hidden), "aria-label": hidden ? say("page.lesson.ask", { label }) : said, onclick: (/** @type {MouseEvent} */ { detail }) => {
                answer(id, said);
                // After a tap the keys are the lesson's again.
                if (detail > 0) root.focus({ preventScroll: true });
              } }, number)
            : number,
        );
      }),
    );
    const now = found.find(({ key }) => key === "wind")?.value ?? "";
    setText(blows, now);
    setAttribute(wind, "aria-valuetext", now);
    if (document.activeElement !== wind) wind.value = String(Math.round(desk.view.wind_kn));
  }

  let [width, height, ratio] = [0, 0, 1];
  function paint() {
    const plot = step()?.plot ?? "";
    if (!ink || width === 0 || height === 0) return;
    let k = Math.max(1, Math.min(MOST_LETTERING, Math.min(width, height) / LETTERED));
    // Five sails one below the other want their room.
    if (plot === "cloth-ways") k = Math.max(0.8, Math.min(k, height / WAYS_HIGH));
    const said = desk.ask("paint lesson", (bench) => (plot ? bench.paint_plot(ink, plot, width / k, height / k, ratio * k) : (bench.paint(ink, width / k, height / k, ratio * k), "")), "");
    setAttribute(canvas, "aria-label", (asked("heel") ? "" : said) || say("page.drawing_of", { name: desk.project?.name ?? "" }));
  }
  new ResizeObserver(([entry]) => {
    width = Math.floor(entry?.contentRect.width ?? 0);
    height = Math.floor(entry?.contentRect.height ?? 0);
    canvas.width = Math.round(width * devicePixelRatio);
    canvas.height = Math.round(height * devicePixelRatio);
    ratio = width > 0 ? canvas.width / width : 1;
    paint();
  }).observe(pane);

  /** The steps of one's own as they stand in the document. */
  const own = () => listAt(desk.text, `${lesson()?.path}.steps`);
  /** Puts other steps in their place. @param {unknown[]} given @param {number} now */
  function put(given, now) {
    const path = `${lesson()?.path}.steps`;
    at = Math.max(0, Math.min(given.length - 1, now));
    desk.commit(JSON.stringify([[path, given]]));
    requestAnimationFrame(() => order.children[at]?.querySelector("button")?.focus());
  }
  /** @param {number} from @param {number} to */
  function move(from, to) {
    const moved = own();
    if (to < 0 || to >= moved.length) return;
    moved.splice(to, 0, ...moved.splice(from, 1));
    put(moved, to);
  }
  add.addEventListener("change", () => {
    const [which = "", of = ""] = add.value.split(" ");
    add.value = "";
    const given = which === "new" ? {} : JSON.parse(copyOf(Number(which)))[0]?.[1]?.steps?.[Number(of)];
    if (given) put([...own().slice(0, at + 1), given, ...own().slice(at + 1)], at + 1);
  });

  function writeDown() {
    const now = lesson();
    if (!now) return;
    const titles = now.steps.map((one, number) => [one.title || one.words.slice(0, 40) || say("page.lesson.numbered", { number: number + 1 }), one.past ? say("page.lesson.past") : ""]);
    at = Math.max(0, Math.min(titles.length - 1, at));
    renew(order, [titles, at], () =>
      titles.map(([text, past], number) => {
        /** @param {Parameters<typeof icon>[0]} name @param {string} word @param {() => void} run @param {boolean} [off] */
        const act = (name, word, run, off) => make("button", { type: "button", class: `icon-button lesson-${word}`, "aria-label": say(`page.lesson.${word}`, { number: number + 1 }), disabled: off, onclick: run }, icon(name));
        return make(
          "li",
          {},
          make("button", { type: "button", class: "drill-step", "aria-current": number === at ? "step" : null, onclick: () => {
            at = number;
            desk.request();
            // On a narrow screen what is written of it lies far below.
            requestAnimationFrame(() => fields.lastElementChild?.scrollIntoView({ block: "start" }));
          } }, text, past ? make("span", { class: "problem", text: past }) : null),
          act("down", "up", () => move(number, number - 1), number === 0),
          act("down", "down", () => move(number, number + 1), number + 1 === titles.length),
          act("close", "remove", () => put(own().filter((_, other) => other !== number), number < at ? at - 1 : at)),
        );
      }),
    );
    renew(add, [lessons.map((one) => one.steps.map((of) => of.title)), titles.length], () => [
      make("option", { value: "", word: "page.lesson.add" }),
      make("option", { value: "new", word: "page.lesson.empty" }),
      ...lessons.slice(0, ready()).map((one, which) => {
        const group = make("optgroup", {}, ...one.steps.map((of, number) => make("option", { value: `${which} ${number}`, text: of.title })));
        group.label = one.title;
        return group;
      }),
    ]);
    add.disabled = titles.length >= MOST_SHOWN;
  }

  desk.addView((changed) => {
    if (!root.isConnected) return;
    if (changed.opened && changed.document && desk.text !== opened) {
      // What was looked at before was of another design.
      before = {};
      left.clear();
      leave();
      return;
    }
    if (changed.document || lessons.length === 0) {
      opened = desk.text;
      ask();
      if (chosen >= lessons.length) turn(-1);
    }
    const now = lesson();
    show.hidden = !now || writing;
    write.hidden = !now || !writing;
    choice.hidden = now !== undefined;
    undo.hidden = !writing;
    all.hidden = !now;
    setText(title, now?.title ?? say("page.lesson"));
    counted.hidden = show.hidden;
    if (now && !writing) {
      setText(counted, say("page.lesson.at", { number: at + 1, count: now.steps.length }));
      setText(head, step()?.title ?? "");
      setText(words, step()?.words ?? say("page.lesson.none"));
      back.disabled = at === 0;
      on.disabled = at + 1 >= now.steps.length;
      tell();
      paint();
    } else if (now && !changed.dragging) {
      writeDown();
      section.update(changed);
    } else if (!now) {
      const room = lessons.length - ready() < MOST_OWN && !desk.lookOnly;
      blank.hidden = !room;
      renew(list, [lessons, room, desk.lookOnly, [...left]], () =>
        lessons.map(({ title: text, path, steps: { length: n } }, which) => {
          const place = Math.min(left.get(which) ?? 0, n - 1);
          return make(
            "li",
            {},
            make("button", { type: "button", class: "lesson-open", onclick: () => turn(which, false, place) }, make("strong", { text }), make("span", { text: place > 0 ? say("page.lesson.left", { number: place + 1, count: n }) : say("page.lesson.count", { n }) })),
            place > 0 ? make("button", { type: "button", class: "button", "aria-label": `${say("page.lesson.again")}: ${text}`, word: "page.lesson.again", onclick: () => turn(which) }) : null,
            path && !desk.lookOnly ? make("button", { type: "button", class: "button", "aria-label": `${say("page.lesson.change")}: ${text}`, word: "page.lesson.change", onclick: () => turn(which, true) }) : null,
            !path && room && n > 0 ? make("button", { type: "button", class: "button", "aria-label": `${say("page.lesson.own")}: ${text}`, word: "page.lesson.own", onclick: () => take(copyOf(which)) }) : null,
          );
        }),
      );
    }
  });
  let opened = "";
  /** The project that was shown last. @type {string | undefined} */
  let whose;

  // --- Keys and clickers ---------------------------------------------------------------------------
  /** @param {KeyboardEvent} event */
  function keyed(event) {
    const { key, target } = event;
    if (!event.isTrusted || event.ctrlKey || event.metaKey || event.altKey || desk.dragging || show.hidden) return;
    const held = target instanceof HTMLElement ? target : root;
    const by = ONWARD.get(key);
    if (by !== undefined && !(key === " " && held instanceof HTMLButtonElement) && !(held instanceof HTMLSelectElement)) go(at + by);
    else if (key === "Enter" && !(held instanceof HTMLButtonElement)) {
      /** @type {HTMLElement | null} */ (numbers.querySelector("[aria-expanded=false]"))?.click();
    } else if (/^Arrow(Up|Down)$/.test(key) && held !== thumb && held !== wind && !(held instanceof HTMLSelectElement)) thumb.dispatchEvent(new KeyboardEvent("keydown", { key, shiftKey: event.shiftKey }));
    else return;
    event.preventDefault();
    event.stopPropagation();
  }
  root.addEventListener("keydown", keyed, { capture: true });
  root.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || event.defaultPrevented) return;
    event.preventDefault();
    closeOne();
  });
  // A tap on nothing in particular takes the focus from the lesson, and with it the keys.
  document.addEventListener("focusout", () => requestAnimationFrame(() => {
    if (root.isConnected && document.activeElement === document.body) root.focus({ preventScroll: true });
  }));
  document.addEventListener("fullscreenchange", () => {
    if (document.fullscreenElement) full = true;
    else if (full) {
      full = false;
      closeOne();
    }
  });

  /** Closes what is open, the sheet of a help before the writing of a lesson; else the lesson itself. */
  function closeOne() {
    const sheet = /** @type {HTMLDialogElement | null} */ (document.querySelector("dialog[open]"));
    if (sheet) sheet.close();
    else if (root.isConnected && writing) turn(-1);
    else leave();
  }

  function leave() {
    if (!root.isConnected) return;
    desk.settle();
    root.remove();
    column.prepend(...hoist);
    page.classList.remove("under-lesson");
    // Another window may have taken the project meanwhile.
    const { hoist: now } = desk.view;
    desk.setView({ named: "", line: "", shown: { ...desk.settings.shown }, ...before, hands: !desk.lookOnly, mast: Math.min(before.mast ?? 0, now.length - 1), hoist: before.hoist?.length === now.length ? before.hoist : now });
    if (document.fullscreenElement) void document.exitFullscreen().catch(() => {});
    full = false;
    [sections.scrollTop = 0, document.documentElement.scrollTop = 0] = scrolled;
    document.getElementById("workshop-button")?.focus({ preventScroll: true });
  }

  return () => {
    if (root.isConnected || !desk.open) return;
    desk.settle();
    before = { ...desk.view };
    delete before.dark;
    delete before.units;
    scrolled = [sections.scrollTop, document.documentElement.scrollTop];
    page.classList.add("under-lesson");
    byHand.replaceChildren(...hoist);
    page.append(root);
    if (desk.project?.id !== whose) left.clear();
    whose = desk.project?.id;
    opened = desk.text;
    ask();
    turn(-1);
    // Where it is not allowed the lesson does without.
    try {
      void document.documentElement.requestFullscreen?.().catch(() => {});
    } catch {
      // So do browsers that know it under another name.
    }
  };
}
