// Every page that links lead to, at 320 px, in both languages and in light and dark: axe finds nothing, its best
// practices included, nothing scrolls sideways, and what is tapped is as large as a thumb in a wet glove needs.
//
// In the second theme contrast alone is looked at, since nothing else depends on colour; COURSEBOOK_ACCESS=long looks at
// everything there too.

import assert from "node:assert/strict";
import { test } from "node:test";
import { NARROW, around, found, holds, open, settled } from "./support.mjs";

// What is read in sun and dust has more contrast than AA asks for: 7:1, or 4.5:1 where it is large.
const CONTRAST = "color-contrast-enhanced";
const EVERYTHING = { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"], rules: { [CONTRAST]: { enabled: true } } };
const CONTRAST_ALONE = { runOnly: { type: "rule", values: [CONTRAST] } };
const LONG = process.env.COURSEBOOK_ACCESS === "long";

/** More pages than there are kinds of them: one that leads to ever new ones is a fault. */
const MOST = 80;

/** Pages that no link leads to: what is asked for by a form, or by an address alone. */
const UNLINKED = ["/layout/wish?want=top:A&want=joint:A:0:bottom&least=60", "/layout/options?compare=1,2", "/walls/A/rough-in?at=niche", "/walls/A/rough-in?at=valve", "/walls/Z"];

let chrome, server, job;

around("demo", (standing) => ({ chrome, server, job } = standing), async () => {
  const address = `http://127.0.0.1:${server.port}${new URL(job).pathname}/batches/of/set`;
  const headers = { "sec-fetch-site": "same-origin", cookie: server.cookie };
  const wet = new URLSearchParams({ key: "0123456789abcdef0123", lot: "A12", powder: "1/2 bag", water: "5 l" });
  assert.equal((await fetch(address, { method: "POST", headers, body: wet, redirect: "manual" })).status, 303);
});

/** What a page shows, whichever piece, layout or entry it shows it of. */
const kind = (address) => new URL(address).pathname.replace(/\/cuts\/[^/]+/, "/cuts/one").replace(/\/fit\/[^/]+$/, "/fit/one").replace(/\/options\/\d+$/, "/options/1").replace(/\/entries\/[^/]+$/, "/entries/one").replace(/\/batches\/[^/]+$/, "/batches/one").replace(/\/(board|walls)\/[B-Z]\b/, "/$1/A") + new URL(address).search;

/** What is tapped and too small, by what it is. */
const small = (page) =>
  page.evaluate(() => {
    const shown = (one) => one.checkVisibility() && one.getBoundingClientRect().width > 1;
    const high = (one) => one.getBoundingClientRect().height;
    const says = (one, least) => `${one.outerHTML.slice(0, 90)} is ${high(one)} px high, not ${least}`;
    const all = (selector) => [...document.querySelectorAll(selector)].filter(shown);
    const controls = all("button, .button, select, textarea, summary, .places a, .list a, .home, .board-cell, input:not([type=checkbox]):not([type=radio])");
    // A link within a sentence is as high as its line; one that stands alone is a button without a frame.
    const alone = all("a").filter((one) => one.textContent.trim() && one.parentElement.innerText.trim() === one.innerText.trim());
    const boxes = all("input[type=checkbox], input[type=radio]").map((box) => box.closest("label"));
    const faults = [...controls, ...alone, ...boxes].filter((one) => high(one) < 48).map((one) => says(one, 48));
    return [...faults, ...all(".action, .choose, .places a").filter((one) => high(one) < 64).map((one) => says(one, 64))];
  });

/** What a refused form and an unfinished one are answered with. */
async function refusals(page, look) {
  await page.goto(`${job}/board/A/clip_removal`);
  // Past the script that keeps presses on the phone, as the form goes without it.
  await page.locator("button[formaction$='/start']").evaluate((button) => {
    button.form.action = button.formAction;
    HTMLFormElement.prototype.submit.call(button.form);
  });
  await page.locator(".refusal").waitFor();
  await look();
  await page.goto(`${job}/calendar`);
  await page.locator("form[action$='/calendar'] button").click();
  await page.locator(".address").waitFor();
  await look();
  await page.goto(`${job}/walls/new`);
  await page.click("main button.action");
  await page.locator(".faults").waitFor();
  await look();
}

async function walk(page, look) {
  const waiting = [server.url, ...UNLINKED.map((place) => job + place)], seen = new Set(waiting.map(kind));
  while (waiting.length) {
    const address = waiting.shift();
    const answer = await settled(page, address);
    assert.equal(answer.status(), address.endsWith("/Z") ? 404 : 200, address);
    await page.locator("details").evaluateAll((parts) => parts.forEach((part) => { part.open = true; }));
    await look();
    for (const next of await page.locator("a[href]:not([download])").evaluateAll((all) => all.map(({ href }) => href.split("#")[0]))) {
      if (!next.startsWith(server.url) || /\.json$/.test(next) || seen.has(kind(next))) continue;
      seen.add(kind(next));
      waiting.push(next);
    }
    assert.ok(seen.size < MOST, `ever new pages: ${[...seen].join(" ")}`);
  }
  await refusals(page, look);
  return seen;
}

for (const locale of ["en-US", "es-MX"]) {
  for (const dark of [false, true]) {
    test(`every page can be read and pressed by anyone: ${locale}, ${dark ? "dark" : "light"}`, async () => {
      const page = await open(chrome, { viewport: NARROW, dark, locale });
      const faults = [];
      const look = async () => {
        await holds(page);
        const all = await found(page, LONG || !dark ? EVERYTHING : CONTRAST_ALONE);
        faults.push(...[...all, ...(await small(page))].map((fault) => `${page.url()} ${fault}`));
      };
      const seen = await walk(page, look);
      assert.deepEqual(faults, []);
      for (const place of ["/cuts", "/cuts/one", "/board", "/board/A/set", "/walls/A", "/walls/A/card", "/layout/cuts", "/log", "/batches", "/batches/one", "/calendar"]) {
        assert.ok([...seen].some((one) => one.endsWith(place)), `${place} was looked at: ${[...seen].join(" ")}`);
      }
      await page.close();
    });
  }
}
