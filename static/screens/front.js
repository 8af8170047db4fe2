// What is due and what is unsent, then the three things people come for, in reach of the thumb.

import { isDone, steps } from "../data/asking.js";
import { laterWords, recordsOf, trailerOf, trailersOf } from "../data/queries.js";
import { heldIn, latest, namedOf, stopsIn, undecided, whatOf, whereOf } from "../data/stops.js";
import { say } from "../data/words.js";
import { draftsOf, setSetting, startCheck, toss, underWay } from "../keep.js";
import { go, later, redraw, resumeHash, standAt } from "../router.js";
import { h, live, moved } from "../parts/h.js";
import { bold, button, link, momentText, page, timeText } from "../parts/page.js";
import { badge, sign } from "../parts/sign.js";
import { startStop } from "./stop_signs.js";
import { notices } from "./notices.js";

// What came with the page, so that it is there before any script, and stands there again and again.
const came = [".title", ".what", ".band", ".quietly", ".links"].map((at) => document.querySelector(`.first ${at}`));

/** What the large buttons start. */
/** @type {Record<string, (app: App) => Promise<Shown>>} */
const STARTS = {
  run_stop: stopped,
  walkaround: () => go("#/walk"),
  tires: (app) => startCheck(app, "tires", app.settings.trailer),
};

/** A run of the trailer that is chosen knows how far it came and how fast. */
/** @param {App} app */
async function stopped(app) {
  const run = underWay(app), part = run && (app.settings.trailer || run.trailer) === run.trailer
    && await later(() => import("./under_way.js")).catch(() => null);
  return part ? part.stopHere(app) : startStop(app);
}

/** `#/begin/<check>`: tapped on the page that came with the answer, before the app was there. */
/** @param {App} app @param {string} check */
export function begin(app, check) {
  standAt("#/");
  return STARTS[check](app);
}

/** Whether somebody has signed in at a shop on this device; some browsers refuse to say. */
function isShops() {
  try {
    return "atShop" in localStorage;
  } catch {
    return false;
  }
}

/** @param {App} app */
export async function front(app) {
  const { store } = app;
  const [drafts, trailers, { readable, unreadable }] = await Promise.all([draftsOf(app), trailersOf(store, true),
    recordsOf(store)]);
  // Without it the page still works: what is due is then seen as soon as there is signal.
  const shop = isShops();
  const links = app.links.length || shop ? await later(() => import("./due_cards.js")).catch(() => null)
    : null;
  const records = () => links?.withLost(app, readable) ?? readable; // others once the links are read
  const ended = latest(readable).size ? await later(() => import("./mended.js")).catch(() => null) : null;
  /** @param {string} check */
  const big = (check) => h("button", { type: "button", class: "big", onclick: () => STARTS[check](app), value: check },
    h("strong", {}, say(`check-${check}.front`)), h("span", {}, say(`check-${check}.help`)));
  const begun = drafts.filter((draft) => shown(app, draft, trailers));
  const { open, held, kept, others } = due(app, trailers, begun);
  const stops = () => [open(), kept("stop", records()), links?.openStops(app, readable) ?? []].flat();
  const isHalt = () => stops().length > 0, halt = isHalt();
  const named = [...stops(), ...kept("mend", records())].every(({ lines: [{ what }] }) => what);
  if (!named) laterWords().then(moved, () => {});
  const rest = unfinishedList(app, [...others].reverse(), trailers);
  const [title, what, band, sums, nav] = came.map((one) => /** @type {Element} */ (one?.cloneNode(true)));
  if (app.settings.run?.ended === null) nav.children[0].textContent = say("app-run-on");
  return page({
    name: "front",
    body: [
      title, live(() => halts(stops())), held, live(() => kept("look", records()).map(({ whole }) => whole)),
      halt ? null : [what, band],
      live(() => app.updates.ready && !isHalt() && h("p", { class: "hint" }, say("app-ready"))),
      notices(app), app.settings.run?.ended === null
        ? (await later(() => import("./under_way.js")).catch(() => null))?.underWay(app) : null,
      live(() => links?.cards(app, readable, shop, isHalt())), live(() => unsent(app)),
      unreadable.length ? h("p", { class: "note" }, say("app-unreadable-count", { count: unreadable.length }), " ",
        link(say("app-history"), "#/history")) : null,
      begun.length < drafts.length ? h("p", { class: "note" }, say("app-unreadable-draft")) : null,
      ended?.taken(app, records()), live(() => kept("mend", records()).map(({ whole }) => whole)),
      halt && rest ? h("details", {},
        h("summary", {}, say("app-more-unfinished", { count: others.length })), rest) : rest,
    ],
    foot: [
      chooser(app, trailers.filter(({ retired }) => !retired)),
      Object.keys(STARTS).map(big),
      sums, nav,
    ],
  });
}

/** @param {App} app */
function unsent(app) {
  const { waiting, refused, why } = app.sendState;
  if (!waiting.size) return null;
  return h("div", { class: "unsent", role: "status" },
    h("p", {}, bold("app-unsent", "count", say("app-unsent-count", { count: waiting.size }))), why && h("p", {}, why),
    refused.map(({ id, check, message }) => h("p", { class: "refusal" }, say("app-refusal", { message }), " ",
      link(say("app-look-at-it"), `#/check/${check ?? id}`))),
    button(say("app-send-now"), () => app.sender.send({ refused: true }), "plain"));
}

/** The newest unfinished check, and the others folded away: the three buttons stay in reach. */
/** @param {App} app @param {Draft[]} of1 @param {SavedTrailer[]} trailers */
function unfinishedList(app, [newest, ...others], trailers) {
  if (!newest) return null;
  return [unfinished(app, newest, trailers), others.length
    ? h("details", {}, h("summary", {}, say("app-more-unfinished", { count: others.length })),
      others.map((draft) => unfinished(app, draft, trailers))) : null];
}

/** A draft of another release may be of any shape: the start buttons must not go with it. */
/** @param {App} app @param {Draft} draft @param {SavedTrailer[]} trailers */
function shown(app, draft, trailers) {
  try {
    return described(app, draft, trailers) && stopsIn(app.book, draft);
  } catch {
    return null;
  }
}

/** @param {App} app @param {Draft} draft @param {SavedTrailer[]} trailers */
function unfinished(app, draft, trailers) {
  const away = async () => {
    if (await toss(app, draft)) redraw();
  };
  return h("div", { class: "begun" }, described(app, draft, trailers), button("✕", away, "plain",
    { "aria-label": say("app-throw-away") }));
}

/** Figures have no end of their own, so they say how much was answered. */
/** @param {App} app @param {Draft} draft @param {SavedTrailer[]} trailers */
function described({ book, links }, draft, trailers) {
  const { check, id, facts } = draft, isFigures = check === "figures";
  const left = isFigures ? 0 : steps(book, draft).filter((step) => !isDone(draft, step)).length;
  const of = (check !== "trailer" && trailers.find((one) => one.id === draft.trailer))
    || links.find((one) => one.id === draft.link)?.trailer;
  const name = check === "trailer" ? draft.name : say(`check-${check}${isFigures ? ".front" : ""}`);
  return h("a", { class: "unfinished", href: isFigures ? `#/figures/${id}` : resumeHash(book, draft) },
    h("strong", {}, say("app-go-on", { name })),
    h("span", {}, `${[of?.name, timeText(draft.started ?? draft.date)].filter(Boolean).join(", ")}. `,
      isFigures ? say("app-answers", { count: Object.keys(facts).length })
        : left ? say("app-to-go", { count: left }) : say("app-all-asked")));
}

/** The latest *Stop now* stands whole and of each other a line, so that the start buttons stay in sight. */
/** @param {OpenCard[]} list */
function halts(list) {
  const [newest, ...others] = list.sort((a, b) => Date.parse(b.lines[0].made) - Date.parse(a.lines[0].made));
  return [newest?.whole, others.flatMap(({ lines }) => lines.map(({ level, href, what, trailer, made }) =>
    h("a", { class: `due brief ${level}`, href }, badge(level), h("span", {}, h("strong", {}, what), " ",
      trailer ? `${trailer}, ` : "", h("time", {}, momentText(made, true))))))];
}

/** What nobody has answered: `kept` checks, drafts `open` at *Stop now* or `held` at *Look again*, `others`. */
/** @param {App} app @param {SavedTrailer[]} trailers @param {Draft[]} drafts */
function due(app, trailers, drafts) {
  /** @param {string | null} id @param {string} [under] */
  const named = (id, under) => (trailers.find((t) => t.id === id)
    ?? app.links.find((one) => one.id === under)?.trailer)?.name;
  /**
   * @param {Level} level @param {string} href @param {string} what @param {string | undefined} trailer
   * @param {string} made @param {string} [act] @returns {OpenCard}
   */
  const card = (level, href, what, trailer, made, act) => ({ lines: [{ level, href, what, trailer, made }],
    whole: h("a", { class: `due ${level}`, href }, sign(level, { large: level === "stop" }),
      what ? h("strong", {}, what) : null, act && h("span", {}, act), h("span", {}, say("app-stop-undecided",
        { trailer: trailer ?? say("app-stop-now-a-trailer"), day: momentText(made) }))) });
  const stops = drafts.map((draft) => ({ draft, found: stopsIn(app.book, draft) })).filter(({ found }) => found.length);
  /** @param {Level} of @param {KeptRecord[]} records */
  const kept = (of, records) => undecided(records, app.book).flatMap((item) => {
    const { made, body } = item.record, found = namedOf(app.book, body.verdict);
    return body.verdict.level === of ? card(of, whereOf(item), whatOf(found, body.facts),
      named(trailerOf(item), item.link), made, of === "look" ? say(`finding-${found[0].finding}.do`) : "") : [];
  });
  const open = () => stops.map(({ draft, found }) => card("stop", `#/now/${draft.id}`, whatOf(found, draft.facts),
    named(draft.trailer, draft.link), draft.started ?? draft.date, say(`check-${draft.check}`)));
  const held = drafts.flatMap((draft) => [heldIn(app.book, draft) ?? []].flat().map((one) =>
    card("look", resumeHash(app.book, draft), whatOf([one], draft.facts), named(draft.trailer, draft.link),
      draft.started ?? draft.date, say(`finding-${one.finding}.do`)).whole));
  return { open, held, kept, others: drafts.filter((one) => !stops.some(({ draft }) => draft === one)) };
}

/** @param {App} app @param {SavedTrailer[]} trailers */
function chooser(app, trailers) {
  if (!trailers.length) return null;
  /** @type {HTMLSelectElement} */
  const select = h("select", { id: "which", onchange: () => setSetting(app, "trailer", select.value || null) },
    h("option", { value: "" }, say("app-no-trailer")),
    trailers.map((t) => h("option", { value: t.id, selected: t.id === app.settings.trailer }, t.name)));
  return h("div", { class: "chooser" }, h("label", { for: "which" }, say("app-which-trailer")), select);
}
