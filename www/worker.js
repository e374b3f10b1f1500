/**
 * The finder's work, away from the page: the same script and wasm in a worker, that the page ends to cancel.
 * @module
 */
import __wbg_init, { Workbench } from "./pkg/site.js";
import { fetchWasm } from "./wasm.js";

/** Takes one question: document, view, part, aim, most mass; tells how much is done, nought as it begins, then what it found, or null. */
export function standBy() {
  addEventListener("message", async ({ data }) => {
    /** @type {[string, import("./pkg/site.js").View, string, string, string]} */
    const [text, view, ...question] = data;
    try {
      await __wbg_init({ module_or_path: fetchWasm() });
      const bench = new Workbench(text, "{}");
      bench.set_view(view);
      postMessage(0);
      postMessage(bench.find(...question, postMessage));
    } catch {
      postMessage(null);
    }
  });
}
