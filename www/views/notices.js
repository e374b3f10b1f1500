/**
 * Plain sentences that concern the whole page: faults, offers. One bar per matter.
 * @module
 */
import { copyText, icon, make, setText } from "../elements.js";
import { say } from "../words.js";

/** @typedef {{ word: string, run: () => void, keep?: boolean }} Action */
/**
 * @typedef {object} Notice
 * @property {"plain" | "danger"} tone
 * @property {string | (() => string)} text words, or how to say them in the language of the day
 * @property {Action[]} [actions]
 * @property {{ word: string, text: string }} [copy] something to copy, shown where copying is not allowed
 * @property {boolean} [fixed] cannot be put away: it says what state the page is in
 */

/** @param {Notice} notice */
const told = ({ text }) => (typeof text === "function" ? text() : text);

export class Notices {
  /** @type {Map<string, { bar: HTMLElement, notice: Notice, text: HTMLElement }>} */
  #bars = new Map();

  /** @param {HTMLElement} root */
  constructor(root) {
    this.root = root;
    // On a narrow screen the bars lie over the foot of the page, which makes room for them.
    new ResizeObserver(() => {
      document.documentElement.style.setProperty("--notices", `${root.offsetHeight}px`);
    }).observe(root);
  }

  /** @param {string} key @param {Notice} notice */
  show(key, notice) {
    const known = this.#bars.get(key);
    const words = told(notice);
    if (known && known.text.textContent === words && !notice.copy) return;
    const text = make("p", { text: words });
    const buttons = make("div", { class: "notice-actions" });
    const bar = make("div", { class: `notice ${notice.tone}`, role: notice.tone === "danger" ? "alert" : "status", "data-notice": key }, text, buttons);
    for (const action of notice.actions ?? [])
      buttons.append(
        make("button", {
          type: "button",
          class: "button",
          word: action.word,
          onclick: () => {
            if (!action.keep) this.remove(key);
            action.run();
          },
        }),
      );
    const { copy } = notice;
    if (copy) {
      const button = make("button", { type: "button", class: "button", word: copy.word });
      button.addEventListener("click", async () => {
        if (await copyText(copy.text)) setText(button, say("page.copied"));
        else bar.append(make("textarea", { class: "report", readonly: true, rows: "6", label: copy.word, text: copy.text }));
      });
      buttons.append(button);
    }
    if (!notice.fixed)
      buttons.append(
        make("button", { type: "button", class: "icon-button", label: "page.put_away", onclick: () => this.remove(key) }, icon("close")),
      );
    if (known) known.bar.replaceWith(bar);
    else this.root.append(bar);
    this.#bars.set(key, { bar, notice, text });
  }

  /** Says what stands there in another language. */
  sayAgain() {
    for (const { notice, text } of this.#bars.values()) setText(text, told(notice));
  }

  /** @param {string} key */
  remove(key) {
    this.#bars.get(key)?.bar.remove();
    this.#bars.delete(key);
  }
}
