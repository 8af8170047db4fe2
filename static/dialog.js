// What stands over the screen for a moment.

import { say } from "./data/words.js";
import { h } from "./parts/h.js";
import { button } from "./parts/page.js";

/** Ask before something that cannot be undone; true on yes. */
/** @param {string} question @param {string} yes */
export function sure(question, yes) {
  return new Promise((resolve) => {
    /** @param {boolean} answer */
    const end = (answer) => () => { box.close(); box.remove(); resolve(answer); };
    const box = h("dialog", { "aria-label": question, oncancel: end(false) }, h("p", {}, question),
      h("div", { class: "row" }, button(say("app-no"), end(false), "answer"), button(yes, end(true), "answer main")));
    document.body.append(box);
    box.showModal();
  });
}

/** Say something that waits to be read. */
/** @param {string} text */
export function inform(text) {
  /** @type {HTMLDialogElement} */
  const box = h("dialog", { "aria-label": text, onclose: () => box.remove() }, h("p", {}, text),
    button(say("app-see"), () => box.close(), "answer main"));
  document.body.append(box);
  box.showModal();
}
