// The other engine that crews' phones have: a helper joins by the lead's link, cuts a piece and finds it in the log, in
// WebKit, by the WebDriver protocol (W3C WebDriver, https://www.w3.org/TR/webdriver2/). The server is reached by a host
// name, mapped to loopback in a mount namespace of the driver's own. Needs root, WebKitWebDriver and Xvfb.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Server } from "./support.mjs";

const PORT = 14_444;
const ELEMENT = "element-6066-11e4-a52e-4f735466cecf";
const TRIES = 100;

const pause = (ms) => new Promise((done) => setTimeout(done, ms));

/** Asks `what` until it gives something, a tenth of a second apart and a hundred times at most. */
async function until(what, why) {
  for (let tries = 0; tries < TRIES; tries++) {
    const given = await what().catch(() => undefined);
    if (given) return given;
    await pause(100);
  }
  throw new Error(`never: ${why}`);
}

async function driver(method, path, body) {
  const answer = await fetch(`http://127.0.0.1:${PORT}${path}`, { method, body: body && JSON.stringify(body) });
  const { value } = await answer.json();
  if (!answer.ok) throw new Error(`${path}: ${value.error}: ${value.message}`);
  return value;
}

/** A browser window with nobody in. */
class Window {
  static async open() {
    const capabilities = { alwaysMatch: { "webkitgtk:browserOptions": { args: ["--automation"] } } };
    const window = new Window();
    window.session = (await driver("POST", "/session", { capabilities })).sessionId;
    return window;
  }

  at(path, body) {
    return driver(body ? "POST" : "GET", `/session/${this.session}${path}`, body);
  }

  goto(url) {
    return this.at("/url", { url });
  }

  async find(css) {
    return (await this.at("/element", { using: "css selector", value: css }))[ELEMENT];
  }

  async text(css) {
    return this.at(`/element/${await this.find(css)}/text`);
  }

  async press(css) {
    await this.at(`/element/${await this.find(css)}/click`, {});
  }

  async type(css, text) {
    await this.at(`/element/${await this.find(css)}/value`, { text });
  }
}

/** A form of the lead's, sent as a browser sends it; answers where it leads. */
async function lead(server, page, action, typed = {}) {
  const headers = { cookie: server.cookie, "sec-fetch-site": "same-origin" };
  const html = await (await fetch(`http://127.0.0.1:${server.port}${page}`, { headers })).text();
  const form = html.split("<form").find((part) => part.includes(`action="${action}"`));
  const [, key] = form.match(/name="key" value="([^"]*)"/);
  const body = new URLSearchParams({ key, ...typed });
  const url = `http://127.0.0.1:${server.port}${action}`;
  const answer = await fetch(url, { method: "POST", redirect: "manual", headers, body });
  assert.equal(answer.status, 303, action);
  return answer.headers.get("location");
}

const folder = mkdtempSync(join(tmpdir(), "coursebook-hosts-"));
const hosts = join(folder, "hosts");
writeFileSync(hosts, "127.0.0.1 localhost crew.test\n");
const words = `mount --bind "$0" /etc/hosts && exec xvfb-run --auto-servernum WebKitWebDriver --port=${PORT}`;
const webkit = spawn("unshare", ["--mount", "sh", "-c", words, hosts], {
  stdio: ["ignore", "ignore", "inherit"],
  env: { ...process.env, LIBGL_ALWAYS_SOFTWARE: "1", WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: "1" },
  detached: true,
});
let server;
try {
  await until(() => driver("GET", "/status"), "WebKitWebDriver answers");
  server = await Server.over("demo");
  const jobs = await (await fetch(`http://127.0.0.1:${server.port}/`, { headers: { cookie: server.cookie } })).text();
  const [job] = jobs.match(/\/jobs\/[a-z0-9]{10,}/);
  const link = await lead(server, "/people", "/people/links", { role: "helper" });
  const helper = await Window.open();
  await helper.goto(server.url + link.replace("/people/links/", "/join/"));
  await helper.type("#name", "Ana");
  await helper.press("main button.action");
  await until(() => helper.text("main .empty, main p"), "the page that waits");
  const people = await (await fetch(`http://127.0.0.1:${server.port}/people`, { headers: { cookie: server.cookie } })).text();
  const [, letIn] = people.match(/action="([^"]*let-in[^"]*)"/);
  await lead(server, "/people", letIn);
  await until(async () => (await helper.at("/url")) === `${server.url}/`, "the helper is in");

  await helper.goto(`${server.url}${job}/cuts`);
  const piece = await helper.text("details.now .cut-label");
  // The lead is about too: the piece is taken before it is cut.
  await helper.press("details.now .cut-press.cut-hand button");
  await until(() => helper.find("details.now .cut-press:not(.cut-hand) button"), "the piece is in hand");
  await helper.press("details.now .cut-press button");
  await until(async () => (await helper.text("details.now .cut-label")) !== piece, "the next piece comes");
  await helper.goto(`${server.url}${job}/log`);
  assert.match(await helper.text(".log"), new RegExp(`${piece} was cut`));
  console.log(`in WebKit a helper joined, cut ${piece} and found it in the log`);
} finally {
  await server?.remove();
  process.kill(-webkit.pid);
  rmSync(folder, { recursive: true, force: true });
}
