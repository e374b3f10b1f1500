/**
 * Photos of boats: taken from files, kept per project in the browser's database, apart from the designs.
 * @module
 */
import { icon, make } from "./elements.js";
import { say } from "./words.js";
import { closeOnBackdrop } from "./views/help.js";

/**
 * @typedef {object} Photo
 * @property {ArrayBuffer} bytes a JPEG file
 * @property {number} width [px]
 * @property {number} height [px]
 * @property {number[]} place how it lies on the ship, see underlay.js
 * @property {boolean} scaled a known distance has been set
 * @property {boolean} level the waterline has been set
 * @property {boolean} shown
 * @property {number} opacity [%]
 */

const STORE = "battenwright.photos";
/** Longer side of what is kept [px]. */
const LONGEST = 2400;
/** A phone decodes and shrinks as many pixels within three seconds. */
const MOST_PIXELS = 40e6;
const MOST_BYTES = 50e6;
/** A browser that does not answer [ms] keeps nobody waiting. */
const PATIENCE = 4000;

/** @returns {Promise<IDBDatabase>} */
const open = () =>
  new Promise((done, fail) => {
    setTimeout(fail, PATIENCE);
    const request = indexedDB.open(STORE, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE);
    request.onsuccess = () => done(request.result);
    request.onerror = () => fail(request.error);
  });

/** @param {(store: IDBObjectStore) => IDBRequest} work @returns {Promise<any>} fails where storage is blocked or full, then nothing is changed */
async function inStore(work) {
  const database = await open();
  try {
    return await new Promise((done, fail) => {
      const turn = database.transaction(STORE, "readwrite");
      const request = work(turn.objectStore(STORE));
      turn.oncomplete = () => done(request.result);
      turn.onabort = () => fail(turn.error);
    });
  } finally {
    database.close();
  }
}

/** @param {string} id of the project @returns {Promise<Photo | undefined>} */
export const readPhoto = (id) => inStore((store) => store.get(id));

/** @param {string} id @param {Photo} photo */
export const writePhoto = (id, photo) => inStore((store) => store.put(photo, id));

/** Takes a photo out of the store. @param {string} id @returns {Promise<Photo | undefined>} */
export const takePhoto = (id) =>
  inStore((store) => {
    const found = store.get(id);
    store.delete(id);
    return found;
  });

/** @param {string} from @param {string} to */
export async function copyPhoto(from, to) {
  const photo = await readPhoto(from);
  if (photo) await writePhoto(to, photo);
}

/**
 * Width and height of a JPEG, PNG or WebP, by its first bytes alone; nothing of other kinds. NaN where it breaks off.
 * @param {ArrayBuffer} head
 * @returns {[number, number] | null}
 */
function measure(head) {
  const view = new DataView(head);
  try {
    const first = view.getUint32(0);
    if (first === 0x89504e47) return [view.getUint32(16), view.getUint32(20)];
    // RIFF, WEBP, then VP8X, VP8L or VP8 and a space.
    if (first === 0x52494646 && view.getUint32(8) === 0x57454250) {
      const kind = view.getUint8(15);
      const little = (/** @type {number} */ at) => view.getUint32(at, true);
      if (kind === 0x58) return [(little(24) & 0xffffff) + 1, (little(27) & 0xffffff) + 1];
      if (kind === 0x4c) return [(little(21) & 0x3fff) + 1, ((little(21) >> 14) & 0x3fff) + 1];
      return [little(26) & 0x3fff, little(28) & 0x3fff];
    }
    if (first >>> 8 !== 0xffd8ff) return null;
    // From segment to segment up to the one that begins a frame.
    for (let at = 2; ; at += 2 + view.getUint16(at + 2)) {
      const mark = view.getUint16(at);
      if (mark === 0xffc0 || (mark > 0xffc0 && mark <= 0xffcf && mark % 4 !== 0)) return [view.getUint16(at + 7), view.getUint16(at + 5)];
      if (mark < 0xff01) return [NaN, NaN];
    }
  } catch {
    return head.byteLength < 12 ? null : [NaN, NaN];
  }
}

/**
 * Makes of a file what is kept: scaled down, and written anew, which leaves out where and when it was taken.
 * @param {File} file
 * @returns {Promise<{ bytes: ArrayBuffer, width: number, height: number } | string>} or the key of why not
 */
export async function takeIn(file) {
  if (file.size > MOST_BYTES) return "page.photo.too_large";
  const size = measure(await file.slice(0, 2e6).arrayBuffer());
  if (!size) return "page.photo.other_kind";
  if (size[0] * size[1] > MOST_PIXELS) return "page.photo.too_large";
  const address = URL.createObjectURL(file);
  try {
    // Its sides as it was held when taken; only its head is read for that.
    const image = new Image();
    await new Promise((done, fail) => {
      image.onload = done;
      image.onerror = fail;
      image.src = address;
    });
    const least = Math.min(1, LONGEST / Math.max(image.naturalWidth, image.naturalHeight));
    const width = Math.max(1, Math.round(image.naturalWidth * least));
    const height = Math.max(1, Math.round(image.naturalHeight * least));
    const canvas = make("canvas", { width, height });
    const ink = canvas.getContext("2d", { alpha: false });
    if (!ink) return "page.photo.broken";
    // A drawing without ground lies on white.
    ink.fillStyle = "#fff";
    ink.fillRect(0, 0, width, height);
    // Beside the page's own work; refuses what breaks off.
    ink.drawImage(await createImageBitmap(file, { resizeWidth: width, resizeHeight: height, resizeQuality: "medium" }), 0, 0);
    /** @type {Blob | null} */
    const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.82));
    return blob ? { bytes: await blob.arrayBuffer(), width, height } : "page.photo.broken";
  } catch {
    return "page.photo.broken";
  } finally {
    URL.revokeObjectURL(address);
  }
}

/** @param {Photo} photo */
export const blobOf = ({ bytes }) => new Blob([bytes], { type: "image/jpeg" });

// --- Files -----------------------------------------------------------------------------------------

/**
 * What an export of a project holds: its text, with the photo round it where the user wants that.
 * @param {string} id @param {string} name @param {string} text
 * @returns {Promise<string>} empty: the user wants no export
 */
export async function withPhoto(id, name, text) {
  const photo = await readPhoto(id);
  if (!photo) return text;
  const answer = await new Promise((done) => {
    /** @param {string} way */
    const button = (way) => make("button", { type: "button", class: "button", word: `page.photo.export.${way}`, onclick: () => dialog.close(way) });
    const dialog = make(
      "dialog",
      { class: "sheet", "aria-labelledby": "photo-export" },
      make(
        "div",
        { class: "sheet-head" },
        make("h2", { id: "photo-export", word: "page.export" }),
        make("button", { type: "button", class: "icon-button", label: "page.close", onclick: () => dialog.close() }, icon("close")),
      ),
      make("div", { class: "group-buttons" }, button("without"), button("with")),
    );
    closeOnBackdrop(dialog);
    dialog.addEventListener("close", () => {
      dialog.remove();
      done(dialog.returnValue);
    });
    document.body.append(dialog);
    dialog.showModal();
  });
  if (answer !== "with") return answer && text;
  const url = await new Promise((done) => {
    const reader = new FileReader();
    reader.onload = () => done(reader.result);
    reader.readAsDataURL(blobOf(photo));
  });
  return JSON.stringify({ name, saved: new Date().toISOString(), text, photo: { ...photo, bytes: url.slice(url.indexOf(",") + 1) } });
}

/**
 * Keeps the photo that came with an imported file, if any; fails where it is no such photo.
 * @param {string} id @param {string} file
 */
export async function bringPhoto(id, file) {
  const { photo } = JSON.parse(file);
  if (!photo) return;
  const { buffer } = Uint8Array.from(atob(photo.bytes), (letter) => letter.charCodeAt(0));
  const [width, height] = measure(buffer) ?? [NaN, NaN];
  const place = [0, 1, 2, 3, 4].map((at) => Number(photo.place[at]));
  // Not so that NaN passes.
  if (!(Math.max(width, height) <= LONGEST && place.every(Number.isFinite))) throw new Error("no photo of ours");
  await writePhoto(id, { bytes: buffer, width, height, place, scaled: photo.scaled === true, level: photo.level === true, shown: photo.shown !== false, opacity: Number(photo.opacity) || 0 });
}
