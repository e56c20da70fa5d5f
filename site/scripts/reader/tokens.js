// Answers to margent/lettering/tokens.py: from characters to tokens.

import { DIGIT, LOWER, MARK, SPACE, UPPER } from "./characters.js";
import { length } from "./order.js";
import { transcribe } from "./transcription.js";

export const INITIAL = "i";
export const CAPITALISED = "c";
export const CAPITALS = "a";
export const LETTERS = "m";
export const LOWERCASE = "l";
export const NUMBER = "n";
export const ELIDED = "e";
export const OTHER = "x";

const APOSTROPHES = "'’‘`´";

/** Signs that are words by themselves. */
const WORD_SIGNS = "&⁊©";

/** So many spaces at least set two parts of a line apart. */
const WIDE = 3;

/** Signs that divide a word at the end of a line. */
const HYPHENS = "-=~⸗";

/** Capitals that may be a monogram's letters, at most. */
const GROUP = 4;

/** Where each token begins and ends among the characters of a line. */
function pieces(chars, kinds, folded, elisions) {
  let longest = 0;
  for (const elision of elisions) longest = Math.max(longest, length(elision));
  const found = [];
  const size = chars.length;
  let index = 0;
  while (index < size) {
    let kind = kinds[index];
    if (kind === UPPER || kind === LOWER || kind === DIGIT) {
      let start = index;
      const numeric = kind === DIGIT;
      index += 1;
      while (index < size) {
        kind = kinds[index];
        if (kind === UPPER || kind === LOWER || kind === DIGIT || kind === MARK) {
          const before = kinds[index - 1];
          if (!numeric && kind === UPPER && before === LOWER) break; // PaoloTobler: two words run together
          if (kind === LOWER && before === UPPER && index - start > 1 && kinds[index - 2] === UPPER) {
            found.push([start, index - 1]); // PTobler: the last capital begins the next word
            start = index - 1;
          }
          index += 1;
        } else if (
          APOSTROPHES.includes(chars[index]) &&
          index + 1 < size &&
          (kinds[index + 1] === UPPER || kinds[index + 1] === LOWER)
        ) {
          index += 1;
          const elided = index - 1 - start <= longest && elisions.has(folded.slice(start, index - 1).join(""));
          if (elided) break; // l'auteur: two words
        } else if (chars[index] === "/" && numeric && index + 1 < size && kinds[index + 1] === DIGIT) {
          index += 1; // 73/100 is one number
        } else break;
      }
      found.push([start, index]);
    } else if (WORD_SIGNS.includes(chars[index])) {
      found.push([index, index + 1]);
      index += 1;
    } else index += 1;
  }
  return found;
}

/** The shape of a word, from the kinds of its characters. */
function shape(kinds) {
  const first = kinds[0];
  const letters = kinds.filter((kind) => kind === UPPER || kind === LOWER);
  if (first === DIGIT) return NUMBER;
  if (!letters.length) return OTHER;
  if (first === LOWER) return LOWERCASE;
  if (letters.length === 1) return INITIAL;
  if (letters.includes(LOWER)) return CAPITALISED;
  return letters.length <= GROUP ? LETTERS : CAPITALS;
}

const PARTING = [
  ["/", "b"],
  ["|", "b"],
  [";", ";"],
  ["–", "d"],
  ["—", "d"],
];

/** The class of what stands between two tokens of one line. */
function gap(between, kinds, short, lower) {
  if (!between.length) return "g";
  const spaced = kinds.includes(SPACE);
  const signs = between.filter((_, index) => kinds[index] !== SPACE && kinds[index] !== MARK);
  if (!signs.length && !spaced) return "g";
  if (!signs.length) return between.length >= WIDE ? "b" : "s";
  if (lower && !spaced && between.length === 1 && (between[0] === "/" || between[0] === "|")) return "w";
  if (lower && HYPHENS.includes(signs[0]) && "/|".includes(signs.at(-1))) return "w"; // Tob- | ler
  for (const [sign, parted] of PARTING) {
    if (!signs.includes(sign)) continue;
    return "/|".includes(sign) && signs[0] === "." && !short ? "e" : parted;
  }
  if ("-_=~".includes(signs[0])) return spaced ? "d" : "h";
  if (signs.includes(",")) return ",";
  if (".:·^*°'’´`".includes(signs[0])) {
    if (!spaced) return "k";
    if (short) return "a";
    return signs[0] === "." ? "." : ":";
  }
  return "o";
}

/** The tokens of all lines in order. A line in a later hand or stamped by a collector must be left out before. */
export function tokenise(lines, characters, elisions, notes) {
  const tokens = [];
  let place = null;
  let divided = false;
  lines.forEach((line, number) => {
    const read = transcribe(line.points, notes);
    const chars = read.chars;
    const kinds = characters.kinds(chars);
    const folded = characters.folded(chars);
    let last = 0;
    let first = true;
    const begun = tokens.length;
    for (const [start, end] of pieces(chars, kinds, folded, elisions)) {
      const letters = [];
      for (let i = start; i < end; i += 1) {
        const kind = kinds[i];
        if (kind === UPPER || kind === LOWER || kind === DIGIT || WORD_SIGNS.includes(chars[i])) letters.push(i);
      }
      const given = letters.filter((i) => !read.supplied[i]);
      const full = letters.map((i) => folded[i]).join("");
      const plain = given.length === letters.length ? full : given.map((i) => folded[i]).join("");
      let before;
      if (first) {
        before = !tokens.length ? "^" : line.place === place ? "n" : "p";
        if (divided && before === "n" && kinds[start] === LOWER) before = "w";
      } else {
        const previous = tokens.at(-1);
        before = gap(chars.slice(last, start), kinds.slice(last, start), length(previous.full) <= 3, kinds[start] === LOWER);
        previous.stop = end > 0 && last < chars.length && ".:·".includes(chars[last]);
      }
      tokens.push({
        line: number,
        start: read.at[start],
        end: read.at[end - 1] + 1,
        full,
        plain,
        shape: APOSTROPHES.includes(chars[end - 1]) ? ELIDED : shape(kinds.slice(start, end)),
        gap: before,
        stop: false,
        supplied: !given.length,
      });
      last = end;
      first = false;
    }
    if (!first) {
      tokens.at(-1).stop = last < chars.length && ".:·".includes(chars[last]);
      divided = last < chars.length && HYPHENS.includes(chars[last]);
      place = line.place;
    }
    if (chars.includes("/") || chars.includes("|")) partTitles(tokens.slice(begun));
  });
  return tokens;
}

/** Parts the breaks at which a line goes on from capitals to small letters: there a title ends. */
function partTitles(tokens) {
  let loud = false;
  tokens.forEach((token, index) => {
    if (index > 0 && token.gap !== "b" && token.gap !== "e") return;
    const words = phrase(tokens, index);
    const small = words.some(({ shape: each }) => each === CAPITALISED || each === LOWERCASE);
    if (token.gap === "b" && loud && small) token.gap = "e";
    loud = !small && words.some(({ shape: each }) => each === CAPITALS);
  });
}

/** The tokens up to the next break. */
function phrase(tokens, start) {
  let end = start + 1;
  while (end < tokens.length && tokens[end].gap !== "b" && tokens[end].gap !== "e") end += 1;
  return tokens.slice(start, end);
}
