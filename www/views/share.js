/**
 * Share by link: the link, its size, copied or sent; its code on screen and on paper.
 * @module
 */
import { copyText, icon, make, strokes } from "../elements.js";
import { leanQr } from "../lean-qr.js";
import { MOST_LINK, linkOf } from "../link.js";
import { region, say } from "../words.js";
import { closeOnBackdrop } from "./help.js";

/** @typedef {import("../desk.js").Desk} Desk */

/** Longest link that becomes a code: 62 mm on paper, which any telephone reads. */
const MOST_CODED = 1200;
/** From here on as much as 7 % may be soiled, before 15 %. */
const MOST_MENDED = 1000;
/** White around the code [modules] and a module on paper [mm]. */
const QUIET = 4;
const MODULE = 0.5;
const AFTER_MS = 250;

/** @param {number} count */
const counted = (count) => count.toLocaleString(region());

/** @param {string} link */
const modulesOf = (link) => leanQr(link, { minCorrectionLevel: link.length > MOST_MENDED ? 0 : 1 });

/** The code of a link, or a sentence where it is too long for one. @param {string} link */
function codeOf(link) {
  if (link.length > MOST_CODED) return make("p", { class: "quiet", text: say("page.link.no_code", { most: counted(MOST_CODED) }) });
  const { size, get } = modulesOf(link);
  let path = "";
  for (let y = 0; y < size; y += 1)
    for (let x = 0; x < size; x += 1) {
      const from = x;
      while (get(x, y)) x += 1;
      if (x > from) path += `M${from + QUIET} ${y + QUIET}h${x - from}v1h${from - x}z`;
    }
  const wide = size + 2 * QUIET;
  const code = strokes(path, wide, wide);
  code.setAttribute("class", "code");
  code.setAttribute("width", `${wide * MODULE}mm`);
  code.setAttribute("height", `${wide * MODULE}mm`);
  code.removeAttribute("aria-hidden");
  code.setAttribute("role", "img");
  code.setAttribute("aria-label", say("page.link.code"));
  return code;
}

/** @param {Desk} desk */
export function makeShare(desk) {
  let text = "";
  let link = "";
  let timer = 0;

  /** The link of what lies on the desk; empty where it would not be opened again. */
  async function current() {
    const of = desk.text;
    if (of === text) return link;
    const short = desk.ask("short", (bench) => bench.short(), "");
    const made = desk.engine?.textOf(short) ? await linkOf(short, location.origin + location.pathname) : "";
    [text, link] = [of, made.length > MOST_LINK ? "" : made];
    return link;
  }
  // A printer asks for its papers at once: by then the link is there.
  desk.addView(({ document, dragging }) => {
    if (!document || dragging) return;
    clearTimeout(timer);
    timer = setTimeout(() => void current(), AFTER_MS);
  });

  const address = make("textarea", { class: "link", id: "link", readonly: true, rows: "4", label: "page.link.share" });
  const size = make("p", { class: "quiet", id: "link-size" });
  const code = make("div", { id: "link-code" });
  const done = make("p", { class: "sheet-message", role: "status", hidden: true });
  const copy = make("button", { type: "button", class: "button", id: "copy-link", onclick: () => void copied() }, icon("copy"), make("span", { word: "page.link.copy" }));
  const send = make("button", { type: "button", class: "button", id: "send-link", word: "page.link.send", onclick: () => void sent() });
  const dialog = make(
    "dialog",
    { class: "sheet", id: "share", "aria-labelledby": "share-title" },
    make(
      "div",
      { class: "sheet-head" },
      make("h2", { id: "share-title", word: "page.link.share" }),
      make("button", { type: "button", class: "icon-button", label: "page.close", onclick: () => dialog.close() }, icon("close")),
    ),
    make("p", { word: "page.link.says" }),
    make("div", { class: "group-buttons" }, copy, "share" in navigator ? send : null),
    done,
    address,
    size,
    code,
  );
  closeOnBackdrop(dialog);
  document.body.append(dialog);

  async function copied() {
    const whole = await copyText(link);
    done.hidden = !whole;
    done.textContent = whole ? say("page.copied") : "";
    if (!whole) {
      address.focus();
      address.select();
    }
  }

  async function sent() {
    try {
      await navigator.share({ title: desk.project?.name, url: link });
    } catch {
      // Thought better of, or not allowed: the link stands there to be copied.
    }
  }

  /** Whether a code can be printed: not before the link is there, nor where it is too long. */
  const coded = () => link !== "" && text === desk.text && link.length <= MOST_CODED;

  return {
    async open() {
      desk.settle();
      const made = await current();
      copy.hidden = send.hidden = address.hidden = made === "";
      address.value = made;
      size.textContent = made ? say("page.link.size", { size: counted(made.length) }) : say("page.link.too_large");
      code.replaceChildren(made ? codeOf(made) : "");
      done.hidden = true;
      dialog.showModal();
    },
    current,
    /** The code for paper; nothing where it is not ready or the link is too long. */
    code() {
      return coded() ? make("div", { class: "paper-code" }, codeOf(link), make("p", { word: "page.link.scan" })) : "";
    },
    /** Its modules row by row, one where they are dark; none where there is no code. */
    modules() {
      if (!coded()) return new Uint8Array(0);
      const { size, get } = modulesOf(link);
      return Uint8Array.from({ length: size * size }, (_, at) => (get(at % size, Math.floor(at / size)) ? 1 : 0));
    },
  };
}
