/**
 * Papers: the parts of the dossier that are wanted, printed or as PDF; its drawings as SVG and PNG, its tables as CSV.
 * @module
 */
import { fileName, icon, make, offerFile } from "../elements.js";
import { say } from "../words.js";
import { zipped } from "./cloth.js";
import { closeOnBackdrop } from "./help.js";
import { PAPER_PARTS, chosenParts, today } from "./paper.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").PaperSheet} PaperSheet */

/** Dots to the inch of a drawing as PNG; it is drawn at 96. */
const DOTS = 300;
const WEIGHTS = [400, 600];
/** Some browsers set letters of a picture's own font only once it has been drawn [ms]. */
const LETTERS_MS = 150;

/** A file to be handed over. @typedef {{ name: string, content: Blob }} Made */

/** Hands a file over: by the telephone's own sheet where it takes such files, else as a download. @param {Made} made */
async function handOver({ name, content }) {
  const files = [new File([content], name, { type: content.type })];
  if (matchMedia("(pointer: coarse)").matches && navigator.canShare?.({ files })) {
    try {
      await navigator.share({ files });
      return;
    } catch (fault) {
      // Thought better of; what the browser would not let us is downloaded.
      if (fault instanceof DOMException && fault.name === "AbortError") return;
    }
  }
  offerFile(name, content, content.type);
}

/** Our letters, for a picture that stands alone. */
async function lettersWithin() {
  const faces = await Promise.all(
    WEIGHTS.map(async (weight) => {
      const bytes = new Uint8Array(await (await fetch(`./fonts/battenwright-${weight}.woff2`)).arrayBuffer());
      return `@font-face{font-family:Battenwright;font-weight:${weight};src:url(data:font/woff2;base64,${btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""))})}`;
    }),
  );
  return `<style>${faces.join("")}</style>`;
}

/** A drawing in dots, on white. @param {string} svg @returns {Promise<Blob>} */
async function dotted(svg) {
  const letters = await lettersWithin();
  const address = URL.createObjectURL(new Blob([svg.replace("<title", `${letters}<title`)], { type: "image/svg+xml" }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = make("canvas", { width: Math.round((image.naturalWidth * DOTS) / 96), height: Math.round((image.naturalHeight * DOTS) / 96) });
    const pen = canvas.getContext("2d");
    if (!pen) throw new Error("no canvas");
    for (const wait of [0, LETTERS_MS]) {
      await new Promise((go) => setTimeout(go, wait));
      pen.fillStyle = "#fff";
      pen.fillRect(0, 0, canvas.width, canvas.height);
      pen.drawImage(image, 0, 0, canvas.width, canvas.height);
    }
    return await new Promise((done, broke) => canvas.toBlob((blob) => (blob ? done(blob) : broke(new Error("no dots"))), "image/png"));
  } finally {
    URL.revokeObjectURL(address);
  }
}

/** @type {HTMLDialogElement | undefined} */
let papersSheet;
/** Brings it up to date. */
let refreshPapers = () => {};
/** After so long without another tick the worker is asked. */
const PAUSE_MS = 300;

/**
 * @param {Desk} desk
 * @param {import("../aside.js").Aside} aside
 * @param {ReturnType<typeof import("./paper.js").makePaper>} paper
 * @param {ReturnType<typeof import("./share.js").makeShare>} share
 */
export function openPapers(desk, aside, paper, share) {
  papersSheet ??= makeSheet(desk, aside, paper, share);
  papersSheet.showModal();
  refreshPapers();
}

/**
 * @param {Desk} desk
 * @param {import("../aside.js").Aside} aside
 * @param {ReturnType<typeof import("./paper.js").makePaper>} paper
 * @param {ReturnType<typeof import("./share.js").makeShare>} share
 */
function makeSheet(desk, aside, paper, share) {
  const told = make("p", { class: "result", role: "status", id: "papers-told" });
  const named = () => fileName(desk.project?.name ?? "");
  /** Drawings of the parts, with the names of their sheets. @type {{ title: string, svg: string }[]} */
  let drawings = [];
  /** What is told belongs to the file asked for last, drawings to the parts chosen last. */
  let asked = 0;
  let chosen = 0;
  /** A file is being made: it is told of until it is there, whatever is chosen meanwhile. */
  let making = false;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let pause;

  const ticks = PAPER_PARTS.map((part) => {
    const tick = make("input", { type: "checkbox", id: `paper-${part}` });
    tick.addEventListener("change", () => {
      desk.setSettings({ papers: PAPER_PARTS.filter((_, at) => ticks[at]?.checked) });
      clearTimeout(pause);
      pause = setTimeout(() => refreshPapers(), PAUSE_MS);
    });
    return tick;
  });
  const size = make("select", { id: "papers-size" }, ...["a4", "letter"].map((value) => make("option", { value, word: `page.cloth.${value}` })));
  size.addEventListener("change", () => desk.setSettings({ paper: size.value === "letter" ? "letter" : "a4" }));
  const drawing = make("select", { id: "papers-drawing" });

  /** @param {string} id @param {"print" | "save"} sign @param {string} word @param {() => unknown} run */
  const button = (id, sign, word, run) => make("button", { type: "button", class: "button", id: `papers-${id}`, onclick: run }, icon(sign), make("span", { word }));
  const wholes = [
    button("print", "print", "page.print", () => ask((broke) => paper.print(aside, chosenParts(desk), () => made(""), broke))),
    button("pdf", "save", "page.papers.pdf", () =>
      ask(async (broke, still) => {
        // Another project may lie there when it comes.
        const name = `${named()}.pdf`;
        await share.current();
        aside.ask({ asks: ["dossier_pdf", chosenParts(desk), size.value, today(), share.modules()], broke, answered: still((/** @type {Uint8Array<ArrayBuffer>} */ bytes) => give({ name, content: new Blob([bytes], { type: "application/pdf" }) })) });
      }),
    ),
    button("csv", "save", "page.papers.csv", () => ask((broke, still) => tables(chosenParts(desk), [], broke, still))),
  ];
  const singles = [
    button("svg", "save", "page.papers.svg", () => one((svg) => Promise.resolve(new Blob([svg], { type: "image/svg+xml" })))),
    button("png", "save", "page.papers.png", () => one(dotted)),
  ];

  /** @param {string} words */
  const tell = (words) => {
    told.textContent = words;
  };
  /** @param {string} words */
  const made = (words) => {
    making = false;
    tell(words);
  };

  /** Tells that something is made until it is there. @param {(broke: () => void, still: <T>(taken: (answer: T) => void) => (answer: T) => void) => unknown} work */
  function ask(work) {
    const question = (asked += 1);
    making = true;
    tell(say("page.cloth.making"));
    work(
      () => made(say("page.papers.broke")),
      (taken) => (answer) => {
        if (question === asked) taken(answer);
      },
    );
  }

  /** @param {Made} file */
  async function give(file) {
    made(say("page.cloth.saved", { name: file.name, size: Math.ceil(file.content.size / 1000) }));
    await handOver(file);
  }

  /**
   * The tables part by part: of several a file each.
   * @param {string[]} parts @param {[string, Uint8Array<ArrayBuffer>][]} files @param {() => void} broke @param {<T>(taken: (answer: T) => void) => (answer: T) => void} still
   */
  function tables([part, ...others], files, broke, still) {
    if (part !== undefined) {
      aside.ask({
        asks: ["dossier_csv", part],
        broke,
        answered: still((/** @type {string} */ csv) => tables(others, csv ? [...files, [`${named()}-${fileName(say(`page.paper.${part}`))}.csv`, new TextEncoder().encode(csv)]] : files, broke, still)),
      });
      return;
    }
    const [first] = files;
    if (!first) made(say("page.papers.no_tables"));
    else if (files.length === 1) void give({ name: first[0], content: new Blob([first[1]], { type: "text/csv" }) });
    else void give({ name: `${named()}.zip`, content: zipped(files) });
  }

  /** The drawing chosen. @param {(svg: string) => Promise<Blob>} draw */
  async function one(draw) {
    const shown = drawings[drawing.selectedIndex];
    if (!shown) return;
    making = true;
    tell(say("page.cloth.making"));
    try {
      const content = await draw(shown.svg);
      await give({ name: `${named()}-${fileName(shown.title)}.${content.type === "image/png" ? "png" : "svg"}`, content });
    } catch {
      made(say("page.papers.broke"));
    }
  }

  refreshPapers = () => {
    desk.settle();
    const parts = chosenParts(desk);
    PAPER_PARTS.forEach((part, at) => {
      const tick = ticks[at];
      if (tick) tick.checked = parts.includes(part);
    });
    size.value = desk.settings.paper;
    if (!making) tell(parts.length > 0 ? "" : say("page.papers.none"));
    for (const element of wholes) element.disabled = parts.length === 0;
    for (const element of [drawing, ...singles]) element.disabled = true;
    const question = (chosen += 1);
    aside.ask({
      asks: ["dossier", parts],
      answered: (/** @type {PaperSheet[]} */ sheets) => {
        if (question !== chosen) return;
        const held = drawing.value;
        drawings = sheets.flatMap(({ title, blocks }) => blocks.flatMap(({ kind, title: shown, svg = "" }) => (kind === "drawing" ? [{ title: shown ? `${title}: ${shown}` : title, svg }] : [])));
        drawing.replaceChildren(...drawings.map(({ title }) => make("option", { value: title, text: title })));
        if (drawings.some(({ title }) => title === held)) drawing.value = held;
        for (const element of [drawing, ...singles]) element.disabled = drawings.length === 0;
      },
    });
  };

  /** @param {HTMLSelectElement} select @param {string} word */
  const chooses = (select, word) => make("div", { class: "drill-of" }, make("label", { for: select.id, word }), make("div", { class: "entry choice" }, select, icon("down")));
  const dialog = make(
    "dialog",
    { class: "sheet", id: "papers", "aria-labelledby": "papers-title" },
    make("div", { class: "sheet-head" }, make("h2", { id: "papers-title", word: "page.papers" }), make("button", { type: "button", class: "icon-button", label: "page.close", onclick: () => dialog.close() }, icon("close"))),
    make("fieldset", { class: "ticks" }, make("legend", { word: "page.papers.parts" }), ...PAPER_PARTS.map((part, at) => make("label", {}, ticks[at], make("span", { word: `page.paper.${part}` })))),
    make("p", { class: "quiet", word: "page.papers.cautions" }),
    make("div", { class: "drill-choose" }, chooses(size, "page.papers.size")),
    make("div", { class: "group-buttons" }, ...wholes),
    make("div", { class: "drill-choose" }, chooses(drawing, "page.papers.drawing")),
    make("div", { class: "group-buttons" }, ...singles),
    told,
  );
  closeOnBackdrop(dialog);
  document.body.append(dialog);
  return dialog;
}
