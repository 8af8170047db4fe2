// A check that is put aside: what is kept of it, and the ways on from here.

import { isDone, steps } from "../data/asking.js";
import { trailerBy } from "../data/queries.js";
import { heldIn, stopsIn, whatOf } from "../data/stops.js";
import { say } from "../data/words.js";
import { draftOf, draftsOf, toss } from "../keep.js";
import { go, resumeHash } from "../router.js";
import { h } from "../parts/h.js";
import { button, link, page, timeText } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { notices } from "./notices.js";

/** @param {App} app @param {string} id */
export async function pause(app, id) {
  const kept = (await draftsOf(app)).some((one) => one.id === id), draft = kept && await draftOf(app, id);
  if (!draft) return "#/"; // nothing was answered, so nothing is kept
  const list = steps(app.book, draft), left = list.filter((step) => !isDone(draft, step)).length;
  const trailer = await trailerBy(app, draft.trailer, draft.link);
  const held = heldIn(app.book, draft), stops = stopsIn(app.book, draft);
  const name = draft.check === "trailer" ? draft.name : say(`check-${draft.check}`);
  return page({
    name: "pause",
    title: say("app-pause"),
    body: [
      stops.length ? h("a", { class: "due stop", href: `#/now/${id}` },
        sign("stop", { large: true }), h("strong", {}, whatOf(stops, draft.facts))) : null,
      held ? h("div", { class: "due look" }, sign("look"), h("strong", {}, whatOf([held], draft.facts)),
        h("span", {}, say(`finding-${held.finding}.do`))) : null,
      h("p", { class: "act" }, [name, draft.check === "trailer" ? "" : trailer?.name].filter(Boolean).join(", ")),
      h("p", {}, say("app-pause-begun", { time: timeText(draft.started ?? "") })),
      app.full ? notices(app)
        : h("p", {}, say("app-pause-kept", { answered: Object.keys(draft.facts).length, left })),
    ],
    foot: [
      h("div", { class: "row" }, link(say("app-pause-review"), `#/answers/${id}`, "answer"),
        button(say("app-throw-away"), async () => {
          if (await toss(app, draft)) go("#/", { replace: true });
        }, "answer")),
      link(say("app-stop-now-go-on"), resumeHash(app.book, draft), "answer"),
      link(say("app-to-front"), "#/", "answer main"),
    ],
  });
}
