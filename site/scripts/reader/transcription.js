// Answers to margent/lettering/transcription.py: from a transcription to the characters that are read.

import { SPACES, points } from "./order.js";

/** Characters of one lettering at most, all lines together. */
export const LONGEST = 20_000;

/** One entry of a lettering's lines; `points` holds the code points of its text, and every index counts these. */
export class Line {
  constructor(text, place = null, how = null, hand = null) {
    this.text = text;
    this.place = place;
    this.how = how;
    this.hand = hand;
    this.points = points(text);
  }
}

/** Whether what stands between two brackets, a list of characters, is an editor's note and not letters of the print. */
function note(inside, notes) {
  const bare = strip(inside, STRIPPED).join("");
  return !bare || strip(inside, SPACES)[0] === "=" || notes.includes(bare);
}

const STRIPPED = new Set(" .!?…");

function strip(chars, signs) {
  let start = 0;
  let end = chars.length;
  while (start < end && signs.has(chars[start])) start += 1;
  while (end > start && signs.has(chars[end - 1])) end -= 1;
  return chars.slice(start, end);
}

/** The characters that are read of a line's code points, each with its index and whether an editor supplied it. */
export function transcribe(text, notes) {
  if (!text.includes("[") && !text.includes("(")) {
    return { chars: text, at: [...text.keys()], supplied: text.map(() => false) };
  }
  return bracketed(text, notes);
}

/** The characters that are read of a text with brackets. */
function bracketed(text, notes) {
  const partner = new Map();
  const openSquare = [];
  let openRound = [];
  text.forEach((char, index) => {
    if (char === "[") openSquare.push(index);
    else if (char === "]" && openSquare.length) partner.set(openSquare.pop(), index);
    else if (char === "(") openRound = [index];
    else if (char === ")" && openRound.length) partner.set(openRound.pop(), index);
  });
  const closing = new Set();
  for (const [start, end] of partner) if (text[start] === "[") closing.add(end);
  const chars = [];
  const at = [];
  const supplied = [];
  let depth = 0;
  let index = 0;
  const burnished = new Set();
  while (index < text.length) {
    const char = text[index];
    const end = partner.get(index);
    if (end !== undefined && char === "[") {
      if (end - index <= 200 && note(text.slice(index + 1, end), notes)) {
        // lost letters: the word is cut short
        if (text.slice(index, end).some((sign) => sign === "." || sign === "…")) {
          chars.push(".");
          at.push(index);
          supplied.push(true);
        }
        index = end + 1;
        continue;
      }
      if (partner.get(index + 1) === end - 1 && text[index + 1] === "[") {
        for (const bracket of [index, index + 1, end - 1, end]) burnished.add(bracket);
      }
      if (!burnished.has(index)) depth += 1;
      index += 1;
      continue;
    }
    if (closing.has(index)) {
      if (!burnished.has(index)) depth -= 1;
      index += 1;
      continue;
    }
    if (end !== undefined && char === "(" && end - index <= 12 && note(text.slice(index + 1, end), notes)) {
      index = end + 1;
      continue;
    }
    if (!(depth && char === "?")) {
      chars.push(char);
      at.push(index);
      supplied.push(depth > 0);
    }
    index += 1;
  }
  return { chars, at, supplied };
}
