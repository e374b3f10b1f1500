/**
 * What needs attention, in plain sentences, the worst first. A sentence about a field leads to it.
 * @module
 */
import { icon, make, setAttribute, setText } from "../elements.js";
import { say } from "../words.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").Attention} Attention */

/** Where there is room for all sentences. */
const WIDE_PAGE = "(min-width: 900px)";

/**
 * @param {Desk} desk
 * @param {(path: string) => void} goTo
 */
export function makeAttention(desk, goTo) {
  const root = make("section", { id: "attention", "aria-labelledby": "attention-title", hidden: true });
  const title = make("h2", { id: "attention-title", class: "unseen", word: "page.attention" });
  const list = make("ul", { class: "attention-list", id: "attention-list", hidden: true });
  const worst = make("span", { class: "attention-worst" });
  const count = make("span", { class: "attention-count" });
  const mark = make("span", { class: "attention-mark", "aria-hidden": "true" }, icon("danger"), icon("look"));
  const open = make("button", { type: "button", class: "attention-open", "aria-controls": "attention-list" }, mark, worst, count, icon("down"));
  open.addEventListener("click", () => {
    desk.setSettings({ attentionOpen: list.hidden !== false });
    update();
  });
  root.append(title, open, list);
  let shown = "";

  /** @param {Attention} item */
  function line(item) {
    const heading = make("h3", {}, icon(item.severity === "danger" ? "danger" : "look"), make("span", { class: "unseen", text: `${say(`page.attention.${item.severity}`)} ` }), item.title);
    const entry = make("li", { class: item.severity }, heading, make("p", { text: item.text }));
    if (item.path) {
      const path = item.path;
      entry.append(make("button", { type: "button", class: "text-button", word: "page.attention.go", onclick: () => goTo(path) }));
    }
    return entry;
  }

  function update() {
    const items = desk.ask("attention", (bench) => bench.attention(), /** @type {Attention[]} */ ([]));
    const known = JSON.stringify(items);
    if (known !== shown) {
      shown = known;
      list.replaceChildren(...items.map(line));
    }
    const [first] = items;
    root.hidden = first === undefined;
    if (!first) return;
    list.hidden = !(desk.settings.attentionOpen ?? matchMedia(WIDE_PAGE).matches);
    root.classList.toggle("danger", first.severity === "danger");
    setText(worst, list.hidden ? first.title : say("page.attention"));
    setText(count, items.length > 1 ? say("page.attention.count", { n: items.length }) : "");
    setAttribute(open, "aria-expanded", String(!list.hidden));
  }
  return { root, update };
}
