// Before anything is drawn: the page that came with the answer is the front page, so at any other
// address it stays hidden until the app draws what belongs there. A first visit fetches the app
// once that page is drawn, not before: its scripts would come in the way of the styles.
const elsewhere = location.hash.length > 2;
if (elsewhere) document.documentElement.classList.add("elsewhere");

// The page brings these words itself: those of the app may be what is missing.
/** @param {unknown} error */
function notStarted(error) {
  // A browser may end its worker while that hands out files: loaded once more, all it holds is there.
  const [load] = /** @type {PerformanceNavigationTiming[]} */ (performance.getEntriesByType("navigation"));
  if (navigator.serviceWorker?.controller && load?.type !== "reload") return location.reload();
  const { content } = /** @type {HTMLTemplateElement} */ (document.getElementById("failed"));
  content.querySelector(".why")?.replaceChildren(Object(error).message ?? "");
  content.querySelector("button")?.addEventListener("click", () => location.reload());
  document.getElementById("screen")?.replaceChildren(content);
}

const start = () => document.head.append(Object.assign(document.createElement("script"),
  { type: "module", src: "/static/routes.js", onerror: notStarted }));
// Not before the page is whole, since the app puts its screens into it. A hidden window draws nothing.
addEventListener("DOMContentLoaded", elsewhere || document.hidden ? start
  : () => requestAnimationFrame(() => setTimeout(start)));
