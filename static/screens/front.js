// What is due and what is unsent, then the three things people come for, in reach of the thumb.

import { isDone, steps } from "../data/asking.js";
import { trailerOf, trailersOf } from "../data/queries.js";
import { stopsIn, undecided } from "../data/stops.js";
import { say } from "../data/words.js";
import { setSetting, startCheck } from "../keep.js";
import { resumeHash } from "../router.js";
import { h, live } from "../parts/h.js";
import { button, dayText, link, page } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { startStop } from "./hubs.js";
import { notices } from "./notices.js";

export async function front(app) {
  const [drafts, trailers, records] = await Promise.all([app.store.all("drafts"), trailersOf(app.store), app.store.all("records")]);
  const words = app.book.words.check;
  // Without it the page still works: what is due is then seen as soon as there is signal.
  const { cards } = app.links.length ? await import("./link.js").catch(() => ({})) : {};
  const big = (check, go) => h("button", { type: "button", class: "big", onclick: go, value: check },
    h("strong", {}, words[check].front), h("span", {}, words[check].help));
  return page({
    name: "front",
    body: [
      h("h1", { tabindex: "-1", class: "title" }, h("img", { src: "/static/icons/hub.svg", alt: "", width: 36, height: 36 }), "Twentymile"),
      live(() => app.updates.ready && h("p", { class: "hint" }, "Ready to work without signal.")),
      notices(app), live(() => cards?.(app)), live(() => unsent(app)),
      due(app, trailers, records, drafts),
      unfinishedList(app, drafts.reverse(), trailers),
          ],
    foot: [
      trailers.length ? chooser(app, trailers) : null,
      big("run_stop", () => startStop(app)),
      big("walkaround", () => startCheck(app, "walkaround", app.settings.trailer)),
      big("tires", () => startCheck(app, "tires", app.settings.trailer)),
      link(words.figures.front, "#/sums", "answer quietly"),
      h("nav", { class: "links" }, link(say("app-run"), "#/run"), link(say("app-lamps"), "#/lamps"),
        link("Trailers", "#/trailers"), link("History", "#/history"), link("Settings", "#/settings")),
    ],
  });
}

function unsent(app) {
  const { waiting, refused } = app.sendState;
  if (!waiting.size) return null;
  return h("div", { class: "unsent", role: "status" },
    h("p", {}, h("strong", {}, `Not yet sent: ${waiting.size}`), ". All of it is saved on this phone."),
    refused.map((item) => h("p", { class: "refusal" }, `The server would not take one: ${item.message} `, link("Look at it", `#/check/${item.check ?? item.id}`))),
    button("Send now", () => app.sender.send({ refused: true }), "plain"));
}

/** The newest unfinished check, and the others folded away: the three buttons stay in reach. */
function unfinishedList(app, [newest, ...others], trailers) {
  if (!newest) return null;
  return [unfinished(app, newest, trailers), others.length
    ? h("details", {}, h("summary", {}, `${others.length} more to go on with`), others.map((draft) => unfinished(app, draft, trailers))) : null];
}

function unfinished(app, draft, trailers) {
  const name = draft.check === "trailer" ? draft.name : app.book.words.check[draft.check].name;
  if (draft.check === "figures") return sheet(app, draft, trailers);
  const list = steps(app.book, draft), left = list.filter((step) => !isDone(draft, step)).length;
  const trailer = trailers.find((t) => t.id === draft.trailer && draft.check !== "trailer");
  const shops = app.links.find((link) => link.id === draft.link)?.trailer;
  return h("a", { class: "unfinished", href: resumeHash(app.book, draft) },
    h("strong", {}, `Go on: ${name}`),
    h("span", {}, `${[trailer?.name ?? shops?.name, dayText(draft.started)].filter(Boolean).join(", ")}. ${left ? `${left} to go` : "All asked, not yet kept"}`));
}

/** A sheet of sums has no end of its own, so it says how much stands on it. */
function sheet(app, draft, trailers) {
  const trailer = trailers.find((t) => t.id === draft.trailer);
  return h("a", { class: "unfinished", href: `#/sums/${draft.id}` },
    h("strong", {}, `Go on: ${app.book.words.check.figures.front}`),
    h("span", {}, `${[trailer?.name, dayText(draft.started)].filter(Boolean).join(", ")}. ${Object.keys(draft.facts).length} answers`));
}

/** What nobody has answered yet, worst first: kept checks, and drafts that say *Stop now*. */
function due(app, trailers, records, drafts) {
  const named = (id) => trailers.find((t) => t.id === id)?.name;
  const line = (level, href, name, made) => h("a", { class: `due ${level}`, href }, sign(level, app.book.words),
    h("span", {}, say("app-stop-undecided", { trailer: name ?? say("app-stop-now-a-trailer"), day: dayText(made) })));
  const put = drafts.filter((draft) => stopsIn(app.book, draft).length);
  return [
    put.map((draft) => line("stop", `#/now/${draft.id}`, named(draft.trailer), draft.started)),
    undecided(records).map((item) => {
      const { level } = item.record.body.verdict;
      return line(level, `#/${level === "stop" ? "now" : "check"}/${item.id}`, named(trailerOf(item)), item.record.made);
    }),
  ];
}

function chooser(app, trailers) {
  const select = h("select", { id: "which", onchange: () => setSetting(app, "trailer", select.value || null) },
    h("option", { value: "" }, "No saved trailer"),
    trailers.map((t) => h("option", { value: t.id, selected: t.id === app.settings.trailer }, t.name)));
  return h("div", { class: "chooser" }, h("label", { for: "which" }, "Which trailer?"), select);
}
