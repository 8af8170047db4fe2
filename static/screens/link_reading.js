// A shop's link as it is read from the server and kept on the phone. After the first reading all of
// it is here; the secret stands only in the store, from where it goes into the bodies of requests.

import { localTime } from "../data/records.js";
import { isDead, post, reason } from "../data/sending.js";
import { say } from "../data/words.js";
import { readLinks } from "../keep.js";
import { moved } from "../parts/h.js";

const READ_AGAIN = 10 * 60_000; // a page that comes back to the front asks again after this, in ms
const DEAD_AGAIN = 24 * 60 * 60_000; // a link that was ended may have been renewed
export const problems = new Map(); // link id: why the last reading brought nothing
let lastRead = 0;

/** @param {App} app @param {string} id */
export const find = (app, id) => app.links.find((one) => one.id === id);

/** A link that was found before; the store never loses one. */
/** @param {App} app @param {string} id */
export const held = (app, id) => /** @type {KeptLink} */ (find(app, id));

/** @type {(link: KeptLink) => link is ReadLink} */
export const isRead = (link) => Boolean(link.read);

/** What the shop had not decided when the link was last read, worst first; where it is `gone`, no shop can. */
/** @type {(link: KeptLink, gone?: boolean) => Undecided[]} */
export const openOf = ({ open, lost = false }, gone = false) => (open && lost === gone ? [open, ...open.more ?? []]
  : []);

/**
 * The links that tell what shops have not decided. One that has ended tells it until another of its trailer was read
 * since, the trailer is back, or the shop has decided.
 */
/** @param {App} app */
export const telling = (app) => app.links.filter(isRead).filter((link) => openOf(link).length && !isOver(app, link));

/** @param {App} app @param {ReadLink} link */
const isOver = (app, link) => link.dead && (isBack(link) || app.links.some((other) => !other.dead && other.read
  && other.trailer?.id === link.trailer.id && order(other.read, link.read) >= 0));

/**
 * Kept records, and beside them, as such, what links have told that the server knows no more: no shop can decide it,
 * so that it stands until it is answered here.
 */
/** @param {App} app @param {KeptRecord[]} records @returns {KeptRecord[]} */
export function withLost(app, records) {
  const known = new Set(records.map(({ id }) => id));
  return [...records, ...app.links.filter(isRead).flatMap((link) => (isOver(app, link) ? [] : openOf(link, true))
    .filter(({ record }) => !known.has(record) && known.add(record)).map((one) => recordOf(link, one)))];
}

/** @param {ReadLink} link @param {Undecided} one */
const recordOf = ({ id: link, trailer }, { record: id, made, level, findings }) => /** @type {KeptCheck} */ ({ id, link,
  told: true, record: { kind: "check", made,
    body: { facts: trailer.facts ?? {}, trailer: trailer.id,
      verdict: { level, findings: findings.map((one) => ({ ...one, level })) } } } });

/** Whether a borrower has said that the trailer is back, and taken it out no more since. */
/** @type {(link: KeptLink) => boolean} */
export const isBack = ({ pressed, back }) => Boolean(back && !(pressed && order(back, pressed) < 0));

/** @param {App} app @param {KeptLink} link */
export async function keep(app, link) {
  await app.store.commit([["links", link]]);
  await readLinks(app);
  moved();
}

/** Change a link as it stands in the store by now. */
/** @param {App} app @param {string} id @param {Partial<KeptLink>} changes */
export async function change(app, id, changes) {
  await app.store.change("links", id, (link) => link && { ...link, ...changes });
  await readLinks(app);
  moved();
}

/** Read every link that may still say something new; one that has ended and told all, once a day. */
/** @param {App} app */
export async function refresh(app) {
  const again = () => !document.hidden && Date.now() - lastRead > READ_AGAIN && refresh(app);
  if (!lastRead) document.addEventListener("visibilitychange", again);
  lastRead = Date.now();
  const open = app.links.filter(({ dead, died, open: still }) =>
    !dead || still || !(Date.now() - (died ?? 0) < DEAD_AGAIN));
  for (const { id } of open) await read(app, id);
}

/** @param {App} app @param {string} id */
export async function read(app, id) {
  const { secret, read: before } = held(app, id);
  const reply = await post("/api/links/read", { secret }, app.settings.device);
  const its = /** @type {Partial<KeptLink> | null | undefined} */ (reply?.body);
  problems.delete(id);
  if (!reply) problems.set(id, say("app-link-no-answer"));
  else if (reply.status === 200 && its?.trailer && its.shop) {
    await change(app, id, { ...wanted(its), read: localTime(), dead: null, lost: false });
  } else if (isDead(reply)) await change(app, id, { ...before && left(its), dead: deadText(reply), died: Date.now(),
    lost: reply.body?.error?.code === "link_unknown" });
  else problems.set(id, reason(reply.status, reply.body));
  moved();
}

/** @param {Partial<KeptLink>} of */
const wanted = ({ shop, trailer, due, replies: list, work, service, expires, kind, open }) =>
  ({ shop, trailer, due: due ?? [], replies: list ?? [], work, service: service ?? null,
    expires, kind, open: open ?? null });

/** What a link that has ended still tells: what was found before and is not decided, and replies. */
/** @param {Partial<KeptLink> | null | undefined} its */
const left = (its) => (its?.replies ? { open: its.open ?? null, replies: its.replies, read: localTime() } : {});

/** @param {Reply} of */
const deadText = ({ status, body }) =>
  [reason(status, body), body?.error?.fix ?? say("app-link-ask-new")].join(" ");

/** Replies that were on the screen are not announced on the front page again. */
/** @param {App} app @param {string} id */
export async function seen(app, id) {
  const all = (find(app, id)?.replies ?? []).map(replyKey), shown = location.hash === `#/job/${id}`;
  if (shown && all.length > (held(app, id).seen ?? []).length) await change(app, id, { seen: all });
}

/** @param {ShopReply} of */
export const replyKey = ({ record, made }) => `${record} ${made}`;

/** Tell the shop that somebody pressed the button. Without signal the sender does it later. */
/** @param {App} app @param {string} id */
export async function told(app, id) {
  const { secret, told: done } = held(app, id);
  if (done) return;
  const reply = await post("/api/links/opened", { secret }, app.settings.device);
  if (reply && reply.status < 300) await change(app, id, { told: true });
}

/** The earlier moment first. */
/** @param {string} a @param {string} b */
export const order = (a, b) => Date.parse(a) - Date.parse(b);
