/**
 * The words of the trade in place of the sections, the drawing in sight: whichever word is come to is pointed at there.
 * @module
 */
import { icon, make, setAttribute } from "../elements.js";
import { say, spoken } from "../words.js";

/** @typedef {import("../desk.js").Desk} Desk */

/** @param {Desk} desk @returns {() => void} opens it */
export function makeGlossary(desk) {
  const page = /** @type {HTMLElement} */ (document.getElementById("page"));
  const sections = /** @type {HTMLElement} */ (document.getElementById("sections"));
  const seek = make("input", { type: "search", id: "glossary-seek", label: "page.glossary.seek", autocomplete: "off", spellcheck: "false" });
  const none = make("p", { class: "quiet", role: "status" });
  const list = make("ul", { class: "errands glossary-list" });
  const root = make(
    "section",
    { id: "glossary", "aria-labelledby": "glossary-title" },
    make(
      "div",
      { class: "sheet-head" },
      make("h2", { id: "glossary-title", word: "page.glossary" }),
      make("button", { type: "button", class: "icon-button", label: "page.close", onclick: () => close() }, icon("close")),
    ),
    seek,
    none,
    list,
  );
  /** @type {Map<string, { button: HTMLButtonElement, found: string }>} */
  const words = new Map();
  let told = "";
  /** In which language the words stand there. */
  let tongue = "";
  /** What was looked at before. @type {Partial<import("../engine.js").View>} */
  let before = {};
  let from = 0;

  /** @param {string} named */
  function point(named) {
    for (const [key, { button }] of words) setAttribute(button, "aria-current", key === named ? "true" : null);
    if (desk.view.named !== named) desk.setView({ named });
  }

  function renew() {
    if (!root.isConnected) return;
    const rows = desk.ask("named_parts", (bench) => bench.named_parts(), /** @type {string[][]} */ ([]));
    const known = JSON.stringify(rows);
    if (known === told) return;
    told = known;
    if (tongue !== spoken()) {
      tongue = spoken();
      words.clear();
      list.replaceChildren();
    }
    rows.sort(([, one = ""], [, other = ""]) => one.localeCompare(other));
    for (const [key = "", name = "", says = "", here = ""] of rows) {
      const entry = words.get(key);
      if (entry) {
        entry.button.classList.toggle("here", here !== "");
        continue;
      }
      const button = make("button", { type: "button", "data-part": key, class: here ? "here" : "", onclick: () => point(key), onfocus: () => point(key) }, make("strong", { text: name }), make("span", { text: says }));
      words.set(key, { button, found: `${name} ${says}`.toLowerCase() });
      list.append(make("li", {}, button));
    }
  }

  function sift() {
    const wanted = seek.value.trim().toLowerCase();
    let left = 0;
    for (const { button, found } of words.values()) {
      const fits = found.includes(wanted);
      if (button.parentElement) button.parentElement.hidden = !fits;
      if (fits) left += 1;
    }
    none.textContent = left ? "" : say("page.glossary.none");
    // What is pointed at stands in the list.
    if ([...words.values()].some(({ button }) => button.hasAttribute("aria-current") && button.parentElement?.hidden)) point("");
  }
  seek.addEventListener("input", sift);

  root.addEventListener("keydown", (event) => {
    if (event.key === "Escape") {
      event.preventDefault();
      close();
    }
    const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
    if (step === 0) return;
    event.preventDefault();
    const seen = [...words.values()].map(({ button }) => button).filter((button) => !button.parentElement?.hidden);
    const at = seen.findIndex((button) => button === document.activeElement);
    const next = seen[Math.max(0, at + step)];
    next?.focus();
    next?.scrollIntoView({ block: "nearest" });
  });

  function close() {
    if (!root.isConnected) return;
    root.remove();
    page.classList.remove("with-glossary");
    desk.setView(before);
    (sections.scrollHeight > sections.clientHeight ? sections : document.documentElement).scrollTop = from;
    document.getElementById("workshop-button")?.focus({ preventScroll: true });
  }
  desk.addView((change) => {
    if (!root.isConnected) return;
    if (change.opened) {
      // What was looked at before was of another design.
      before = { named: "" };
      close();
    }
    else if (!change.dragging) renew();
  });

  return () => {
    if (root.isConnected) return;
    const { named, pointed, line } = desk.view;
    before = { named, pointed, line };
    from = sections.scrollTop || document.documentElement.scrollTop;
    page.classList.add("with-glossary");
    sections.append(root);
    desk.setView({ pointed: "", line: "" });
    renew();
    seek.placeholder = say("page.glossary.seek");
    seek.value = "";
    sift();
    sections.scrollTop = document.documentElement.scrollTop = 0;
    (root.querySelector("button") ?? seek).focus({ preventScroll: true });
  };
}
