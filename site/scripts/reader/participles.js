// Answers to margent/lettering/participles.py: participles and the makers they wait for.

import { mapOf } from "./order.js";

/** The word class of a term that is only by, par or von. */
export const BARE_AGENT = "agent";

/** Gaps within one sentence. */
const CLOSE = "s,agk";

/** Tokens from the end of a clause to the by that says its participle again, at most. */
const AGAIN_WITHIN = 4;

/** Takes from a clause the terms whose maker it does not name, and gives them to the name that by, par or por announces. */
export class Participles {
  #terms;
  #roles;
  #senses;
  #modelWords;

  constructor(compiled, senses) {
    this.#terms = mapOf(compiled.terms);
    this.#roles = mapOf(compiled.roles);
    this.#senses = senses;
    this.#modelWords = new Set(compiled.modelwords);
  }

  /** Leaves in each clause the terms that are said of its names. */
  settle(clauses, tokens) {
    let waiting = [];
    let last = null;
    for (const clause of clauses.clauses) {
      let kept = this.#withoutUnnamed(clause.terms);
      const unnamed = clause.terms.slice(0, clause.terms.length - kept.length);
      if (kept.length && this.#isBareAgent(kept[0])) {
        const found = waiting.length ? [] : this.#namelessBefore(clauses.nameless, kept[0]);
        if (found.length && this.#ofModel(found.at(-1), kept[0], tokens)) {
          waiting = found; // "engraved after the picture by A, by B": the first by belongs to the picture
        } else {
          const told = waiting.length ? waiting : found;
          const taken = told.length ? told : this.#again(last, kept[0], tokens);
          for (const term of taken) term.agent = true;
          if (taken.length) kept = [...taken, ...kept.slice(1)];
          waiting = [];
        }
      } else if (unnamed.length) waiting = unnamed;
      else if (kept.length && kept.at(-1).side === "front") {
        const within = this.#within(kept.at(-1));
        if (within.length) waiting = within;
      }
      clause.terms = this.#withoutRepeated(kept);
      last = clause;
    }
  }

  /** The participles said a second time by a by or par that follows close: "published by A, and by B". */
  #again(last, agent, tokens) {
    const dedicates = (term) => this.#senses.usual(term.refs).includes("dedicatee");
    if (last === null || last.terms.some(dedicates)) return [];
    const said = Math.max(...[...last.names, ...last.terms].map((part) => part.end));
    const reached = Math.max(said, ...last.others.map((item) => item.end)); // an address may stand between
    if (agent.start + 1 - reached > AGAIN_WITHIN) return [];
    if (tokens.slice(said, agent.start + 1).some((token) => !CLOSE.includes(token.gap))) return [];
    const { start, end } = agent;
    return last.terms
      .filter((term) => term.side === "front" && this.#terms.get(term.refs[0][0]).class === "participle")
      .map(({ refs, respelt }) => ({ start, end, refs, side: "front", respelt, agent: false }));
  }

  #ofModel(participle, agent, tokens) {
    return tokens.slice(participle.end, agent.start).some((token) => this.#modelWords.has(token.full));
  }

  /** The participle with which a phrase begins that names the model's maker only: engraved in "engraved after". */
  #within(term) {
    const { waits } = this.#terms.get(term.refs[0][0]);
    if (!waits) return [];
    const { start } = term;
    return [{ start, end: start + 1, refs: [[waits, 0]], side: "front", respelt: [], agent: false }];
  }

  /** The terms without a bare by or par that only joins the participle before it: "printed at Antwerp by A". */
  #withoutRepeated(terms) {
    const kept = [];
    for (const term of terms) {
      const last = kept.at(-1);
      if (last && last.side === "front" && !last.agent && this.#isBareAgent(term)) last.agent = true;
      else if (last && this.#isBareAgent(last) && this.#senses.usual(term.refs).includes("dedicator")) {
        kept[kept.length - 1] = term; // "by his Grace's humble servant A": the servant says who gives
      } else kept.push(term);
    }
    return kept;
  }

  /** The terms of a clause without those whose maker is not named: in "engraved from the picture by A" nobody engraved. */
  #withoutUnnamed(terms) {
    for (let index = terms.length - 1; index > 0; index -= 1) {
      const term = terms[index];
      const entry = this.#terms.get(term.refs[0][0]);
      const source =
        (entry.class === "preposition" || entry.class === "formula") &&
        this.#senses.usual(term.refs).some((role) => this.#roles.get(role)?.stage === "conceiving");
      if (source && term.side === "front" && !term.agent && !terms[index - 1].agent) return terms.slice(index);
    }
    return terms;
  }

  #isBareAgent(term) {
    return term.refs.some(([ref]) => this.#terms.get(ref).class === BARE_AGENT);
  }

  /** The nearest participle before by or par that found no name: "engraved for this work by A". */
  #namelessBefore(nameless, agent) {
    const before = nameless.filter(
      (term) => term.end <= agent.start && this.#terms.get(term.refs[0][0]).class === "participle" && !term.agent,
    );
    return before.slice(-1).map((term) => this.#within(term)[0] ?? term);
  }
}
