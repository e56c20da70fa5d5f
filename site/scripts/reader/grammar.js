// Answers to margent/lettering/grammar.py: the best segmentations of a lettering, by dynamic programming.

import { Item } from "./lexicon.js";
import { mapOf } from "./order.js";
import { CAPITALISED, INITIAL, LOWERCASE, NUMBER } from "./tokens.js";

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

/** Labels of words that weigh less behind a forename, as they are its surname there. */
const WORDS = new Set([...EVERYDAY, "office"]);

/** Labels of trades that are surnames as well: Graveur, Drucker. */
const TRADES = new Set([...WORDS, "back", "front"]);

/** What weighs less tells nothing against one capital being an initial. */
const FAINT = -1500;

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
      if (this.#states.has(state)) continue;
      const at = state.indexOf("@");
      const [name, context] = at < 0 ? [state, ""] : [state.slice(0, at), state.slice(at + 1)];
      this.#states.set(state, new State(name, context, final.get(state) ?? null));
    }
    this.#beam = this.#lookup.get("beam");
    this.#doubt = this.#lookup.get("doubt");
  }

  /** Gives every state its arcs over a gap; made when the first lettering has such a gap. */
  #join(gap) {
    for (const [source, label, target, weight, bond] of this.#table) {
      const left = this.#states.get(source);
      const { over } = left;
      if (!over.has(gap)) over.set(gap, new Map());
      if (!over.get(gap).has(label)) over.get(gap).set(label, []);
      const gain = weight + (this.#bonds.get(bond).get(gap) ?? 0);
      over.get(gap).get(label).push({ source: left, target: this.#states.get(target), gain, bond, placed: bond === "alone" });
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
    const behindForename = forenamed(tokens, found);
    const cased = tokens.some(({ shape }) => "caim".includes(shape));
    const small = cased ? this.#lookup.get("low-among-capitals") : 0;
    tokens.forEach(({ shape, gap }, index) => {
      const row = items[index];
      const known = new Map();
      for (const item of row) {
        if (!known.has(item.end)) known.set(item.end, []);
        if (!setApart(item, shape)) known.get(item.end).push(item.label);
      }
      const single = known.get(index + 1) ?? [];
      if (dated.has(index)) single.push("dated");
      if (placed.has(index)) single.push("placed");
      const behind = behindForename.has(index) && shape === CAPITALISED && "sa.".includes(gap);
      for (const item of row) this.#weighDown(item, known.get(item.end), behind && item.end === index + 1);
      for (const [label, weight, unless] of this.#shapes.get(shape) ?? []) {
        let malus = 0;
        for (const also of single) malus = Math.min(malus, this.#lookup.get(unless + also) ?? 0);
        if (malus && label === "cap" && surname(tokens, index, behindForename.has(index), single)) {
          malus = Math.max(malus, this.#lookup.get("everyday-behind-given"));
        }
        if (label === "low") malus += small;
        row.push(new Item(index, index + 1, label, weight + malus, ""));
      }
    });
    return items;
  }

  /** Weighs an item down where its words are also known under a label that tells against it, or are a surname's. */
  #weighDown(item, labels, behindGiven) {
    let malus = behindGiven && WORDS.has(item.label) ? this.#lookup.get("everyday-behind-given") : 0;
    for (const label of labels) {
      const any = item.label !== label ? (this.#lookup.get(`any-${label}`) ?? 0) : 0;
      malus = Math.min(malus, this.#lookup.get(`${item.label}-${label}`) ?? any);
    }
    item.weight += malus;
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
    const start = this.#states.get(START);
    const nodes = Array.from({ length: size + 1 }, () => new Map()); // state -> where, state, best score, edges
    nodes[0].set(start, { at: 0, state: start, score: 0, edges: [] });
    for (let at = 0; at < size; at += 1) {
      const { gap, line } = tokens[at];
      if (!this.#joined.has(gap)) this.#join(gap);
      const place = places[line] ? (this.#places.get(places[line]) ?? 0) : this.#lookup.get("place-unsaid");
      let least = -UNBOUNDED;
      for (const node of nodes[at].values()) least = Math.max(least, node.score - beam);
      for (const [state, node] of nodes[at]) {
        const over = state.over.get(gap);
        if (node.score < least || over === undefined) continue;
        for (const item of items[at]) {
          const before = node.score + item.weight;
          const there = nodes[item.end];
          for (const arc of over.get(item.label) ?? []) {
            const total = before + arc.gain + (arc.placed ? place : 0);
            const known = there.get(arc.target);
            if (known === undefined) {
              there.set(arc.target, { at: item.end, state: arc.target, score: total, edges: [[total, node, arc, item]] });
            } else if (total >= known.score - this.#doubt) {
              known.score = Math.max(known.score, total);
              known.edges.push([total, node, arc, item]);
            }
          }
        }
      }
    }
    return this.#bestPaths([...nodes[size].values()], number);
  }

  /** The best complete paths, found backwards with the forward scores as exact estimate. */
  #bestPaths(ends, number) {
    let serial = 0;
    const heap = new Heap();
    const known = new Heap(); // the best `number` scores of whole paths so far, the least of them first
    for (const node of ends) {
      const { final } = node.state;
      if (final !== null) heap.push([-(node.score + final), serial, node, final, null]);
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
    while (heap.size && found.length < number) {
      const [negative, , node, after, chain] = heap.pop();
      if (-negative < known.top[0]) break;
      if (node.at === 0) {
        found.push({ score: -negative, edges: edges(chain) });
        continue;
      }
      let goesOn = true;
      for (const edge of node.edges) {
        const score = edge[0] + after;
        if (goesOn && score === -negative) goesOn = false;
        else if (score > known.top[0]) {
          known.push([score, serial]);
          known.pop();
        } else continue;
        serial += 1;
        heap.push([-score, serial, edge[1], score - edge[1].score, [edge, chain]]);
      }
    }
    return found;
  }
}

/** Whether an item tells nothing of a word: a small word or short town that a capitalised one is respelt to, or a faint one. */
function setApart(item, shape) {
  if (item.weight < FAINT && (shape === INITIAL || item.label === "conj")) return true;
  const doubtful = SMALL_WORDS.has(item.label) || (item.label === "place" && item.weight < 0);
  return doubtful && item.respelt.length > 0 && shape === CAPITALISED;
}

/** The tokens that stand behind a forename, or behind the particles that follow it; behind "St. Martins" stands a lane. */
function forenamed(tokens, found) {
  const behind = new Set();
  const given = found
    .flat()
    .filter(({ label, start, respelt }) => label === "given" && !respelt.length && tokens[start].shape === CAPITALISED);
  const ends = new Set(given.map(({ end }) => end));
  for (const { start, end } of given) {
    if (ends.has(start) || tokens[start].gap !== "a" || tokens[start - 1].shape !== CAPITALISED) behind.add(end);
  }
  tokens.forEach(({ shape, gap }, index) => {
    if (!behind.has(index) || shape !== LOWERCASE || !"sa.".includes(gap)) return;
    for (const { label, end, respelt } of found[index]) if (label === "particle" && !respelt.length) behind.add(end);
  });
  return behind;
}

/** Whether a word with a capital stands where a surname does, and is a common word or a trade: J. H. Graveur. */
function surname(tokens, index, behindForename, single) {
  const token = tokens[index];
  if (token.plain !== token.full) return false;
  const trade = single.includes("office");
  if (behindForename && "sa.".includes(token.gap)) return single.every((also) => (trade ? TRADES : EVERYDAY).has(also));
  const initialled = index > 0 && tokens[index - 1].shape === INITIAL && token.gap === "a";
  return trade && initialled && single.every((also) => TRADES.has(also));
}

/** The edges of a path, in order. */
function edges(chain) {
  const found = [];
  for (let rest = chain; rest !== null; rest = rest[1]) found.push(rest[0]);
  return found;
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
