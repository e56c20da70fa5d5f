// What a mark shows, in plain words of any language: a heron is found by "Reiher", and by "bird", which is broader.

/** Knows the words of data/marks.js; texts are compared by their keys. */
export class MarkWords {
  #key;
  #broader = new Map();
  #wordings = [];

  constructor(words, key) {
    this.#key = key;
    for (const [slug, [texts, broader]] of Object.entries(words)) {
      this.#broader.set(slug, broader);
      for (const text of texts) this.#wordings.push([` ${key(text)} `, slug]);
    }
    this.#wordings.sort((one, other) => other[0].length - one[0].length);
  }

  /** What a text names: the things it has words for, and its other words as they are. */
  named(text) {
    let rest = ` ${this.#key(text)} `;
    const things = new Set();
    for (const [wording, slug] of this.#wordings) {
      if (!rest.includes(wording)) continue;
      things.add(slug);
      rest = rest.replaceAll(wording, "  ");
    }
    return { things, words: rest.split(" ").filter((word) => word.length > 2) };
  }

  /** The things and all that is broader than they. */
  withBroader(things) {
    const all = new Set();
    const todo = [...things];
    while (todo.length) {
      const slug = todo.pop();
      if (all.has(slug)) continue;
      all.add(slug);
      todo.push(...(this.#broader.get(slug) ?? []));
    }
    return all;
  }

  /** How much of what was asked for a text shows, from 0 to 1. */
  shown(asked, text) {
    const { things, words } = this.named(text);
    const all = this.withBroader(things);
    const own = this.#key(text).split(" ");
    const begins = (word) => own.some((other) => other.startsWith(word) || (other.length > 3 && word.startsWith(other)));
    const met = [...asked.things].filter((slug) => all.has(slug)).length + asked.words.filter(begins).length;
    const total = asked.things.size + asked.words.length;
    return total && words ? met / total : 0;
  }
}
