// A long list to pick from is narrowed by typing a name or the end of a phone number.

const PAUSE_MS = 200;

/** @type {NodeListOf<HTMLSelectElement>} */
const lists = document.querySelectorAll("select[data-find]");
for (const list of lists) narrow(list);

/** @param {HTMLSelectElement} list */
function narrow(list) {
  const box = document.createElement("input"), { hint = "" } = list.dataset;
  Object.assign(box, { type: "search", placeholder: hint, autocomplete: "off" });
  box.setAttribute("aria-label", hint);
  list.before(box);
  let timer = 0;
  box.addEventListener("input", (event) => {
    event.stopPropagation();
    clearTimeout(timer);
    timer = setTimeout(() => look(list, box.value.trim()), PAUSE_MS);
  });
}

/** @param {HTMLSelectElement} list @param {string} text */
async function look(list, text) {
  if (!text) return;
  const answer = await fetch(`${list.dataset.find}?q=${encodeURIComponent(text)}`).catch(() => null);
  if (!answer?.ok) return; // no signal: what is in the list stays
  const { found } = await answer.json();
  for (const option of [...list.options]) if (option.value && !option.selected) option.remove();
  for (const { id, name, phone } of found) {
    if (![...list.options].some((option) => option.value === String(id))) {
      list.add(new Option([name, phone].filter(Boolean).join(", "), id));
    }
  }
  if (found.length === 1) {
    list.value = String(found[0].id);
    list.dispatchEvent(new Event("change", { bubbles: true }));
  }
}

// What a folded line says in its title follows what is typed in it.
for (const title of document.querySelectorAll("[data-told]")) {
  const fold = /** @type {HTMLElement} */ (title.parentElement), [at, by] = fold.querySelectorAll("input");
  const check = fold.querySelector("select"), unit = /** @type {HTMLElement} */ (title).dataset.told;
  const tell = () => {
    const day = by?.value && new Date(`${by.value}T12:00`)
      .toLocaleDateString(document.documentElement.lang, { dateStyle: "medium" });
    title.textContent = [at?.value && `${at.value} ${unit}`, day, check?.selectedOptions[0]?.text]
      .filter(Boolean).join(", ");
  };
  fold.addEventListener("input", tell);
  tell();
}
