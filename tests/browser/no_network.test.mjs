// A page that listens says at once that the network is gone, and after a while that nothing was heard, though the browser
// believes itself connected.

import assert from "node:assert/strict";
import { test } from "node:test";
import { LAPTOP, around, open, sound } from "./support.mjs";

let chrome, server;

around("serve", (standing) => ({ chrome, server } = standing));

/** What the browser itself says of a connection that fails is meant here. */
function expected(page) {
  page.complaints = page.complaints.filter((words) => !/ERR_(INTERNET_DISCONNECTED|FAILED)/.test(words));
}

test("a page says when the network is gone, and when it is back", async () => {
  const page = await open(chrome, { viewport: LAPTOP });
  await page.goto(server.url);
  await page.waitForSelector("#heard:has-text('up to date')");
  await page.context().setOffline(true);
  await page.waitForSelector("#heard.look:has-text('no answer since')", { timeout: 2000 });
  await page.context().setOffline(false);
  await page.waitForSelector("#heard:not(.look):has-text('up to date')");
  expected(page);
  await sound(page);
  await page.close();
});

test("a browser that lies about the network does not hide that nothing was heard", async () => {
  const page = await open(chrome, { viewport: LAPTOP });
  await page.clock.install();
  await page.goto(server.url);
  await page.waitForSelector("#heard:has-text('up to date')");
  await page.route("**/live", (route) => route.abort());
  await page.clock.fastForward(15_000);
  assert.match(await page.textContent("#heard"), /up to date/, "one beat of the server's is not over yet");
  await page.clock.fastForward(10_000);
  await page.waitForSelector("#heard.look:has-text('no answer since')");
  await page.unroute("**/live");
  await page.clock.fastForward(25_000);
  await page.waitForSelector("#heard:not(.look):has-text('up to date')");
  expected(page);
  await sound(page);
  await page.close();
});
