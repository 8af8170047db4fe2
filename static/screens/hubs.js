// A stop, hands first: eyes and nose before hands, one axle a screen with both mates in view, and the
// road's figures last, since hubs cool while figures wait.

import { answered, answers, axlesOf, choicesOf, factOf, isYesNo, placeOf, pointOf, steps } from "../data/asking.js";
import { freshStops } from "../data/stops.js";
import { rangeOf } from "../engine/formula.js";
import { placeName, say, sentence } from "../data/words.js";
import { beginCheck, draftOf, saveDraft } from "../keep.js";
import { back, go, later, missing, openHash, slot } from "../router.js";
import { inOwnUnit } from "../parts/numbers.js";
import { tires } from "../parts/plan.js";
import { choicesRow, isQuick } from "../parts/rows.js";
import { h, nodes } from "../parts/h.js";
import { announce, backButton, button, page, trouble } from "../parts/page.js";
import { levelNow } from "../parts/sign.js";

const SIDES = ["L", "R"];
/** @param {Pick<Draft, "id">} draft @param {string} step */
const stopHash = (draft, step) => `#/stop/${draft.id}/${encodeURIComponent(step)}`;

/**
 * Begin a stop now: this moment is where the minutes parked count from, unless a run knows better. Nothing is kept
 * before an answer.
 */
/** @param {App} app @param {Under | null} under @param {StopKnown} known */
export async function startStop(app, under = null, known = {}) {
  const { trailer = app.settings.trailer, facts, typed, stoppedAt = Date.now() } = known;
  const draft = await beginCheck(app, "quick_stop", under?.trailer?.id ?? trailer, facts, typed, under);
  app.drafts.set(draft.id, { ...draft, stoppedAt });
  return go(stopHash(draft, "signs"));
}

/** One screen of the stop: `signs`, `where.FACT`, `trailer`, `hubs.AXLE` or `run`. */
/** @param {App} app @param {string} id @param {string | undefined} step */
export async function stopStep(app, id, step) {
  const draft = await draftOf(app, id);
  if (!draft) return missing(say("app-check-gone"));
  if (!step) return takenUp(new Stop(app, draft, "signs"));
  const [name, at] = step.split(".");
  /** @type {Record<string, (stop: Stop, at: string) => Shown | Promise<Shown>>} */
  const screens = { signs, where, trailer: theTrailer, hubs, run: theRun };
  return screens[name] ? screens[name](new Stop(app, draft, step), at) : go(openHash(app.book, draft));
}

/** Where a stop goes on: eyes first, if they have not looked yet. */
/** @param {Stop} stop */
function takenUp(stop) {
  const unseen = signFacts(stop.book).some((fact) =>
    placesOf(stop.book, stop.draft, fact).some((key) => !(key in stop.draft.facts)));
  return unseen ? go(stopHash(stop.draft, "signs"), { replace: true }) : stop.forward("signs", true);
}

class Stop {
  /** @param {App} app @param {Draft} draft @param {string} step */
  constructor(app, draft, step) {
    this.app = app;
    this.book = app.book;
    this.draft = draft;
    this.step = step;
    this.at = ""; // the wheel tapped on the drawing
    /** @type {Given} */
    this.fresh = {};
    this.problem = h("div", {});
  }

  /** Save answers; a *Stop now* they bring opens its page, whatever was to come next. */
  /** @param {Given} given @param {(() => unknown) | null} next */
  async give(given, next = null) {
    const before = this.draft, after = answered(before, given);
    this.draft = after;
    try {
      await saveDraft(this.app, after);
    } catch (error) {
      // The answer stays in memory, so going on is possible; the person decides.
      const on = button(say("app-stop-unsaved"), () => this.onward(before, next), "plain");
      return this.problem.replaceChildren(trouble(sentence(error), on));
    }
    return this.onward(before, next);
  }

  /** @param {Draft} before @param {(() => unknown) | null} next */
  onward(before, next) {
    if (!freshStops(this.book, before, this.draft).length) return next?.();
    navigator.vibrate?.([200, 100, 200]);
    return go(`#/now/${this.draft.id}`);
  }

  /** Keys still to be asked here, of some stations. */
  /** @param {string[]} stations */
  keys(stations) {
    return steps(this.book, this.draft).filter((one) => stations.includes(one.station)).flatMap((one) => one.keys);
  }

  /** @param {string[]} stations */
  open(stations) {
    return this.keys(stations).filter((key) => !(key in this.draft.facts) && !this.draft.skipped?.includes(key));
  }

  /** The next screen after `step`, in the order of the stop. */
  forward(step = this.step, replace = false) {
    const { draft, book } = this, axles = axlesOf(draft);
    const order = ["trailer", ...Array.from({ length: axles }, (_, n) => `hubs.${n + 1}`), "run"];
    for (const one of order.slice(order.indexOf(step) + 1)) {
      if (one === "trailer" && !this.open(["about"]).length) continue;
      if (one === "run" && !runKeys(this).some((key) => !(key in draft.facts))) continue;
      if (one.startsWith("hubs") && !this.openHubs(one.split(".")[1])) continue;
      return go(stopHash(draft, one), { replace });
    }
    const left = steps(book, draft).some((s) => s.keys.some((key) => !(key in draft.facts)
      && !draft.skipped?.includes(key)));
    return go(left ? openHash(book, draft) : `#/sofar/${draft.id}`, { replace });
  }

  /** Whether a hub of an axle is still to be felt or measured. */
  /** @param {string} axle */
  openHubs(axle) {
    if (!("hub_method" in this.draft.facts)) return true;
    return this.open(["wheels"]).some((key) => /^(hub_feel|hub_reading|pair_feel)@/.test(key)
      && placeOf(key)[0] === axle);
  }

  /** The camera may make the phone load the page again, so what was answered is stored first. */
  /** @param {string} point */
  camera(point) {
    const stored = async () => { this.draft = await saveDraft(this.app, this.draft); };
    return slot(() => import("./camera.js"), ({ cameraButton }) =>
      cameraButton(this.app, this.draft.id, point, stored));
  }

  /** @param {StopParts} of */
  page({ title, body, foot, home = null, name = "" }) {
    const { draft, book } = this;
    return page({
      name: `asking handsfirst ${name}`,
      title,
      back: backButton(() => (home ? back(home) : history.back())),
      middle: levelNow(book, draft),
      end: button(say("app-stop-later"), () => go(`#/pause/${draft.id}`), "plain"),
      body: [this.problem, body],
      foot,
    });
  }
}

// ---- eyes and nose ----

/** Yes or no facts that are seen, smelt or heard before a hand goes near. */
/** @param {OpenBook} book */
const signFacts = (book) => pointOf(book, "hub_signs").facts.filter((name) => isYesNo(book.data.facts[name]));

/** @param {Draft} draft */
const wheels = (draft) => Array.from({ length: axlesOf(draft) },
  (_, n) => SIDES.map((side) => `${n + 1}${side}`)).flat();

/** @param {OpenBook} book @param {Draft} draft @param {string} fact */
const placesOf = (book, draft, fact) => (book.data.facts[fact].scope === "wheel"
  ? wheels(draft).map((at) => `${fact}@${at}`) : [fact]);

/** @param {Stop} stop */
function signs(stop) {
  const { book, draft } = stop;
  /** @param {string} fact */
  const row = (fact) => {
    const there = placesOf(book, draft, fact).filter((key) => draft.facts[key] === "yes");
    return button(say(`fact-${fact}`), () => tapped(stop, fact), "answer",
      { "aria-pressed": String(there.length > 0) });
  };
  const any = Object.entries(draft.facts).some(([key, raw]) => raw === "yes" && signFacts(book).includes(factOf(key)));
  return stop.page({
    title: say("app-stop-before"),
    home: "#/",
    body: [eyes(stop), h("div", { class: "sign-rows" }, signFacts(book).map(row)),
      h("div", { class: "ways" }, moreAxles(stop), stop.camera("hub_signs"))],
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
/** @param {Stop} stop */
function eyes(stop) {
  const { book, draft } = stop, axles = axlesOf(draft);
  const marked = wheels(draft).filter((at) => signFacts(book).some((fact) => draft.facts[`${fact}@${at}`] === "yes"));
  return h("div", { class: "eyes" }, tires({ axles, marked, chosen: (place) => { stop.at = place; } }),
    h("div", {}, h("p", { class: "help" }, say("caution-traffic")), h("p", {}, say("app-stop-wheel-first"))));
}

/** Everything not tapped is not there, at every wheel; wheels of axles told later are filled in then. */
/** @param {Stop} stop */
function nothingElse(stop) {
  const keys = signFacts(stop.book).flatMap((fact) => placesOf(stop.book, stop.draft, fact));
  const given = Object.fromEntries(keys.filter((key) => stop.draft.facts[key] !== "yes")
    .map((key) => [key, { raw: "no" }]));
  stop.draft = { ...stop.draft, nothingSeen: true };
  return stop.give(given, () => stop.forward("signs"));
}

/** A sign counts at once at every wheel it could be at, until the person says which. */
/** @param {Stop} stop @param {string} fact */
function tapped(stop, fact) {
  const all = placesOf(stop.book, stop.draft, fact), known = `${fact}@${stop.at}`;
  const keys = all.includes(known) ? [known] : all;
  if (keys.every((key) => stop.draft.facts[key] === "yes")) {
    return stop.give(Object.fromEntries(keys.map((key) => [key, { raw: "no" }])),
      () => go(stopHash(stop.draft, "signs")));
  }
  if (keys.length > 1) stop.draft = { ...stop.draft, unplaced: fact };
  return stop.give(Object.fromEntries(keys.map((key) => [key, { raw: "yes" }])),
    () => go(stopHash(stop.draft, keys.length > 1 ? `where.${fact}` : "signs")));
}

/** Which wheel a sign is at; also shown on the page of a *Stop now*. */
/** @param {App} app @param {Draft} draft @param {string} fact @param {() => unknown} done */
export function wheelChooser(app, draft, fact, done) {
  const stop = new Stop(app, draft, "where"), axles = axlesOf(draft);
  /** @param {string} at */
  const place = (at) => {
    const given = wheels(draft).map((one) => [`${fact}@${one}`, { raw: one === at ? "yes" : "no" }]);
    stop.draft = { ...stop.draft, unplaced: undefined };
    return stop.give(Object.fromEntries(given), done);
  };
  const more = Number.isInteger(draft.facts.axles) ? null : button(say("app-stop-more-axles"), () => stop.give(
    { axles: { raw: Math.min(3, axles + 1) }, ...spread(stop, fact, axles + 1) }, done), "plain");
  return h("div", {}, h("div", { class: "wheel-grid" },
    wheels(draft).map((at) => button(placeName(at, axles), () => place(at), "answer"))), more);
}

/** A sign that counts everywhere counts at the wheels of one more axle too. */
/** @param {Stop} stop @param {string} fact @param {number} axle */
const spread = (stop, fact, axle) => Object.fromEntries(SIDES
  .map((side) => [`${fact}@${axle}${side}`, { raw: "yes" }]));

/** @param {Stop} stop @param {string} fact */
function where(stop, fact) {
  return stop.page({
    title: say("app-stop-which-wheel"),
    body: [h("p", { class: "help" }, say(`fact-${fact}`)),
      wheelChooser(stop.app, stop.draft, fact, () => go(stopHash(stop.draft, "signs"), { replace: true }))],
  });
}

// ---- the trailer in one screen ----

/** @param {Stop} stop */
function theTrailer(stop) {
  return rowsScreen(stop, say("app-stop-trailer"), () => stop.keys(["about"]), () => {
    const told = signFacts(stop.book).flatMap((fact) => placesOf(stop.book, stop.draft, fact));
    const given = stop.draft.nothingSeen ? told.filter((key) => !(key in stop.draft.facts))
      .map((key) => [key, { raw: "no" }]) : [];
    const next = () => stop.forward("trailer");
    return given.length ? stop.give(Object.fromEntries(given), next) : next();
  });
}

/** Rows of one-tap answers; it goes on by itself once each has one. */
/**
 * @param {Stop} stop @param {string} title @param {() => string[]} keysNow @param {() => unknown} done
 * @param {Child} note
 */
function rowsScreen(stop, title, keysNow, done, note = null) {
  const box = h("div", {});
  const draw = () => {
    const { book, draft, app } = stop;
    box.replaceChildren(...nodes(keysNow().flatMap((key) => [choicesRow({
      book, key, answer: draft.facts[key], asked: key in draft.facts, system: app.settings.units,
        typed: draft.typed?.[key],
      choices: book.data.facts[factOf(key)].kind === "choice" ? choicesOf(book, draft, key) : null,
      give: (answer) => stop.give(withDistance(stop, key, answer), () => {
        const open = keysNow().filter((one) => !(one in stop.draft.facts));
        return open.length ? draw() : done();
      }),
      other: isQuick(book, key) ? null : `#/ask/${draft.id}/${encodeURIComponent(key)}/answers`,
    }), key === "run_distance" ? byTime(stop, draw) : null])));
  };
  draw();
  return stop.page({ title, body: [note, box], foot: button(say("app-next"), () => done(), "answer main") });
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

// ---- hands ----

/** @param {Stop} stop @param {string} axle */
function hubs(stop, axle) {
  const { book, draft, app } = stop, n = Number(axle), axles = axlesOf(draft);
  if (draft.facts.hub_method === "thermometer") return readings(stop, n);
  const prepared = prepare(stop, "hand");
  const asked = new Set(prepared.keys(["wheels"]));
  const sides = SIDES.map((side) => `hub_feel@${n}${side}`), pair = `pair_feel@${n}`;
  const next = () => ([...sides, pair].some((key) => asked.has(key) && !(key in stop.draft.facts))
    ? go(stopHash(draft, stop.step)) : stop.forward());
  /** @param {string} key */
  const give = (key) => (/** @type {Raw} */ raw) => prepared.give({ ...prepared.fresh, [key]: { raw } },
    () => { stop.draft = prepared.draft; return next(); });
  const paired = sides.every((key) => key in prepared.draft.facts) && asked.has(pair);
  return stop.page({
    name: "hubs",
    title: say("app-stop-hubs", { axle: n, axles }),
    body: [
      paired ? null : h("p", { class: "help" }, say("app-stop-hubs-help")),
      h("div", { class: "ladders" }, sides.map((key) => ladder(book, prepared.draft, key, asked.has(key), axles,
        give(key)))),
      paired ? choicesRow({ book, key: pair, answer: prepared.draft.facts[pair], asked: pair in prepared.draft.facts,
        give: ({ raw }) => give(pair)(raw), system: app.settings.units }) : null,
      h("div", { class: "ways" },
        button(say("app-stop-thermometer"), () => stop.give({ hub_method: { raw: "thermometer" },
          hub_spot: { raw: draft.facts.hub_spot ?? "barrel" } }, () => go(stopHash(draft, stop.step))), "plain"),
        h("a", { class: "plain", href: `#/ask/${draft.id}/hub_spot/answers` }, say("app-stop-elsewhere")),
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
  const minutes = Math.max(0, (Date.now() - draft.stoppedAt) / 60_000);
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

// ---- the run ----

const RUN_LATER = ["hub_method", "hub_spot"];
/** @param {Stop} stop */
const runKeys = (stop) => stop.keys(["road"]).filter((key) => !RUN_LATER.includes(key));

/** @param {Stop} stop */
function theRun(stop) {
  const facts = answers(stop.book, stop.draft);
  const known = Object.keys(stop.draft.guessed ?? {}).filter((key) => key in facts);
  const note = known.length ? h("p", { class: "hint" }, say("app-stop-from-last")) : null;
  return rowsScreen(stop, say("app-stop-run"), () => runKeys(stop), () => {
    announce("");
    return stop.forward("run");
  }, note);
}
