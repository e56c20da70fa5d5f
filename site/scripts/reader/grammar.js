// Answers to margent/lettering/grammar.py: the best segmentations of a lettering, by dynamic programming.

import { Item } from "./lexicon.js";
import { mapOf } from "./order.js";
import { CAPITALISED, INITIAL, NUMBER } from "./tokens.js";

const START = "outside";

/** A beam that leaves nothing out. */
const UNBOUNDED = 1_000_000_000;

/** A state of the grammar, without its context, and the arcs that leave it: gap before the token -> label -> arcs. */
class State {
  over = new Map();

  constructor(name, context, final) {
    this.name = name;
    this.context = context;
    this.final = final; // what it weighs to end a lettering here; null where none may end
  }
}

/** Words that are respelt in small letters: with a capital, "Day" is a surname and no "dai", however y and i change about. */
const SMALL_WORDS = new Set(["agent", "conj", "particle", "prep"]);

/** Labels of words that are surnames as well: Price, King, Lane. */
const EVERYDAY = new Set(["grantor", "notice", "street", "subject"]);

/** What weighs less tells nothing against one capital being an initial. */
const FAINT = -1500;

/** Labels of trades that are surnames as well: Graveur, Drucker. */
const TRADES = new Set([...EVERYDAY, "back", "front", "office"]);

/** Whether a word with a capital stands where a surname does, and is a common word or a trade: J. H. Graveur. */
function surname(tokens, index, forenamed, single) {
  const token = tokens[index];
  if (token.plain !== token.full) return false;
  const trade = single.includes("office");
  if (forenamed && "sa.".includes(token.gap)) return single.every((also) => (trade ? TRADES : EVERYDAY).has(also));
  const initialled = index > 0 && tokens[index - 1].shape === INITIAL && token.gap === "a";
  return trade && initialled && single.every((also) => TRADES.has(also));
}

/** The compiled grammar; it holds no words, only states, labels, bonds and weights. */
export class Grammar {
  #shapes;
  #lookup;
  #places;
  #table;
  #bonds;
  #states = new Map();
  #joined = new Set();
  #beam;
  #doubt;

  constructor(compiled) {
    const table = compiled.grammar;
    this.#shapes = mapOf(table.shapes);
    this.#lookup = mapOf(table.lookup);
    this.#places = mapOf(table.places);
    this.#table = table.arcs;
    this.#bonds = new Map(Object.entries(table.bonds).map(([bond, scores]) => [bond, mapOf(scores)]));
    const final = mapOf(table.final);
    for (const state of table.arcs.flatMap(([source, , target]) => [source, target])) {
      if (!this.#states.has(state)) this.#states.set(state, new State(...parted(state), final.get(state) ?? null));
    }
    this.#beam = this.#lookup.get("beam");
    this.#doubt = this.#lookup.get("doubt");
  }

  /** Gives every state its arcs over a gap; made when the first lettering has such a gap. */
  #join(gap) {
    for (const [source, label, target, weight, bond] of this.#table) {
      const { over } = this.#states.get(source);
      if (!over.has(gap)) over.set(gap, new Map());
      if (!over.get(gap).has(label)) over.get(gap).set(label, []);
      const whole = weight + (this.#bonds.get(bond).get(gap) ?? 0);
      over.get(gap).get(label).push([this.#states.get(target), whole, bond, bond === "alone"]);
    }
    this.#joined.add(gap);
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
    const forenamed = new Set();
    for (const { label, end, start, respelt } of found.flat()) {
      if (label !== "given" || respelt.length || tokens[start].shape !== CAPITALISED) continue;
      if (tokens[start].gap !== "a") forenamed.add(end); // not St. Martins Lane
    }
    const cased = tokens.some((token) => "caim".includes(token.shape));
    const small = cased ? this.#lookup.get("low-among-capitals") : 0;
    tokens.forEach((token, index) => {
      const known = new Map();
      const know = (end, label) => {
        if (!known.has(end)) known.set(end, new Set());
        known.get(end).add(label);
      };
      for (const item of items[index]) {
        if (token.shape === INITIAL && item.weight < FAINT) continue;
        const doubtful = SMALL_WORDS.has(item.label) || (item.label === "place" && item.weight < 0);
        if (!(item.respelt.length && token.shape === CAPITALISED && doubtful)) know(item.end, item.label);
      }
      if (dated.has(index)) know(index + 1, "dated");
      if (placed.has(index)) know(index + 1, "placed");
      const behind = forenamed.has(index) && "sa.".includes(token.gap) && token.shape === CAPITALISED;
      const row = (items[index] = items[index].map((item) => this.#against(item, known.get(item.end) ?? [], behind)));
      const single = known.get(index + 1) ?? [];
      for (const [label, weight, unless] of this.#shapes.get(token.shape) ?? []) {
        let malus = 0;
        for (const also of single) malus = Math.min(malus, this.#lookup.get(unless + also) ?? 0);
        if (malus && label === "cap" && surname(tokens, index, forenamed.has(index), [...single])) {
          malus = Math.max(malus, this.#lookup.get("everyday-behind-given"));
        }
        if (label === "low") malus += small;
        row.push(new Item(index, index + 1, label, weight + malus, ""));
      }
    });
    return items;
  }

  /** The item, weighed down where its words are also known under a label that tells against it, or are a surname's. */
  #against(item, labels, behindGiven) {
    let malus = behindGiven && EVERYDAY.has(item.label) ? this.#lookup.get("everyday-behind-given") : 0;
    for (const label of labels) {
      const any = item.label !== label ? (this.#lookup.get(`any-${label}`) ?? 0) : 0;
      malus = Math.min(malus, this.#lookup.get(`${item.label}-${label}`) ?? any);
    }
    if (!malus) return item;
    return new Item(item.start, item.end, item.label, item.weight + malus, item.ref, item.others, item.respelt);
  }

  /** The `number` best segmentations, best first. `places` holds for each line where it stands on the sheet. */
  paths(tokens, items, places, number) {
    const found = this.#paths(tokens, items, places, number, this.#beam);
    // what was furthest behind may be all that can be brought to an end
    return found.length ? found : this.#paths(tokens, items, places, number, UNBOUNDED);
  }

  /** The best segmentations that are never further behind than the beam is wide. */
  #paths(tokens, items, places, number, beam) {
    const size = tokens.length;
    const into = Array.from({ length: size + 1 }, () => new Map());
    const best = [new Map([[this.#states.get(START), 0]])];
    for (const { gap } of tokens) if (!this.#joined.has(gap)) this.#join(gap);
    for (let at = 0; at < size; at += 1) {
      if (at) best.push(bestOf(into[at], beam));
      const { gap, line } = tokens[at];
      const place = places[line] ? (this.#places.get(places[line]) ?? 0) : this.#lookup.get("place-unsaid");
      for (const [source, score] of best[at]) {
        const arcs = source.over.get(gap);
        if (arcs === undefined) continue;
        for (const item of items[at]) {
          const before = score + item.weight;
          const there = into[item.end];
          for (const [target, gain, bond, placed] of arcs.get(item.label) ?? []) {
            const edge = [placed ? before + gain + place : before + gain, at, source, target, item, bond];
            if (there.has(target)) there.get(target).push(edge);
            else there.set(target, [edge]);
          }
        }
      }
    }
    best.push(bestOf(into[size], UNBOUNDED));
    return this.#bestPaths(best, into, number);
  }

  /** The best complete paths, found backwards with the forward scores as exact estimate. */
  #bestPaths(best, into, number) {
    const size = best.length - 1;
    let serial = 0;
    const heap = new Heap();
    const known = new Heap(); // the best `number` scores of whole paths so far, the least of them first
    for (const [state, score] of best[size]) {
      if (state.final !== null) {
        heap.push([-(score + state.final), serial, size, state, state.final, null]);
      }
      serial += 1;
    }
    if (!heap.size) return [];
    const leastKept = -heap.top[0] - this.#doubt;
    for (let kept = 0; kept < number; kept += 1) known.push([leastKept, kept]);
    for (const [negative, own] of heap.entries) {
      known.push([-negative, own]);
      known.pop();
    }
    const found = [];
    const taken = new Map();
    while (heap.size && found.length < number) {
      const [negative, , at, state, after, chain] = heap.pop();
      if (-negative < known.top[0]) break;
      if (at === 0) {
        found.push({ score: -negative, steps: steps(chain, taken) });
        continue;
      }
      let goesOn = true;
      for (const edge of into[at].get(state)) {
        const score = edge[0] + after;
        if (goesOn && score === -negative) goesOn = false;
        else if (score > known.top[0]) {
          known.push([score, serial]);
          known.pop();
        } else continue;
        serial += 1;
        const [, begun, source] = edge;
        heap.push([-score, serial, begun, source, score - best[begun].get(source), [edge, chain]]);
      }
    }
    return found;
  }
}

/** The steps of a path; those of an edge that other paths took before are taken from `known`. */
function steps(chain, known) {
  const found = [];
  for (let rest = chain; rest !== null; rest = rest[1]) {
    const edge = rest[0];
    if (!known.has(edge)) {
      const [, , source, target, item, bond] = edge;
      known.set(edge, {
        serial: known.size, source: source.name, item, target: target.name, context: target.context, bond,
      });
    }
    found.push(known.get(edge));
  }
  return found;
}

/** The state without its context, and the context. */
function parted(state) {
  const at = state.indexOf("@");
  return at < 0 ? [state, ""] : [state.slice(0, at), state.slice(at + 1)];
}

/** The best score up to each state that edges lead into, without those that are too far behind the best of all. */
function bestOf(into, beam) {
  const best = new Map();
  for (const [state, edges] of into) {
    let highest = edges[0][0];
    for (const edge of edges) highest = Math.max(highest, edge[0]);
    best.set(state, highest);
  }
  const least = Math.max(...best.values()) - beam;
  for (const [state, score] of best) if (score < least) best.delete(state);
  return best;
}

/** Entries in the order of their first two numbers, a score and a serial that no other entry has. */
class Heap {
  #entries = [];

  get size() {
    return this.#entries.length;
  }

  get entries() {
    return [...this.#entries];
  }

  get top() {
    return this.#entries[0];
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
