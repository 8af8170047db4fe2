// What a *Stop now* says before its page has come, and where that cannot be fetched: what, where, what to do.

import { checkOf, laterWords } from "../data/queries.js";
import { stopsIn, stopsOf } from "../data/stops.js";
import { has, say, signOf } from "../data/words.js";
import { draftOf } from "../keep.js";
import { h, passed } from "../parts/h.js";
import { cautions, whatNow } from "../parts/mind.js";
import { backButton, link, page } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { backOr, redraw, resumeHash, soon } from "../router.js";
import { wheelChooser } from "./stop_signs.js";

const AT_ONCE_MS = 150;

/** The page of a *Stop now*, at once: whole if it is there, short until it is. */
/** @param {App} app @param {string} id @returns {Promise<Shown>} */
export async function stopNow(app, id) {
  const coming = soon(() => import("./stop_now.js"));
  const early = Promise.race([coming, passed(AT_ONCE_MS)]).catch(() => null);
  const draft = await draftOf(app, id), check = draft ?? (await checkOf(app.store, id))?.record.body;
  const stops = check ? "verdict" in check ? stopsOf(check.verdict) : stopsIn(app.book, check) : [];
  const part = await early;
  if (part || !check || !stops.length) return (await coming).stopNow(app, id);
  const note = h("p", { class: "hint", role: "status" }, say("app-fetching")), stood = location.hash;
  const again = () => { if (location.hash === stood) redraw(); };
  coming.then(again, () => {
    note.textContent = say("app-not-fetched");
    addEventListener("online", again, { once: true });
  });
  const known = stops.filter(({ finding }) => finding in app.book.data.findings);
  if (known.some(({ finding }) => !has(`finding-${finding}`))) laterWords().then(again, () => {});
  return short(app, { id, draft, check, stops, known }, note);
}

/** @param {App} app @param {StopShort} of @param {Element} note */
function short(app, { id, draft, check, stops, known }, note) {
  const unplaced = draft && stops.map(signOf).find(Boolean);
  const home = draft ? resumeHash(app.book, draft) : `#/check/${id}`;
  return page({
    name: "stop-now halt",
    back: backButton(() => backOr(home)),
    middle: sign("stop"),
    body: [whatNow(stops, check, true),
      unplaced ? h("section", {}, h("h2", {}, say("app-stop-which-wheel")),
        wheelChooser(app, draft, unplaced, redraw)) : null,
      cautions(app.book, { findings: known }, check.check, true), note],
    foot: link(say(draft ? "app-stop-now-go-on" : "app-stop-verdict"), home, "answer"),
  });
}
