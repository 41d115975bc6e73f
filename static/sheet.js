// What script adds to pages that work without it.

"use strict";

// A form is sent to its data-live as it is typed; the answer holds a drawing and what was understood of each field.
for (const form of document.querySelectorAll("form[data-live]")) {
  let waiting, asked = 0;
  form.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => show(form, ++asked, () => asked), 350);
  });
}

// What the browser keeps opens out of range too.
for (const place of document.querySelectorAll("a[data-kept-at]")) place.href = place.dataset.keptAt;

/** A time of day as the pages write it. */
function clock(when) {
  const time = when.toLocaleTimeString(document.documentElement.lang, { timeStyle: "short", hour12: true });
  return time.toLowerCase().replace(/[.\s]+m\.?$/, "m");
}

async function show(form, number, latest) {
  let text;
  try {
    const answer = await fetch(form.dataset.live, { method: "POST", body: new URLSearchParams(new FormData(form)) });
    if (!answer.ok) return;
    text = await answer.text();
  } catch {
    return; // Out of range: the form still works when it is sent.
  }
  if (number !== latest()) return;
  const drawn = new DOMParser().parseFromString(text, "text/html");
  for (const echo of drawn.querySelectorAll("[data-echo]")) {
    const place = document.getElementById(echo.dataset.echo + "-echo");
    // What stays the same is not read out again.
    if (place && place.textContent !== echo.textContent) place.textContent = echo.textContent;
  }
  const drawing = document.getElementById("drawn");
  if (!drawing) return;
  const open = drawing.querySelector("details")?.open;
  drawing.replaceChildren(...drawn.body.childNodes);
  const table = drawing.querySelector("details");
  if (table && open) table.open = true;
}
