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
const MOST_PICTURE_BYTES = 50e6;
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
 * Makes of a picture what is kept: scaled down, and written anew, which leaves out where and when it was taken.
 * @param {Blob} file
 * @param {boolean} [ours] it has been kept already, and is kept as it is
 * @returns {Promise<{ bytes: ArrayBuffer, width: number, height: number } | string>} or the key of why not
 */
export async function takeIn(file, ours = false) {
  if (file.size > MOST_PICTURE_BYTES) return "page.photo.too_large";
  const head = String.fromCharCode(...new Uint8Array(await file.slice(0, 12).arrayBuffer()));
  // JPEG, PNG, WebP.
  if (!/^(\xff\xd8\xff|\x89PNG|RIFF....WEBP)/s.test(head)) return "page.photo.other_kind";
  const address = URL.createObjectURL(file);
  try {
    // Its sides as it was held when taken: the browser reads only its head for that.
    const image = new Image();
    await new Promise((done, fail) => {
      image.onload = done;
      image.onerror = fail;
      image.src = address;
    });
    const { naturalWidth, naturalHeight } = image;
    if (naturalWidth * naturalHeight > MOST_PIXELS) return "page.photo.too_large";
    const times = Math.min(1, LONGEST / Math.max(naturalWidth, naturalHeight));
    const width = Math.round(naturalWidth * times) || 1;
    const height = Math.round(naturalHeight * times) || 1;
    if (ours && times === 1) return { bytes: await file.arrayBuffer(), width, height };
    const canvas = make("canvas", { width, height });
    const ink = canvas.getContext("2d", { alpha: false });
    if (!ink) return "page.photo.broken";
    // A drawing without ground lies on white.
    ink.fillStyle = "#fff";
    ink.fillRect(0, 0, width, height);
    // Beside the page's own work; refuses what breaks off.
    const picture = await createImageBitmap(file, { resizeWidth: width, resizeHeight: height, resizeQuality: "medium" });
    ink.drawImage(picture, 0, 0);
    picture.close();
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
  const taken = await takeIn(new Blob([Uint8Array.from(atob(photo.bytes), (letter) => letter.charCodeAt(0))]), true);
  const place = [0, 1, 2, 3, 4].map((at) => Number(photo.place[at]));
  if (typeof taken === "string" || !place.every(Number.isFinite)) throw new Error("no photo");
  await writePhoto(id, { bytes: taken.bytes, place, scaled: photo.scaled === true, level: photo.level === true, shown: photo.shown !== false, opacity: Math.min(100, Math.max(5, Number(photo.opacity) || 70)) });
}
