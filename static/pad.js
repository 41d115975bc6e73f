// The pad under a length's field: digits and sixteenths of an inch, or millimetres. Any keyboard goes on working.

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
  let field, pressed = false;
  // Whether a phone's own keyboard was asked for; without a touch screen there is one at hand.
  let own = (localStorage.pad ?? (matchMedia("(any-pointer: coarse)").matches ? "pad" : "keyboard")) === "keyboard";

  const asks = (target) => target.matches?.("input[data-pad]");
  document.addEventListener("pointerdown", ({ target }) => {
    pressed = true;
    if (asks(target)) quiet(target);
  });
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
  document.addEventListener("keydown", ({ key, target }) => {
    pressed = false;
    if (!pad.isConnected) return;
    if (key === "Escape") put();
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[key];
    if (!step || !pad.contains(target)) return;
    const keys = [...pad.querySelectorAll("button")], next = keys.at((keys.indexOf(target) + step) % keys.length);
    target.tabIndex = -1;
    next.tabIndex = 0;
    next.focus();
  });
  // The caret stays in the field.
  pad.addEventListener("mousedown", (event) => event.preventDefault());
  pad.addEventListener("click", ({ target }) => {
    const key = target.closest("button")?.value;
    if (key === "done") put();
    else if (key === "keyboard" || key === "pad") change(key);
    else if (key) type(key);
  });

  function quiet(input) {
    input.dataset.keyboard ??= input.inputMode;
    input.inputMode = own ? input.dataset.keyboard : "none";
  }

  function open(input) {
    if (field === input && pad.isConnected) return;
    field = input;
    quiet(field);
    still(field, place);
    pad.scrollIntoView({ block: "nearest" });
  }

  // Under the row that the field is in.
  function place() {
    pad.remove();
    const unit = field.dataset.pad, keys = own ? "" : KEYS[unit].split(" ").map(button).join("");
    pad.className = `pad ${unit}`;
    pad.innerHTML = `<div class="pad-keys">${keys}</div><div class="pad-more">${(own ? ["pad"] : ["keyboard", "done"]).map(button).join("")}</div>`;
    pad.querySelector("button").tabIndex = 0;
    let last = field.parentElement;
    const { bottom } = last.getBoundingClientRect();
    while (last.nextElementSibling?.offsetHeight && last.nextElementSibling.getBoundingClientRect().top < bottom) last = last.nextElementSibling;
    last.after(pad);
  }

  function button(key) {
    const [top, bottom] = key.split("/"), face = bottom ? `<sup>${top}</sup>⁄<sub>${bottom}</sub>` : words[key] ?? key;
    return `<button type="button" tabindex="-1" value="${key}" aria-label="${bottom ? key : face}">${face}</button>`;
  }

  // What is looked at stays where it is, whatever opens or closes above it.
  function still(at, change) {
    const { top } = at.getBoundingClientRect();
    change();
    if (at.isConnected) scrollBy(0, at.getBoundingClientRect().top - top);
  }

  function type(key) {
    const { value, selectionStart: from, selectionEnd: to } = field;
    let before = value.slice(0, from);
    if (key === "delete") before = from < to ? before : before.replace(/( ?\d+\/\d+| ?(ft|in) ?|[^])$/, "");
    else if (key === "space") before += " ";
    else if (key === "ft" || key === "in") before = `${before.trimEnd()} ${key} `;
    // A fraction takes the place of one just typed.
    else if (key.includes("/")) before = before.replace(/ ?\d+\/\d+$/, "").replace(/\w$/, "$& ") + key;
    else before += key;
    field.value = before + value.slice(to);
    field.setSelectionRange(before.length, before.length);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }

  // The field is left and taken again, so that a phone looks anew which keyboard to show.
  function change(key) {
    localStorage.pad = key;
    own = key === "keyboard";
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
