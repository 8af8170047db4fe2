// A store for browsers that refuse to keep anything: what is in it ends with the page.

import { Gone, met } from "./drafts.js";

/** @type {(value: { id?: string, key?: string, hash?: string }) => string} */
const keyOf = ({ id, key, hash }) => id ?? key ?? hash ?? "";

/** The same calls without a disk, for browsers that refuse to keep anything. */
export class MemoryStore {
  /** @type {Map<Kind, Map<string, Kinds[Kind]>>} */
  #kinds = new Map();

  /**
   * @template {Kind} K
   * @param {K} kind
   * @returns {Map<string, Kinds[K]>}
   */
  #of(kind) {
    if (!this.#kinds.has(kind)) this.#kinds.set(kind, new Map());
    return /** @type {Map<string, Kinds[K]>} */ (this.#kinds.get(kind));
  }

  /**
   * @template {Kind} K
   * @param {K} kind
   * @returns {Promise<Kinds[K][]>}
   */
  async all(kind) {
    return [...this.#of(kind).entries()].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, v]) => structuredClone(v));
  }

  /**
   * @template {Kind} K
   * @param {K} kind @param {string} key
   * @returns {Promise<Kinds[K] | undefined>}
   */
  async get(kind, key) {
    return structuredClone(this.#of(kind).get(key));
  }

  /**
   * @template {Kind} K
   * @param {K} kind @param {string} key @param {(stored: Kinds[K] | undefined) => Kinds[K] | undefined} make
   * @returns {Promise<Kinds[K] | undefined>}
   */
  async change(kind, key, make) {
    const made = make(await this.get(kind, key));
    if (made) this.#of(kind).set(key, structuredClone(made));
    return made;
  }

  /** @param {Change[]} changes @param {Needs | null} needs */
  async commit(changes, needs = null) {
    if (needs && !met(needs, await this.get(needs[0], needs[1]))) throw new Gone();
    for (const [kind, value, key] of changes) {
      if (value === null) this.#of(kind).delete(key ?? "");
      else this.#of(kind).set(keyOf({ ...value }), structuredClone(value));
    }
  }
}
