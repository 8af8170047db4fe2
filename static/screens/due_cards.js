// What shops' links say on the front page: what is undecided and due under them, answers, links that have
// ended, what is borrowed; and the way to the shop's own pages on a device of a shop.

import { dueOf, isLate, louder } from "../data/due.js";
import { undecided, whatOf } from "../data/stops.js";
import { LOCALE, say } from "../data/words.js";
import { h } from "../parts/h.js";
import { valueText } from "../parts/numbers.js";
import { momentText } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { isBack, isRead, openOf, replyKey, telling } from "./link_reading.js";
export { withLost } from "./link_reading.js";

const TOLD = 7 * 24 * 60 * 60_000; // how long the front page says that a link has ended

/** A day without its year, where that goes without saying. */
/** @param {string} iso */
function near(iso) {
  const day = new Date(`${iso.slice(0, 10)}T12:00`);
  const year = day.getFullYear() === new Date().getFullYear() ? undefined : "numeric";
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

/** Cards for the front page, what stops a trailer first. */
/** @param {App} app @param {KeptRecord[]} own checks of this phone, which have cards of their own
 * @param {boolean} shop whether somebody has signed in at a shop here
 * @param {boolean} halted whether a *Stop now* stands above them */
export function cards(app, own, shop, halted) {
  const live = app.links.filter(isRead).filter((link) => !link.dead);
  const due = live.flatMap((link) => dueOf(link).filter((one) => !one.done).map((one) => ({ ...one, link })))
    .sort(louder);
  /** @param {Due & { link: ReadLink }} one @param {string} kind */
  const card = (one, kind) => h("a", { class: `due ${kind}`, href: `#/job/${one.link.id}` },
    h("strong", {}, say("app-link-due-when", { when: whenText(app, one) })),
      h("span", {}, `${one.what}. ${one.link.trailer.name}`));
  const [first, ...more] = due;
  const { mend, told } = openCards(app, own);
  return [...mend,
    ...app.links.map(answerCard), ...app.links.filter((link) => !told.has(link)).map(endedCard),
    ...live.filter(isOut).map(outCard),
    first && card(first, halted ? "" : "loud"),
    more.length > 0 && h("details", {}, h("summary", {}, say("app-link-more-due", { count: more.length })),
      more.map((one) => card(one, ""))),
    idle(live.filter((link) => !isOut(link) && !due.some((one) => one.link === link))), shop && shopCard()];
}

/** Each trailer with a *Stop now* that a shop has not decided. */
/** @param {App} app @param {KeptRecord[]} own */
export const openStops = (app, own) => openCards(app, own).stop;

/** What shops have not decided, each once, unless it stands there as this phone's own check. */
/** @param {App} app @param {KeptRecord[]} own */
function openCards(app, own) {
  const known = new Set(undecided(own, app.book).map(({ id }) => id));
  /** @type {{ stop: OpenCard[], mend: HTMLElement[], told: Set<KeptLink> }} */
  const found = { stop: [], mend: [], told: new Set() };
  for (const link of telling(app)) {
    const list = openOf(link).filter(({ record }) => !known.has(record) && known.add(record));
    if (!list.length) continue;
    const { id, trailer } = link, whole = openCard(link, list), facts = trailer.facts ?? {};
    if (list[0].level !== "stop") found.mend.push(whole);
    else found.stop.push({ whole, lines: list.map(({ level, made, findings }) =>
      ({ level, href: `#/job/${id}`, what: whatOf(findings, facts), trailer: trailer.name, made })) });
    found.told.add(link);
  }
  return found;
}

/** @param {ReadLink} link @param {Undecided[]} list worst first */
function openCard({ id, trailer, shop, dead }, list) {
  const [{ level }] = list;
  /** @param {Undecided} one */
  const lines = (one, n = 0) => {
    const what = whatOf(one.findings, trailer.facts ?? {});
    return [n > 0 && one.level !== level && sign(one.level), what && h("strong", {}, what),
      h("span", {}, n ? momentText(one.made)
        : say("app-stop-undecided", { trailer: trailer.name, day: momentText(one.made) }))];
  };
  return h("a", { class: `due ${level}`, href: `#/job/${id}` }, sign(level, { large: level === "stop" }),
    list.map(lines), dead && h("span", {}, say("app-link-ended", { shop: shop.name })));
}

/** Borrowed on the desk's code, and not said to be back since. */
/** @type {(link: KeptLink) => boolean} */
const isOut = (link) => link.kind === "standing" && Boolean(link.pressed) && !isBack(link);

/** @param {ReadLink} link */
const outCard = ({ id, trailer, shop }) => h("a", { class: "due", href: `#/job/${id}` },
  h("strong", {}, say("app-link-out", { trailer: trailer.name })),
  h("span", {}, say("app-link-out.help", { shop: shop.name })));

/** Links under which nothing waits stay in reach: what was done stands there, and whom to call. */
/** @param {ReadLink[]} links */
function idle(links) {
  return links.length > 0 && h("details", {}, h("summary", {}, say("app-link-others", { count: links.length })),
    links.map(({ id, shop, trailer }) => h("a", { class: "due", href: `#/job/${id}` },
      h("strong", {}, trailer.name), h("span", {}, say("app-link-from", { shop: shop.name })))));
}

const shopCard = () => h("a", { class: "due", href: "/shop" },
  h("strong", {}, say("app-link-shop")), h("span", {}, say("app-link-shop.help")));

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
