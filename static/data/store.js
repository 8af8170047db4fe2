// Everything the phone keeps. Three calls are all there is: get, all, commit. A commit is one
// transaction and resolves only in `oncomplete` with strict durability, so "Saved" is true when shown.

import { Gone, met } from "./drafts.js";
import { say } from "./words.js";
const NAME = "twentymile";
// A photo's facts and its bytes lie apart, so that a list of photos does not read megabytes.
/** @type {Record<Kind, string>} */
const KEYS = {
  drafts: "id", records: "id", outbox: "id", settings: "key", rulebooks: "hash", words: "hash",
  links: "id", photos: "id", pictures: "id",
};
// The kinds that each version of the store began with. A step that was released never changes: a phone
// that was away for a year takes them all, one after the other.
/** @type {Kind[][]} */
const STEPS = [
  ["drafts", "records", "outbox", "settings", "rulebooks"],
  ["links", "photos", "pictures"],
  ["words"],
];
// iOS drops connections after background or lock, and says so only at the next use; one that is
// dropped while it is opened is an AbortError.
const DROPPED = ["InvalidStateError", "UnknownError", "AbortError"];

export class StorageFull extends Error {}
class NewerStore extends Error {}

export class Store {
  /** @type {IDBDatabase | null} */
  #db = null;

  /**
   * `onBlocked` hears that a page of an earlier release holds the store; it opens once that is closed.
   *
   * @param {(() => void) | undefined} onBlocked
   */
  constructor(onBlocked) { this.onBlocked = onBlocked; }

  /**
   * All values of one kind, in key order.
   *
   * @template {Kind} K
   * @param {K} kind
   * @returns {Promise<Kinds[K][]>}
   */
  async all(kind) {
    return (await this.#run("readonly", [kind], (at) => at(kind).getAll())) ?? [];
  }

  /**
   * @template {Kind} K
   * @param {K} kind @param {string} key
   * @returns {Promise<Kinds[K] | undefined>}
   */
  async get(kind, key) {
    return this.#run("readonly", [kind], (at) => at(kind).get(key));
  }

  /**
   * Apply `[kind, value]` (put) and `[kind, null, key]` (remove) together or not at all. With `needs`,
   * a `[kind, key]`, only while that is there: else nothing is changed, and it rejects with Gone.
   *
   * @param {Change[]} changes @param {[Kind, string] | null} needs
   */
  async commit(changes, needs = null) {
    const kinds = [...new Set([...changes.map(([kind]) => kind), ...(needs ? [needs[0]] : [])])];
    let gone = false;
    /** @type {(at: AtKind) => void} */
    const apply = (at) => {
      for (const [kind, value, key] of changes) value === null ? at(kind).delete(key ?? "") : at(kind).put(value);
    };
    await this.#run("readwrite", kinds, (at) => {
      gone = false;
      if (!needs) return apply(at);
      const there = at(needs[0]).get(needs[1]);
      there.onsuccess = () => { if (met(needs, there.result)) apply(at); else gone = true; };
    });
    if (gone) throw new Gone();
  }

  /**
   * Put what `make(stored)` gives in the place of what is stored, in one transaction; resolves to it.
   *
   * @template {Kind} K
   * @param {K} kind @param {string} key @param {(stored: Kinds[K] | undefined) => Kinds[K] | undefined} make
   * @returns {Promise<Kinds[K] | undefined>}
   */
  async change(kind, key, make) {
    /** @type {Kinds[K] | undefined} */
    let made;
    await this.#run("readwrite", [kind], (at) => {
      const stored = at(kind).get(key);
      stored.onsuccess = () => { made = make(stored.result); if (made) at(kind).put(made); };
    });
    return made;
  }

  /**
   * @template T
   * @param {IDBTransactionMode} mode @param {Kind[]} kinds @param {(at: AtKind) => IDBRequest<T> | void} work
   * @returns {Promise<T | undefined>}
   */
  async #run(mode, kinds, work) {
    try {
      return await this.#attempt(mode, kinds, work);
    } catch (error) {
      if (!DROPPED.includes(nameOf(error))) throw plain(error);
      this.#db = null;
      return this.#attempt(mode, kinds, work).catch((again) => { throw plain(again); });
    }
  }

  /**
   * @template T
   * @param {IDBTransactionMode} mode @param {Kind[]} kinds @param {(at: AtKind) => IDBRequest<T> | void} work
   * @returns {Promise<T | undefined>}
   */
  async #attempt(mode, kinds, work) {
    const db = (this.#db ??= await openDatabase(() => { this.#db = null; }, this.onBlocked));
    return new Promise((resolve, reject) => {
      const task = db.transaction(kinds, mode, { durability: "strict" });
      /** @type {IDBRequest<T> | void} */
      let request;
      task.oncomplete = () => resolve(request?.result);
      task.onabort = () => reject(task.error ?? new DOMException("Stopped by the browser", "UnknownError"));
      try {
        request = work((kind) => task.objectStore(kind));
      } catch (error) {
        task.abort(); // a value that cannot be stored must not leave half of the changes behind
        reject(error);
      }
    });
  }
}

/** @type {(error: unknown) => string} */
const nameOf = (error) => (error instanceof Error ? error.name : "");

/** @type {(onDropped: () => void, onBlocked: (() => void) | undefined) => Promise<IDBDatabase>} */
function openDatabase(onDropped, onBlocked) {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, STEPS.length);
    request.onupgradeneeded = ({ oldVersion }) => {
      for (const kinds of STEPS.slice(oldVersion)) {
        for (const kind of kinds) request.result.createObjectStore(kind, { keyPath: KEYS[kind] });
      }
    };
    request.onblocked = () => onBlocked?.();
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const db = request.result;
      db.onclose = onDropped;
      db.onversionchange = () => { db.close(); onDropped(); };
      resolve(db);
    };
  });
}

/** @type {(error: unknown) => unknown} */
function plain(error) {
  if (nameOf(error) === "VersionError") return new NewerStore(say("app-updated-elsewhere"));
  if (nameOf(error) !== "QuotaExceededError") return error;
  return new StorageFull(say("app-no-room"));
}

// Some browsers never answer an open, after an update or with a damaged file: a person is waiting.
const PATIENCE_MS = 6000;

/**
 * The phone's store, or one in memory with `lasting` false where the browser refuses, fails or does not
 * answer within `patience` milliseconds. Another window that holds the store is waited for.
 */
/** @type {(onBlocked?: () => void, patience?: number) => Promise<{ store: StoreOf, lasting: boolean }>} */
export async function openStore(onBlocked, patience = PATIENCE_MS) {
  /** @type {number | undefined} */
  let timer;
  const late = new Promise((_, reject) => { timer = setTimeout(() => reject(new Error("no answer")), patience); });
  const store = new Store(() => { clearTimeout(timer); onBlocked?.(); });
  try {
    await Promise.race([store.all("settings"), late]);
    return { store, lasting: true };
  } catch (error) {
    if (error instanceof NewerStore) throw error; // it is all there, for a newer page
    const { MemoryStore } = await import("./memory.js");
    return { store: new MemoryStore(), lasting: false };
  } finally {
    clearTimeout(timer);
  }
}

/** What stands behind a sealed record when it is kept: itself, and its place in the outbox. */
/** @type {(sealed: KeptRecord, extra?: Partial<KeptRecord>) => Change[]} */
export function keeping(sealed, extra = {}) {
  return [
    ["records", { ...sealed, ...extra }],
    ["outbox", { id: sealed.id, message: "" }],
  ];
}

/** Ask the browser not to clear our data; true, false, or null where it cannot say. */
export async function askToPersist() {
  try {
    return (await navigator.storage.persisted()) || (await navigator.storage.persist());
  } catch {
    return null;
  }
}
