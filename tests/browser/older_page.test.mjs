// A press of an older page is refused and waits for somebody to look at it; once the piece is cut it needs nobody.

import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, around, open, sound } from "./support.mjs";

const ATTENTION = ".outbox-attention li";
/** Pieces cut before the search for one that moves to another tile is given up. */
const MOST_CUTS = 30;

let chrome, server, job;

around("demo", (standing) => ({ chrome, server, job } = standing));

/** Asks the server without a browser. */
async function ask(path, form) {
  const headers = { "sec-fetch-site": "same-origin", cookie: server.cookie };
  const sent = form && { method: "POST", body: new URLSearchParams({ key: crypto.randomUUID(), ...form }) };
  const answer = await fetch(`http://127.0.0.1:${server.port}${path}`, { ...sent, headers, redirect: "manual" });
  return { status: answer.status, text: await answer.text() };
}

const value = (html, name) => html.match(new RegExp(`name="${name}" value="([^"]*)"`))?.[1];

/** The pieces that can be cut now, each with what its page sends. */
async function canBeCut(saw) {
  const labels = [...(await ask(saw)).text.matchAll(/\/cuts\/([A-Z][^"/]*)"/g)].map(([, label]) => label);
  const prints = new Map();
  for (const label of new Set(labels)) {
    const html = (await ask(`${saw}/${label}`)).text;
    if (html.includes(`action="${saw}/${label}" class="cut-press" data-outbox`)) prints.set(label, value(html, "print"));
  }
  return prints;
}

/** The tape reads a millimetre less than planned. */
async function measuredAgain(saw, label) {
  const html = (await ask(`${saw}/${label}/fit`)).text;
  const way = html.includes('id="across-hint"') ? "across" : "up";
  const planned = Number(html.match(new RegExp(`id="${way}-hint"[^]*?The plan has (\\d+)`))[1]);
  const answer = await ask(`${saw}/${label}/fit`, { print: value(html, "print"), [way]: planned - 1, [`${way}-for`]: "piece" });
  assert.equal(answer.status, 303, answer.text);
}

/** A piece that a measurement moved to another tile, with what its page sent before. */
async function movedToAnotherTile(saw) {
  for (let cuts = 0; cuts < MOST_CUTS; cuts++) {
    const before = await canBeCut(saw);
    const last = [...before.keys()].at(-1);
    await measuredAgain(saw, last);
    for (const [label, print] of before) {
      const html = (await ask(`${saw}/${label}?before=${encodeURIComponent(print)}`)).text;
      if (label !== last && html.includes('class="cut-offer"')) return { label, print };
    }
    const [next] = await canBeCut(saw);
    assert.equal((await ask(`${saw}/${next[0]}`, { print: next[1] })).status, 303);
  }
  throw new Error("no measurement moved a piece to another tile");
}

test("what was refused of an older page goes by itself once the piece is cut", async () => {
  const saw = `${new URL(job).pathname}/cuts`;
  const { label, print } = await movedToAnotherTile(saw);
  const phone = await open(chrome, { viewport: PHONE });
  await phone.goto(`${server.url}${saw}/${label}`);
  // The page as it was drawn before.
  await phone.$eval(".cut-press input[name=print]", (field, print) => { field.value = print; }, print);
  await phone.click(".cut-press button");
  await phone.waitForSelector(ATTENTION);
  assert.match(await phone.textContent(ATTENTION), /The plan has changed/);
  await sound(phone);

  await phone.click(`${ATTENTION} a`);
  await phone.waitForSelector(".cut-offer");
  assert.equal(await phone.locator(ATTENTION).count(), 1, "nobody has looked at it yet");
  await phone.click(".cut-offer button");
  await phone.waitForFunction((attention) => !document.querySelector(attention), ATTENTION);
  assert.ok(await phone.locator("#outbox").isHidden());
  const queue = (await ask(`${saw}/${label}`)).text;
  assert.match(queue, /class="state done"/, "it is cut");
  await sound(phone);
  await phone.context().close();
});
