// What the screens ask of the store: checks, trailers, photos, and the rulebook a check was judged by.

import { load } from "../engine/judge.js";
import { flatWords, has, say, takeWords, wordsOf } from "./words.js";

const NOW = { say, has };

/** The rulebook and its words at two addresses, compiled; their JSON is beside it under `data` and `said`. */
export async function fetchBook(addresses, options) {
  const responses = await Promise.all(addresses.map((address) => fetch(address, options)));
  const missing = responses.find(({ ok }) => !ok);
  if (missing) throw Object.assign(new Error(`${missing.url}: ${missing.status}`), { answered: true });
  const [data, said] = await Promise.all(responses.map((one) => one.json()));
  takeWords(said);
  const book = Object.assign(load(data, NOW), { data, said });
  walk ??= book;
  return book;
}

let walk, lateWords = null; // the first rulebook opened, and the rest of its words

/** The words that a first visit does without; fetched once. What is kept from then on is kept with them. */
export async function laterWords() {
  lateWords ??= fetch("/words-later.en.json").then((response) => response.json()).then((json) => {
    takeWords(json);
    const { language, say: first } = walk.said;
    walk.said = { language, say: { ...first, ...json.say }, hash: json.whole };
  });
  await lateWords.catch((error) => { lateWords = null; throw error; });
}

/** The rulebook a kept check was judged by, with the words it was shown in; undefined where it is not here. */
export async function bookOf({ book, sumsBook, books, store }, { record, words }) {
  const { rulebook } = record.body, key = `${rulebook} ${words}`;
  const open = [book, sumsBook].find((one) => one?.hash === rulebook && (!words || one.said.hash === words));
  if (open) return open;
  if (!books.has(key)) {
    const [rules, said] = await Promise.all([store.get("rulebooks", rulebook), words && store.get("words", words)]);
    if (rules) books.set(key, Object.assign(load(rules.data, wordsWith(rules, said)), { data: rules.data }));
  }
  return books.get(key);
}

// A rulebook of an earlier release has its words inside.
function wordsWith({ data }, said) {
  if (data.words) return wordsOf(flatWords(data.words));
  return said ? wordsOf(said.data.say) : NOW;
}

const isMap = (value) => value !== null && typeof value === "object" && !Array.isArray(value);
const isText = (value) => typeof value === "string";
const textOrNone = (value) => value === undefined || value === null || isText(value);
const isLevel = (level) => isText(level) && has(`level-${level}`);

const isVerdict = (verdict) => isMap(verdict) && isLevel(verdict.level) && isMap(verdict.places)
  && Object.values(verdict.places).every(isLevel)
  && Array.isArray(verdict.findings) && verdict.findings.every((one) => isMap(one) && isText(one.finding));

// What the screens rely on, by kind. Of other kinds nothing is shown.
const SHAPES = {
  check: ({ check, facts, typed, trailer, rulebook, verdict }) => isText(check) && isMap(facts) && isText(rulebook)
    && (typed === undefined || isMap(typed)) && textOrNone(trailer) && isVerdict(verdict),
  trailer: ({ trailer, name, facts }) => isText(trailer) && isText(name) && isMap(facts),
  work: ({ about }) => textOrNone(about),
  run: ({ trailer, began, km, minutes, stops, work }) => textOrNone(trailer) && !Number.isNaN(Date.parse(began))
    && Number.isFinite(km) && Number.isFinite(minutes) && Array.isArray(work) && Array.isArray(stops)
    && stops.every((stop) => isMap(stop) && Array.isArray(stop.what)),
};

/** Whether the screens can show a kept record: one of a newer release may have the right hash and another shape. */
export function isReadable({ id, record }) {
  if (!isText(id) || !isMap(record) || !isMap(record.body) || Number.isNaN(Date.parse(record.made))) return false;
  return SHAPES[record.kind]?.(record.body) ?? true;
}

/** Kept records: those that can be shown, and those that cannot. */
export async function recordsOf(store) {
  const readable = [], unreadable = [];
  for (const item of await store.all("records")) (isReadable(item) ? readable : unreadable).push(item);
  return { readable, unreadable };
}

/** A kept record by its id, or undefined where it is not here. Throws, in words, what cannot be shown. */
export async function recordOf(store, id) {
  const item = await store.get("records", id);
  if (item && !isReadable(item)) throw new Error(say("app-unreadable"));
  return item;
}

/** Kept checks that can be shown, newest first. */
export async function checksOf(store) {
  return (await recordsOf(store)).readable.filter((item) => item.record.kind === "check").reverse();
}

/** Saved trailers in their newest version, by name; with `retired` also those taken off the list. */
export async function trailersOf(store, retired = false) {
  const newest = new Map();
  for (const { record } of (await recordsOf(store)).readable) {
    if (record.kind === "trailer") newest.set(record.body.trailer, { ...record.body, id: record.body.trailer });
  }
  return [...newest.values()].filter((t) => retired || !t.retired).sort((a, b) => a.name.localeCompare(b.name));
}

/** The trailer a kept check belongs to: by itself, or since it was saved out of that check. */
export const trailerOf = (item) => item.record.body.trailer ?? item.of ?? null;

/** The photos of a check, by the number its draft had: `[{id, check, point, ...}]`. */
export async function photosOf(store, check) {
  return (await store.all("photos")).filter((photo) => photo.check === check);
}
