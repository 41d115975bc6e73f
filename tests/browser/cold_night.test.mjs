// A cold night in an unheated house: it pushes the grout of a wall back, and the board says why.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { LAPTOP, PHONE, Server, browser, demoJob, open, sound } from "./support.mjs";

let chrome, server, job;

before(async () => {
  chrome = await browser();
  server = await Server.over("demo");
  job = await demoJob(chrome, server);
});

after(async () => {
  await chrome.close();
  await server.remove();
});

/** The clips of the back wall, which was set when the demo began. */
const clips = (page) => page.locator(".board-wall").first().locator(".board-cell").nth(1);

test("a cold night pushes the next step of a wall back, and the board says why", async () => {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${job}/board`);
  assert.match(await clips(page).innerText(), /Not before/);
  assert.doesNotMatch(await clips(page).innerText(), /longer/);
  assert.match(await page.locator(".board-warmth").innerText(), /Nobody has said how cold it is/);

  await page.locator(".board-warmth a").click();
  await page.fill("#lowest", "10");
  await page.click("button:has-text('Save the night')");
  assert.match(await page.locator("main").innerText(), /The nights come down to 10 °C\./);
  await sound(page);

  await page.goto(`${job}/board`);
  assert.match(await page.locator(".board-warmth").innerText(), /10 °C counts now\./);
  assert.match(await clips(page).innerText(), /38 h \d+ min longer for the cold/);
  await clips(page).click();
  assert.match(await page.locator(".cell-more").first().innerText(), /24 h at 21 °C, and 62 h 15 min at 10 °C\./);
  await sound(page);
  // A press that the gate refuses comes back to the phone with its reason.
  await page.locator("button:has-text('Start now')").click();
  assert.match(await page.locator(".outbox-reason").first().innerText(), /Clips off not before .+ Cold makes it 38 h \d+ min longer/);
  await page.close();
});

test("without script a tap on the board tells how cold it is, and a slip is corrected", async () => {
  const page = await open(chrome, { viewport: PHONE, script: false });
  await page.goto(`${job}/board`);
  await page.locator(".board-warmth button:has-text('Cold')").click();
  assert.match(page.url(), /\/board$/);
  assert.match(await page.locator(".board-warmth").innerText(), /5 °C counts now\./);
  await page.locator(".board-warmth a").click();
  await page.locator(".log a").first().click();
  await page.fill("#degrees", "59 F");
  await page.fill("#reason", "read in the yard");
  await page.click("button:has-text('Save the correction')");
  assert.equal(await page.locator(".log s").count(), 1);
  assert.match(await page.locator(".log").innerText(), /Whole room: 15 °C/);
  await page.fill("#degrees", "400");
  await page.click("button:has-text('Save the temperature')");
  assert.match(await page.locator("#degrees-fault").innerText(), /Look at the thermometer again/);
  assert.equal(await page.inputValue("#degrees"), "400");
  await page.close();
});

for (const [size, viewport] of [["a phone", PHONE], ["a laptop", LAPTOP]]) {
  for (const locale of ["en-US", "es-MX"]) {
    test(`the cold is told and read on ${size}, ${locale}`, async () => {
      const page = await open(chrome, { viewport, locale });
      const shots = process.env.COURSEBOOK_SHOTS;
      for (const place of ["board", "temperature", "board/A/clip_removal", "board/products", "board/products?stage=set"]) {
        await page.goto(`${job}/${place}`);
        await sound(page);
        const name = `${place.replace(/\W/g, "-")}-${viewport.width}-${locale}.png`;
        if (shots) await page.screenshot({ path: `${shots}/${name}`, fullPage: true });
      }
      await page.goto(`${job}/board`);
      const buttons = await page.locator(".board-warmth button").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height));
      assert.ok(buttons.length === 3 && buttons.every((height) => height >= 64), `${buttons}`);
      await page.close();
    });
  }
}
