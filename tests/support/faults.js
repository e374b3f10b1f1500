/**
 * Faults brought about on purpose, inside the page.
 * @module
 */

/** @typedef {import("@playwright/test").Page} Page */
/** @typedef {import("@playwright/test").BrowserContext} BrowserContext */

/** The browser blocks storage: even reading the property throws. @param {Page | BrowserContext} page */
export async function blockStorage(page) {
  await page.addInitScript(() => {
    Object.defineProperty(window, "localStorage", {
      get() {
        throw new DOMException("The operation is insecure.", "SecurityError");
      },
    });
  });
}

/** Fills the storage to its last character with what is not ours. @param {Page} page */
export async function fillStorage(page) {
  await page.evaluate(() => {
    const key = "neighbour";
    let kept = "";
    for (let piece = 4 * 1024 * 1024; piece >= 1; piece = Math.floor(piece / 2)) {
      for (;;) {
        try {
          localStorage.setItem(key, kept + "x".repeat(piece));
          kept += "x".repeat(piece);
        } catch {
          break;
        }
      }
    }
  });
}

/**
 * Wraps the exports of the wasm so that one of them can be made to trap: `window.trapIn` holds a part of its
 * name. A fresh instance after a trap is whole again, unless the name is to stick.
 * @param {Page} page @param {{ sticks?: string }} [how] `sticks`: traps from the start, in every instance
 */
export async function wrapWasm(page, { sticks = "" } = {}) {
  await page.addInitScript((always) => {
    // The smallest module whose one function is unreachable: a real trap. (module (func (export "t") unreachable))
    const bytes = new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 7, 5, 1, 1, 116, 0, 0, 10, 5, 1, 3, 0, 0, 11]);
    const { Instance, Module } = WebAssembly;
    const trap = /** @type {() => never} */ (new Instance(new Module(bytes)).exports.t);
    const state = /** @type {any} */ (window);
    state.trapIn = "";
    state.trapped = 0;
    /** @param {WebAssembly.Exports} exports @param {boolean} first */
    const wrapped = (exports, first) => {
      /** @type {Record<string, unknown>} */
      const copy = {};
      for (const [name, value] of Object.entries(exports))
        copy[name] =
          typeof value !== "function"
            ? value
            : (/** @type {unknown[]} */ ...given) => {
                const named = first && state.trapIn !== "" ? state.trapIn : always;
                if (named !== "" && name.includes(named)) {
                  state.trapped += 1;
                  trap();
                }
                return value(...given);
              };
      return copy;
    };
    // As it comes from the cache, and unpacked by the page.
    for (const name of /** @type {const} */ (["instantiateStreaming", "instantiate"])) {
      const begin = /** @type {(source: any, imports: any) => Promise<WebAssembly.WebAssemblyInstantiatedSource>} */ (WebAssembly[name]);
      /** @type {any} */ (WebAssembly)[name] = async (/** @type {unknown} */ source, /** @type {unknown} */ imports) => {
        const { instance, module } = await begin(source, imports);
        return { module, instance: { exports: wrapped(instance.exports, true) } };
      };
    }
    if (always)
      /** @type {any} */ (WebAssembly).Instance = class {
        /** @param {WebAssembly.Module} module @param {WebAssembly.Imports} imports */
        constructor(module, imports) {
          this.exports = wrapped(new Instance(module, imports).exports, false);
        }
      };
  }, sticks);
}
