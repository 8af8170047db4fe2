// Everything on the phone as one file, and back again. A file is looked through to its end before
// anything is written, so a bad one changes nothing.

import { hashOf, localTime, rulebookHash, sha256 } from "./records.js";

const FORMAT = "twentymile-export", VERSION = 1;
const BESIDE = ["of", "draft", "link", "due"]; // what this phone knows about a record besides its bytes

/** All records, unfinished checks, photos, links and the rulebooks used, as text. */
export async function exportText(store, withPhotos = true) {
  const kinds = ["records", "drafts", "rulebooks", "links", "photos"];
  const [records, drafts, rulebooks, links, photos] = await Promise.all(kinds.map((kind) => store.all(kind)));
  return JSON.stringify({
    format: FORMAT, version: VERSION, made: localTime(),
    records: records.map(({ record, hash, of, draft, link, due }) => ({ record, hash, of, draft, link, due })),
    drafts, rulebooks: rulebooks.map(({ data }) => data), words: rulebooks.map(({ words }) => words ?? null),
    links, photos: withPhotos ? await Promise.all(photos.map((photo) => withBytes(photo, store))) : [],
  });
}

async function withBytes({ sent, ...photo }, store) {
  const { data, type } = await store.get("pictures", photo.id);
  // The browser's own base64: many times faster than a loop over the bytes.
  const url = await new Promise((resolve, reject) => {
    const reader = Object.assign(new FileReader(), { onload: () => resolve(reader.result), onerror: () => reject(reader.error) });
    reader.readAsDataURL(new Blob([data], { type }));
  });
  return { ...photo, type, data: url.slice(url.indexOf(",") + 1) };
}

/** What a file would add: `{changes, records, known, drafts, photos, links}`. Throws with a message for people. */
export async function readExport(text, store) {
  const file = parsed(text);
  const known = new Map((await store.all("records")).map((item) => [item.id, item.hash]));
  const changes = [], found = { records: 0, known: 0, drafts: 0, photos: 0, links: 0 };
  for (const [i, item] of file.records.entries()) {
    await checkRecord(item, i);
    const { id } = item.record, before = known.get(id);
    if (before && before !== item.hash) throw new Error(`Record ${i + 1} in the file differs from the one on this phone with the same number. Nothing was changed.`);
    if (before) { found.known++; continue; }
    known.set(id, item.hash);
    const beside = Object.entries(item).filter(([name, value]) => BESIDE.includes(name) && value !== undefined);
    changes.push(["records", { id, record: item.record, hash: item.hash, ...Object.fromEntries(beside) }], ["outbox", { id, message: "" }]);
    found.records++;
  }
  for (const [i, data] of file.rulebooks.entries()) {
    const words = file.words?.[i] ?? null; // of an earlier release: they are in the rulebook
    await checkHash(data);
    if (words) await checkHash(words);
    changes.push(["rulebooks", { hash: data.hash, data, ...(words && { words }) }]);
  }
  await addDrafts(file.drafts, store, known, changes, found);
  await addPhotos(file, store, changes, found);
  await addLinks(file.links ?? [], store, changes, found);
  return { changes, ...found };
}

async function checkHash(data) {
  if ((await rulebookHash(data)) !== data?.hash) throw new Error("A rulebook in the file was changed after it was saved. Nothing was changed here.");
}

async function addPhotos({ photos = [], records }, store, changes, found) {
  const here = new Set((await store.all("photos")).map((photo) => photo.id));
  const checks = new Map(records.map((item) => [item.draft ?? item.record.id, item.record.id]));
  for (const { data, type, ...photo } of photos) {
    const bytes = bytesOf(data);
    const whole = typeof photo.id === "string" && typeof photo.check === "string" && type === "image/jpeg" && bytes;
    if (!whole || (await sha256(bytes)) !== photo.hash) throw new Error("A photo in the file is not whole. Nothing was changed. Save the file again on the other phone.");
    if (here.has(photo.id)) continue;
    here.add(photo.id);
    changes.push(["photos", photo], ["pictures", { id: photo.id, type, data: bytes.buffer }]);
    if (checks.has(photo.check)) changes.push(["outbox", { id: photo.id, check: checks.get(photo.check), message: "" }]);
    found.photos++;
  }
}

function bytesOf(base64) {
  try {
    return Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  } catch {
    return null;
  }
}

async function addLinks(links, store, changes, found) {
  const here = new Set((await store.all("links")).map((link) => link.id));
  for (const link of links) {
    if (typeof link?.id !== "string" || typeof link.secret !== "string") throw new Error("A link in the file is not whole. Nothing was changed.");
    if (here.has(link.id)) continue;
    here.add(link.id);
    changes.push(["links", link]);
    found.links++;
  }
}

function parsed(text) {
  let file;
  try {
    file = JSON.parse(text);
  } catch {
    throw new Error("The file cannot be read: it is cut off, or not a Twentymile file. Nothing was changed. Save it again on the other phone, or copy it again.");
  }
  if (file?.format !== FORMAT) throw new Error("This is not a Twentymile file. Nothing was changed. Choose a file that was saved in Settings.");
  if (file.version !== VERSION) throw new Error(`The file is of version ${file.version}; this app reads version ${VERSION}. Nothing was changed. Update the app, then try again.`);
  if (![file.records, file.drafts, file.rulebooks, file.links ?? [], file.photos ?? []].every(Array.isArray)) throw new Error("A part of the file is missing. Nothing was changed. Save it again on the other phone.");
  return file;
}

async function checkRecord(item, i) {
  const record = item?.record, whole = typeof record?.id === "string" && typeof record?.kind === "string" && record?.body && typeof record.body === "object";
  if (!whole) throw new Error(`Record ${i + 1} in the file is not whole. Nothing was changed.`);
  if ((await hashOf(record)) !== item.hash) throw new Error(`Record ${i + 1} in the file was changed after it was saved. Nothing was changed here. Save the file again on the other phone.`);
}

async function addDrafts(drafts, store, known, changes, found) {
  const here = new Set((await store.all("drafts")).map((draft) => draft.id));
  for (const draft of drafts) {
    const whole = typeof draft?.id === "string" && typeof draft.check === "string" && draft.facts && typeof draft.facts === "object";
    if (!whole) throw new Error("An unfinished check in the file is not whole. Nothing was changed.");
    if (here.has(draft.id) || known.has(draft.id)) continue;
    here.add(draft.id);
    changes.push(["drafts", draft]);
    found.drafts++;
  }
}

/** What came in, in words. */
export const addedText = ({ records, drafts, photos, known }) =>
  `Added ${records} records and ${drafts} unfinished checks${photos ? `, ${photos} photos` : ""}. ${known} were here already.`;
