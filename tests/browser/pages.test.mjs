// Every page of the demo job at the width of a narrow phone, a phone and a laptop, light and dark: nothing scrolls
// sideways, the browser complains of nothing, axe finds nothing.

import assert from "node:assert/strict";
import { test } from "node:test";
import { LAPTOP, NARROW, PHONE, PSEUDO, Server, around, demoJob, open, settled, sound } from "./support.mjs";

const PAGES = ["", "/sheet", "/walls/A", "/walls/new", "/layout", "/layout/walls/A", "/layout/cuts", "/layout/options", "/layout/options?compare=1,2", "/layout/wish?want=top:A&want=joint:A:0:bottom&least=60", "/layout/options/1", "/cuts", "/cuts/A1-1", "/rack", "/setting", "/board", "/board/A/set", "/board/products", "/board/products?stage=set", "/walls/A/rough-in", "/walls/A/card", "/log"];

let chrome, server, job;

around("demo", (standing) => ({ chrome, server, job } = standing));

for (const [name, viewport, dark, locale] of [
  ["a narrow phone", NARROW, false, "en-US"],
  ["a phone in the dark", PHONE, true, "en-US"],
  ["a laptop", LAPTOP, false, "en-US"],
  ["a narrow phone in Spanish", NARROW, false, "es-MX"],
]) {
  test(`every page is sound on ${name}`, async () => {
    const page = await open(chrome, { viewport, dark, locale });
    for (const place of ["/", "/jobs/new"]) {
      await page.goto(server.url + place);
      await sound(page);
    }
    for (const place of PAGES) {
      const answer = await settled(page, job + place);
      assert.equal(answer.status(), 200, place);
      assert.equal(await page.getAttribute("html", "lang"), locale.slice(0, 2), place);
      await sound(page);
    }
    await page.close();
  });
}

test("words a third longer than English scroll no page sideways on a narrow phone", async () => {
  const stretched = await Server.over("demo", { binary: PSEUDO });
  try {
    const page = await open(chrome, { viewport: NARROW });
    const its = await demoJob(chrome, stretched);
    for (const address of [stretched.url, `${stretched.url}/jobs/new`, ...PAGES.map((place) => its + place)]) {
      await settled(page, address);
      assert.equal(await page.getAttribute("html", "lang"), "en-XA", address);
      await sound(page, { axe: false });
    }
    await page.close();
  } finally {
    await stretched.remove();
  }
});

test("a helper without script switches to Spanish and is still on the page", async () => {
  const page = await open(chrome, { viewport: PHONE, script: false });
  await page.goto(`${job}/board`);
  await page.click("button[lang=es]");
  assert.equal(page.url(), `${job}/board`);
  assert.equal(await page.getAttribute("html", "lang"), "es");
  await page.goto(`${job}/layout`);
  assert.equal(await page.textContent("h1"), "Distribución");
  await page.click("button[lang=en]");
  assert.equal(await page.textContent("h1"), "Layout");
  await page.close();
});

test("a wall is drawn, and each length echoed, while its readings are typed", async () => {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${job}/walls/new`);
  await page.fill("#width", "1.2 m");
  await page.fill("#base-0-drop", "47 1/4 in");
  await page.fill("#top-0-rise", "1000");
  await page.waitForFunction(() => document.querySelector("#base-0-drop-echo")?.textContent.includes("1200"));
  await page.waitForSelector("#drawn svg");
  await sound(page);
  await page.close();
});

test("the gate refuses with the time and the reason", async () => {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${job}/board/A/clip_removal`);
  const refusal = page.waitForResponse((answer) => answer.request().method() === "POST");
  await page.click("button[formaction$='/start']");
  assert.equal((await refusal).status(), 409);
  const says = await page.textContent("#outbox .outbox-reason >> visible=true");
  assert.match(says, /Back wall was set \w{3} \d+:\d\d [ap]m .*not before \w{3} \d+:\d\d [ap]m.*to go/is);
  await page.close();
});

test("cards side by side have their buttons at one height", async () => {
  const page = await open(chrome, { viewport: LAPTOP });
  await settled(page, `${job}/layout/options`);
  const tops = (selector) => page.locator(`section ${selector}`).evaluateAll((all) => all.map((one) => Math.round(one.getBoundingClientRect().top)));
  const cards = await tops(".option");
  assert.ok(cards.length >= 2 && new Set(cards).size === 1, `one row: ${cards}`);
  const buttons = await tops(".option .option-buttons");
  assert.equal(new Set(buttons).size, 1, `buttons at ${buttons}`);
  await page.close();
});

test("on a phone two figures stand under their name, and a cut beside its piece", async () => {
  const page = await open(chrome, { viewport: PHONE });
  const boxes = (row, cells) => page.locator(row).evaluateAll((rows, cells) => rows.map((one) => [...one.querySelectorAll(cells)].map((cell) => cell.getBoundingClientRect().toJSON())), cells);
  await settled(page, `${job}/layout/options?compare=1,2`);
  const compared = await boxes(".compared tbody tr", "th, td");
  assert.ok(compared.length > 0);
  for (const [name, one, other] of compared) {
    assert.ok(name.bottom <= one.top + 1 && one.top === other.top, "the name stands above both");
    assert.ok(Math.abs(one.width - other.width) <= 1 && one.right <= other.left, "both are as wide");
  }
  await page.goto(`${job}/layout/cuts`);
  const cuts = await boxes(".cut-list tbody tr", "th, td:not(:empty)");
  assert.ok(cuts.length > 0);
  for (const [piece, ...cells] of cuts) {
    assert.ok(cells.every((cell) => cell.left >= piece.right && cell.width > PHONE.width * 0.4), "each beside the piece, wide enough to read");
  }
  await page.close();
});
