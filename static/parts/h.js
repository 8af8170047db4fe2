// Elements without markup in strings, so that nothing a person typed can become markup.

const SVG = "http://www.w3.org/2000/svg";

/** An element. Props: `on*` listeners, `class`, `aria-*` and other attributes; false and null are left out. */
/**
 * @template {keyof HTMLElementTagNameMap} K @param {K} tag @param {Props<HTMLElementTagNameMap[K]> | null} [props]
 * @param {...Child} children @returns {HTMLElementTagNameMap[K]}
 */
export function h(tag, props, ...children) {
  return fill(document.createElement(tag), props, children);
}

/**
 * @template {keyof SVGElementTagNameMap} K @param {K} tag @param {Props<SVGElementTagNameMap[K]> | null} [props]
 * @param {...Child} children @returns {SVGElementTagNameMap[K]}
 */
export function svg(tag, props, ...children) {
  return fill(document.createElementNS(SVG, tag), props, children);
}

// A finger that is down taps what it is on, so that this stays until it is up, or has been there for long.
let down = false;
for (const kind of ["pointerdown", "pointerup", "pointercancel"])
  addEventListener(kind, () => { down = kind === "pointerdown"; }, true);
const A_WHILE_MS = 50, WHILES = 60;
export const passed = (ms = A_WHILE_MS) => new Promise((over) => setTimeout(over, ms));

export async function lifted() {
  for (let n = 0; down && n < WHILES; n++) await passed();
}

/** A part that draws itself again whenever something moved that it shows, while it is on screen. */
/** @param {() => Child} draw */
export function live(draw) {
  const box = h("div", {});
  let was = false;
  const show = () => {
    const old = controls(box), held = document.activeElement;
    box.replaceChildren(...nodes([draw()]));
    for (const fresh of controls(box)) carry(old, fresh, held);
  };
  const moved = async () => {
    await lifted();
    was ||= box.isConnected;
    if (was && !box.isConnected) removeEventListener("moved", moved);
    else show();
  };
  show();
  addEventListener("moved", moved);
  return box;
}

/** @param {Element} box @returns {Control[]} */
const controls = (box) => [...box.querySelectorAll("details, input, textarea, select, button, a")];

/** @param {Control} one */
const nameOf = (one) =>
  [one.tagName, one.textContent, one.getAttribute("aria-label"), one.name || one.defaultValue].join("\n");

/** What the person opened, typed or stands on outlives a drawing that has the same thing again. */
/** @param {Control[]} old @param {Control} fresh @param {Element | null} held */
function carry(old, fresh, held) {
  const index = old.findIndex((one) => nameOf(one) === nameOf(fresh));
  if (index < 0) return;
  const [was] = old.splice(index, 1);
  if (was.open) fresh.open = true;
  if ("defaultValue" in was) fresh.value = was.value;
  if (was === held) fresh.focus?.({ preventScroll: true });
}

export const moved = () => dispatchEvent(new Event("moved"));

/** @template {Element} E @param {E} element @param {Props<E> | null | undefined} props @param {Child[]} children */
function fill(element, props, children) {
  for (const [name, value] of Object.entries(props ?? {})) {
    if (value === false || value === null || value === undefined) continue;
    if (typeof value === "function") element.addEventListener(name.slice(2), /** @type {EventListener} */ (value));
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...nodes(children));
  return element;
}

/** Everything in a list of lists that is there. */
/** @param {unknown[]} children @returns {(Node | string)[]} */
export const nodes = (children) => /** @type {(Node | string)[]} */ (children.flat(Infinity)
  .filter((one) => one !== null && one !== undefined && one !== false));
