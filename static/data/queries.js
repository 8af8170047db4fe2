// What the screens ask of the store: checks, trailers, photos, and the rulebook with its words.

import { load } from "../engine/judge.js";
import { after } from "./records.js";
import { byId, has, say, takeWords, wordsAt } from "./words.js";

const NOW = { say, has };

/** The rulebook and its words at two addresses, compiled; their JSON is beside it under `data` and `said`. */
/** @type {(addresses: string[], options?: RequestInit) => Promise<AppBook>} */
export async function fetchBook(addresses, options) {
  const responses = await Promise.all(addresses.map((address) => fetch(address, options)));
  const missing = responses.find(({ ok }) => !ok);
  if (missing) throw Object.assign(new Error(`${missing.url}: ${missing.status}`), { answered: true });
  const [sent, texts] = await Promise.all(responses.map((one) => one.json())), said = byId(texts);
  const data = sent.like ? (await import("./figures.js")).filled(sent, walk?.data) : sent;
  takeWords(said);
  const book = Object.assign(load(data, NOW), { data, said });
  walk ??= book;
  return book;
}

// The first rulebook opened, and the rest of its words.
/** @type {AppBook | undefined} */
let walk;
/** @type {Promise<void> | null} */
let lateWords = null;

/** The words that a first visit does without; fetched once. What is kept from then on is kept with them. */
export async function laterWords() {
  lateWords ??= fetch(wordsAt("-later")).then((response) => response.json()).then((sent) => {
    const json = byId(sent);
    takeWords(json);
    if (!walk) return;
    walk.said = joined(walk.said, json);
  });
  await lateWords.catch((/** @type {unknown} */ error) => { lateWords = null; throw error; });
}

/** Words with those of a later file beside them, under the hash of all. */
/** @type {(first: WordsFile, later: WordsFile) => WordsFile} */
export const joined = (first, { language, say: more, whole = "" }) =>
  ({ language, say: { ...first.say, ...more }, hash: whole });

/** @type {(value: unknown) => value is Fields} */
const isMap = (value) => value !== null && typeof value === "object" && !Array.isArray(value);
/** @type {(value: unknown) => value is string} */
const isText = (value) => typeof value === "string";
/** @type {(value: unknown) => boolean} */
const textOrNone = (value) => value === undefined || value === null || isText(value);
/** @type {(level: unknown) => boolean} */
const isLevel = (level) => isText(level) && has(`level-${level}`);

/** @type {(verdict: unknown) => boolean} */
const isVerdict = (verdict) => isMap(verdict) && isLevel(verdict.level) && isMap(verdict.places)
  && Object.values(verdict.places).every(isLevel)
  && Array.isArray(verdict.findings) && verdict.findings.every((one) => isMap(one) && isText(one.finding));

// What the screens rely on, by kind. Of other kinds nothing is shown.
/** @type {Record<string, (body: Fields) => boolean>} */
const SHAPES = {
  check: ({ check, facts, typed, trailer, rulebook, verdict }) => isText(check) && isMap(facts) && isText(rulebook)
    && (typed === undefined || isMap(typed)) && textOrNone(trailer) && isVerdict(verdict),
  trailer: ({ trailer, name, facts }) => isText(trailer) && isText(name) && isMap(facts),
  work: ({ about }) => textOrNone(about),
  run: ({ trailer, began, km, minutes, stops, work }) => textOrNone(trailer) && isText(began)
    && !Number.isNaN(Date.parse(began))
    && Number.isFinite(km) && Number.isFinite(minutes) && Array.isArray(work) && Array.isArray(stops)
    && stops.every((stop) => isMap(stop) && Array.isArray(stop.what)),
};

/** Whether the screens can show a kept record: one of a newer release may have the right hash and another shape. */
/** @type {(item: KeptRecord) => boolean} */
export function isReadable({ id, record }) {
  if (!isText(id) || !isMap(record) || !isMap(record.body) || Number.isNaN(Date.parse(record.made))) return false;
  return SHAPES[record.kind]?.(record.body) ?? true;
}

/** Kept records: those that can be shown, and those that cannot. */
/** @type {(store: StoreOf) => Promise<{ readable: KeptRecord[], unreadable: KeptRecord[] }>} */
export async function recordsOf(store) {
  /** @type {KeptRecord[]} */
  const readable = [];
  /** @type {KeptRecord[]} */
  const unreadable = [];
  for (const item of await store.all("records")) {
    after(item.id);
    (isReadable(item) ? readable : unreadable).push(item);
  }
  return { readable, unreadable };
}

/** A kept check by its id, or undefined where it is not here. Throws, in words, what cannot be shown. */
/** @type {(store: StoreOf, id: string) => Promise<KeptCheck | undefined>} */
export async function checkOf(store, id) {
  const item = await store.get("records", id);
  if (item && !isReadable(item)) throw new Error(say("app-unreadable"));
  return item && isCheck(item) ? item : undefined;
}

/** @type {(item: KeptRecord) => item is KeptCheck} */
export const isCheck = (item) => item.record.kind === "check";

/** Kept checks that can be shown, newest first. */
/** @type {(store: StoreOf) => Promise<KeptCheck[]>} */
export async function checksOf(store) {
  return (await recordsOf(store)).readable.filter(isCheck).reverse();
}

/** Saved trailers in their newest version, by name; with `retired` also those taken off the list. */
/** @type {(store: StoreOf, retired?: boolean) => Promise<SavedTrailer[]>} */
export async function trailersOf(store, retired = false) {
  const newest = new Map();
  for (const { record } of (await recordsOf(store)).readable) {
    if (record.kind === "trailer") newest.set(record.body.trailer, { ...record.body, id: record.body.trailer });
  }
  return [...newest.values()].filter((t) => retired || !t.retired).sort((a, b) => a.name.localeCompare(b.name));
}

/** What is known of a trailer here, though it was put away, or else by a shop's link. */
/**
 * @param {Pick<App, "store" | "links">} app @param {string | null} [id] @param {string | null} [link]
 * @returns {Promise<SavedTrailer | LinkTrailer | undefined>}
 */
export const trailerBy = async ({ store, links }, id, link) =>
  (await trailersOf(store, true)).find((one) => one.id === id)
    ?? links.find((one) => one.id === link || (id && one.trailer?.id === id))?.trailer;

/** The trailer a kept check belongs to: by itself, or since it was saved out of that check. */
/** @type {(item: KeptRecord) => string | null} */
export const trailerOf = (item) => item.record.body.trailer ?? item.of ?? null;

/** The photos of a check, by the number its draft had: `[{id, check, point, ...}]`. */
/** @type {(store: StoreOf, check: string) => Promise<KeptPhoto[]>} */
export async function photosOf(store, check) {
  return (await store.all("photos")).filter((photo) => photo.check === check);
}
