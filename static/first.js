// Before anything is drawn: the page that came with the answer is the front page, so at any other
// address it stays hidden until the app draws what belongs there.
"use strict";
if (location.hash.length > 2) document.documentElement.classList.add("elsewhere");
