// A shop's link: what was done, what is due, and what the shop said. After the first reading all of
// it is on the phone. The secret leaves the address bar and stands in no page; it is kept only in
// the store, from where it goes into the bodies of requests.

import { checksOf, trailersOf } from "../data/queries.js";
import { localTime, sha256, uuid7 } from "../data/records.js";
import { isDead, post, reason } from "../data/sending.js";
import { inform } from "../dialog.js";
import { keepTrailer, readLinks, startCheck } from "../keep.js";
import { back, go, missing, redraw } from "../router.js";
import { h, live, moved } from "../parts/h.js";
import { valueText } from "../parts/numbers.js";
import { backButton, button, dayText, link as anchor, page, timeText, trouble } from "../parts/page.js";
import { dueOf, isLate, louder } from "../data/due.js";
import { calendarFile } from "../parts/calendar.js";

const SECRET = /^[\w-]{43}$/;
const READ_AGAIN = 10 * 60_000; // a page that comes back to the front asks again after this, in ms
const DEAD_AGAIN = 24 * 60 * 60_000; // a link that was ended may have been renewed
const problems = new Map(); // link id: why the last reading brought nothing
let lastRead = 0;

/** `#/from/<secret>`: keep the link, and go on under its number on this phone. */
export async function from(app, secret) {
  if (!SECRET.test(secret)) return missing("This link is not whole: a part of it was cut off. Open it again from the message, or ask the shop for a new one.");
  const id = (await sha256(secret)).slice(0, 16);
  if (!find(app, id)) await keep(app, { id, secret, made: localTime() });
  history.replaceState(null, "", `#/job/${id}`);
  return redraw();
}

const find = (app, id) => app.links.find((one) => one.id === id);

async function keep(app, link) {
  await app.store.commit([["links", link]]);
  await readLinks(app);
  moved();
}

/** Change a link as it stands in the store by now. */
const change = async (app, id, changes) => keep(app, { ...(await app.store.get("links", id)), ...changes });

/** Read every link that may still say something new; one that has ended, once a day. */
export async function refresh(app) {
  if (!lastRead) document.addEventListener("visibilitychange", () => { if (!document.hidden && Date.now() - lastRead > READ_AGAIN) refresh(app); });
  lastRead = Date.now();
  for (const link of app.links.filter(({ dead, died }) => !dead || !(Date.now() - died < DEAD_AGAIN))) await read(app, link.id);
}

async function read(app, id) {
  const { secret } = find(app, id);
  const reply = await post("/api/links/read", { secret }, app.settings.device);
  problems.delete(id);
  if (!reply) problems.set(id, "No answer from the shop’s server just now. ");
  else if (reply.status === 200 && reply.body?.trailer && reply.body.shop) await change(app, id, { ...wanted(reply.body), read: localTime(), dead: null });
  else if (isDead(reply)) await change(app, id, { dead: deadText(reply), died: Date.now() });
  else problems.set(id, reason(reply.status, reply.body));
  moved();
}

const wanted = ({ shop, trailer, due, replies, work, expires, kind }) => ({ shop, trailer, due: due ?? [], replies: replies ?? [], work, expires, kind });

const deadText = ({ status, body }) =>
  [reason(status, body), body?.error?.fix ?? "Ask the shop for a new one."].join(" ");

// ---- the screen ----

export async function job(app, id) {
  if (!find(app, id)) return missing("This link is not on this phone. Open it again from the shop’s message.");
  if (find(app, id).read) read(app, id).then(() => seen(app, id));
  else await read(app, id);
  if (find(app, id).read) await seen(app, id);
  const { trailer } = find(app, id);
  const here = new Set([...(await trailersOf(app.store)), ...(await checksOf(app.store))].map((one) => one.id));
  return page({
    name: "job",
    title: trailer?.name ?? "From the shop",
    back: backButton(() => back("#/")),
    body: live(() => said(app, find(app, id), here)),
    foot: live(() => start(app, find(app, id))),
  });
}

/** Replies that were on the screen are not announced on the front page again. */
async function seen(app, id) {
  const all = (find(app, id)?.replies ?? []).map(replyKey);
  if (location.hash === `#/job/${id}` && all.length > (find(app, id).seen ?? []).length) await change(app, id, { seen: all });
}

const replyKey = ({ record, made }) => `${record} ${made}`;

function said(app, link, here) {
  const { shop, trailer } = link, list = dueOf(link);
  if (!link.read) return unread(app, link);
  return [
    link.dead ? trouble(link.dead, h("p", {}, "What was read from it before, and every check you made, is still here.")) : null,
    problems.has(link.id) ? h("p", { class: "hint", role: "status" }, `${problems.get(link.id)}This is how it stood ${timeText(link.read)}. Checks work without signal.`) : null,
    h("p", {}, "From ", h("strong", {}, shop.name)),
    shop.phone ? h("a", { class: "answer", href: `tel:${shop.phone.replace(/[^\d+]/g, "")}` }, `Call ${shop.phone}`) : null,
    replies(link, here),
    link.work ? h("section", {}, h("h2", {}, "What was done"), h("p", { class: "lines" }, link.work)) : null,
    h("section", {}, h("h2", {}, "What is due"), list.length
      ? h("ul", { class: "plainlist" }, list.map((due) => dueItem(app, link, due)))
      : h("p", {}, "Nothing is due under this link.")),
    here.has(trailer.id) ? h("p", {}, anchor("This trailer is on this phone", `#/trailer/${trailer.id}`))
      : button("Keep this trailer here", () => keepHere(app, trailer), "answer"),
    link.expires && !link.dead ? h("p", { class: "hint" }, `The link works until ${dayText(link.expires)}.`) : null,
  ];
}

function unread(app, link) {
  const again = button("Try again", () => redraw(), "answer main");
  if (link.dead) return trouble(link.dead, h("p", {}, "Nothing on this phone was lost."));
  return [trouble(problems.get(link.id) ?? ""), h("p", {}, "The link is kept on this phone, but it was never read. Get some signal, then try again."), again];
}

function replies({ replies: list }, here) {
  if (!list?.length) return null;
  return h("section", {}, h("h2", {}, "The shop says"), list.map((one) => h("article", { class: "card reply" },
    h("p", { class: "lines" }, h("strong", {}, one.text)),
    h("p", { class: "hint" }, timeText(one.made), " ", here.has(one.record) ? anchor("Your check", `#/check/${one.record}`) : null))));
}

function dueItem(app, link, due) {
  if (due.done) return h("li", { class: "dueitem done" }, h("p", {}, "✓ ", due.what), h("p", { class: "hint" }, "Done"));
  return h("li", { class: "dueitem" },
    h("p", {}, h("strong", {}, due.what)), h("p", {}, whenText(app, due)),
    button("Start this one", () => begin(app, link, due), "plain"), reminder(app, link, due));
}

/** The next check on one large button, where the thumb is. */
function start(app, link) {
  const next = link.read && dueOf(link).find((due) => !due.done);
  if (!next) return null;
  return h("button", { type: "button", class: "big", value: next.check, onclick: () => begin(app, link, next) },
    h("strong", {}, "Start"), h("span", {}, `${next.what}, ${whenText(app, next)}`));
}

async function begin(app, link, due) {
  if (!app.book.words.check[due.check]) { inform("This check is newer than the app on this phone. Load the page again with signal, then start it."); return; }
  const open = (await app.store.all("drafts")).find((draft) => draft.link === link.id && draft.due === due.id);
  if (open) { go(`#/answers/${open.id}`); return; }
  if (!link.pressed) await change(app, link.id, { pressed: localTime() });
  told(app, link.id);
  const { id, facts } = link.trailer;
  await startCheck(app, due.check, id, {}, {}, { trailer: { id, facts: facts ?? {}, typed: {} }, link: link.id, due: due.id });
}

/** Tell the shop that somebody pressed the button. Without signal the sender does it later. */
async function told(app, id) {
  const { secret, told: done } = find(app, id);
  if (done) return;
  const reply = await post("/api/links/opened", { secret }, app.settings.device);
  if (reply?.status < 300) await change(app, id, { told: true });
}

const keepHere = (app, { id, name, facts }) => keepTrailer(app, { trailer: id ?? uuid7(), name, facts: facts ?? {}, typed: {} });

function reminder(app, link, due) {
  const box = h("input", { type: "datetime-local", "aria-label": "When", value: usual(due) });
  const save = () => calendarFile({
    start: new Date(box.value), title: `${due.what}: ${link.trailer.name}`,
    text: `${whenText(app, due)}. ${link.shop.name} ${link.shop.phone ?? ""}`, id: `${link.id}-${due.id}`,
  });
  return h("details", {}, h("summary", {}, "Remind me"), h("form", { onsubmit: (event) => { event.preventDefault(); save(); } },
    box, h("button", { class: "answer" }, "Put it in the calendar")));
}

/** The day it is due at nine, or in an hour: after that the twenty miles are likely driven. */
function usual({ by }) {
  const soon = new Date(Date.now() + 3_600_000), day = by && new Date(`${by.slice(0, 10)}T09:00`);
  return localTime(day > soon ? day : soon).slice(0, 16);
}

// ---- in words ----

/** A day without its year, where that goes without saying. */
function near(iso) {
  const day = new Date(iso), year = day.getFullYear() === new Date().getFullYear() ? undefined : "numeric";
  return day.toLocaleDateString(undefined, { day: "numeric", month: "short", year });
}

export function whenText(app, due) {
  const parts = [];
  if (Number.isFinite(due.at_km)) parts.push(`after ${valueText(app.book, [due.at_km, due.at_km], "km", app.settings.units)}`);
  if (due.by) parts.push(`${isLate(due) ? "late since" : "by"} ${near(due.by)}`);
  return parts.join(", ") || "when you next tow";
}

/** Cards for the front page: what is due under all links, and what shops have answered. */
export function cards(app) {
  const due = app.links.filter((link) => link.read && !link.dead)
    .flatMap((link) => dueOf(link).filter((one) => !one.done).map((one) => ({ ...one, link })))
    .sort(louder);
  const card = (one, kind) => h("a", { class: `due ${kind}`, href: `#/job/${one.link.id}` },
    h("strong", {}, `Due ${whenText(app, one)}`), h("span", {}, `${one.what}. ${one.link.trailer.name}`));
  const [first, ...more] = due;
  return [...app.links.map(answerCard), first && card(first, "loud"),
    more.length > 0 && h("details", {}, h("summary", {}, `${more.length} more due`), more.map((one) => card(one, "")))];
}

function answerCard(link) {
  const fresh = (link.replies ?? []).filter((one) => !link.seen?.includes(replyKey(one)));
  return fresh.length ? h("a", { class: "due", href: `#/job/${link.id}` }, h("strong", {}, `${link.shop.name} has answered`), h("span", {}, fresh.at(-1).text)) : null;
}
