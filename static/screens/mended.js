// What was done about a finding before it counts as mended, and a while in which an answer can be taken back.

import { axlesOf } from "../data/asking.js";
import { LAPSES, latest } from "../data/stops.js";
import { foundText, say } from "../data/words.js";
import { decide } from "../keep.js";
import { redraw } from "../router.js";
import { h } from "../parts/h.js";
import { button } from "../parts/page.js";
import { openOf } from "./link_reading.js";

/** Who mended it is the answer; what was done goes with it. */
/**
 * @param {App} app @param {KeptRecord} item @param {() => unknown} then
 * @param {Map<string, string>} mending what was typed, by check, until it is answered @returns {Child[]}
 */
export function ask(app, item, then, mending) {
  /** @type {HTMLInputElement} */
  const done = h("input", { type: "text", maxlength: 200, autocomplete: "off", "aria-label": say("app-mended-done"),
    placeholder: say("app-mended-done"), value: mending.get(item.id),
    oninput: () => mending.set(item.id, done.value) });
  /** @param {string} by */
  const give = (by) => button(say(`app-mended-${by}`), async () => {
    await decide(app, item, "mended", { by, ...(done.value.trim() && { done: done.value.trim() }) });
    mending.delete(item.id);
    then();
  }, "answer");
  return [h("h2", {}, say("app-mended-what")), h("div", { class: "tell-them" }, done), shops(app, item),
    h("div", { class: "picks" }, ["self", "mechanic", "other"].map(give)),
    button(say("app-mended-not"), () => { mending.delete(item.id); redraw(); }, "plain")];
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
  const [worst] = item.record.kind === "check" ? item.record.body.verdict.findings : [];
  return h("div", { class: "note" }, h("p", {}, say("app-mended-said", {
    found: item.record.kind === "check" ? foundText(worst, axlesOf(item.record.body)) : "",
    answer: say(`app-stop-now-${record.body.answer}`) })), shops(app, item),
  button(say("app-mended-undo"), async () => { await decide(app, item, "open"); redraw(); }, "answer"));
});
