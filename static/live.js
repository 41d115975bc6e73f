// Keeps a page right while it is open: once something was saved, its main part is fetched anew. Says when the server was
// last heard.

"use strict";

const main = document.querySelector("main[data-seen]");
const heard = document.getElementById("heard");
const SILENCE = 20000; // The server is heard from every 15 s.
let stream, again, fetching = false, missed = null, last = performance.now(), when = new Date();

/** What somebody is typing, which outbox.js marks, is never taken from under them. */
const typed = () => main.querySelector("form[data-typed]");

if (main && window.EventSource) {
  // What was pressed here was sent: `afresh` where the page is to be as if it were opened just now.
  document.addEventListener("sent", (event) => {
    event.preventDefault();
    renew(event.detail);
  });
  document.addEventListener("visibilitychange", listen);
  window.addEventListener("pageshow", (event) => event.persisted && listen());
  window.addEventListener("online", listen);
  // The box itself may be in reach all the same.
  window.addEventListener("offline", anew);
  setInterval(() => performance.now() - last > SILENCE && anew(), 5000);
  // Times pass without anything being saved.
  setInterval(() => !document.hidden && renew(), 60000);
  listen();
}

// The browser keeps this page, to be opened out of range.
const { keptAt: kept, drawn } = main?.dataset ?? {};
if (kept) {
  when = new Date(+drawn);
  if (!location.href.endsWith(kept)) {
    history.replaceState(null, "", kept);
    fetch(kept, { cache: "reload" }).catch(lost);
  }
}

function listen() {
  clearTimeout(again);
  stream?.close();
  if (document.hidden) return;
  last = performance.now();
  stream = new EventSource("/live");
  stream.addEventListener("seen", (event) => {
    last = performance.now();
    when = new Date();
    say("heard");
    document.dispatchEvent(new Event("heard"));
    if (event.data === main.dataset.seen) return;
    if (typed()) say("changed");
    else renew();
  });
  stream.addEventListener("error", () => {
    lost();
    // A broken connection is tried again by itself, a refused one is not.
    if (stream.readyState === EventSource.CLOSED) again = setTimeout(listen, 5000);
  });
}

function anew() {
  lost();
  listen();
}

async function renew({ afresh = false } = {}) {
  if (typed()) return;
  if (fetching) {
    // What comes back may have been drawn before.
    missed = { afresh: afresh || Boolean(missed?.afresh) };
    return;
  }
  fetching = true;
  try {
    const answer = await fetch(location.href, { cache: "reload" });
    const drawn = answer.ok && new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("main");
    if (drawn && !typed()) put(drawn, afresh);
  } catch {
    lost();
  } finally {
    fetching = false;
  }
  if (!missed) return;
  const asked = missed;
  missed = null;
  renew(asked);
}

function put(drawn, afresh) {
  const focus = document.activeElement?.id;
  const open = [...main.querySelectorAll("details")].map((part) => [part.id, part.open]);
  main.replaceChildren(...drawn.childNodes);
  if (drawn.dataset.seen) main.dataset.seen = drawn.dataset.seen;
  if (afresh) {
    window.scrollTo(0, 0);
    main.tabIndex = -1;
    main.focus({ preventScroll: true });
  } else {
    const parts = [...main.querySelectorAll("details")], same = parts.length === open.length;
    open.forEach(([id, was], index) => {
      const part = id ? document.getElementById(id) : same && parts[index];
      if (part && was) part.open = true;
    });
    if (focus) document.getElementById(focus)?.focus({ preventScroll: true });
  }
  document.dispatchEvent(new Event("renewed"));
}

function lost() {
  if (!document.hidden) say("lost");
}

function say(what) {
  if (!heard || !heard.dataset[what]) return;
  const words = heard.dataset[what].replace("{time}", clock(when));
  heard.className = what === "heard" ? "heard" : "heard look";
  if (heard.textContent !== words) heard.textContent = words;
}

// What runs out counts on out of range too.
setInterval(() => {
  for (const part of document.querySelectorAll("[data-left]")) {
    part.end ??= Date.now() + +part.dataset.left;
    const left = Math.max(0, part.end - Date.now());
    part.textContent = new Date(left).toISOString().slice(11, 19);
    part.closest("li").classList.toggle("over", !left);
  }
}, 1000);
