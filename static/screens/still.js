// What an earlier check of this trailer was told and seldom changes: confirmed in one tap.

import { answered, axlesOf, CONSTANT, cooled, factOf, HUB_ANSWER, judged, placeOf, profileOf,
} from "../data/asking.js";
import { checksOf, trailerOf } from "../data/queries.js";
import { localDate, localTime } from "../data/records.js";
import { firstToDo } from "../data/stops.js";
import { placeName, say } from "../data/words.js";
import { keepCheck, meant, saveDraft } from "../keep.js";
import { go, redraw, resumeHash } from "../router.js";
import { answerText } from "../parts/answer.js";
import { h } from "../parts/h.js";
import { backButton, button, dayText, momentText, page } from "../parts/page.js";

/**
 * The screen that asks whether all is as before; null where nothing is known from before. Of a `book` other than the
 * app's own, for the facts `fixed`, `onward` leads on with the next draft.
 */
/** @param {App} app @param {Draft} draft @param {StillOf} [of] */
export async function still(app, draft, { book = app.book, fixed = CONSTANT, onward } = {}) {
  const points = book.data.stations.flatMap((station) => station.points);
  const asked = new Set(points.filter(({ checks }) => checks.includes(draft.check)).flatMap(({ facts }) => facts));
  /** @param {string} key */
  const wanted = (key) => fixed.includes(factOf(key)) && asked.has(factOf(key)) && !(key in draft.facts)
    && Number(placeOf(key)[0] ?? 0) <= axlesOf(draft);
  const checks = (await checksOf(app.store)).filter((item) => trailerOf(item) === draft.trailer);
  /** @type {Record<string, Answer & { made: string }>} */
  const found = {};
  for (const { record } of [...checks].reverse()) {
    for (const [key, raw] of Object.entries(record.body.facts)) {
      if (wanted(key) && raw !== null) found[key] = { raw, typed: record.body.typed?.[key], made: record.made };
    }
  }
  return Object.keys(found).length ? confirm(app, draft, found, book, onward) : null;
}

/**
 * @param {App} app @param {Draft} draft @param {Record<string, Answer & { made: string }>} found @param {OpenBook} book
 * @param {StillOf["onward"]} onward
 */
function confirm(app, draft, found, book, onward) {
  const axles = axlesOf(draft), keys = Object.keys(found);
  const tires = keys.some((key) => factOf(key).startsWith("tire_"));
  /** @param {string} key */
  const row = (key) => h("div", {}, h("dt", {}, say(`fact-${factOf(key)}`), " ",
    h("span", { class: "place" }, placeName(placeOf(key), axles))),
  h("dd", {}, answerText(book, key, found[key].raw, app.settings.units, found[key].typed)));
  /** @param {Given} given */
  const end = async (given) => {
    const next = { ...answered(draft, given), still: true };
    await saveDraft(app, next);
    if (onward) return onward(next);
    const hash = resumeHash(app.book, next);
    return location.hash === hash ? redraw() : go(hash, { replace: true });
  };
  return page({
    name: "still",
    title: say(tires ? "app-still-tires" : "app-still"),
    back: backButton(() => history.back()),
    body: [h("p", { class: "help" }, say("app-still-from", { day: dayText(found[keys[0]].made) })),
      h("dl", { class: "given" }, keys.map(row))],
    foot: [button(say("app-still-changed"), () => end({}), "answer"),
      button(say("app-still-yes"), () => end(found), "answer main")],
  });
}

/**
 * A stop whose hubs were felt long ago, others not: begun anew, but for what was found, or kept as told. What is not
 * old stays where a hub of another axle is. Where nobody is to drive on before a hub is settled the stop is kept: begun
 * anew, that would be gone without a word.
 */
/** @param {import("./stop_steps.js").Stop} stop */
export function feltBefore(stop) {
  const { app, book, draft } = stop, first = firstToDo(book, judged(book, draft)), told = Object.entries(draft.facts);
  const old = cooled(draft), axles = old.map(([key]) => placeOf(key)[0]);
  /** @param {string} key */
  const isOld = (key) => HUB_ANSWER.test(key) && axles.includes(placeOf(key)[0]);
  // a hub of this very stop
  const here = told.some(([key, raw]) => HUB_ANSWER.test(key) && raw !== null && !isOld(key));
  const anew = async () => {
    const facts = { ...profileOf(book, draft).facts, ...Object.fromEntries(told
      .filter(([key, raw]) => (here ? !isOld(key) && key !== "parked"
        : draft.known?.includes(key) || raw === "yes" && key !== "driven_easy"))) };
    const typed = Object.fromEntries(Object.entries(draft.typed ?? {}).filter(([key]) => key in facts));
    const next = { ...draft, date: localDate(), started: localTime(), typed, skipped: [], facts,
      ...(!here && { stoppedAt: undefined, drivenFor: undefined, seenAt: undefined }) };
    if (!await meant(app, draft, next) || !await meant(app, draft, next, "mend")) return;
    await saveDraft(app, next);
    go(resumeHash(book, next), { replace: true });
  };
  return stop.page({
    title: say("app-still-felt", { time: momentText(old[0][1], true) }),
    body: first ? h("p", { class: "act" }, say(`finding-${first.finding}.do`)) : null,
    foot: [button(say("app-keep-and-send"), () => keepCheck(app, draft), "answer"),
      first?.level === "look" ? null : button(say("app-still-anew"), anew, "answer main")],
  });
}
