// Answers to margent/lettering/characters.py: what the reader knows of single characters.

import { mapOf } from "./order.js";

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
  #seen = new Map();

  constructor(table) {
    const runs = table.kinds;
    this.#starts = runs.map((run) => run[0]);
    this.#ends = runs.map((run) => run[1]);
    this.#kinds = runs.map((run) => run[2]);
    this.#fold = mapOf(table.fold);
  }

  /** The kind of one character. */
  kind(char) {
    let known = this.#seen.get(char);
    if (known === undefined) {
      const point = char.codePointAt(0);
      const at = bisectRight(this.#starts, point) - 1;
      known = at >= 0 && point <= this.#ends[at] ? this.#kinds[at] : SIGN;
      if (this.#seen.size < 4096) this.#seen.set(char, known); // hostile input may hold any number of characters
    }
    return known;
  }

  /** The text, or the list of characters, without case, accents, ligatures and long s, by the compiled table. */
  fold(text) {
    let out = "";
    for (const char of text) out += this.#fold.get(char) ?? char;
    return out;
  }
}

function bisectRight(list, value) {
  let low = 0;
  let high = list.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (value < list[middle]) high = middle;
    else low = middle + 1;
  }
  return low;
}
