// Answers to margent/lettering/clauses.py: which names and which terms of a path belong together.

/** States outside every clause; behind a town a firm may be named without a term. */
const OUTER = new Set(["outside", "town"]);

/** States inside a name; the grammar file adds the context: given@before, given@after, given@alone. */
const NAME_STATES = new Set(["given", "initials", "incomplete", "surname", "full", "tail"]);

/** A name as the path found it: tokens [start, end) and the labels its parts were read under. */
export class Name {
  constructor(start, end, labels, sameman = false) {
    this.start = start;
    this.end = end;
    this.labels = labels;
    this.sameman = sameman;
  }

  /** Whether any part of the name was read under one of the labels. */
  has(...labels) {
    return labels.some((label) => this.labels.includes(label));
  }
}

/** Names joined to one another and the terms said of them all; dates, places and addresses that stand with them. */
export class Clause {
  names = [];
  joints = [];
  terms = [];
  others = [];
  alone = false;
}

/** A term where it stands: `refs` are the terms that have this form, best first, and how far each stands behind. */
function term(item, side) {
  return { start: item.start, end: item.end, refs: [[item.ref, 0], ...item.others], side, respelt: item.respelt, agent: false };
}

class Builder {
  clauses = [];
  unread = [];
  loose = [];
  current = null;

  begin() {
    this.current = new Clause();
    this.clauses.push(this.current);
    return this.current;
  }

  step(arc, item) {
    const source = arc.source.name;
    const target = arc.target.name;
    if (NAME_STATES.has(target)) this.#name(arc, item);
    else if (item.label === "back") {
      const clause = this.current !== null && !OUTER.has(target) ? this.current : this.begin();
      clause.terms.push(term(item, "back"));
    } else if (item.label === "front" || item.label === "dedicatory") {
      const joined = ["front", "front-list", "thing"].includes(source) && this.current !== null;
      const clause = joined ? this.current : this.begin();
      clause.terms.push(term(item, "front"));
    } else if (item.label === "x") this.unread.push(item);
    else if (item.label === "agent" && this.current !== null && this.current.terms.length) {
      this.current.terms.at(-1).end = item.end;
      this.current.terms.at(-1).agent = true;
    } else if (target === "list") {
      if (this.current !== null) this.current.joints.push([item.start, item.end]);
    } else if (OUTER.has(target) || this.current === null) this.loose.push(item);
    else this.current.others.push(item);
    if (OUTER.has(target)) this.current = null;
  }

  #name(arc, item) {
    const source = arc.source.name;
    const { context } = arc.target;
    if (NAME_STATES.has(source) && (arc.bond === "inside" || arc.bond === "list-inside")) {
      const name = this.current.names.at(-1);
      // of several honours only the first goes with the name
      if (!(item.label === "post" && name.labels.at(-1) === "post")) name.end = item.end;
      name.labels.push(item.label);
      return;
    }
    const fresh = new Name(item.start, item.end, [item.label], item.label === "sameman");
    const goesOn =
      source === "list" || arc.bond === "comma" || (context === "after" && (source === "front" || source === "front-list"));
    const clause = goesOn && this.current !== null ? this.current : this.begin();
    clause.alone = context === "alone";
    clause.names.push(fresh);
  }
}

/** The clauses of a path in the order of the lettering, the stretches that belong to none, the terms without a name. */
export function clausesOf(path) {
  const builder = new Builder();
  for (const [, , arc, item] of path.edges) builder.step(arc, item);
  const nameless = builder.clauses.filter((clause) => !clause.names.length).flatMap((clause) => clause.terms);
  for (const clause of builder.clauses) if (!clause.names.length) builder.loose.push(...clause.others);
  return {
    clauses: builder.clauses.filter((clause) => clause.names.length),
    unread: builder.unread,
    loose: builder.loose,
    nameless,
  };
}

/** Labels of the words that a name is made of, initials, titles and particles aside. */
const NAME_WORDS = new Set(["given", "cap", "caps", "place"]);

/** Makes one firm of bare surnames or bare initials joined by a conjunction, where the terms are a firm's. */
export function joinFirms(clause, roles, stages, rules) {
  clause.names = shared(clause.names);
  const { names } = clause;
  const firms =
    stages.some((stage) => rules.stages.includes(stage)) || roles.some((role) => rules.roles.includes(role));
  if (names.length < 2 || !firms) return;
  const [first] = names;
  const rest = names.slice(1);
  const close = rest.every((name, index) => adjacent(names[index], name));
  const lone = rest.every((name) => bare(name, false));
  if (close && lone && (bare(first, true) || (first.has("initial") && first.has("cap", "caps")))) {
    const labels = names.flatMap((name) => name.labels);
    clause.names = [new Name(first.start, names.at(-1).end, [...labels, "firm"])];
  }
}

/** Whether a name is a lone surname. */
function bare(name, mayBeHonoured) {
  const several = name.labels.filter((label) => NAME_WORDS.has(label)).length > 1;
  return !several && !name.has("initial", "sameman") && (mayBeHonoured || !name.has("honorific"));
}

function adjacent(one, other) {
  return other.start - one.end <= 1;
}

/** The names with bare initials made one with the name behind them whose surname they share. */
function shared(names) {
  const found = [];
  for (const name of names) {
    const before = found.at(-1);
    const initials = before?.has("initial") && !before.has("cap", "caps", "place", "given");
    if (initials && name.has("initial") && name.has("cap", "caps") && adjacent(before, name)) {
      found[found.length - 1] = new Name(before.start, name.end, [...before.labels, ...name.labels, "firm"]);
    } else found.push(name);
  }
  return found;
}

/** What two segmentations must differ in to be two readings, as one text: names, how they are joined, and terms. */
export function toldApart(clauses) {
  return JSON.stringify(
    clauses.clauses.map((clause) => [
      clause.names.map((name) => [name.start, name.end]),
      clause.terms.map((each) => [each.start, each.end, each.side, each.refs]),
      clause.alone,
    ]),
  );
}

/** The token with which a clause begins. */
export function firstToken(clause) {
  return Math.min(...clause.names.map((name) => name.start), ...clause.terms.map((each) => each.start));
}

/** The first and the past-last token of a name without words that an editor supplied at its edges. */
export function edges(name, tokens) {
  let { start, end } = name;
  if (tokens.slice(start, end).every((token) => token.supplied)) return [start, end];
  while (start < end - 1 && tokens[start].supplied) start += 1;
  while (end - 1 > start && tokens[end - 1].supplied) end -= 1;
  return [start, end];
}
