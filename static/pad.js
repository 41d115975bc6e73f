// The pad under a length's field: digits and sixteenths of an inch, or millimetres, since a phone's decimal keyboard has
// no stroke for fractions. Any other keyboard goes on working beside it.

"use strict";

{
  const words = document.currentScript.dataset;
  const KEYS = {
    in: "1 2 3 4 5 6 7 8 9 0 1/2 1/4 3/4 delete 1/8 3/8 5/8 7/8 ft 1/16 3/16 5/16 7/16 in 9/16 11/16 13/16 15/16 . space",
    mm: "1 2 3 4 5 6 7 8 9 . 0 delete",
  };
  const pad = document.createElement("div");
  pad.setAttribute("role", "group");
  pad.setAttribute("aria-label", words.name);
  // Kept where the browser keeps anything; without a touch screen the keyboard is at hand anyway.
  const OWN = "coursebook-keyboard";
  let own = kept() ?? !matchMedia("(any-pointer: coarse)").matches;
  let field, pressed = false;

  function kept() {
    try {
      const said = localStorage.getItem(OWN);
      return said && said === "own";
    } catch {
      return null;
    }
  }

  const asks = (target) => target.matches?.("input[data-pad]");
  document.addEventListener("pointerdown", ({ target }) => {
    pressed = true;
    if (asks(target)) quiet(target);
  });
  for (const over of ["pointercancel", "keydown"]) document.addEventListener(over, () => { pressed = false; });
  document.addEventListener("focusin", ({ target }) => {
    if (pressed || pad.contains(target)) return;
    if (asks(target)) open(target);
    else pad.remove();
  });
  // Nothing moves before a press is over: what it was aimed at would no longer be under the finger.
  document.addEventListener("click", (event) => {
    pressed = false;
    if (asks(event.target)) open(event.target);
    else if (!event.composedPath().includes(pad)) still(event.target, () => pad.remove());
  });
  document.addEventListener("keydown", (event) => {
    if (!pad.isConnected) return;
    if (event.key === "Escape") put();
    const keys = [...pad.querySelectorAll("button")], at = keys.indexOf(event.target);
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (at < 0 || !step) return;
    event.preventDefault();
    event.target.tabIndex = -1;
    const next = keys.at((at + step) % keys.length);
    next.tabIndex = 0;
    next.focus();
  });
  // The caret stays in the field.
  pad.addEventListener("mousedown", (event) => event.preventDefault());
  pad.addEventListener("click", ({ target }) => {
    const key = target.closest("button")?.value;
    if (key === "done") put();
    else if (key === "keyboard" || key === "pad") change(key === "keyboard");
    else if (key) type(key);
  });

  // A field brings up the phone's own keyboard only where it was asked for.
  function quiet(input) {
    input.dataset.keyboard ??= input.inputMode;
    input.inputMode = own ? input.dataset.keyboard : "none";
  }

  function open(input) {
    if (field === input && pad.isConnected) return;
    field = input;
    quiet(field);
    still(field, () => {
      pad.remove();
      fill();
      place();
    });
    pad.scrollIntoView({ block: "nearest" });
  }

  // Under the row that the field is in.
  function place() {
    let last = field.closest(".cell, .field");
    const { top, bottom } = last.getBoundingClientRect();
    const beside = (next) => next && next.getBoundingClientRect().top < bottom && next.getBoundingClientRect().bottom > top;
    while (beside(last.nextElementSibling)) last = last.nextElementSibling;
    last.after(pad);
  }

  // What is looked at stays where it is, whatever opens or closes above it.
  function still(at, change) {
    const { top } = at.getBoundingClientRect();
    change();
    if (at.isConnected) scrollBy(0, at.getBoundingClientRect().top - top);
  }

  function fill() {
    const unit = field.dataset.pad;
    const keys = document.createElement("div"), more = document.createElement("div");
    keys.className = "pad-keys";
    more.className = "pad-more";
    pad.className = `pad ${unit}`;
    if (!own) keys.append(...KEYS[unit].split(" ").map(button));
    more.append(...(own ? ["pad"] : ["keyboard", "done"]).map(button));
    pad.replaceChildren(keys, more);
    pad.querySelector("button").tabIndex = 0;
  }

  function button(key) {
    const made = document.createElement("button"), [top, bottom] = key.split("/");
    made.type = "button";
    made.value = key;
    made.tabIndex = -1;
    if (bottom) {
      made.setAttribute("aria-label", key);
      made.append(small("sup", top), "⁄", small("sub", bottom));
    } else {
      made.append(words[key] ?? key);
    }
    return made;
  }

  function small(name, text) {
    const part = document.createElement(name);
    part.append(text);
    return part;
  }

  function type(key) {
    const { value, selectionStart: from, selectionEnd: to } = field;
    let before = value.slice(0, from);
    if (key === "delete") before = from === to ? before.replace(/( ?\d+\/\d+| ?(ft|in) ?|[^])$/, "") : before;
    else if (key === "space") before += " ";
    else if (key === "ft" || key === "in") before = `${before.trimEnd()} ${key} `;
    // A fraction takes the place of one just typed.
    else if (key.includes("/")) before = before.replace(/ ?\d+\/\d+$/, "").replace(/\w$/, "$& ") + key;
    else before += key;
    field.value = before + value.slice(to);
    field.setSelectionRange(before.length, before.length);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }

  function change(to) {
    own = to;
    try {
      localStorage.setItem(OWN, own ? "own" : "pad");
    } catch {
      // Then it is asked for again on the next page.
    }
    // Left and taken again, so that a phone looks anew which keyboard to show.
    pad.remove();
    pressed = false;
    quiet(field);
    field.blur();
    field.focus({ preventScroll: true });
  }

  function put() {
    field.focus({ preventScroll: true });
    still(field, () => pad.remove());
  }
}
