// A form as it is typed (a job, a note on a check, a trailer, who takes it along), kept on this device until it
// is stored: a lost signal, *Back* and a session that ends take nothing away. Each account has its own; leaving
// clears what others left.

const HEAD = "shop-form/";
const KEPT_MS = 14 * 24 * 60 * 60 * 1000;
const PAUSE_MS = 300;
const UNTYPED = ["csrf_token"];

// On a page without such a form only what others left is cleared.
const forms = /** @type {NodeListOf<HTMLFormElement>} */ (document.querySelectorAll("form[data-keep]"));
/** @type {HTMLElement | null} */
const stored = document.querySelector("[data-stored]");
/** @type {HTMLElement | null} */
const leaving = document.querySelector("[data-leave]");

/** @returns {[name: string, kept: KeptForm | null][]} */
function entries() {
  const names = Array.from({ length: localStorage.length }, (_, at) => localStorage.key(at) ?? "");
  return names.filter((name) => name.startsWith(HEAD)).map((name) => [name, read(name)]);
}

/** @param {string} name @returns {KeptForm | null} */
function read(name) {
  try {
    return JSON.parse(localStorage.getItem(name) ?? "null");
  } catch {
    return null; // whatever it is, it is no form
  }
}

/** @param {(one: KeptForm, name: string) => boolean} when */
function forget(when) {
  for (const [name, one] of entries()) if (!one || when(one, name)) localStorage.removeItem(name);
}

/** @param {HTMLFormElement} form */
const typed = (form) => [...new FormData(form)].flatMap(/** @returns {KeptForm["fields"]} */ ([name, value]) =>
  (typeof value === "string" && !UNTYPED.includes(name) ? [[name, value]] : []));
/** @param {[name: string, value: string][]} fields @param {string} name */
const valueOf = (fields, name) => fields.find(([one]) => one === name)?.[1] ?? "";

/** What all that is kept of a form begins with: of several on a page each is about a trailer. */
/** @param {HTMLFormElement} form */
function headOf(form) {
  const trailer = valueOf(typed(form), "trailer");
  return `${HEAD}${form.dataset.keep}${location.pathname}${trailer && `?${trailer}`}#`;
}

/** @param {HTMLFormElement} form */
function keep(form) {
  const fields = typed(form), number = valueOf(fields, "form");
  try {
    localStorage.setItem(headOf(form) + number, JSON.stringify({ made: Date.now(), form: number, fields }));
  } catch {
    // No room, or none allowed: the form works all the same, as it did before anything was kept.
  }
}

/** @param {HTMLFormElement} form @param {[name: string, value: string][]} fields */
function fill(form, fields) {
  /** @type {Map<string, string[]>} */
  const values = new Map();
  for (const [name, value] of fields) values.set(name, [...(values.get(name) ?? []), value]);
  for (const one of /** @type {Iterable<HTMLInputElement>} */ (form.elements)) {
    if (!one.name || one.type === "submit" || UNTYPED.includes(one.name)) continue;
    const wanted = values.get(one.name) ?? [];
    if (one.type === "checkbox" || one.type === "radio") one.checked = wanted.includes(one.value);
    else if (wanted.length) put(one, wanted[0]);
  }
  for (const [name, [value]] of values) if (value && !form.elements.namedItem(name)) addHidden(form, name, value);
}

/** @param {HTMLInputElement | HTMLSelectElement} one @param {string} value */
function put(one, value) {
  if (one instanceof HTMLSelectElement && ![...one.options].some((option) => option.value === value)) {
    one.add(new Option(value, value));
  }
  one.value = value;
}

/** @param {HTMLFormElement} form @param {string} name @param {string} value */
function addHidden(form, name, value) {
  const one = document.createElement("input");
  Object.assign(one, { type: "hidden", name, value });
  form.append(one);
}

/** @param {HTMLFormElement} form */
function offer(form) {
  const own = headOf(form), bar = /** @type {HTMLElement | null} */ (form.previousElementSibling);
  const others = entries().flatMap(([name, kept]) => (kept && name.startsWith(own) ? [{ name, ...kept }] : []));
  const [found] = others.sort((one, two) => two.made - one.made);
  if (!bar?.matches(".typedhere") || !found || JSON.stringify(found.fields) === JSON.stringify(typed(form))) return;
  bar.querySelector("time")?.replaceChildren(new Date(found.made).toLocaleString(document.documentElement.lang));
  bar.hidden = false;
  form.closest("details")?.setAttribute("open", "");
  bar.querySelector("[data-take]")?.addEventListener("click", () => {
    localStorage.removeItem(found.name);
    fill(form, found.fields);
    keep(form);
    bar.hidden = true;
  });
  bar.querySelector("[data-drop]")?.addEventListener("click", () => {
    localStorage.removeItem(found.name);
    bar.hidden = true;
  });
}

/** @param {HTMLFormElement} form */
function watch(form) {
  let timer = 0;
  let touched = false;
  const soon = () => {
    touched = true;
    clearTimeout(timer);
    timer = setTimeout(() => keep(form), PAUSE_MS);
  };
  form.addEventListener("input", soon);
  form.addEventListener("change", soon);
  addEventListener("pagehide", () => touched && keep(form));
  form.addEventListener("submit", (event) => {
    clearTimeout(timer); // on a page that *Back* wakes it would keep what is stored by then
    keep(form);
    touched = false;
    const offline = !navigator.onLine;
    form.querySelector("[data-offline]")?.toggleAttribute("hidden", !offline);
    if (offline) event.preventDefault();
  });
}

forget((one) => Date.now() - one.made > KEPT_MS);
if (stored) forget((one) => one.form === stored.dataset.stored);
for (const form of forms) {
  if (form.hasAttribute("data-refused")) keep(form);
  else offer(form);
  watch(form);
}
if (leaving) {
  const mine = `${HEAD}${leaving.dataset.leave}/`;
  leaving.addEventListener("submit", () => forget((one, name) => !name.startsWith(mine)));
}
