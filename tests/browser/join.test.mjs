// A helper joins from a phone by the lead's link, without script: three taps after the code is scanned. Each page is
// looked at on a phone and a laptop.

import assert from "node:assert/strict";
import { test } from "node:test";
import { LAPTOP, NARROW, PHONE, Server, around, open, sound } from "./support.mjs";

const SHOTS = process.env.COURSEBOOK_SHOTS;

let chrome, server;

around("serve", (standing) => ({ chrome, server } = standing));

/** The page at three widths. */
async function sized(page, name) {
  for (const size of [NARROW, PHONE, LAPTOP]) {
    await page.setViewportSize(size);
    await sound(page);
    if (SHOTS) await page.screenshot({ path: `${SHOTS}/${name}-${size.width}.png`, fullPage: true });
  }
  await page.setViewportSize(PHONE);
}

test("a helper scans, says a name, is let in, works, and is put out", async () => {
  const lead = await open(chrome, { viewport: PHONE });
  await lead.goto(`${server.url}/people`);
  await sized(lead, "people");
  await lead.click("button[value=helper]");
  await lead.waitForSelector("img.code");
  assert.ok(await lead.evaluate(() => document.querySelector("img.code").naturalWidth > 0), "the code is drawn");
  await sized(lead, "link");
  const path = new URL(await lead.getAttribute(".address a", "href")).pathname;

  const phone = await open(chrome, { viewport: PHONE, stranger: true });
  await phone.goto(server.url);
  assert.match(await phone.textContent("main"), /Ask the lead for a link/);
  await sized(phone, "stranger");
  await phone.goto(`${server.url}/sign-in`);
  await sized(phone, "sign-in");
  await phone.goto(`${server.url}/join/abc`);
  await sized(phone, "closed");
  await phone.goto(server.url + path);
  await sized(phone, "join");
  await phone.tap("#name");
  await phone.keyboard.type("Ana");
  await phone.tap("button.action");
  await phone.waitForURL(`${server.url}/join`);
  await sized(phone, "wait");

  await lead.tap("a.action");
  await lead.waitForSelector(".waiting");
  await sized(lead, "waiting");
  await lead.tap("text=Let Ana in");
  await phone.waitForURL(`${server.url}/`);
  assert.equal(await phone.textContent("span.who"), "Ana");
  await sized(phone, "in");
  await lead.tap("text=Sign Ana out");
  await lead.locator("details[open] button").tap();
  await lead.waitForFunction(() => !document.body.textContent.includes("Ana"));
  await phone.goto(server.url);
  assert.match(await phone.textContent("h1"), /not in yet/);
  assert.deepEqual(phone.complaints, []);
});

test("the lead is set up at the box by a form that works without script", async () => {
  const fresh = await Server.over("serve", { lead: false });
  const page = await open(chrome, { viewport: PHONE, script: false, stranger: true });
  await page.goto(fresh.url);
  assert.equal(new URL(page.url()).pathname, "/set-up");
  await page.fill("#name", "Inês");
  await page.fill("#pin", "123456");
  await page.fill("#again", "493027");
  await page.click("button.action");
  assert.match(await page.textContent(".faults"), /digits in a row.*PINs differ/s);
  const drawn = await open(chrome, { viewport: PHONE, stranger: true });
  await drawn.goto(`${fresh.url}/set-up`);
  await sized(drawn, "set-up");
  await page.fill("#pin", "493027");
  await page.fill("#again", "493027");
  await page.click("button.action");
  assert.equal(page.url(), `${fresh.url}/`);
  assert.match(await page.textContent("a.who"), /^Inês/);
  await fresh.remove();
});
