// A stop's hubs: an axle a screen, mates one after the other with both in view.

import { answered, axlesOf, placeOf, factOf } from "../data/asking.js";
import { heldAt } from "../data/stops.js";
import { placeName, say } from "../data/words.js";
import { go, later } from "../router.js";
import { choicesRow } from "../parts/rows.js";
import { h } from "../parts/h.js";
import { button } from "../parts/page.js";
import { SIDES, Stop, stopAt, stopHash } from "./stop_steps.js";

/** @param {App} app @param {string} id @param {string} axle */
export const hubsStep = (app, id, axle) => stopAt(app, id, `hubs.${axle}`, (stop) => hubs(stop, axle));

/** @param {Stop} stop @param {string} axle */
function hubs(stop, axle) {
  const { book, draft, app } = stop, n = Number(axle), axles = axlesOf(draft);
  if (draft.facts.hub_method === "thermometer") return readings(stop, n);
  const prepared = prepare(stop, "hand");
  const asked = new Set(prepared.keys(["wheels"]));
  const sides = SIDES.map((side) => `hub_feel@${n}${side}`), pair = `pair_feel@${n}`;
  // asked anew: a hub that cannot be touched ends the question how the two compare
  const next = () => (prepared.keys(["wheels"]).some((key) => [...sides, pair].includes(key)
    && !(key in stop.draft.facts)) ? go(stopHash(draft, stop.step)) : stop.forward());
  /** @param {string} key */
  const give = (key) => (/** @type {Raw} */ raw) => prepared.give({ ...prepared.fresh, [key]: { raw } },
    () => { stop.draft = prepared.draft; return next(); });
  const handsOff = heldAt(book, draft, (place) => place[0] === axle);
  const measure = button(say("app-stop-thermometer"), () => stop.give({ hub_method: { raw: "thermometer" },
    hub_spot: { raw: draft.facts.hub_spot ?? "barrel" } }, () => go(stopHash(draft, stop.step))), "plain");
  const paired = sides.every((key) => key in prepared.draft.facts) && asked.has(pair);
  return stop.page({
    name: "hubs",
    title: say("app-stop-hubs", { axle: n, axles }),
    body: [
      handsOff ? [h("p", { class: "act" }, handsOff), measure]
        : paired ? null : h("p", { class: "help" }, say("app-stop-hubs-help")),
      h("div", { class: "ladders" }, sides.map((key) => ladder(book, prepared.draft, key, asked.has(key), axles,
        give(key)))),
      paired ? choicesRow({ book, key: pair, answer: prepared.draft.facts[pair], asked: pair in prepared.draft.facts,
        give: ({ raw }) => give(pair)(raw), system: app.settings.units }) : null,
      h("div", { class: "ways" },
        handsOff ? null : measure,
        h("a", { class: "plain", href: `#/ask/${draft.id}/hub_spot/stop/${stop.step}` }, say("app-stop-elsewhere")),
        button(say("app-stop-barrel"), () => showBarrel(draft), "plain"), stop.camera(`hub_pair@${n}`)),
    ],
  });
}

/** By hand on the barrel, as the screen says, unless the person has said otherwise. */
/** @param {Stop} stop @param {string} method */
function prepare(stop, method) {
  const { draft } = stop;
  /** @type {Given} */
  const fresh = {};
  if (!("hub_method" in draft.facts)) fresh.hub_method = { raw: method };
  if (!("hub_spot" in draft.facts)) fresh.hub_spot = { raw: "barrel" };
  const made = new Stop(stop.app, answered(draft, fresh), stop.step);
  made.fresh = { ...fresh, ...parkedBy(draft) };
  return made;
}

/** Minutes parked when the first hub was touched: since the stop was begun, or up to two minutes more. */
/** @param {Draft} draft @returns {Given} */
function parkedBy(draft) {
  if ("parked" in draft.facts || !draft.stoppedAt) return {};
  const minutes = Math.min(598, Math.max(0, (Date.now() - draft.stoppedAt) / 60_000)); // 600 are the most it takes
  return { parked: { raw: [Math.floor(minutes), Math.ceil(minutes) + 2] } };
}

/** Where the hand goes, drawn. */
/** @param {Draft} draft */
async function showBarrel({ facts }) {
  (await later(() => import("../parts/drawings/shown.js"))).explain("hub", facts);
}

/**
 * @param {OpenBook} book @param {Draft} draft @param {string} key @param {boolean} asked @param {number} axles
 * @param {(raw: Raw) => unknown} give
 */
function ladder(book, draft, key, asked, axles, give) {
  const name = placeName(placeOf(key), axles);
  if (!asked) return h("div", { class: "ladder" }, h("p", { class: "mate" }, name),
    h("p", { class: "note" }, say("app-stop-do-not-touch")));
  const rungs = [...book.data.facts[factOf(key)].choices].reverse();
  /** @param {string | null} choice @param {string} text */
  const one = (choice, text) => button(text, () => give(choice), `rung ${choice ?? "unsure"}`,
    { "aria-pressed": String(key in draft.facts && draft.facts[key] === choice) });
  return h("div", { class: "ladder", role: "group", "aria-label": name }, h("p", { class: "mate" }, name),
    rungs.map((choice) => one(choice, say(`fact-${factOf(key)}.choice-${choice}`))), one(null, say("app-not-sure")));
}

/** @param {Stop} stop @param {number} n */
function readings(stop, n) {
  const key = SIDES.map((side) => `hub_reading@${n}${side}`).find((one) => stop.keys(["wheels"]).includes(one)
    && !(one in stop.draft.facts));
  if (!key) return stop.forward();
  return go(`#/ask/${stop.draft.id}/${encodeURIComponent(key)}/stop`, { replace: true });
}
