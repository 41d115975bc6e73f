// The wall card on a phone, on a laptop and on paper.

import assert from "node:assert/strict";
import { test } from "node:test";
import { LAPTOP, PHONE, around, open, sound } from "./support.mjs";

let chrome, server, job;

around("demo", (standing) => ({ chrome, server, job } = standing));

for (const [name, viewport] of [["a phone", PHONE], ["a laptop", LAPTOP]]) {
  test(`a helper finds the card from the board and reads it on ${name}`, async () => {
    const page = await open(chrome, { viewport });
    await page.goto(`${job}/board`);
    await page.locator(".to-card").first().click();
    assert.match(page.url(), /\/walls\/A\/card$/);
    await sound(page);
    const [title, strike, pole] = await Promise.all(["h1", ".card-strike dd", ".pole"].map((one) => page.locator(one).first().boundingBox()));
    assert.ok(title.y < strike.y && strike.y < pole.y, "the lines come before the courses");
    assert.ok(strike.y < viewport.height, "the first line to strike is seen without scrolling");
    await page.close();
  });
}

test("every wall's card is one sheet of paper, with what the screen shows", async () => {
  const page = await open(chrome, { viewport: LAPTOP });
  for (const wall of ["A", "B", "C"]) {
    for (const format of ["A4", "Letter"]) {
      await page.goto(`${job}/walls/${wall}/card`);
      const paper = (await page.pdf({ format })).toString("latin1");
      assert.equal(paper.match(/\/Type\s*\/Page\b/g)?.length, 1, `${wall} on ${format}`);
    }
    await page.emulateMedia({ media: "print" });
    for (const shown of ["h1", ".card-stages", ".card-strike dl", ".card-drawing svg", ".pole", ".card-with"]) {
      assert.ok(await page.locator(shown).first().isVisible(), `${shown} of ${wall} is printed`);
    }
    for (const left of [".places", ".card-links", ".languages"]) assert.ok(!(await page.locator(left).isVisible()), left);
    await page.emulateMedia({ media: null });
  }
  await page.close();
});
