// A day ahead: what is due on the next run, what to bring, and what the weather does to the pressure.

import { dueOf } from "../data/due.js";
import { leftOf, packedOf, pastOf, presetsOf, serviceOf } from "../data/presets.js";
import { trailerBy } from "../data/queries.js";
import { numberOf } from "../data/typed.js";
import { planOf, WORK } from "../data/run_plan.js";
import { has, say } from "../data/words.js";
import { pressureAt } from "../engine/pressure.js";
import { setSetting } from "../keep.js";
import { h } from "../parts/h.js";
import { fromOwnUnit, inOwnUnit, offeredUnits, valueText } from "../parts/numbers.js";
import { dayText, link, trouble } from "../parts/page.js";
import { distance, framed, whatOf, withWords } from "./road.js";
import { carriedBy, carriedCard, doubtOf, maybeCard, maybeOf } from "./run_verdict.js";

const BRING = ["jack", "wrench", "chocks", "spare", "grease", "bearings", "gauge", "thermometer", "triangles",
  "tester"];
const YEAR = 365.2425 * 86_400_000, MONTH = 31 * 86_400_000; // ms
const NOTED = ["jack", "wrench", "grease", "bearings"]; // what has a size or number of its own, kept with the trailer

/** @param {App} app */
export const trip = (app) => withWords(async () => {
  const id = app.settings.trailer ?? null, trailer = await trailerBy(app, id);
  const past = await pastOf(app.store, id), facts = trailer?.facts ?? {};
  const why = presetsOf(past, facts, Date.now(), serviceOf(app, id)), carried = await carriedBy(app, { trailer: id });
  const maybe = await maybeOf(app, { trailer: id }), halt = doubtOf(app, carried) || maybe.length > 0;
  return framed(say("road-trip"), [
    h("p", {}, trailer ? trailer.name : say("road-trip-no-trailer")),
    carriedCard(app, carried), await maybeCard(app, maybe), due(app, past, why, id),
    packed(app, packedOf(past, facts, serviceOf(app, id))), stops(app, Object.keys(why)),
    bring(app, id, known([facts, ...past.checks.map((one) => one.facts)])), weather(app, past),
  ], link(say(app.settings.run?.ended === null ? "app-run-on" : "road-run-start"), "#/run/start",
    halt ? "answer quietly" : "answer main"), halt ? "road trip halt" : "road trip");
});

/** What is due on this trailer: what the shop asks for, what was done to it, what the last run left. */
/** @param {App} app @param {Past} of1 @param {Record<string, Why>} why @param {string | null} id */
function due(app, { runs: [last] }, why, id) {
  const asked = app.links.filter((one) => one.read && !one.dead && one.trailer?.id === id)
    .flatMap((one) => dueOf(one).filter(({ done }) => !done).map(({ what }) => what));
  const list = [
    asked.map((what) => say("road-trip-asked", { what })),
    WORK.filter((work) => why[work]).map((work) => [say(`road-run-work-${work}`), " ",
      h("span", { class: "hint" }, say(`road-run-by-${why[work].by}`, { day: why[work].made ? dayText(why[work].made)
        : "" }))]),
    last ? leftText(app, last) : [],
  ].flat();
  return h("section", {}, h("h2", {}, say("road-trip-due")), list.length
    ? h("ul", {}, list.map((one) => h("li", {}, one))) : h("p", {}, say("road-trip-nothing")),
    link(say("road-trip-walk"), "#/walk", "answer"));
}

/** What the last run left: stops that were due, and nuts that were still to be looked at. */
/** @param {App} app @param {PastRun} run */
function leftText(app, run) {
  const left = leftOf(run), day = dayText(run.began), were = left.filter(({ reached }) => reached);
  const ahead = left.filter(({ what, reached }) => !reached && what.includes("nuts"));
  return [
    ...(were.length ? [say("road-trip-left", { what: whatOf(were), day })] : []),
    ...ahead.map(({ km }) => say("road-trip-left-nuts", { distance: distance(app, km ?? 0), day })),
  ];
}

/** When the bearings were last packed, or that it is not known: what is not known looks like nothing due. */
/** @param {App} app @param {Interval | null} days */
function packed(app, days) {
  const within = Number(app.book.data.limits["service.years"].value) * YEAR;
  if (!days) return h("p", { class: "note" }, say("road-trip-packed-unknown"));
  const [from, to] = days, age = Date.now() - from;
  const day = to - from > MONTH ? String(new Date(from).getUTCFullYear()) : dayText(new Date(to).toISOString());
  return h("p", { class: age > within ? "note" : "" }, say(age > within ? "road-trip-packed-due" : "road-trip-packed",
    { day }));
}

/** @param {App} app @param {string[]} work */
const stops = (app, work) => h("section", {}, h("h2", {}, say("road-trip-stops")),
  h("ul", {}, planOf("out", work).map((stop) => h("li", {}, say("road-run-item",
    { what: whatOf([stop]), distance: distance(app, stop.km) }))),
  h("li", {}, say("road-trip-hours"))));

// ---- what to bring ----

/** What was answered of bearings and grease: asked once, needed beside the road. */
/** @param {Answers[]} answers newest first @returns {Record<string, string>} */
function known(answers) {
  /** @param {string} name */
  const of = (name) => answers.find((facts) => typeof facts?.[name] === "string")?.[name];
  const kind = of("grease_kind");
  return { bearings: [of("bearing_numbers"), of("seal_numbers")].filter(Boolean).join("; "),
    grease: kind && has(`fact-grease_kind.choice-${kind}`) ? say(`fact-grease_kind.choice-${kind}`) : "" };
}

/** @param {App} app @param {string | null} trailer @param {Record<string, string>} told */
function bring(app, trailer, told) {
  const whose = trailer ?? "", mine = () => ({ ticks: [], notes: {}, ...app.settings.trip?.[whose] });
  /** @param {Partial<Packing>} changes */
  const save = (changes) => setSetting(app, "trip", { ...app.settings.trip, [whose]: { ...mine(), ...changes } });
  /** @param {string} one @param {boolean} on */
  const tick = (one, on) => save({ ticks: [...mine().ticks.filter((other) => other !== one), ...(on ? [one] : [])] });
  /** @param {string} one */
  const note = (one) => h("input", { value: mine().notes[one] ?? told[one] ?? "", maxlength: 80, autocomplete: "off",
    "aria-label": say(`road-trip-note-${one}`), placeholder: say(`road-trip-note-${one}`),
    onchange: ({ target }) => save({ notes: { ...mine().notes, [one]: target.value } }) });
  /** @param {string} one */
  const box = (one) => h("input", { type: "checkbox", checked: mine().ticks.includes(one),
    onchange: ({ target }) => tick(one, target.checked) });
  return h("section", {}, h("h2", {}, say("road-trip-bring")), h("ul", { class: "plainlist" }, BRING.map((one) =>
    h("li", { class: "pack" }, h("label", {}, box(one), h("span", {}, say(`road-trip-bring-${one}`))),
      NOTED.includes(one) && note(one)))));
}

// ---- weather ----

/** @type {Interval} */
const GAUGE = [100, 1000]; // kPa: what a trailer tire may be set to, with room

/** Pressures for the temperatures given; what was typed stays, also when it cannot be. */
/** @param {App} app @param {Past} past */
function weather(app, past) {
  const book = app.book, air = book.data.facts.air, marked = book.data.facts.tire_marked ?? null;
  const unit = offeredUnits(air, app.settings.units)[0], label = book.data.units[unit].label;
  const typed = app.settings.tripAir ?? {}, places = labels(past);
  const result = h("div", { role: "status" });
  /** @param {string} name */
  const field = (name, was = "", inputmode = "text", shown = label) => h("label", {},
    say(`road-trip-air-${name}`, { unit: shown }),
    h("input", { id: `air-${name}`, name, inputmode, value: typed[name] ?? was, autocomplete: "off" }));
  const pressureUnit = marked ? offeredUnits(marked, app.settings.units)[0] : "kPa";
  const cold = places ? String(Math.round(fromOwnUnit(book, { unit: "kPa" }, places, pressureUnit))) : "";
  const given = () => Object.fromEntries(["set", "low", "high", "cold"]
    .map((name) => [name, String(new FormData(form).get(name))]));
  const show = () => result.replaceChildren(...outcome(app, book, { air, unit, pressureUnit }, given()));
  const form = h("form", { onsubmit: (event) => {
    event.preventDefault();
    setSetting(app, "tripAir", given()).finally(show); // what was typed is kept before its answer shows
  } },
    field("set"), field("low"), field("high"),
    field("cold", cold, "decimal", book.data.units[pressureUnit].label),
    h("button", { class: "answer" }, say("road-trip-air-work")));
  return h("section", {}, h("h2", {}, say("road-trip-weather")), h("p", {}, say("road-trip-weather-lead")), form,
    result);
}

/** The label's pressure as last answered on any axle; NaN where it never was. */
/** @param {Past} of */
const labels = ({ checks }) => Number(checks.flatMap(({ facts }) => Object.entries(facts ?? {}))
  .find(([key, value]) => key.startsWith("tire_marked@") && Number.isFinite(value))?.[1]);

/** @param {App} app @param {OpenBook} book @param {Weather} of2 @param {Record<string, string>} texts */
function outcome(app, book, { air, unit, pressureUnit }, texts) {
  const values = Object.fromEntries(Object.entries(texts).map(([name, text]) =>
    [name, numberOf(text)]));
  const degC = ["set", "low", "high"].map((name) => inOwnUnit(book, air, values[name], unit));
  const gauge = inOwnUnit(book, { unit: "kPa" }, values.cold, pressureUnit);
  /** @type {[string, number, Interval, string, string][]} */
  const asked = [
    ...["set", "low", "high"].map(/** @returns {[string, number, Interval, string, string]} */ (name, n) =>
      [name, degC[n], [air.low, air.high], unit, air.unit]),
    ["cold", gauge, GAUGE, pressureUnit, "kPa"],
  ];
  for (const [name, value, [least, most], shown, own] of asked) {
    if (value >= least && value <= most) continue;
    const [from, to] = [least, most].map((one) => Math.round(fromOwnUnit(book, { unit: own }, one, shown)));
    const { label } = book.data.units[shown];
    return [trouble(say("road-trip-air-wrong", { what: say(`road-trip-air-${name}`, { unit: label }), from, to }))];
  }
  const [set, low, high] = degC;
  if (low > high) return [trouble(say("road-trip-air-swapped"))];
  /** @param {number} at */
  const text = (at) => valueText(book, [pressureAt(gauge, set, at), pressureAt(gauge, set, at)], "kPa",
    app.settings.units);
  return [h("p", {}, say("road-trip-air-lowest", { pressure: text(low) })),
    h("p", {}, say("road-trip-air-highest", { pressure: text(high) })),
    h("p", { class: "note" }, say("road-trip-air-do"))];
}
