// A shop's link: what was done, what is due, and what the shop said. The secret leaves the address bar
// and stands in no page.

import { checksOf, trailersOf } from "../data/queries.js";
import { localTime, sha256, uuid7 } from "../data/records.js";
import { inform } from "../dialog.js";
import { draftsOf, keepTrailer, startCheck, underOf } from "../keep.js";
import { back, go, missing, redraw, resumeHash, show, standAt } from "../router.js";
import { h, live } from "../parts/h.js";
import { backButton, bold, button, call, dayText, link as anchor, page, timeText, trouble } from "../parts/page.js";
import { dueOf } from "../data/due.js";
import { has, say } from "../data/words.js";
import { calendarFile } from "../parts/calendar.js";
import { backAgain, borrower } from "./borrower.js";
import { whenText } from "./due_cards.js";
import { change, find, held, isRead, keep, openOf, order, problems, read, seen, told } from "./link_reading.js";
import { carriedCard, ownOf, withShops } from "./run_verdict.js";

const SECRET = /^[\w-]{43}$/;

/** `#/from/<secret>`: keep the link, and go on under its number on this phone. */
/** @param {App} app @param {string} secret */
export async function from(app, secret) {
  if (!SECRET.test(secret)) return missing(say("app-link-cut"));
  const id = (await sha256(secret)).slice(0, 16);
  if (!find(app, id)) await keep(app, { id, secret, made: localTime() });
  standAt(`#/job/${id}`);
  return redraw();
}

/** @param {App} app @param {string} id */
export async function job(app, id) {
  if (!find(app, id)) return missing(say("app-link-gone"));
  const { read: before, lost } = held(app, id);
  if (before) read(app, id).then(() => seen(app, id)).then(() => {
    // what it told can only be answered here from now on
    if (!lost && held(app, id).lost && location.hash === `#/job/${id}`) redraw();
  });
  else {
    // whatever stood there before invites to something else meanwhile
    show(page({ title: say("app-link-from-shop"), back: backButton(() => back("#/")), body: null }));
    await read(app, id);
  }
  if (held(app, id).read) await seen(app, id);
  const { trailer } = held(app, id), checks = await checksOf(app.store);
  const here = new Set([...(await trailersOf(app.store)), ...checks].map((one) => one.id));
  const last = checks.filter(({ link }) => link === id).map(({ record }) => record.made).sort(order).at(-1);
  const own = await ownOf(app, runOf(held(app, id)));
  const standing = () => withShops(app, runOf(held(app, id)), own);
  return page({
    name: standing().level === "stop" ? "job halt" : "job",
    title: trailer?.name ?? say("app-link-from-shop"),
    back: backButton(() => back("#/")),
    // drawn once: an answer half given is not taken away by what the shop says
    body: [trailer && carriedCard(app, { ...own, undo: undefined }),
      live(() => said(app, held(app, id), { here, last, own, stops: standing().level === "stop" }))],
    foot: live(() => start(app, held(app, id), standing())),
  });
}

/** @type {(link: KeptLink) => RunOf} */
const runOf = ({ id, trailer }) => ({ trailer: trailer?.id ?? null, link: id });

/** @param {App} app @param {KeptLink} link @param {LinkSeen} of1 */
function said(app, link, { here, last, own, stops }) {
  if (!isRead(link)) return unread(app, link);
  const { shop, trailer } = link, list = dueOf(link);
  return [
    link.dead ? trouble(link.dead, h("p", {}, say("app-link-dead-kept"))) : null,
    problems.has(link.id) ? h("p", { class: "hint", role: "status" }, problems.get(link.id), " ",
      say("app-link-stood", { time: timeText(link.read) })) : null,
    own.undo?.(), openVerdict(app, link, own),
    h("p", {}, bold("app-link-from", "shop", shop.name)),
    link.kind === "standing" && !link.dead ? [borrower(app, link), backAgain(app, link, last)] : null,
    shop.phone && !stops ? call(shop.phone, shop.phone) : null,
    replies(link, here),
    link.work ? h("section", {}, h("h2", {}, say("app-link-done")), h("p", { class: "lines" }, link.work)) : null,
    h(stops ? "details" : "section", {}, h(stops ? "summary" : "h2", {}, say("app-link-due")), list.length
      ? h("ul", { class: "plainlist" }, list.map((due) => dueItem(app, link, due)))
      : h("p", {}, say("app-link-nothing-due"))),
    stops && link.kind === "standing" && !link.dead ? walkRound(app, link, "answer quietly") : null,
    link.dead || stops ? null : anchor(say(app.settings.run?.ended === null ? "app-run-on" : "app-link-run"),
      `#/run/from/${link.id}`, "answer"),
    here.has(trailer.id) ? h("p", {}, anchor(say("app-link-trailer-here"), `#/trailer/${trailer.id}`))
      : button(say("app-link-keep-trailer"), () => keepHere(app, trailer), "answer"),
    link.expires && !link.dead ? h("p", { class: "hint" }, say("app-link-until", { day: dayText(link.expires) }))
      : null,
  ];
}

/** @param {App} app @param {KeptLink} link */
function unread(app, link) {
  const again = button(say("app-try-again"), () => redraw(), "answer main");
  if (link.dead) return trouble(link.dead, h("p", {}, say("app-link-nothing-lost")));
  return [trouble(problems.get(link.id) ?? ""), h("p", {}, say("app-link-never-read")), again];
}

/** @param {KeptLink} of @param {Set<string>} here */
function replies({ replies: list }, here) {
  if (!list?.length) return null;
  return h("section", {}, h("h2", {}, say("app-link-says")), list.map((one) => h("article", { class: "card reply" },
    h("p", { class: "lines" }, h("strong", {}, one.text)),
    h("p", { class: "hint" }, timeText(one.made), " ",
      here.has(one.record) ? anchor(say("app-link-your-check"), `#/check/${one.record}`) : null))));
}

/** @param {App} app @param {ReadLink} link @param {Due} due */
function dueItem(app, link, due) {
  if (due.done) {
    return h("li", { class: "dueitem done" }, h("p", {}, "✓ ", due.what),
      h("p", { class: "hint" }, say("app-link-is-done")));
  }
  return h("li", { class: "dueitem" },
    h("p", {}, h("strong", {}, due.what)), h("p", {}, whenText(app, due)),
    button(say("app-link-start-this"), () => begin(app, link, due), "plain"), reminder(app, link, due));
}

/** What the shop has not decided yet: whoever tows the trailer sees it before anything else. */
/** @param {App} app @param {ReadLink} link @param {Carried} own what of it stands there already */
function openVerdict(app, link, own) {
  const here = new Set(own.more?.map(({ of }) => of?.id)), { trailer, shop } = link;
  return openOf(link).filter(({ record }) => !here.has(record))
    .map(({ record, level, made, findings: [found, ...others] }) =>
      own.of?.id === record ? h("p", { class: "note" }, say("app-link-open", { day: dayText(made) }))
        : carriedCard(app, { level, at: "", found, others, facts: trailer.facts ?? {}, made, shop: shop.name }));
}

const WALK = { check: "walkaround", id: null };

/** @param {App} app @param {ReadLink} link @param {string} kind */
const walkRound = (app, link, kind) =>
  h("button", { type: "button", class: kind, value: "walkaround", onclick: () => begin(app, link, WALK) },
    kind === "big" ? h("strong", {}, say("app-link-start")) : null, h("span", {}, say("app-link-walk")));

/**
 * The next check on one large button, where the thumb is; on the desk's code always the walk. While a *Stop now*
 * stands nothing is begun from there: it is what to do now, or the shop to call.
 */
/** @param {App} app @param {KeptLink} link @param {Carried} stands */
function start(app, link, stands) {
  if (!isRead(link)) return null;
  const next = dueOf(link).find((due) => !due.done), { shop } = link;
  if (stands.level === "stop") return shop.phone ? call(shop.phone, shop.name, "answer main") : null;
  if (!link.dead && link.kind === "standing") return walkRound(app, link, "big");
  if (!next) return null;
  return h("button", { type: "button", class: "big", value: next.check, onclick: () => begin(app, link, next) },
    h("strong", {}, say("app-link-start")), h("span", {}, `${next.what}, ${whenText(app, next)}`));
}

/** @param {App} app @param {ReadLink} link @param {DueWanted} due */
async function begin(app, link, due) {
  if (!has(`check-${due.check}`)) { inform(say("app-link-newer")); return; }
  const open = (await draftsOf(app))
    .find((draft) => draft.link === link.id && draft.due === (due.id ?? undefined));
  if (open) { go(resumeHash(app.book, open)); return; }
  if (!link.pressed || (link.back && order(link.pressed, link.back) < 0)) {
    await change(app, link.id, { pressed: localTime() });
  }
  told(app, link.id);
  await startCheck(app, due.check, link.trailer.id, {}, {}, underOf(link, due.id ?? undefined));
}

/** @param {App} app @param {LinkTrailer} of1 */
const keepHere = (app, { id, name, facts }) =>
  keepTrailer(app, { trailer: id ?? uuid7(), name, facts: facts ?? {}, typed: {} });

/** @param {App} app @param {ReadLink} link @param {Due} due */
function reminder(app, link, due) {
  const box = h("input", { type: "datetime-local", "aria-label": say("app-link-when"), value: usual(due) });
  const save = () => calendarFile({
    start: new Date(box.value), title: `${due.what}: ${link.trailer.name}`,
    text: `${whenText(app, due)}. ${link.shop.name} ${link.shop.phone ?? ""}`, id: `${link.id}-${due.id}`,
  });
  /** @param {Event} event */
  const onsubmit = (event) => { event.preventDefault(); save(); };
  return h("details", {}, h("summary", {}, say("app-link-remind")),
    h("form", { onsubmit }, box, h("button", { class: "answer" }, say("app-link-calendar"))));
}

/** The day it is due at nine, or in an hour: after that the twenty miles are likely driven. */
/** @param {Due} of */
function usual({ by }) {
  const soon = new Date(Date.now() + 3_600_000), day = by ? new Date(`${by.slice(0, 10)}T09:00`) : soon;
  return localTime(day > soon ? day : soon).slice(0, 16);
}
