// What is due under a shop's link, loudest first.

/** A link's due checks, loudest first, done ones last; what this phone has kept counts as done. */
/** @type {(link: KeptLink) => Due[]} */
export function dueOf(link) {
  const list = (link.due ?? []).map((due) => ({ ...due, done: due.done || Boolean(link.done?.[due.id]) }));
  return list.sort((a, b) => Number(a.done) - Number(b.done) || louder(a, b));
}

/** @type {(due: Due) => boolean} */
export const isLate = ({ by }) => Boolean(by && endOf(by) < Date.now());
// Whatever the hour, it is due by that day, and the day is over at its end where the phone is.
/** @type {(by: string) => number} */
const endOf = (by) => new Date(`${by.slice(0, 10)}T23:59:59`).getTime();

/** Late ones first, longest first; then by miles, for those come on this drive; then by day. */
/** @type {(a: Due, b: Due) => number} */
export function louder(a, b) {
  /** @type {(due: Due) => number[]} */
  const key = (due) => {
    const end = due.by ? endOf(due.by) : Infinity, late = isLate(due);
    return [late ? 0 : Number.isFinite(due.at_km) ? 1 : 2, late ? end : due.at_km ?? 0, end];
  };
  const [x, y] = [key(a), key(b)], at = x.findIndex((part, i) => part !== y[i]);
  return at < 0 ? 0 : x[at] - y[at];
}
