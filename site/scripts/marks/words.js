// Answers to margent/names/mark_words.py: the things and arrangements that a description names, in any of seven languages.

const LEAST_STEM = 4;
const LONGEST_ENDING = 2;

// Answers to `fold` of margent/names/normal.py.
const OTHERS = {
  ſ: "s", ß: "ss", æ: "ae", œ: "oe", ø: "o", ł: "l", đ: "d", ð: "d", þ: "th", ı: "i", ħ: "h", "’": "'", "‘": "'", ʼ: "'",
  "`": "'", "´": "'", "‐": "-", "‑": "-", "–": "-", "—": "-", º: "o", ª: "a", "^": "",
};

/** The words of a text in small letters, without accents and signs. */
export function foldedWords(text) {
  const small = Array.from(text.toLowerCase(), (char) => OTHERS[char] ?? char).join("");
  const plain = small.normalize("NFKD").replace(/[\u0300-\u036f]+/g, "");
  return plain.match(/[\p{L}\p{N}]+/gu) ?? [];
}

/** The words that are long enough to mean something by themselves. */
export const weighty = (words) => words.filter((word) => Array.from(word).length >= LEAST_STEM);

/** The mark words of one kind, by everything they are called. */
export class MarkWords {
  #entries;
  #called;
  #longest;

  constructor({ entries, called }) {
    this.#entries = new Map(Object.entries(entries));
    this.#called = new Map(Object.entries(called));
    this.#longest = Math.max(0, ...[...this.#called.keys()].map((phrase) => phrase.split(" ").length));
  }

  /** The English label of an entry. */
  label(slug) {
    return this.#entries.get(slug)[0];
  }

  /** What a question means: its longest phrases that are known, or the whole as one unknown word. */
  asked(text) {
    const words = foldedWords(text);
    const found = [];
    let at = 0;
    while (at < words.length) {
      let end = Math.min(words.length, at + this.#longest);
      let entries = null;
      for (; end > at; end -= 1) {
        entries = this.#meant(words.slice(at, end));
        if (entries) break;
      }
      if (entries) found.push({ entries, said: words.slice(at, end).join(" ") });
      at = entries ? end : at + 1;
    }
    return found.length || !words.length ? found : [{ entries: [], said: words.join(" ") }];
  }

  /** The entry and all that are broader. */
  broader(slug) {
    const found = new Set();
    const waiting = [slug];
    while (waiting.length) {
      const each = waiting.pop();
      if (found.has(each) || !this.#entries.has(each)) continue;
      found.add(each);
      waiting.push(...this.#entries.get(each)[1]);
    }
    return found;
  }

  #meant(phrase) {
    const entries = this.#called.get(phrase.join(" "));
    return entries ?? (phrase.length === 1 ? this.#nearly(phrase[0]) : null);
  }

  /** The entries called so but for a short ending: a plural, a case. */
  #nearly(word) {
    const found = new Set();
    for (let cut = 1; cut <= LONGEST_ENDING; cut += 1) {
      if (word.length - cut < LEAST_STEM) break;
      for (const slug of this.#called.get(word.slice(0, -cut)) ?? []) found.add(slug);
    }
    return found.size ? [...found].sort() : null;
  }
}
