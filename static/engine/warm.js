// What a browser runs for the first time it runs slowly: the rules are gone through before anybody waits for them.

import { examine, walked } from "./judge.js";

const CHECKS = ["quick_stop", "walkaround"]; // between them they lean on nearly every rule
const ROUNDS = 3; // until a browser has compiled what it runs often
const AXLES = 2;
const STEP_MS = 12; // what a slow phone may take for a step: a person's tap waits for one at most

/** Go through the rules as checks do that were made on `date`, in the moments that `idle` finds. */
/** @param {Loaded} loaded @param {string} date @param {Idle} [idle] */
export async function warm(loaded, date, idle = idleMoment) {
  let left = () => 0;
  for (const step of steps(loaded, date)) {
    if (left() < STEP_MS) left = await idle();
    step();
  }
}

/** @param {Loaded} loaded @param {string} date @returns {Generator<() => void>} */
function* steps(loaded, date) {
  /** @type {Record<string, Answers>} */
  const given = { quick_stop: {}, walkaround: {} };
  for (let round = 0; round < ROUNDS; round++) {
    for (const check of CHECKS) {
      const facts = { axles: AXLES, ...given[check] }, { kase, book } = loaded.read({ check, date, facts });
      for (const visit of walked(check, kase, book)) {
        const { keys, deeper, spared } = visit;
        yield () => { examine(visit, kase, book, new Set(keys), new Set(deeper), new Set(spared)); };
        if (!round) Object.assign(given[check], firstChoices(book, keys));
      }
      yield () => { loaded.judge({ check, date, facts }); };
      yield () => { loaded.judge({ check, date, facts: { axles: AXLES } }); };
    }
  }
}

/** @param {Book} book @param {string[]} keys @returns {Answers} */
const firstChoices = (book, keys) => Object.fromEntries(keys.flatMap((key) => {
  const { choices, kind } = book.facts[key.split("@")[0]];
  return kind === "choice" ? [[key, choices[0]]] : [];
}));

/** When nothing else is to be done; resolves to what tells how many ms are left. */
/** @type {Idle} */
const idleMoment = () => new Promise((resolve) => {
  if ("requestIdleCallback" in globalThis) requestIdleCallback((moment) => resolve(() => moment.timeRemaining()));
  else setTimeout(() => resolve(() => 0), STEP_MS);
});
