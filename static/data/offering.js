// Once a day the server is asked whether it still has what this phone has sent: after an older backup was
// put back it may not. What it lacks goes into the outbox again, and from there as ever, by id and hash.

import { post } from "./sending.js";

const MOST = 500; // ids of a kind that the server takes in one question
const DAY_MS = 86_400_000;

/** Ask, unless that was done within a day of `now`; how many items are in the outbox again. */
/** @type {(store: StoreOf, device: string, last: number | undefined, now: number) => Promise<number>} */
export async function offerAgain(store, device, last, now) {
  if (last !== undefined && Math.abs(now - last) < DAY_MS) return 0;
  const [records, photos, waiting] = await Promise.all([store.all("records"), store.all("photos"),
    store.all("outbox")]);
  const unsent = new Set(waiting.map(({ id }) => id)), sent = new Set(records.filter((item) => item.sent
    && !unsent.has(item.id)).map(({ id }) => id));
  const checks = new Map(records.map(({ id, draft }) => [draft ?? id, id]));
  const pictures = photos.filter((photo) => photo.sent && !unsent.has(photo.id) && checks.has(photo.check));
  if (!sent.size && !pictures.length) return 0;
  let again = 0;
  for (let at = 0; at < Math.max(sent.size, pictures.length); at += MOST) {
    const asked = { records: [...sent].slice(at, at + MOST),
      photos: pictures.slice(at, at + MOST).map(({ id }) => id) };
    const missing = await lacking(asked, device);
    if (!missing) return again; // whoever that was, it was not our server: at the next start
    /** @type {Change[]} */
    const changes = [...records.filter(({ id }) => missing.has(id)).map(({ id }) => outboxed(id)),
      ...pictures.filter(({ id }) => missing.has(id)).map(({ id, check }) => outboxed(id, checks.get(check)))];
    // That a link was opened may be lacking, too.
    const links = new Set(records.filter(({ id }) => missing.has(id)).map(({ link }) => link));
    changes.push(...(await store.all("links")).filter(({ id }) => links.has(id)).map(untold));
    if (changes.length) await store.commit(changes);
    again += missing.size;
  }
  await store.commit([["settings", { key: "offered", value: now }]]);
  return again;
}

/** Ask in the name of this phone, and send what is lacking. */
/** @type {(app: App) => Promise<void>} */
export async function offer({ store, settings, sender }) {
  if (await offerAgain(store, settings.device, settings.offered, Date.now())) await sender.send();
}

/** @type {(link: KeptLink) => Change} */
const untold = (link) => ["links", { ...link, told: false }];

/** @type {(id: string, check?: string) => Change} */
const outboxed = (id, check) => ["outbox", { id, message: "", ...(check && { check }) }];

/** Those of the ids that the server has not got; null when that is not known. */
/** @type {(asked: { records: string[], photos: string[] }, device: string) => Promise<Set<string> | null>} */
async function lacking(asked, device) {
  const reply = await post("/api/held", asked, device), { body } = reply ?? {};
  if (reply?.status !== 200 || !Array.isArray(body?.records) || !Array.isArray(body.photos)) return null;
  const known = new Set([...asked.records, ...asked.photos]);
  return new Set([...body.records, ...body.photos].filter((id) => known.has(id)));
}
