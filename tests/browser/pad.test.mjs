// Lengths typed with a thumb: the pad under a field, what it types, what is echoed, and the way back to the phone's own
// keyboard.

import assert from "node:assert/strict";
import { test } from "node:test";
import { LAPTOP, NARROW, PHONE, around, open, sound } from "./support.mjs";

let chrome, server, metric, inches;

around("demo", (standing) => ({ chrome, server, job: metric } = standing), async () => {
  const page = await open(chrome, { viewport: LAPTOP });
  await page.goto(`${server.url}/jobs/new`);
  await page.fill("#name", "Mill Lane, tub surround");
  await page.selectOption("#unit", "in");
  await page.click("main button.action");
  inches = page.url().replace(/\/(sheet|walls\/new)$/, "");
  await page.close();
});

/** Presses keys of the pad by what stands on them, or is read out. */
const press = async (page, ...keys) => {
  for (const key of keys) await page.locator(".pad").getByRole("button", { name: key, exact: true }).tap();
};

test("inches are typed in sixteenths with a thumb, and what was understood stands beside the field", async () => {
  const page = await open(chrome, { viewport: NARROW });
  await page.goto(`${inches}/walls/new`);
  assert.equal(await page.locator(".pad").count(), 0, "no pad before a length is asked for");
  await page.locator("#width").tap();
  assert.equal(await page.getAttribute("#width", "inputmode"), "none", "the phone's own keyboard stays away");
  const sizes = await page.locator(".pad button").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON()));
  assert.ok(sizes.length > 25 && sizes.every(({ width, height }) => width >= 48 && height >= 48), JSON.stringify(sizes));
  await press(page, "5", "5/16", "3/8");
  assert.equal(await page.inputValue("#width"), "5 3/8", "a fraction takes the place of the one before");
  await page.waitForFunction(() => document.getElementById("width-echo").textContent === "5 3/8 in (136.5 mm)");
  await press(page, "Delete");
  assert.equal(await page.inputValue("#width"), "5", "a fraction goes as it came");
  await press(page, "ft", "3", "1/2", "in");
  assert.equal((await page.inputValue("#width")).trim(), "5 ft 3 1/2 in");
  await page.waitForFunction(() => document.getElementById("width-echo").textContent.startsWith("63 1/2 in"));
  await sound(page);
  await page.close();
});

test("millimetres have a pad of their own, under the row that the field is in", async () => {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${metric}/walls/new`);
  await page.locator("#base-0-x").tap();
  await press(page, "1", "2", ".", "5");
  assert.equal(await page.inputValue("#base-0-x"), "12.5");
  await page.waitForFunction(() => document.getElementById("base-0-x-echo").textContent.startsWith("12.5 mm"));
  assert.equal(await page.locator(".pad").getByRole("button", { name: "1/2" }).count(), 0);
  const boxes = await page.evaluate(() => ["#base-0-x", "#base-0-drop", ".pad", "#base-1-x"].map((one) => document.querySelector(one).getBoundingClientRect().toJSON()));
  const [field, beside, pad, next] = boxes;
  assert.ok(Math.abs(field.top - beside.top) < 2 && pad.top >= beside.bottom && next.top >= pad.bottom, JSON.stringify(boxes));
  // The next field does not run away from the finger that presses it.
  const at = await page.locator("#base-1-x").boundingBox();
  await page.locator("#base-1-x").tap();
  const now = await page.locator("#base-1-x").boundingBox();
  assert.ok(now.y >= 0 && now.y <= PHONE.height - now.height, "in sight");
  assert.ok((await page.locator(".pad").boundingBox()).y >= now.y + now.height, `${JSON.stringify([at, now])}`);
  await page.tap("h1");
  assert.equal(await page.locator(".pad").count(), 0, "a press elsewhere puts it away");
  await page.close();
});

test("the phone's own keyboard comes back for whoever asks for it, and the pad too", async () => {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${metric}/walls/new`);
  await page.locator("#width").tap();
  await press(page, "Keyboard");
  assert.equal(await page.getAttribute("#width", "inputmode"), "decimal");
  assert.equal(await page.evaluate(() => document.activeElement.id), "width");
  assert.equal(await page.locator(".pad button").count(), 1, "the way back to the pad stays");
  await page.keyboard.type("900");
  assert.equal(await page.inputValue("#width"), "900");
  await page.goto(`${metric}/sheet`);
  await page.locator("#joint").tap();
  assert.equal(await page.getAttribute("#joint", "inputmode"), "decimal", "remembered on the next page");
  await press(page, "Number pad");
  assert.equal(await page.getAttribute("#joint", "inputmode"), "none");
  await press(page, "Done");
  assert.equal(await page.locator(".pad").count(), 0);
  await page.close();
});

test("with a keyboard alone the pad is reached by Tab, moved in by arrows and left by Escape", async () => {
  const page = await open(chrome, { viewport: LAPTOP });
  await page.goto(`${inches}/walls/new`);
  await page.focus("#width");
  const name = () => page.evaluate(() => document.activeElement.getAttribute("aria-label") ?? document.activeElement.textContent);
  assert.equal(await page.locator(".pad button").count(), 1, "a keyboard is at hand: the keys are only offered");
  await page.keyboard.press("Tab");
  assert.equal(await name(), "Number pad");
  await page.keyboard.press("Enter");
  assert.equal(await page.evaluate(() => document.activeElement.id), "width");
  await page.keyboard.type("7");
  await page.keyboard.press("Tab");
  assert.equal(await name(), "1");
  for (let steps = 0; steps < 10; steps++) await page.keyboard.press("ArrowRight");
  assert.equal(await name(), "1/2");
  await page.keyboard.press("Enter");
  assert.equal(await page.inputValue("#width"), "7 1/2");
  await page.keyboard.press("Escape");
  assert.equal(await page.locator(".pad").count(), 0);
  assert.equal(await page.evaluate(() => document.activeElement.id), "width");
  await page.keyboard.press("Tab");
  assert.notEqual(await page.evaluate(() => document.activeElement.id), "width", "and on to the next field");
  await page.close();
});

test("what is typed is echoed wherever a length is asked for", async () => {
  const page = await open(chrome, { viewport: PHONE });
  for (const [place, field] of [["/sheet", "kerf"], ["/walls/A/rough-in?at=niche", "width"], ["/layout?open=joint-width", "joint"], ["/layout?open=wall-A", "start-A"], ["/layout?open=courses", "line"], ["/layout/wish", "least"], ["?", "moved"]]) {
    await page.goto(metric + place);
    const input = page.locator(`main [name="${field}"]`).first();
    for (const part of await page.locator("details:not([open])").filter({ has: page.locator(`[name="${field}"]`) }).all()) await part.locator("summary").first().tap();
    await input.tap();
    await page.locator(".pad").waitFor();
    await input.fill("17/64 in");
    await page.waitForFunction((name) => document.getElementById(`${name}-echo`).textContent.startsWith("6.7 mm"), await input.getAttribute("id"));
    await sound(page);
  }
  await page.close();
});
