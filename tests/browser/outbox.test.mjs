// Phones at the saw and on the floor that lose the server: what was pressed is kept, sent later and done once.

import assert from "node:assert/strict";
import { connect, createServer } from "node:net";
import { test } from "node:test";
import { LAPTOP, PHONE, around, open, sound } from "./support.mjs";

const SHOTS = process.env.COURSEBOOK_SHOTS;
const OUT_OF_RANGE = /net::ERR_(CONNECTION_REFUSED|CONNECTION_RESET|EMPTY_RESPONSE|INCOMPLETE_CHUNKED_ENCODING|INTERNET_DISCONNECTED|SOCKET_NOT_CONNECTED|FAILED)/;

let chrome, server, job;

around("demo", (standing) => ({ chrome, server, job } = standing));

/** Asks the server without a browser, as whoever holds a cookie. */
async function ask(path, { cookie = server.cookie, form, at = server } = {}) {
  const headers = { "sec-fetch-site": "same-origin", ...(cookie && { cookie }) };
  const sent = form && { method: "POST", body: new URLSearchParams(form) };
  const answer = await fetch(`http://127.0.0.1:${at.port}${path}`, { ...sent, headers, redirect: "manual" });
  return { status: answer.status, headers: answer.headers, text: await answer.text() };
}

const value = (html, name) => html.match(new RegExp(`name="${name}" value="([^"]*)"`))?.[1];

const newKey = () => Array.from({ length: 20 }, () => Math.floor(Math.random() * 36).toString(36)).join("");

/** A helper's cookie, let in by the lead. */
async function helper(name) {
  const link = (await ask("/people/links", { form: { key: newKey(), role: "helper" } })).headers.get("location");
  const join = (await ask(link)).text.match(/\/join\/[^"<]+/)[0];
  const device = value((await ask(join, { cookie: "" })).text, "device");
  const joined = await ask(join, { cookie: "", form: { key: newKey(), device, name } });
  const cookie = joined.headers.get("set-cookie").split(";")[0];
  const letIn = (await ask("/people")).text.match(/action="(\/people\/[^"]+\/let-in)"/)[1];
  await ask(letIn, { form: { key: newKey() } });
  return cookie;
}

/** A phone's page, as whoever holds a cookie. */
async function phone({ cookie = server.cookie, viewport = PHONE, locale } = {}) {
  const page = await open(chrome, { viewport, stranger: true, ...(locale && { locale }) });
  const [name, token] = cookie.split("=");
  await page.context().addCookies([{ name, value: token, url: server.url, httpOnly: true, sameSite: "Lax" }]);
  return page;
}

/** The labels of pieces that whoever holds a cookie can cut now, in the order of the queue. */
async function canBeCut(count, cookie = server.cookie) {
  const path = new URL(job).pathname;
  const labels = [...(await ask(`${path}/cuts`, { cookie })).text.matchAll(/\/cuts\/([A-Z][^"/]*)"/g)].map(([, label]) => label);
  const found = [];
  for (const label of new Set(labels)) {
    const page = (await ask(`${path}/cuts/${label}`, { cookie })).text;
    if (page.includes(`action="${path}/cuts/${label}" class="cut-press" data-outbox`)) found.push(label);
    if (found.length === count) return found;
  }
  throw new Error(`only ${found.length} pieces can be cut`);
}

/** Cuts a piece on another page. */
async function cutElsewhere(label) {
  const path = `${new URL(job).pathname}/cuts/${label}`;
  const print = value((await ask(path)).text, "print");
  assert.equal((await ask(path, { form: { key: newKey(), print } })).status, 303);
}

const cutSoFar = async () => Number((await ask(`${new URL(job).pathname}/cuts`)).text.match(/Cut (\d+) of/)[1]);

/** How many entries the job's log has. */
const logged = async () => (await ask(`${new URL(job).pathname}/log`)).text.match(/class="log-says"/g)?.length ?? 0;

/** Whether the phone's database is empty and the page shows nothing of it, a moment after it was asked. */
const isEmpty = () =>
  new Promise((done) => {
    const asks = indexedDB.open("coursebook", 1);
    asks.onerror = () => done(false);
    asks.onsuccess = () => {
      const count = asks.result.transaction("entries").objectStore("entries").count();
      count.onsuccess = () => {
        asks.result.close();
        setTimeout(() => done(count.result === 0 && document.getElementById("outbox").hidden), 50);
      };
    };
  });

/** Waits until all that was pressed is answered; a page that just goes elsewhere is asked again. */
async function nothingKept(page) {
  const begun = performance.now();
  while (performance.now() - begun < 60_000) if (await page.evaluate(isEmpty).catch(() => false)) return;
  assert.fail("something is still kept on the phone");
}

const kept = (page, count) => page.waitForSelector(`.outbox-waiting summary:has-text("not sent: ${count}")`);

/** Nothing but what being out of range brings about. */
function forgive(page) {
  page.complaints = (page.complaints ?? []).filter((words) => !OUT_OF_RANGE.test(words));
}

async function looked(page, name) {
  forgive(page);
  await sound(page);
  if (!SHOTS) return;
  for (const size of [PHONE, LAPTOP]) {
    await page.setViewportSize(size);
    await page.screenshot({ path: `${SHOTS}/${name}-${size.width}.png` });
  }
  await page.setViewportSize(PHONE);
}

test("in range a press goes through at once, and the saw shows the next piece", async () => {
  const page = await phone();
  const before = await cutSoFar();
  await page.goto(`${job}/cuts`);
  const first = await page.textContent(".cut-label");
  await page.click("main button.action");
  await page.waitForFunction((label) => document.querySelector(".cut-label").textContent !== label, first);
  assert.equal(await cutSoFar(), before + 1);
  await nothingKept(page);
  const [next] = await canBeCut(1);
  await page.goto(`${job}/cuts/${next}`);
  await page.click("main button.action");
  await page.waitForURL(/\/cuts(\?|$)/);
  assert.equal(await cutSoFar(), before + 2);
  await looked(page, "sent");
  await page.context().close();
});

test("three presses outlive the server and the tab, and each is done once", async () => {
  const first = await phone();
  const [one, two] = await canBeCut(2);
  const [cuts, entries] = [await cutSoFar(), await logged()];
  const context = first.context();
  const [second, third] = [await context.newPage(), await context.newPage()];
  await first.goto(`${job}/cuts/${one}`);
  await second.goto(`${job}/cuts/${two}`);
  await third.goto(`${job}/board/B/set`);
  await server.kill();
  await first.click("main button.action");
  await kept(first, 1);
  await first.waitForSelector("main .kept:has-text('saved on this phone, not sent')");
  assert.equal(await first.locator("main button.action").isVisible(), false, "it is not pressed twice");
  await looked(first, "kept-piece");
  await second.click("main button.action");
  await kept(second, 2);
  await third.click("text=It is done, just now");
  await kept(third, 3);
  await third.click(".outbox-waiting summary");
  const list = await third.locator(".outbox-waiting li").allTextContents();
  assert.match(list[0], new RegExp(`Cut: ${one}, pressed at \\d`));
  assert.match(list[1], new RegExp(`Cut: ${two}`));
  assert.match(list[2], /It is done, just now: /);
  await looked(third, "kept-list");
  for (const page of [first, second, third]) await page.close();
  await server.start();
  const back = await context.newPage();
  await back.goto(`${job}/cuts`);
  await nothingKept(back);
  await back.waitForSelector(`text=Cut ${cuts + 2} of`);
  assert.equal(await cutSoFar(), cuts + 2);
  assert.equal(await logged(), entries + 3);
  await server.killAndRestart();
  await back.goto(`${job}/cuts`);
  await back.waitForSelector(`text=Cut ${cuts + 2} of`);
  await context.close();
});

test("out of range the queue goes on from one piece to the next in the same page", async () => {
  const page = await phone();
  const before = await cutSoFar();
  await page.goto(`${job}/cuts`);
  const first = await page.getAttribute(".cut.now", "id");
  await page.context().setOffline(true);
  await page.click(".cut.now .action");
  await page.waitForSelector(`#${first}:not([open]) summary .kept:has-text('saved on this phone, not sent')`);
  const second = page.locator("details.cut[open]");
  assert.equal(await second.count(), 1);
  assert.notEqual(await second.getAttribute("id"), first);
  assert.ok(await second.locator(".action").isVisible());
  await looked(page, "next");
  await second.locator(".action").click();
  await kept(page, 2);
  await page.context().setOffline(false);
  await nothingKept(page);
  await page.waitForSelector(`text=Cut ${before + 2} of`);
  assert.equal(await page.locator("main .kept").count(), 0);
  await page.context().close();
});

/** A connection in between that passes everything on, and once cuts off the answer to a form after the server has
 * done what was asked. */
async function between(port) {
  const seen = { forms: 0, cutNext: false, holdNext: false };
  const proxy = createServer((phone) => {
    const box = connect(port, "127.0.0.1");
    let cut = false;
    phone.on("data", (bytes) => {
      if (/^POST \/jobs/.test(bytes.toString("latin1"))) {
        seen.forms++;
        cut = seen.cutNext;
        seen.cutNext = false;
      }
      box.write(bytes);
    });
    box.on("data", (bytes) => {
      if (cut) {
        phone.destroy();
        box.destroy();
      } else if (seen.holdNext && /^HTTP\/1.1 204/.test(bytes.toString("latin1"))) {
        seen.holdNext = false;
        seen.letGo = () => phone.write(bytes);
      } else phone.write(bytes);
    });
    for (const [one, other] of [[phone, box], [box, phone]]) {
      one.on("error", () => other.destroy());
      one.on("close", () => other.destroy());
    }
  });
  await new Promise((done) => proxy.listen(0, "127.0.0.1", done));
  return { seen, port: proxy.address().port, close: () => proxy.close() };
}

test("an answer that is lost after the server has done it does not do it twice", async () => {
  const line = await between(server.port);
  const page = await phone();
  const [piece] = await canBeCut(1);
  const before = await cutSoFar();
  await page.goto(`${job.replace(/:\d+/, `:${line.port}`)}/cuts/${piece}`);
  line.seen.cutNext = true;
  await page.click("main button.action");
  await page.waitForSelector(".cut-state .done");
  await nothingKept(page);
  assert.equal(line.seen.forms, 2, "it was sent again");
  assert.equal(await cutSoFar(), before + 1);
  forgive(page);
  await sound(page);
  await page.context().close();
  line.close();
});

test("two tabs do not send the same press at the same time", async () => {
  const line = await between(server.port);
  const page = await phone();
  const there = job.replace(/:\d+/, `:${line.port}`);
  const [piece] = await canBeCut(1);
  await page.goto(`${there}/cuts/${piece}`);
  line.seen.holdNext = true;
  await page.click("main button.action");
  await page.waitForFunction(() => document.querySelector("form[aria-busy]"));
  const other = await page.context().newPage();
  // Every try begins with a look at who sends.
  await other.addInitScript(() => {
    const { get } = IDBObjectStore.prototype;
    window.tries = 0;
    IDBObjectStore.prototype.get = function (key) {
      if (key === "sender") window.tries++;
      return get.call(this, key);
    };
  });
  await other.goto(`${there}/board`);
  await kept(other, 1);
  await other.waitForFunction(() => window.tries >= 3);
  assert.equal(line.seen.forms, 1);
  line.seen.letGo();
  await page.waitForURL(/\/cuts(\?|$)/);
  await nothingKept(page);
  await nothingKept(other);
  assert.equal(line.seen.forms, 1);
  await page.context().close();
  line.close();
});

test("a press that is refused says why, leads to what to do and can be thrown away", async () => {
  const page = await phone();
  const [piece] = await canBeCut(1);
  const before = await cutSoFar();
  await page.goto(`${job}/cuts/${piece}`);
  await page.context().setOffline(true);
  await page.click("main button.action");
  await kept(page, 1);
  await cutElsewhere(piece);
  await page.context().setOffline(false);
  await page.waitForSelector(".outbox-attention:has-text('Needs attention: 1')");
  assert.match(await page.textContent(".outbox-attention .outbox-reason"), new RegExp(`${piece} was cut already: `));
  assert.equal(await page.getAttribute(".outbox-attention a", "href"), `${new URL(job).pathname}/cuts/${piece}`);
  await looked(page, "refused");
  await page.goto(`${job}/board`);
  await page.waitForSelector(".outbox-attention li");
  await page.click("text=Throw it away");
  await nothingKept(page);
  await page.reload();
  await nothingKept(page);
  assert.equal(await cutSoFar(), before + 1);
  await page.context().close();
});

test("when one press is refused, those after it still go", async () => {
  const page = await phone();
  const [one, two] = await canBeCut(2);
  const before = await cutSoFar();
  const other = await page.context().newPage();
  await page.goto(`${job}/cuts/${one}`);
  await other.goto(`${job}/cuts/${two}`);
  await page.context().setOffline(true);
  await page.click("main button.action");
  await kept(page, 1);
  await other.click("main button.action");
  await kept(other, 2);
  await cutElsewhere(one);
  await page.context().setOffline(false);
  await page.waitForSelector(".outbox-attention:has-text('Needs attention: 1')");
  await page.waitForSelector(".outbox-waiting", { state: "hidden" });
  assert.equal(await cutSoFar(), before + 2);
  await page.context().close();
});

test("what was pressed on a phone whose session has ended waits there, and goes once it is in again", async () => {
  const cookie = await helper("Berto");
  const page = await phone({ cookie });
  const [piece] = await canBeCut(1, cookie);
  const before = await cutSoFar();
  await page.goto(`${job}/cuts/${piece}`);
  await page.context().setOffline(true);
  await page.click("main button.action");
  await kept(page, 1);
  const people = (await ask("/people")).text;
  const end = people.slice(people.indexOf("Berto")).match(/action="(\/people\/[^"]+\/end)"/)[1];
  await ask(end, { form: { key: newKey() } });
  await page.context().setOffline(false);
  await page.waitForSelector(".outbox-attention .outbox-reason:has-text('This phone is not in')");
  // Who is not in hears nothing either, of which the browser complains.
  page.complaints = page.complaints.filter((says) => !says.includes("EventSource"));
  await looked(page, "ended");
  await page.goto(server.url);
  assert.match(await page.textContent("h1"), /Set up the lead/, "a stranger's way in, at the box of the demo");
  await page.waitForSelector(".outbox-attention li");
  assert.equal(await cutSoFar(), before);
  const [name, token] = (await helper("Berto")).split("=");
  await page.context().addCookies([{ name, value: token, url: server.url, httpOnly: true, sameSite: "Lax" }]);
  await page.goto(`${job}/board`);
  await page.click("button:text('Send it again')");
  await nothingKept(page);
  assert.equal(await cutSoFar(), before + 1);
  await page.context().close();
});

for (const [how, init] of [
  ["has no database", () => Object.defineProperty(window, "indexedDB", { value: undefined })],
  ["does not open its database", () => { IDBFactory.prototype.open = () => { throw new DOMException("no", "SecurityError"); }; }],
  ["cannot write into its database", () => { IDBObjectStore.prototype.put = function () { this.transaction.abort(); }; }],
]) {
  test(`a browser that ${how} sends the form the ordinary way`, async () => {
    const page = await phone();
    await page.addInitScript(init);
    const [piece] = await canBeCut(1);
    const before = await cutSoFar();
    await page.goto(`${job}/cuts/${piece}`);
    await page.click("main button.action");
    await page.waitForURL(/\/cuts(\?|$)/);
    assert.equal(await cutSoFar(), before + 1);
    await sound(page);
    await page.context().close();
  });
}

test("of two phones that cut the same piece at the same moment one gets it and the other the next", async () => {
  const cookie = await helper("Ciro");
  const [ana, berto] = [await phone(), await phone({ cookie })];
  const [piece] = await canBeCut(1, cookie);
  const before = await cutSoFar();
  for (const page of [ana, berto]) {
    await page.goto(`${job}/cuts/${piece}`);
    await page.waitForSelector("#heard:has-text('up to date')");
  }
  // At once, before what the first saves has taken the button from the other's page.
  await Promise.all([ana, berto].map((page) => page.locator("main button.action").evaluate((button) => button.click())));
  const told = (page) => page.waitForSelector(".outbox-attention li").then(() => page);
  const second = await Promise.race([told(ana), told(berto)]);
  assert.match(await second.textContent(".outbox-attention .outbox-reason"), new RegExp(`${piece} was cut already`));
  const first = second === ana ? berto : ana;
  await first.waitForURL(/\/cuts(\?|$)/);
  assert.equal(await cutSoFar(), before + 1);
  await second.goto(`${job}/cuts`);
  const [mine, theirs] = [await first.textContent(".cut-label"), await second.textContent(".cut-label")];
  assert.notEqual(mine, theirs, "each has a piece of their own");
  await ana.context().close();
  await berto.context().close();
});

test("what is wrong in a form comes back beside its field, with what was typed", async () => {
  const page = await phone();
  await page.goto(`${job}/board/C/set`);
  await page.click(".earlier summary");
  await page.fill("#minutes", "a while");
  await page.click(".earlier button");
  await page.waitForSelector(".faults");
  assert.equal(await page.inputValue("#minutes"), "a while");
  assert.match(await page.title(), /^Error:/);
  await nothingKept(page);
  await looked(page, "faults");
  const entries = await logged();
  await page.fill("#minutes", "40");
  await page.click(".earlier button");
  await page.waitForSelector("h1:has-text('Is it still done?')");
  await page.click("main form button");
  await page.waitForSelector(".log-says");
  assert.equal(await logged(), entries + 1);
  await page.context().close();
});

test("what somebody types, and what they have opened, stays when something else is saved", async () => {
  const page = await phone();
  await page.goto(`${job}/board/C/grout`);
  await page.waitForSelector("#heard:has-text('up to date')");
  await page.click(".earlier summary");
  await cutElsewhere((await canBeCut(1))[0]);
  await page.waitForFunction((seen) => document.querySelector("main").dataset.seen !== seen, await page.getAttribute("main", "data-seen"));
  assert.equal(await page.isVisible("#minutes"), true);
  await page.fill("#minutes", "25");
  await cutElsewhere((await canBeCut(1))[0]);
  await page.waitForSelector("#heard:has-text('something else was saved')");
  assert.equal(await page.inputValue("#minutes"), "25");
  await page.context().close();
});

test("the saw and the people keep themselves right while they are open", async () => {
  const page = await phone();
  await page.goto(`${job}/cuts`);
  await page.waitForSelector("#heard:has-text('up to date')");
  const before = await cutSoFar();
  await cutElsewhere((await canBeCut(1))[0]);
  await page.waitForSelector(`text=Cut ${before + 1} of`);
  const people = await phone({ viewport: LAPTOP });
  await people.goto(`${server.url}/people`);
  await people.waitForSelector("#heard:has-text('up to date')");
  await helper("Dora");
  await people.waitForSelector(".inside :text('Dora')");
  await page.context().close();
  await people.context().close();
});
