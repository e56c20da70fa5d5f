// Answers to margent/lettering/grammar.py: the best segmentations of a lettering, by dynamic programming.

import { Item } from "./lexicon.js";
import { mapOf } from "./order.js";
import { NUMBER } from "./tokens.js";

/** The classes of gaps that the tokeniser tells apart. */
const GAPS = "^gkabdhnopsw.,:;";

const START = "outside";
const NEVER = -1_000_000_000;

/** Words that are respelt in small letters: with a capital, "Day" is a surname and no "dai", however y and i change about. */
const SMALL_WORDS = new Set(["agent", "conj", "particle", "prep"]);

/** The compiled grammar; it holds no words, only states, labels, bonds and weights. */
export class Grammar {
  #final;
  #overGap = new Map();
  #shapes;
  #lookup;
  #places;
  #bonds;
  #states = new Map();

  constructor(compiled) {
    const table = compiled.grammar;
    this.#final = mapOf(table.final);
    this.#shapes = mapOf(table.shapes);
    this.#lookup = mapOf(table.lookup);
    this.#places = mapOf(table.places);
    this.#bonds = new Map(Object.entries(table.bonds).map(([bond, scores]) => [bond, mapOf(scores)]));
    for (const gap of GAPS) this.#overGap.set(gap, this.#arcs(table.arcs, gap));
    for (const [source, , target] of table.arcs) {
      for (const state of [source, target]) this.#states.set(state, parted(state));
    }
  }

  /** State left -> label -> the arcs over a gap, with what the bond weighs there. */
  #arcs(table, gap) {
    const arcs = new Map();
    for (const [source, label, target, weight, bond] of table) {
      const whole = weight + (this.#bonds.get(bond).get(gap) ?? 0);
      if (!arcs.has(source)) arcs.set(source, new Map());
      const labels = arcs.get(source);
      if (!labels.has(label)) labels.set(label, []);
      labels.get(label).push([target, whole, bond, bond === "alone"]);
    }
    return arcs;
  }

  /** Every item the grammar may use, by its first token: from the lexicon, dates, and what shape alone suggests. */
  label(tokens, found, dates) {
    const items = found.map((row) => [...row]);
    const dated = new Set();
    for (const date of dates) {
      items[date.start].push(date);
      if (date.end - date.start <= 1) continue;
      for (let index = date.start; index < date.end; index += 1) {
        if (tokens[index].shape !== NUMBER) dated.add(index);
      }
    }
    const placed = new Set();
    for (const row of found) {
      for (const item of row) {
        if (item.label !== "place" || item.end - item.start <= 1) continue;
        for (let index = item.start; index < item.end; index += 1) placed.add(index);
      }
    }
    tokens.forEach((token, index) => {
      const known = new Map();
      const know = (end, label) => {
        if (!known.has(end)) known.set(end, new Set());
        known.get(end).add(label);
      };
      for (const item of items[index]) {
        if (!(item.respelt.length && token.shape === "c" && SMALL_WORDS.has(item.label))) know(item.end, item.label);
      }
      if (dated.has(index)) know(index + 1, "dated");
      if (placed.has(index)) know(index + 1, "placed");
      const row = (items[index] = items[index].map((item) => this.#against(item, known.get(item.end) ?? [])));
      const single = known.get(index + 1) ?? [];
      for (const [label, weight, unless] of this.#shapes.get(token.shape) ?? []) {
        let malus = 0;
        for (const also of single) malus = Math.min(malus, this.#lookup.get(unless + also) ?? 0);
        row.push(new Item(index, index + 1, label, weight + malus, ""));
      }
    });
    return items;
  }

  /** The item, weighed down where its words are also known under a label that tells against it. */
  #against(item, labels) {
    let malus = 0;
    for (const label of labels) {
      const any = item.label !== label ? (this.#lookup.get(`any-${label}`) ?? 0) : 0;
      malus = Math.min(malus, this.#lookup.get(`${item.label}-${label}`) ?? any);
    }
    if (!malus) return item;
    return new Item(item.start, item.end, item.label, item.weight + malus, item.ref, item.others, item.respelt);
  }

  /** The `number` best segmentations, best first. `places` holds for each line where it stands on the sheet. */
  paths(tokens, items, places, number) {
    const size = tokens.length;
    const best = Array.from({ length: size + 1 }, () => new Map());
    const into = Array.from({ length: size + 1 }, () => new Map());
    best[0].set(START, 0);
    for (let at = 0; at < size; at += 1) {
      const over = this.#overGap.get(tokens[at].gap);
      const place = this.#places.get(places[tokens[at].line] ?? "") ?? 0;
      for (const [state, score] of best[at]) {
        const arcs = over.get(state);
        if (arcs === undefined) continue;
        for (const item of items[at]) {
          const reached = arcs.get(item.label);
          if (reached === undefined) continue;
          const bestThere = best[item.end];
          const intoThere = into[item.end];
          for (const [target, weight, bond, alone] of reached) {
            const gain = alone ? item.weight + weight + place : item.weight + weight;
            const total = score + gain;
            const edge = [total, at, state, item, bond, gain];
            const known = bestThere.get(target);
            if (known === undefined) {
              bestThere.set(target, total);
              intoThere.set(target, [edge]);
            } else {
              intoThere.get(target).push(edge);
              if (total > known) bestThere.set(target, total);
            }
          }
        }
      }
    }
    return this.#bestPaths(best, into, size, number);
  }

  /** The best complete paths, found backwards with the forward scores as exact estimate. */
  #bestPaths(best, into, size, number) {
    let serial = 0;
    const heap = new Heap();
    for (const [state, score] of best[size]) {
      const final = this.#final.get(state) ?? NEVER;
      if (final > NEVER) {
        heap.push([-(score + final), serial, size, state, final, null]);
        serial += 1;
      }
    }
    const found = [];
    let budget = number * (size + 8) * 2;
    while (heap.size && found.length < number && budget > 0) {
      const [negative, , at, state, after, rest] = heap.pop();
      let chain = rest;
      budget -= 1;
      if (at === 0) {
        const steps = [];
        while (chain !== null) {
          const [source, item, target, bond, gain] = chain[0];
          const [bare, context] = this.#states.get(target);
          steps.push({ source: this.#states.get(source)[0], item, target: bare, context, bond, weight: gain });
          chain = chain[1];
        }
        found.push({ score: -negative, steps });
        continue;
      }
      for (const [total, begun, source, item, bond, gain] of into[at].get(state) ?? []) {
        serial += 1;
        const step = [source, item, state, bond, gain];
        heap.push([-(total + after), serial, begun, source, after + gain, [step, chain]]);
      }
    }
    return found;
  }
}

/** The state without its context, and the context. */
function parted(state) {
  const at = state.indexOf("@");
  return at < 0 ? [state, ""] : [state.slice(0, at), state.slice(at + 1)];
}

/** Entries in the order of their first two numbers, a score and a serial that no other entry has. */
class Heap {
  #entries = [];

  get size() {
    return this.#entries.length;
  }

  push(entry) {
    const entries = this.#entries;
    let at = entries.length;
    entries.push(entry);
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (!before(entry, entries[above])) break;
      entries[at] = entries[above];
      at = above;
    }
    entries[at] = entry;
  }

  pop() {
    const entries = this.#entries;
    const top = entries[0];
    const entry = entries.pop();
    if (!entries.length) return top;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= entries.length) break;
      if (below + 1 < entries.length && before(entries[below + 1], entries[below])) below += 1;
      if (!before(entries[below], entry)) break;
      entries[at] = entries[below];
      at = below;
    }
    entries[at] = entry;
    return top;
  }
}

function before(left, right) {
  return left[0] !== right[0] ? left[0] < right[0] : left[1] < right[1];
}

/** The items of a lettering from lexicon, dates and shapes together. */
export function labelAll(grammar, lexicon, tokens, dates) {
  return grammar.label(tokens, lexicon.items(tokens), dates);
}
