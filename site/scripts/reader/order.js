// What Python brings along and a browser does not: lengths and order of texts by code point, lists compared item by
// item, whole-number division that rounds down, and the signs that Python strips as space.

/** The characters (code points) of a text, one by one. */
export function points(text) {
  return Array.from(text);
}

/** How many code points a text has. */
export function length(text) {
  let count = 0;
  for (const _ of text) count += 1;
  return count;
}

/** Below, at or above nought, as `left` stands before, with or behind `right`; texts by code point, lists item by item. */
export function compare(left, right) {
  if (typeof left === "number") return left - right;
  if (typeof left === "string") return compareText(left, right);
  const shorter = Math.min(left.length, right.length);
  for (let index = 0; index < shorter; index += 1) {
    const found = compare(left[index], right[index]);
    if (found !== 0) return found;
  }
  return left.length - right.length;
}

function compareText(left, right) {
  const shorter = Math.min(left.length, right.length);
  for (let index = 0; index < shorter; index += 1) {
    const one = left.charCodeAt(index);
    const other = right.charCodeAt(index);
    if (one !== other) return raised(one) - raised(other);
  }
  return left.length - right.length;
}

/** A code unit moved so that halves of surrogate pairs come behind all others, as the characters they write do. */
function raised(unit) {
  if (unit >= 0xe000) return unit - 0x800;
  return unit >= 0xd800 ? unit + 0x2000 : unit;
}

/** The list in the order of a key, as a new list; equal keys keep their order. */
export function sorted(list, key) {
  return list
    .map((each) => [key(each), each])
    .sort((left, right) => compare(left[0], right[0]))
    .map((pair) => pair[1]);
}

/** The first item with the greatest key. */
export function greatest(list, key) {
  let best = list[0];
  for (const each of list) if (key(each) > key(best)) best = each;
  return best;
}

/** The whole-number quotient, rounded down; exact as long as `left` is. */
export function floorDivide(left, right) {
  const rest = left % right;
  return (left - (rest !== 0 && rest < 0 !== right < 0 ? rest + right : rest)) / right;
}

/** Whether two lists hold the same items in the same order. */
export function same(left, right) {
  return left.length === right.length && left.every((each, index) => each === right[index]);
}

/** The entries of a JSON object as a Map, so that no word of a print meets a method of the browser's. */
export function mapOf(object) {
  return new Map(Object.entries(object));
}

/** What Python's str.strip() takes for space. */
export const SPACES = new Set(
  "\t\n\v\f\r\x1c\x1d\x1e\x1f \x85\xa0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u2028\u2029\u202f\u205f\u3000",
);

/** Where in a list in rising order what is greater than a value begins. */
export function bisectRight(list, value) {
  let low = 0;
  let high = list.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (value < list[middle]) high = middle;
    else low = middle + 1;
  }
  return low;
}
