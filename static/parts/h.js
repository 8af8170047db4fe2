// Elements without markup in strings, so that nothing a person typed can become markup.

const SVG = "http://www.w3.org/2000/svg";

/** An element. Props: `on*` listeners, `class`, `aria-*` and other attributes; false and null are left out. */
export function h(tag, props, ...children) {
  return fill(document.createElement(tag), props, children);
}

export function svg(tag, props, ...children) {
  return fill(document.createElementNS(SVG, tag), props, children);
}

/** A part that draws itself again whenever something moved that it shows, while it is on screen. */
export function live(draw) {
  const box = h("div", {});
  let was = false;
  const show = () => {
    const old = [...box.querySelectorAll(HELD)], held = document.activeElement;
    box.replaceChildren(...[draw()].flat(Infinity).filter(Boolean));
    for (const fresh of box.querySelectorAll(HELD)) carry(old, fresh, held);
  };
  const moved = () => {
    was ||= box.isConnected;
    if (was && !box.isConnected) removeEventListener("moved", moved);
    else show();
  };
  show();
  addEventListener("moved", moved);
  return box;
}

const HELD = "details, input, textarea, select, button, a";

const nameOf = (one) => [one.tagName, one.textContent, one.getAttribute("aria-label"), one.defaultValue].join("\n");

/** What the person opened, typed or stands on outlives a drawing that has the same thing again. */
function carry(old, fresh, held) {
  const index = old.findIndex((one) => nameOf(one) === nameOf(fresh));
  if (index < 0) return;
  const [was] = old.splice(index, 1);
  if (was.open) fresh.open = true;
  if ("defaultValue" in was) fresh.value = was.value;
  if (was === held) fresh.focus({ preventScroll: true });
}

export const moved = () => dispatchEvent(new Event("moved"));

function fill(element, props, children) {
  for (const [name, value] of Object.entries(props ?? {})) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat(Infinity).filter((c) => c !== null && c !== undefined && c !== false));
  return element;
}
