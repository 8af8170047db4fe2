// What stands over the screen for a moment.

import { say } from "./data/words.js";
import { h } from "./parts/h.js";
import { button } from "./parts/page.js";

/** Ask before something that cannot be undone; true on yes. Who goes back meanwhile has said no. */
/** @param {string} question @param {string} yes @param {"yes" | "no"} likely the one that stands out */
export function sure(question, yes, likely = "yes") {
  return new Promise((resolve) => {
    /** @param {boolean} answer */
    const end = (answer) => () => {
      removeEventListener("hashchange", left);
      box.close();
      box.remove();
      resolve(answer);
    };
    const left = end(false), plain = "answer", loud = "answer main";
    const [weight, other] = likely === "yes" ? [plain, loud] : [loud, plain];
    const box = h("dialog", { "aria-label": question, oncancel: left }, h("p", {}, question),
      h("div", { class: "row" }, button(say("app-no"), left, weight), button(yes, end(true), other)));
    addEventListener("hashchange", left);
    document.body.append(box);
    box.showModal();
  });
}

/** Say something that waits to be read, and show what is to be copied by hand. */
/** @param {string} text @param {string} [copy] */
export function inform(text, copy) {
  /** @type {HTMLDialogElement} */
  const box = h("dialog", { "aria-label": text, onclose: () => box.remove() }, h("p", {}, text),
    copy ? h("pre", { class: "tell" }, copy) : null,
    button(say("app-see"), () => box.close(), "answer main"));
  document.body.append(box);
  box.showModal();
}
