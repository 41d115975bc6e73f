// A server of its own and a browser for each story. The browser reaches the server by a host name that is mapped to
// loopback, since loopback itself counts as secure and hides what fails on a real local network.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before } from "node:test";
import { chromium } from "playwright-core";

const BINARY = process.env.COURSEBOOK_BINARY;
/** The server of the demo job in stretched words. */
export const PSEUDO = process.env.COURSEBOOK_PSEUDO;
const CHROMIUM = process.env.CHROMIUM ?? "/usr/bin/chromium";
const HOST = "crew.test";
const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

export const PHONE = { width: 360, height: 780 };
export const NARROW = { width: 320, height: 640 };
export const LAPTOP = { width: 1280, height: 800 };

async function freePort() {
  const probe = createServer();
  await new Promise((done) => probe.listen(0, "127.0.0.1", done));
  const { port } = probe.address();
  await new Promise((done) => probe.close(done));
  return port;
}

/** The leads' cookies of this file's servers that run, of which a page that is opened takes the latest: each file of
 * stories is a process of its own. */
const leads = [];

/** The hidden fields of a form, as a browser sends them. */
const hidden = (html) =>
  [...html.matchAll(/<input type="hidden" name="(\w+)" value="([^"]*)">/g)].map(([, name, value]) => [name, value]);

/** A server over a data folder that lasts until `remove`. */
export class Server {
  static async over(command = "serve", { lead = true, binary = BINARY } = {}) {
    const server = new Server();
    server.binary = binary;
    server.command = command;
    server.folder = mkdtempSync(join(tmpdir(), "coursebook-"));
    server.port = await freePort();
    server.url = `http://${HOST}:${server.port}`;
    await server.start();
    if (lead) await server.makeLead();
    return server;
  }

  /** Sets up the lead by the form at the box, or takes the demo's button. */
  async makeLead() {
    const html = await (await fetch(`http://127.0.0.1:${this.port}/set-up`)).text();
    const form = new URLSearchParams(hidden(html.slice(html.indexOf("<main"))));
    const demo = html.includes('action="/set-up/demo"');
    const typed = { name: "Inês", pin: "493027", again: "493027", unit: "mm", zone: "Europe/Lisbon" };
    for (const [name, value] of Object.entries(demo ? {} : typed)) form.set(name, value);
    const answer = await fetch(`http://127.0.0.1:${this.port}/set-up${demo ? "/demo" : ""}`, {
      method: "POST",
      redirect: "manual",
      headers: { "sec-fetch-site": "same-origin" },
      body: form,
    });
    assert.equal(answer.status, 303, await answer.text());
    const [name, value] = answer.headers.get("set-cookie").split(";")[0].split("=");
    this.cookie = `${name}=${value}`;
    leads.push({ name, value, url: this.url, httpOnly: true, sameSite: "Lax" });
  }

  async start() {
    const listen = `127.0.0.1:${this.port}`;
    const words = [this.command, "--listen", listen, "--data", join(this.folder, "data"), "--host", HOST];
    this.process = spawn(this.binary, words, { stdio: ["ignore", "pipe", "inherit"] });
    await new Promise((ready, failed) => {
      this.process.stdout.once("data", ready);
      this.process.once("exit", (code) => failed(new Error(`the server ended with ${code}`)));
    });
  }

  /** Ends the process as a power cut would. */
  async kill() {
    const ended = new Promise((done) => this.process.once("exit", done));
    this.process.kill("SIGKILL");
    await ended;
  }

  /** The same, and starts it again over the same folder. */
  async killAndRestart() {
    await this.kill();
    await this.start();
  }

  async remove() {
    leads.splice(0, leads.length, ...leads.filter(({ url }) => url !== this.url));
    const ended = new Promise((done) => this.process.once("exit", done));
    this.process.kill("SIGTERM");
    await ended;
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** A browser sometimes closes a window, or itself, and never says so. Nobody asks anything of it any more by then. */
const CLOSED_WITHIN = 15_000; // ms

function waitsNoLonger(closing) {
  const close = closing.close.bind(closing);
  const late = () => new Promise((done) => setTimeout(done, CLOSED_WITHIN).unref());
  closing.close = () => Promise.race([close(), late()]);
  return closing;
}

/** One Chromium for a file of stories. */
export async function browser() {
  const launched = await chromium.launch({
    executablePath: CHROMIUM,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      `--host-resolver-rules=MAP ${HOST} 127.0.0.1`,
    ],
  });
  return waitsNoLonger(launched);
}

/** A page that fails the story when the browser complains of anything. */
export async function open(chrome, { viewport, script = true, dark = false, stranger = false, locale = "en-US" }) {
  const context = await chrome.newContext({
    viewport,
    locale,
    javaScriptEnabled: script,
    colorScheme: dark ? "dark" : "light",
    hasTouch: viewport.width < 600,
  });
  waitsNoLonger(context);
  if (leads.length && !stranger) await context.addCookies([leads.at(-1)]);
  const page = waitsNoLonger(await context.newPage());
  page.setDefaultTimeout(10_000);
  page.complaints = [];
  page.on("console", (message) => {
    // A refused form and a page that is not there are answered with an error status on purpose; the story asserts it.
    const is_file = /\/static\//.test(message.location().url);
    const refused = !is_file && /status of (403|404|409|410|422)/.test(message.text());
    if (message.type() === "error" && !refused) page.complaints.push(message.text());
  });
  page.on("pageerror", (error) => page.complaints.push(String(error)));
  return page;
}

/** The address of the demo job on this server. */
export async function demoJob(chrome, server) {
  const page = await open(chrome, { viewport: LAPTOP });
  await page.goto(server.url);
  const job = server.url + (await page.getAttribute(".list a", "href"));
  await page.close();
  return job;
}

/** A browser and a server for a file's stories, handed to `take` before them: with the demo job's address, or without a
 * job. `more` stands between the two. */
export function around(command, take, more = async () => {}) {
  let chrome, server;
  before(async () => {
    chrome = await browser();
    server = await Server.over(command);
    take({ chrome, server, job: command === "demo" ? await demoJob(chrome, server) : undefined });
    await more();
  });
  after(async () => {
    await chrome.close();
    await server.remove();
  });
}

/** A page once nothing is looked for behind it any more: until then it comes back by itself. */
export async function settled(page, url) {
  for (let looks = 0; looks < 60; looks++) {
    const answer = await page.goto(url);
    if (!answer.headers().refresh) return answer;
  }
  throw new Error(`${url} never settled`);
}

/** What is on the page is as wide as the page. */
export async function holds(page) {
  assert.deepEqual(page.complaints, [], page.url());
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  assert.ok(wide <= 0, `${page.url()} scrolls sideways by ${wide} px at ${page.viewportSize().width} px`);
}

/** What axe finds on a page by these rules. */
export async function found(page, rules) {
  await page.evaluate(AXE);
  return page.evaluate(async (rules) => {
    const { violations } = await window.axe.run(document, rules);
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" | ")}`);
  }, rules);
}

/** No complaint, no sideways scroll and, with script, nothing that axe finds against WCAG 2.2 AA. */
export async function sound(page, { axe = true } = {}) {
  await holds(page);
  if (!axe) return;
  assert.deepEqual(await found(page, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] }), [], page.url());
}
