// Every check that was kept, newest first, each to be opened again as it was judged.

import { isCheck, recordsOf, trailerOf, trailersOf } from "../data/queries.js";
import { has, say } from "../data/words.js";
import { back } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, link, page, timeText } from "../parts/page.js";
import { sign } from "../parts/sign.js";

/** @param {App} app */
export async function history(app) {
  const { store } = app;
  const [{ readable, unreadable }, trailers, waiting] = await Promise.all([recordsOf(store),
    trailersOf(store, true), store.all("outbox")]);
  const checks = readable.filter(isCheck).reverse();
  const names = new Map(trailers.map((t) => [t.id, t.name])), unsent = new Set(waiting.map((item) => item.id));
  return page({
    title: say("app-history"),
    back: backButton(() => back("#/")),
    body: [
      unreadable.length ? h("details", { class: "note" },
        h("summary", {}, say("app-unreadable-count", { count: unreadable.length })), h("p", {}, say("app-unreadable")),
        h("ul", {}, unreadable.map(({ id }) => h("li", {}, h("code", {}, String(id)))))) : null,
      checks.length ? h("ul", { class: "plainlist" }, checks.map((item) => entry(item, names, unsent)))
        : h("p", {}, say("app-history-empty")),
    ],
    foot: link(say("app-history-file"), "#/settings", "answer"),
  });
}

/** @param {KeptCheck} item @param {Map<string, string>} names @param {Set<string>} unsent */
function entry(item, names, unsent) {
  const { id, record } = item, { body } = record, check = `check-${body.check}`;
  const name = has(check) ? say(check) : body.check, whose = names.get(trailerOf(item) ?? "");
  // A few figures are never a whole check: only what they found is a verdict.
  const figuresOnly = body.check === "figures" && body.verdict.level === "unchecked";
  return h("li", {}, h("a", { href: `#/check/${id}`, class: "entryrow" },
    figuresOnly ? h("span", {}, say("app-worked-out")) : sign(body.verdict.level),
    h("span", {}, h("strong", {}, [name, whose].filter(Boolean).join(", ")), h("br"), timeText(record.made),
      unsent.has(id) ? ` · ${say("app-not-yet-sent")}` : "")));
}
