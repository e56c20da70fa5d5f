// Answers to margent/lettering/dates.py: dates on prints, as EDTF.

import { Item, RAISED } from "./lexicon.js";
import { length, mapOf, points } from "./order.js";
import { CAPITALS, INITIAL, LETTERS, LOWERCASE, NUMBER } from "./tokens.js";

const DIGITS = "0123456789";

/** A lesser numeral and the greater one that it may stand before. */
const SUBTRACTED = new Set(["1 5", "1 10", "10 50", "10 100", "100 500", "100 1000"]);

/** Years that may be parted by stops; later ones have two M, and are rather a name: M. MIX. */
const PARTED = [1400, 1899];

const ENDINGS = ["st", "nd", "rd", "th", "d", "e", "o", "a", "er", "me", "ten", "ste", "t"];

/** Finds the dates of a lettering by the compiled table of months, ordinals and numerals. */
export class Dates {
  #months;
  #fillers;
  #numerals;
  #ordinals;
  #figures;
  #weight;
  #more;

  constructor(compiled) {
    const table = compiled.dates;
    this.#months = mapOf(table.months);
    this.#fillers = new Set(table.fillers);
    this.#numerals = mapOf(table.numerals);
    this.#ordinals = new Set(table.ordinals);
    this.#figures = mapOf(table.figures);
    this.#weight = compiled.grammar.lookup.date;
    this.#more = compiled.grammar.lookup["date-more"];
  }

  /** Every date, longest first from each token; the item's `ref` is its EDTF. */
  items(tokens) {
    const found = [];
    for (let start = 0; start < tokens.length; start += 1) {
      const item = this.#date(tokens, start);
      if (item !== null) found.push(item);
    }
    return found;
  }

  /** The year that a token states (1400 to 2099), or null. */
  year(token) {
    const text = points(token.full);
    let value = null;
    if (token.shape === NUMBER && text.length === 4 && numeric(text)) value = Number(token.full);
    else if (text.length === 4 && text.some((char) => DIGITS.includes(char))) {
      const figures = text.map((char) => this.#figures.get(char) ?? char).join("");
      if (numeric(points(figures))) value = Number(figures);
    } else if (text.length >= 3 && "mc".includes(text[0]) && text.every((char) => this.#numerals.has(char))) {
      value = this.roman(text);
    }
    return value !== null && value >= 1400 && value <= 2099 ? value : null;
  }

  /** The value of a folded Roman numeral, additive forms such as MDXXXX included. */
  roman(text) {
    let total = 0;
    let before = 0;
    for (const char of points(text).reverse()) {
      const value = this.#numerals.get(char);
      total += value < before ? -value : value;
      before = Math.max(before, value);
    }
    return total;
  }

  /** The year in capitals parted by stops or spaces, and the token after it: M. DC. XII; null for letters that may be initials. */
  parted(tokens, start) {
    let found = null;
    const text = [];
    let end = start;
    while (end < tokens.length && (end === start || ".aks".includes(tokens[end].gap))) {
      const piece = tokens[end];
      const letters = points(piece.full);
      const capital = [INITIAL, LETTERS, CAPITALS].includes(piece.shape);
      if (!capital || !letters.every((char) => this.#numerals.has(char))) break;
      text.push(...letters);
      end += 1;
      if (end - start > 1 && text.length > end - start && text[0] === "m" && this.#wellFormed(text)) {
        const value = this.roman(text.join(""));
        if (value >= PARTED[0] && value <= PARTED[1]) found = [value, end];
      }
    }
    return found;
  }

  /** Whether numerals fall from left to right, but for a lesser one before the greater that it is taken from. */
  #wellFormed(text) {
    const values = text.map((char) => this.#numerals.get(char));
    return values.slice(1).every((right, at) => {
      const left = values[at];
      return left >= right || (SUBTRACTED.has(`${left} ${right}`) && (at === 0 || values[at - 1] >= right));
    });
  }

  /** Whether a date may begin with a token; spares most words the asking whether they are a year, a month, a day. */
  #mayBegin(token) {
    const text = points(token.full);
    const [first] = text;
    return (
      first === "m" || first === "c" || DIGITS.includes(first ?? " ") ||
      this.#months.has(token.full) || this.#fillers.has(token.full) ||
      (text.length === 4 && text.some((char) => DIGITS.includes(char)))
    );
  }

  #day(token) {
    let digits = token.full;
    for (const ending of ENDINGS) {
      if (digits.endsWith(ending)) {
        const rest = digits.slice(0, digits.length - ending.length);
        if (rest && numeric(points(rest))) {
          digits = rest;
          break;
        }
      }
    }
    if (digits && length(digits) <= 2 && numeric(points(digits))) {
      const day = Number(digits);
      return day >= 1 && day <= 31 ? day : null;
    }
    return null;
  }

  #date(tokens, start) {
    if (!this.#mayBegin(tokens[start]) || raised(tokens[start])) return null;
    let year = null;
    let month = null;
    let day = null;
    let at = start;
    let end = start;
    let value;
    while (at < tokens.length && at - start < 9) {
      const token = tokens[at];
      if (at > start && "np;".includes(token.gap)) break;
      const word = token.full;
      const parted = year === null ? this.parted(tokens, at) : null;
      if (parted !== null) {
        [year, end] = parted;
        at = end;
        continue;
      }
      // 8bre and 7bris come as figure and word run together or apart
      if (year === null && (value = this.year(token)) !== null) {
        year = value;
        end = at + 1;
      } else if (month === null && this.#months.has(word)) {
        month = this.#months.get(word);
        end = at + 1;
      } else if (day === null && year === null && (value = this.#day(token)) !== null) {
        day = value;
        end = at + 1;
      } else if (this.#ordinals.has(word) && at > start) end = Math.max(end, at);
      else if (at > start && raised(token)) {
        // Jan.y: the raised ending of a month
      } else if (!this.#fillers.has(word)) break;
      at += 1;
    }
    if (year === null && (month === null || day === null)) return null;
    const weight = this.#weight + this.#more * (end - start - 1);
    if (year === null) return new Item(start, end, "date", weight, "");
    if (this.#ordinals.has(tokens[start].full) && start + 1 < end) return null;
    let edtf = String(year).padStart(4, "0");
    if (month !== null) {
      edtf += "-" + String(month).padStart(2, "0");
      if (day !== null) edtf += "-" + String(day).padStart(2, "0");
    }
    return new Item(start, end, "date", weight, edtf);
  }
}

function numeric(chars) {
  return chars.every((char) => DIGITS.includes(char));
}

/** Whether a token is a raised ending. */
function raised({ gap, shape, full }) {
  return gap === "k" && shape === LOWERCASE && length(full) <= RAISED;
}
