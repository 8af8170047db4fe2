// What the screens of the road share: their words, their frame, their units.

import { MILE } from "../data/run_plan.js";
import { laterWords } from "../data/queries.js";
import { numberText, placeName, say, wordsAt } from "../data/words.js";
import { back, redraw } from "../router.js";
import { unpacked } from "../engine/lamps.js";
import { h } from "../parts/h.js";
import { backButton, button, page } from "../parts/page.js";

let words = false, table = null;

async function ready() {
  await laterWords().catch((cause) => {
    throw Object.assign(new Error(wordsAt("-later"), { cause }), { missing: true });
  });
  words = true;
}

/** Whether the words of the road are there, for a screen that does without. */
export const roadWords = () => ready().then(() => true, () => false);

/** A screen once its words are there; without them the one that says how they come. */
/** @param {() => Shown | Promise<Shown>} screen */
export async function withWords(screen) {
  try {
    await ready();
    return await screen();
  } catch (error) {
    if (!Object(error).missing) throw error;
    return words ? notHere(say("road-missing")) : notHere("", "");
  }
}

export const lampTable = async () => (table ??= unpacked(await fetched()));

const LAMPS = "/lamp-table.json";

async function fetched() {
  const response = await fetch(LAMPS).catch(() => null); // without signal it throws
  if (!response?.ok) throw Object.assign(new Error(`${LAMPS}: ${response?.status}`), { missing: true });
  return response.json();
}

/** What stands in place of a part that has not come yet. */
/** @param {string} text */
export const notHere = (text, title = say("road-missing-title")) => page({
  title, back: backButton(() => back("#/")), body: h("p", { class: "note" }, text),
  foot: button(say("app-try-again"), () => redraw(), "answer main"),
});

/** @param {string} title @param {Child} body @param {Child} foot @param {string} name @param {string} to */
export const framed = (title, body, foot, name = "road", to = "#/") =>
  page({ title, body, foot, name, back: backButton(() => back(to), say("road-back")) });

/** @param {App} app */
const us = (app) => app.settings.units !== "metric";
/** @param {App} app */
export const distanceUnit = (app) => (us(app) ? "mi" : "km");
/** @param {App} app @param {number} km */
export const fromKm = (app, km) => (us(app) ? km / MILE : km);
/** @param {App} app @param {number} shown */
export const toKm = (app, shown) => (us(app) ? shown * MILE : shown);
/** @param {App} app @param {number} km */
export const distance = (app, km) =>
  `${numberText(fromKm(app, km), fromKm(app, km) < 10 ? 1 : 0)} ${distanceUnit(app)}`;
/** @param {number} minutes */
export function minutesText(minutes) {
  const whole = Math.round(minutes); // first, so that no hour is told as 60 minutes
  return whole < 60 ? say("road-minutes", { minutes: whole })
    : say("road-hours", { hours: Math.floor(whole / 60), minutes: whole % 60 });
}

/** What is looked at at some stops, each thing once. */
/** @param {(Pick<RunStop, "what" | "places" | "axles"> & { dues?: RunDue[] })[]} stops */
export const whatOf = (stops) => [...new Set(stops.flatMap(({ what, dues = [], places, axles = 1 }) => {
  const looks = what.filter((one) => one !== "shop" || !dues.length).map((one) => say(`road-run-what-${one}`));
  const wheels = places?.map((place) => placeName(place, axles)).join("; ");
  return [...(wheels ? [`${looks.join(", ")}: ${wheels}`] : looks), ...dues.map((due) => due.what)];
}))].join(", ");

/** One of several, pressed; `chosen(id)` hears the tap. */
/**
 * @template {string | number} T @param {T[]} ids @param {T | Set<T> | null | undefined} now
 * @param {(id: T) => string} text @param {(id: T) => unknown} chosen
 */
export const choices = (ids, now, text, chosen) => h("div", { class: "choices" }, ids.map((id) =>
  button(text(id), () => chosen(id), "answer", { "aria-pressed": String(now === id
    || (now instanceof Set && now.has(id))), value: id })));
