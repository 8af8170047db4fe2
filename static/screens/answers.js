// Every answer of a check in one list, with a way to change each, and what is still open marked.

import { placeName, say } from "../data/words.js";
import { axlesOf, factOf, isDone, placeOf, steps } from "../data/asking.js";
import { photosOf } from "../data/queries.js";
import { sure } from "../dialog.js";
import { draftOf, keepTrailer } from "../keep.js";
import { askHash, back, go, missing } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, button, link, page } from "../parts/page.js";
import { answerText } from "../parts/answer.js";
import { photoSection } from "./camera.js";

export async function answersScreen(app, id) {
  const draft = await draftOf(app, id);
  if (!draft) return missing(say("app-check-gone"));
  const { book } = app, list = steps(book, draft);
  const open = list.filter((step) => !isDone(draft, step));
  const aside = Object.keys(draft.aside ?? {}).length;
  const known = (draft.known ?? []).filter((key) => key in draft.facts);
  return page({
    title: say("app-check-answers"),
    back: backButton(() => back(list.length ? askHash(draft, open[0] ?? list.at(-1)) : "#/")),
    end: button(say("app-put-down"), () => go("#/"), "plain"),
    body: [
      open.length ? h("p", { class: "note" }, say("app-answers-open", { count: open.length })) : null,
      aside ? h("p", { class: "note" }, say("app-answers-aside", { count: aside })) : null,
      groups(app, draft, list),
      known.length ? h("details", {}, h("summary", {}, say("app-answers-known", { count: known.length })),
        h("dl", { class: "given" }, known.map((key) => row(app, draft, key, { id: key, place: placeOf(key) })))) : null,
      draft.check === "trailer" ? null : await photoSection(app, draft.id, axlesOf(draft)),
      button(say("app-throw-away-check"), () => throwAway(app, draft), "plain danger"),
    ],
    foot: draft.check === "trailer"
      ? button(say("app-save-trailer"), () => keepTrailer(app, draft), "answer main")
      : link(say("app-see-verdict"), `#/sofar/${draft.id}`, "answer main"),
  });
}

function groups(app, draft, list) {
  const found = new Map();
  for (const step of list) {
    const title = placeName(step.place, axlesOf(draft));
    const name = [say(`station-${step.station}`), title].filter(Boolean).join(": ");
    if (!found.has(name)) found.set(name, []);
    found.get(name).push(...step.keys.map((key) => [key, step]));
  }
  return [...found].map(([name, pairs]) => h("section", {}, h("h2", {}, name),
    h("dl", { class: "given" }, [...new Set(pairs.map(([, step]) => step))].map((step) =>
      step.together ? checklistRow(draft, step) : row(app, draft, step.keys[0], step)))));
}

/** A question and its answer, with the way to change it. */
function row(app, draft, key, step) {
  const text = answerText(app.book, key, draft.facts[key], app.settings.units, draft.typed?.[key]);
  return line(draft, step, say(`fact-${factOf(key)}`), text
    ?? (draft.skipped?.includes(key) ? say("app-skipped") : null));
}

function checklistRow(draft, step) {
  const names = (raw) => step.keys.filter((key) => draft.facts[key] === raw).map((key) => say(`fact-${factOf(key)}`));
  const [yes, unsure, open] = [names("yes"), names(null), names(undefined)];
  const parts = [yes.join(", "), unsure.length ? say("app-not-sure-of", { names: unsure.join(", ") }) : ""]
    .filter(Boolean);
  return line(draft, step, say(`point-${step.point}`), open.length ? null : parts.join(". ") || say("app-none"));
}

function line(draft, step, name, text) {
  const where = placeName(step.place, axlesOf(draft));
  const label = say("app-change-of", { name: `${name} ${where}` });
  return h("div", { class: text ? "" : "open" }, h("dt", {}, name), h("dd", {}, text ?? say("app-not-answered")),
    h("dd", {}, h("a", { href: askHash(draft, step, "answers"), class: "change", "aria-label": label },
      say(text ? "app-change" : "app-answer"))));
}

async function throwAway(app, draft) {
  if (!(await sure(say("app-sure-throw-away"), say("app-throw-away")))) return;
  const ids = (await photosOf(app.store, draft.id)).map(({ id }) => id);
  const photos = ids.flatMap((id) => [["photos", null, id], ["pictures", null, id]]);
  await app.store.commit([["drafts", null, draft.id], ...photos]);
  go("#/");
}
