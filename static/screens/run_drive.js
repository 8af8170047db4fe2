// A run under way: what is due, how far it is, what comes next; loud when a stop is reached.

import * as runs from "../data/run.js";
import { knownAt } from "../data/run_kept.js";
import { checkFor } from "../data/run_plan.js";
import { airNow } from "../data/presets.js";
import { newest } from "../data/stops.js";
import { numberOf } from "../data/typed.js";
import { numberText, say } from "../data/words.js";
import { linkOf, startCheck, underOf } from "../keep.js";
import { sure } from "../dialog.js";
import { calendarFile } from "../parts/calendar.js";
import { h } from "../parts/h.js";
import { button, dayText, link as anchor, trouble } from "../parts/page.js";
import { go, resumeHash } from "../router.js";
import { call, keepLit, ready, silence } from "./calling.js";
import { startStop } from "./stop_signs.js";
import { distance, distanceUnit, framed, fromKm, minutesText, toKm, whatOf } from "./road.js";
import { advanced, change, drawn, follow, isDenied, tick } from "./run_clock.js";
import { endRun } from "./run_over.js";
import { carriedBy, carriedCard, doubtOf, ofTrailer } from "./run_verdict.js";

const HERE = 1; // km: nearer than this a check was begun at this stop

/** @param {App} app */
export async function driving(app) {
  const now = await advanced(app, runs.advance);
  tick(app);
  keepLit(!now.rests);
  if (now.by === "position") follow(app);
  if (runs.loudOf(now).length) return loud(app, now);
  const carried = await carriedBy(app, now), figures = new Figures(now);
  const due = runs.dueOf(now), ahead = runs.aheadOf(now);
  const main = [
    await ofTrailer(app, now), carriedCard(app, carried),
    due.map((stop) => dueStop(app, stop, figures)), undo(app, now),
    figures.line("driven", (run) => say("road-run-driven",
      { distance: distance(app, run.km), time: minutesText(run.minutes) })),
    now.rests && h("p", { class: "note" }, say(now.silent ? "road-run-silent" : "road-run-resting")),
    ahead.length > 0 && figures.line("next", (run) => next(app, run)),
    goOn(app, now, carried),
    h("p", { class: "hint" }, say(isDenied() ? "road-run-position-no" : now.by === "position" ? "road-run-position-on"
      : "road-run-by-time")),
    others(app, now), stillAhead(app, ahead, figures), countedIn(now),
    h("p", { class: "note" }, say("road-run-caution")), h("p", { class: "note" }, say("road-run-sleeps")),
  ];
  drawn(now, (run) => figures.tell(run));
  return framed(say("road-run-title"), main, null, due.length || carried.level === "stop" ? "road halt" : "road");
}

/** What goes on changing while the screen stands, told in place: nothing under a finger moves. */
class Figures {
  /** @param {Run} run */
  constructor(run) {
    this.run = run;
    /** @type {((run: Run) => void)[]} */
    this.lines = [];
  }

  /** @param {string} name @param {(run: Run) => string} told @param {"p" | "li"} kind */
  line(name, told, kind = "p") {
    const line = h(kind, { class: name }, told(this.run));
    this.lines.push((run) => { line.textContent = told(run); });
    return line;
  }

  /** @param {Run} run */
  tell(run) {
    for (const line of this.lines) line(run);
  }
}

/** Nothing that drives on while a *Stop now* waits; with what else speaks against it, who says so twice. */
/** @param {App} app @param {Run} now @param {Carried} carried */
function goOn(app, now, carried) {
  const on = () => { ready(); return change(app, runs.goOn); };
  if (!now.rests) return button(say("road-run-rest"), () => change(app, runs.rest), "answer main");
  const doubt = doubtOf(app, carried);
  if (carried.level === "stop" && !carried.shop) return h("p", { class: "note" }, doubt);
  if (doubt) return button(say("road-run-on"), async () => await sure(doubt, say("road-run-on")) && on(),
    "answer quietly");
  if (!carried.towed) return button(say("road-run-on"), on, "answer main");
  return h("div", { class: "row" }, button(say("road-run-on"), on, "answer quietly"),
    button(say("road-run-end"), () => endRun(app), "answer main"));
}

/** Nothing but the call, as large as the screen, until somebody answers it. */
/** @param {App} app @param {Run} now */
function loud(app, now) {
  call();
  const due = runs.loudOf(now), figures = new Figures(now);
  /** @param {(run: Run, now: number) => Run} how */
  const heard = (how) => { silence(); return change(app, how); };
  drawn(now, (run) => figures.tell(run));
  return framed(say("road-run-now"), [
    h("p", { class: "shout" }, whatOf(due)),
    figures.line("overdue", (run) => overdue(app, run, due[0])),
    h("p", {}, say("road-run-caution")),
  ], [
    button(say("road-run-stand"), () => heard((one, at) => runs.hear(runs.rest(one, at), at)), "answer main"),
    button(say("road-run-heard"), () => heard(runs.hear), "answer quietly"),
  ], "road halt shouting");
}

/** @param {App} app @param {Run} run @param {RunStop} stop */
function overdue(app, run, stop) {
  const { km, minutes = 0 } = runs.pastBy(run, stop);
  if (km === undefined) return minutes < 1 ? "" : say("road-run-past", { by: minutesText(minutes) });
  return fromKm(app, km) < 0.1 ? "" : say("road-run-past", { by: distance(app, km) });
}

/** @param {App} app @param {RunStop} stop @param {Figures} figures */
const dueStop = (app, stop, figures) => h("section", { class: "due loud" },
  h("strong", {}, say("road-run-due", { what: whatOf([stop]) })),
  figures.line("overdue", (run) => overdue(app, run, stop)),
  button(say("road-run-check"), () => checkAt(app, stop), "answer"),
  button(say("road-run-done"), () => change(app, (one, at) => runs.finish(one, stop.id, at)), "answer quietly"));

/** What one tap did can be taken back: the stop last ticked off, and the distance last typed. */
/** @param {App} app @param {Run} now */
function undo(app, now) {
  const [ticked] = runs.tickedOf(now), { typed } = now;
  /** @param {string} text @param {(run: Run, at: number) => Run} how */
  const line = (text, how) => h("p", { class: "undo" }, text, " ",
    button(say("road-run-undo"), () => change(app, how), "plain",
      { "aria-label": say("road-run-undo-what", { text }) }));
  return [
    ticked && line(say("road-run-ticked", { what: whatOf([ticked]) }), (one, at) => runs.unfinish(one, ticked.id, at)),
    typed && line(say("road-run-typed-was", { from: distance(app, typed.from), to: distance(app, typed.to) }),
      runs.untyped),
  ];
}

/** @param {App} app @param {Run} run */
function next(app, run) {
  const [first] = runs.aheadOf(run);
  return first ? say("road-run-next", { what: whatOf([first]), distance: distance(app, first.left),
    time: minutesText(first.minutesLeft) }) : "";
}

/** @param {App} app @param {StopAhead[]} ahead @param {Figures} figures */
const stillAhead = (app, ahead, figures) => ahead.length > 1 && h("details", {},
  h("summary", {}, say("road-run-ahead")),
  h("ul", { class: "plainlist" }, ahead.map(({ id }) => figures.line("", (run) => {
    const stop = runs.aheadOf(run).find((one) => one.id === id);
    return stop ? say("road-run-item", { what: whatOf([stop]), distance: distance(app, stop.left) }) : "";
  }, "li"))));

/** What the plan rests on, and where each of it is known from. */
/** @param {Run} now */
function countedIn(now) {
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

/** @param {App} app @param {Run} now */
function others(app, now) {
  return h("div", { class: "choices" },
    runs.aheadOf(now).length > 0 && button(say("road-run-calendar"), () => alarms(app), "answer quietly"),
    now.by !== "position" && !isDenied() && button(say("road-run-position"), () => follow(app), "answer quietly"),
    !now.legs.some(({ name }) => name === "back") && button(say("road-run-back"), () => change(app, runs.turnBack),
      "answer quietly"),
    typing(app, now), button(say("road-run-end"), () => endRun(app), "answer quietly"));
}

/** @param {App} app */
async function alarms(app) {
  const now = await advanced(app, runs.advance);
  return calendarFile(runs.aheadOf(now).map((stop) => ({
    start: new Date(Date.now() + stop.minutesLeft * 60_000),
    title: say("road-run-calendar-title", { what: whatOf([stop]) }),
    text: say("road-run-calendar-text"), id: `${now.id}-${stop.id.replace(":", "-")}`,
  })));
}

/** @param {App} app @param {Run} now */
function typing(app, now) {
  const field = h("input", { inputmode: "decimal", "aria-label": say("road-run-typed-ask",
    { unit: distanceUnit(app) }), value: numberText(fromKm(app, now.km), 1) });
  const box = h("details", {}, h("summary", {}, say("road-run-typed")), h("form", {
    onsubmit: async (event) => {
      event.preventDefault();
      try {
        const km = toKm(app, numberOf(field.value));
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

/** A check of this kind that was begun where the run still stands, the newest; it goes on where it was left. */
/** @param {App} app @param {Run} now @param {string} kind @param {number} km since the hubs were cold */
async function begunAt(app, now, kind, km) {
  const all = new Map([...await app.store.all("drafts"), ...app.drafts.values()].map((one) => [one.id, one]));
  return [...all.values()].sort(newest).find(({ run, check, trailer, facts }) => check === kind && run === now.id
    && (trailer ?? null) === now.trailer && Math.abs(Number(facts.run_distance) - km) < HERE);
}

/** The check opens with what the run knows. */
/** @param {App} app @param {Pick<RunStop, "what" | "dues">} stop */
export async function checkAt(app, stop) {
  const now = await advanced(app, runs.rest), { facts: air, typed } = await airNow(app.store, now.trailer);
  const { stood, ...known } = knownAt(now, Date.now()), facts = { ...known, ...air };
  const { check: kind, due } = checkFor(stop), begun = await begunAt(app, now, kind, known.run_distance);
  if (begun) return go(resumeHash(app.book, begun));
  const under = underOf(linkOf(app, now.link), due?.id);
  return kind === "quick_stop" ? startStop(app, under, { trailer: now.trailer, facts, typed, stoppedAt: stood })
    : startCheck(app, kind, now.trailer, { ...facts, parked: Math.round(Math.min(600, (Date.now() - stood) / 60_000)) },
      typed, under);
}
