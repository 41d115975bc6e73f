// What is written on the drawings of the walls can be read on a phone.

import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, around, open } from "./support.mjs";

let chrome, job;

around("demo", (standing) => ({ chrome, job } = standing));

for (const language of ["en", "es"]) {
  test(`no words on a drawing of a wall stand over others, in ${language}`, async () => {
    const page = await open(chrome, { viewport: PHONE });
    await page.goto(`${job}/layout`);
    const other = page.locator(`.languages button[value=${language}]`);
    if (await other.count()) await other.click();
    await page.waitForSelector(`html[lang=${language}]`);
    const { words, over } = await page.evaluate(() => {
      const box = (text) => ({ says: text.textContent, ...text.getBoundingClientRect().toJSON() });
      // A line of text is higher than its letters.
      const inner = (text) => {
        const { says, left, right, top, bottom } = box(text);
        const [wide, high] = [right - left, bottom - top];
        return { says, left: left + wide / 10, right: right - wide / 10, top: top + high / 5, bottom: bottom - high / 5 };
      };
      const meet = (a, b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
      const of_wall = [...document.querySelectorAll(".wall-drawing svg")].map((svg) =>
        [...svg.querySelectorAll("text")].map(inner),
      );
      const over = of_wall.flatMap((words) =>
        words.flatMap((a, at) => words.slice(at + 1).filter((b) => meet(a, b)).map((b) => `${a.says} and ${b.says}`)),
      );
      return { words: of_wall.flat().length, over };
    });
    assert.ok(words > 30, `${words} words`);
    assert.deepEqual(over, []);
    await page.close();
  });
}
