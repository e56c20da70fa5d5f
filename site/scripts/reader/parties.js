// Answers to margent/lettering/parties.py: persons whom a dedication names by their rank alone.

import { Clause, Name, firstToken } from "./clauses.js";
import { mapOf, sorted } from "./order.js";
import { BARE_AGENT } from "./participles.js";
import { HONOURS } from "./senses.js";

/** Makes a party of a dedication of honours that an "à", "al" or "to" announces and no name follows. */
export class Parties {
  #terms;
  #announcing;
  #kept;
  #courtesies;
  #senses;

  constructor(compiled, senses) {
    this.#terms = mapOf(compiled.terms);
    this.#announcing = new Set(compiled.announcing);
    this.#kept = new Set(compiled["kept-honours"]);
    this.#courtesies = new Set(compiled.courtesies);
    this.#senses = senses;
  }

  /** Puts a clause of its own before each clause whose giver follows upon such honours, and one for those that found no name. */
  settle(clauses, tokens) {
    const found = [];
    for (const clause of clauses.clauses) {
      this.#keep(clause, tokens);
      const at = this.#ranked(clause.terms, tokens);
      if (at !== null) {
        found.push(this.#party(clause.terms.slice(0, at + 1), tokens));
        clause.terms = clause.terms.slice(at + 1);
      }
      found.push(clause);
    }
    for (const term of clauses.nameless) {
      if (this.#isRank(term, tokens)) found.push(this.#party([term], tokens));
    }
    clauses.clauses = sorted(found, firstToken);
  }

  /** Gives the name its everyday title back where the honours took it in (Sir, Madame), and them what is only courtesy. */
  #keep(clause, tokens) {
    if (!clause.names.length || !clause.terms.length) return;
    const honours = clause.terms.at(-1);
    const [name] = clause.names;
    if (honours.refs[0][0] !== HONOURS || honours.end !== name.start) return;
    while (name.start > honours.start + 1 && this.#kept.has(tokens[name.start - 1].full)) {
      name.start -= 1;
      name.labels.unshift("honorific");
    }
    while (name.start + 1 < name.end && this.#courtesies.has(tokens[name.start].full)) name.start += 1;
    honours.end = name.start;
  }

  /** Which term of a clause is honours by rank, with a giver's term behind it; null where there is none. */
  #ranked(terms, tokens) {
    for (let index = 0; index + 1 < terms.length; index += 1) {
      const giver = terms.slice(index + 1).every((after) => this.#ofGiver(after));
      if (this.#isRank(terms[index], tokens) && giver) return index;
    }
    return null;
  }

  /** Whether a term is honours that an announcing word opens. */
  #isRank(term, tokens) {
    return this.#announcement(term, tokens) !== null && term.side === "front" && term.refs[0][0] === HONOURS;
  }

  /** Where in the honours the word stands that announces the person; null where there is none or nothing behind it. */
  #announcement(term, tokens) {
    for (let at = term.start; at < term.end - 1; at += 1) if (this.#announcing.has(tokens[at].full)) return at;
    return null;
  }

  /** Whether a term speaks of who dedicates: humble servant, by. */
  #ofGiver(term) {
    const agent = term.refs.some(([ref]) => this.#terms.get(ref).class === BARE_AGENT);
    return agent || this.#senses.usual(term.refs).includes("dedicator");
  }

  #party(terms, tokens) {
    const honours = terms.at(-1);
    const at = this.#announcement(honours, tokens);
    const clause = new Clause();
    clause.names.push(new Name(at === null ? honours.start : at + 1, honours.end, ["honorific"]));
    clause.terms = [...terms];
    return clause;
  }
}
