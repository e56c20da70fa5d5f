// Answers to margent/lettering/participles.py: participles and the makers they wait for.

import { mapOf } from "./order.js";

/** The word class of a term that is only by, par or von. */
const BARE_AGENT = "agent";

/** Takes from a clause the terms whose maker it does not name, and gives them to the name that by, par or por announces. */
export class Participles {
  #terms;
  #roles;
  #senses;

  constructor(compiled, senses) {
    this.#terms = mapOf(compiled.terms);
    this.#roles = mapOf(compiled.roles);
    this.#senses = senses;
  }

  /** Leaves in each clause the terms that are said of its names. */
  settle(clauses) {
    let waiting = [];
    for (const clause of clauses.clauses) {
      let kept = this.#withoutUnnamed(clause.terms);
      const unnamed = clause.terms.slice(0, clause.terms.length - kept.length);
      if (kept.length && this.#isBareAgent(kept[0])) {
        if (!waiting.length) waiting = this.#namelessBefore(clauses.nameless, kept[0]);
        for (const term of waiting) term.agent = true;
        if (waiting.length) kept = [...waiting, ...kept.slice(1)];
        waiting = [];
      } else if (unnamed.length) waiting = unnamed;
      clause.terms = kept;
    }
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
      (term) =>
        term.end <= agent.start && this.#terms.get(term.refs[0][0]).class === "participle" && !term.agent,
    );
    return before.slice(-1);
  }
}
