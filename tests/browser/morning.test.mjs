// One morning of a crew: the lead at a laptop picks a layout, two helpers join by phone, one in English and one in
// Spanish, both cut, one loses the network, one breaks a tile, one measures a piece again, and the wall is set and
// logged, so that nobody grouts it too early. Every step is looked at on a phone and on a laptop, in both languages.

import assert from "node:assert/strict";
import { test } from "node:test";
import { LAPTOP, PHONE, around, open, settled, sound } from "./support.mjs";

const SHOTS = process.env.COURSEBOOK_SHOTS;

let chrome, server, job, lead, ana, beto;

around("demo", (standing) => ({ chrome, server, job } = standing));

/** The page as it stands, at both sizes. */
async function look(page, name) {
  const size = page.viewportSize();
  for (const viewport of [PHONE, LAPTOP]) {
    await page.setViewportSize(viewport);
    outOfRange(page);
    await sound(page);
    if (SHOTS) await page.screenshot({ path: `${SHOTS}/morning-${name}-${viewport.width}.png`, fullPage: true });
  }
  await page.setViewportSize(size);
}

/** The log, as the lead reads it. */
async function logged() {
  await lead.goto(`${job}/log`);
  return lead.locator(".log-says").allTextContents();
}

const times = (lines, says) => lines.filter((line) => line.includes(says)).length;

/** What the browser says of a network that is not there is no complaint. */
function outOfRange(page) {
  page.complaints = page.complaints.filter((says) => !says.includes("ERR_INTERNET_DISCONNECTED"));
}

/** The piece that a phone has before it at the saw. */
const inHand = (page) => page.textContent("details.now .cut-label");

/** Takes the piece before it where others may be offered it too, presses "Cut", and waits until the next is there. */
async function cut(page) {
  const piece = await inHand(page);
  if ((await page.locator("details.now .cut-anyhow").count()) > 0) {
    await page.tap("details.now button.action");
    await page.waitForSelector("details.now .cut-press:not(.cut-hand)");
  }
  await page.tap("details.now button.action");
  await page.waitForFunction((was) => document.querySelector("details.now .cut-label")?.textContent !== was, piece);
  return piece;
}

/** A helper joins: the lead makes a link, the helper opens it and says a name, the lead lets them in. */
async function joins(name, locale) {
  await lead.goto(`${server.url}/people`);
  await lead.click("button[value=helper]");
  const path = new URL(await lead.getAttribute(".address a", "href")).pathname;
  const phone = await open(chrome, { viewport: PHONE, stranger: true, locale });
  const taps = [];
  phone.on("request", (request) => request.isNavigationRequest() && taps.push(request.url()));
  await phone.goto(server.url + path);
  await phone.tap("#name");
  await phone.keyboard.type(name);
  await phone.tap("button.action");
  await lead.goto(`${server.url}/people`);
  await lead.click(`text=Let ${name} in`);
  await phone.waitForURL(`${server.url}/`);
  return phone;
}

test("the lead looks at what there is to choose, and takes another layout and the first again", async () => {
  lead = await open(chrome, { viewport: LAPTOP });
  await settled(lead, `${job}/layout/options`);
  await look(lead, "01-layouts");
  await lead.locator(".option button.choose").first().click();
  // The back wall is set: the others take the layout, once the lead has seen what that costs.
  await lead.waitForSelector(".price");
  await look(lead, "01-price");
  await lead.click("main form button.action");
  await lead.waitForURL(`${job}/layout`);
  await look(lead, "02-layout");
});

test("two phones join, each in its own language", async () => {
  ana = await joins("Ana", "en-US");
  beto = await joins("Beto", "es-MX");
  assert.equal(await ana.getAttribute("html", "lang"), "en");
  assert.equal(await beto.getAttribute("html", "lang"), "es");
  for (const [page, name] of [[ana, "ana"], [beto, "beto"]]) {
    await page.goto(`${job}/cuts`);
    await look(page, `03-saw-${name}`);
  }
});

test("both cut, and no piece is in two hands", async () => {
  const first = await cut(ana);
  await beto.goto(`${job}/cuts`);
  const hers = await inHand(ana);
  assert.notEqual(await inHand(beto), first);
  assert.notEqual(await inHand(beto), hers, "what Ana has in hand is not offered to Beto");
  const his = await cut(beto);
  const lines = await logged();
  assert.equal(times(lines, `${first} was cut`), 1);
  assert.equal(times(lines, `${his} was cut`), 1);
  await look(beto, "04-cut-beto");
});

test("Beto loses the network, goes on cutting, and all of it arrives once", async () => {
  await beto.context().setOffline(true);
  const cuts = [];
  for (let nth = 0; nth < 2; nth++) {
    const before = beto.locator("details.cut[open]:has(button.action:visible)").first();
    cuts.push((await before.getAttribute("id")).replace("piece-", ""));
    await before.locator("button.action").tap();
    await beto.waitForFunction((piece) => document.querySelector(`#piece-${CSS.escape(piece)} .kept`), cuts[nth]);
  }
  assert.match(await beto.textContent("#outbox"), /sin enviar/);
  await look(beto, "05-out-of-range-beto");
  for (const piece of cuts) assert.equal(times(await logged(), `${piece} was cut`), 0);
  await beto.context().setOffline(false);
  await beto.waitForFunction(() => document.getElementById("outbox").hidden, null, { timeout: 30_000 });
  for (const piece of cuts) assert.equal(times(await logged(), `${piece} was cut`), 1, piece);
  await look(beto, "06-back-in-range-beto");
});

test("Ana breaks a tile and measures the next piece again", async () => {
  await ana.goto(`${job}/cuts`);
  const broken = await inHand(ana);
  await ana.tap("details.now .cut-broke button");
  await ana.waitForSelector(".saw-lost");
  assert.match(await ana.textContent(".saw-lost"), new RegExp(`${broken} broke, 1 so far`));
  await look(ana, "07-broke-ana");
  assert.equal(times(await logged(), `${broken} broke`), 1);

  const pieces = await ana.locator("#queue details.cut").evaluateAll((all) => all.map((one) => one.id.replace("piece-", "")));
  let measured;
  for (const piece of pieces) {
    await ana.goto(`${job}/cuts/${piece}/fit`);
    if ((await ana.locator("#across").count()) > 0) {
      measured = piece;
      break;
    }
  }
  assert.ok(measured, "no piece that is left is cut in its width");
  const [, opening, width] = (await ana.textContent("#across-hint")).match(/The plan has (\d+) mm there: a piece of (\d+) mm/);
  await ana.fill("#across", String(opening - 3));
  await look(ana, "08-measure-again-ana");
  await ana.tap("main form button.action");
  await ana.waitForSelector(".fit-cost");
  await look(ana, "09-measured-ana");
  await beto.goto(`${job}/cuts/${measured}`);
  assert.match(await beto.textContent("main"), new RegExp(`${width - 3}\\b`), "Beto's phone has the new size");
  await look(beto, "10-measured-beto");
});

test("what is left is cut, a wall is set run by run and logged, and the grout is refused", async () => {
  // Beto has a piece in hand yet, which is not offered to Ana.
  for (const phone of [ana, beto]) {
    for (let left = 0; left < 200; left++) {
      await phone.goto(`${job}/cuts`);
      if ((await phone.locator("details.now button.action").count()) === 0) break;
      await cut(phone);
    }
  }
  await beto.goto(`${job}/setting`);
  await look(beto, "11-setting-beto");
  // The back wall was set before; the next is the crew's this morning.
  const wall = beto.locator(".setting-wall").nth(1);
  for (let runs = 0; runs < 40; runs++) {
    const next = wall.locator("> .run button.action");
    if ((await next.count()) === 0) break;
    const run = await wall.locator("> .run .run-label").textContent();
    await next.tap();
    await beto.waitForFunction(
      (was) => document.querySelectorAll(".setting-wall")[1].querySelector(":scope > .run .run-label")?.textContent !== was,
      run,
    );
  }
  assert.equal(await wall.locator("> p .state.done").count(), 1, "all of the wall hangs");
  await look(beto, "12-wall-hangs-beto");
  await ana.goto(`${job}/board/B/set`);
  await ana.tap("text=It is done, just now");
  await look(ana, "13-set-logged-ana");
  await beto.goto(`${job}/board`);
  await look(beto, "14-board-beto");
  await lead.goto(`${job}/board/B/grout`);
  await lead.locator("main form button").first().click();
  assert.match(await lead.textContent("#outbox .outbox-reason >> visible=true"), /not before|Clips/i);
  await look(lead, "15-grout-refused");
  const lines = await logged();
  await look(lead, "16-log");
  assert.ok(lines.length > 20);
  for (const page of [lead, ana, beto]) assert.deepEqual(page.complaints, []);
});
