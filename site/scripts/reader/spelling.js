// Answers to margent/lettering/spelling.py: which words of the list a spelling may stand for, and by which rule.

import { compare, length, mapOf, points } from "./order.js";

/** A word of the list of at most so many letters is taken as it stands; any so short is respelt letter for letter only. */
export const SURE_LENGTH = 3;

/** Stands among the rules of a word that was only found as the nearest spelling in the list. */
export const GUESSED = "guess";

/** The compiled spelling rules and the words of the list by their levelled spelling. */
export class Spelling {
  #rules;
  #words = new Set();
  #levelled;
  #alike = new Map(); // word of the list -> what it may stand for, where other words are the same when levelled
  #cost;
  #guessCost;
  #guessable;
  #heads;
  #without = new Map();

  constructor(compiled, keys) {
    this.#rules = compiled.spelling.rules;
    for (const key of keys) for (const word of key.split(" ")) this.#words.add(word);
    this.#levelled = mapOf(compiled.spelling.levelled);
    this.#cost = compiled.grammar.lookup.respelt;
    this.#guessCost = compiled.grammar.lookup.guessed;
    this.#guessable = compiled.spelling.guessable;
    this.#heads = new Set(compiled.spelling.heads);
    for (const words of this.#levelled.values()) if (words.length > 1) this.#knowAlike(words);
  }

  /** Keeps for each of some words of the list, which are the same when levelled, what it may stand for. */
  #knowAlike(words) {
    const fired = words.map((word) => this.level(word)[1]);
    words.forEach((word, at) => {
      const likes = words.map((like, other) => [like, this.#cost, toldApart(fired[at], fired[other])]);
      this.#alike.set(word, [[word, 0, []], ...likes.filter(([like]) => like !== word)]);
    });
  }

  /** Whether a folded word occurs in any form of the list. */
  isWord(word) {
    return this.#words.has(word);
  }

  /** The word with every rule applied in order, and the names of the rules that changed it. */
  level(word) {
    const fired = [];
    let levelled = word;
    for (const [name, find, put] of this.#rules) {
      if (levelled.includes(find)) {
        levelled = levelled.split(find).join(put);
        fired.push(name);
      }
    }
    return [levelled, fired];
  }

  /** The words of the list that a folded word may stand for, each with its cost and rules. */
  alternatives(word) {
    if (this.#words.has(word)) return (length(word) > SURE_LENGTH && this.#alike.get(word)) || [[word, 0, []]];
    const found = [];
    const [levelled, fired] = this.level(word);
    for (const like of this.#levelled.get(levelled) ?? []) {
      if (length(word) <= SURE_LENGTH && length(like) !== length(word)) continue;
      found.push([like, this.#cost, toldApart(fired, this.level(like)[1])]);
    }
    if (!found.length && levelled !== word && this.#words.has(levelled)) found.push([levelled, this.#cost, fired]);
    if (!found.length && length(word) >= 5 && length(word) <= 20) {
      for (const like of this.#near(word)) found.push([like, this.#guessCost, [GUESSED]]);
    }
    if (!found.length) found.push([word, 0, []]);
    return found;
  }

  /** Words of the list one letter away: one more, one fewer, one other, or two changed about; the first is seldom misread. */
  #near(word) {
    const [first] = word;
    if (!this.#without.has(first)) {
      const listed = new Map();
      for (const like of this.#guessable) {
        const [head] = like;
        if (head !== first && !this.#heads.has(first + head)) continue;
        for (const key of new Set([like, ...withoutOne(like)])) {
          if (!listed.has(key)) listed.set(key, []);
          listed.get(key).push(like);
        }
      }
      this.#without.set(first, listed);
    }
    const listed = this.#without.get(first);
    const near = [];
    for (const key of [word, ...withoutOne(word)]) {
      for (const like of listed.get(key) ?? []) if (!near.includes(like)) near.push(like);
    }
    near.sort(compare);
    return near.slice(0, 3);
  }
}

/** The rules that changed one of two words only, for these are what tells them apart; all of the first where none did. */
function toldApart(one, other) {
  const apart = [...one.filter((name) => !other.includes(name)), ...other.filter((name) => !one.includes(name))];
  return apart.length ? apart : one;
}

/** The word with each letter left out in turn. */
function withoutOne(word) {
  const letters = points(word);
  return letters.map((_, index) => letters.filter((__, other) => other !== index).join(""));
}
