// What is begun and kept: a check's draft, the record it becomes, a trailer, and settings.

import { adopt, answers, cooled, HUB_STOPS, judgedAfresh, PROFILE, told, visits } from "./data/asking.js";
import { Gone, merged, same } from "./data/drafts.js";
import { isCheck, recordsOf, trailerBy } from "./data/queries.js";
import { localDate, localTime, seal, uuid7 } from "./data/records.js";
import { askToPersist, keeping, StorageFull } from "./data/store.js";
import { heldIn, lostStops, stopsIn, whatOf, whereOf } from "./data/stops.js";
import { say } from "./data/words.js";
import { inform, sure } from "./dialog.js";
import { announce } from "./parts/page.js";
import { failed, go, land, later, missing, redraw, resumeHash, show } from "./router.js";

/** @template {keyof Settings} K @param {App} app @param {K} key @param {Settings[K]} value */
export async function setSetting(app, key, value) {
  app.settings[key] = value;
  await app.store.commit([["settings", { key, value }]]);
}

/** Links as the store has them by now. */
/** @param {App} app */
export async function readLinks(app) {
  app.links = await app.store.all("links");
}

// ---- drafts ----

/** A draft by its number, in the newest state there is: that of memory, should the disk have refused it. */
/** @param {App} app @param {string} id */
export async function draftOf(app, id) {
  const stored = await app.store.get("drafts", id), unsaved = app.drafts.get(id);
  // One that another window has kept or thrown away is not brought back from memory.
  if (!stored) return adopt(app.book, seen.has(id) ? undefined : unsaved);
  const base = unsaved && seen.get(id)?.get(unsaved.rev ?? 0);
  remember(stored);
  if (!unsaved || !base) return adopt(app.book, unsaved ?? stored);
  // What the disk refused here goes with what another window saved; where both answered, the saved one counts.
  const { draft, clashes } = merged(base, stored, unsaved);
  app.drafts.set(id, { ...draft, rev: stored.rev });
  if (clashes.length) inform(say("app-draft-changed"));
  return adopt(app.book, app.drafts.get(id));
}

// Drafts of which the disk has refused the newest answers; those are in memory while they are not saved.
/** @type {Set<string>} */
const refused = new Set();

/** Where a draft has gone: to the check that it was kept as, by its *Stop now* where that was asked for. */
/** @param {App} app @param {string} id @returns {Promise<Shown>} */
export async function keptOf(app, id) {
  const { readable } = await recordsOf(app.store), kept = readable.filter(isCheck).find(({ draft }) => draft === id);
  if (!kept) return missing(say("app-check-gone"));
  return location.hash.startsWith("#/now/") ? whereOf(kept) : `#/check/${kept.id}`;
}

/** Every draft in the newest state there is, what the disk refused last; one without an answer is none yet. */
/** @param {App} app @returns {Promise<Draft[]>} */
export async function draftsOf(app) {
  const ids = [...refused].filter((id) => app.drafts.has(id));
  const stored = (await app.store.all("drafts")).filter(({ id }) => !ids.includes(id));
  return [...stored, ...(await Promise.all(ids.map((id) => draftOf(app, id)))).filter((one) => one !== undefined)];
}

// Drafts as this window read or wrote them, by their id and `rev`: what differs from that was changed
// here. A screen may go on with an older one, so that each of them is kept for a while.
const seen = new Map();
const VERSIONS = 100;
/** Those written here, as `id rev`: what two quick taps change was no other window. @type {Set<string>} */
const written = new Set();

/** @param {Draft} stored */
function remember(stored) {
  const versions = seen.get(stored.id) ?? new Map();
  versions.set(stored.rev ?? 0, stored);
  if (versions.size > VERSIONS) versions.delete(versions.keys().next().value);
  seen.set(stored.id, versions);
}

const windows = "BroadcastChannel" in globalThis ? new BroadcastChannel("twentymile-drafts") : null;

/** Hear when another window has changed a draft, kept it, or thrown it away. */
/** @param {(id: string) => void} heard */
export function hearDrafts(heard) {
  windows?.addEventListener("message", ({ data }) => heard(data));
}

/**
 * Store a draft with what this window changed; what another one changed meanwhile stays. Resolves to
 * the draft as it is stored. Rejects with Gone when it was kept or thrown away elsewhere.
 */
/** @param {App} app @param {Draft} draft */
export async function saveDraft(app, draft) {
  const base = seen.get(draft.id)?.get(draft.rev ?? 0);
  let clashes = [];
  app.drafts.set(draft.id, draft);
  const stored = await app.store.change("drafts", draft.id, (now) => {
    if (!now) return seen.has(draft.id) ? undefined : { ...draft, rev: 1 };
    if (!base) return { ...draft, rev: (now.rev ?? 0) + 1 };
    const both = merged(base, draft, now);
    clashes = both.clashes;
    return { ...both.draft, rev: (now.rev ?? 0) + 1 };
  }).catch((error) => {
    refused.add(draft.id);
    app.full ||= error instanceof StorageFull;
    throw error;
  });
  app.full = false;
  app.drafts.delete(draft.id);
  if (!stored) throw new Gone(say("app-draft-gone"));
  remember(stored);
  if (!base && !draft.rev) seen.get(draft.id).set(0, draft); // the screen may go on with what it gave
  windows?.postMessage(draft.id);
  written.add(`${stored.id} ${stored.rev}`);
  const { rev = 1 } = stored, from = (draft.rev ?? 0) + 1;
  const own = Array.from({ length: rev - from }, (_, n) => `${stored.id} ${from + n}`).every((one) => written.has(one));
  if (clashes.length && !own) inform(say("app-draft-both"));
  return stored;
}

/**
 * A check's draft, not saved yet; what is known of the trailer (kept, or `under` a link) is not asked again. On a run
 * it is of the run's trailer, and under its link, unless another is named.
 *
 * @param {App} app @param {string} check @param {string | null} trailerId @param {Answers} facts
 * @param {Typed} typed @param {Under | null} given
 */
export async function beginCheck(app, check, trailerId = null, facts = {}, typed = {}, given = null) {
  const run = underWay(app), under = given ?? (trailerId ? null : underOf(linkOf(app, run?.link)));
  const trailer = under?.trailer ?? await trailerBy(app, trailerId ?? run?.trailer);
  const draft = adopt(app.book, {
    id: uuid7(), check, trailer: trailer?.id ?? null, date: localDate(), started: localTime(),
    facts: { ...await boreFor(app, check, trailer?.id), ...trailer?.facts, ...facts },
    typed: { ...trailer?.typed, ...typed }, skipped: [], known: [],
    link: under?.link ?? linkFor(app, trailer?.id), due: under?.due, run: run?.id,
  });
  const walk = visits(app.book, draft), asked = new Set(walk.flatMap((v) => v.keys));
  const profile = new Set(walk.filter((v) => PROFILE.includes(v.station)).flatMap((v) => v.keys));
  const known = Object.keys(trailer?.facts ?? {}).filter((key) => profile.has(key) || !asked.has(key));
  return { ...draft, known };
}

/** The bore as a stop of this trailer, or on this run, was told it; that it is not known is told once too. */
/** @param {App} app @param {string} check @param {string | null | undefined} trailer */
const boreFor = (app, check, trailer) => (HUB_STOPS.includes(check) && (trailer || underWay(app))
  ? import("./data/presets.js").then((part) => part.boreOf(app, trailer)).catch(() => null) : null);

/** The link on this phone for that trailer, a lending desk's before a job's: its checks go to the shop. */
/** @param {App} app @param {string | null | undefined} trailer */
export function linkFor(app, trailer) {
  const its = app.links.filter((one) => trailer && !one.dead && one.trailer?.id === trailer);
  return (its.find(({ kind }) => kind === "standing") ?? its[0])?.id;
}

/** A link that works. */
/** @param {App} app @param {string | null | undefined} link */
export const linkOf = (app, link) => app.links.find(({ id, dead }) => id === link && !dead);

/** What a check of a link's trailer begins with; null where the link has told of none. */
/** @param {KeptLink | undefined} link @param {string} [due] @returns {Under | null} */
export const underOf = (link, due) => (link?.trailer
  ? { trailer: { ...link.trailer, facts: link.trailer.facts ?? {}, typed: {} }, link: link.id, due } : null);

/** Who to call: the shop a check was made for, or the one that sent a link for its trailer, whether or not it works. */
/** @param {App} app @param {string | undefined} link @param {string | null | undefined} trailer */
export const shopFor = (app, link, trailer) => (app.links.find(({ id }) =>
  id === (link ?? linkFor(app, trailer))) ?? app.links.find((one) => trailer && one.trailer?.id === trailer))?.shop;

/** @param {App} of */
export const underWay = ({ settings: { run } }) => (run?.ended === null ? run : null);

/** Begin a check and go to its first question. Nothing is kept before an answer, but for what a shop asked for. */
/** @param {Parameters<typeof beginCheck>} given */
export async function startCheck(...given) {
  const [app] = given, draft = await beginCheck(...given);
  if (given[5]) await saveDraft(app, draft); else app.drafts.set(draft.id, draft);
  go(resumeHash(app.book, draft));
}

/** @type {(photo: KeptPhoto) => Change[]} */
const removal = ({ id }) => [["photos", null, id], ["pictures", null, id]];

/** Throw a draft away, with its photos. */
/** @param {App} app @param {string} id */
export async function throwAway(app, id) {
  const photos = (await app.store.all("photos")).filter((photo) => photo.check === id);
  await app.store.commit([["drafts", null, id], ...photos.flatMap(removal)]);
  app.drafts.delete(id);
  windows?.postMessage(id);
}

/** Whether an answer that takes back what is `at` *Stop now*, or *Mend*, is meant to: asked before it is lost. */
/** @param {App} app @param {Draft} before @param {Draft} after @param {Level} [at] */
export async function meant({ book }, before, after, at = "stop") {
  const what = lostStops(book, before, after, at).map((one) => whatOf([one], before.facts)).join("; ");
  return !what || sure(say("app-sure-take-back", { what, level: say(`level-${at}`) }), say("app-mended-undo"), "no");
}

/** Ask, then throw a draft away; one at *Stop now* can only be kept, so that it stays open. True once it is gone. */
/** @param {App} app @param {Draft} draft */
export async function toss(app, draft) {
  const stops = stopsIn(app.book, draft);
  if (stops.length) {
    const what = whatOf(stops, draft.facts);
    if (await sure(say("app-sure-keep-stop", { what }), say("app-keep-and-send"))) await keepCheck(app, draft);
    return false;
  }
  const held = heldIn(app.book, draft), ask = say("app-sure-throw-away");
  const yes = await sure(held ? `${whatOf([held], draft.facts)}. ${say(`finding-${held.finding}.do`)} ${ask}` : ask,
    say("app-throw-away"));
  if (yes) await throwAway(app, draft.id);
  return yes;
}

// ---- records ----

/** Keep a check with its verdict by `book`, send it when there is signal, and show it. */
/** @param {App} app @param {Draft} draft @param {AppBook} book */
export async function keepCheck(app, draft, book = app.book) {
  const facts = told(book, draft), { check, date, trailer } = draft, felt = cooled(draft)[0]?.[1];
  const typed = Object.fromEntries(Object.entries(draft.typed ?? {}).filter(([key]) => key in facts));
  const verdict = judgedAfresh(book, draft);
  const by = app.links.find((one) => one.id === draft.link)?.borrower;
  const sealed = await seal("check", { check, date, facts, typed, trailer, rulebook: book.hash, verdict,
    ...(by?.name && { by: { name: by.name, phone: by.phone ?? "" } }) },
    felt ? new Date(felt) : undefined);
  const photos = (await app.store.all("photos")).filter((photo) => photo.check === draft.id);
  const link = app.links.find((one) => one.id === draft.link);
  /** @type {Change[]} */
  const more = [
    ["rulebooks", { hash: book.hash, data: book.data }],
    ["words", { hash: book.said.hash, data: book.said }],
    ["records", { ...sealed, draft: draft.id, words: book.said.hash, skipped: draft.skipped, run: draft.run,
      stepsDone: draft.stepsDone, stoppedAtPlace: draft.stoppedAtPlace,
      ...(link && { link: link.id, due: draft.due }) }],
  ];
  for (const { id } of photos) more.push(["outbox", { id, check: sealed.id, message: "" }]);
  const run = await runAfter(app, draft, { check: sealed.id, kind: check, verdict, facts, felt });
  if (run) more.push(["settings", { key: "run", value: run }]);
  if (link && draft.due) more.push(["links", { ...link, done: { ...link.done, [draft.due]: sealed.id } }]);
  const base = seen.get(draft.id)?.get(draft.rev ?? 0);
  await keep(app, sealed, draft.id, more, `#/check/${sealed.id}`, (now) => !base || same(base.facts, now.facts));
  if (run) app.settings.run = run;
}

/** The run a check was made on, with the due stops it looked at done; null where there is none. */
/** @param {App} app @param {Draft} of1 @param {CheckDone} kept */
async function runAfter(app, { trailer, run: id }, kept) {
  const stored = id ? await app.store.get("settings", "run") : null;
  const run = /** @type {Run | null} */ (stored?.value);
  if (!run || run.id !== id || run.ended !== null || (trailer ?? null) !== run.trailer) return null;
  // Without its part the check is kept all the same; the stop can be ticked off by hand.
  const part = await later(() => import("./data/run.js")).catch(() => null);
  return part?.finishBy(run, kept, Date.now()) ?? null;
}

/** Keep a trailer's newest version, and show it. `others` are changes of the store that belong to it. */
/** @param {App} app @param {TrailerEdit} draft @param {Change[]} others */
export async function keepTrailer(app, draft, others = []) {
  await recordsOf(app.store); // so that it comes after them
  const body = trailerBody(app.book, draft), sealed = await seal("trailer", body);
  app.settings.trailer = body.retired ? null : body.trailer;
  await keep(app, sealed, draft.check && draft.id ? draft.id : null,
    [["settings", { key: "trailer", value: app.settings.trailer }], ...others], body.retired ? "#/trailers"
    : `#/trailer/${body.trailer}`);
}

/** The body of a trailer's record: its whole state, each edit a new version. */
/** @type {(book: AppBook, draft: TrailerEdit) => TrailerBody} */
function trailerBody(book, { trailer, name, facts, typed, check, date, retired }) {
  const kept = check && date ? answers(book, { check, date, facts }) : facts;
  const body = { trailer, name, facts: kept, typed: Object.fromEntries(Object.entries(typed ?? {})
    .filter(([key]) => key in kept)) };
  return retired ? { ...body, retired: true } : body;
}

/** Say how a *Stop now* or *Mend* ended: a record of its own, since a kept check never changes. */
/** @param {App} app @param {KeptRecord} item @param {string} answer @param {{ by?: string, done?: string }} more */
export async function decide(app, item, answer, more = {}) {
  await recordsOf(app.store); // so that it comes after them
  const sealed = await seal("work", { about: item.id, trailer: item.record.body.trailer, answer, ...more });
  await app.store.commit(keeping(sealed, app.links.some(({ id, lost }) => id === item.link && !lost)
    ? { link: item.link } : {}));
  windows?.postMessage(item.id); // their front pages and runs tell of it
  await app.sender.report();
  app.sender.send();
}

/**
 * @param {App} app @param {KeptRecord} sealed @param {string | null} draftId @param {Change[]} more
 * @param {string} hash @param {(now: Draft) => boolean} [asRead] whether the stored draft is what was judged
 */
async function keep(app, sealed, draftId, more, hash, asRead = () => true) {
  /** @type {Change[]} */
  const gone = draftId ? [["drafts", null, draftId]] : [];
  try {
    await commit(app.store, [...keeping(sealed), ...more, ...gone], draftId && seen.has(draftId)
      ? ["drafts", draftId, asRead] : null);
  } catch (error) {
    if (error instanceof Gone && draftId && await app.store.get("drafts", draftId)) {
      inform(say("app-draft-changed"));
      return redraw();
    }
    if (error instanceof Gone) { show(missing(say("app-draft-gone"))); return; }
    if (!(error instanceof StorageFull)) throw error;
    show(failed(error));
    return;
  }
  if (draftId) {
    app.drafts.delete(draftId);
    windows?.postMessage(draftId);
  }
  await readLinks(app);
  await app.sender.report();
  announce(say(app.lasting ? "app-saved" : "app-held"));
  land(hash);
  askOnce(app).catch(() => {});
  app.sender.send();
}

/** On a full disk the answers go first: rules and words are many times as large, and came with the app. */
/** @param {StoreOf} store @param {Change[]} changes @param {Needs | null} needs */
async function commit(store, changes, needs) {
  try {
    await store.commit(changes, needs);
  } catch (error) {
    if (!(error instanceof StorageFull)) throw error;
    await store.commit(changes.filter(([kind]) => !["rulebooks", "words"].includes(kind)), needs);
  }
}

// Some browsers put the question to the person and answer only then, so nothing may wait for it.
/** @param {App} app */
async function askOnce(app) {
  if (app.settings.persisted !== undefined || !app.lasting) return;
  app.settings.persisted = null;
  await setSetting(app, "persisted", await askToPersist());
}
