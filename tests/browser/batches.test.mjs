// A mix counts down on a phone by itself, is an alarm when its time is up, and counts from the press where the phone was
// out of range.

import assert from "node:assert/strict";
import { test } from "node:test";
import { LAPTOP, PHONE, around, open, sound } from "./support.mjs";

const SHOTS = process.env.COURSEBOOK_SHOTS;
const OUT_OF_RANGE = /net::ERR_(CONNECTION_REFUSED|CONNECTION_RESET|EMPTY_RESPONSE|INCOMPLETE_CHUNKED_ENCODING|INTERNET_DISCONNECTED|SOCKET_NOT_CONNECTED|FAILED)/;

let chrome, server, job;

around("demo", (standing) => ({ chrome, server, job } = standing));

async function shot(page, name) {
  if (SHOTS) await page.screenshot({ path: `${SHOTS}/${name}.png`, fullPage: true });
}

/** Seconds as a countdown shows them. */
const seconds = (text) => text.split(":").reduce((all, part) => 60 * all + Number(part), 0);

const counts = async (page) => seconds(await page.locator(".batches li").first().locator("[data-left]").textContent());

test("one tap on the board, and the phone counts down to an alarm by itself", async () => {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${job}/board`);
  await sound(page);
  await page.getByRole("button", { name: /^Mixed now: normal cement mortar/ }).click();
  await page.waitForURL(/\/batches/);
  await page.locator(".batches li").first().waitFor();
  await page.waitForFunction(() => /^\d\d:\d\d:\d\d$/.test(document.querySelector("[data-left]")?.textContent));
  const before = await counts(page);
  assert.ok(before > 59 * 60 + 30 && before <= 3600, `${before} s are left`);
  await page.waitForFunction((before) => document.querySelector("[data-left]").textContent.split(":").reduce((all, part) => 60 * all + Number(part), 0) < before - 1, before);
  await sound(page);
  await shot(page, "batches-phone");
  assert.equal(await page.locator(".batch-late").first().isVisible(), false);
  await page.evaluate(() => { document.querySelector("[data-left]").end = Date.now() + 1200; });
  await page.locator(".batch-late").first().waitFor();
  await sound(page);
  await shot(page, "batches-late");
  await page.close();
});

test("the same without script: the time stands there", async () => {
  const page = await open(chrome, { viewport: PHONE, script: false });
  await page.goto(`${job}/batches`);
  await page.getByRole("button", { name: "Mixed now" }).nth(1).click();
  await page.waitForURL(/\/batches$/);
  const line = page.locator(".batches li").first();
  assert.match(await line.innerText(), /Batch \d+: normal cement grout/);
  assert.match(await line.innerText(), /Use by \w{3} \d+:\d\d [ap]m/);
  assert.match(await line.innerText(), /Time left: \d+ min/);
  assert.equal(await line.locator(".batch-late").isVisible(), false);
  await page.close();
});

test("a mix told out of range counts from the press", async () => {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${job}/board`);
  const before = await page.locator(".batches li").count();
  await page.context().setOffline(true);
  await page.getByRole("button", { name: /^Mixed now: normal cement mortar/ }).click();
  await page.waitForSelector(".outbox-waiting summary:has-text('not sent: 1')");
  await shot(page, "batches-kept");
  await page.waitForTimeout(6000);
  await page.context().setOffline(false);
  await page.evaluate(() => document.dispatchEvent(new Event("heard")));
  await page.waitForFunction((before) => document.querySelectorAll(".batches li").length > before, before, { timeout: 30_000 });
  const left = Number(await page.locator(".batches [data-left]").first().getAttribute("data-left"));
  assert.ok(left > 3_500_000 && left <= 3_600_000 - 6000, `${left} ms are left`);
  assert.deepEqual(page.complaints.filter((says) => !OUT_OF_RANGE.test(says)), []);
  await page.close();
});

test("the pages of mixes and of the calendar hold on every width", async () => {
  for (const [viewport, name] of [[PHONE, "phone"], [LAPTOP, "laptop"]]) {
    for (const dark of [false, true]) {
      for (const locale of ["en-US", "es-MX"]) {
        const page = await open(chrome, { viewport, dark, locale });
        for (const place of ["board", "batches", "calendar", "board/A/grout", "board/products?stage=grout", "setting"]) {
          await page.goto(`${job}/${place}`);
          await sound(page);
          await shot(page, `${place.replaceAll(/[/?=]/g, "-")}-${name}-${dark ? "dark" : "light"}-${locale}`);
        }
        await page.close();
      }
    }
  }
});
