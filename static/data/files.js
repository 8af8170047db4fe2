// Everything on the phone as one file, and back again. A file is looked through to its end before
// anything is written, so a bad one changes nothing.

import { hashOf, localTime, rulebookHash, sha256 } from "./records.js";
import { say } from "./words.js";

const FORMAT = "twentymile-export", VERSION = 1;
// What this phone knows about a record besides its bytes.
const BESIDE = ["of", "draft", "words", "link", "due", "stepsDone", "stoppedAtPlace"];

/** All records, unfinished checks, photos, links and the rulebooks used, as text. */
/** @param {StoreOf} store @param {boolean} withPhotos @param {Draft[] | Promise<Draft[]>} begun */
export async function exportText(store, withPhotos = true, begun = store.all("drafts")) {
  const [records, drafts, rulebooks, words, links, photos] = await Promise.all([store.all("records"),
    begun, store.all("rulebooks"), store.all("words"), store.all("links"), store.all("photos")]);
  return JSON.stringify({
    format: FORMAT, version: VERSION, made: localTime(),
    records: records.map((item) => pick(item, ["record", "hash", ...BESIDE])),
    drafts, rulebooks: rulebooks.map(({ data }) => data), words: words.map(({ data }) => data),
    links, photos: withPhotos ? await Promise.all(photos.map((photo) => withBytes(photo, store))) : [],
  });
}

/** @param {object} item @param {string[]} names */
const pick = (item, names) => Object.fromEntries(names.map((name) => [name, Object(item)[name]]));

/** @param {KeptPhoto} kept @param {StoreOf} store */
async function withBytes(kept, store) {
  const photo = { ...kept };
  delete photo.sent; // the other phone keeps that to itself
  const { data, type } = /** @type {Picture} */ (await store.get("pictures", photo.id));
  // The browser's own base64: many times faster than a loop over the bytes.
  const url = await new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(reader.result);
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(new Blob([data], { type }));
  });
  return { ...photo, type, data: url.slice(url.indexOf(",") + 1) };
}

// A file is refused as a whole, so that nothing was changed.
/** @param {string} why @param {WordValues} [values] */
const refused = (why, values) => new Error(say(`app-file-bad-${why}`, values));

/** What a file would add: `{changes, records, known, drafts, photos, links}`. Throws with a message for people. */
/** @param {string} text @param {StoreOf} store */
export async function readExport(text, store) {
  const file = parsed(text);
  const here = await store.all("records"), known = new Map(here.map((item) => [item.id, item.hash]));
  const kept = new Set(here.map((item) => item.draft)); // a check that is kept here does not begin again
  /** @type {Change[]} */
  const changes = [];
  const found = { records: 0, known: 0, drafts: 0, photos: 0, links: 0 };
  for (const [i, item] of file.records.entries()) {
    await checkRecord(item, i);
    const { id } = item.record, before = known.get(id);
    if (before && before !== item.hash) throw refused("differs", { at: i + 1 });
    if (before) { found.known++; continue; }
    known.set(id, item.hash);
    const beside = BESIDE.filter((name) => item[name] !== undefined);
    changes.push(["records", /** @type {KeptRecord} */ ({ id, ...pick(item, ["record", "hash", ...beside]) })],
      ["outbox", { id, message: "" }]);
    found.records++;
  }
  for (const data of file.rulebooks) changes.push(["rulebooks", await checked(data)]);
  for (const data of file.words ?? []) changes.push(["words", await checked(data)]);
  const begun = file.drafts.filter((/** @type {Draft} */ draft) => !kept.has(draft?.id));
  await addDrafts(begun, store, known, changes, found);
  await addPhotos(file, store, changes, found);
  await addLinks(file.links ?? [], store, changes, found);
  return { changes, ...found };
}

/** @template {Rulebook | WordsFile} T @param {T} data */
async function checked(data) {
  if ((await rulebookHash(data)) !== data?.hash) throw refused("part");
  return { hash: data.hash, data };
}

/** @param {ExportFile} of @param {StoreOf} store @param {Change[]} changes @param {FileCounts} found */
async function addPhotos({ photos = [], records }, store, changes, found) {
  const kept = await store.all("photos"), here = new Set(kept.map((photo) => photo.id));
  const brought = new Map(records.map((item) => [item.draft ?? item.record.id, item.record.id]));
  const own = new Map((await store.all("records")).map((item) => [item.draft ?? item.id, item.id]));
  const checks = new Map([...brought, ...own]); // a photo waits to be sent with its check, wherever that was kept
  for (const { id, check, sent } of kept) {
    const now = own.has(check) || sent ? undefined : brought.get(check);
    if (now) changes.push(["outbox", { id, check: now, message: "" }]);
  }
  for (const { data, type, ...photo } of photos) {
    const bytes = bytesOf(data);
    const whole = typeof photo.id === "string" && typeof photo.check === "string" && type === "image/jpeg";
    if (!whole || !bytes || (await sha256(bytes)) !== photo.hash) throw refused("part");
    if (here.has(photo.id)) continue;
    here.add(photo.id);
    changes.push(["photos", /** @type {KeptPhoto} */ (photo)],
      ["pictures", { id: photo.id, type, data: bytes.buffer }]);
    const check = checks.get(photo.check);
    if (check) changes.push(["outbox", { id: photo.id, check, message: "" }]);
    found.photos++;
  }
}

/** @param {unknown} base64 */
function bytesOf(base64) {
  try {
    return Uint8Array.from(atob(String(base64)), (letter) => letter.charCodeAt(0));
  } catch {
    return null;
  }
}

/** @param {KeptLink[]} links @param {StoreOf} store @param {Change[]} changes @param {FileCounts} found */
async function addLinks(links, store, changes, found) {
  const here = new Set((await store.all("links")).map((link) => link.id));
  for (const link of links) {
    if (typeof link?.id !== "string" || typeof link.secret !== "string") throw refused("part");
    if (here.has(link.id)) continue;
    here.add(link.id);
    changes.push(["links", link]);
    found.links++;
  }
}

/** @param {string} text */
function parsed(text) {
  let file;
  try {
    file = JSON.parse(text);
  } catch {
    throw refused("unreadable");
  }
  if (file?.format !== FORMAT) throw refused("other");
  if (file.version !== VERSION) throw refused("version", { given: String(file.version), read: String(VERSION) });
  const parts = [file.records, file.drafts, file.rulebooks, file.words ?? [], file.links ?? [], file.photos ?? []];
  if (!parts.every(Array.isArray)) throw refused("part");
  return file;
}

/** @param {ExportedRecord} item @param {number} i */
async function checkRecord(item, i) {
  const record = item?.record, named = typeof record?.id === "string" && typeof record?.kind === "string";
  if (!named || !record.body || typeof record.body !== "object") throw refused("record", { at: i + 1 });
  if ((await hashOf(record)) !== item.hash) throw refused("changed", { at: i + 1 });
}

/**
 * @param {Draft[]} drafts @param {StoreOf} store @param {Map<string, string>} known @param {Change[]} changes
 * @param {FileCounts} found
 */
async function addDrafts(drafts, store, known, changes, found) {
  const here = new Set((await store.all("drafts")).map((draft) => draft.id));
  for (const draft of drafts) {
    const named = typeof draft?.id === "string" && typeof draft.check === "string";
    if (!named || !draft.facts || typeof draft.facts !== "object") throw refused("part");
    if (here.has(draft.id) || known.has(draft.id)) continue;
    here.add(draft.id);
    changes.push(["drafts", draft]);
    found.drafts++;
  }
}

/** What came in, in words. */
/** @param {FileCounts} of */
export const addedText = ({ records, drafts, photos, known }) =>
  say("app-file-added", { records, drafts, photos, known });
