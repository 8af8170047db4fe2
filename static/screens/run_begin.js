// A run begun, and what it counts in.

import * as runs from "../data/run.js";
import { WORK } from "../data/run_plan.js";
import { pastOf, presetsOf, serviceOf } from "../data/presets.js";
import { trailerBy } from "../data/queries.js";
import { uuid7 } from "../data/records.js";
import { dueOf } from "../data/due.js";
import { has, say } from "../data/words.js";
import { linkFor, linkOf } from "../keep.js";
import { sure } from "../dialog.js";
import { go, redraw } from "../router.js";
import { h } from "../parts/h.js";
import { button, link as anchor } from "../parts/page.js";
import { ready } from "./calling.js";
import { choices, distanceUnit, framed, toKm } from "./road.js";
import { change, tellOthers } from "./run_clock.js";
import { carriedBy, carriedCard, doubtOf, maybeCard, maybeOf, ofTrailer } from "./run_verdict.js";

/** @type {Record<string, number[]>} */
const SPEEDS = { mi: [45, 55, 65], km: [70, 90, 100] };

/** The trailer of a shop's link, or the one chosen on the front page. */
/** @param {App} app @param {string | null | undefined} linkId */
const trailerFor = (app, linkId) => linkOf(app, linkId)?.trailer?.id ?? app.settings.trailer ?? null;

/**
 * A run of this trailer, or of the one a shop's link is for, with what is known to have been done to it. Resolves to
 * null where something speaks against it, or may, and to the run another window has begun meanwhile.
 */
/** @param {App} app @param {string | null | undefined} linkId @param {boolean} warned whether it was asked */
export async function start(app, linkId = null, warned = false) {
  ready();
  const trailer = trailerFor(app, linkId);
  const to = { trailer, link: linkId };
  if (!warned && (doubtOf(app, await carriedBy(app, to)) || (await maybeOf(app, to)).length)) {
    return app.settings.run = null;
  }
  const link = linkOf(app, linkId)?.id ?? linkFor(app, trailer) ?? null;
  const past = await pastOf(app.store, trailer), { facts = {} } = await trailerBy(app, trailer, link) ?? {};
  const why = presetsOf(past, facts, Date.now(), serviceOf(app, trailer));
  const begun = runs.begin({ id: uuid7(), trailer, link, speed: await usual(app, past), work: Object.keys(why), why,
    dues: asked(app.links.find(({ id }) => id === link)), now: Date.now() });
  const made = await app.store.change("settings", "run", (stored) => {
    const other = /** @type {Run | null | undefined} */ (stored?.value);
    return { key: "run", value: other?.ended === null ? other : begun };
  });
  tellOthers();
  return app.settings.run = /** @type {Run} */ (made?.value);
}

/** @param {KeptLink | undefined} link */
const asked = (link) => (link?.read ? dueOf(link) : []).flatMap(({ id, at_km: km, check, what, done }) =>
  (!done && typeof km === "number" && has(`check-${check}`) ? [{ id, km, check, what }] : []));

/** km/h as last driven with this trailer, or as people usually do. */
/** @param {App} app @param {Past} of1 */
async function usual(app, { runs: [last] }) {
  return last?.speed ?? app.settings.run?.speed ?? toKm(app, SPEEDS[distanceUnit(app)][1]);
}

/** @param {App} app @param {string | undefined} linkId */
export async function begin(app, linkId) {
  const to = { trailer: trailerFor(app, linkId), link: linkId };
  const carried = await carriedBy(app, to), maybe = await maybeOf(app, to);
  const doubt = doubtOf(app, carried) || maybe.length > 0 && say("road-run-on-maybe");
  return framed(say("road-run-title"), [
    await ofTrailer(app, to), carriedCard(app, carried), await maybeCard(app, maybe),
    h("p", {}, say("road-run-lead")),
    h("p", { class: "note" }, say("road-run-caution")), h("p", { class: "note" }, say("road-run-sleeps")),
    anchor(say("road-trip"), "#/trip", "answer"),
  ], carried.level === "stop" && !carried.shop ? h("p", { class: "note" }, doubt)
    : button(say("road-run-start"), async () => {
      if (doubt && !await sure(doubt, say("road-run-start"))) return;
      await start(app, linkId, true);
      redraw();
    }, doubt ? "answer quietly" : "answer main"), doubt ? "road halt" : "road");
}

/** @param {App} app @param {Run} now */
export function planning(app, now) {
  const unit = distanceUnit(app), speeds = SPEEDS[unit];
  const shown = speeds.find((speed) => Math.abs(toKm(app, speed) - now.speed) < 1);
  /** @param {string} id */
  const toggle = (id) => change(app, (one, at) => runs.replan(one, { work: one.work.includes(id)
    ? one.work.filter((other) => other !== id) : [...one.work, id] }, at));
  return framed(say("road-run-title"), [
    h("h2", {}, say("road-run-work")),
    choices(WORK, new Set(now.work), (id) => say(`road-run-work-${id}`), toggle),
    h("h2", {}, say("road-run-speed")),
    choices(speeds, shown, (speed) => say(`road-speed-${unit}`, { speed }),
      (speed) => change(app, (one, at) => runs.replan(one, { speed: toKm(app, speed) }, at))),
  ], button(say("road-run-plan-done"), () => go("#/run", { replace: true }), "answer main"), "road", "#/run");
}
