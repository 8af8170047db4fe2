// How what waits in the outbox is sent. An item leaves it only on an answer with the same id and the
// same hash, never by age. A photo goes after its check.

import { say } from "./words.js";

/** @typedef {import("./outbox.js").Sender} Sender */

const TIME_OUT = 10_000, PHOTO_TIME_OUT = 60_000;
const ENOUGH = 3; // records that fail one after the other, or photos, before the rest of them is left for another round
const TOGETHER = 5; // records of one request: what a server answers in a tenth of a second
// What the app's own server says when no other try can help. A proxy, a network's sign-in page or a
// server in the middle of an update may answer in its place: nothing else ends the sending of an item.
const FINAL = new Set([
  "bad_fact", "bad_field", "bad_header", "empty", "hash_mismatch", "id_reused",
  "not_a_photo", "not_canonical", "not_json", "not_whole", "sent_elsewhere", "tail", "too_costly", "too_large",
  "too_many_pixels", "link_expired", "link_revoked", "link_replaced", "link_unknown",
]);
const DEAD = new Set(["link_expired", "link_revoked", "link_replaced", "link_unknown"]);

/** Whether the app's own server refused for good; all other answers say nothing about what was sent. */
/** @type {(reply: Reply) => boolean} */
const isFinal = ({ status, body }) => status >= 400 && status < 500 && FINAL.has(body?.error?.code ?? "");

/** Whether the app's own server says that a link no longer works. */
/** @type {(reply: Reply) => boolean} */
export const isDead = (reply) => isFinal(reply) && DEAD.has(reply.body?.error?.code ?? "");

/** Try each of `items`, oldest first; resolves to whether something is left to try again. */
/** @type {(sender: Sender, items: OutboxItem[]) => Promise<boolean>} */
export async function sendAll(sender, items) {
  /** @type {(item: OutboxItem) => number} */
  const fails = ({ id }) => sender.failed.get(id) ?? 0;
  /** @type {(item: OutboxItem) => number} */
  const kind = ({ check }) => (check ? 1 : 0); // no photo overtakes its check
  const waiting = items.sort((a, b) => kind(a) - kind(b) || fails(a) - fails(b)), inRow = [0, 0];
  let left = false;
  sender.why = "";
  /** @type {(Reply | null)[]} */
  let replies = [];
  let singly = false;
  for (const [n, item] of waiting.entries()) {
    if (inRow[kind(item)] === ENOUGH) { left = true; replies = []; continue; } // it would fare no better
    if (!replies.length) await sender.report(); // the rest may take long
    // One that failed goes alone: it may be what the others failed by.
    if (!replies.length && !singly) {
      const end = waiting.findIndex((one, at) => at >= n && (at === n + TOGETHER || one.check || fails(one)));
      const part = waiting.slice(n, end < 0 ? n + TOGETHER : end);
      if (part.length > 1) singly = !(replies = await sendSeveral(sender, part)).length;
    }
    const done = await sendOne(sender, item, replies.shift());
    if (done) { inRow[kind(item)] = 0; sender.failed.delete(item.id); continue; }
    // One that the server cannot take must not hold up those behind it: next time it comes last.
    left = true;
    sender.failed.set(item.id, fails(item) + 1);
    if (done === null) break;
    inRow[kind(item)]++;
  }
  return left;
}

/** The answers to several records in one request; none where each has to go for itself. */
/** @type {(sender: Sender, items: OutboxItem[]) => Promise<(Reply | null)[]>} */
async function sendSeveral(sender, items) {
  const kept = await Promise.all(items.map(({ id }) => sender.store.get("records", id)));
  if (!kept.every(Boolean)) return [];
  const records = await Promise.all(kept.map((one) => one && envelope(sender, one)));
  const reply = await post("/api/records/several", { records }, sender.device);
  if (!reply) return kept.map(() => null);
  const { answers } = reply.body ?? {}; // an earlier release gives none
  return reply.status === 200 && Array.isArray(answers) && answers.length === kept.length ? answers : [];
}

/** True when the server answered for good, be it yes or no; false when not; null without any answer. */
/** @type {(sender: Sender, item: OutboxItem, replied: Reply | null | undefined) => Promise<boolean | null>} */
async function sendOne(sender, item, replied) {
  const { id, check } = item;
  const record = check ? undefined : await sender.store.get("records", id);
  const photo = check ? await sender.store.get("photos", id) : undefined;
  if (!record && !photo) { await sender.store.commit([["outbox", null, id]]); return true; }
  if (check && (await sender.store.get("outbox", check))) return true; // it was refused
  const reply = replied !== undefined ? replied : record ? await sendRecord(sender, record)
    : photo && check ? await sendPhoto(sender, photo, check) : null;
  if (!reply) return null;
  const { status, body } = reply;
  if (status < 300 && body?.id === id && body.hash === (record ?? photo)?.hash) {
    if (record) sender.clock = body.clock ?? 0;
    await sender.store.commit([["outbox", null, id], ...(await marks(sender, item))]);
    return true;
  }
  const { error } = body ?? {};
  if (!isFinal(reply)) {
    if (error?.code === "too_many") sender.why = `${error.message} ${error.fix}`;
    return false;
  }
  await sender.store.commit([["outbox", { ...item, message: reason(status, body), code: error?.code }]]);
  return true;
}

/** What says in the store that an item was sent; it may have moved while it was on its way. */
/** @type {(sender: Sender, item: OutboxItem) => Promise<Change[]>} */
async function marks(sender, { id, check }) {
  const sent = new Date().toISOString();
  const photo = check ? await sender.store.get("photos", id) : undefined;
  if (photo) return [["photos", { ...photo, sent }]];
  const record = check ? undefined : await sender.store.get("records", id);
  return record ? [["records", { ...record, sent }]] : [];
}

/** @type {(sender: Sender, kept: KeptRecord) => Promise<Reply | null>} */
async function sendRecord(sender, kept) {
  return post("/api/records", await envelope(sender, kept), sender.device);
}

/** @type {(sender: Sender, kept: KeptRecord) => Promise<object>} */
async function envelope(sender, { record, hash, link, due }) {
  const under = await underLink(sender, link);
  return { record, hash, ...(under && { link: under.secret, due: due ?? undefined }) };
}

/** @type {(sender: Sender, photo: KeptPhoto, check: string) => Promise<Reply | null>} */
async function sendPhoto(sender, photo, check) {
  const [picture, record] = await Promise.all([sender.store.get("pictures", photo.id),
    sender.store.get("records", check)]);
  const under = await underLink(sender, record?.link);
  if (!picture) return null;
  return post("/api/photos", new Blob([picture.data], { type: picture.type }), sender.device, {
    "Content-Type": picture.type, "X-Twentymile-Photo": photo.id, "X-Twentymile-Record": check,
    "X-Twentymile-Point": photo.point, "X-Twentymile-Sha256": photo.hash,
    ...(under && { "X-Twentymile-Link": under.secret }),
  });
}

/** The link a check was made under. That it was opened is told first: a late check counts only then. */
/** @type {(sender: Sender, id: string | undefined) => Promise<KeptLink | undefined>} */
async function underLink(sender, id) {
  const link = id ? await sender.store.get("links", id) : undefined;
  if (!link?.pressed || link.told) return link;
  const reply = await post("/api/links/opened", { secret: link.secret }, sender.device);
  const now = reply && reply.status < 300 && (await sender.store.get("links", link.id));
  if (now) await sender.store.commit([["links", { ...now, told: true }]]);
  return link;
}

/** The answer as `{status, body}`, or null when there was none in time. A Blob goes as it is. */
/**
 * @param {string} address @param {object} body @param {string} device @param {Record<string, string>} headers
 * @returns {Promise<Reply | null>}
 */
export async function post(address, body, device, headers = {}) {
  const stop = new AbortController(), raw = body instanceof Blob;
  const timer = setTimeout(() => stop.abort(), raw ? PHOTO_TIME_OUT : TIME_OUT);
  try {
    const response = await fetch(address, {
      method: "POST",
      headers: {
        "Content-Type": "application/json", "X-Twentymile-Device": device,
        "X-Twentymile-Clock": new Date().toISOString(),
        ...headers,
      },
      body: raw ? body : JSON.stringify(body),
      signal: stop.signal,
    });
    return { status: response.status, body: await response.json().catch(() => null) };
  } catch {
    return null;
  } finally {
    clearTimeout(timer);
  }
}

/** @type {(status: number, body: ReplyBody | null) => string} */
export function reason(status, body) {
  const said = body?.message ?? body?.error?.message ?? body?.error ?? body?.description;
  return typeof said === "string" && said ? said : say("app-refused", { status: String(status) });
}
