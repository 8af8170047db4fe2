// Before anything is drawn: the page that came with the answer is the front page, so at any other
// address it stays hidden until the app draws what belongs there. A first visit fetches the app
// once that page is drawn, not before: its scripts would come in the way of the styles.
"use strict";
const start = () => document.head.append(
  Object.assign(document.createElement("script"), { type: "module", src: "/static/routes.js" }),
);
if (location.hash.length > 2) document.documentElement.classList.add("elsewhere");
if (location.hash.length > 2 || navigator.serviceWorker?.controller) start();
else requestAnimationFrame(() => setTimeout(start));
