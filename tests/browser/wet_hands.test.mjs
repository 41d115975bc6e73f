// At the saw with wet hands: the main button in sight, what waits for another piece, what is taken first, and sizes that
// are sent when the network is back.

import assert from "node:assert/strict";
import { test } from "node:test";
import { NARROW, PHONE, around, open, sound } from "./support.mjs";

const SHOTS = process.env.COURSEBOOK_SHOTS;
const OUT_OF_RANGE = /net::ERR_(INTERNET_DISCONNECTED|FAILED|CONNECTION_REFUSED)/;

let chrome, server, job;

around("demo", (standing) => ({ chrome, server, job } = standing));

async function look(page, name) {
  if (SHOTS) await page.screenshot({ path: `${SHOTS}/${name}.png` });
}

/** Nothing but what being out of range brings about. */
function forgive(page) {
  page.complaints = page.complaints.filter((words) => !OUT_OF_RANGE.test(words));
}

const boxOf = (page, selector) => page.locator(selector).first().boundingBox();

/** Waits until all that was pressed is answered. */
const nothingKept = (page) => page.waitForFunction(() => document.getElementById("outbox").hidden, null, { timeout: 30_000 });

const cutSoFar = async (page) => Number((await page.textContent(".saw-progress")).match(/Cut (\d+) of/)[1]);

for (const [name, viewport, locale] of [["360 x 780", PHONE, "en-US"], ["360 x 780 in Spanish", PHONE, "es-MX"], ["320 x 640", NARROW, "en-US"]]) {
  test(`without script the button is in sight with the drawing, over the places, at ${name}`, async () => {
    const page = await open(chrome, { viewport, locale, script: false });
    await page.goto(`${job}/cuts`);
    await look(page, `sight-${viewport.width}-${locale}`);
    const [button, places] = [await boxOf(page, ".cut.now .cut-press button"), await boxOf(page, ".places")];
    const drawing = await boxOf(page, ".cut.now .drawing");
    assert.ok(button.height >= 64 && button.y + button.height <= places.y, JSON.stringify({ button, places }));
    assert.ok(drawing.y + drawing.height / 2 < button.y, JSON.stringify({ drawing, button }));
    if (viewport === PHONE) {
      const figure = await boxOf(page, ".cut.now .fence");
      assert.ok(drawing.y + drawing.height <= button.y, JSON.stringify({ drawing, button }));
      assert.ok(figure.y + figure.height <= button.y, JSON.stringify({ figure, button }));
    }
    // Down the piece it stays, and it covers nothing once the piece is read to its end.
    await page.locator(".cut.now .cut-leaves").scrollIntoViewIfNeeded();
    const lower = await boxOf(page, ".cut.now .cut-press button");
    assert.ok(lower.y >= 0 && lower.y + lower.height <= places.y, JSON.stringify(lower));
    await page.locator(".cut.now .cut-others").scrollIntoViewIfNeeded();
    const [last, others] = [await boxOf(page, ".cut.now .cut-press button"), await boxOf(page, ".cut.now .cut-others")];
    assert.ok(last.y + last.height <= others.y, JSON.stringify({ last, others }));
    await page.close();
  });
}

test("out of range a piece shows its button once the one it comes from was pressed", async () => {
  const page = await open(chrome, { viewport: PHONE });
  await page.goto(`${job}/cuts`);
  await page.waitForSelector("#heard:has-text('up to date')");
  const pair = await page.evaluate(() => {
    const forms = [...document.querySelectorAll("form[data-after]")];
    const free = (label) => document.querySelector(`[id="piece-${label}"] .cut-press:not([data-after])`);
    const form = forms.find((form) => free(form.dataset.after));
    return [form.dataset.after, form.closest("details.cut").id.replace("piece-", "")];
  });
  const [first, second] = pair.map((label) => page.locator(`[id="piece-${label}"]`));
  for (const piece of [first, second]) {
    await piece.evaluate((part) => {
      for (let open = part; open; open = open.parentElement.closest("details")) open.open = true;
    });
  }
  const before = await cutSoFar(page);
  assert.equal(await second.locator(".action").isVisible(), false, "nobody cuts from an offcut that is not there");
  assert.match(await second.locator(".state.wait").textContent(), new RegExp(`once ${pair[0]} is cut`));
  await page.context().setOffline(true);
  await first.locator(".action").click();
  await page.waitForSelector(`[id="piece-${pair[0]}"] .kept`);
  await second.evaluate((part) => {
    for (let open = part; open; open = open.parentElement.closest("details")) open.open = true;
  });
  await second.locator(".action").waitFor({ state: "visible" });
  await look(page, "after-it-was-pressed");
  await second.locator(".action").click();
  await page.waitForSelector(`[id="piece-${pair[1]}"] .kept`);
  await page.context().setOffline(false);
  await nothingKept(page);
  await page.waitForSelector(`text=Cut ${before + 2} of`);
  forgive(page);
  await sound(page);
  await page.close();
});

/** To the form of the first piece that is cut in its width. */
async function atTheWall(page) {
  await page.goto(`${job}/cuts`);
  const places = await page.locator("a:text('Does not fit')").evaluateAll((links) => links.map((link) => link.href));
  for (const place of places) {
    await page.goto(place);
    if ((await page.locator("#across").count()) > 0) {
      const [, opening] = (await page.textContent("#across-hint")).match(/The plan has (\d+) mm there/);
      return { piece: place.split("/").at(-2), opening: Number(opening) };
    }
  }
  throw new Error("no piece is cut in its width");
}

test("a size that is far off is asked about in the same page and kept when it is right", async () => {
  const page = await open(chrome, { viewport: PHONE });
  const { opening } = await atTheWall(page);
  await page.fill("#across", String(opening - 30));
  await page.click("main form > button.action");
  await page.waitForSelector(".fit-doubt");
  assert.match(await page.textContent(".fit-doubt"), /That is 30 mm narrower than planned/);
  assert.equal(await page.inputValue("#across"), String(opening - 30));
  await look(page, "doubt");
  await sound(page);
  await page.click(".fit-doubt button");
  await page.waitForSelector(".fit-cost");
  await page.close();
});

test("a size that is typed out of range is kept and goes when the network is back", async () => {
  const page = await open(chrome, { viewport: PHONE });
  const { piece, opening } = await atTheWall(page);
  await page.fill("#across", String(opening - 2));
  await page.context().setOffline(true);
  await page.click("main form > button.action");
  await page.waitForSelector(".outbox-waiting summary:has-text('not sent: 1')");
  await page.context().setOffline(false);
  await page.waitForSelector(".fit-cost");
  await nothingKept(page);
  await page.goto(`${job}/log`);
  assert.match(await page.textContent(".log"), new RegExp(`${piece} measured again`));
  await page.close();
});

test("a piece that is too wide by now is trimmed from the saw's own page", async () => {
  const page = await open(chrome, { viewport: PHONE });
  const { piece, opening } = await atTheWall(page);
  for (let cuts = 0; cuts < 80; cuts++) {
    await page.goto(`${job}/cuts/${piece}`);
    if ((await page.locator("main .state.done").count()) > 0) break;
    await page.goto(`${job}/cuts`);
    // A piece that changed in the hand is gone on with first.
    const now = await page.locator(".cut.now .cut-label, .cut.now .cut-press button").allTextContents();
    await page.click(".cut.now .cut-press button");
    await page.waitForFunction((was) => [...document.querySelectorAll(".cut.now .cut-label, .cut.now .cut-press button")].map((one) => one.textContent).join() !== was, now.join());
  }
  await page.goto(`${job}/cuts/${piece}/fit`);
  await page.fill("#across", String(opening - 3));
  await page.click("main form > button.action");
  await page.waitForSelector(".fit-cost");
  assert.match(await page.textContent(".list .state.look"), /now has to be trimmed/);
  await page.click("main a.action");
  await page.waitForSelector(".cut-mend button");
  assert.match(page.url(), new RegExp(`/cuts/${piece}`), "the button leads to what it asks for");
  await look(page, "trim");
  await sound(page);
  await page.click(".cut-mend button");
  await page.waitForURL(/\/cuts(\?|$)/);
  await page.goto(`${job}/log`);
  assert.match(await page.textContent(".log"), new RegExp(`${piece} was trimmed from \\d+ × \\d+ mm to \\d+ × \\d+ mm`));
  await page.close();
});

const value = (html, name) => html.match(new RegExp(`name="${name}" value="([^"]*)"`))?.[1];

/** A helper's cookie, let in by the lead. */
async function helper(name) {
  const ask = async (path, cookie, form) => {
    const headers = { "sec-fetch-site": "same-origin", ...(cookie && { cookie }) };
    const body = form && new URLSearchParams({ key: crypto.randomUUID().replaceAll("-", ""), ...form });
    const answer = await fetch(`http://127.0.0.1:${server.port}${path}`, { headers, redirect: "manual", ...(form && { method: "POST", body }) });
    return { headers: answer.headers, text: await answer.text() };
  };
  const link = (await ask("/people/links", server.cookie, { role: "helper" })).headers.get("location");
  const join = (await ask(link, server.cookie)).text.match(/\/join\/[^"<]+/)[0];
  const device = value((await ask(join, "")).text, "device");
  const cookie = (await ask(join, "", { device, name })).headers.get("set-cookie").split(";")[0];
  const letIn = (await ask("/people", server.cookie)).text.match(/action="(\/people\/[^"]+\/let-in)"/)[1];
  await ask(letIn, server.cookie, {});
  return cookie;
}

test("out of range a piece that was taken can still be cut", async () => {
  const cookie = await helper("Ana");
  const page = await open(chrome, { viewport: PHONE, stranger: true });
  const [name, token] = cookie.split("=");
  await page.context().addCookies([{ name, value: token, url: server.url, httpOnly: true, sameSite: "Lax" }]);
  await page.goto(`${job}/cuts`);
  await page.waitForSelector("#heard:has-text('up to date')");
  const before = await cutSoFar(page);
  assert.equal((await page.textContent(".cut.now .cut-press button")).trim(), "Take this piece");
  await look(page, "take-first");
  await sound(page);
  await page.context().setOffline(true);
  await page.click(".cut.now .cut-press button");
  await page.waitForSelector(".cut.now .kept");
  assert.ok(await page.locator(".cut.now").evaluate((part) => part.open), "it stays before whoever took it");
  await page.click(".cut.now .cut-anyhow button");
  await page.waitForSelector(".outbox-waiting summary:has-text('not sent: 2')");
  await page.context().setOffline(false);
  await nothingKept(page);
  await page.waitForSelector(`text=Cut ${before + 1} of`);
  assert.equal((await page.textContent(".cut.now .cut-press button")).trim(), "Cut", "the next one is in hand");
  await page.close();
});
