// Everything on the phone as one file, and back again. A file is looked through to its end before
// anything is written, so a bad one changes nothing.

import { hashOf, localTime, rulebookHash } from "./record.js";

const FORMAT = "twentymile-export", VERSION = 1;

/** All records, unfinished checks and the rulebooks they were judged by, as text. */
export async function exportText(store) {
  const [records, drafts, rulebooks] = await Promise.all(["records", "drafts", "rulebooks"].map((kind) => store.all(kind)));
  return JSON.stringify({
    format: FORMAT, version: VERSION, made: localTime(),
    records: records.map(({ record, hash, of }) => ({ record, hash, of })),
    drafts, rulebooks: rulebooks.map(({ data }) => data),
  });
}

/** What a file would add: `{changes, records, known, drafts}`. Throws with a message for people. */
export async function readExport(text, store) {
  const file = parsed(text);
  const known = new Map((await store.all("records")).map((item) => [item.id, item.hash]));
  const changes = [], found = { records: 0, known: 0, drafts: 0 };
  for (const [i, item] of file.records.entries()) {
    await checkRecord(item, i);
    const { id } = item.record, before = known.get(id);
    if (before && before !== item.hash) throw new Error(`Record ${i + 1} in the file differs from the one on this phone with the same number. Nothing was changed.`);
    if (before) { found.known++; continue; }
    known.set(id, item.hash);
    changes.push(["records", { id, record: item.record, hash: item.hash, ...(typeof item.of === "string" ? { of: item.of } : {}) }], ["outbox", { id, message: "" }]);
    found.records++;
  }
  for (const data of file.rulebooks) {
    if ((await rulebookHash(data)) !== data?.hash) throw new Error("A rulebook in the file was changed after it was saved. Nothing was changed here.");
    changes.push(["rulebooks", { hash: data.hash, data }]);
  }
  await addDrafts(file.drafts, store, known, changes, found);
  return { changes, ...found };
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
  if (![file.records, file.drafts, file.rulebooks].every(Array.isArray)) throw new Error("A part of the file is missing. Nothing was changed. Save it again on the other phone.");
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
