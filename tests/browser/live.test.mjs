// Pages that are open on several devices keep themselves right: what one saves the others show, after the server was
// gone and after a page was out of sight too.

import assert from "node:assert/strict";
import { test } from "node:test";
import { LAPTOP, PHONE, around, open, sound } from "./support.mjs";

let chrome, server, laptop, phone;

around("serve", (standing) => ({ chrome, server } = standing), async () => {
  laptop = await open(chrome, { viewport: LAPTOP });
  phone = await open(chrome, { viewport: PHONE });
});

async function startsJob(page, name) {
  await page.goto(`${server.url}/jobs/new`);
  await page.fill("[name=name]", name);
  await page.click("main button");
  await page.waitForURL(/\/jobs\/\w+$/);
}

/** As the browser does when the screen is locked or another page is looked at, which a test cannot bring about. */
async function outOfSight(page, hidden) {
  await page.evaluate((hidden) => {
    Object.defineProperty(document, "hidden", { configurable: true, get: () => hidden });
    document.dispatchEvent(new Event("visibilitychange"));
  }, hidden);
}

test("what one device saves the other shows", async () => {
  await laptop.goto(server.url);
  await laptop.waitForSelector("#heard:has-text('up to date')");
  await startsJob(phone, "Alder Court 3");
  await laptop.waitForSelector("main :text('Alder Court 3')");
  await sound(laptop);
});

test("a page says when the server is gone, and is right once it is back", async () => {
  await server.kill();
  await laptop.waitForSelector("#heard.look:has-text('no answer since')");
  await server.start();
  await startsJob(phone, "Birch Lane 8");
  await laptop.waitForSelector("main :text('Birch Lane 8')");
  await laptop.waitForSelector("#heard:has-text('up to date')");
  laptop.complaints = laptop.complaints.filter((words) => !/ERR_(CONNECTION_REFUSED|INCOMPLETE_CHUNKED_ENCODING|CONNECTION_RESET|EMPTY_RESPONSE)/.test(words));
  await sound(laptop);
});

test("a page out of sight listens to nothing, and is right when it is seen again", async () => {
  await outOfSight(laptop, true);
  await startsJob(phone, "Cedar Yard 1");
  assert.equal(await laptop.locator("main :text('Cedar Yard 1')").count(), 0);
  await outOfSight(laptop, false);
  await laptop.waitForSelector("main :text('Cedar Yard 1')");
  await sound(laptop);
});
