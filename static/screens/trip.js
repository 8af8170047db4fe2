// A day ahead: what is due on the next run, what to bring, and what the weather does to the pressure.

import { dueOf } from "../data/due.js";
import { leftOf, pastOf, presetsOf, serviceOf } from "../data/presets.js";
import { recordsOf, trailerOf, trailersOf } from "../data/queries.js";
import { numberOf } from "../data/run.js";
import { planOf, WORK } from "../data/run_plan.js";
import { undecided } from "../data/stops.js";
import { has, say } from "../data/words.js";
import { pressureAt } from "../engine/pressure.js";
import { setSetting } from "../keep.js";
import { h } from "../parts/h.js";
import { fromOwnUnit, inOwnUnit, offeredUnits, valueText } from "../parts/numbers.js";
import { dayText, link, trouble } from "../parts/page.js";
import { distance, framed, withWords } from "./road.js";

const BRING = ["jack", "wrench", "chocks", "spare", "grease", "bearings", "gauge", "thermometer", "triangles",
  "tester"];
const NOTED = ["jack", "wrench", "grease", "bearings"]; // what has a size or number of its own, kept with the trailer

/** @param {App} app */
export const trip = (app) => withWords(async () => {
  const id = app.settings.trailer ?? null, trailer = (await trailersOf(app.store)).find((one) => one.id === id);
  const past = await pastOf(app.store, id), facts = trailer?.facts ?? {};
  const why = presetsOf(past, facts, Date.now(), serviceOf(app, id));
  return framed(say("road-trip"), [
    h("p", {}, trailer ? trailer.name : say("road-trip-no-trailer")),
    await due(app, past, why, id), stops(app, Object.keys(why)),
    bring(app, id, known([facts, ...past.checks.map((one) => one.facts)])), weather(app, past),
  ], link(say("road-run-start"), "#/run/start", "answer main"), "road trip");
});

/** What is open on this trailer: verdicts nobody has decided, what the shop asks for, what the last run left. */
/** @param {App} app @param {Past} of1 @param {Record<string, Why>} why @param {string | null} id */
async function due(app, { runs: [last] }, why, id) {
  const asked = app.links.filter((one) => one.read && !one.dead && one.trailer?.id === id)
    .flatMap((one) => dueOf(one).filter(({ done }) => !done).map(({ what }) => what));
  const open = undecided((await recordsOf(app.store)).readable).filter((item) => trailerOf(item) === id);
  const list = [
    open.map(({ id: check, record: { made, body } }) => link(say("road-trip-undecided",
      { level: say(`level-${body.verdict.level}`), day: dayText(made) }), `#/check/${check}`)),
    asked.map((what) => say("road-trip-asked", { what })),
    WORK.filter((work) => why[work]).map((work) => [say(`road-run-work-${work}`), " ",
      h("span", { class: "hint" }, say(`road-run-by-${why[work].by}`, { day: why[work].made ? dayText(why[work].made)
        : "" }))]),
    last && leftOf(last).length > 0 ? [say("road-trip-left", { day: dayText(last.began) })] : [],
  ].flat();
  return h("section", {}, h("h2", {}, say("road-trip-due")), list.length
    ? h("ul", {}, list.map((one) => h("li", {}, one))) : h("p", {}, say("road-trip-nothing")),
    link(say("road-trip-walk"), "#/walk", "answer"));
}

/** @param {App} app @param {string[]} work */
const stops = (app, work) => h("section", {}, h("h2", {}, say("road-trip-stops")),
  h("ul", {}, planOf("out", work).map((stop) => h("li", {}, say("road-run-item",
    { what: stop.what.map((one) => say(`road-run-what-${one}`)).join(", "), distance: distance(app, stop.km) }))),
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
  const all = app.settings.trip ?? {}, mine = { ticks: [], notes: {}, ...all[trailer ?? ""] };
  /** @param {Partial<Packing>} changes */
  const save = (changes) => setSetting(app, "trip", { ...app.settings.trip, [trailer ?? ""]: { ticks: [], notes: {},
    ...app.settings.trip?.[trailer ?? ""], ...changes } });
  const ticked = () => app.settings.trip?.[trailer ?? ""]?.ticks ?? [];
  /** @param {string} one @param {boolean} on */
  const tick = (one, on) => save({ ticks: [...ticked().filter((other) => other !== one), ...(on ? [one] : [])] });
  /** @param {string} one */
  const note = (one) => h("input", { value: mine.notes[one] ?? told[one] ?? "", maxlength: 80, autocomplete: "off",
    "aria-label": say(`road-trip-note-${one}`), placeholder: say(`road-trip-note-${one}`),
    onchange: ({ target }) => save({ notes: { ...app.settings.trip?.[trailer ?? ""]?.notes, [one]: target.value } }) });
  /** @param {string} one */
  const box = (one) => h("input", { type: "checkbox", checked: mine.ticks.includes(one),
    onchange: ({ target }) => tick(one, target.checked) });
  return h("section", {}, h("h2", {}, say("road-trip-bring")), h("ul", { class: "plainlist" }, BRING.map((one) =>
    h("li", { class: "pack" }, h("label", {}, box(one), h("span", {}, say(`road-trip-bring-${one}`))),
      NOTED.includes(one) && note(one)))));
}

// ---- weather ----

/** Pressures for the temperatures given; what was typed stays, also when it cannot be. */
/** @param {App} app @param {Past} past */
function weather(app, past) {
  const book = app.book, air = book.data.facts.air, marked = book.data.facts.tire_marked ?? null;
  const unit = offeredUnits(air, app.settings.units)[0], label = book.data.units[unit].label;
  const typed = app.settings.tripAir ?? {}, places = labels(past);
  const result = h("div", { role: "status" });
  /** @param {string} name */
  const field = (name) => h("label", {}, say(`road-trip-air-${name}`, { unit: label }), h("input", {
    id: `air-${name}`, name, inputmode: "text", value: typed[name] ?? "", autocomplete: "off" }));
  const pressureUnit = marked ? offeredUnits(marked, app.settings.units)[0] : "kPa";
  const cold = h("input", { id: "air-cold", name: "cold", inputmode: "decimal", autocomplete: "off",
    value: typed.cold ?? (places ? Math.round(fromOwnUnit(book, { unit: "kPa" }, places, pressureUnit)) : "") });
  const given = () => Object.fromEntries(["set", "low", "high", "cold"]
    .map((name) => [name, String(new FormData(form).get(name))]));
  const show = () => result.replaceChildren(...outcome(app, book, { air, unit, pressureUnit }, given()));
  const form = h("form", { onsubmit: (event) => { event.preventDefault(); show(); } },
    field("set"), field("low"), field("high"),
    h("label", {}, say("road-trip-air-cold", { unit: book.data.units[pressureUnit].label }), cold),
    h("button", { class: "answer" }, say("road-trip-air-work")));
  return h("section", {}, h("h2", {}, say("road-trip-weather")), h("p", {}, say("road-trip-weather-lead")), form,
    result);
}

/** The label's pressure as last answered on any axle. */
/** @param {Past} of */
function labels({ checks }) {
  const [first] = checks.flatMap(({ facts }) => Object.entries(facts ?? {})
    .filter(([key, value]) => key.startsWith("tire_marked@") && Number.isFinite(value))
    .map(([, value]) => Number(value)));
  return first ?? null;
}

/** @param {App} app @param {OpenBook} book @param {Weather} of2 @param {Record<string, string>} texts */
function outcome(app, book, { air, unit, pressureUnit }, texts) {
  setSetting(app, "tripAir", texts);
  const values = Object.fromEntries(Object.entries(texts).map(([name, text]) =>
    [name, numberOf(text)]));
  const degC = ["set", "low", "high"].map((name) => inOwnUnit(book, air, values[name], unit));
  const gauge = inOwnUnit(book, { unit: "kPa" }, values.cold, pressureUnit);
  if (!degC.every((one) => one >= air.low && one <= air.high) || !(gauge >= 100 && gauge <= 1000)) {
    return [trouble(say("road-trip-air-wrong"))];
  }
  const [set, low, high] = degC;
  /** @param {number} at */
  const text = (at) => valueText(book, [pressureAt(gauge, set, at), pressureAt(gauge, set, at)], "kPa",
    app.settings.units);
  return [h("p", {}, say("road-trip-air-lowest", { pressure: text(low) })),
    h("p", {}, say("road-trip-air-highest", { pressure: text(high) })),
    h("p", { class: "note" }, say("road-trip-air-do"))];
}
