// Answers to margent/lettering/houses.py: houses named by their trade and bodies named by what they are.

import { CAPITALISED, CAPITALS, LOWERCASE } from "./tokens.js";

/** Labels that show a name to be a person's, whose house the trade word only announces. */
const PERSONAL = ["given", "initial", "honorific", "kin", "mono", "sameman"];

/** Shapes of the words of a body's name. */
const NAMING = [CAPITALISED, CAPITALS];

/** Tells a house named by its trade from a trade word that announces its master, and gives it its whole name. */
export class Houses {
  #trades;
  #articles;
  #bodies;
  #joints;

  constructor(compiled) {
    this.#trades = new Set(compiled.housewords);
    this.#articles = new Set(compiled.housearticles);
    this.#bodies = new Set(compiled["body-words"]);
    this.#joints = new Set(compiled["body-joints"]);
  }

  /** Lengthens the first name of a clause by the trade word before it, where the two are the name of a house. */
  settle(clause, tokens) {
    const before = clause.terms.filter((term) => term.side === "front");
    let floor = 0;
    for (const name of clause.names) {
      for (const term of clause.terms) if (term.end <= name.start) floor = Math.max(floor, term.end);
      this.#complete(name, floor, tokens);
      floor = name.end;
    }
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

  /** Gives a society, company or journal the words before the one that says what it is, as far as they are capitalised. */
  #complete(name, floor, tokens) {
    if (name.has(...PERSONAL)) return;
    if (!tokens.slice(name.start, name.end).some((token) => this.#bodies.has(token.full))) return;
    let { start } = name;
    while (start > floor && tokens[start].gap === "s") {
      const before = tokens[start - 1];
      const joint = start - 1 > floor && this.#joints.has(before.full) && before.gap === "s";
      if (NAMING.includes(before.shape)) start -= 1;
      else if (joint && NAMING.includes(tokens[start - 2].shape)) start -= 2;
      else break;
    }
    if (start > floor && tokens[start].gap === "s" && this.#articles.has(tokens[start - 1].full)) start -= 1;
    if (start < name.start) {
      name.start = start;
      name.labels.push("firm");
    }
  }

  #isHouse(trade, name, tokens, announced) {
    if (!this.#trades.has(tokens[trade.start].full) || trade.agent || name.has(...PERSONAL)) return false;
    if (!(trade.start < name.start && name.start <= trade.end + 2)) return false;
    const joined = tokens.slice(trade.start + 1, name.end - 1).some((token) => this.#articles.has(token.full));
    const adjective = name.start === trade.end && (announced || tokens[name.start].shape === LOWERCASE);
    return joined || adjective;
  }
}
