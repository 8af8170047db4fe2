// A checklist of faults: what is there is ticked, and nobody says "none of these" of lines they have not seen.

import { factOf, PROFILE } from "../data/asking.js";
import { say } from "../data/words.js";
import { h } from "../parts/h.js";
import { button } from "../parts/page.js";

/** The lines of a question's step, and the buttons that end it: `{rows, done}`. */
/** @param {Question} question */
export function checklist(question) {
  const { step, draft } = question, begun = new Map(question.begun.ticks ?? []);
  /** @type {Map<string, Raw>} */
  const state = question.state = new Map(step.keys.map((key) => [key, begun.has(key) ? begun.get(key)
    : draft.facts[key]]));
  const done = h("div", { class: "row" });
  const rows = step.keys.map((key) => tick(key, state, () => { finish(); question.ticked(key, state.get(key)); }));
  /** @param {Raw} raw */
  const all = (raw) => question.give(Object.fromEntries(step.keys.map((key) => [key, { raw }])));
  /** @param {Raw} now */
  const ticked = (now) => now === "yes" || now === null;
  /** @param {Raw} raw */
  const rest = (raw) =>
    question.give(Object.fromEntries([...state].map(([key, now]) => [key, { raw: ticked(now) ? now : raw }])));
  let left = rows.length;
  const unseen = watchSeen(rows, () => done, (count) => { left = count; finish(); });
  const further = button("", () => unseen()[0].scrollIntoView({ block: "start" }), "answer main more-below");
  const unsure = button("", () => (marked() ? rest(null) : all(null)), "answer unsure");
  const these = button("", () => (marked() ? rest : all)(notThere(question, step.keys)), "answer main");
  const marked = () => [...state.values()].some(ticked);
  const finish = () => {
    further.textContent = say("app-see-rest", { count: left });
    unsure.textContent = say(marked() ? "app-rest-unsure" : "app-not-sure");
    these.textContent = marked() ? say("app-only-these") : say("app-none-of", { count: step.keys.length });
    these.hidden = left > 0;
    further.hidden = !left;
  };
  done.append(unsure, further, these);
  finish();
  return { rows: h("ul", { class: "ticks" }, rows), done };
}

/** What "none of these" says on a walk: too quick for a look, it rules nothing out. */
/** @param {Question} question @param {string[]} keys */
function notThere(question, keys) {
  const takes = Number(question.book.data.limits["walk.glance_fault"]?.value) * keys.length;
  const looks = question.draft.check === "walkaround" && !PROFILE.includes(question.step.station);
  const glance = looks && (performance.now() - question.looking) / 1000 < takes;
  return glance ? ["no", "yes"] : "no";
}

/** @param {string} key @param {Map<string, Raw>} state @param {() => void} changed */
function tick(key, state, changed) {
  /** @param {Raw} raw */
  const set = (raw) => {
    state.set(key, state.get(key) === raw ? undefined : raw);
    yes.setAttribute("aria-pressed", String(state.get(key) === "yes"));
    maybe.setAttribute("aria-pressed", String(state.get(key) === null));
    changed();
  };
  const text = say(`fact-${factOf(key)}`), label = say("app-not-sure-of", { names: text });
  const yes = button(text, () => set("yes"), "tick", { "aria-pressed": String(state.get(key) === "yes") });
  const maybe = button("?", () => set(null), "maybe",
    { "aria-pressed": String(state.get(key) === null), "aria-label": label });
  return h("li", {}, yes, maybe);
}

const ENOUGH = 0.8; // of the height of an item

/**
 * Call `heard(left)` with how many of `items` have not been on screen yet, above `foot` which lies over
 * the list's end; now and each time one more was seen.
 */
/** @param {Element[]} items @param {() => Element} foot @param {(left: number) => void} heard */
function watchSeen(items, foot, heard) {
  const left = new Set(items);
  requestAnimationFrame(() => {
    const rootMargin = `0px 0px -${Math.round(foot().getBoundingClientRect().height)}px 0px`;
    const observer = new IntersectionObserver((entries) => {
      for (const { isIntersecting, target } of entries) if (isIntersecting) left.delete(target);
      heard(left.size);
      if (!left.size) observer.disconnect();
    }, { rootMargin, threshold: ENOUGH });
    for (const item of items) observer.observe(item);
  });
  return () => [...left];
}
