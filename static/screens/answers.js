// Every answer of a check in one list, each row a way to change it, and what is still open first.

import { placeName, say } from "../data/words.js";
import { axlesOf, factOf, isDone, placeOf, PROFILE, steps } from "../data/asking.js";
import { draftOf, keepTrailer, keptOf, toss } from "../keep.js";
import { askHash, back, go } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, button, link, page } from "../parts/page.js";
import { answerText } from "../parts/answer.js";
import { photoSection } from "./camera.js";

/** @param {App} app @param {string} id */
export async function answersScreen(app, id) {
  const draft = await draftOf(app, id);
  if (!draft) return keptOf(app, id);
  const { book } = app, list = steps(book, draft);
  const open = list.filter((step) => !isDone(draft, step));
  const aside = Object.keys(draft.aside ?? {}).length;
  const known = (draft.known ?? []).filter((key) => key in draft.facts);
  return page({
    name: "review",
    title: say("app-check-answers"),
    back: backButton(() => back(list.length ? askHash(draft, open[0] ?? list.at(-1)) : "#/")),
    end: button(say("app-stop-later"), () => go(`#/pause/${id}`), "plain"),
    body: [
      open.length ? h("p", { class: "note" }, say("app-answers-open", { count: open.length })) : null,
      aside ? h("p", { class: "note" }, say("app-answers-aside", { count: aside })) : null,
      groups(app, draft, list),
      known.length ? h("details", {}, h("summary", {}, say("app-answers-known", { count: known.length })),
        h("div", { class: "reviews" }, known.map((key) =>
          row(app, draft, key, { id: key, place: placeOf(key) })))) : null,
      draft.check === "trailer" ? null : await photoSection(app, draft.id, axlesOf(draft)),
      button(say("app-throw-away-check"), () => thrown(app, draft), "plain danger"),
    ],
    foot: draft.check === "trailer"
      ? button(say("app-save-trailer"), () => keepTrailer(app, /** @type {TrailerEdit} */ (draft)), "answer main")
      : link(say("app-see-verdict"), `#/sofar/${draft.id}`, "answer main"),
  });
}

/** @param {App} app @param {Draft} draft @param {QuestionStep[]} list */
function groups(app, draft, list) {
  /** @type {Map<string, QuestionStep[]>} */
  const found = new Map();
  for (const step of list) {
    const title = placeName(step.place, axlesOf(draft));
    const name = [say(`station-${step.station}`), title].filter(Boolean).join(": ");
    found.set(name, [...found.get(name) ?? [], step]);
  }
  return [...found].map(([name, some]) => h("section", {}, h("h2", {}, name), h("div", { class: "reviews" },
    some.map((step) => (step.together ? checklistRow(draft, step) : row(app, draft, step.keys[0], step))))));
}

/** A question and its answer; the whole row is the way to change it. */
/** @param {App} app @param {Draft} draft @param {string} key @param {Pick<QuestionStep, "id" | "place">} step */
function row(app, draft, key, step) {
  const text = answerText(app.book, key, draft.facts[key], app.settings.units, draft.typed?.[key]);
  return line(draft, step, say(`fact-${factOf(key)}`), text
    ?? (draft.skipped?.includes(key) ? say("app-skipped") : null));
}

/** @param {Draft} draft @param {QuestionStep} step */
function checklistRow(draft, step) {
  /** @param {(raw: Raw) => boolean} wanted */
  const names = (wanted) => step.keys.filter((key) => wanted(draft.facts[key]))
    .map((key) => say(`fact-${factOf(key)}`));
  const [yes, unsure, glanced] = [names((raw) => raw === "yes"), names((raw) => raw === null), names(Array.isArray)];
  const parts = [yes.join(", "), unsure.length ? say("app-not-sure-of", { names: unsure.join(", ") }) : "",
    glanced.length ? say("app-glanced-of", { names: glanced.join(", ") }) : ""].filter(Boolean);
  const none = say(PROFILE.includes(step.station) ? "app-none" : "app-no-fault");
  return line(draft, step, say(`point-${step.point}`), names((raw) => raw === undefined).length ? null
    : parts.join(". ") || none);
}

/**
 * @param {Draft} draft @param {Pick<QuestionStep, "id" | "place">} step @param {string} name
 * @param {string | null} text
 */
function line(draft, step, name, text) {
  const where = placeName(step.place, axlesOf(draft)), said = text ?? say("app-not-answered");
  return h("a", { href: askHash(draft, step, "answers"), class: `review-row ${text ? "" : "open"}`,
    "aria-label": say("app-change-of", { name: [name, where, said].filter(Boolean).join(", ") }) },
  h("span", { class: "asked" }, name), h("strong", {}, said));
}

/** @param {App} app @param {Draft} draft */
async function thrown(app, draft) {
  if (await toss(app, draft)) go("#/");
}
