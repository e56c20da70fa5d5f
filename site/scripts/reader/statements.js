// Answers to margent/lettering/statements.py: from clauses to statements, with roles, confidence and reasons.

import { edges, firstToken, joinFirms } from "./clauses.js";
import { floorDivide, greatest, length, mapOf, same, sorted } from "./order.js";
import { DateRead, Notice, PlaceRead, Statement, TermRead, Unread } from "./reading.js";
import { choose, holds } from "./senses.js";
import { GUESSED } from "./spelling.js";
import { along, shares } from "./weights.js";

/** A name's last word of at most so many letters is taken as cut short, and its stop as part of the name. */
const ABBREVIATED = 3;

/** The term that honours in a dedication act as. */
const HONOURS = "dedicatory";

/** How many tokens before an address a word for a picture may stand. */
const MODEL_WITHIN = 4;

/** A statement in the making: a name in its clause, with the senses chosen for its terms. */
class Draft {
  chosen = [];
  roles = [];
  implied = [];
  of = null;
  rule = null;
  share = 1000;
  instead = [];

  constructor(name, clause, start, end) {
    this.name = name;
    this.clause = clause;
    this.start = start;
    this.end = end;
  }
}

/** Decides what each clause of a lettering states, by the compiled senses and rules. */
export class Judge {
  #terms;
  #roles;
  #weights;
  #firms;
  #unlabelled;
  #exp;
  #curve;
  #words;
  #base;
  #techniques;
  #mapwords;
  #techniquesSaid;
  #modelWords;
  #powers;
  #absorbed;
  #keptApart;

  constructor(compiled) {
    this.#terms = mapOf(compiled.terms);
    this.#roles = mapOf(compiled.roles);
    this.#weights = mapOf(compiled.grammar.lookup);
    this.#firms = compiled.firms;
    this.#unlabelled = compiled.unlabelled;
    this.#exp = compiled.exp;
    this.#curve = compiled.confidence;
    this.#words = compiled.templates;
    this.#base = compiled.base;
    this.#techniques = mapOf(compiled.techniques);
    this.#mapwords = new Set(compiled.mapwords);
    this.#techniquesSaid = new Set(compiled["technique-roles"]);
    this.#modelWords = new Set(compiled.modelwords);
    this.#powers = new Set(compiled.powers);
    this.#absorbed = mapOf(compiled.absorbed);
    this.#keptApart = new Set(compiled["kept-apart"]);
  }

  // --- what the record and the whole lettering say ---------------------------------------------------

  #technique(lettering) {
    const told = new Set();
    if (lettering.technique) {
      let folded = "";
      for (const char of lettering.technique) folded += foldWord(char);
      for (const word of folded.split(" ")) if (this.#techniques.has(word)) told.add(this.#techniques.get(word));
    }
    return told;
  }

  #years(lettering, clauses) {
    if (lettering.years !== null) return lettering.years;
    const years = [...clauses.loose, ...clauses.clauses.flatMap((clause) => clause.others)]
      .filter((item) => item.label === "date" && item.ref)
      .map((item) => Number(item.ref.slice(0, 4)));
    return years.length ? [Math.min(...years), Math.max(...years)] : null;
  }

  /** The stage of a role; undefined for a role that the vocabulary lacks. */
  #stage(role) {
    return this.#roles.get(role)?.stage;
  }

  // --- drafts ----------------------------------------------------------------------------------------

  /** The statements of one segmentation, with roles. */
  drafts(clauses, tokens, lettering) {
    for (const clause of clauses.clauses) {
      clause.terms = this.#withoutUnnamed(clause.terms);
      const said = this.#usual(clause);
      const stages = said.filter((role) => this.#roles.has(role)).map((role) => this.#stage(role));
      joinFirms(clause, said, stages, this.#firms);
    }
    const drafts = [];
    for (const clause of clauses.clauses) {
      for (const name of clause.names) drafts.push(new Draft(name, clause, ...edges(name, tokens)));
    }
    let techniques = this.#technique(lettering);
    const years = this.#years(lettering, clauses);
    const onMap = tokens.some((token) => this.#mapwords.has(token.full)) || (lettering.technique ?? "").includes("map");
    const first = drafts.map((draft) => new Set(this.#usual(draft.clause)));
    if (!techniques.size && first.some((roles) => roles.has("lithographer"))) techniques = new Set(["lithography"]);
    const townsBefore = new Set();
    for (const item of [...clauses.loose, ...clauses.clauses.flatMap((clause) => clause.others)]) {
      if (item.label === "place") townsBefore.add(item.end);
    }
    drafts.forEach((draft, index) => {
      const line = lettering.lines[tokens[draft.start].line];
      const others = new Set();
      first.forEach((roles, other) => {
        if (other !== index) for (const role of roles) others.add(role);
      });
      for (const nameless of clauses.nameless) for (const role of this.#usualOf(nameless)) others.add(role);
      const here = {
        side: "back",
        firm: draft.name.has("firm"),
        placeNear:
          draft.clause.others.some((item) => item.label === "place") || townsBefore.has(firstToken(draft.clause)),
        sheetPlace: line.place,
        pencil: line.how === "pencil",
        onMap,
        sameRoles: new Set(),
        otherRoles: others,
        alone: ![...others].some((role) => this.#roles.get(role)?.makes),
        techniques,
        years,
        monogram: false,
      };
      this.#judge(draft, here, first[index], lettering, tokens);
    });
    return this.#withoutDescribed(drafts);
  }

  /** The drafts without persons whom only a trade noun describes where somebody else has a verb of that stage. */
  #withoutDescribed(drafts) {
    const byVerb = new Set();
    for (const draft of drafts) {
      if (!this.#onlyNoun(draft) && draft.chosen.length) {
        for (const role of draft.roles) if (this.#roles.has(role)) byVerb.add(this.#stage(role));
      }
    }
    return drafts.filter(
      (draft) =>
        !(
          this.#onlyNoun(draft) &&
          draft.roles.length &&
          draft.roles.every((role) => !this.#roles.has(role) || byVerb.has(this.#stage(role)))
        ),
    );
  }

  #onlyNoun(draft) {
    return (
      draft.chosen.length > 0 &&
      draft.chosen.every(
        ([term, choices]) =>
          choices.length && this.#terms.get(choices[0].sense.term).class === "trade" && term.side === "back",
      )
    );
  }

  #usualOf(term) {
    const senses = this.#senses(term);
    if (!senses.length) return [];
    return greatest(senses, (sense) => sense.weight - 1000 * sense.when.length).roles;
  }

  /** The senses that state roles, of all terms with this form; each knows its term and how far that stands behind. */
  #senses(term, firm = false) {
    return term.refs.flatMap(([ref, behind]) =>
      this.#terms
        .get(ref)
        .senses.filter((sense) => sense.roles.length)
        .map((sense) => ({
          ...sense,
          term: ref,
          weight: sense.weight + behind + (firm && this.#ofMatrix(sense) ? this.#weights.get("firm-matrix") : 0),
        })),
    );
  }

  #ofMatrix(sense) {
    return sense.roles.every((role) => !this.#roles.has(role) || this.#stage(role) === "matrix");
  }

  #usual(clause) {
    return clause.terms.flatMap((term) => this.#usualOf(term));
  }

  #judge(draft, here, sameName, lettering, tokens) {
    if (!draft.clause.terms.length) {
      this.#judgeUnlabelled(draft, here);
      return;
    }
    for (const term of draft.clause.terms) {
      const own = this.#usualOf(term);
      const sameRoles = draft.clause.terms.length > 1 ? [...sameName].filter((role) => !own.includes(role)) : [];
      const local = { ...here, side: term.side, sameRoles: new Set(sameRoles), monogram: false };
      let senses = this.#senses(term, here.firm);
      const ofMatrix = senses.filter((sense) => this.#ofMatrix(sense)).length;
      if (term.side === "front" && ofMatrix > 0 && ofMatrix < senses.length) {
        const joined = this.#weights.get(term.agent ? "joined-matrix" : "bare-matrix");
        senses = senses.map((sense) => (this.#ofMatrix(sense) ? { ...sense, weight: sense.weight + joined } : sense));
      }
      if (this.#behindModel(term, tokens)) {
        senses = senses.map((sense) =>
          sense.roles.every((role) => this.#keptApart.has(role))
            ? { ...sense, weight: sense.weight + this.#weights.get("owner-after-model") }
            : sense,
        );
      }
      const choices = this.#fresh(choose(senses, local, this.#weights), draft);
      draft.chosen.push([term, choices]);
      if (!choices.length) continue;
      const sense = choices[0].sense;
      if (lettering.complete === "yes") {
        draft.implied.push(...sense.implies.filter((role) => !draft.implied.includes(role)));
      }
      draft.of = draft.of || sense.of || (this.#roles.get(sense.roles[0])?.of ?? null);
      const byRoles = new Map(); // the roles as one text -> [roles, share]
      const standing = shares(choices.map((choice) => choice.weight), this.#exp);
      choices.forEach((choice, index) => {
        const key = choice.sense.roles.join(" ");
        if (!byRoles.has(key)) byRoles.set(key, [choice.sense.roles, 0]);
        byRoles.get(key)[1] += standing[index];
      });
      draft.share = floorDivide(draft.share * byRoles.get(sense.roles.join(" "))[1], 1000);
      for (const [roles, share] of byRoles.values()) {
        if (!same(roles, sense.roles) && share > 0) draft.instead.push([roles, share]);
      }
    }
    this.#settle(draft);
  }

  /** Whether a term that announces a name follows close upon a word for a picture. */
  #behindModel(term, tokens) {
    if (term.side !== "front") return false;
    for (let index = Math.max(0, term.start - MODEL_WITHIN); index < term.start; index += 1) {
      if (this.#modelWords.has(tokens[index].full) && (tokens[index].gap !== "p" || index === term.start - 1)) return true;
    }
    return false;
  }

  /** The senses with one that says something new in front: two terms of one name seldom say the same. */
  #fresh(choices, draft) {
    const said = new Set();
    for (const [, before] of draft.chosen) if (before.length) for (const role of before[0].sense.roles) said.add(role);
    const nothingNew = (choice) => choice.sense.roles.every((role) => said.has(role));
    if (!choices.length || !said.size || !nothingNew(choices[0])) return choices;
    for (const choice of choices) {
      if (!nothingNew(choice) && choice.weight >= choices[0].weight - this.#weights.get("sense-fresh")) {
        return [choice, ...choices.filter((other) => other !== choice)];
      }
    }
    return choices;
  }

  /** Sets the roles of a draft from the senses chosen for its terms; a formula adds at most a technique. */
  #settle(draft) {
    let said = [];
    const told = [];
    for (const [, choices] of draft.chosen) {
      if (choices.length) (this.#modifies(choices[0].sense) ? told : said).push(...choices[0].sense.roles);
    }
    for (let index = 0; index + 1 < draft.chosen.length; index += 1) {
      const [before, sensesBefore] = draft.chosen[index];
      const [after, sensesAfter] = draft.chosen[index + 1];
      if (before.end === after.start && sensesBefore.length && sensesAfter.length) {
        // "auf Stein gez.": two words for one act
        const both = new Set([...sensesBefore[0].sense.roles, ...sensesAfter[0].sense.roles]);
        said = said.filter((role) => !both.has(role) || !both.has(this.#absorbed.get(role)));
      }
    }
    if (said.length) {
      const technique = told.filter((role) => this.#techniquesSaid.has(role));
      if (technique.length) said = [...said.filter((role) => this.#stage(role) !== "matrix"), ...technique];
    } else said = told;
    if (said.includes("dedicator") && draft.chosen.some(([, choices]) => choices[0]?.sense.term === HONOURS)) {
      said = said.filter((role) => role !== "dedicatee"); // honours that the giver takes to himself
    }
    if (this.#tooSlight(draft, said)) return;
    for (const role of said) {
      const reported = this.#roles.get(role)?.reported ?? role;
      if (!draft.roles.includes(reported)) draft.roles.push(reported);
      if (reported !== role && !draft.implied.includes(role)) draft.implied.push(role);
    }
  }

  /** Whether a lone word without forename or title is all there is to a party of a dedication that nothing announces. */
  #tooSlight(draft, roles) {
    const party = roles.every((role) => role === "dedicatee" || role === "dedicator");
    if (!roles.length || !party || draft.end - draft.start > 1) return false;
    if (draft.name.has("given", "initial", "honorific", "sameman", "firm", "mono")) return false;
    return draft.clause.terms.every((term) => term.side === "back" || term.refs[0][0] === HONOURS);
  }

  /** Whether a sense is a formula's that says how or from what, not who. */
  #modifies(sense) {
    const allowed = (role) => !this.#roles.has(role) || ["matrix", "conceiving"].includes(this.#stage(role));
    return this.#terms.get(sense.term).class === "formula" && sense.roles.every(allowed);
  }

  /** The terms of a clause without those whose maker is not named: in "engraved from the picture by A" nobody engraved. */
  #withoutUnnamed(terms) {
    for (let index = terms.length - 1; index > 0; index -= 1) {
      const term = terms[index];
      const entry = this.#terms.get(term.refs[0][0]);
      const source =
        (entry.class === "preposition" || entry.class === "formula") &&
        this.#usualOf(term).some((role) => this.#stage(role) === "conceiving");
      if (source && term.side === "front" && !term.agent && !terms[index - 1].agent) return terms.slice(index);
    }
    return terms;
  }

  /** A name without a term: its role by the first rule of place and company that holds. */
  #judgeUnlabelled(draft, here) {
    const local = {
      ...here,
      side: "none",
      placeNear: draft.clause.others.some((item) => ["place", "street", "office"].includes(item.label)),
      sameRoles: new Set(),
      monogram: draft.name.has("mono"),
    };
    for (const rule of this.#unlabelled) {
      if (rule.when.every(([kind, values]) => holds(kind, values, local))) {
        draft.roles = [...rule.roles];
        draft.rule = rule;
        draft.share = rule.share;
        draft.of = draft.roles.length ? (this.#roles.get(draft.roles[0])?.of ?? null) : null;
        return;
      }
    }
  }

  // --- the reading -----------------------------------------------------------------------------------

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
    kept.forEach((draft, index) => {
      const [text, line, span] = this.#slice(tokens, draft.start, draft.end, lines, draft.name);
      const certain = this.#certainty(draft, readings);
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
          same_as: this.#sameAs(draft, kept, index),
          maker: null,
          members: [],
          unknown: 1,
          candidates: [],
          confidence: confidence / 1000,
          doubtful: confidence < this.#weights.get("doubtful"),
          instead: sorted(draft.instead, ([roles, share]) => [-share, roles])
            .slice(0, 3)
            .map(([roles, share]) => ({ roles: [...roles], share: share / 1000 })),
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
    while (right < text.length && text[right] === "]" && count(text, "[", left, right) > count(text, "]", left, right)) {
      right += 1;
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

  #sameAs(draft, kept, index) {
    if (!draft.name.sameman) return null;
    for (let other = index - 1; other >= 0; other -= 1) {
      if (kept[other].roles.some((role) => this.#roles.get(role)?.makes)) return other;
    }
    return index ? index - 1 : null;
  }

  /** The share, in thousandths, of the segmentations that give this name these roles, times that of the chosen senses. */
  #certainty(draft, readings) {
    let total = 0;
    let agreed = 0;
    for (const [drafts, , weight] of readings) {
      total += weight;
      for (const other of drafts) {
        const roles = other.roles.filter((role) => !this.#keptApart.has(role));
        if (other.start < draft.end && draft.start < other.end && same(roles, draft.roles)) {
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
    const sources = [...all.keys()].filter((index) => all[index].of === "model" || all[index].of === "drawing");
    const drawings = sources.filter((index) => all[index].of === "drawing");
    all.forEach((statement, index) => {
      if (statement.of === "plate" && sources.length && !sources.includes(index)) {
        statement.after = (drawings.length ? drawings : sources).at(-1);
      }
    });
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
          format(this.#words.term, { text, form: entry.form, language: entry.language, role: role.join(", "), reason: sense.reason }),
        );
      }
      reasons.push(format(this.#words[term.side === "front" ? "before" : "behind"], { text }));
      for (const rule of term.respelt) {
        reasons.push(format(this.#words[rule === GUESSED ? "guessed" : "respelt"], { text, form: entry.form, rule }));
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
    for (const item of sorted(clauses.unread, (each) => each.start)) {
      if (run.length && (item.start !== run.at(-1) + 1 || tokens[item.start].line !== tokens[run.at(-1)].line)) {
        this.#unread(reading, run, tokens, lines);
        run = [];
      }
      for (let index = item.start; index < item.end; index += 1) run.push(index);
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

/** An ASCII letter in lower case, anything else a space: the technique field is the record's English. */
function foldWord(char) {
  if (char >= "A" && char <= "Z") return String.fromCharCode(char.charCodeAt(0) + 32);
  return char >= "a" && char <= "z" ? char : " ";
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
