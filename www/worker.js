/**
 * Work away from the page: the same script and wasm in a worker, that the page ends to cancel.
 * @module
 */
import __wbg_init, { Workbench } from "./pkg/site.js";
import { fetchWasm } from "./wasm.js";

/**
 * Takes questions: document, view, words, a method of the workbench, what it asks for. Answers in turn: nought as it begins, how much is
 * done where the method tells, then what it gives, or null.
 */
export function standBy() {
  /** @type {Promise<unknown> | undefined} */
  let loading;
  /** @type {Workbench | undefined} */
  let bench;
  let known = "";
  addEventListener("message", async ({ data }) => {
    /** @type {[string, import("./pkg/site.js").View, string, string, ...unknown[]]} */
    const [text, view, words, method, ...question] = data;
    try {
      loading ??= __wbg_init({ module_or_path: fetchWasm() });
      await loading;
      if (!bench || known !== text + words) {
        bench?.free();
        bench = new Workbench(text, words);
        known = text + words;
      }
      bench.set_view(view);
      postMessage(0);
      postMessage(/** @type {any} */ (bench)[method](...question, postMessage));
    } catch {
      postMessage(null);
    }
  });
}
