// One draft in two windows: what each of them changed is put together, field by field.

/** What a change was for is not there any more: another window has kept it, or thrown it away. */
export class Gone extends Error {}

/** @type {(needs: Needs, there: unknown) => boolean} */
export const met = ([, , fits], there) => there !== undefined && (fits?.(/** @type {Draft} */ (there)) ?? true);

/** @type {(a: unknown, b: unknown) => boolean} */
export const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
/** @type {(value: unknown) => value is Fields} */
const isMap = (value) => value !== null && typeof value === "object" && !Array.isArray(value);
/** @type {("facts" | "typed" | "aside" | "feltAt")[]} */
const MAPS = ["facts", "typed", "aside", "feltAt"];
/** @type {("skipped" | "known")[]} */
const LISTS = ["skipped", "known"];

/**
 * `now` as it is stored, with what changed from `base` to `mine`. Where both changed one field, mine
 * counts, and `clashes` names the facts.
 */
/** @type {(base: Draft, mine: Draft, now: Draft) => { draft: Draft, clashes: string[] }} */
export function merged(base, mine, now) {
  /** @type {string[]} */
  const clashes = [];
  const draft = { ...now, ...changes({ ...base }, { ...mine }) }, fields = /** @type {Fields} */ (draft);
  for (const key of Object.keys(base)) if (!(key in mine)) delete fields[key];
  for (const name of MAPS) {
    const own = mine[name];
    if (!isMap(own)) continue;
    const before = base[name] ?? {}, there = now[name] ?? {}, mended = changes(before, own);
    const gone = Object.keys(before).filter((key) => !(key in own));
    if (name === "facts") clashes.push(...Object.keys(mended)
      .filter((key) => !same(there[key], before[key]) && !same(there[key], mended[key])));
    const whole = Object.entries({ ...there, ...mended }).filter(([key]) => !gone.includes(key));
    draft[name] = /** @type {Answers & Typed & Record<string, number>} */ (Object.fromEntries(whole));
  }
  for (const name of LISTS) {
    const own = mine[name];
    if (Array.isArray(own)) draft[name] = listed(base[name] ?? [], own, now[name] ?? []);
  }
  return { draft, clashes };
}

/** The fields of `mine` that are not as in `base`. */
/** @type {(base: Fields, mine: Fields) => Fields} */
const changes = (base, mine) => Object.fromEntries(Object.entries(mine)
  .filter(([key, value]) => !same(value, base[key])));

/** @type {(base: string[], mine: string[], now: string[]) => string[]} */
function listed(base, mine, now) {
  const kept = now.filter((one) => mine.includes(one) || !base.includes(one));
  return [...kept, ...mine.filter((one) => !base.includes(one) && !kept.includes(one))];
}
