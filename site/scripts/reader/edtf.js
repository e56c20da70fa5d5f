// Answers to margent/vocabulary/edtf.py: the years that an EDTF date or period allows, for comparison.

import { SPACES, points } from "./order.js";

/** What an open or unknown end is taken for. */
const EARLIEST = 1;
const LATEST = 9999;

const ABOUT = new Map([
  ["~", 5],
  ["%", 10],
  ["?", 5],
]);

/** The first and the last year that the EDTF text allows; throws RangeError for what is none of the supported forms. */
export function years(given) {
  let chars = points(given);
  while (chars.length && SPACES.has(chars[0])) chars = chars.slice(1);
  while (chars.length && SPACES.has(chars.at(-1))) chars = chars.slice(0, -1);
  const text = chars.join("");
  if (chars.length > 2 && "[{".includes(chars[0]) && "]}".includes(chars.at(-1))) {
    const found = text
      .slice(1, -1)
      .split(",")
      .map((part) => (part.includes("..") ? range(part) : years(part)));
    return [Math.min(...found.map(([low]) => low)), Math.max(...found.map(([, high]) => high))];
  }
  const slash = text.indexOf("/");
  if (slash >= 0) {
    const left = text.slice(0, slash);
    const right = text.slice(slash + 1);
    const low = left === "" || left === ".." ? EARLIEST : years(left)[0];
    const high = right === "" || right === ".." ? LATEST : years(right)[1];
    if (low > high) throw new RangeError(`${text}: the interval ends before it begins`);
    return [low, high];
  }
  return single(text);
}

function range(text) {
  const at = text.indexOf("..");
  const left = text.slice(0, at);
  const right = text.slice(at + 2);
  return [left ? single(left)[0] : EARLIEST, right ? single(right)[1] : LATEST];
}

function single(given) {
  let text = given;
  let widened = 0;
  if (ABOUT.has(text[0])) {
    widened = ABOUT.get(text[0]);
    text = text.slice(1);
  }
  widened = ABOUT.get(text.at(-1)) ?? widened;
  const year = yearOf(text);
  return [Number(year.split("X").join("0")) - widened, Number(year.split("X").join("9")) + widened];
}

/** The year of [-]dddd[Sd][-mm[-dd]][?~%], where X stands for any figure not known but the first two of the year. */
function yearOf(text) {
  let at = 0;
  const take = (signs) => (at < text.length && signs.includes(text[at]) ? ((at += 1), true) : false);
  const need = (...wanted) => {
    for (const signs of wanted) if (!take(signs)) throw new RangeError(`'${text}' is no EDTF date`);
  };
  take("-");
  need(FIGURES, FIGURES, UNKNOWN, UNKNOWN);
  const year = text.slice(0, at);
  if (take("S")) need(FIGURES);
  if (take("-")) {
    need(UNKNOWN, MONTHS.get(text[at]) ?? "");
    if (take("-")) need(UNKNOWN, DAYS.get(text[at]) ?? "");
  }
  take("?~%");
  if (at < text.length) throw new RangeError(`'${text}' is no EDTF date`);
  return year;
}

const FIGURES = "0123456789";
const UNKNOWN = FIGURES + "X";

/** By the first figure of a month, what the second may be; 21 to 41 are seasons, quarters and halves. */
const MONTHS = new Map([
  ["0", "123456789X"],
  ["1", "012X"],
  ["2", "123456789X"],
  ["3", UNKNOWN],
  ["4", "01X"],
  ["X", UNKNOWN],
]);

/** By the first figure of a day, what the second may be. */
const DAYS = new Map([
  ["0", "123456789X"],
  ["1", UNKNOWN],
  ["2", UNKNOWN],
  ["3", "01X"],
  ["X", UNKNOWN],
]);
