// The run as it is stored, and what moves it on while the app is open: the clock, the position, another window.

import * as runs from "../data/run.js";
import { StorageFull } from "../data/store.js";
import { go, redraw } from "../router.js";
import { call, keepLit, ready } from "./calling.js";

const TICK = 20_000; // ms between two looks at the clock while the screen is on
const CLICK = 150; // ms from a finger lifted until its tap has been heard
const QUIET = /^#\/(ask|stop|walk|now|answers|sofar|figures|trailer\/new)/; // screens that a call would tear away
const windows = "BroadcastChannel" in globalThis ? new BroadcastChannel("twentymile-run") : null;
/** @type {number | null} */
let watch = null;
/** @type {number | null} */
let ticker = null;
let denied = false;
/** @type {{ like: string, update: (run: Run) => void } | null} what the screen of the run shows */
let shown = null;
let pressed = false, waiting = false;

export const isDenied = () => denied;

/** The run as it is stored by now, whichever window changed it; or null. */
/** @param {App} app */
export async function storedRun(app) {
  const stored = app.full ? null : await app.store.get("settings", "run");
  return app.settings.run = /** @type {Run | null} */ (stored ? stored.value : app.settings.run ?? null);
}

/** The run as it is stored by now, taken on by `how`: what another window knows of it counts too. */
/** @param {App} app @param {(run: Run, now: number) => Run} how */
export async function advanced(app, how) {
  /** @param {{ value: unknown }} [stored] */
  const make = (stored) =>
    ({ key: "run", value: how(/** @type {Run} */ (stored?.value ?? app.settings.run), Date.now()) });
  const made = await app.store.change("settings", "run", make).catch((error) => {
    if (!(error instanceof StorageFull)) throw error;
    app.full = true; // the run goes on in memory
    return make();
  });
  return app.settings.run = /** @type {Run} */ (made?.value);
}

/** What the person did to the run: here, and on the screens of other windows. */
/** @param {App} app @param {(run: Run, now: number) => Run} how */
export async function change(app, how) {
  await advanced(app, how);
  tellOthers();
  return redraw();
}

export const tellOthers = () => windows?.postMessage(0);

// ---- the screen ----

/** All that makes another screen: what differs in figures only is told in place. */
/** @param {Run} run */
const likeOf = (run) => JSON.stringify([run.id, run.ended, run.rests, run.silent, run.by, run.legs.length, denied,
  run.typed?.to, run.checks, Object.keys(run.done), runs.loudOf(run).map(({ id }) => id),
  runs.dueOf(run).map(({ id }) => id), runs.aheadOf(run).map(({ id }) => id)]);

/** The screen of `run` is drawn; `update(run)` tells its figures anew. */
/** @param {Run} run @param {(run: Run) => void} update */
export const drawn = (run, update) => { shown = { like: likeOf(run), update }; };

const isOpen = () => location.hash === "#/run";
const isTyping = () => Boolean(document.querySelector("details[open] form"));

/** Tell the figures in place; another screen only comes when no finger is down: it would take the tap away. */
/** @param {Run} run */
function show(run) {
  if (runs.loudOf(run).length) call();
  if (shown?.like === likeOf(run)) shown.update(run);
  else if (pressed) waiting = true;
  else if (!isTyping()) redraw(); // drawing anew would take what the person typed
}

function lifted() {
  setTimeout(() => {
    pressed = false;
    if (waiting && isOpen()) redraw();
    waiting = false;
  }, CLICK);
}

/** Look at the clock every so often. */
/** @param {App} app */
export function tick(app) {
  if (ticker !== null) return;
  ticker = setInterval(() => glance(app), TICK);
}

let listening = false;

/** Look at the clock at once when the phone wakes; the first tap since a start allows sound. */
/** @param {App} app */
export function listen(app) {
  if (listening) return;
  listening = true;
  document.addEventListener("visibilitychange", () => glance(app));
  document.addEventListener("pointerdown", ready, { once: true });
  document.addEventListener("pointerdown", () => { pressed = true; }, true);
  for (const name of ["pointerup", "pointercancel"]) document.addEventListener(name, lifted, true);
  windows?.addEventListener("message", async () => {
    const run = await storedRun(app);
    if (isOpen()) run ? show(run) : redraw();
  });
}

/** @param {App} app */
async function glance(app) {
  if (!app.settings.run || app.settings.run.ended !== null) { quiet(); return; }
  if (document.visibilityState !== "visible") return;
  if (isOpen()) return show(await advanced(app, runs.advance));
  if (!QUIET.test(location.hash) && !location.hash.startsWith("#/run")
    && runs.loudOf(runs.advance(app.settings.run, Date.now())).length) go("#/run");
}

// ---- the position ----

/** Count by position from now on; a run that is counted so goes on. */
/** @param {App} app */
export function follow(app) {
  if (watch !== null || denied) return null;
  if (!navigator.geolocation) { denied = true; return redraw(); }
  watch = navigator.geolocation.watchPosition(async ({ coords: { latitude, longitude, accuracy } }) => {
    if (app.settings.run?.ended !== null) return quiet();
    const run = await advanced(app, (one, at) => runs.advance(one.by === "position" ? one
      : runs.countBy(one, "position", at), at, { latitude, longitude, accuracy }));
    if (isOpen()) show(run);
  }, async () => {
    stopWatch();
    denied = true;
    await change(app, (one, at) => runs.countBy(one, "time", at));
  }, { enableHighAccuracy: true, maximumAge: 5000 });
  return null;
}

function stopWatch() {
  if (watch !== null) navigator.geolocation.clearWatch(watch);
  watch = null;
}

export function quiet() {
  stopWatch();
  if (ticker !== null) clearInterval(ticker);
  ticker = null;
  keepLit(false);
}
