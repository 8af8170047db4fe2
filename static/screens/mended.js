// What was done about a finding before it counts as mended, whether each of several *Stop nows* is over, and a while in
// which an answer can be taken back.

import { idOf, LAPSES, latest, leftOf, namedOf, severalOf, textOf } from "../data/stops.js";
import { say } from "../data/words.js";
import { decide } from "../keep.js";
import { redraw } from "../router.js";
import { h } from "../parts/h.js";
import { button, trouble } from "../parts/page.js";
import { openOf } from "./link_reading.js";

/** Who mended it is the answer; what was done goes with it. A check with several *Stop nows* is over once each is. */
/**
 * @param {App} app @param {KeptRecord} item @param {() => unknown} then
 * @param {Map<string, string>} mending what was typed, by check, until it is answered @returns {Child[]}
 */
export function ask(app, item, then, mending) {
  const problem = h("div", {}), keep = () => mending.set(item.id, done.value);
  /** @type {HTMLInputElement} */
  const done = h("input", { type: "text", maxlength: 200, autocomplete: "off", "aria-label": say("app-mended-done"),
    placeholder: say("app-mended-done"), value: mending.get(item.id),
    oninput: keep });
  /** @param {string} by */
  const give = (by) => button(say(`app-mended-${by}`), async () => {
    if (isLeft(item, problem)) return;
    await decide(app, item, "mended", { by, ...(done.value.trim() && { done: done.value.trim() }) });
    mending.delete(item.id);
    then();
  }, "answer");
  return [each(app, item, keep), h("h2", {}, say("app-mended-what")), h("div", { class: "tell-them" }, done),
    shops(app, item), problem,
    h("div", { class: "picks" }, ["self", "mechanic", "other"].map(give)),
    button(say("app-mended-not"), () => { mending.delete(item.id); redraw(); }, "plain")];
}

/** That a check with several *Stop nows* was told wrong: it is once each of them is over. One tow ends them all. */
/** @param {App} app @param {KeptRecord} item @param {string} one @param {() => unknown} then @returns {Child[]} */
export function askAll(app, item, one, then) {
  const problem = h("div", {}), tow = one === "towed";
  return [tow ? h("p", {}, say("app-towed-all", { what: leftOf(item) })) : each(app, item), problem,
  h("div", { class: "picks" }, button(say(`app-stop-now-${one}`), async () => {
    if (!tow && isLeft(item, problem)) return;
    await decide(app, item, one);
    then();
  }, "answer")), button(say("app-back"), redraw, "plain")];
}

/** Each of several *Stop nows* with a box to tick; what is ticked stays with the check on this phone. */
/** @param {App} app @param {KeptRecord} item @param {() => unknown} [ticked] @returns {Child} */
function each(app, item, ticked) {
  const stops = severalOf(item), settled = new Set(item.settled);
  if (!stops.length) return null;
  /** @param {Found} one */
  const box = (one) => {
    const id = idOf(one), tick = button(textOf(item, [one]), () => {
      if (!settled.delete(id)) settled.add(id);
      item.settled = [...settled];
      tick.setAttribute("aria-pressed", String(settled.has(id)));
      app.store.change("records", item.id, (now) => now && { ...now, settled: item.settled }).catch(() => {});
      ticked?.();
    }, "answer tick", { "aria-pressed": String(settled.has(id)) });
    return h("li", {}, tick);
  };
  return [h("h2", {}, say("app-mended-each")), h("p", { class: "hint" }, say("app-mended-each.help")),
    h("ul", { class: "ticks" }, stops.map(box))];
}

/** Whether a *Stop now* of several is not over; `problem` then says which. */
/** @param {KeptRecord} item @param {Element} problem */
function isLeft(item, problem) {
  const what = leftOf(item);
  problem.replaceChildren(...what ? [trouble(say("app-mended-left", { what }))] : []);
  return Boolean(what);
}

/** That the shop decides for itself, unless it has: read since the check was sent, its link has it no more. */
/** @param {App} app @param {KeptRecord} item */
function shops(app, item) {
  const link = app.links.find((one) => one.id === item.link);
  const decided = link?.lost || link?.read && item.sent && Date.parse(link.read) > Date.parse(item.sent)
    && !openOf(link).some(({ record }) => record === item.id);
  return link?.shop && !decided ? h("p", { class: "note" }, say("app-mended-undecided", { shop: link.shop.name }))
    : null;
}

/** What was answered lately, with the way to take it back; `mine` are the checks in question. */
/** @param {App} app @param {KeptRecord[]} records @param {(item: KeptRecord) => boolean} mine @returns {Child[]} */
export const taken = (app, records, mine = () => true) => [...latest(records)].map(([id, { record }]) => {
  const item = records.find((one) => one.id === id && mine(one));
  if (!item || Date.now() - Date.parse(record.made) > LAPSES || record.body.answer === "open") return null;
  return h("div", { class: "note" }, h("p", {}, say("app-mended-said", {
    found: item.record.kind === "check" ? textOf(item, namedOf(app.book, item.record.body.verdict)) : "",
    answer: say(`app-stop-now-${record.body.answer}`) })), shops(app, item),
  button(say("app-mended-undo"), async () => { await decide(app, item, "open"); redraw(); }, "answer"));
});
