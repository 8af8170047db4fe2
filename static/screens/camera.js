// Photos of a check: how many there are, and the way to take one. The rest is fetched when needed.

import { photosOf } from "../data/queries.js";
import { say, sentence } from "../data/words.js";
import { inform } from "../dialog.js";
import { later } from "../router.js";
import { h, svg } from "../parts/h.js";

const photos = () => later(() => import("./photos.js"));
/** @param {unknown} error */
const told = (error) => inform(sentence(error));

/** A button with the number of photos at `point`; `before` runs to its end before anything opens. */
/** @param {App} app @param {string} check @param {string} point @param {() => unknown} before */
export function cameraButton(app, check, point, before = () => {}) {
  const count = h("span", {});
  const show = async () => {
    const some = (await photosOf(app.store, check)).filter((photo) => photo.point === point).length;
    count.textContent = some ? String(some) : "";
  };
  const open = async () => {
    await before();
    await (await photos()).photoDialog(app, check, point, show);
  };
  show();
  const tell = { class: "plain camera", onclick: () => open().catch(told), "aria-label": say("app-photos-here") };
  return h("button", { type: "button", ...tell },
    svg("svg", { viewBox: "0 0 24 24", "aria-hidden": "true" },
      svg("path", { d: "M3 7h4l2-3h6l2 3h4v13H3z" }), svg("circle", { cx: 12, cy: 13, r: 4 })), count);
}

/** All photos of a check as small pictures, and the way to add one about the whole. */
/** @param {App} app @param {string} check @param {number} axles */
export async function photoSection(app, check, axles) {
  const box = h("section", {}, h("h2", {}, say("app-photos")));
  const add = async () => (await photos()).photoDialog(app, check, "check", draw);
  const draw = async () => {
    const some = (await photosOf(app.store, check)).length;
    const strip = some ? [await (await photos()).strip(app, check, axles, draw)] : [];
    box.replaceChildren(h("h2", {}, say("app-photos")), ...strip,
      h("button", { type: "button", class: "answer", onclick: () => add().catch(told) }, say("app-add-photo")));
  };
  await draw().catch((error) => box.append(h("p", { class: "hint" }, error.message)));
  return box;
}
