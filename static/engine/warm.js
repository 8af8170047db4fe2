// What a browser runs for the first time it runs slowly: the rules are gone through before anybody waits for them.

import { keysOf, lookAt, stands, visitOf } from "./judge.js";

const CHECKS = ["run_stop", "quick_stop", "walkaround"]; // between them they lean on nearly every rule
const ROUNDS = 3; // until a browser has compiled what it runs often
const AXLES = 3;
const CHANGES = 9; // of answers one by one: the first ones reach furthest
const STEP_MS = 12; // what a slow phone may take for a step: a tap waits for one at most

/** Answers in all forms: a browser compiles for the forms that it has seen, and anew at another. */
/** @type {((fact: Fact) => Partial<Record<Fact["kind"], Raw>>)[]} */
const FORMS = [
  () => ({}),
  ({ choices, low }) => ({ choice: choices?.[0], number: low, size: "ST205/75R15", made: "0120", text: "A" }),
  ({ choices, low, high }) => ({ choice: choices?.slice(-2), number: [low, Math.trunc(high)] }),
  ({ choices, high, unit }) => ({ choice: choices?.at(-1), number: `${Math.trunc(high)} ${unit}` }),
];

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
  const { book } = loaded.read({ check: CHECKS[0], date, facts: {} });
  for (let round = 0; round < ROUNDS; round++) {
    for (const check of CHECKS) {
      /** @type {string[]} */
      let asked = [];
      for (const form of FORMS) {
        const facts = { ...given(book, asked, form), axles: AXLES }, { kase } = loaded.read({ check, date, facts });
        asked = [];
        for (const stand of stands(check, kase.wheels, book)) yield () => {
          const visit = visitOf(stand, kase, 0);
          keysOf([visit], kase, book, facts);
          if (visit) lookAt(visit, kase, book);
          asked.push(...visit?.keys.map(({ key }) => key) ?? []);
        };
        yield () => { loaded.judge({ check, date, facts }); };
        // as after an answer, by what is remembered
        for (const key of asked.slice(0, CHANGES)) {
          yield () => { loaded.judge({ check, date, facts: { ...facts, [key]: null } }); };
        }
      }
    }
  }
}

/** @param {Book} book @param {string[]} keys @param {typeof FORMS[0]} form @returns {Answers} */
const given = ({ facts }, keys, form) => Object.fromEntries(keys.map((key) => {
  const fact = facts[key.split("@")[0]];
  return [key, form(fact)[fact.kind]];
}));

/** When nothing else is to be done; resolves to what tells how many ms are left. */
/** @type {Idle} */
const idleMoment = () => new Promise((resolve) => {
  if ("requestIdleCallback" in globalThis) requestIdleCallback((moment) => resolve(() => moment.timeRemaining()));
  else setTimeout(() => resolve(() => 0), STEP_MS);
});
