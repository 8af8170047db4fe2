// Which screen is shown. The address after # says so, so that the phone's own back button works and
// a reload comes back to the same question.

import { isDone, steps } from "./data/asking.js";
import { laterWords } from "./data/queries.js";
import { say } from "./data/words.js";
import { h } from "./parts/h.js";
import { link, page } from "./parts/page.js";

const trail = []; // the addresses the person came by
let routes = [], opened = () => {}, drawing = 0;

/**
 * Show the screen of the address, now and whenever it changes. `table` is `[[pattern, screen]]`: the
 * pattern's groups are given to the screen, which resolves to an element, or to nothing where it went on
 * to another address. `shown(address)` hears each screen that was drawn.
 */
export function start(table, shown) {
  routes = table;
  opened = shown;
  addEventListener("hashchange", redraw);
  return redraw();
}

/** Go to an address. Resolves to null, so that a screen may end with it. */
export async function go(hash, { replace = false } = {}) {
  if (location.hash === hash) await redraw();
  else if (replace) location.replace(hash);
  else location.hash = hash;
  return null;
}

/** Back along the way the person came, where that is the way they came. */
export function back(hash) {
  if (trail.at(-2) === hash) history.back();
  else go(hash, { replace: true });
}

/** Draw the screen of the address once more. */
export async function redraw() {
  const turn = ++drawing, hash = location.hash;
  const [route, screen] = routes.find(([pattern]) => pattern.test(hash)) ??
    [/./, () => missing(say("app-no-page"))];
  const parts = (route.exec(hash) ?? []).slice(1).map((part) => part && decodeURIComponent(part));
  let shown;
  try {
    shown = await worded(() => screen(...parts));
  } catch (error) {
    shown = failed(error);
  }
  if (!shown || turn !== drawing) return;
  follow(hash);
  opened(hash);
  show(shown);
  document.body.dataset.shown = hash;
}

function follow(hash) {
  if (trail.at(-1) === hash) return;
  if (trail.at(-2) === hash) trail.pop();
  else trail.push(hash);
}

/** Put a screen in place of the one before it. */
export function show(screen) {
  document.getElementById("screen").replaceChildren(screen);
  const heading = screen.querySelector("h1"), titles = [heading?.textContent, say("app-name")].filter(Boolean);
  document.title = [...new Set(titles)].join(" – ");
  scrollTo(0, 0);
  heading?.focus({ preventScroll: true });
}

/** What the first visit did not need, as `() => import(...)`. Rejects with a message for people. */
export async function later(load) {
  try {
    const [part] = await Promise.all([load(), laterWords()]);
    return part;
  } catch {
    throw new Error(say("app-not-fetched"));
  }
}

/** A screen that the start goes without and that needs no more words, as `() => import(...)`. */
export const soon = (load) => load().catch(() => { throw new Error(say("app-not-fetched")); });

/** A screen that needs words which a first visit does without is drawn again once they are here. */
async function worded(screen) {
  try {
    return await screen();
  } catch (error) {
    if (!error.unsaid) throw error;
    await later(() => null);
    return screen();
  }
}

export function missing(text) {
  return page({ title: say("app-missing"), body: h("p", {}, text),
    foot: link(say("app-to-front"), "#/", "answer main") });
}

export function failed(error) {
  return page({
    title: say("app-failed"),
    body: [h("p", {}, say("app-failed-kept")), h("p", { class: "small" }, String(error?.message ?? error))],
    foot: h("div", { class: "row" }, link(say("app-to-files"), "#/settings", "answer"),
      link(say("app-to-front"), "#/", "answer main")),
  });
}

// ---- addresses of a check ----

/** A question's address; `then` names the screen to go back to when one answer is changed. */
export const askHash = (draft, step, then = "") =>
  `#/ask/${draft.id}/${encodeURIComponent(step.id)}${then && `/${then}`}`;

/** The first open question of a draft, or the check of its answers. */
export function openHash(book, draft) {
  const open = steps(book, draft).find((step) => !isDone(draft, step));
  return open ? askHash(draft, open) : `#/answers/${draft.id}`;
}

/** Where a draft is taken up again: a stop where hands and eyes left off, others at their first open question. */
export function resumeHash(book, draft) {
  if (draft.byPlace) return `#/walk/${draft.id}`;
  return draft.check === "quick_stop" ? `#/stop/${draft.id}` : openHash(book, draft);
}
