// Which screen is shown. The address after # says so, so that the phone's own back button works and
// a reload comes back to the same question.

import { HUB_STOPS, isDone, steps } from "./data/asking.js";
import { laterWords } from "./data/queries.js";
import { say } from "./data/words.js";
import { h, lifted, passed } from "./parts/h.js";
import { link, page } from "./parts/page.js";

/** @type {Route[]} */
let routes = [];
/** @type {(hash: string) => void} */
let opened = () => {};
let drawing = 0, asking = 0; // the newest turn of drawing, and the one whose screen is called just now
let late = 0; // tells that a screen is being fetched
/** How far down a place of the walk was left: its questions have screens of their own. @type {Map<string, number>} */
const stood = new Map();
let stands = ""; // the address of the screen being drawn, which may say that it is that of another

// The phone's history as far as this page made it: the address at each depth, and whether the next one replaces.
/** @type {string[]} */
const entries = [];
/** @type {string | null} */
let landing = null;
let replacing = false;

/**
 * Show the screen of the address, now and whenever it changes. `table` is `[[pattern, screen]]`: the
 * pattern's groups are given to the screen, which resolves to an element, to the address of the one that takes its
 * place, or to nothing where it went on to another. `shown(address)` hears each screen that was drawn.
 */
/** @param {Route[]} table @param {(hash: string) => void} shown */
export function start(table, shown) {
  routes = table;
  opened = shown;
  addEventListener("hashchange", redraw);
  return redraw();
}

/** Go to an address. Resolves to null, so that a screen may end with it. */
/** @param {string} hash @param {{ replace?: boolean }} of1 */
export async function go(hash, { replace = false } = {}) {
  if (location.hash === hash) await redraw();
  else if (replace) {
    replacing = true;
    location.replace(hash);
  }
  else location.hash = hash;
  return null;
}

/**
 * Where something that was begun has ended: the steps that led here are left behind, so that the phone's
 * own Back leads to the front page and not to questions that are over.
 */
/** @param {string} hash */
export async function land(hash) {
  const depth = history.state?.depth ?? 0, front = entries.slice(0, depth).lastIndexOf("#/");
  if (front < 0) return go(hash, { replace: true });
  landing = hash;
  history.go(front - depth);
  return null;
}

/** @param {string} hash */
function entered(hash) {
  let { depth } = history.state ?? {};
  if (depth === undefined) {
    depth = replacing ? Math.max(0, entries.length - 1) : entries.length;
    history.replaceState({ ...history.state, depth }, "");
  }
  replacing = false;
  entries.length = Math.min(entries.length, depth);
  entries[depth] = hash || "#/";
}

/** This screen is that of another address after all. */
/** @param {string} hash */
export function standAt(hash) {
  history.replaceState(history.state, "", hash);
  entries[history.state?.depth ?? 0] = stands = hash;
}

/** Back along the way the person came, where that is the way they came. */
/** @param {string} hash */
export function back(hash) {
  if (entries[(history.state?.depth ?? 0) - 1] === hash) history.back();
  else go(hash, { replace: true });
}

/** Back to wherever the person came from; who came straight here goes to `hash`. */
/** @param {string} hash */
export const backOr = (hash) => (history.state?.depth ? history.back() : go(hash, { replace: true }));

const LATE_MS = 300;

/** What was fetched for a screen that the person has left meanwhile begins nothing any more. */
/** @param {number} turn */
const wanted = (turn) => (turn && turn !== drawing ? new Promise(() => {}) : null);

/** Draw the screen of the address once more. */
export async function redraw() {
  const turn = ++drawing, hash = location.hash, end = landing, left = document.body.dataset.shown;
  if (left?.startsWith("#/walk/")) stood.set(left, scrollY);
  entered(hash);
  stands = hash;
  landing = null;
  clearTimeout(late);
  late = setTimeout(() => { document.body.dataset.late = say("app-fetching"); }, LATE_MS);
  if (end) { go(end); return; }
  /** @type {Route} */
  const [route, screen] = routes.find(([pattern]) => pattern.test(hash)) ??
    [/./, () => missing(say("app-no-page"))];
  const parts = (route.exec(hash) ?? []).slice(1).map((part) => part && decodeURIComponent(part));
  let shown;
  try {
    shown = await worded(() => {
      asking = turn;
      try {
        return screen(...parts);
      } finally {
        asking = 0;
      }
    });
  } catch (error) {
    shown = failed(error);
  }
  await lifted();
  if (turn !== drawing) return;
  clearTimeout(late);
  delete document.body.dataset.late;
  if (!shown) return;
  if (typeof shown === "string") { go(shown, { replace: true }); return; }
  opened(stands);
  show(shown);
  scrollTo(0, stood.get(stands) ?? 0);
  document.body.dataset.shown = stands;
}

/** How much of the window the bar and the foot cover: what is scrolled to, or focused, stops short of them. */
const covers = new ResizeObserver((sizes) => sizes.forEach(({ target }) =>
  document.documentElement.style.setProperty(target.matches(".bar") ? "--bar" : "--foot",
    `${getComputedStyle(target).position === "sticky" ? target.clientHeight + 8 : 0}px`)));

/** Put a screen in place of the one before it. */
/** @param {Element} screen */
export function show(screen) {
  document.getElementById("screen")?.replaceChildren(screen);
  covers.disconnect();
  document.documentElement.style.removeProperty("--foot");
  for (const part of screen.querySelectorAll(".bar, .foot")) covers.observe(part);
  const heading = screen.querySelector("h1");
  const titles = [heading?.ariaLabel ?? heading?.textContent, say("app-name")].filter(Boolean);
  document.title = [...new Set(titles)].join(" – ");
  scrollTo(0, 0);
  heading?.focus({ preventScroll: true });
}

/** @type {Promise<unknown> | null} */
let sheet = null;
const PATIENCE_MS = 1000;

/** How it looks. It works undressed too: nobody waits long for a sheet that does not come. */
function dressed() {
  sheet ??= twice(() => new Promise((onload, onerror) => {
    document.head.append(h("link", { rel: "stylesheet", href: "/later.css", onload, onerror }));
  })).catch(() => { sheet = null; });
  return Promise.race([sheet, passed(PATIENCE_MS)]);
}

/** A browser may end the worker while that hands out a file; asked again, it is there. */
/** @template T @param {() => Promise<T>} load */
const twice = (load) => load().catch(() => passed().then(load));

/** What the first visit did not need, as `() => import(...)`. Rejects with a message for people. */
/** @template T @param {() => Promise<T>} load */
export async function later(load) {
  const turn = asking;
  const [part] = await Promise.all([twice(load), twice(laterWords), dressed()]).catch(notFetched);
  await wanted(turn);
  return part;
}

/** A screen that the start goes without and that needs no more words, as `() => import(...)`. */
/** @template T @param {() => Promise<T>} load */
export async function soon(load) {
  const turn = asking;
  const [part] = await Promise.all([twice(load), dressed()]).catch(notFetched);
  await wanted(turn);
  return part;
}

/** @returns {never} */
function notFetched() {
  throw new Error(say("app-not-fetched"));
}

/** A place on the screen that is filled once its part is here: `fill` gets the part. */
/** @template T @param {() => Promise<T>} load @param {(part: T) => Node} fill */
export function slot(load, fill) {
  const box = h("div", {});
  later(load).then((part) => box.append(fill(part)), () => {});
  return box;
}

/** A screen that needs words which a first visit does without is drawn again once they are here. */
/** @param {() => Shown | Promise<Shown>} screen @returns {Promise<Shown>} */
async function worded(screen) {
  try {
    return await screen();
  } catch (error) {
    if (!Object(error).unsaid) throw error;
    await later(async () => null);
    return screen();
  }
}

/** @param {string} text */
export function missing(text) {
  return page({ title: say("app-missing"), body: h("p", {}, text),
    foot: link(say("app-to-front"), "#/", "answer main") });
}

/** @param {unknown} error */
export function failed(error) {
  return page({
    title: say("app-failed"),
    body: [h("p", {}, say("app-failed-kept")), h("p", { class: "small" }, String(Object(error).message ?? error))],
    foot: h("div", { class: "row" }, link(say("app-to-files"), "#/settings", "answer"),
      link(say("app-to-front"), "#/", "answer main")),
  });
}

// ---- addresses of a check ----

/** A question's address; `then` names the screen to go back to when one answer is changed. */
/** @param {{ id: string }} draft @param {{ id: string }} step @param {string} then */
export const askHash = (draft, step, then = "") =>
  `#/ask/${draft.id}/${encodeURIComponent(step.id)}${then && `/${then}`}`;

/** The first open question of a draft, or the check of its answers. */
/** @param {OpenBook} book @param {Draft} draft */
export function openHash(book, draft) {
  const open = steps(book, draft).find((step) => !isDone(draft, step));
  return open ? askHash(draft, open) : `#/answers/${draft.id}`;
}

/** Where a draft is taken up again: a stop where hands and eyes left off, others at their first open question. */
/** @param {OpenBook} book @param {Draft} draft */
export function resumeHash(book, draft) {
  if (draft.check === "walkaround") return `#/walk/${draft.id}`;
  return HUB_STOPS.includes(draft.check) ? `#/stop/${draft.id}` : openHash(book, draft);
}
