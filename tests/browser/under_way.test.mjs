// A lead changes the layout and counts tiles when work has begun, on a phone and without script.

import assert from "node:assert/strict";
import { test } from "node:test";
import { LAPTOP, NARROW, PHONE, around, open, sound } from "./support.mjs";

let chrome, server, job;

around("demo", (standing) => ({ chrome, server, job } = standing));

/** Opens the choices of a wall and types where its upright joint goes. */
async function moveTo(page, wall, at) {
  await page.goto(`${job}/layout?open=wall-${wall}`);
  await page.fill(`#start-${wall}`, at);
  await Promise.all([page.waitForNavigation(), page.press(`#start-${wall}`, "Enter")]);
}

test("the demo is of one piece: what is set was cut", async () => {
  const page = await open(chrome, { viewport: LAPTOP });
  await page.goto(`${job}/cuts`);
  assert.match(await page.textContent(".saw-progress"), /^\s*Cut [1-9]\d* of \d+/);
  assert.doesNotMatch(await page.textContent(".cut-label"), /^A/, "the back wall's pieces are cut");
  assert.equal(await page.locator("#wall-A details.cut").count(), 0);
  await page.goto(`${job}/log`);
  const says = await page.locator(".log-says").allTextContents();
  assert.ok(says.some((line) => /^A.* was cut\./.test(line)), says.join("\n"));
  await page.close();
});

for (const [name, how] of [["on a phone", { viewport: PHONE }], ["without script", { viewport: NARROW, script: false }]]) {
  test(`a layout moved when work has begun says its price first, ${name}`, async () => {
    const page = await open(chrome, how);
    const to = how.script === false ? "280" : "300";
    await moveTo(page, "B", to);
    await sound(page, { axe: how.script !== false });
    assert.equal(await page.textContent("h1"), "What this change costs");
    assert.match((await page.locator(".price").allTextContents()).join(" "), /cut (still fits|pieces? would no longer fit)/);
    assert.match(await page.textContent(".note"), /Back wall \(A\) is set or being set, and stays as it is/);
    assert.ok((await page.locator("main form button").boundingBox()).height >= 64);
    await Promise.all([page.waitForNavigation(), page.click("main form button")]);
    assert.match(page.url(), /\/layout\?open=wall-B#wall-B$/);
    await page.goto(`${job}/log`);
    assert.match(await page.locator(".log-says").first().textContent(), /^Another layout\. .*Left wall.*upright joint at /);
    await moveTo(page, "A", to);
    assert.match(await page.textContent(".refusal-says"), /Back wall \(A\) is set or being set/);
    assert.equal(await page.locator("main form").count(), 0);
    await page.close();
  });
}

test("tiles counted at the saw are held against what is still to do", async () => {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${job}/cuts`);
  await Promise.all([page.waitForNavigation(), page.click(".saw-places a >> text=Tiles left")]);
  await sound(page);
  const first = page.locator(".stock").first();
  assert.match(await first.locator(".huge").textContent(), /^\d+ needed$/);
  await first.locator("input[name=left]").fill("2");
  await Promise.all([page.waitForNavigation(), first.locator("button").click()]);
  await sound(page);
  const counted = page.locator(".stock", { has: page.locator(".state.look") });
  assert.match(await counted.locator(".huge").textContent(), /^2 left, \d+ needed$/);
  assert.match(await counted.locator(".state").textContent(), /tiles short$/);
  assert.match((await counted.locator(".stock-then").allTextContents()).join(" "), /Buy \d+ tiles, which is .* box/);
  await page.close();
});
