// Which stops a run has, by what was done to the trailer, and which check does which.

export const MILE = 1.609344; // km
const BESIDE = 3; // km: a check asked for so near a stop is made at that stop

// A wheel at which something was found is looked at once more after as few miles as one fresh from work. Common
// practice, no source.
export const AGAIN = 10; // miles

export const WORK = ["bearings", "wheels_off", "tires", "stored", "dunked"];

// Miles after which each thing is looked at: where a shop asks too, the same as in checks/limits/follow_up.toml, which
// has the sources. The later ones of hubs: common practice, no source.
/** @type {Record<string, (work: string[]) => number[]>} */
const AFTER = {
  hubs: (work) => (some(work, "bearings", "stored", "dunked", "wheels_off") ? [20, 50, 100] : [20, 100]),
  nuts: (work) => (some(work, "wheels_off", "tires", "bearings") ? [10, 25, 50] : []),
  load: () => [50],
};
/** @param {string[]} work @param {...string} names */
const some = (work, ...names) => names.some((name) => work.includes(name));

/**
 * The stops of a leg by distance, `{ id, what: [..], km }`, nearest first. `leg`: "out" or "back". `dues`: checks
 * a shop asked for, `{ id, km, check, what }`; each is at the stop beside it (`dues` there), or has one of its own.
 */
/** @type {(leg: Leg["name"], work: string[], dues?: RunDue[]) => StopByKm[]} */
export function planOf(leg, work, dues = []) {
  // Nothing was unscrewed between the way out and the way back, but a boat went into the water.
  const counts = leg === "out" ? work : work.filter((one) => one === "dunked");
  /** @type {Map<number, string[]>} */
  const stops = new Map();
  for (const [what, miles] of Object.entries(AFTER)) {
    for (const at of miles(counts)) stops.set(at, [...(stops.get(at) ?? []), what]);
  }
  /** @type {StopByKm[]} */
  const plan = [...stops].map(([at, what]) => ({ id: `${leg}:${at}`, what, km: at * MILE }));
  if (leg === "out") dues.forEach((due) => add(plan, due));
  return plan.sort((a, b) => a.km - b.km);
}

/** @param {StopByKm[]} plan @param {RunDue} due */
function add(plan, due) {
  const { id, check, km: at } = due, beside = plan.find(({ km }) => Math.abs(km - at) < BESIDE);
  if (beside) beside.dues = [...(beside.dues ?? []), due];
  else plan.push({ id: `out:due${id}`, what: check === "quick_stop" ? ["hubs"] : ["shop"], km: at, dues: [due] });
}

// What each kind of check looks at; only a check that looks at all of a stop's things does it.
/** @type {Record<string, string[]>} */
export const LOOKS = { run_stop: ["hubs", "nuts", "load", "tires", "shop"], quick_stop: ["hubs"],
  walkaround: ["nuts", "load", "tires", "shop"], tires: ["tires"] };

/** The kind of check that does a stop, and what was asked for there. */
/** @param {Pick<RunStop, "what" | "dues">} of */
export function checkFor({ what, dues = [] }) {
  const [due = null] = dues;
  return { check: due?.check ?? (what.every((one) => LOOKS.quick_stop.includes(one)) ? "quick_stop" : "run_stop"),
    due };
}
