// The photos of one point in a box of their own: looked at, taken, chosen, taken away. data/photos.js makes them small.

import { placeName, say, sentence } from "../data/words.js";
import { photosOf } from "../data/queries.js";
import { sure } from "../dialog.js";
import { h } from "../parts/h.js";
import { button, trouble } from "../parts/page.js";
import { keepPhoto, shrink } from "../data/photos.js";

/** The photos of one point in a box of its own: look, take, choose, take away. */
/** @param {App} app @param {string} check @param {string} point @param {() => unknown} changed */
export async function photoDialog(app, check, point, changed) {
  const list = h("div", { class: "thumbs" }), status = h("div", {});
  const draw = async () => {
    const mine = (await photosOf(app.store, check)).filter((photo) => photo.point === point);
    list.replaceChildren(...(await Promise.all(mine.map((photo) => thumb(app, photo, nameOf(app, photo, 2), draw)))));
    await changed();
  };
  /** @param {HTMLInputElement} input */
  const chosen = (input) => async () => {
    const [file] = input.files ?? [];
    if (file) await taken(app, { check, point }, file, status, draw);
    input.value = "";
  };
  /** @type {HTMLDialogElement} */
  const box = h("dialog", { class: "photo-dialog", "aria-label": say("app-photos") }, list, status,
    picker(say("app-photo-take"), { capture: "environment", id: "camera" }, chosen, "answer main"),
    picker(say("app-photo-gallery"), { id: "gallery" }, chosen, "answer"),
    button(say("app-photo-done"), () => box.close(), "answer"));
  box.addEventListener("close", () => box.remove());
  addEventListener("hashchange", () => box.close(), { once: true });
  await draw();
  document.body.append(box);
  box.showModal();
}

/**
 * @param {string} text @param {Props<HTMLInputElement>} props
 * @param {(input: HTMLInputElement) => () => unknown} chosen @param {string} kind
 */
function picker(text, props, chosen, kind) {
  const input = h("input", { type: "file", accept: "image/*", ...props });
  input.addEventListener("change", chosen(input));
  return h("label", { class: kind }, text, input);
}

/**
 * @param {App} app @param {{ check: string, point: string }} at @param {File} file @param {HTMLElement} status
 * @param {() => unknown} draw
 */
async function taken(app, at, file, status, draw) {
  status.replaceChildren(h("p", { role: "status" }, say("app-photo-working")));
  try {
    await keepPhoto(app, at, await shrink(file));
    status.replaceChildren(h("p", { role: "status" }, say(app.lasting ? "app-saved" : "app-held")));
    await draw();
  } catch (error) {
    status.replaceChildren(trouble(sentence(error)));
  }
}

/** All photos of a check, small, each with the point it shows. */
/** @param {App} app @param {string} check @param {number} axles @param {() => unknown} changed */
export async function strip(app, check, axles, changed) {
  const list = await photosOf(app.store, check);
  return h("div", { class: "thumbs" }, await Promise.all(list
    .map((photo) => thumb(app, photo, nameOf(app, photo, axles), changed))));
}

/** @param {App} app @param {Pick<KeptPhoto, "point">} of1 @param {number} axles */
function nameOf(app, { point }, axles) {
  const [name, place] = point.split("@");
  return [(name === "check" ? say("app-photo-whole") : app.book.words.say(`point-${name}`)),
    placeName(place ?? "", axles)].filter(Boolean).join(", ");
}

/** @param {App} app @param {Pick<KeptPhoto, "id">} of1 */
async function source(app, { id }) {
  const { data, type } = /** @type {Picture} */ (await app.store.get("pictures", id));
  return URL.createObjectURL(new Blob([data], { type }));
}

/** @param {App} app @param {KeptPhoto} photo @param {string} name @param {() => unknown} changed */
async function thumb(app, photo, name, changed) {
  const address = await source(app, photo);
  const image = h("img", { src: address, alt: say("app-photo", { name }), width: photo.width, height: photo.height });
  image.addEventListener("load", () => URL.revokeObjectURL(address), { once: true });
  const open = () => large(app, photo, name, changed);
  return h("figure", {}, button(image, open, "plain", { "aria-label": say("app-photo-open", { name }) }),
    h("figcaption", {}, name));
}

/** The photo as large as the screen, with the way to take it away. */
/** @param {App} app @param {KeptPhoto} photo @param {string} name @param {() => unknown} changed */
async function large(app, photo, name, changed) {
  const address = await source(app, photo);
  const end = () => { box.close(); box.remove(); URL.revokeObjectURL(address); };
    const remove = async () => {
    if (!(await sure(say(photo.sent ? "app-photo-sure-sent" : "app-photo-sure"), say("app-photo-remove")))) return;
    await app.store.commit([["photos", null, photo.id], ["pictures", null, photo.id], ["outbox", null, photo.id]]);
    await app.sender.report();
    end();
    await changed();
  };
  const box = h("dialog", { class: "photo-dialog", "aria-label": name, oncancel: end },
    h("img", { src: address, alt: say("app-photo", { name }) }), h("p", {}, name),
    h("div", { class: "row" }, button(say("app-photo-remove"), remove, "answer"),
      button(say("app-photo-close"), end, "answer main")));
  document.body.append(box);
  box.showModal();
}
