// Photos from the bench are made small on this device before they go, and sent as soon as they are chosen.

import { shrink } from "../data/photos.js";

/** @type {HTMLFormElement | null} */
const adding = document.querySelector("form[data-photos]");
if (adding) begin(adding);

/** @param {HTMLFormElement} form */
function begin(form) {
  const chosen = form.querySelector("input[type=file]"), said = form.querySelector("[role=status]");
  if (!(chosen instanceof HTMLInputElement) || !(said instanceof HTMLElement)) return;
  const send = async () => {
    const { small = "", offline = "" } = said.dataset;
    if (!chosen.files?.length) return form.submit(); // the answer says what to do
    said.textContent = small;
    chosen.files = await smaller(chosen.files);
    // A page that is left for one without signal loses what was chosen: look first.
    const there = await fetch(location.pathname, { method: "HEAD" }).catch(() => null);
    if (there) form.submit();
    else said.textContent = offline;
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    send();
  });
  chosen.addEventListener("change", () => chosen.files?.length && send());
}

/** @param {FileList} files What cannot be made smaller here goes as it is: the server says why it won't do. */
async function smaller(files) {
  const all = new DataTransfer();
  for (const file of files) {
    const done = await shrink(file).catch(() => null);
    all.items.add(done ? new File([done.data], file.name, { type: done.type }) : file);
  }
  return all.files;
}
