// Records: identifiers, canonical text, hash. The same bytes must come out on the server, so the
// text follows RFC 8785 and the hash is SHA-256 of it in UTF-8.

/** @type {(bytes: Uint8Array) => string} */
const hex = (bytes) => Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");

let newest = 0; // ms of the newest identifier that is known here
const FAR = 2 ** 47; // ms, the year 6429: no clock is further off

/** What is made from now on comes after this one, though the clock was set back (RFC 9562, 6.2). */
/** @param {string} id */
export function after(id) {
  const time = parseInt(id.replace("-", "").slice(0, 12), 16);
  if (time > newest && time < FAR) newest = time;
}

/** A UUIDv7 (RFC 9562): 48 bits of milliseconds, the rest random; later ones sort later. */
export function uuid7(now = Math.max(Date.now(), newest + 1), random = crypto.getRandomValues(new Uint8Array(10))) {
  const time = Math.floor(now).toString(16).padStart(12, "0");
  newest = Math.max(newest, now);
  const rest = Uint8Array.from(random);
  rest[0] = (rest[0] & 0x0f) | 0x70;
  rest[2] = (rest[2] & 0x3f) | 0x80;
  const all = time + hex(rest);
  return [all.slice(0, 8), all.slice(8, 12), all.slice(12, 16), all.slice(16, 20), all.slice(20)].join("-");
}

/** Canonical JSON (RFC 8785). Throws TypeError on what JSON cannot say. */
/** @type {(value: unknown) => string} */
export function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (value && typeof value === "object") {
    const parts = Object.entries(value).filter(([, part]) => part !== undefined);
    const keyed = new Map(parts), keys = [...keyed.keys()].sort();
    return `{${keys.map((key) => `${canonical(key)}:${canonical(keyed.get(key))}`).join(",")}}`;
  }
  if (typeof value === "number" && !Number.isFinite(value)) throw new TypeError(`${value} has no JSON form`);
  // A lone surrogate has no UTF-8 form, so the server could never make the same hash.
  if (typeof value === "string" && /\p{Surrogate}/u.test(value)) throw new TypeError("broken character in text");
  const text = JSON.stringify(value);
  if (text === undefined) throw new TypeError(`${typeof value} has no JSON form`);
  return text;
}

/** SHA-256 of bytes, or of a text in UTF-8, as hex. */
/** @type {(data: string | Uint8Array<ArrayBuffer>) => Promise<string>} */
export async function sha256(data) {
  const bytes = typeof data === "string" ? new TextEncoder().encode(data) : data;
  // Plain http on a local network is no secure context: crypto.subtle is missing there.
  if (!globalThis.crypto?.subtle) return hex(digest(bytes));
  return hex(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)));
}

/** @type {(value: unknown) => Promise<string>} */
export const hashOf = async (value) => sha256(canonical(value));

/** The rulebook's own hash, over everything else in it. */
/** @type {(data: object) => Promise<string>} */
export function rulebookHash(data) {
  return hashOf({ ...data, hash: undefined });
}

/** Local time with its offset, to the second: 2026-07-14T10:02:11+02:00. */
export function localTime(now = new Date()) {
  /** @type {(n: number) => string} */
  const two = (n) => String(Math.floor(Math.abs(n))).padStart(2, "0");
  const offset = -now.getTimezoneOffset();
  return `${localDate(now)}T${two(now.getHours())}:${two(now.getMinutes())}:${two(now.getSeconds())}` +
    `${offset < 0 ? "-" : "+"}${two(offset / 60)}:${two(offset % 60)}`;
}

export function localDate(now = new Date()) {
  /** @type {(n: number) => string} */
  const two = (n) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** A new record, ready to be kept and sent: `{id, record, hash}`. */
/**
 * @template {string} K @template B @param {K} kind @param {B} body @param {Date} [made]
 * @returns {Promise<{ id: string, record: RecordOf<K, B>, hash: string }>}
 */
export async function seal(kind, body, made) {
  const record = { id: uuid7(), kind, version: 1, made: localTime(made), body };
  return { id: record.id, record, hash: await hashOf(record) };
}

// ---- SHA-256 for addresses without crypto.subtle (FIPS 180-4) -----------------------------------

const PRIMES = firstPrimes(64);
/** @type {(x: number) => number} */
const fraction = (x) => Math.floor((x - Math.floor(x)) * 2 ** 32) >>> 0;
const START = PRIMES.slice(0, 8).map((p) => fraction(Math.sqrt(p)));
const ROUND = PRIMES.map((p) => fraction(Math.cbrt(p)));

/** @type {(count: number) => number[]} */
function firstPrimes(count) {
  /** @type {number[]} */
  const found = [];
  for (let n = 2; found.length < count; n++) if (found.every((p) => n % p)) found.push(n);
  return found;
}

/** @type {(x: number, n: number) => number} */
const turn = (x, n) => (x >>> n) | (x << (32 - n));

/** @type {(bytes: Uint8Array) => DataView<ArrayBuffer>} */
function padded(bytes) {
  const length = ((bytes.length + 8) >> 6 << 6) + 64;
  const view = new DataView(new ArrayBuffer(length));
  bytes.forEach((b, i) => view.setUint8(i, b));
  view.setUint8(bytes.length, 0x80);
  view.setUint32(length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(length - 4, bytes.length << 3);
  return view;
}

/** SHA-256 of bytes; 32 bytes. */
/** @type {(bytes: Uint8Array) => Uint8Array<ArrayBuffer>} */
export function digest(bytes) {
  const view = padded(bytes);
  const state = START.slice();
  for (let at = 0; at < view.byteLength; at += 64) mix(state, schedule(view, at));
  const out = new DataView(new ArrayBuffer(32));
  state.forEach((word, i) => out.setUint32(4 * i, word));
  return new Uint8Array(out.buffer);
}

/** @type {(view: DataView, at: number) => number[]} */
function schedule(view, at) {
  const w = Array.from({ length: 16 }, (_, i) => view.getUint32(at + 4 * i));
  for (let i = 16; i < 64; i++) {
    const a = turn(w[i - 15], 7) ^ turn(w[i - 15], 18) ^ (w[i - 15] >>> 3);
    const b = turn(w[i - 2], 17) ^ turn(w[i - 2], 19) ^ (w[i - 2] >>> 10);
    w.push((w[i - 16] + a + w[i - 7] + b) >>> 0);
  }
  return w;
}

/** @type {(state: number[], w: number[]) => void} */
function mix(state, w) {
  let [a, b, c, d, e, f, g, h] = state;
  for (let i = 0; i < 64; i++) {
    const big1 = turn(e, 6) ^ turn(e, 11) ^ turn(e, 25);
    const one = (h + big1 + ((e & f) ^ (~e & g)) + ROUND[i] + w[i]) >>> 0;
    const big0 = turn(a, 2) ^ turn(a, 13) ^ turn(a, 22);
    const two = (big0 + ((a & b) ^ (a & c) ^ (b & c))) >>> 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) >>> 0, c, b, a, (one + two) >>> 0];
  }
  [a, b, c, d, e, f, g, h].forEach((word, i) => { state[i] = (state[i] + word) >>> 0; });
}
