// A stop's first screen: what eyes and nose find at any wheel, before a hand goes near.

import { axlesOf, factOf } from "../data/asking.js";
import { placeName, say } from "../data/words.js";
import { beginCheck } from "../keep.js";
import { go, openHash } from "../router.js";
import { tires } from "../parts/plan.js";
import { h } from "../parts/h.js";
import { button } from "../parts/page.js";
import { placesOf, SIDES, signFacts, Stop, stopAt, stopHash, wheels } from "./stop_steps.js";

/**
 * Begin a stop now: this moment is where the minutes parked count from, unless a run knows better; the air is that of
 * the trailer's last stop, if that was lately. Nothing is kept before an answer.
 */
/** @param {App} app @param {Under | null} under @param {StopKnown} known */
export async function startStop(app, under = null, known = {}) {
  const { trailer = app.settings.trailer, stoppedAt = Date.now() } = known, of = under?.trailer?.id ?? trailer;
  const { facts, typed } = known.facts || !of ? known : await import("../data/presets.js")
    .then(({ airNow }) => airNow(app.store, of)).catch(() => known);
  const draft = await beginCheck(app, "quick_stop", of, facts, typed, under);
  app.drafts.set(draft.id, { ...draft, stoppedAt });
  return go(stopHash(draft, "signs"));
}

/** Where a stop is taken up again, its signs, or which wheel one of them is at. */
/** @param {App} app @param {string} id @param {string | undefined} step */
export function stopStep(app, id, step) {
  const [name = "", fact] = step?.split(".") ?? [];
  /** @type {Record<string, (stop: Stop) => Shown | Promise<Shown>>} */
  const screens = { "": takenUp, signs, where: (stop) => where(stop, fact) };
  return stopAt(app, id, step ?? "signs", screens[name] ?? (({ book, draft }) => go(openHash(book, draft))));
}

/** Where a stop goes on: eyes first, if they have not looked yet. */
/** @param {Stop} stop */
function takenUp(stop) {
  const unseen = signFacts(stop.book).some((fact) =>
    placesOf(stop.book, stop.draft, fact).some((key) => !(key in stop.draft.facts)));
  return unseen ? go(stopHash(stop.draft, "signs"), { replace: true }) : stop.forward("signs", true);
}

/** @param {Stop} stop */
function signs(stop) {
  const { book, draft } = stop;
  const rows = h("div", { class: "sign-rows" });
  // with a wheel chosen, what is there
  const draw = () => rows.replaceChildren(...signFacts(book).map((fact) => {
    const there = placesOf(book, draft, fact).some((key) => draft.facts[key] === "yes" && key.endsWith(stop.at));
    return button(say(`fact-${fact}`), () => tapped(stop, fact), "answer", { "aria-pressed": String(there) });
  }));
  draw();
  const any = Object.entries(draft.facts).some(([key, raw]) => raw === "yes" && signFacts(book).includes(factOf(key)));
  return stop.page({
    title: say("app-stop-before"),
    home: "#/",
    body: [eyes(stop, draw), rows],
    foot: button(say(any ? "app-stop-nothing-else" : "app-stop-nothing"), () => nothingElse(stop), "answer main"),
  });
}

/** Where nobody has said how many axles there are. */
/** @param {Stop} stop */
function moreAxles(stop) {
  const { draft } = stop, axles = axlesOf(draft);
  return draft.trailer || draft.link || axles > 2 ? null : button(say("app-stop-more-axles"),
    () => stop.give({ axles: { raw: axles + 1 } }, () => go(stopHash(draft, "signs"))), "plain");
}

/** The trailer, so that who knows the wheel taps it and then what is there. */
/** @param {Stop} stop @param {() => void} draw */
function eyes(stop, draw) {
  const { book, draft } = stop, axles = axlesOf(draft);
  const marked = wheels(draft).filter((at) => signFacts(book).some((fact) => draft.facts[`${fact}@${at}`] === "yes"));
  return h("div", { class: "eyes" }, h("p", { class: "help" }, say("caution-traffic")),
    tires({ axles, marked, chosen: (place) => { stop.at = place; draw(); } }),
    h("div", {}, h("p", {}, say("app-stop-wheel-first")),
      h("div", { class: "ways" }, moreAxles(stop), stop.camera("hub_signs"))));
}

/** Everything not tapped is not there, at every wheel; wheels of axles told later are filled in then. */
/** @param {Stop} stop */
function nothingElse(stop) {
  const keys = signFacts(stop.book).flatMap((fact) => placesOf(stop.book, stop.draft, fact));
  const given = Object.fromEntries(keys.filter((key) => stop.draft.facts[key] !== "yes")
    .map((key) => [key, { raw: "no" }]));
  stop.draft = { ...stop.draft, seenAt: Date.now() };
  return stop.give(given, () => stop.forward("signs"));
}

/** The other signs whose wheel nobody has told. */
/** @type {(draft: Draft, fact: string) => string[]} */
const others = ({ unplaced = [] }, fact) => [unplaced].flat().filter((one) => one !== fact);

/** A sign counts at once at every wheel it could be at, until the person says which; one there is taken back. */
/** @param {Stop} stop @param {string} fact */
function tapped(stop, fact) {
  const all = placesOf(stop.book, stop.draft, fact), known = `${fact}@${stop.at}`;
  const keys = all.includes(known) ? [known] : all, there = keys.filter((key) => stop.draft.facts[key] === "yes");
  const raw = there.length ? "no" : "yes", open = raw === "yes" && keys.length > 1;
  return stop.give(Object.fromEntries((there.length ? there : keys).map((key) => [key, { raw }])),
    () => go(stopHash(stop.draft, open ? `where.${fact}` : "signs")),
    open ? { unplaced: [...others(stop.draft, fact), fact] } : {});
}

/** Which wheel a sign is at; also shown on the page of a *Stop now*. */
/** @param {App} app @param {Draft} draft @param {string} fact @param {() => unknown} done */
export function wheelChooser(app, draft, fact, done) {
  const stop = new Stop(app, draft, "where"), axles = axlesOf(draft);
  /** @param {string} at */
  const place = (at) => {
    const given = wheels(draft).map((one) => [`${fact}@${one}`, { raw: one === at ? "yes" : "no" }]);
    return stop.give(Object.fromEntries(given), done, { unplaced: others(draft, fact) });
  };
  const more = Number.isInteger(draft.facts.axles) ? null : button(say("app-stop-more-axles"), () => stop.give(
    { axles: { raw: Math.min(3, axles + 1) }, ...spread(fact, axles + 1) }, done), "plain");
  return h("div", {}, h("div", { class: "wheel-grid" },
    wheels(draft).map((at) => button(placeName(at, axles), () => place(at), "answer"))), more);
}

/** A sign that counts everywhere counts at the wheels of one more axle too. */
/** @param {string} fact @param {number} axle */
const spread = (fact, axle) => Object.fromEntries(SIDES
  .map((side) => [`${fact}@${axle}${side}`, { raw: "yes" }]));

/** @param {Stop} stop @param {string} fact */
function where(stop, fact) {
  return stop.page({
    title: say("app-stop-which-wheel"),
    body: [h("p", { class: "help" }, say(`fact-${fact}`)),
      wheelChooser(stop.app, stop.draft, fact, () => go(stopHash(stop.draft, "signs"), { replace: true }))],
  });
}
