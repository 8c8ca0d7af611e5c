/**
 * A reader of TOML 1.0, as far as build files use it. No DOM.
 *
 * Left out are dates and times, numbers that aren't decimal, and what is no number: each is refused
 * in words, as is all that TOML itself forbids. Tables have no prototype, so that no key can mean
 * anything of its own. The text is gone through once and never cut up, so that the time is in
 * proportion to its length; how deep tables and lists may go is limited.
 *
 * @typedef {Object<string, any>} Table
 * @typedef {"implied" | "headed" | "dotted"} Made  how a table came to be, which says what may
 *   still be put into it: by the header of one within, by its own, by a dotted key. One in braces
 *   is complete
 */

/** A text that can't be read; the message names the line, what is wrong and the way out. */
export class TomlError extends Error {}

/** Tables and lists in one another, at most. */
const DEEPEST = 40;

/** Letters of a number, at most; and letters that a message shows of what is wrong. */
const [NUMBER, SHOWN] = [100, 40];

// Control characters are in none of these: only tabs, and line ends where they may be.
const BLANKS = /[ \t]*/y;
const SPACES = /[ \t\n]*/y;
const COMMENT = /#[\t -~\u0080-\uffff]*/y;
const BARE = /[A-Za-z0-9_-]+/y;
const WORD = /[^\s,\]}#]*/y;
const LINE_END = /[ \t]*\n[ \t\n]*/y;
const MORE_QUOTES = { '"': /"{0,2}/y, "'": /'{0,2}/y };

/** What may stand between quotes, on one line and on several. */
const IN_QUOTES = {
  '"': { one: /[\t !#-[\]-~\u0080-\uffff]*/y, several: /[\t\n !#-[\]-~\u0080-\uffff]*/y },
  "'": { one: /[\t -&(-~\u0080-\uffff]*/y, several: /[\t\n -&(-~\u0080-\uffff]*/y },
};

const INTEGER = /^[-+]?(?:0|[1-9](?:_?\d)*)$/;
const FLOAT = /^[-+]?(?:0|[1-9](?:_?\d)*)(?:\.\d(?:_?\d)*)?(?:[eE][-+]?\d(?:_?\d)*)?$/;

/** @type {Object<string, string>} */
const ESCAPES = { b: "\b", t: "\t", n: "\n", f: "\f", r: "\r", '"': '"', "\\": "\\" };
const CODE_POINT = /u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8}/y;

const IN_A_TEXT = 'Put a text in "quotes", and a number with its unit too.';

/** Words that are no value, and what is wrong with each. @type {[RegExp, string, string][]} */
const NO_VALUES = [
  [/^[-+]?(?:inf|nan)$/i, "is no number that can be worked with", "Leave the entry out."],
  [/^[-+]?0[xob]/i, "is not a decimal number", "Write it in decimal."],
  [/^\d+-\d+-|^\d+:\d/, "is a date or a time", 'Put it in "quotes".'],
  [/^[-+]?0[\d_]/, "begins with a nought too many", "Take it out, or put a text in quotes."],
  [/^(?:true|false)$/i, "has a capital", "Write true or false in small letters."],
  [
    /^[-+]?[\d.]/,
    "is not a number",
    'Write it as 12, 12.5 or 1_200, and with a unit in quotes: "12.5 mm".',
  ],
];

/**
 * What a text in TOML holds: tables as objects without a prototype.
 * @param {string} text @returns {Table}
 * @throws {TomlError}
 */
export function parseToml(text) {
  return new Reader(text.replaceAll("\r\n", "\n")).whole();
}

class Reader {
  /** @param {string} text */
  constructor(text) {
    this.text = text;
    this.at = 0;
    /** @type {Map<unknown, Made>} */
    this.made = new Map();
    /** Lists that are made of headers in double brackets. @type {Set<unknown>} */
    this.lists = new Set();
    this.root = this.newTable("headed");
    /** The table that the last header began, and how deep it is. */
    this.open = this.root;
    this.depth = 0;
  }

  whole() {
    const other = this.text.indexOf("\ufffd");
    if (other >= 0) throw this.refusal("a letter is not in UTF-8. Save the file as UTF-8.", other);
    for (this.skipLines(); this.at < this.text.length; this.skipLines()) {
      if (this.isNext("[")) this.header();
      else this.pair(this.open, this.depth);
      this.endLine();
    }
    return this.root;
  }

  // --- tables ------------------------------------------------------------------------------------

  header() {
    const start = this.at;
    const isRow = this.skip("[[");
    if (!isRow) this.skip("[");
    const keys = this.keys();
    const end = isRow ? "]]" : "]";
    if (!this.skip(end))
      throw this.refusal(`${this.found()} where ${end} is due. Close the table's header.`);
    this.open = isRow ? this.row(keys, start) : this.table(keys, start);
    this.depth = keys.length;
  }

  /** The table of a header in single brackets. @param {string[]} keys @param {number} start */
  table(keys, start) {
    const around = this.around(keys, start);
    const last = keys[keys.length - 1];
    const known = around[last];
    if (known === undefined) return this.put(around, last, this.newTable("headed"));
    if (this.made.get(known) !== "implied") throw this.twice(keys, start);
    this.made.set(known, "headed");
    return known;
  }

  /** The table of a header in double brackets. @param {string[]} keys @param {number} start */
  row(keys, start) {
    const around = this.around(keys, start);
    const last = keys[keys.length - 1];
    const known = around[last];
    if (known !== undefined && !this.lists.has(known)) throw this.twice(keys, start);
    const list = known ?? this.put(around, last, []);
    this.lists.add(list);
    const row = this.newTable("headed");
    list.push(row);
    return row;
  }

  /** The table in which a header's last key stands. @param {string[]} keys @param {number} start */
  around(keys, start) {
    let table = this.root;
    for (const key of keys.slice(0, -1)) {
      const inner = table[key] ?? this.put(table, key, this.newTable("implied"));
      if (this.lists.has(inner)) table = inner[inner.length - 1];
      else if (this.made.has(inner)) table = inner;
      else throw this.closed(key, start);
    }
    return table;
  }

  /**
   * A key with its value, into a table.
   * @param {Table} table @param {number} depth the table's
   */
  pair(table, depth) {
    const start = this.at;
    const keys = this.keys();
    if (!this.skip("="))
      throw this.refusal(
        `${this.found()} where = is due after “${shown(keys.join("."))}”. ` +
          "A key has letters a to z, digits, _ and -; any other is put in quotes.",
      );
    this.take(BLANKS);
    const value = this.value(this.deeper(depth, keys.length, start));
    const around = this.aroundDotted(table, keys, start);
    const last = keys[keys.length - 1];
    if (around[last] !== undefined) throw this.twice(keys, start);
    this.put(around, last, value);
  }

  /**
   * The table in which a dotted key's last part stands.
   * @param {Table} table @param {string[]} keys @param {number} start
   */
  aroundDotted(table, keys, start) {
    let around = table;
    for (const key of keys.slice(0, -1)) {
      const inner = around[key] ?? this.put(around, key, this.newTable("dotted"));
      const made = this.made.get(inner);
      if (made !== "dotted" && made !== "implied") throw this.closed(key, start);
      this.made.set(inner, "dotted");
      around = inner;
    }
    return around;
  }

  /** @param {Made} made @returns {Table} */
  newTable(made) {
    const table = Object.create(null);
    this.made.set(table, made);
    return table;
  }

  /** @template {any} T @param {Table} table @param {string} key @param {T} value @returns {T} */
  put(table, key, value) {
    table[key] = value;
    return value;
  }

  // --- keys --------------------------------------------------------------------------------------

  /** The parts of a dotted key, and the blanks around them. */
  keys() {
    const start = this.at;
    const keys = [];
    do {
      this.take(BLANKS);
      keys.push(this.key());
      this.take(BLANKS);
      this.deeper(0, keys.length, start);
    } while (this.skip("."));
    return keys;
  }

  key() {
    if (this.isNext('"') || this.isNext("'")) return this.short();
    const bare = this.take(BARE);
    if (!bare)
      throw this.refusal(
        `${this.found()} where a key is due. ` +
          "A key has letters a to z, digits, _ and -; any other is put in quotes.",
      );
    return bare;
  }

  // --- values ------------------------------------------------------------------------------------

  /** @param {number} depth that of what it is in @returns {any} */
  value(depth) {
    if (this.isNext('"""') || this.isNext("'''")) return this.long();
    if (this.isNext('"') || this.isNext("'")) return this.short();
    if (this.isNext("[")) return this.list(this.deeper(depth, 1, this.at));
    if (this.isNext("{")) return this.inline(this.deeper(depth, 1, this.at));
    return this.word();
  }

  /** @param {number} depth */
  list(depth) {
    const start = this.at;
    const values = [];
    this.skip("[");
    for (this.skipLines(); !this.skip("]"); this.skipLines()) {
      values.push(this.value(depth));
      this.skipLines();
      if (!this.skip(",") && !this.isNext("]"))
        throw this.refusal(
          `${this.found()} where a comma or ] is due in the list that begins on line ` +
            `${this.line(start)}. Add it.`,
        );
    }
    return values;
  }

  /** A table in braces. @param {number} depth */
  inline(depth) {
    const table = this.newTable("dotted");
    this.skip("{");
    this.take(BLANKS);
    if (!this.skip("}")) {
      do {
        this.take(BLANKS);
        if (this.isNext("}"))
          throw this.refusal("a comma stands before the closing }. Take the comma out.");
        this.pair(table, depth);
        this.take(BLANKS);
      } while (this.skip(","));
      if (!this.skip("}"))
        throw this.refusal(
          `${this.found()} where a comma or } is due. A table in braces stands on one line.`,
        );
    }
    this.made.delete(table);
    return table;
  }

  /** A number, or true or false. */
  word() {
    const start = this.at;
    const word = this.take(WORD);
    if (word === "true" || word === "false") return word === "true";
    if (!word) throw this.refusal(`${this.found()} where a value is due. ${IN_A_TEXT}`);
    if (word.length <= NUMBER && FLOAT.test(word)) return this.number(word, start);
    const [, wrong, wayOut] = NO_VALUES.find(([like]) => like.test(word)) ?? [
      null,
      "is not a value",
      IN_A_TEXT,
    ];
    throw this.refusal(`“${shown(word)}” ${wrong}. ${wayOut}`, start);
  }

  /** @param {string} word @param {number} start */
  number(word, start) {
    const value = Number(word.replaceAll("_", ""));
    const isKept = INTEGER.test(word) ? Number.isSafeInteger(value) : Number.isFinite(value);
    if (!isKept)
      throw this.refusal(
        `${shown(word)} is too large to be kept exactly. Write it smaller, or put it in quotes.`,
        start,
      );
    return INTEGER.test(word) && value === 0 ? 0 : value;
  }

  // --- texts -------------------------------------------------------------------------------------

  /** A text on one line. */
  short() {
    const start = this.at;
    const quote = this.quote();
    this.skip(quote);
    const parts = [];
    for (;;) {
      parts.push(this.take(IN_QUOTES[quote].one));
      if (this.skip(quote)) return parts.join("");
      parts.push(this.escape(start));
    }
  }

  /** A text between three quotes, which may have several lines. */
  long() {
    const start = this.at;
    const quote = this.quote();
    const three = quote.repeat(3);
    this.skip(three);
    this.skip("\n");
    const parts = [];
    for (;;) {
      parts.push(this.take(IN_QUOTES[quote].several));
      if (this.skip(three)) {
        // Up to two more quotes are the text's own.
        parts.push(this.take(MORE_QUOTES[quote]));
        return parts.join("");
      }
      if (this.skip(quote)) parts.push(quote);
      else parts.push(this.escape(start, true));
    }
  }

  /** @returns {'"' | "'"} */
  quote() {
    return this.isNext('"') ? '"' : "'";
  }

  /**
   * What a backslash stands for; anything else here can't be in a text.
   * @param {number} start of the text @param {boolean} [isLong] @returns {string}
   */
  escape(start, isLong = false) {
    const at = this.at;
    const hasSlash = this.skip("\\");
    if (isLong && hasSlash && this.take(LINE_END)) return "";
    if (this.at >= this.text.length || this.isNext("\n"))
      throw this.refusal("the text that begins here is never closed. Add its quote.", start);
    // The quote itself ends what may stand between, so a backslash here is in double quotes.
    if (!hasSlash) throw this.refusal(`${this.found()} in a text. Take it out.`);
    const letter = this.text[this.at];
    if (Object.hasOwn(ESCAPES, letter)) {
      this.at += 1;
      return ESCAPES[letter];
    }
    const code = Number.parseInt(this.take(CODE_POINT).slice(1), 16);
    const isSurrogate = code >= 0xd800 && code <= 0xdfff;
    if (!(code <= 0x10ffff) || isSurrogate)
      throw this.refusal(
        `“${shown(this.text.slice(at, at + 2))}” stands for nothing in a text. ` +
          "Write a backslash twice, or put the text in single quotes.",
        at,
      );
    return String.fromCodePoint(code);
  }

  // --- going along -------------------------------------------------------------------------------

  /** Nothing but a comment may follow on the line. */
  endLine() {
    this.take(BLANKS);
    this.take(COMMENT);
    if (this.at < this.text.length && !this.skip("\n"))
      throw this.refusal(`${this.found()} where the line should end. ${IN_A_TEXT}`);
  }

  /** Go past blanks, line ends and comments. */
  skipLines() {
    do this.take(SPACES);
    while (this.take(COMMENT));
  }

  /** Go past what a pattern takes from here. @param {RegExp} pattern a sticky one */
  take(pattern) {
    pattern.lastIndex = this.at;
    const [found] = pattern.exec(this.text) ?? [""];
    this.at += found.length;
    return found;
  }

  /** @param {string} sign */
  isNext(sign) {
    return this.text.startsWith(sign, this.at);
  }

  /** Go past a sign, if it is here. @param {string} sign */
  skip(sign) {
    const isHere = this.isNext(sign);
    if (isHere) this.at += sign.length;
    return isHere;
  }

  // --- what is wrong -----------------------------------------------------------------------------

  /**
   * How deep it is some steps further in.
   * @param {number} depth @param {number} steps @param {number} at
   */
  deeper(depth, steps, at) {
    if (depth + steps > DEEPEST)
      throw this.refusal(
        `tables and lists are in one another more than ${DEEPEST} deep. No build file is.`,
        at,
      );
    return depth + steps;
  }

  /** @param {string[]} keys @param {number} at */
  twice(keys, at) {
    return this.refusal(`“${shown(keys.join("."))}” is there already. Take one of them out.`, at);
  }

  /** @param {string} key @param {number} at */
  closed(key, at) {
    return this.refusal(
      `“${shown(key)}” is complete above, so nothing can be put into it here. Put it in there.`,
      at,
    );
  }

  /** What stands here, in words. */
  found() {
    const letter = this.text[this.at];
    if (letter === undefined) return "the file ends";
    if (letter === "\n") return "the line ends";
    if (letter < " " || letter === "\u007f") return "a control character stands";
    const [line] = this.text.slice(this.at, this.at + SHOWN + 1).split("\n");
    return `“${shown(line)}” stands`;
  }

  /** @param {number} at */
  line(at) {
    let line = 1;
    for (let n = this.text.indexOf("\n"); n >= 0 && n < at; n = this.text.indexOf("\n", n + 1))
      line += 1;
    return line;
  }

  /** @param {string} words @param {number} [at] */
  refusal(words, at = this.at) {
    return new TomlError(`Line ${this.line(at)}: ${words}`);
  }
}

/** The beginning of a text, on one line. @param {string} text */
function shown(text) {
  const line = text.slice(0, SHOWN).replace(/\s+/g, " ");
  return text.length > SHOWN ? `${line}…` : line;
}
