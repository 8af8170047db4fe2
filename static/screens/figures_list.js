// All that can be worked out, by the questions people have, and a field to find one.

import { say } from "../data/words.js";
import { sure } from "../dialog.js";
import { back, go } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, button, page } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { sentenceOf } from "../parts/figure.js";
import { keep } from "./figures_told.js";

/** `isFresh`: nothing was answered yet. */
/** @param {OwnFigures} figures @param {boolean} isFresh */
export function topics(figures, isFresh) {
  const { app, draft } = figures;
  /** @param {Topic} point */
  const entry = (point) => {
    const level = figures.level(point), done = figures.come(point);
    return h("a", { href: `#/figures/${draft.id}/${point.id}`, class: "answer topic" },
      h("span", {}, say(`point-${point.id}`),
        done.length ? h("span", { class: "hint" }, sentenceOf(figures, done[0])) : null),
    level ? sign(level) : null);
  };
  return page({
    title: say("check-figures.front"),
    back: backButton(() => back("#/")),
    body: [h("p", { class: "hint" }, say("check-figures.help")), searched(figures, entry),
      isFresh || !Object.keys(draft.facts).length ? null
        : button(say("app-figures-throw-away"), () => throwAway(app, draft), "plain danger")],
    foot: Object.keys(draft.typed ?? {}).length
      ? button(say("app-keep-and-send"), () => keep(figures), "answer main") : null,
  });
}

/** The list of topics, and a field that leaves those whose title or figures hold what is typed. */
/** @param {OwnFigures} figures @param {(point: Topic) => HTMLElement} entry */
function searched(figures, entry) {
  const none = h("p", { role: "status" });
  const parts = figures.topics.map(([station, list]) => {
    const rows = list.map((point) => ({ shown: entry(point), text: [`point-${point.id}`, ...point.shows.map((name) =>
      `quantity-${name}`)].map((id) => plain(say(id))).join(" ") }));
    const part = h("section", {}, h("h2", {}, say(`station-${station}`)),
      h("div", { class: "answers" }, rows.map(({ shown }) => shown)));
    return { part, rows };
  });
  /** @type {HTMLInputElement} */
  const field = h("input", { type: "search", id: "find-figure", autocomplete: "off", oninput: narrow });
  function narrow() {
    const wanted = alike(field.value);
    for (const { part, rows } of parts) {
      for (const { shown, text } of rows) shown.hidden = !wanted.some((one) => text.includes(one));
      part.hidden = rows.every(({ shown }) => shown.hidden);
    }
    none.textContent = parts.every((one) => one.part.hidden) ? say("app-figures-found-none") : "";
  }
  return [h("form", { role: "search", onsubmit: (event) => event.preventDefault() },
    h("label", { for: "find-figure" }, say("app-figures-find")), field), none, parts.map(({ part }) => part)];
}

// Without case and accents: who types with cold thumbs leaves them out.
/** @param {string} text */
const plain = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();

/** What is typed, and the catalogue's own word where another one for the same thing is begun. */
/** @param {string} text */
function alike(text) {
  const typed = plain(text.trim());
  if (typed.length < 3) return [typed];
  return [typed, ...plain(say("app-figures-also")).split("; ").map((line) => line.split(": "))
    .filter(([, others]) => others?.split(", ").some((one) => one.startsWith(typed) || typed.startsWith(one)))
    .map(([own]) => own)];
}

/** @param {App} app @param {Draft} draft */
async function throwAway(app, draft) {
  if (!(await sure(say("app-figures-sure-throw-away"), say("app-throw-away")))) return;
  await app.store.commit([["drafts", null, draft.id]]);
  go("#/");
}
