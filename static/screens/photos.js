// Photos: taken or chosen, made small and upright, kept as bytes. Nothing of what a camera writes
// beside the picture (place, time, its own number) is kept: only pixels pass through the canvas.

import { placeName } from "../data/words.js";
import { photosOf } from "../data/queries.js";
import { sure } from "../dialog.js";
import { h } from "../parts/h.js";
import { button, trouble } from "../parts/page.js";
import { keepPhoto, shrink } from "../data/photos.js";

/** The photos of one point in a box of its own: look, take, choose, take away. */
export async function album(app, check, point, changed) {
  const list = h("div", { class: "thumbs" }), status = h("div", {});
  const draw = async () => {
    const mine = (await photosOf(app.store, check)).filter((photo) => photo.point === point);
    list.replaceChildren(...(await Promise.all(mine.map((photo) => thumb(app, photo, nameOf(app, photo, 2), draw)))));
    await changed();
  };
  const chosen = (input) => async () => {
    const [file] = input.files;
    if (file) await taken(app, { check, point }, file, status, draw);
    input.value = "";
  };
  const box = h("dialog", { class: "album", "aria-label": "Photos" }, list, status,
    picker("Take a photo", { capture: "environment", id: "camera" }, chosen, "answer main"),
    picker("From the gallery", { id: "gallery" }, chosen, "answer"),
    button("Done", () => box.close(), "answer"));
  box.addEventListener("close", () => box.remove());
  addEventListener("hashchange", () => box.close(), { once: true });
  await draw();
  document.body.append(box);
  box.showModal();
}

function picker(text, props, chosen, kind) {
  const input = h("input", { type: "file", accept: "image/*", ...props });
  input.addEventListener("change", chosen(input));
  return h("label", { class: kind }, text, input);
}

async function taken(app, at, file, status, draw) {
  status.replaceChildren(h("p", { role: "status" }, "Making it smaller…"));
  try {
    await keepPhoto(app, at, await shrink(file));
    status.replaceChildren(h("p", { role: "status" }, "Saved on this phone."));
    await draw();
  } catch (error) {
    status.replaceChildren(trouble(error.message));
  }
}

/** All photos of a check, small, each with the point it shows. */
export async function strip(app, check, axles, changed) {
  const list = await photosOf(app.store, check);
  return h("div", { class: "thumbs" }, await Promise.all(list.map((photo) => thumb(app, photo, nameOf(app, photo, axles), changed))));
}

function nameOf(app, { point }, axles) {
  const [name, place] = point.split("@");
  return [app.book.words.point[name] ?? "The whole", placeName(place ?? "", axles)].filter(Boolean).join(", ");
}

async function source(app, { id }) {
  const { data, type } = await app.store.get("pictures", id);
  return URL.createObjectURL(new Blob([data], { type }));
}

async function thumb(app, photo, name, changed) {
  const address = await source(app, photo);
  const image = h("img", { src: address, alt: `Photo: ${name}`, width: photo.width, height: photo.height });
  image.addEventListener("load", () => URL.revokeObjectURL(address), { once: true });
  return h("figure", {}, h("button", { type: "button", class: "plain", onclick: () => large(app, photo, name, changed), "aria-label": `Open photo: ${name}` }, image),
    h("figcaption", {}, name));
}

/** The photo as large as the screen, with the way to take it away. */
async function large(app, photo, name, changed) {
  const address = await source(app, photo);
  const end = () => { box.close(); box.remove(); URL.revokeObjectURL(address); };
  const sent = photo.sent ? " The copy that was sent stays where it is." : "";
  const remove = async () => {
    if (!(await sure(`Take this photo off this phone?${sent}`, "Take it off"))) return;
    await app.store.commit([["photos", null, photo.id], ["pictures", null, photo.id], ["outbox", null, photo.id]]);
    await app.sender.report();
    end();
    await changed();
  };
  const box = h("dialog", { class: "album", "aria-label": name, oncancel: end }, h("img", { src: address, alt: `Photo: ${name}` }), h("p", {}, name),
    h("div", { class: "row" }, button("Take it off", remove, "answer"), button("Close", end, "answer main")));
  document.body.append(box);
  box.showModal();
}
