// Opens the page in WebKitGTK, of the iPhone's engine family, and looks whether it came to life.
// The driver speaks WebDriver (https://www.w3.org/TR/webdriver2/), for which `fetch` is client enough.
//
// `cargo xtask test webkit` sets the variables: SITE_ADDRESS, WEBKIT_BROWSER (MiniBrowser),
// WEBKIT_DRIVER (WebKitWebDriver), WEBKIT_SCREEN (xvfb-run).

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { once } from "node:events";
import { createServer } from "node:net";
import { setTimeout as sleep } from "node:timers/promises";

const { SITE_ADDRESS, WEBKIT_BROWSER, WEBKIT_DRIVER, WEBKIT_SCREEN } = process.env;
assert(SITE_ADDRESS && WEBKIT_BROWSER && WEBKIT_DRIVER && WEBKIT_SCREEN, "run me by: cargo xtask test webkit");

const PATIENCE_MS = 30_000;

/** A port nobody listens on. */
async function freePort() {
  const server = createServer().listen(0, "127.0.0.1");
  await once(server, "listening");
  const { port } = server.address();
  server.close();
  await once(server, "close");
  return port;
}

/** Calls `attempt` until it gives something true; its last failure ends the wait. */
async function until(what, attempt) {
  const end = Date.now() + PATIENCE_MS;
  let last;
  while (Date.now() < end) {
    try {
      last = await attempt();
      if (last) return last;
    } catch (problem) {
      last = problem;
    }
    await sleep(100);
  }
  throw new Error(`${what}: not within ${PATIENCE_MS / 1000} s (last: ${last})`);
}

const port = await freePort();
// A process group of its own, so that the screen goes when the driver goes.
const driver = spawn(WEBKIT_SCREEN, ["-a", WEBKIT_DRIVER, `--port=${port}`], {
  detached: true,
  stdio: ["ignore", "ignore", "inherit"],
});

/** One WebDriver command; gives its value. */
async function command(method, path, body) {
  const response = await fetch(`http://127.0.0.1:${port}${path}`, {
    method,
    headers: { "content-type": "application/json" },
    body: body === undefined ? undefined : JSON.stringify(body),
  });
  const { value } = await response.json();
  if (!response.ok) throw new Error(`${method} ${path}: ${value?.error} ${value?.message}`);
  return value;
}

let session;
/** Runs a function's text in the page. */
const inPage = (work) =>
  command("POST", `/session/${session}/execute/sync`, { script: `return (${work})();`, args: [] });

const tests = {
  "the title shows": async () => {
    assert.match(await command("GET", `/session/${session}/title`), /Battenwright/);
  },
  "the workbench gets ready": async () => {
    await until("the workbench", () =>
      // The handles over the drawing come from the workbench alone.
      inPage(() => !document.getElementById("page").hidden && document.querySelector("#drawing [role=slider]") !== null),
    );
  },
  "the drawing is painted": async () => {
    await until("ink on the canvas", async () => {
      const inks = await inPage(() => {
        const canvas = document.querySelector("canvas");
        const ctx = canvas?.getContext("2d");
        if (!canvas || !ctx || canvas.width === 0 || canvas.height === 0) return 0;
        const pixels = new Uint32Array(ctx.getImageData(0, 0, canvas.width, canvas.height).data.buffer);
        return new Set(pixels).size;
      });
      // Paper, cloth, spars and their blends along the edges: one plain colour is no drawing.
      return inks > 20;
    });
  },
};

tests["a photo held upright lies under the drawing, the right way up"] = async () => {
  await inPage(() => document.getElementById("tab-boat").click());
  await until("the field for it", () => inPage(() => document.getElementById("photo-file") !== null));
  await inPage(() => {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [400, 200];
    const ink = canvas.getContext("2d");
    ink.fillRect(0, 0, 200, 200);
    ink.fillStyle = "#fff";
    ink.fillRect(200, 0, 200, 200);
    canvas.toBlob((blob) =>
      blob.arrayBuffer().then((plain) => {
        // Exif 2.32, section 4.6: orientation 6, so the file's first column is the picture's first row.
        const exif = [0xff, 0xe1, 0, 34, 69, 120, 105, 102, 0, 0, 77, 77, 0, 42, 0, 0, 0, 8, 0, 1, 1, 18, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0, 0, 0, 0, 0];
        const given = new DataTransfer();
        given.items.add(new File([plain.slice(0, 2), new Uint8Array(exif), plain.slice(2)], "side.jpg"));
        const field = document.getElementById("photo-file");
        field.files = given.files;
        field.dispatchEvent(new Event("change"));
      }), "image/jpeg");
  });
  const seen = await until("the photo", () =>
    inPage(() => {
      const image = document.querySelector(".underlay");
      if (!image?.naturalWidth) return null;
      const canvas = document.createElement("canvas");
      [canvas.width, canvas.height] = [image.naturalWidth, image.naturalHeight];
      const ink = canvas.getContext("2d");
      ink.drawImage(image, 0, 0);
      const red = (y) => ink.getImageData(100, y, 1, 1).data[0];
      return [canvas.width, canvas.height, red(100) < 40, red(300) > 215];
    }),
  );
  assert.deepEqual(seen, [200, 400, true, true]);
};

let passed = 0;
let failed = 0;
try {
  await until("WebKit's driver", () => command("GET", "/status"));
  const capabilities = {
    alwaysMatch: { "webkitgtk:browserOptions": { binary: WEBKIT_BROWSER, args: ["--automation"] } },
  };
  ({ sessionId: session } = await command("POST", "/session", { capabilities }));
  await command("POST", `/session/${session}/url`, { url: SITE_ADDRESS });
  for (const [name, test] of Object.entries(tests)) {
    try {
      await test();
      passed += 1;
      console.log(`ok      ${name}`);
    } catch (problem) {
      failed += 1;
      console.log(`FAILED  ${name}\n${problem.stack}`);
    }
  }
  await command("DELETE", `/session/${session}`);
} catch (problem) {
  failed += 1;
  console.log(`FAILED  WebKit itself\n${problem.stack}`);
} finally {
  try {
    process.kill(-driver.pid);
  } catch {
    // It has ended by itself.
  }
}

if (passed > 0) console.log(`  ${passed} passed`);
if (failed > 0) console.log(`  ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);
