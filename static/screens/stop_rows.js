// A stop's questions about the trailer and the run, as rows of one-tap answers: most of it is known.

import { answered, axlesOf, choicesOf, factOf, placeOf } from "../data/asking.js";
import { placeName, say } from "../data/words.js";
import { rangeOf } from "../engine/formula.js";
import { inOwnUnit } from "../parts/numbers.js";
import { choicesRow, isQuick } from "../parts/rows.js";
import { h, nodes } from "../parts/h.js";
import { announce, button } from "../parts/page.js";
import { placesOf, runKeys, signFacts, stopAt } from "./stop_steps.js";

/** @typedef {import("./stop_steps.js").Stop} Stop */

/** @param {App} app @param {string} id @param {string} step */
export const rowsStep = (app, id, step) => stopAt(app, id, step, step === "run" ? theRun : theTrailer);

/** @param {Stop} stop */
function theTrailer(stop) {
  return rowsScreen(stop, say("app-stop-trailer"), () => stop.keys(["about"]), () => {
    const told = signFacts(stop.book).flatMap((fact) => placesOf(stop.book, stop.draft, fact));
    const given = stop.draft.seenAt ? told.filter((key) => !(key in stop.draft.facts))
      .map((key) => [key, { raw: "no" }]) : [];
    const next = () => stop.forward("trailer");
    return given.length ? stop.give(Object.fromEntries(given), next) : next();
  });
}

/** Rows of one-tap answers; it goes on by itself once each has one. One that may be left out is not asked again. */
/** @param {Stop} stop @param {string} title @param {() => string[]} keysNow @param {() => unknown} done */
function rowsScreen(stop, title, keysNow, done) {
  const box = h("div", {});
  const draw = () => {
    const { book, draft, app } = stop;
    box.replaceChildren(...nodes(keysNow().flatMap((key) => [choicesRow({
      book, key, answer: draft.facts[key], asked: key in draft.facts, system: app.settings.units,
        typed: draft.typed?.[key],
      where: placeName(placeOf(key), axlesOf(draft)),
      choices: book.data.facts[factOf(key)].kind === "choice" ? choicesOf(book, draft, key) : null,
      give: (answer) => stop.give(withDistance(stop, key, answer), () => {
        const open = keysNow().filter((one) => !(one in stop.draft.facts));
        return open.length ? draw() : done();
      }),
      other: isQuick(book, key) ? null : `#/ask/${draft.id}/${encodeURIComponent(key)}/stop/${stop.step}`,
    }), key === "run_distance" ? byTime(stop, draw) : null])));
  };
  draw();
  const next = () => {
    const left = keysNow().filter((key) => !(key in stop.draft.facts) && stop.book.data.facts[factOf(key)].optional);
    return stop.give(Object.fromEntries(left.map((key) => [key, { raw: null }])), done);
  };
  return stop.page({ title, body: box, foot: button(say("app-next"), next, "answer main") });
}

const MINUTES = [10, 20, 30, 45, 60, 90]; // edges of the times offered
const USUAL_MPH = [40, 70]; // where the speed is not told

/** Who knows the time and not the miles: the distance is worked out from it and the speed. */
/** @param {Stop} stop @param {() => void} draw */
function byTime(stop, draw) {
  const { book, draft } = stop, from = draft.drivenFor;
  /** @param {Interval} ends */
  const give = (ends) => stop.give({ run_distance: distanceIn(book, draft, ends) },
    () => { stop.draft = { ...stop.draft, drivenFor: ends }; draw(); });
  const picks = MINUTES.slice(1).map(/** @returns {Interval} */ (to, i) => [MINUTES[i], to]);
  return h("details", { open: Boolean(from) }, h("summary", {}, say("app-stop-by-time")),
    h("div", { class: "picks number", role: "group", "aria-label": say("app-stop-by-time") },
      picks.map((ends) => button(`${ends[0]}–${ends[1]} ${book.data.units.min.label}`, () => give(ends), "pick",
        { "aria-pressed": String(String(from) === String(ends)) }))));
}

/** An answer of the run; where the distance came from a time, it follows the speed. */
/** @param {Stop} stop @param {string} key @param {Answer} answer */
function withDistance(stop, key, answer) {
  const { book, draft } = stop;
  if (key === "run_distance") stop.draft = { ...draft, drivenFor: undefined };
  if (key !== "run_speed" || !draft.drivenFor) return { [key]: answer };
  const after = answered(draft, { [key]: answer });
  return { [key]: answer, run_distance: distanceIn(book, after, draft.drivenFor) };
}

/** The distance driven in so many minutes at the speed told, as an answer. */
/** @param {OpenBook} book @param {Payload} of1 @param {number[]} minutes */
function distanceIn(book, { facts, date }, minutes) {
  const told = facts.run_speed ?? USUAL_MPH.map((mph) => inOwnUnit(book, book.data.facts.run_speed, mph, "mph"));
  const speeds = rangeOf(book.readAnswer("run_speed", told, date)), { low, high } = book.data.facts.run_distance;
  return { raw: minutes.map((one, i) => Math.min(Math.max((one / 60) * speeds[i], low), high)) };
}

/** @param {Stop} stop */
const theRun = (stop) => rowsScreen(stop, say("app-stop-run"), () => runKeys(stop), () => {
  announce("");
  return stop.forward("run");
});
