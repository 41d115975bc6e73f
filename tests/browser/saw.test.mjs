// At the saw with an old phone and with a laptop: the whole queue on one page, cut by cut without script, kept for when
// the house's network does not reach the yard; the rack, and the wall as its setter sees it.

import assert from "node:assert/strict";
import { test } from "node:test";
import { LAPTOP, PHONE, around, open, sound } from "./support.mjs";

let chrome, server, job;

around("demo", (standing) => ({ chrome, server, job } = standing));

/** What axe calls best practice, beside the rules that every page keeps. */
async function wellBuilt(page) {
  await sound(page);
  const found = await page.evaluate(async () => {
    const { violations } = await window.axe.run(document, { runOnly: { type: "tag", values: ["best-practice"] } });
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 200)).join(" | ")}`);
  });
  assert.deepEqual(found, [], page.url());
}

/** Everything that is tapped in the main part is high enough for wet hands. */
async function tappable(page) {
  const small = await page.evaluate(() =>
    [...document.querySelectorAll("main button, main .button, main summary, main .list a, main .run-cuts a")]
      .filter((part) => part.checkVisibility())
      .map((part) => [part.textContent.trim(), part.getBoundingClientRect().height])
      .filter(([, height]) => height < 48),
  );
  assert.deepEqual(small, [], page.url());
}

for (const [name, viewport] of [["a phone", PHONE], ["a laptop", LAPTOP]]) {
  test(`the queue, the rack and the walls are sound on ${name}`, async () => {
    const page = await open(chrome, { viewport });
    for (const place of ["/cuts", "/rack", "/setting"]) {
      await page.goto(job + place);
      await page.evaluate(() => document.querySelectorAll("details").forEach((part) => (part.open = true)));
      await wellBuilt(page);
      await tappable(page);
    }
    await page.goto(`${job}/cuts`);
    const high = await page.evaluate(() => document.documentElement.scrollHeight);
    assert.ok(high < 3600, `${high} px with every piece but one closed`);
    const action = await page.locator("main .action:visible").first().boundingBox();
    assert.ok(action.height >= 64, `${action.height}`);
    await page.close();
  });
}

test("without script a helper cuts one piece after the other, and opens a later one", async () => {
  const page = await open(chrome, { viewport: PHONE, script: false });
  await page.goto(`${job}/cuts`);
  const cut = new Set();
  const before = Number((await page.textContent(".saw-progress")).match(/Cut (\d+) of/)[1]);
  for (let count = 1; count <= 3; count++) {
    const piece = await page.textContent(".cut.now .cut-label");
    assert.ok(!cut.has(piece), `${piece} again`);
    cut.add(piece);
    await page.click(".cut.now .action");
    assert.match(page.url(), /\/cuts\?v=/);
    assert.match(await page.textContent(".saw-progress"), new RegExp(`Cut ${before + count} of`));
  }
  const wall = page.locator("details.saw-wall", { has: page.locator("details.cut") }).first();
  await wall.locator("summary").first().click();
  const later = wall.locator("details.cut").last();
  assert.equal(await later.locator(".operations").isVisible(), false);
  await later.locator("summary").click();
  assert.equal(await later.locator(".operations").isVisible(), true);
  assert.equal(await later.locator(".action").isVisible(), true);
  const drawn = await later.locator("svg.drawing").boundingBox();
  assert.ok(drawn.width > 200 && drawn.height > 60, JSON.stringify(drawn));
  await page.close();
});

test("a phone that was at the saw opens the queue again out of range", async () => {
  const context = await chrome.newContext({ viewport: PHONE });
  await context.addCookies([{ name: server.cookie.split("=")[0], value: server.cookie.split("=")[1], url: server.url }]);
  const page = await context.newPage();
  const stored = page.waitForResponse((answer) => answer.url().includes("/cuts?in="));
  await page.goto(`${job}/cuts`);
  await (await stored).finished();
  const piece = await page.textContent(".cut.now .cut-label");
  await page.goto(`${job}/board`);
  await server.kill();
  await page.click(".places a[data-kept-at]");
  assert.equal(await page.textContent(".cut.now .cut-label"), piece);
  assert.equal(await page.locator("details.cut .operations").count() > 10, true);
  await page.waitForFunction(() => document.getElementById("heard").className.includes("look"));
  await server.start();
  await context.close();
});

test("a page that was kept is drawn anew once somebody has cut", async () => {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${job}/cuts`);
  await page.waitForFunction(() => location.search.startsWith("?in="));
  const piece = await page.textContent(".cut.now .cut-label");
  const other = await open(chrome, { viewport: LAPTOP, script: false });
  await other.goto(`${job}/cuts`);
  assert.equal(await other.textContent(".cut.now .cut-label"), piece);
  await other.click(".cut.now .action");
  await other.close();
  await page.goto(`${job}/board`);
  await page.click(".places a[data-kept-at]");
  await page.waitForFunction((piece) => document.querySelector(".cut.now .cut-label").textContent !== piece, piece);
  await page.close();
});

test("on the laptop a course is reported as set and taken down again", async () => {
  const page = await open(chrome, { viewport: LAPTOP, script: false });
  const run = page.locator(".run:has(button.action)").first();
  for (let cuts = 0; cuts < 80; cuts++) {
    await page.goto(`${job}/setting`);
    if (await run.count()) break;
    await page.goto(`${job}/cuts`);
    await page.click(".cut.now .action");
  }
  const title = await run.locator("h3").textContent();
  await run.locator("button.action").click();
  const set = page.locator("details[id^='set-']", { hasText: "1 course set" }).first();
  await set.locator("summary").click();
  assert.match(await set.textContent(), new RegExp(title.trim().split(" ").slice(0, 2).join(" ")));
  await set.locator("button").click();
  assert.equal(await page.locator("details[id^='set-']", { hasText: "1 course set" }).count(), 0);
  await page.close();
});
