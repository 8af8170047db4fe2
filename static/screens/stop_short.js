// What a *Stop now* says before its page has come, and where that cannot be fetched: what, where, and what to do.

import { axlesOf } from "../data/asking.js";
import { stopsIn } from "../data/stops.js";
import { foundText, has, say, signOf } from "../data/words.js";
import { draftOf } from "../keep.js";
import { h } from "../parts/h.js";
import { backButton, link, page } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { back, redraw, resumeHash, soon } from "../router.js";
import { wheelChooser } from "./stop_signs.js";

const AT_ONCE_MS = 150;

/** The page of a *Stop now*, at once: whole if it is there, short until it is. */
/** @param {App} app @param {string} id @returns {Promise<Shown>} */
export async function stopNow(app, id) {
  const coming = soon(() => import("./stop_now.js")), draft = await draftOf(app, id);
  const [worst] = draft ? stopsIn(app.book, draft) : [];
  if (!draft || !worst) return (await coming).stopNow(app, id);
  const part = await Promise.race([coming, new Promise((over) => setTimeout(over, AT_ONCE_MS))]).catch(() => null);
  if (part) return part.stopNow(app, id);
  const note = h("p", { class: "hint", role: "status" }, say("app-fetching")), stood = location.hash;
  const again = () => { if (location.hash === stood) redraw(); };
  coming.then(again, () => {
    note.textContent = say("app-not-fetched");
    addEventListener("online", again, { once: true });
  });
  return short(app, draft, worst, note);
}

/** @param {App} app @param {Draft} draft @param {Found} found @param {Element} note */
function short(app, draft, found, note) {
  const unplaced = signOf(found), title = `${foundText(found, axlesOf(draft))}.`, todo = `finding-${found.finding}.do`;
  return page({
    name: "stop-now halt",
    back: backButton(() => back(resumeHash(app.book, draft))),
    middle: sign("stop"),
    body: [h("h1", { tabindex: "-1", "aria-label": `${say("level-stop")}. ${title}` }, title),
      has(todo) ? h("p", { class: "act" }, say(todo)) : null,
      h("p", { class: "act" }, say("level-stop.do")),
      unplaced ? h("section", {}, h("h2", {}, say("app-stop-which-wheel")),
        wheelChooser(app, draft, unplaced, redraw)) : null,
      note],
    foot: link(say("app-stop-now-go-on"), resumeHash(app.book, draft), "answer"),
  });
}
