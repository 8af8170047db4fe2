// A run on the screen: begun, driven, called to a stop, ended. All that counts is in data/run.js.

import * as runs from "../data/run.js";
import { airOf, pastOf, presetsOf, serviceOf } from "../data/presets.js";
import { trailersOf } from "../data/queries.js";
import { localTime, seal, uuid7 } from "../data/records.js";
import { dueOf } from "../data/due.js";
import { has, say } from "../data/words.js";
import { keeping } from "../data/store.js";
import { deskLink, setSetting, startCheck } from "../keep.js";
import { go, redraw, standAt } from "../router.js";
import { calendarFile } from "../parts/calendar.js";
import { h } from "../parts/h.js";
import { button, dayText, link as anchor, trouble } from "../parts/page.js";
import { call, keepLit, ready, silence } from "./calling.js";
import { startStop } from "./hubs.js";
import { choices, distance, distanceUnit, framed, fromKm, minutesText, toKm, withWords } from "./road.js";

const TICK = 20_000; // ms between two looks at the clock while the screen is on
/** @type {Record<string, number[]>} */
const SPEEDS = { mi: [45, 55, 65], km: [70, 90, 100] };
const QUIET = /^#\/(ask|stop|walk|now|answers|sofar|figures|trailer\/new)/; // screens that a call would tear away
/** @type {number | null} */
let watch = null;
/** @type {{ id: number, look: () => void } | null} */
let ticker = null;
let denied = false;

/** `#/run`; `#/run/start` and `#/run/from/LINK` begin one at once, `#/run/plan` changes what it counts in. */
/** @param {App} app @param {string | undefined} at @param {string | undefined} link */
export const run = (app, at, link) => withWords(async () => {
  const now = app.settings.run;
  if (at === "start" || at === "from") return startNow(app, now, link);
  if (!now) return begin(app);
  if (at === "plan" && now.ended === null) return planning(app, now);
  return now.ended === null ? driving(app) : ended(app, now);
});

/** The run as it is stored by now, taken on by `how`: what another window knows of it counts too. */
/** @param {App} app @param {(run: Run, now: number) => Run} how */
async function advanced(app, how) {
  const made = await app.store.change("settings", "run", (stored) =>
    ({ key: "run", value: how(/** @type {Run} */ (stored?.value ?? app.settings.run), Date.now()) }));
  return app.settings.run = /** @type {Run} */ (made?.value);
}

/** @param {App} app @param {(run: Run, now: number) => Run} how */
async function change(app, how) {
  await advanced(app, how);
  return redraw();
}
/** @param {Pick<RunStop, "what" | "dues">} of */
const whatOf = ({ what, dues = [] }) =>
  [...what.filter((one) => one !== "shop").map((one) => say(`road-run-what-${one}`)), ...dues.map((due) => due.what)]
    .join(", ");

// ---- begin ----

/** @param {App} app @param {Run | null | undefined} now @param {string | undefined} link */
async function startNow(app, now, link) {
  if (!now || now.ended !== null) await start(app, link);
  standAt("#/run");
  return redraw();
}

/** A run of this trailer, or of the one a shop's link is for, with what is known to have been done to it. */
/** @param {App} app @param {string | null} linkId */
async function start(app, linkId = null) {
  ready();
  const under = app.links.find(({ id, dead }) => id === linkId && !dead);
  const trailer = under?.trailer?.id ?? app.settings.trailer ?? null;
  const link = under?.id ?? deskLink(app, trailer) ?? jobOf(app, trailer)?.id ?? null;
  const past = await pastOf(app.store, trailer), facts = await factsOf(app, trailer, link);
  const why = presetsOf(past, facts, Date.now(), serviceOf(app, trailer));
  const begun = runs.begin({ id: uuid7(), trailer, link, speed: await usual(app, past), work: Object.keys(why), why,
    dues: asked(app.links.find(({ id }) => id === link)), now: Date.now() });
  await setSetting(app, "run", begun);
}

/** @param {App} app @param {string | null} trailer */
const jobOf = (app, trailer) =>
  app.links.find((one) => trailer && !one.dead && one.read && one.trailer?.id === trailer);

/** @param {KeptLink | undefined} link */
const asked = (link) => (link?.read ? dueOf(link) : []).flatMap(({ id, at_km: km, check, what, done }) =>
  (!done && typeof km === "number" && has(`check-${check}`) ? [{ id, km, check, what }] : []));

/** @param {App} app @param {string | null} trailer @param {string | null} link */
async function factsOf(app, trailer, link) {
  const kept = (await trailersOf(app.store)).find(({ id }) => id === trailer);
  return kept?.facts ?? app.links.find(({ id }) => id === link)?.trailer?.facts ?? {};
}

/** km/h as last driven with this trailer, or as people usually do. */
/** @param {App} app @param {Past} of1 */
async function usual(app, { runs: [last] }) {
  return last?.speed ?? app.settings.run?.speed ?? toKm(app, SPEEDS[distanceUnit(app)][1]);
}

/** @param {App} app */
function begin(app) {
  return framed(say("road-run-title"), [
    h("p", {}, say("road-run-lead")),
    h("p", { class: "note" }, say("road-run-caution")), h("p", { class: "note" }, say("road-run-sleeps")),
    anchor(say("road-trip"), "#/trip", "answer"),
  ], button(say("road-run-start"), async () => { await start(app); redraw(); }, "answer main"));
}

/** @param {App} app @param {Run} now */
function planning(app, now) {
  const unit = distanceUnit(app), speeds = SPEEDS[unit];
  const shown = speeds.find((speed) => Math.abs(toKm(app, speed) - now.speed) < 1);
  /** @param {string} id */
  const toggle = (id) => change(app, (one, at) => runs.replan(one, { work: one.work.includes(id)
    ? one.work.filter((other) => other !== id) : [...one.work, id] }, at));
  return framed(say("road-run-title"), [
    h("h2", {}, say("road-run-work")),
    choices(runs.WORK, new Set(now.work), (id) => say(`road-run-work-${id}`), toggle),
    h("h2", {}, say("road-run-speed")),
    choices(speeds, shown, (speed) => say(`road-speed-${unit}`, { speed }),
      (speed) => change(app, (one, at) => runs.replan(one, { speed: toKm(app, speed) }, at))),
  ], button(say("road-run-plan-done"), () => go("#/run", { replace: true }), "answer main"), "road", "#/run");
}

// ---- under way ----

/** @param {App} app */
async function driving(app) {
  const now = await advanced(app, runs.advance);
  tick(app);
  keepLit(!now.rests);
  if (now.by === "position" && watch === null && !denied) follow(app);
  if (runs.loudOf(now).length) return loud(app, now);
  const due = runs.dueOf(now), ahead = runs.aheadOf(now);
  const main = [
    due.map((stop) => dueStop(app, stop)),
    h("p", { class: "driven" }, say("road-run-driven",
      { distance: distance(app, now.km), time: minutesText(now.minutes) })),
    now.rests && h("p", { class: "note" }, say(now.silent ? "road-run-silent" : "road-run-resting")),
    ahead.length > 0 && h("p", { class: "next" }, say("road-run-next",
      { what: whatOf(ahead[0]), distance: distance(app, ahead[0].left), time: minutesText(ahead[0].minutesLeft) })),
    h("p", { class: "hint" }, say(denied ? "road-run-position-no" : now.by === "position" ? "road-run-position-on"
      : "road-run-by-time")),
    others(app, now, ahead), stillAhead(app, ahead), countedIn(app, now),
    h("p", { class: "note" }, say("road-run-caution")), h("p", { class: "note" }, say("road-run-sleeps")),
  ];
  const foot = now.rests
    ? button(say("road-run-on"), () => { ready(); return change(app, runs.goOn); }, "answer main")
    : button(say("road-run-rest"), () => change(app, runs.rest), "answer main");
  return framed(say("road-run-title"), main, foot, due.length ? "road halt" : "road");
}

/** Nothing but the call, as large as the screen, until somebody answers it. */
/** @param {App} app @param {Run} now */
function loud(app, now) {
  call();
  const due = runs.loudOf(now);
  /** @param {(run: Run, now: number) => Run} how */
  const heard = (how) => { silence(); return change(app, how); };
  return framed(say("road-run-now"), [
    h("p", { class: "shout" }, due.map(whatOf).filter(Boolean).join(", ")),
    h("p", {}, say("road-run-caution")),
  ], [
    button(say("road-run-stand"), () => heard((one, at) => runs.hear(runs.rest(one, at))), "answer main"),
    button(say("road-run-heard"), () => heard(runs.hear), "answer quietly"),
  ], "road halt shouting");
}

/** @param {App} app @param {RunStop} stop */
const dueStop = (app, stop) => h("section", { class: "due loud" },
  h("strong", {}, say("road-run-due", { what: whatOf(stop) })),
  button(say("road-run-check"), () => checkAt(app, stop), "answer"),
  button(say("road-run-done"), () => change(app, (one, at) => runs.finish(one, stop.id, at)), "answer quietly"));

/** @param {App} app @param {StopAhead[]} ahead */
const stillAhead = (app, ahead) => ahead.length > 1 && h("details", {}, h("summary", {}, say("road-run-ahead")),
  h("ul", { class: "plainlist" }, ahead.map((stop) => h("li", {}, say("road-run-item",
    { what: whatOf(stop), distance: distance(app, stop.left) })))));

/** What the plan rests on, and where each of it is known from. */
/** @param {App} app @param {Run} now */
function countedIn(app, now) {
  /** @param {string} work */
  const because = (work) => {
    const { by, made } = now.why?.[work] ?? {};
    return by ? say(`road-run-by-${by}`, { day: made ? dayText(made) : "" }) : say("road-run-by-you");
  };
  return h("section", {}, h("h2", {}, say("road-run-counted")),
    now.work.length ? h("ul", { class: "plainlist" }, now.work.map((work) =>
      h("li", {}, say(`road-run-work-${work}`), h("span", { class: "hint" }, ` ${because(work)}`))))
      : h("p", {}, say("road-run-counted-none")),
    anchor(say("road-run-plan"), "#/run/plan", "plain"), anchor(say("road-trip"), "#/trip", "plain"));
}

/** @param {App} app @param {Run} now @param {StopAhead[]} ahead */
function others(app, now, ahead) {
  return h("div", { class: "choices" },
    ahead.length > 0 && button(say("road-run-calendar"), () => calendarFile(ahead.map((stop) => ({
      start: new Date(Date.now() + stop.minutesLeft * 60_000),
      title: say("road-run-calendar-title", { what: whatOf(stop) }),
      text: say("road-run-calendar-text"), id: `${now.id}-${stop.id.replace(":", "-")}`,
    }))), "answer quietly"),
    now.by !== "position" && !denied && button(say("road-run-position"), () => follow(app), "answer quietly"),
    !now.legs.some(({ name }) => name === "back") && button(say("road-run-back"), () => change(app, runs.turnBack),
      "answer quietly"),
    typing(app, now),
    button(say("road-run-end"), async () => {
      quiet();
      await keepRun(app);
      redraw();
    }, "answer quietly"));
}

/** End the run and keep it as a record; under a shop's link it goes to the shop. */
/** @param {App} app */
async function keepRun(app) {
  const stored = await app.store.get("settings", "run");
  const now = /** @type {Run} */ (stored?.value ?? app.settings.run), over = runs.end(now, Date.now());
  if (now.ended === null) {
    const sealed = await seal("run", runs.recordOf(over, localTime));
    await app.store.commit([...keeping(sealed, over.link ? { link: over.link } : {}),
      ["settings", { key: "run", value: over }]]);
  }
  app.settings.run = over;
  await app.sender.report();
  app.sender.send();
}

/** @param {App} app @param {Run} now */
function typing(app, now) {
  const field = h("input", { inputmode: "decimal", "aria-label": say("road-run-typed-ask",
    { unit: distanceUnit(app) }), value: fromKm(app, now.km).toFixed(1) });
  const box = h("details", {}, h("summary", {}, say("road-run-typed")), h("form", {
    onsubmit: async (event) => {
      event.preventDefault();
      try {
        const km = toKm(app, runs.numberOf(field.value));
        runs.typed(now, km, Date.now()); // what cannot be is refused before the store is opened
        await change(app, (one, at) => runs.typed(one, km, at));
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        box.querySelector(".trouble")?.remove();
        box.append(trouble(say("road-run-typed-wrong")));
      }
    },
  }, h("label", {}, say("road-run-typed-ask", { unit: distanceUnit(app) }), field),
    h("button", { class: "answer" }, say("road-run-set"))));
  return box;
}

/** The check opens with what the run knows. */
/** @param {App} app @param {RunStop} stop */
async function checkAt(app, stop) {
  const now = await advanced(app, runs.rest), air = airOf(await pastOf(app.store, now.trailer), Date.now());
  const { stood, ...known } = runs.knownAt(now, Date.now()), facts = air ? { ...known, air: air.air } : known;
  const { check: kind, due } = runs.checkFor(stop), linked = app.links.find(({ id, dead }) => id === now.link && !dead);
  const its = linked?.trailer;
  const under = linked && its
    ? { trailer: { ...its, facts: its.facts ?? {}, typed: {} }, link: linked.id, due: due?.id } : null;
  /** @type {Typed} */
  const typed = air?.typed === undefined ? {} : { air: air.typed };
  return kind === "quick_stop" ? startStop(app, under, { trailer: now.trailer, facts, typed, stoppedAt: stood })
    : startCheck(app, kind, now.trailer, { ...facts, parked: Math.round(Math.min(600, (Date.now() - stood) / 60_000)) },
      typed, under);
}

// ---- position and clock ----

/** @param {App} app */
function follow(app) {
  if (!navigator.geolocation) { denied = true; return redraw(); }
  watch = navigator.geolocation.watchPosition(async ({ coords: { latitude, longitude, accuracy } }) => {
    const { run: now } = app.settings;
    if (now?.ended !== null) return quiet();
    /** @type {(one: Run, at: number) => Run} */
    const took = (one, at) => runs.advance(one.by === "position" ? one : runs.countBy(one, "position", at), at,
      { latitude, longitude, accuracy });
    if (isOpen()) return change(app, took);
    return setSetting(app, "run", took(now, Date.now()));
  }, async () => {
    stopWatch();
    denied = true;
    await change(app, (one, at) => runs.countBy(one, "time", at));
  }, { enableHighAccuracy: true, maximumAge: 5000 });
  return null;
}

const isOpen = () => location.hash === "#/run" && !document.querySelector("details[open] form");

function stopWatch() {
  if (watch !== null) navigator.geolocation.clearWatch(watch);
  watch = null;
}

function quiet() {
  stopWatch();
  if (ticker) clearInterval(ticker.id);
  if (ticker) document.removeEventListener("visibilitychange", ticker.look);
  ticker = null;
  keepLit(false);
}

/** Look at the clock every so often, and at once when the phone wakes; the first tap since a start allows sound. */
/** @param {App} app */
function tick(app) {
  if (ticker !== null) return;
  const look = () => glance(app);
  ticker = { id: setInterval(look, TICK), look };
  document.addEventListener("visibilitychange", look);
  document.addEventListener("pointerdown", ready, { once: true });
}

/** @param {App} app */
function glance(app) {
  const { run: now } = app.settings;
  if (now?.ended !== null) { quiet(); return; }
  if (document.visibilityState !== "visible") return;
  // Drawing anew would close what the person has open and take what they typed.
  if (isOpen()) redraw();
  else if (!QUIET.test(location.hash) && !location.hash.startsWith("#/run")
    && runs.loudOf(runs.advance(now, Date.now())).length) go("#/run");
}

// ---- over ----

/** @param {App} app @param {Run} now */
function ended(app, now) {
  const { stops } = runs.recordOf(now, localTime), left = stops.filter(({ done }) => !done);
  const done = stops.length - left.length;
  return framed(say("road-run-ended"), [
    h("p", { class: "driven" }, say("road-run-driven",
      { distance: distance(app, now.km), time: minutesText(now.minutes) })),
    h("p", {}, say("road-run-ended-done", { count: done, all: stops.filter(({ reached }) => reached).length })),
    left.filter(({ reached }) => reached).map((stop) =>
      h("p", { class: "note" }, say("road-run-ended-left", { what: whatOf(stop) }))),
    left.filter(({ reached }) => !reached).map((stop) =>
      h("p", {}, say("road-run-ended-ahead", { what: whatOf(stop), distance: distance(app, stop.km ?? 0) }))),
    h("p", { class: "hint" }, say(now.link ? "road-run-kept-sent" : "road-run-kept")),
    now.trailer && anchor(say("road-run-trailer"), `#/trailer/${now.trailer}`, "answer"),
  ], button(say("road-run-new"), async () => { await setSetting(app, "run", null); redraw(); }, "answer main"));
}
