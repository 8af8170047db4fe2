// A form as it is typed (a job, a note on a check, a trailer, a customer), kept on this device until it is
// stored: a lost signal, *Back* and a session that ends take nothing away. Each account has its own; leaving
// clears what others left.

const HEAD = "shop-form/";
const KEPT_MS = 14 * 24 * 60 * 60 * 1000;
const PAUSE_MS = 300;
const UNTYPED = ["csrf_token"];

// On a page without the form only what others left is cleared.
const form = /** @type {HTMLFormElement} */ (document.querySelector("form[data-keep]"));
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

const typed = () => [...new FormData(form)].flatMap(/** @returns {KeptForm["fields"]} */ ([name, value]) =>
  (typeof value === "string" && !UNTYPED.includes(name) ? [[name, value]] : []));
/** @param {[name: string, value: string][]} fields @param {string} name */
const valueOf = (fields, name) => fields.find(([one]) => one === name)?.[1] ?? "";
const place = () => location.pathname + (valueOf(typed(), "trailer") && `?${valueOf(typed(), "trailer")}`);
const number = () => /** @type {HTMLInputElement} */ (form.elements.namedItem("form")).value;
const key = () => `${HEAD}${form.dataset.keep}${place()}#${number()}`;

function keep() {
  try {
    localStorage.setItem(key(), JSON.stringify({ made: Date.now(), form: number(), fields: typed() }));
  } catch {
    // No room, or none allowed: the form works all the same, as it did before anything was kept.
  }
}

/** @param {[name: string, value: string][]} fields */
function fill(fields) {
  /** @type {Map<string, string[]>} */
  const values = new Map();
  for (const [name, value] of fields) values.set(name, [...(values.get(name) ?? []), value]);
  for (const one of /** @type {Iterable<HTMLInputElement>} */ (form.elements)) {
    if (!one.name || one.type === "submit" || UNTYPED.includes(one.name)) continue;
    const wanted = values.get(one.name) ?? [];
    if (one.type === "checkbox" || one.type === "radio") one.checked = wanted.includes(one.value);
    else if (wanted.length) put(one, wanted[0]);
  }
  for (const [name, [value]] of values) if (value && !form.elements.namedItem(name)) addHidden(name, value);
}

/** @param {HTMLInputElement | HTMLSelectElement} one @param {string} value */
function put(one, value) {
  if (one instanceof HTMLSelectElement && ![...one.options].some((option) => option.value === value)) {
    one.add(new Option(value, value));
  }
  one.value = value;
}

/** @param {string} name @param {string} value */
function addHidden(name, value) {
  const one = document.createElement("input");
  Object.assign(one, { type: "hidden", name, value });
  form.append(one);
}

function offer() {
  const own = `${HEAD}${form.dataset.keep}${place()}#`;
  const others = entries().flatMap(([name, kept]) => (kept && name.startsWith(own) ? [{ name, ...kept }] : []));
  const [found] = others.sort((one, two) => two.made - one.made);
  /** @type {HTMLElement | null} */
  const bar = document.querySelector(".typedhere");
  if (!bar || !found || JSON.stringify(found.fields) === JSON.stringify(typed())) return;
  bar.querySelector("time")?.replaceChildren(new Date(found.made).toLocaleString(document.documentElement.lang));
  bar.hidden = false;
  bar.querySelector("[data-take]")?.addEventListener("click", () => {
    localStorage.removeItem(found.name);
    fill(found.fields);
    keep();
    bar.hidden = true;
  });
  bar.querySelector("[data-drop]")?.addEventListener("click", () => {
    localStorage.removeItem(found.name);
    bar.hidden = true;
  });
}

function watch() {
  let timer = 0;
  let touched = false;
  const soon = () => {
    touched = true;
    clearTimeout(timer);
    timer = setTimeout(keep, PAUSE_MS);
  };
  form.addEventListener("input", soon);
  form.addEventListener("change", soon);
  addEventListener("pagehide", () => touched && keep());
  form.addEventListener("submit", (event) => {
    clearTimeout(timer); // on a page that *Back* wakes it would keep what is stored by then
    keep();
    touched = false;
    const offline = !navigator.onLine;
    document.querySelector("[data-offline]")?.toggleAttribute("hidden", !offline);
    if (offline) event.preventDefault();
  });
}

forget((one) => Date.now() - one.made > KEPT_MS);
if (stored) forget((one) => one.form === stored.dataset.stored);
if (form) {
  if (form.hasAttribute("data-refused")) keep();
  else offer();
  watch();
}
if (leaving) {
  const mine = `${HEAD}${leaving.dataset.leave}/`;
  leaving.addEventListener("submit", () => forget((one, name) => !name.startsWith(mine)));
}
