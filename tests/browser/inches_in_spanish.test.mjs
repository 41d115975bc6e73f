// A shower read in inches, in Spanish, whose lengths are the widest words that stand in tables: no page of it scrolls
// sideways on a narrow phone.

import assert from "node:assert/strict";
import { test } from "node:test";
import { NARROW, PHONE, around, holds, open, settled } from "./support.mjs";

const PLACES = ["", "/sheet", "/walls/new", "/walls/A", "/walls/C", "/walls/A/card", "/walls/C/card", "/walls/A/rough-in", "/layout", "/layout/cuts", "/layout/options", "/cuts", "/rack", "/setting", "/board", "/log"];

let chrome, server, job;

around("serve", (standing) => ({ chrome, server } = standing), measured);

/** Three walls whose base slopes, the last with a curb, so that every column has something in it. */
async function measured() {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${server.url}/jobs/new`);
  await page.fill("[name=name]", "Alder Court 3");
  await page.selectOption("[name=unit]", "in");
  await page.click("main button");
  await page.waitForURL(/\/jobs\/\w+$/);
  job = page.url();
  await page.goto(`${job}/sheet`);
  await page.fill("#tile-0-width", "23 17/32");
  await page.fill("#tile-0-height", "11 25/32");
  await page.fill("#tile-0-thickness", "3/8");
  await page.click("button.action");
  for (const [name, width, drop, other, meets] of [
    ["pared de la ventana", "35 15/16", "47 11/16", "47 5/16"],
    ["pared del fondo", "59 13/16", "47 13/16", "48 3/16", "A"],
    ["pared de la regadera", "35 13/16", "47 15/16", "47 7/16", "B"],
  ]) {
    await page.goto(`${job}/walls/new`);
    await page.fill("#name", name);
    await page.fill("#width", width);
    await page.fill("#base-0-x", "0");
    await page.fill("#base-0-drop", drop);
    await page.fill("#base-1-x", width);
    await page.fill("#base-1-drop", other);
    if (meets === "B") for (const row of [0, 1]) await page.check(`[name=base-${row}-curb]`);
    await page.fill("#top-0-rise", "47 13/16");
    if (meets) await page.selectOption("#left-meets", meets);
    await page.click("button.action");
    assert.equal(await page.locator(".faults").count(), 0, await page.textContent("main"));
  }
  await page.close();
}

for (const viewport of [NARROW, PHONE]) {
  test(`nothing scrolls sideways at ${viewport.width} px`, async () => {
    const page = await open(chrome, { viewport, locale: "es-MX" });
    for (const place of PLACES) {
      await settled(page, job + place);
      assert.equal(await page.getAttribute("html", "lang"), "es", place);
      if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/${viewport.width}${place.replaceAll("/", "-")}.png`, fullPage: true });
      await holds(page);
      for (const text of await page.locator("main td").allTextContents()) assert.doesNotMatch(text, /pulg\./);
    }
    // A column that says how a wall begins is not squeezed into a word a line.
    await page.goto(job);
    const tall = await page.locator("#base tbody td:last-child").evaluateAll((cells) => cells.map((cell) => cell.offsetHeight));
    assert.ok(Math.max(...tall) < 3 * 27, `cells of ${tall} px`);
    await page.close();
  });
}
