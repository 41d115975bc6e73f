// What a phone at arm's length shows without a finger on it: the figure to cut, whatever else there is to say.

import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, around, holds, open } from "./support.mjs";

let chrome, job;

around("demo", (standing) => ({ chrome, job } = standing));

/** The figure to cut stands in full over the button that says it is cut. */
async function figureInSight(page, when) {
  await holds(page);
  const [ends, press] = await page.evaluate(() => {
    const box = (part) => document.querySelector(`.cut.now ${part}`).getBoundingClientRect();
    return [Math.round(box(".fence").bottom), Math.round(box(".cut-press").top)];
  });
  assert.ok(ends <= press, `${when}: the figure ends at ${ends}, under the button at ${press}`);
}

for (const [language, dark] of [["en", false], ["es", true]]) {
  test(`the figure to cut is on the first screen after a tile broke, in ${language}`, async () => {
    const page = await open(chrome, { viewport: PHONE, dark });
    await page.goto(`${job}/cuts`);
    const other = page.locator(`.languages button[value=${language}]`);
    if (await other.count()) await other.click();
    await page.waitForSelector(`html[lang=${language}]`);
    await figureInSight(page, "as it is opened");
    const head = await page.locator("header.top").boundingBox();
    assert.ok(head.height <= 90, `the head is ${head.height} px high`);
    // The second is measured first, and says so over the figure too.
    for (let pieces = 0; pieces < 2; pieces++) {
      const piece = await page.textContent(".cut.now .cut-label");
      await page.click(".cut.now .cut-broke button");
      await page.waitForSelector(".saw-broke");
      assert.equal(await page.textContent(".cut.now .cut-label"), piece);
      await figureInSight(page, `after ${piece} broke`);
      await page.click(".cut.now .action");
      await page.waitForFunction((cut) => document.querySelector(".cut.now .cut-label").textContent !== cut, piece);
      await figureInSight(page, `after ${piece} was cut`);
    }
    await page.close();
  });
}
