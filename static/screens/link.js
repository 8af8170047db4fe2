// A shop's link: what was done, what is due, and what the shop said. After the first reading all of
// it is on the phone. The secret leaves the address bar and stands in no page; it is kept only in
// the store, from where it goes into the bodies of requests.

import { axlesOf } from "../data/asking.js";
import { checksOf, trailersOf } from "../data/queries.js";
import { localTime, seal, sha256, uuid7 } from "../data/records.js";
import { isDead, post, reason } from "../data/sending.js";
import { keeping } from "../data/store.js";
import { inform } from "../dialog.js";
import { keepTrailer, readLinks, startCheck } from "../keep.js";
import { back, go, missing, redraw, resumeHash, standAt } from "../router.js";
import { h, live, moved } from "../parts/h.js";
import { valueText } from "../parts/numbers.js";
import { backButton, bold, button, call, dayText, link as anchor, page, timeText, trouble } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { dueOf, isLate, louder } from "../data/due.js";
import { has, placeName, say } from "../data/words.js";
import { calendarFile } from "../parts/calendar.js";

const SECRET = /^[\w-]{43}$/;
const READ_AGAIN = 10 * 60_000; // a page that comes back to the front asks again after this, in ms
const DEAD_AGAIN = 24 * 60 * 60_000; // a link that was ended may have been renewed
const TOLD = 7 * 24 * 60 * 60_000; // how long the front page says that a link has ended
const problems = new Map(); // link id: why the last reading brought nothing
let lastRead = 0;

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
const find = (app, id) => app.links.find((one) => one.id === id);

/** A link that was found before; the store never loses one. */
/** @param {App} app @param {string} id */
const held = (app, id) => /** @type {KeptLink} */ (find(app, id));

/** @type {(link: KeptLink) => link is ReadLink} */
const isRead = (link) => Boolean(link.read);

/** @param {App} app @param {KeptLink} link */
async function keep(app, link) {
  await app.store.commit([["links", link]]);
  await readLinks(app);
  moved();
}

/** Change a link as it stands in the store by now. */
/** @param {App} app @param {string} id @param {Partial<KeptLink>} changes */
const change = async (app, id, changes) =>
  keep(app, { .../** @type {KeptLink} */ (await app.store.get("links", id)), ...changes });

/** Read every link that may still say something new; one that has ended, once a day. */
/** @param {App} app */
export async function refresh(app) {
  const again = () => !document.hidden && Date.now() - lastRead > READ_AGAIN && refresh(app);
  if (!lastRead) document.addEventListener("visibilitychange", again);
  lastRead = Date.now();
  const open = app.links.filter(({ dead, died }) => !dead || !(Date.now() - (died ?? 0) < DEAD_AGAIN));
  for (const { id } of open) await read(app, id);
}

/** @param {App} app @param {string} id */
async function read(app, id) {
  const { secret } = held(app, id);
  const reply = await post("/api/links/read", { secret }, app.settings.device);
  const its = /** @type {Partial<KeptLink> | null | undefined} */ (reply?.body);
  problems.delete(id);
  if (!reply) problems.set(id, say("app-link-no-answer"));
  else if (reply.status === 200 && its?.trailer && its.shop) {
    await change(app, id, { ...wanted(its), read: localTime(), dead: null });
  } else if (isDead(reply)) await change(app, id, { dead: deadText(reply), died: Date.now() });
  else problems.set(id, reason(reply.status, reply.body));
  moved();
}

/** @param {Partial<KeptLink>} of */
const wanted = ({ shop, trailer, due, replies: list, work, service, expires, kind, open }) =>
  ({ shop, trailer, due: due ?? [], replies: list ?? [], work, service: service ?? null,
    expires, kind, open: open ?? null });

/** @param {Reply} of */
const deadText = ({ status, body }) =>
  [reason(status, body), body?.error?.fix ?? say("app-link-ask-new")].join(" ");

// ---- the screen ----

/** @param {App} app @param {string} id */
export async function job(app, id) {
  if (!find(app, id)) return missing(say("app-link-gone"));
  if (held(app, id).read) read(app, id).then(() => seen(app, id));
  else await read(app, id);
  if (held(app, id).read) await seen(app, id);
  const { trailer } = held(app, id), checks = await checksOf(app.store);
  const here = new Set([...(await trailersOf(app.store)), ...checks].map((one) => one.id));
  const last = checks.filter(({ link }) => link === id).map(({ record }) => record.made).sort(order).at(-1);
  return page({
    name: "job",
    title: trailer?.name ?? say("app-link-from-shop"),
    back: backButton(() => back("#/")),
    body: live(() => said(app, held(app, id), here, last)),
    foot: live(() => start(app, held(app, id))),
  });
}

/** Replies that were on the screen are not announced on the front page again. */
/** @param {App} app @param {string} id */
async function seen(app, id) {
  const all = (find(app, id)?.replies ?? []).map(replyKey), shown = location.hash === `#/job/${id}`;
  if (shown && all.length > (held(app, id).seen ?? []).length) await change(app, id, { seen: all });
}

/** @param {ShopReply} of */
const replyKey = ({ record, made }) => `${record} ${made}`;

/** The earlier moment first. */
/** @param {string} a @param {string} b */
const order = (a, b) => Date.parse(a) - Date.parse(b);

/** @param {App} app @param {KeptLink} link @param {Set<string>} here @param {string | undefined} last */
function said(app, link, here, last) {
  if (!isRead(link)) return unread(app, link);
  const { shop, trailer } = link, list = dueOf(link);
  return [
    link.dead ? trouble(link.dead, h("p", {}, say("app-link-dead-kept"))) : null,
    problems.has(link.id) ? h("p", { class: "hint", role: "status" }, problems.get(link.id), " ",
      say("app-link-stood", { time: timeText(link.read) })) : null,
    openVerdict(link),
    h("p", {}, bold("app-link-from", "shop", shop.name)),
    link.kind === "standing" && !link.dead ? [borrower(app, link), backAgain(app, link, last)] : null,
    shop.phone ? call(shop.phone, shop.phone) : null,
    replies(link, here),
    link.work ? h("section", {}, h("h2", {}, say("app-link-done")), h("p", { class: "lines" }, link.work)) : null,
    h("section", {}, h("h2", {}, say("app-link-due")), list.length
      ? h("ul", { class: "plainlist" }, list.map((due) => dueItem(app, link, due)))
      : h("p", {}, say("app-link-nothing-due"))),
    link.dead ? null : anchor(say("app-link-run"), `#/run/from/${link.id}`, "answer"),
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
/** @param {ReadLink} of */
function openVerdict({ open, trailer }) {
  if (!open) return null;
  const axles = axlesOf({ facts: trailer.facts ?? {} });
  /** @param {Found} of */
  const text = ({ finding, place }) => [placeName(place, axles),
    has(`finding-${finding}`) ? say(`finding-${finding}`) : finding]
    .filter(Boolean).join(": ");
  return h("section", { class: `card ${open.level} open-verdict`, role: "status" }, sign(open.level),
    h("p", { class: "do" }, say("app-link-open", { day: dayText(open.made) })),
    h("ul", {}, open.findings.map((one) => h("li", {}, text(one)))));
}

/** Who borrows: asked on the desk's code, so that the library calls the one who has the trailer. */
/** @param {App} app @param {KeptLink} link */
function borrower(app, link) {
  /** @param {"name" | "phone"} name @param {string} label @param {string} type */
  const box = (name, label, type) => h("label", {}, label, h("input", {
    type, value: link.borrower?.[name] ?? "", autocomplete: "off", maxlength: 80,
    onchange: (event) => rename(app, link.id, { [name]: event.target.value.trim() }),
  }));
  return h("section", {}, h("h2", {}, say("app-link-you")),
    h("p", { class: "hint" }, say("app-link-you-why")),
    box("name", say("app-link-your-name"), "text"), box("phone", say("app-link-your-phone"), "tel"));
}

/** Out is the walk before setting off; that it is back, a borrower who began something says with one press. */
/** @param {App} app @param {KeptLink} link @param {string | undefined} last */
function backAgain(app, link, last) {
  if (link.back && !(last && order(link.back, last) < 0)) {
    return h("p", { class: "note", role: "status" }, say("app-link-back-told", { time: timeText(link.back) }));
  }
  return link.pressed || last ? button(say("app-link-back"), () => bringBack(app, link.id), "answer") : null;
}

/** @param {App} app @param {string} id */
async function bringBack(app, id) {
  const link = await app.store.get("links", id), { name, phone } = link?.borrower ?? {};
  if (!link) return;
  const sealed = await seal("outing", { what: "back", trailer: link.trailer?.id ?? null,
    ...(name && { by: { name, phone: phone ?? "" } }) });
  await app.store.commit([...keeping(sealed, { link: id }), ["links", { ...link, back: localTime() }]]);
  await readLinks(app);
  moved();
  await app.sender.report();
  app.sender.send();
}

/** Nothing is drawn again: the person is typing in the next field by now. */
/** @param {App} app @param {string} id @param {Partial<KeptLink["borrower"]>} given */
async function rename(app, id, given) {
  const now = /** @type {KeptLink} */ (await app.store.get("links", id));
  await app.store.commit([["links", { ...now, borrower: { ...now.borrower, ...given } }]]);
  await readLinks(app);
}

const WALK = { check: "walkaround", id: null };

/** The next check on one large button, where the thumb is; on the desk's code always the walk. */
/** @param {App} app @param {KeptLink} link */
function start(app, link) {
  if (!isRead(link)) return null;
  const next = dueOf(link).find((due) => !due.done);
  if (!link.dead && link.kind === "standing") {
    return h("button", { type: "button", class: "big", value: "walkaround", onclick: () => begin(app, link, WALK) },
      h("strong", {}, say("app-link-start")), h("span", {}, say("app-link-walk")));
  }
  if (!next) return null;
  return h("button", { type: "button", class: "big", value: next.check, onclick: () => begin(app, link, next) },
    h("strong", {}, say("app-link-start")), h("span", {}, `${next.what}, ${whenText(app, next)}`));
}

/** @param {App} app @param {ReadLink} link @param {DueWanted} due */
async function begin(app, link, due) {
  if (!has(`check-${due.check}`)) { inform(say("app-link-newer")); return; }
  const open = (await app.store.all("drafts"))
    .find((draft) => draft.link === link.id && draft.due === (due.id ?? undefined));
  if (open) { go(resumeHash(app.book, open)); return; }
  if (!link.pressed) await change(app, link.id, { pressed: localTime() });
  told(app, link.id);
  const { id, facts } = link.trailer;
  const trailer = { id, facts: facts ?? {}, typed: {} };
  await startCheck(app, due.check, id, {}, {}, { trailer, link: link.id, due: due.id ?? undefined });
}

/** Tell the shop that somebody pressed the button. Without signal the sender does it later. */
/** @param {App} app @param {string} id */
async function told(app, id) {
  const { secret, told: done } = held(app, id);
  if (done) return;
  const reply = await post("/api/links/opened", { secret }, app.settings.device);
  if (reply && reply.status < 300) await change(app, id, { told: true });
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

// ---- in words ----

/** A day without its year, where that goes without saying. */
/** @param {string} iso */
function near(iso) {
  const day = new Date(iso), year = day.getFullYear() === new Date().getFullYear() ? undefined : "numeric";
  return day.toLocaleDateString(undefined, { day: "numeric", month: "short", year });
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
