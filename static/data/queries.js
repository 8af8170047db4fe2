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
  return Object.assign(load(data, NOW), { data, said });
}

let lateWords = null;

/** The words that a first visit does without; fetched once. */
export async function laterWords() {
  lateWords ??= fetch("/words-later.en.json").then((response) => response.json()).then(takeWords);
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

/** Kept checks, newest first. */
export async function checksOf(store) {
  return (await store.all("records")).filter((item) => item.record.kind === "check").reverse();
}

/** Saved trailers in their newest version, by name; with `retired` also those taken off the list. */
export async function trailersOf(store, retired = false) {
  const newest = new Map();
  for (const { record } of await store.all("records")) {
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
