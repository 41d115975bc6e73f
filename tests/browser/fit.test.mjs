// A piece does not fit: a helper's phone at the wall, with and without script, from the button at the saw to the page
// that says what it costs.

import assert from "node:assert/strict";
import { test } from "node:test";
import { NARROW, PHONE, around, open, sound } from "./support.mjs";

let chrome, server, job;

around("demo", (standing) => ({ chrome, server, job } = standing));

/** From "Does not fit" at the saw to the first piece whose width can go for the courses above too. */
async function atTheWall(page) {
  await page.goto(`${job}/cuts`);
  const places = await page.locator("a:text('Does not fit')").evaluateAll((links) => links.map((link) => link.href));
  for (const place of places) {
    await page.goto(place);
    if ((await page.locator("input[name=across-for][value=above]").count()) > 0) return place.split("/").at(-2);
  }
  throw new Error("no piece ends its course with others above it");
}

const figures = async (page) => {
  const hint = await page.textContent("#across-hint");
  const [, opening, piece] = hint.match(/The plan has (\d+) mm there: a piece of (\d+) mm/);
  return { opening: Number(opening), piece: Number(piece) };
};

test("with script the form says what the piece comes to as it is typed", async () => {
  const page = await open(chrome, { viewport: PHONE });
  const piece = await atTheWall(page);
  await sound(page);
  const plan = await figures(page);
  await page.fill("#across", String(plan.opening - 4));
  await page.waitForSelector(`#across-echo:has-text('${piece} is ${plan.piece - 4} mm wide')`);
  await page.click("main button.action");
  await page.waitForSelector(".fit-cost");
  assert.match(await page.textContent("h1"), new RegExp(`${piece} has a new size`));
  assert.match(await page.textContent(".fit-cost"), /tiles? (more|fewer): \d+|^No extra tile: \d+/);
  await sound(page);
  const height = await page.locator("main a.action").evaluate((link) => link.getBoundingClientRect().height);
  assert.ok(height >= 64, `the way back to the saw is ${height} px high`);
  await page.click("main a.action");
  await page.waitForSelector("#queue");
  await page.goto(`${job}/cuts/${piece}`);
  const cut = await page.locator(".measures .unseen").allTextContents();
  assert.ok(cut.includes(`${plan.piece - 4} mm`), `${piece} is cut at ${cut}`);
  await page.close();
});

test("without script the courses above take it too, and it is taken back", async () => {
  const page = await open(chrome, { viewport: NARROW, script: false });
  const piece = await atTheWall(page);
  await sound(page, { axe: false });
  const plan = await figures(page);
  await page.fill("#across", String(plan.opening - 3));
  await page.check("input[value=above]");
  await page.click("main button.action");
  assert.match(await page.textContent("h1"), /\d+ pieces have a new size/);
  await sound(page, { axe: false });
  assert.ok((await page.locator("main .list a").count()) > 1);
  await page.click("text=Not so after all");
  assert.equal((await figures(page)).opening, plan.opening, `${piece} is as it was before`);
  await page.close();
});

test("what no tile is wide enough for comes back with the words and what was typed", async () => {
  const page = await open(chrome, { viewport: PHONE, dark: true });
  await atTheWall(page);
  await page.fill("#across", "900");
  await page.click("main button.action");
  await page.waitForSelector("#faults");
  assert.match(await page.title(), /^Error:/);
  assert.match(await page.textContent("#across-fault"), /No tile is as wide as/);
  assert.equal(await page.inputValue("#across"), "900");
  await sound(page);
  await page.close();
});

test("the form is one a thumb can hit", async () => {
  const page = await open(chrome, { viewport: PHONE, locale: "es-MX" });
  await page.goto(`${job}/cuts`);
  await page.click("text=No cabe");
  await sound(page);
  const boxes = await page
    .locator("main form button, main .fit-for label, main input:not([type=hidden]):not([type=radio]), main a.button")
    .evaluateAll((all) => all.map((one) => ({ words: one.textContent || one.name, height: one.getBoundingClientRect().height })));
  for (const { words, height } of boxes) assert.ok(height >= 48, `${words} is ${height} px high`);
  await page.close();
});
