// Answers to margent/lettering/statements.py: from judged clauses to the reading.

import { bisectRight, floorDivide, length, mapOf, same, sorted } from "./order.js";
import { DateRead, Notice, PlaceRead, Statement, TermRead, Unread } from "./reading.js";
import { GUESSED } from "./spelling.js";
import { along } from "./weights.js";

/** A name's last word of at most so many letters is taken as cut short, and its stop as part of the name. */
const ABBREVIATED = 3;

/** Writes readings from the drafts of a lettering's segmentations. */
export class Writer {
  #terms;
  #roles;
  #weights;
  #curve;
  #words;
  #base;
  #powers;
  #keptApart;
  #respelt;

  constructor(compiled) {
    this.#terms = mapOf(compiled.terms);
    this.#roles = mapOf(compiled.roles);
    this.#weights = mapOf(compiled.grammar.lookup);
    this.#curve = compiled.confidence;
    this.#words = compiled.templates;
    this.#respelt = mapOf(compiled.spelling.reasons);
    this.#base = compiled.base;
    this.#powers = new Set(compiled.powers);
    this.#keptApart = new Set(compiled["kept-apart"]);
  }

  /** The stage of a role; undefined for a role that the vocabulary lacks. */
  #stage(role) {
    return this.#roles.get(role)?.stage;
  }

  /** Fills a reading from the drafts of the best segmentation, with confidence from all of them. */
  write(reading, readings, tokens, lettering) {
    const [drafts, clauses] = readings[0];
    const lines = lettering.lines;
    const kept = [];
    for (const draft of drafts) {
      if (!draft.roles.length) continue;
      const apart = draft.roles.filter((role) => this.#keptApart.has(role));
      if (apart.length === draft.roles.length) {
        const [text, line, span] = this.#slice(tokens, draft.start, draft.end, lines);
        reading.notices.push(new Notice("provenance", text, line, span, null, text));
        continue;
      }
      draft.roles = draft.roles.filter((role) => !this.#keptApart.has(role));
      kept.push(draft);
    }
    const ranges = readings.map(([others, , weight]) => [weight, this.#ranges(others)]);
    const sameAs = this.#sameAs(kept);
    kept.forEach((draft, index) => {
      const [text, line, span] = this.#slice(tokens, draft.start, draft.end, lines, draft.name);
      const certain = this.#certainty(draft, ranges);
      const terms = draft.chosen.map(
        ([term, choices]) =>
          new TermRead(
            ...this.#slice(tokens, term.start, term.end, lines),
            choices.length ? [...choices[0].sense.roles] : [],
          ),
      );
      const confidence = along(certain, this.#curve);
      reading.statements.push(
        new Statement({
          name: text,
          line,
          span,
          roles: draft.roles,
          implied: draft.implied.filter((role) => !draft.roles.includes(role)),
          terms,
          term: this.#termText(terms, tokens, draft, lines),
          of: draft.of,
          after: null,
          same_as: sameAs[index],
          maker: null,
          members: [],
          unknown: 1,
          candidates: [],
          confidence: confidence / 1000,
          doubtful: confidence < this.#weights.get("doubtful"),
          instead: instead(draft, confidence),
          because: this.#because(draft, tokens, lines),
        }),
      );
    });
    this.#afters(reading);
    this.#rest(reading, drafts, clauses, tokens, lines);
  }

  /** The text of tokens [start, end), the line of the first, and the span there, with its stop and brackets made whole. */
  #slice(tokens, start, end, lines, name = null) {
    let line = tokens[start].line;
    let last = start;
    while (last + 1 < end && tokens[last + 1].line === line) last += 1;
    const text = lines[line].points;
    const left = tokens[start].start;
    let right = tokens[last].end;
    let opened = count(text, "[", left, right) - count(text, "]", left, right);
    while (right < text.length && text[right] === "]" && opened > 0) {
      right += 1;
      opened -= 1;
    }
    if (
      right < text.length &&
      (text[right] === "." || text[right] === ":") &&
      (name === null || length(tokens[last].full) <= ABBREVIATED)
    ) {
      right += 1;
    }
    let whole = text.slice(left, right).join("");
    for (let other = last + 1; other < end; other += 1) {
      if (tokens[other].line !== line) {
        line = tokens[other].line;
        let lineEnd = other;
        for (let index = other; index < end; index += 1) if (tokens[index].line === line) lineEnd = index;
        whole += " " + lines[line].points.slice(tokens[other].start, tokens[lineEnd].end).join("");
      }
    }
    return [whole, tokens[start].line, [left, right]];
  }

  #termText(terms, tokens, draft, lines) {
    if (!terms.length) return null;
    const first = terms[0];
    const last = terms.at(-1);
    const name = tokens[draft.start].start;
    if (terms.every((term) => term.line === first.line) && !(first.span[0] <= name && name < last.span[1])) {
      return lines[first.line].points.slice(first.span[0], last.span[1]).join("");
    }
    return terms.map((term) => term.text).join(" ");
  }

  /** For each draft the one that its same-man word means: the last maker before it, else the last name. */
  #sameAs(kept) {
    let maker = null;
    return kept.map((draft, index) => {
      const meant = draft.name.sameman ? (maker ?? (index ? index - 1 : null)) : null;
      if (draft.roles.some((role) => this.#roles.get(role)?.makes)) maker = index;
      return meant;
    });
  }

  /** Where names begin and end, in order, with their roles, and the furthest that any has ended so far. */
  #ranges(drafts) {
    const ranges = sorted(
      drafts.map((each) => [each.start, each.end, each.roles.filter((role) => !this.#keptApart.has(role))]),
      (each) => each,
    );
    let furthest = 0;
    return [ranges, ranges.map(([, end]) => (furthest = Math.max(furthest, end)))];
  }

  /** The share, in thousandths, of the segmentations that give this name these roles, times that of the chosen senses. */
  #certainty(draft, readings) {
    let total = 0;
    let agreed = 0;
    for (const [weight, [ranges, furthest]] of readings) {
      total += weight;
      for (let at = bisectRight(furthest, draft.start); at < ranges.length && ranges[at][0] < draft.end; at += 1) {
        const [, end, roles] = ranges[at];
        if (draft.start < end && same(roles, draft.roles)) {
          agreed += weight;
          break;
        }
      }
    }
    let share = total ? floorDivide(agreed * draft.share, total) : 0;
    const sponsoring = (role) => !this.#roles.has(role) || this.#stage(role) === "sponsoring";
    if (draft.roles.length && draft.roles.every(sponsoring)) {
      share = floorDivide(share * this.#weights.get("share-sponsoring"), 1000); // dedications are loosely built
    }
    if (draft.clause.terms.some((term) => term.respelt.includes(GUESSED))) {
      share = floorDivide(share * this.#weights.get("share-guessed"), 1000);
    }
    return share;
  }

  /** Points each maker of the matrix to the statement of the model or drawing it was made after. */
  #afters(reading) {
    const all = reading.statements;
    const models = [...all.keys()].filter((index) => all[index].of === "model");
    const drawings = [...all.keys()].filter((index) => all[index].of === "drawing");
    const sources = drawings.length ? drawings : models;
    if (sources.length) for (const statement of all) if (statement.of === "plate") statement.after = sources.at(-1);
  }

  /** The reasons of a statement in plain sentences, from the compiled templates. */
  #because(draft, tokens, lines) {
    const reasons = [];
    if (draft.rule !== null) reasons.push(draft.rule.reason);
    for (const [term, choices] of draft.chosen) {
      const [text] = this.#slice(tokens, term.start, term.end, lines);
      const entry = this.#terms.get(choices.length ? choices[0].sense.term : term.refs[0][0]);
      if (choices.length) {
        const sense = choices[0].sense;
        const role = sense.roles.filter((each) => this.#roles.has(each)).map((each) => this.#roles.get(each).label);
        reasons.push(
          format(entry.form ? this.#words.term : this.#words.honours, { text, form: entry.form, language: entry.language, role: role.join(", "), reason: sense.reason }),
        );
      }
      reasons.push(format(this.#words[term.side === "front" ? "before" : "behind"], { text }));
      for (const rule of term.respelt) {
        reasons.push(format(this.#words[rule === GUESSED ? "guessed" : "respelt"], { text, form: entry.form, rule: this.#respelt.get(rule) ?? rule }));
      }
    }
    return reasons;
  }

  /** Notices, places, dates and unread stretches. */
  #rest(reading, drafts, clauses, tokens, lines) {
    const stages = new Map();
    for (const draft of drafts) {
      const stage = draft.roles.length ? (this.#stage(draft.roles[0]) ?? "") : "";
      for (const other of draft.clause.others) if (!stages.has(other.start)) stages.set(other.start, stage);
    }
    const others = new Map();
    for (const item of [...clauses.loose, ...clauses.clauses.flatMap((clause) => clause.others)]) {
      others.set(`${item.start} ${item.end} ${item.label}`, item);
    }
    const ordered = sorted([...others.values()], (item) => [item.start, item.end]);
    const grantors = new Map();
    for (const item of ordered) if (item.label === "grantor") grantors.set(item.start, item);
    for (const item of ordered) {
      let [text, line, span] = this.#slice(tokens, item.start, item.end, lines);
      const stage = stages.get(item.start) ?? "";
      const published = stage === "publishing" || stage === "printing";
      if (item.label === "place") {
        const kind = published || stage === "" ? "imprint" : "work";
        reading.places.push(new PlaceRead(text, this.#base + "place/" + item.ref, kind, line, span));
      } else if (item.label === "date") {
        const kind = published ? "publication" : stage ? "execution" : "unsaid";
        reading.dates.push(new DateRead(text, item.ref || null, kind, line, span));
      } else if (item.label === "notice") {
        let end = item.end;
        let granter = this.#granter(tokens, item, lines);
        while (grantors.has(end) && tokens[grantors.get(end).end - 1].line === line) end = grantors.get(end).end;
        if (end > item.end) {
          [granter] = this.#slice(tokens, item.end, end, lines);
          [text, line, span] = this.#slice(tokens, item.start, end, lines);
        }
        reading.notices.push(new Notice(this.#noticeOf(item.ref), text, line, span, granter));
      }
    }
    for (const draft of drafts) {
      const found = this.#publicationLine(draft, tokens, lines);
      if (found !== null && !reading.notices.some((notice) => equal(notice, found))) reading.notices.push(found);
    }
    let run = [];
    for (const index of leftOver(drafts, clauses)) {
      if (run.length && (index !== run.at(-1) + 1 || tokens[index].line !== tokens[run.at(-1)].line)) {
        this.#unread(reading, run, tokens, lines);
        run = [];
      }
      run.push(index);
    }
    if (run.length) this.#unread(reading, run, tokens, lines);
    reading.notices = sorted(reading.notices, (notice) => [notice.line, notice.span]);
  }

  /** The power that a notice names at its end, where the list of powers knows it: Regis in cum privilegio Regis. */
  #granter(tokens, item, lines) {
    for (let start = item.start + 1; start < item.end; start += 1) {
      const words = tokens.slice(start, item.end).map((token) => token.full);
      if (this.#powers.has(words.join(" "))) return this.#slice(tokens, start, item.end, lines)[0];
    }
    return null;
  }

  /** The line that says when a print was published, from its word to its date; null where no date stands with the word. */
  #publicationLine(draft, tokens, lines) {
    if (!draft.roles.includes("publisher")) return null;
    const dates = draft.clause.others.filter((item) => item.label === "date");
    for (const term of draft.clause.terms) {
      for (const date of dates) {
        const first = Math.min(term.start, date.start);
        const last = Math.max(term.end, date.end);
        if (term.side === "front" && tokens[first].line === tokens[last - 1].line && date.start >= term.start) {
          return new Notice("publication-line", ...this.#slice(tokens, term.start, date.end, lines));
        }
      }
    }
    return null;
  }

  #noticeOf(ref) {
    for (const sense of this.#terms.get(ref).senses) if (sense.notice) return sense.notice;
    return "publication-line";
  }

  #unread(reading, run, tokens, lines) {
    reading.unread.push(new Unread(...this.#slice(tokens, run[0], run.at(-1) + 1, lines)));
  }
}

/** How often a sign stands among the characters [left, right). */
function count(chars, sign, left, right) {
  let found = 0;
  for (let index = left; index < right; index += 1) if (chars[index] === sign) found += 1;
  return found;
}

/** A template with every {key} replaced by its value; what is put in is not looked at again. */
function format(template, values) {
  let out = "";
  let at = 0;
  while (at < template.length) {
    const open = template.indexOf("{", at);
    if (open < 0) break;
    const close = template.indexOf("}", open);
    out += template.slice(at, open) + values[template.slice(open + 1, close)];
    at = close + 1;
  }
  return out + template.slice(at);
}

function equal(left, right) {
  return (
    left.kind === right.kind &&
    left.text === right.text &&
    left.line === right.line &&
    same(left.span, right.span) &&
    left.granter === right.granter &&
    left.holder === right.holder
  );
}

/** The tokens of which nothing is said, in order: what the path passed over, and names that got no role with their terms. */
function leftOver(drafts, clauses) {
  const found = new Set();
  const add = ({ start, end }) => {
    for (let index = start; index < end; index += 1) found.add(index);
  };
  clauses.unread.forEach(add);
  const speaking = new Set(drafts.filter((draft) => draft.roles.length).map((draft) => draft.clause));
  for (const draft of drafts.filter((each) => !each.roles.length)) {
    add(draft);
    if (!speaking.has(draft.clause)) draft.clause.terms.forEach(add);
  }
  return [...found].sort((left, right) => left - right);
}

/** The three likeliest other things that its terms may say, each with its share, all within what confidence leaves over. */
function instead(draft, confidence) {
  const others = sorted(draft.instead, ([roles, share]) => [-share, roles]);
  const whole = others.reduce((sum, [, share]) => sum + share, 0);
  return others.slice(0, 3).map(([roles, share]) => ({
    roles: [...roles],
    share: Math.min(share, floorDivide(share * (1000 - confidence), whole)) / 1000,
  }));
}
