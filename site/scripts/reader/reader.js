// Answers to margent/lettering/reader.py: one lettering in, one reading out.
//
// The modules of this folder follow those of margent/lettering/ function by function: what Python calls _best_paths is
// #bestPaths here. They only interpret the compiled reader (reader.json). No case, normalisation, regular-expression or
// floating-point function touches text or weights, so that both give the same JSON; tests/lettering/test_two_hosts.py
// proves it.

import { Characters } from "./characters.js";
import { clausesOf, toldApart } from "./clauses.js";
import { Dates } from "./dates.js";
import { Fault } from "./fault.js";
import { unpack } from "./forms.js";
import { Editions, PENCIL } from "./editions.js";
import { Grammar, labelAll } from "./grammar.js";
import { letteringFrom, thousands } from "./letterings.js";
import { Judge } from "./judging.js";
import { Lexicon } from "./lexicon.js";
import { floorDivide } from "./order.js";
import { Reading } from "./reading.js";
import { Spelling } from "./spelling.js";
import { Writer } from "./statements.js";
import { tokenise } from "./tokens.js";
import { LONGEST, Line } from "./transcription.js";
import { shares } from "./weights.js";

/** A name in pencil or beside the impression's number is a signature as surely as one in the image. */
const SIGNED = "in image";

/** Version of the compiled reader that this interpreter understands. */
export const COMPILED_FORMAT = 1;

/** Reads letterings with a compiled vocabulary (the content of reader.json). */
export class Reader {
  #compiled;
  #characters;
  #elisions;
  #notes;
  #lexicon;
  #dates;
  #editions;
  #grammar;
  #judge;
  #writer;
  #unreadHands;
  #unreadWays;

  constructor(compiled) {
    if (compiled.format !== COMPILED_FORMAT) {
      throw new Fault(
        `The compiled reader has format ${compiled.format}; this Margent reads format ${COMPILED_FORMAT}: compile it again.`,
      );
    }
    this.#compiled = compiled;
    this.#characters = new Characters(compiled.characters);
    this.#elisions = new Set(compiled.elisions);
    this.#notes = compiled.notes;
    const forms = unpack(compiled.forms);
    this.#lexicon = new Lexicon(compiled, forms, new Spelling(compiled, forms.keys()));
    this.#dates = new Dates(compiled);
    this.#editions = new Editions(compiled);
    this.#grammar = new Grammar(compiled);
    this.#judge = new Judge(compiled);
    this.#writer = new Writer(compiled);
    this.#unreadHands = new Set(compiled.hands.unread);
    this.#unreadWays = new Set(compiled.hands["not-the-maker"]);
  }

  /** The version of the vocabulary that was compiled. */
  get vocabulary() {
    return this.#compiled.vocabulary;
  }

  /** The compiled word list. */
  get lexicon() {
    return this.#lexicon;
  }

  /** The compiled character tables. */
  get characters() {
    return this.#characters;
  }

  /** The reading of a lettering (see `letteringFrom`); throws Fault where it is longer than LONGEST characters. */
  read(lettering) {
    let size = 0;
    for (const line of lettering.lines) size += line.points.length;
    if (size > LONGEST) {
      throw new Fault(
        `The lettering has ${thousands(size)} characters; at most ${thousands(LONGEST)} are read at once: give one print's lettering at a time.`,
      );
    }
    const tokens = this.tokens(lettering);
    const reading = new Reading(this.vocabulary, lettering.id);
    if (!tokens.length) return reading;
    const lookup = this.#compiled.grammar.lookup;
    const numbers = this.#editions.items(tokens, lettering.lines);
    const items = labelAll(this.#grammar, this.#lexicon, tokens, [...this.#dates.items(tokens), ...numbers]);
    const signed = new Set(numbers.map((number) => tokens[number.start].line));
    const places = lettering.lines.map((line, index) =>
      line.place === null && (signed.has(index) || line.how === PENCIL) ? SIGNED : line.place,
    );
    const paths = this.#grammar.paths(tokens, items, places, lookup.paths);
    const weights = shares(
      paths.map((path) => floorDivide(path.score * 1000, lookup.temperature)),
      this.#compiled.exp,
    );
    const sheet = this.#judge.sheet(tokens, lettering);
    const drafts = [];
    const alike = new Map();
    paths.forEach((path, index) => {
      if (weights[index] <= 0) return;
      const clauses = clausesOf(path);
      const told = toldApart(clauses);
      if (alike.has(told)) {
        // segmentations that differ only in places, dates or unread words say the same
        drafts[alike.get(told)][2] += weights[index];
        return;
      }
      alike.set(told, drafts.length);
      drafts.push([this.#judge.drafts(clauses, sheet), clauses, weights[index]]);
    });
    if (!drafts.length) return reading;
    this.#judge.weigh(drafts[0][0]);
    this.#writer.write(reading, drafts, tokens, lettering);
    return reading;
  }

  /** The tokens of a lettering, those of later hands and collectors' stamps left out. */
  tokens(lettering) {
    const heard = lettering.lines.map((line) => this.#heard(line));
    return tokenise(heard, this.#characters, this.#elisions, this.#notes);
  }

  /** The line, or an empty one where a later hand or a collector's stamp wrote it. */
  #heard(line) {
    if (this.#unreadHands.has(line.hand) || this.#unreadWays.has(line.how)) {
      return new Line("", line.place, line.how, line.hand);
    }
    return line;
  }
}

/** A lettering of bare lines, nothing else known. */
export function letteringOf(lines) {
  return letteringFrom({ lines });
}
