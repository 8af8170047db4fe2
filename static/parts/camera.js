// Photos of a point: how many there are, and the way to take one. The rest is fetched when needed.

import { h, svg } from "./h.js";

/** The photos of a check, by the number its draft had: `[{id, check, point, ...}]`. */
export async function photosOf(app, check) {
  return (await app.store.all("photos")).filter((photo) => photo.check === check);
}

/** A button with the number of photos at `point`; `before` runs to its end before anything opens. */
export function cameraButton(app, check, point, before = () => {}) {
  const count = h("span", {});
  const show = async () => { count.textContent = (await photosOf(app, check)).filter((photo) => photo.point === point).length || ""; };
  const open = async () => {
    try {
      await before();
      await app.later("later/photos", "album", check, point, show);
    } catch (error) {
      app.sure(error.message, "I see");
    }
  };
  show();
  return h("button", { type: "button", class: "plain camera", onclick: open, "aria-label": "Photos of this" },
    svg("svg", { viewBox: "0 0 24 24", "aria-hidden": "true" },
      svg("path", { d: "M3 7h4l2-3h6l2 3h4v13H3z" }), svg("circle", { cx: 12, cy: 13, r: 4 })), count);
}

/** All photos of a check as small pictures, and the way to add one about the whole. */
export async function photoSection(app, check, axles) {
  const box = h("section", { class: "photos" }, h("h2", {}, "Photos"));
  const draw = async () => {
    const some = (await photosOf(app, check)).length;
    box.replaceChildren(h("h2", {}, "Photos"), ...(some ? [await app.later("later/photos", "strip", check, axles, draw)] : []),
      h("button", { type: "button", class: "answer", onclick: () => app.later("later/photos", "album", check, "check", draw).catch((error) => app.sure(error.message, "I see")) }, "Add a photo"));
  };
  await draw().catch((error) => box.append(h("p", { class: "hint" }, error.message)));
  return box;
}
