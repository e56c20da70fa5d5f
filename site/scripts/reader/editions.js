// Answers to margent/lettering/editions.py: numbers within an edition, such as 12/40.

import { Item } from "./lexicon.js";
import { LOWERCASE, NUMBER } from "./tokens.js";

export const PENCIL = "pencil";

/** Figures of either number at most. */
const FIGURES = 4;

/** Finds the impression's number within its edition, which is a pattern and no word of the list. */
export class Editions {
  #term;
  #weight;

  constructor(compiled) {
    this.#term = compiled["edition-number"];
    this.#weight = compiled.grammar.lookup.edition;
  }

  /** The numbers that count an impression: in pencil, or in a line that holds nothing but names and numbers. */
  items(tokens, lines) {
    const wordy = new Set(tokens.filter((token) => token.shape === LOWERCASE).map((token) => token.line));
    return tokens.flatMap((token, index) => {
      const line = lines[token.line];
      const counts =
        token.shape === NUMBER &&
        (line.how === PENCIL || !wordy.has(token.line)) &&
        withinEdition(line.points.slice(token.start, token.end).join(""));
      return counts ? [new Item(index, index + 1, "notice", this.#weight, this.#term)] : [];
    });
  }
}

/** Whether a text is two whole numbers with a stroke between them, of which the first is not the greater. */
export function withinEdition(text) {
  const at = text.indexOf("/");
  if (at < 0) return false;
  const first = text.slice(0, at);
  const last = text.slice(at + 1);
  return figures(first) && figures(last) && Number(first) >= 1 && Number(first) <= Number(last);
}

function figures(text) {
  return text.length >= 1 && text.length <= FIGURES && [...text].every((char) => char >= "0" && char <= "9");
}
