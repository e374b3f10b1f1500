/**
 * A side view made for the journeys: drawn in the page, listing, written as a phone's camera writes it.
 * @module
 */

/** @typedef {import("@playwright/test").Page} Page */
/** @typedef {{ x: number, y: number }} Place */

/** How the picture lists [rad], where the forward end of the waterline is in it [px], and its scale [px/m]. */
const LIST = 0.05;
const FORE = { x: 300, y: 700 };
const SCALE = 160;
/** Length of the waterline in it [m]. */
export const LWL = 6.2;
/** A red mark on the keel: aft, up [m]. */
export const MARK = { x: 4.3, z: -1.2 };

/** Where a place on the ship lies in the picture [px]. @param {number} x aft [m] @param {number} z up [m] @returns {[number, number]} */
export function pixel(x, z) {
  const [cos, sin] = [Math.cos(LIST) * SCALE, Math.sin(LIST) * SCALE];
  return [FORE.x + cos * x + sin * z, FORE.y + sin * x - cos * z];
}

/**
 * The picture's file. A JPEG carries where it was taken and, as a camera held upright has it, its rows turned.
 * @param {Page} page @param {"image/jpeg" | "image/png" | "image/webp"} [type]
 */
export async function sideView(page, type = "image/jpeg") {
  const bytes = await page.evaluate(
    async ({ type, mark, hull }) => {
      const turned = type === "image/jpeg";
      const canvas = document.createElement("canvas");
      [canvas.width, canvas.height] = turned ? [1200, 1600] : [1600, 1200];
      const ink = canvas.getContext("2d");
      if (!ink) throw new Error("no canvas");
      // Orientation 6: the file's columns are the picture's rows, from right to left.
      if (turned) ink.transform(0, -1, 1, 0, 0, 1600);
      ink.fillStyle = "#cfe0ee";
      ink.fillRect(0, 0, 1600, 1200);
      ink.fillStyle = "#3c4a50";
      ink.beginPath();
      for (const [u = 0, v = 0] of hull) ink.lineTo(u, v);
      ink.fill();
      ink.fillStyle = "#f00";
      ink.beginPath();
      ink.arc(mark[0] ?? 0, mark[1] ?? 0, 14, 0, 7);
      ink.fill();
      /** @type {Blob | null} */
      const blob = await new Promise((done) => canvas.toBlob(done, type, 0.95));
      return Array.from(new Uint8Array((await blob?.arrayBuffer()) ?? new ArrayBuffer(0)));
    },
    { type, mark: pixel(MARK.x, MARK.z), hull: [[0, 0], [0.4, -0.3], [2.5, -0.6], [3, -1.4], [4.8, -1.4], [4.8, -0.5], [LWL, 0], [LWL + 0.3, 0.8], [-0.6, 1]].map(([x = 0, z = 0]) => pixel(x, z)) },
  );
  const plain = Buffer.from(bytes);
  if (type !== "image/jpeg") return plain;
  // Exif 2.32, section 4.6: a TIFF with orientation (0x0112) and the directory of the place (0x8825: GPSVersionID).
  const tiff = Buffer.from("4d4d002a00000008" + "0002" + "011200030000000100060000" + "882500040000000100000026" + "00000000" + "0001" + "000000010000000402030000" + "00000000", "hex");
  const body = Buffer.concat([Buffer.from("Exif\0\0", "latin1"), tiff]);
  const head = Buffer.from([0xff, 0xe1, 0, body.length + 2]);
  return Buffer.concat([plain.subarray(0, 2), head, body, plain.subarray(2)]);
}

/** What of photos the browser keeps. @param {Page} page @returns {Promise<{ id: string, text: string, opacity: number }[]>} */
export const keptPhotos = (page) =>
  page.evaluate(
    () =>
      new Promise((done, fail) => {
        const request = indexedDB.open("battenwright.photos");
        request.onerror = () => fail(request.error);
        request.onupgradeneeded = () => request.result.createObjectStore("battenwright.photos");
        request.onsuccess = () => {
          const store = request.result.transaction("battenwright.photos").objectStore("battenwright.photos");
          const [keys, values] = [store.getAllKeys(), store.getAll()];
          values.onsuccess = () => {
            request.result.close();
            done(values.result.map((photo, at) => ({ ...photo, id: keys.result[at], text: new TextDecoder("latin1").decode(photo.bytes), bytes: undefined })));
          };
        };
      }),
  );
