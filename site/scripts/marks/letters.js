// Answers to margent/names/mark_letters.py: the letters of a mark, compared in any order, in part, and with the letters
// alike that were one on old prints.

/** A letter that was seen and could not be read. */
export const UNREAD = "?";

const SEPARATE = { Æ: "AE", Œ: "OE", ß: "SS", ẞ: "SS", ſ: "S", Ø: "O", Ł: "L" };
const ALIKE = { J: "I", U: "V", W: "VV" };

const separated = (text) => Array.from(text, (char) => SEPARATE[char] ?? char).join("");

/** The letters and figures as they are compared; a question mark stands for one that was not read. */
export function lettersOf(text) {
  const plain = separated(separated(text).normalize("NFKD").toUpperCase());
  const known = Array.from(plain).filter((char) => char === UNREAD || /[\p{L}\p{N}]/u.test(char));
  return Array.from(known.map((char) => ALIKE[char] ?? char).join(""));
}

/** How the letters read fit those of a mark: how many are alike, which are missing, which too many, whether in order. */
export function compared(read, mark) {
  const said = read.filter((letter) => letter !== UNREAD);
  const unread = read.length - said.length;
  const common = shared(said, mark);
  const [kept, extra] = parted(said, common);
  const [order, missing] = parted(mark, common);
  return {
    alike: kept.length,
    missing: missing.slice(unread),
    extra: [...extra, ...Array(Math.max(0, unread - missing.length)).fill(UNREAD)],
    inOrder: kept.join() === order.join(),
  };
}

function counted(letters) {
  const counts = new Map();
  for (const letter of letters) counts.set(letter, (counts.get(letter) ?? 0) + 1);
  return counts;
}

function shared(one, other) {
  const others = counted(other);
  return new Map([...counted(one)].map(([letter, count]) => [letter, Math.min(count, others.get(letter) ?? 0)]));
}

/** The letters that are among the common ones, each no oftener than it is common, and those that are beyond them. */
function parted(letters, common) {
  const left = new Map(common);
  const kept = [];
  const beyond = [];
  for (const letter of letters) {
    const count = left.get(letter) ?? 0;
    (count > 0 ? kept : beyond).push(letter);
    if (count > 0) left.set(letter, count - 1);
  }
  return [kept, beyond];
}
