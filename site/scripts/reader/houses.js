// Answers to margent/lettering/houses.py: houses whose name begins with their trade.

import { LOWERCASE } from "./tokens.js";

/** Labels that show a name to be a person's, whose house the trade word only announces. */
const PERSONAL = ["given", "initial", "honorific", "kin", "mono", "sameman"];

/** Tells a house named by its trade from a trade word that announces its master, and gives it its whole name. */
export class Houses {
  #trades;
  #articles;

  constructor(compiled) {
    this.#trades = new Set(compiled.housewords);
    this.#articles = new Set(compiled.housearticles);
  }

  /** Lengthens the first name of a clause by the trade word before it, where the two are the name of a house. */
  settle(clause, tokens) {
    const before = clause.terms.filter((term) => term.side === "front");
    if (!before.length || !clause.names.length) return;
    const trade = before.at(-1);
    const name = clause.names[0];
    const announced = before.length > 1;
    if (!this.#isHouse(trade, name, tokens, announced)) return;
    name.start = trade.start;
    name.labels.push("firm");
    if (!announced) return;
    clause.terms = clause.terms.filter((term) => term !== trade);
    if (this.#articles.has(tokens[trade.start - 1].full) && before.at(-2).end <= trade.start - 1) name.start -= 1;
  }

  #isHouse(trade, name, tokens, announced) {
    if (!this.#trades.has(tokens[trade.start].full) || trade.agent || name.has(...PERSONAL)) return false;
    if (!(trade.start < name.start && name.start <= trade.end + 2)) return false;
    const joined = tokens.slice(trade.start + 1, name.end - 1).some((token) => this.#articles.has(token.full));
    const adjective = name.start === trade.end && (announced || tokens[name.start].shape === LOWERCASE);
    return joined || adjective;
  }
}
