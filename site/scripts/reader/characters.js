// Answers to margent/lettering/characters.py: what the reader knows of single characters.

import { bisectRight, mapOf } from "./order.js";

/** Code points, first and past the last, whose kinds are looked up once: Latin letters and the signs set between them. */
const COMMON = [
  [0, 0x250],
  [0x2000, 0x2070],
];

export const UPPER = "u";
export const LOWER = "l";
export const DIGIT = "d";
export const SPACE = "s";
export const MARK = "m";
export const SIGN = "p";

/** The compiled character tables: `kind` of a code point and its `fold`. */
export class Characters {
  #starts;
  #ends;
  #kinds;
  #fold;
  #common = new Map();

  constructor(table) {
    const runs = table.kinds;
    this.#starts = runs.map((run) => run[0]);
    this.#ends = runs.map((run) => run[1]);
    this.#kinds = runs.map((run) => run[2]);
    this.#fold = mapOf(table.fold);
    for (const [first, last] of COMMON) {
      for (let point = first; point < last; point += 1) this.#common.set(String.fromCodePoint(point), this.#kind(point));
    }
  }

  /** The kind of one character. */
  kind(char) {
    return this.#common.get(char) ?? this.#kind(char.codePointAt(0));
  }

  /** The kind of each character of a list. */
  kinds(chars) {
    return chars.map((char) => this.kind(char));
  }

  /** The text, or the list of characters, without case, accents, ligatures and long s, by the compiled table. */
  fold(text) {
    return this.folded([...text]).join("");
  }

  /** The folded letters of each character of a list; none for some, several for a ligature. */
  folded(chars) {
    return chars.map((char) => this.#fold.get(char) ?? char);
  }

  #kind(point) {
    const at = bisectRight(this.#starts, point) - 1;
    return at >= 0 && point <= this.#ends[at] ? this.#kinds[at] : SIGN;
  }
}
