// What the screens ask of the store: checks, trailers, photos, and the rulebook a check was judged by.

import { load } from "../engine/judge.js";
import { takeWords, wordsByKind } from "./words.js";

/** The rulebook and its words at two addresses, compiled; their JSON is beside it under `data` and `said`. */
export async function fetchBook(addresses, options) {
  const responses = await Promise.all(addresses.map((address) => fetch(address, options)));
  const missing = responses.find(({ ok }) => !ok);
  if (missing) throw Object.assign(new Error(`The rulebook did not arrive (${missing.status}).`), { answered: true });
  const [data, said] = await Promise.all(responses.map((one) => one.json()));
  takeWords(said);
  return compiled(data, said);
}

// A rulebook kept by an earlier release has its words inside.
const compiled = (data, said) => Object.assign(load(data, data.words ?? wordsByKind(said)), { data, said });

/** The rulebook a check was judged by, kept on this phone under its hash, or undefined. */
export async function bookOf({ book, books, store }, hash) {
  if (!books.has(hash)) {
    const kept = await store.get("rulebooks", hash);
    if (kept) books.set(hash, compiled(kept.data, kept.words ?? book.said));
  }
  return books.get(hash);
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
