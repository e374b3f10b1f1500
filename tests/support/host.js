/**
 * A host of the journey's own in front of the site: it hands on what the site has and changes what it is
 * told to, so that a journey can put out a second version or a broken one. It serves the site from a
 * sub-path, as many static hosts do, and nothing beside it.
 * @module
 */
import { createHash } from "node:crypto";
import { once } from "node:events";
import { createServer } from "node:http";

/** @typedef {(body: Buffer) => Buffer | string} Alteration */

const PREFIX = "/slipway/4/";

/** @param {Buffer | string} body */
const hash = (body) => `sha256-${createHash("sha256").update(body).digest("base64")}`;

export class Host {
  /** By path; "/" is the front page. @type {Map<string, Alteration>} */
  #alterations = new Map();
  /** Paths asked for, whole. @type {string[]} */
  asked = [];
  address = "";
  #server = createServer((request, response) => {
    void this.#answer(request.url ?? "/", response);
  });

  /** @param {string} site address of the site */
  constructor(site) {
    this.site = site;
  }

  async start() {
    this.#server.listen(0, "127.0.0.1");
    await once(this.#server, "listening");
    const at = /** @type {import("node:net").AddressInfo} */ (this.#server.address());
    this.address = `http://127.0.0.1:${at.port}${PREFIX}`;
  }

  async stop() {
    this.#server.closeAllConnections();
    this.#server.close();
    await once(this.#server, "close");
  }

  /** @param {string} url @param {import("node:http").ServerResponse} response */
  async #answer(url, response) {
    const [whole = ""] = url.split("?");
    this.asked.push(whole);
    if (!whole.startsWith(PREFIX)) {
      response.writeHead(404).end();
      return;
    }
    const path = whole.slice(PREFIX.length - 1);
    try {
      const { status, type, body } = await this.#fetched(path);
      const alter = this.#alterations.get(path);
      response.writeHead(status, { "content-type": type, "cache-control": "no-cache" });
      response.end(alter ? alter(body) : body);
    } catch {
      response.writeHead(502).end();
    }
  }

  /** @param {string} path */
  async #fetched(path) {
    const answer = await fetch(new URL(`.${path}`, this.site));
    return { status: answer.status, type: answer.headers.get("content-type") ?? "", body: Buffer.from(await answer.arrayBuffer()) };
  }

  /**
   * Puts out another version: its front page carries the name, its list the new hash. A broken one has a
   * wrong byte in a script that the list knows better.
   * @param {string} name @param {{ broken?: string }} [how] `broken`: path of the spoilt file
   */
  async putOut(name, { broken } = {}) {
    this.#alterations.clear();
    /** @param {Buffer} body */
    const page = (body) => body.toString("utf8").replace("<title>", `<meta name="version" content="${name}">\n<title>`);
    const { body: original } = await this.#fetched("/");
    const [before, after] = [hash(original), hash(page(original))];
    this.#alterations.set("/", page);
    this.#alterations.set("/precache.js", (body) => {
      const list = body.toString("utf8");
      if (!list.includes(before)) throw new Error("the front page is not in the list");
      return list.replace(before, after).replace(/(version"?: ?")[^"]*/, `$1${name}`);
    });
    if (broken)
      this.#alterations.set(broken, (body) => {
        const spoilt = Buffer.from(body);
        spoilt[spoilt.length - 2] = (spoilt[spoilt.length - 2] ?? 0) ^ 1;
        return spoilt;
      });
  }
}
