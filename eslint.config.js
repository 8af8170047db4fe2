// The rules for scripts: names that exist, nothing unused, nothing the browser does by guess.

import js from "@eslint/js";
import globals from "globals";

export default [
  js.configs.recommended,
  {
    files: ["static/**/*.js"],
    languageOptions: { ecmaVersion: 2024, sourceType: "module", globals: { ...globals.browser, notStarted: "writable" } },
    rules: {
      eqeqeq: "error",
      "max-len": ["error", { code: 120 }],
      "no-shadow": "error",
      "no-var": "error",
      "prefer-const": ["error", { destructuring: "all" }],
    },
  },
  { files: ["static/sw.js"], languageOptions: { globals: globals.serviceworker } },
];
