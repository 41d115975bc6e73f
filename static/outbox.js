// Keeps what is pressed on the phone and sends it in order, as often as it takes: the server does each once, by its key.
// What is refused stays in sight. Without a database, forms go the ordinary way.

const ANSWER_WITHIN = 20000; // ms. The server gives up after 15 s.
const LEASE = 30000; // ms. A tab that went holds up others no longer.
const SOON = 700; // ms
const FIRST_PAUSE = 2000, LONGEST_PAUSE = 60000;

const box = document.getElementById("outbox"), words = box.dataset;
const parts = { waiting: box.querySelector(".outbox-waiting"), attention: box.querySelector(".outbox-attention") };
const asked = new WeakMap(); // by form
const pressed = new Map(); // by key
const cutHere = new Set(); // What comes of their offcuts can be cut.
let database, tab, ordinary, timer, shown, sending = false, failing = false, pause = FIRST_PAUSE;

// What somebody has begun to type is never replaced: not here, and not by live.js.
document.addEventListener("input", ({ target }) => target.form?.setAttribute("data-typed", ""));
const languages = document.querySelector("form.languages");
languages?.addEventListener("submit", (event) => {
  if (document.querySelector("main form[data-typed]") && !confirm(languages.dataset.loses)) event.preventDefault();
});
document.addEventListener("submit", (event) => event.defaultPrevented || event.target.setAttribute("data-typed", ""));

open().then((opened) => {
  tab = sessionStorage.outbox ??= String(Math.random());
  database = opened;
  document.addEventListener("submit", press, true);
  document.addEventListener("heard", resume);
  document.addEventListener("visibilitychange", () => document.hidden || resume());
  document.addEventListener("renewed", () => {
    cutHere.clear(); // The server has said what is cut.
    draw();
  });
  box.addEventListener("click", ({ target }) => decide(target.dataset));
  send();
}).catch(() => {});

function open() {
  return new Promise((done, failed) => {
    const asks = indexedDB.open("coursebook", 1);
    asks.onupgradeneeded = () => {
      const entries = asks.result.createObjectStore("entries", { keyPath: "place", autoIncrement: true });
      entries.createIndex("key", "key", { unique: true });
      asks.result.createObjectStore("lease");
    };
    asks.onsuccess = () => done(asks.result);
    asks.onerror = asks.onblocked = () => failed(asks.error);
  });
}

/** Gives what `work` gives of both stores, once that is on the phone's disk. */
function change(work, mode = "readwrite") {
  return new Promise((done, failed) => {
    const transaction = database.transaction(["entries", "lease"], mode, { durability: "strict" });
    let given;
    transaction.oncomplete = () => done(given);
    transaction.onabort = () => failed(transaction.error);
    work(transaction.objectStore("entries"), transaction.objectStore("lease"), (value) => { given = value; });
  });
}

const withEntry = (key, work) => change((entries) => {
  const found = entries.index("key").get(key);
  found.onsuccess = () => work(entries, found.result);
});

const all = () => change((entries, _, give) => {
  entries.getAll().onsuccess = ({ target }) => give(target.result);
}, "readonly");

/** The first that waits, for this tab alone to send; "busy" while another tab sends. */
const next = () => change((entries, lease, give) => {
  lease.get("sender").onsuccess = ({ target: { result: held } }) => {
    const age = held && Date.now() - held.at; // A clock set back makes it negative.
    if (held && held.tab !== tab && age >= 0 && age < LEASE) return give("busy");
    entries.getAll().onsuccess = ({ target }) => {
      const first = target.result.find(({ state }) => state === "waiting");
      if (first) lease.put({ tab, at: Date.now() }, "sender");
      else lease.delete("sender");
      give(first);
    };
  };
});

function press(event) {
  const { target: form, submitter: button } = event;
  if (!form.hasAttribute("data-outbox") || form === ordinary || !button || !words.person) return;
  event.preventDefault();
  keep(form, button).then(send, () => {
    ordinary = form;
    button.click();
  });
}

async function keep(form, button) {
  const url = path(button.getAttribute("formaction") ?? form.getAttribute("action"));
  const fields = new FormData(form);
  if (button.name) fields.append(button.name, button.value);
  fields.delete("key");
  const asks = `${url}?${new URLSearchParams(fields)}`;
  if (asked.get(form) === asks) return;
  if (asked.has(form)) form.elements.key.value += "x";
  const key = form.elements.key.value;
  const about = form.dataset.outbox || pieceOf(url) || document.querySelector("main h1")?.textContent;
  const entry = {
    key,
    url,
    body: new URLSearchParams([["key", key], ...fields]).toString(),
    what: folded(`${button.textContent}: ${about}`),
    person: words.person,
    page: location.pathname + location.hash,
    made: Date.now(),
    state: "waiting",
  };
  asked.set(form, asks);
  try {
    await withEntry(key, (entries, before) => entries.put(before ? { ...entry, place: before.place } : entry));
  } catch (error) {
    asked.delete(form);
    throw error;
  }
  pressed.set(key, { form, at: performance.now(), typed: form.hasAttribute("data-typed") });
  form.removeAttribute("data-typed");
  form.setAttribute("aria-busy", "true");
  setTimeout(draw, SOON);
}

async function decide({ do: what, key }) {
  if (!key) return;
  await withEntry(key, (entries, entry) => {
    if (entry && what === "again") entries.put({ ...entry, state: "waiting", person: words.person, reason: "" });
    else if (entry) entries.delete(entry.place);
  });
  giveBack(key);
  send();
}

/** The form of a key may be pressed again. */
function giveBack(key) {
  const here = pressed.get(key);
  if (!here) return;
  pressed.delete(key);
  asked.delete(here.form);
  here.form.removeAttribute("aria-busy");
  if (here.typed) here.form.setAttribute("data-typed", "");
}

function resume() {
  pause = FIRST_PAUSE;
  send();
}

async function send() {
  clearTimeout(timer);
  if (sending) return;
  sending = true;
  const round = { answered: 0, refused: false, leads: "" };
  let entry;
  try {
    while (words.person && (entry = await next()) && entry !== "busy") {
      const answer = await deliver(entry);
      failing = !answer;
      if (failing) {
        await change((_, lease) => lease.delete("sender"));
        break;
      }
      pause = FIRST_PAUSE;
      await settle(entry, answer, round);
    }
  } catch {
    failing = true; // The database was closed under us.
  }
  sending = false;
  if (entry) {
    timer = setTimeout(send, pause);
    pause = Math.min(2 * pause, LONGEST_PAUSE);
  }
  await draw();
  if (round.answered) goOn(round, !entry);
}

/** What our server says of an entry, and no network in between; nothing where nobody knows whether it was done. What was
 * kept longer than its page is not asked about. */
async function deliver({ url, body, key, person, made }) {
  const stop = new AbortController(), late = setTimeout(() => stop.abort(), ANSWER_WITHIN);
  try {
    const answer = await fetch(url, {
      method: "POST",
      body,
      redirect: "manual",
      cache: "no-store",
      signal: stop.signal,
      headers: { "Content-Type": "application/x-www-form-urlencoded", "Idempotency-Key": key, "Pressed-By": person, "Pressed-Ago": Date.now() - made, ...(!pressed.get(key)?.form.isConnected && { Kept: "1" }) },
    });
    const { status, headers } = answer, outcome = headers.get("Outcome");
    if (outcome === "done" || outcome === "again") return { leads: headers.get("Location") };
    if (outcome === "refused") return { status, refusal: new DOMParser().parseFromString(await answer.text(), "text/html") };
  } catch {} finally {
    clearTimeout(late);
  }
}

async function settle(entry, { leads, status, refusal }, round) {
  const here = pressed.get(entry.key);
  const form = refusal && status === 422 && refusal.querySelector("main .faults") && here?.form.isConnected;
  await withEntry(entry.key, (entries, kept) => {
    if (!refusal && isCut(entry.url)) forget(entries, entry.url);
    if (!kept) return; // Thrown away while it was on its way.
    if (!refusal || form) return entries.delete(kept.place);
    const link = refusal.querySelector("main .buttons a");
    const more = { page: link?.getAttribute("href") ?? kept.page, link: folded(link?.textContent ?? "") };
    entries.put({ ...kept, ...more, state: "attention", reason: reason(refusal) });
  });
  round.answered++;
  if (refusal) giveBack(entry.key);
  if (form) correct(refusal);
  else if (refusal) round.refused ||= Boolean(here);
  else if (here) round.leads = leads ?? location.pathname;
}

/** A piece that is cut needs nobody to look at what was refused of cutting it before. */
function forget(entries, cut) {
  entries.openCursor().onsuccess = ({ target: { result: at } }) => {
    if (!at) return;
    if (at.value.state === "attention" && at.value.url === cut) at.delete();
    at.continue();
  };
}

/** Why, in the server's words. */
function reason(page) {
  const told = page.querySelectorAll("main [role=alert] p, main [role=alert] li");
  const says = [...(told.length ? told : page.querySelectorAll("main p"))].filter((says) => told.length || !says.querySelector("a"));
  return folded(says.map(({ textContent }) => textContent).join(" ")) || words.silent;
}

/** The form comes back with its faults, as it does without script. */
function correct(page) {
  document.title = page.title;
  document.getElementById("main").replaceChildren(...page.getElementById("main").childNodes);
  const wrong = document.querySelectorAll("main .wrong");
  for (const part of wrong.length ? wrong : document.querySelectorAll("main form")) part.closest("form")?.setAttribute("data-typed", "");
  document.getElementById("faults")?.focus();
}

/** On to where the server leads, or the same page anew. */
function goOn({ refused, leads }, finished) {
  const typing = document.querySelector("main form[data-typed]");
  if (leads && finished && !refused && !typing && path(leads) !== location.pathname) return location.assign(leads);
  const renew = new CustomEvent("sent", { cancelable: true, detail: { afresh: Boolean(leads) } });
  // A page that listens to the server fetches itself.
  if (document.dispatchEvent(renew) && leads && !typing) location.reload();
  if (!refused) return;
  parts.attention.scrollIntoView();
  parts.attention.focus({ preventScroll: true });
}

async function draw() {
  const entries = await all().catch(() => []);
  const isNew = ({ key }) => !failing && performance.now() - (pressed.get(key)?.at ?? -SOON) < SOON;
  const waiting = entries.filter((entry) => entry.state === "waiting" && !isNew(entry));
  const attention = entries.filter(({ state }) => state === "attention");
  const shows = JSON.stringify([waiting, attention]);
  if (shows !== shown) {
    shown = shows;
    fill(parts.waiting, waiting);
    fill(parts.attention, attention);
    box.hidden = !waiting.length && !attention.length;
  }
  mark(waiting);
  waiting.forEach(comeForward);
}

function fill(part, entries) {
  const says = part.querySelector("[data-words]");
  part.hidden = !entries.length;
  says.textContent = says.dataset.words.replace("{count}", entries.length);
  part.querySelector("ul").replaceChildren(...entries.map(row));
}

function row({ key, what, made, state, reason, page, link }) {
  const row = box.querySelector("template").content.cloneNode(true);
  row.querySelector(".outbox-pressed").textContent = words.pressed.replace("{what}", what).replace("{time}", clock(new Date(made)));
  row.querySelector(".outbox-reason").textContent = reason ?? "";
  row.querySelector("a").href = page;
  if (link) row.querySelector("a").textContent = link;
  for (const button of row.querySelectorAll("button")) button.dataset.key = key;
  row.querySelector("[data-do=again]").hidden = state === "waiting";
  return row;
}

/** Marks what waits where it was pressed, in place of the forms that could ask for nothing else. */
function mark(waiting) {
  for (const kept of document.querySelectorAll("main .kept")) kept.remove();
  for (const form of document.querySelectorAll("form[data-kept]")) {
    form.hidden = false;
    form.removeAttribute("data-kept");
  }
  for (const { url } of waiting) if (isCut(url)) cutHere.add(pieceOf(url));
  for (const form of document.querySelectorAll("form[data-after]")) form.hidden = !cutHere.has(form.dataset.after);
  for (const { url } of waiting) {
    const forms = [...document.querySelectorAll("main form[data-outbox]")].filter((form) => asksAbout(form, url));
    if (!forms.length) continue;
    const kept = document.createElement("p");
    kept.className = "state look kept";
    kept.textContent = words.kept;
    const summary = forms[0].closest("details[id^=piece-]")?.querySelector("summary");
    if (summary) summary.append(kept);
    else forms[0].before(kept);
    for (const form of forms.filter((form) => !form.querySelector("input:not([type=hidden]), select, textarea"))) {
      form.hidden = true;
      form.setAttribute("data-kept", "");
    }
  }
}

/** Whether an address is that of "It is cut" of one piece. */
const isCut = (url) => /\/cuts\/[^/]+$/.test(url);

/** A piece that is taken can be cut before the server hears of it. */
const isTaken = (url) => url.endsWith("/take");

function asksAbout(form, url) {
  const asks = [form, ...form.querySelectorAll("[formaction]")].map((one) => one.getAttribute(one === form ? "action" : "formaction"));
  return asks.some((one) => path(one) === url || (!isTaken(url) && pieceOf(url) && pieceOf(url) === pieceOf(one)));
}

/** Once for each piece pressed here: it closes, and the next that can be cut opens. */
function comeForward({ key, url }) {
  const here = pressed.get(key), done = here && document.getElementById(`piece-${pieceOf(url)}`);
  if (!done?.open || here.passed || isTaken(url)) return;
  here.passed = true;
  const pieces = [...document.querySelectorAll("details[id^=piece-]")], at = pieces.indexOf(done);
  const following = [...pieces.slice(at + 1), ...pieces.slice(0, at)].find((piece) => piece.querySelector("form[data-outbox]:not([hidden]) .action"));
  done.open = false;
  if (!following) return;
  for (let part = following; part; part = part.parentElement.closest("details")) part.open = true;
  following.scrollIntoView();
  following.querySelector("summary").focus({ preventScroll: true });
}

const path = (address) => new URL(address, location).pathname;

/** The label of the piece that an address of the saw is about. */
const pieceOf = (address) => decodeURIComponent(/\/cuts\/([^/]+)/.exec(address)?.[1] ?? "");

const folded = (text) => text.replace(/\s+/g, " ").trim();
