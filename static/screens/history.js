// Every check that was kept, newest first, each to be opened again as it was judged.

import { checksOf, trailerOf, trailersOf } from "../data/queries.js";
import { back } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, link, page, timeText } from "../parts/page.js";
import { sign } from "../parts/sign.js";

export async function history(app) {
  const [checks, trailers, waiting] = await Promise.all([checksOf(app.store), trailersOf(app.store, true), app.store.all("outbox")]);
  const names = new Map(trailers.map((t) => [t.id, t.name])), unsent = new Set(waiting.map((item) => item.id));
  return page({
    title: "History",
    back: backButton(() => back("#/")),
    body: checks.length ? h("ul", { class: "plainlist" }, checks.map((item) => entry(app, item, names, unsent)))
      : h("p", {}, "Nothing kept yet. Every check you keep stays here, with the verdict it got."),
    foot: link("Save or fetch a file", "#/settings", "answer"),
  });
}

function entry(app, item, names, unsent) {
  const { id, record } = item, { body } = record, name = app.book.words.check[body.check]?.name ?? body.check;
  return h("li", {}, h("a", { href: `#/check/${id}`, class: "entryrow" },
    // A few sums are never a whole check: only what they found is a verdict.
    body.check === "figures" && body.verdict.level === "unchecked" ? h("span", {}, "Worked out") : sign(body.verdict.level, app.book.words),
    h("span", {}, h("strong", {}, [name, names.get(trailerOf(item))].filter(Boolean).join(", ")), h("br"), timeText(record.made),
      unsent.has(id) ? " · not yet sent" : "")));
}
