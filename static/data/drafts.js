// One draft in two windows: what each of them changed is put together, field by field.

const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
const isMap = (value) => value !== null && typeof value === "object" && !Array.isArray(value);
const MAPS = ["facts", "typed", "aside"];
const LISTS = ["skipped", "known"];

/**
 * `now` as it is stored, with what changed from `base` to `mine`. Where both changed one field, mine
 * counts, and `clashes` names the facts.
 */
export function merged(base, mine, now) {
  const draft = { ...now, ...changes(base, mine) }, clashes = [];
  for (const key of Object.keys(base)) if (!(key in mine)) delete draft[key];
  for (const name of MAPS) {
    if (!isMap(mine[name])) continue;
    const before = base[name] ?? {}, there = now[name] ?? {}, mended = changes(before, mine[name]);
    const gone = Object.keys(before).filter((key) => !(key in mine[name]));
    if (name === "facts") clashes.push(...Object.keys(mended)
      .filter((key) => !same(there[key], before[key]) && !same(there[key], mended[key])));
    draft[name] = Object.fromEntries(Object.entries({ ...there, ...mended }).filter(([key]) => !gone.includes(key)));
  }
  for (const name of LISTS) if (Array.isArray(mine[name])) draft[name] = listed(base[name] ?? [], mine[name], now[name]
    ?? []);
  return { draft, clashes };
}

/** The fields of `mine` that are not as in `base`. */
const changes = (base, mine) => Object.fromEntries(Object.entries(mine)
  .filter(([key, value]) => !same(value, base[key])));

function listed(base, mine, now) {
  const kept = now.filter((one) => mine.includes(one) || !base.includes(one));
  return [...kept, ...mine.filter((one) => !base.includes(one) && !kept.includes(one))];
}
