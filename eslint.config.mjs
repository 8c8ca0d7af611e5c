/** Rules for the scripts; build.py test installs the linter under .cache/node and runs it. */

import { createRequire } from "node:module";

const require = createRequire(new URL(".cache/node/", import.meta.url));
const js = require("@eslint/js");
const globals = require("globals");

export default [
  js.configs.recommended,
  {
    files: ["**/*.{js,mjs}"],
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      "array-callback-return": "error",
      complexity: ["error", 15],
      "consistent-return": "error",
      "default-case-last": "error",
      eqeqeq: "error",
      "max-depth": ["error", 3],
      "max-len": ["error", { code: 100, ignoreStrings: true, ignoreTemplateLiterals: true }],
      "max-lines-per-function": ["error", { max: 70, skipBlankLines: true, skipComments: true }],
      "no-else-return": "error",
      "no-eval": "error",
      "no-implicit-coercion": "error",
      "no-implied-eval": "error",
      "no-new-func": "error",
      "no-param-reassign": "error",
      "no-restricted-globals": ["error", "event", "name"],
      "no-restricted-syntax": [
        "error",
        { selector: "ForInStatement", message: "Use Object.entries, which knows no prototype." },
        {
          selector: "BinaryExpression[operator='**']",
          message: "Engines round powers differently.",
        },
      ],
      "no-shadow": "error",
      "no-throw-literal": "error",
      "no-unneeded-ternary": "error",
      "no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_" }],
      "no-use-before-define": ["error", { functions: false, classes: false, variables: false }],
      "no-useless-rename": "error",
      "no-useless-return": "error",
      "no-var": "error",
      "object-shorthand": "error",
      "one-var": ["error", "never"],
      "prefer-arrow-callback": "error",
      "prefer-const": "error",
      "prefer-object-spread": "error",
      "prefer-rest-params": "error",
      "prefer-template": "error",
      radix: "error",
    },
  },
  { files: ["site_src/static/js/**"], languageOptions: { globals: globals.browser } },
  {
    // The build fills in what begins with a dollar sign, so template literals can't be used there.
    files: ["site_src/publish/sw.js"],
    languageOptions: {
      globals: {
        ...globals.serviceworker,
        ...{ $entries: "readonly", $types: "readonly" },
        ...{ $pack: "readonly", $pack_hash: "readonly", $lengths: "readonly" },
      },
    },
    rules: { "prefer-template": "off" },
  },
  { files: ["**/*.mjs"], languageOptions: { globals: globals.node } },
];
