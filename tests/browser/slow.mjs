// A phone at the far end of the yard: how soon the first piece is seen on a slow connection, how soon a helper is in,
// and how soon a page that lay in a pocket is right again. Figures in seconds, so no story of the usual run.

import assert from "node:assert/strict";
import { PHONE, Server, browser, demoJob, open } from "./support.mjs";

/** The slow 3G of a widely used speed test: 400 kbit/s either way, 400 ms there and back. */
const SLOW = { offline: false, latency: 400, downloadThroughput: 50_000, uploadThroughput: 50_000 };
const FIRST_PIECE_WITHIN = 3; // s
const IN_WITHIN = 20; // s
const HIDDEN = 60; // s
const RIGHT_WITHIN = 1; // s

const chrome = await browser();
const server = await Server.over("demo");
const seconds = (since) => (performance.now() - since) / 1000;

async function throttle(page) {
  const network = await page.context().newCDPSession(page);
  await network.send("Network.enable");
  await network.send("Network.emulateNetworkConditions", SLOW);
}

async function firstPiece(job) {
  const took = [];
  for (let times = 0; times < 3; times++) {
    const page = await open(chrome, { viewport: PHONE });
    await throttle(page);
    const since = performance.now();
    await page.goto(`${job}/cuts`, { waitUntil: "commit" });
    await page.waitForSelector("details.now .cut-drawing .drawing", { state: "visible" });
    took.push(seconds(since));
    await page.context().close();
  }
  console.log(`first piece on slow 3G, cold: ${took.map((one) => one.toFixed(2)).join(", ")} s`);
  assert.ok(Math.max(...took) < FIRST_PIECE_WITHIN);
}

/** From the scanned link to the list of jobs; the lead lets the phone in as soon as it asks. */
async function join() {
  const lead = await open(chrome, { viewport: PHONE });
  await lead.goto(`${server.url}/people`);
  await lead.click("button[value=helper]");
  const path = new URL(await lead.getAttribute(".address a", "href")).pathname;
  await lead.goto(`${server.url}/people`);
  const phone = await open(chrome, { viewport: PHONE, stranger: true });
  await throttle(phone);
  const since = performance.now();
  let taps = 0;
  const tap = (what) => (taps++, phone.tap(what));
  await phone.goto(server.url + path);
  await tap("#name");
  await phone.keyboard.type("Ana");
  await tap("button.action");
  await lead.tap("text=Let Ana in");
  await phone.waitForURL(`${server.url}/`);
  console.log(`joined on slow 3G: ${seconds(since).toFixed(2)} s, ${taps} taps`);
  assert.ok(seconds(since) < IN_WITHIN && taps <= 3);
}

/** Somebody else cuts while the page lies in a pocket. */
async function pocket(job) {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${job}/board`);
  await page.waitForSelector("#heard:has-text('up to date')");
  const hide = (hidden) =>
    page.evaluate((hidden) => {
      Object.defineProperty(document, "hidden", { value: hidden, configurable: true });
      Object.defineProperty(document, "visibilityState", { value: hidden ? "hidden" : "visible", configurable: true });
      document.dispatchEvent(new Event("visibilitychange"));
    }, hidden);
  await hide(true);
  const before = await page.getAttribute("main", "data-seen");
  const other = await open(chrome, { viewport: PHONE });
  await other.goto(`${job}/cuts`);
  await other.tap("details.now button.action");
  await other.waitForSelector("details.now .cut-press");
  await page.waitForTimeout(HIDDEN * 1000);
  assert.equal(await page.getAttribute("main", "data-seen"), before, "nothing is fetched in a pocket");
  const since = performance.now();
  await hide(false);
  await page.waitForFunction((seen) => document.querySelector("main").dataset.seen !== seen, before);
  console.log(`right again after ${HIDDEN} s out of sight: ${seconds(since).toFixed(2)} s`);
  assert.ok(seconds(since) < RIGHT_WITHIN);
}

try {
  const job = await demoJob(chrome, server);
  await firstPiece(job);
  await join();
  await pocket(job);
} finally {
  await chrome.close();
  await server.remove();
}
