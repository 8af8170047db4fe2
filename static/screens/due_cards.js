// What shops' links say on the front page: what is due under them, answers, and links that have ended.

import { dueOf, isLate, louder } from "../data/due.js";
import { LOCALE, say } from "../data/words.js";
import { h } from "../parts/h.js";
import { valueText } from "../parts/numbers.js";
import { isRead, replyKey } from "./link_reading.js";

const TOLD = 7 * 24 * 60 * 60_000; // how long the front page says that a link has ended

/** A day without its year, where that goes without saying. */
/** @param {string} iso */
function near(iso) {
  const day = new Date(iso), year = day.getFullYear() === new Date().getFullYear() ? undefined : "numeric";
  return day.toLocaleDateString(LOCALE, { day: "numeric", month: "short", year });
}

/** @param {App} app @param {Due} due */
export function whenText(app, due) {
  const parts = [];
  const at = due.at_km;
  if (typeof at === "number") parts.push(say("app-link-after",
    { distance: valueText(app.book, [at, at], "km", app.settings.units) }));
  if (due.by) parts.push(say(isLate(due) ? "app-link-late" : "app-link-by", { day: near(due.by) }));
  return parts.join(", ") || say("app-link-next-tow");
}

/** Cards for the front page: what is due under all links, and what shops have answered. */
/** @param {App} app */
export function cards(app) {
  const due = app.links.filter(isRead).filter((link) => !link.dead)
    .flatMap((link) => dueOf(link).filter((one) => !one.done).map((one) => ({ ...one, link })))
    .sort(louder);
  /** @param {Due & { link: ReadLink }} one @param {string} kind */
  const card = (one, kind) => h("a", { class: `due ${kind}`, href: `#/job/${one.link.id}` },
    h("strong", {}, say("app-link-due-when", { when: whenText(app, one) })),
      h("span", {}, `${one.what}. ${one.link.trailer.name}`));
  const [first, ...more] = due;
  return [...app.links.map(answerCard), ...app.links.map(endedCard), first && card(first, "loud"),
    more.length > 0 && h("details", {}, h("summary", {}, say("app-link-more-due", { count: more.length })),
      more.map((one) => card(one, "")))];
}

/** What was due under a link that has ended does not vanish without a word. */
/** @param {KeptLink} link */
function endedCard(link) {
  if (!isRead(link)) return null;
  const open = link.dead && Date.now() - (link.died ?? 0) < TOLD && dueOf(link).some((due) => !due.done);
  return open ? h("a", { class: "due", href: `#/job/${link.id}` },
    h("strong", {}, say("app-link-ended", { shop: link.shop.name })), h("span", {}, link.trailer.name)) : null;
}

/** @param {KeptLink} link */
function answerCard(link) {
  const fresh = (link.replies ?? []).filter((one) => !link.seen?.includes(replyKey(one)));
  return fresh.length && isRead(link) ? h("a", { class: "due", href: `#/job/${link.id}` },
    h("strong", {}, say("app-link-answered", { shop: link.shop.name })), h("span", {}, fresh.at(-1)?.text)) : null;
}
