// A run on the screen: begun, driven, called to a stop, ended. All that counts is in data/run.js.

import * as runs from "../data/run.js";
import { uuid7 } from "../data/records.js";
import { say } from "../data/words.js";
import { setSetting, startCheck } from "../keep.js";
import { redraw } from "../router.js";
import { calendarFile } from "../parts/calendar.js";
import { h } from "../parts/h.js";
import { button, trouble } from "../parts/page.js";
import { choices, distance, distanceUnit, framed, fromKm, minutesText, toKm, withWords } from "./road.js";

const TICK = 20_000; // ms between two looks at the clock while the screen is on
const SPEEDS = { mi: [45, 55, 65], km: [70, 90, 100] };
const setup = { work: new Set(), speed: null };
let watch = null, ticker = null, told = "", denied = false, sound = null;

export const run = (app) => withWords(() => {
  const now = app.settings.run;
  if (!now) return start(app);
  return now.ended === null ? driving(app) : ended(app, now);
});

const keep = (app, next) => setSetting(app, "run", next);
async function change(app, how) {
  await keep(app, how(app.settings.run, Date.now()));
  return redraw();
}
const whatOf = ({ what }) => what.map((one) => say(`road-run-what-${one}`)).join(", ");

// ---- begin ----

function start(app) {
  const unit = distanceUnit(app), speeds = SPEEDS[unit];
  setup.speed = speeds.includes(setup.speed) ? setup.speed : speeds[1];
  const toggle = (id) => { if (!setup.work.delete(id)) setup.work.add(id); redraw(); };
  return framed(say("road-run-title"), [
    h("p", {}, say("road-run-lead")), h("h2", {}, say("road-run-work")),
    choices(runs.WORK, setup.work, (id) => say(`road-run-work-${id}`), toggle),
    h("h2", {}, say("road-run-speed")),
    choices(speeds, setup.speed, (speed) => say(`road-speed-${unit}`, { speed }),
      (speed) => { setup.speed = speed; redraw(); }),
    h("p", { class: "note" }, say("road-run-caution")), h("p", { class: "note" }, say("road-run-sleeps")),
  ], button(say("road-run-start"), async () => {
    ready();
    const speed = toKm(app, setup.speed), now = Date.now();
    await keep(app, runs.begin({ id: uuid7(), trailer: app.settings.trailer ?? null, speed, work: [...setup.work],
      now }));
    redraw();
  }, "answer main"));
}

// ---- under way ----

async function driving(app) {
  await keep(app, runs.advance(app.settings.run, Date.now()));
  const now = app.settings.run, due = runs.dueOf(now), ahead = runs.aheadOf(now);
  tick(app);
  if (now.by === "position" && watch === null) follow(app);
  call(due);
  const main = [
    due.length > 0 && h("p", { class: "act" }, say("road-run-now")),
    due.map((stop) => h("section", { class: "due loud" }, h("strong", {}, say("road-run-due", { what: whatOf(stop) })),
      button(say("road-run-check"), () => check(app), "answer"),
      button(say("road-run-done"), () => change(app, (one, at) => runs.finish(one, stop.id, at)), "answer quietly"))),
    h("p", { class: "driven" }, say("road-run-driven",
      { distance: distance(app, now.km), time: minutesText(now.minutes) })),
    now.rests && h("p", { class: "note" }, say(now.silent ? "road-run-silent" : "road-run-resting")),
    ahead.length > 0 && h("p", { class: "next" }, say("road-run-next",
      { what: whatOf(ahead[0]), distance: distance(app, ahead[0].left), time: minutesText(ahead[0].minutesLeft) })),
    h("p", { class: "hint" }, say(denied ? "road-run-position-no" : now.by === "position" ? "road-run-position-on"
      : "road-run-by-time")),
    others(app, now, ahead),
  ];
  const foot = now.rests
    ? button(say("road-run-on"), () => change(app, runs.goOn), "answer main")
    : button(say("road-run-rest"), () => change(app, runs.rest), "answer main");
  return framed(say("road-run-title"), main, foot, due.length ? "road halt" : "road");
}

function others(app, now, ahead) {
  const first = ahead[0];
  return h("div", { class: "choices" },
    first && button(say("road-run-calendar"), () => calendarFile({
      start: new Date(Date.now() + first.minutesLeft * 60_000),
        title: say("road-run-calendar-title", { what: whatOf(first) }),
      text: say("road-run-calendar-text"), id: `${now.id}-${first.id.replace(":", "-")}`,
    }), "answer quietly"),
    now.by !== "position" && !denied && button(say("road-run-position"), () => follow(app), "answer quietly"),
    !now.legs.some(({ name }) => name === "back") && button(say("road-run-back"), () => change(app, runs.turnBack),
      "answer quietly"),
    typing(app, now),
    button(say("road-run-end"), async () => { quiet(); await change(app, runs.end); }, "answer quietly"));
}

function typing(app, now) {
  const field = h("input", { inputmode: "decimal", "aria-label": say("road-run-typed-ask",
    { unit: distanceUnit(app) }), value: fromKm(app, now.km).toFixed(1) });
  const box = h("details", {}, h("summary", {}, say("road-run-typed")), h("form", {
    onsubmit: async (event) => {
      event.preventDefault();
      try {
        const km = toKm(app, Number(field.value.trim().replace(",", ".") || Number.NaN));
        await change(app, (one, at) => runs.typed(one, km, at));
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        box.append(trouble(say("road-run-typed-wrong")));
      }
    },
  }, h("label", {}, say("road-run-typed-ask", { unit: distanceUnit(app) }), field),
    h("button", { class: "answer" }, say("road-run-set"))));
  return box;
}

/** The check opens with what the run knows. */
async function check(app) {
  const now = runs.rest(app.settings.run, Date.now());
  await keep(app, now);
  quiet();
  const [km, speed] = [Math.round(now.km * 10) / 10, Math.round(now.speed)];
  return startCheck(app, "run_stop", now.trailer, { run_distance: km, run_speed: speed });
}

// ---- position, clock, call ----

function follow(app) {
  if (!navigator.geolocation) { denied = true; return redraw(); }
  watch = navigator.geolocation.watchPosition(async ({ coords: { latitude, longitude, accuracy } }) => {
    if (app.settings.run?.ended !== null || location.hash !== "#/run") return quiet();
    await change(app, (one, at) => runs.advance(one.by === "position" ? one : runs.countBy(one, "position", at), at,
      { latitude, longitude, accuracy }));
  }, async () => {
    quiet();
    denied = true;
    await change(app, (one, at) => runs.countBy(one, "time", at));
  }, { enableHighAccuracy: true, maximumAge: 5000 });
  return null;
}

function quiet() {
  if (watch !== null) navigator.geolocation.clearWatch(watch);
  clearInterval(ticker);
  watch = ticker = null;
}

function tick(app) {
  if (ticker !== null) return;
  ticker = setInterval(() => {
    if (location.hash !== "#/run" || app.settings.run?.ended !== null) return quiet();
    // Drawing anew would close what the person has open and take what they typed.
    if (document.visibilityState === "visible" && !document.querySelector("details[open]")) redraw();
    return undefined;
  }, TICK);
}

/** A tap allows sound; it is kept for the call. */
const ready = () => { sound ??= window.AudioContext ? new AudioContext() : null; };

function call(due) {
  const names = due.map(({ id }) => id).join();
  if (names && names !== told) {
    navigator.vibrate?.([600, 200, 600, 200, 600]);
    for (let beep = 0; sound && beep < 4; beep++) tone(sound.currentTime + beep * 0.5);
  }
  told = names;
}

function tone(at) {
  const source = sound.createOscillator(), loud = sound.createGain();
  loud.gain.value = 0.4;
  source.frequency.value = 880;
  source.connect(loud).connect(sound.destination);
  source.start(at);
  source.stop(at + 0.3);
}

// ---- over ----

function ended(app, now) {
  const left = runs.dueOf(now), all = Object.keys(now.reached).length;
  return framed(say("road-run-ended"), [
    h("p", { class: "driven" }, say("road-run-driven",
      { distance: distance(app, now.km), time: minutesText(now.minutes) })),
    h("p", {}, say("road-run-ended-done", { count: all - left.length, all })),
    left.map((stop) => h("p", { class: "note" }, say("road-run-ended-left", { what: whatOf(stop) }))),
  ], button(say("road-run-new"), async () => { setup.work.clear(); await keep(app, null); redraw(); }, "answer main"));
}
