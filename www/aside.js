/**
 * Questions to a workbench in a worker, where the hand is not to wait for the answer.
 * @module
 */
import { carriedWords } from "./words.js";

/** @typedef {import("./desk.js").Desk} Desk */
/**
 * @typedef {object} Question
 * @property {[string, ...unknown[]]} asks the method and what it takes
 * @property {(answer: any) => void} answered
 * @property {(done: number) => void} [told] how much is done
 * @property {() => void} [broke] it had begun and broke off
 */

/** Answers come in turn. Where the browser has no such workers it is done here, and the page waits. */
export class Aside {
  /** @type {Worker | null} */
  #worker = null;
  /** @type {Question[]} */
  #waiting = [];
  #begun = false;

  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
  }

  get busy() {
    return this.#waiting.length > 0;
  }

  /** @param {Question} question */
  ask(question) {
    const { desk } = this;
    try {
      this.#worker ??= this.#hire();
      this.#waiting.push(question);
      this.#worker.postMessage([desk.text, desk.view, carriedWords(), ...question.asks]);
    } catch {
      this.stop();
      this.#here(question);
    }
  }

  /** Ends the worker: nothing that was asked is answered. */
  stop() {
    this.#worker?.terminate();
    this.#worker = null;
    this.#waiting = [];
    this.#begun = false;
  }

  #hire() {
    const worker = new Worker("./main.js", { type: "module" });
    worker.addEventListener("error", () => this.#failed());
    worker.addEventListener("message", ({ data }) => {
      if (worker !== this.#worker) return;
      if (data === null) this.#failed();
      else if (typeof data === "number") {
        this.#begun = true;
        this.#waiting[0]?.told?.(data);
      } else {
        this.#begun = false;
        this.#waiting.shift()?.answered(data);
      }
    });
    return worker;
  }

  /** What breaks there breaks here too; what never began is done here. */
  #failed() {
    const [question, ...others] = this.#waiting;
    const begun = this.#begun;
    this.stop();
    if (question && begun) question.broke?.();
    else if (question) this.#here(question);
    for (const other of others) this.ask(other);
  }

  /** @param {Question} question */
  #here({ asks: [method, ...asked], answered }) {
    const answer = this.desk.ask(method, (bench) => /** @type {any} */ (bench)[method](...asked, () => {}), null);
    if (answer !== null) answered(answer);
  }
}
