// Answers to margent/lettering/judging.py: what each clause of a lettering states.

import { edges, firstToken, joinFirms } from "./clauses.js";
import { Houses } from "./houses.js";
import { floorDivide, mapOf, same } from "./order.js";
import { Participles } from "./participles.js";
import { Parties } from "./parties.js";
import { HONOURS, Senses, choose, holds } from "./senses.js";
import { shares } from "./weights.js";

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
  #techniques;
  #mapwords;
  #techniquesSaid;
  #modelWords;
  #absorbed;
  #keptApart;
  #senses;
  #participles;
  #houses;
  #parties;

  constructor(compiled) {
    this.#terms = mapOf(compiled.terms);
    this.#roles = mapOf(compiled.roles);
    this.#weights = mapOf(compiled.grammar.lookup);
    this.#firms = compiled.firms;
    this.#unlabelled = compiled.unlabelled;
    this.#exp = compiled.exp;
    this.#techniques = mapOf(compiled.techniques);
    this.#mapwords = new Set(compiled.mapwords);
    this.#techniquesSaid = new Set(compiled["technique-roles"]);
    this.#modelWords = new Set(compiled.modelwords);
    this.#absorbed = mapOf(compiled.absorbed);
    this.#keptApart = new Set(compiled["kept-apart"]);
    this.#senses = new Senses(compiled);
    this.#participles = new Participles(compiled, this.#senses);
    this.#houses = new Houses(compiled);
    this.#parties = new Parties(compiled, this.#senses);
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

  /** The years of the record, or closer ones that the lettering names. */
  #years(lettering, clauses) {
    const [first, last] = lettering.years ?? [0, 9999];
    const years = [...clauses.loose, ...clauses.clauses.flatMap((clause) => clause.others)]
      .filter((item) => item.label === "date" && item.ref)
      .map((item) => Number(item.ref.slice(0, 4)))
      .filter((year) => first <= year && year <= last);
    return years.length ? [Math.min(...years), Math.max(...years)] : lettering.years;
  }

  /** The stage of a role; undefined for a role that the vocabulary lacks. */
  #stage(role) {
    return this.#roles.get(role)?.stage;
  }

  // --- drafts ----------------------------------------------------------------------------------------

  /** The statements of one segmentation, with roles. */
  drafts(clauses, tokens, lettering) {
    this.#parties.settle(clauses, tokens);
    this.#participles.settle(clauses, tokens);
    for (const clause of clauses.clauses) {
      this.#houses.settle(clause, tokens);
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
    const usual = new Map(clauses.clauses.map((clause) => [clause, new Set(this.#usual(clause))]));
    const first = drafts.map((draft) => usual.get(draft.clause));
    const saidBy = new Map();
    for (const roles of first) for (const role of roles) saidBy.set(role, (saidBy.get(role) ?? 0) + 1);
    if (!techniques.size && saidBy.has("lithographer")) techniques = new Set(["lithography"]);
    const nameless = this.#withoutName(clauses).flatMap((refs) => this.#senses.usual(refs));
    if (nameless.includes("dedicatee")) nameless.push("dedicator"); // "dedicato al merito di ...": somebody dedicates
    const townsBefore = new Set();
    for (const item of [...clauses.loose, ...clauses.clauses.flatMap((clause) => clause.others)]) {
      if (item.label === "place") townsBefore.add(item.end);
    }
    const byPlace = new Set();
    drafts.forEach((draft, index) => {
      const line = lettering.lines[tokens[draft.start].line];
      const others = new Set();
      for (const [role, times] of saidBy) if (times > (first[index].has(role) ? 1 : 0)) others.add(role);
      for (const role of nameless) others.add(role);
      if (!draft.clause.terms.length) for (const role of byPlace) others.add(role);
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
      if (!draft.clause.terms.length) for (const role of draft.roles) byPlace.add(role);
    });
    return this.#withoutDescribed(drafts);
  }

  /** The terms that say a role of nobody named: those that found no name, and notices that may be terms as well (D.D.D.). */
  #withoutName(clauses) {
    const notices = clauses.loose.filter((item) => item.label === "notice");
    return [...clauses.nameless.map((term) => term.refs), ...notices.map((item) => [[item.ref, 0], ...item.others])];
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

  #usual(clause) {
    return clause.terms.flatMap((term) => this.#senses.usual(term.refs));
  }

  #judge(draft, here, sameName, lettering, tokens) {
    if (!draft.clause.terms.length) {
      this.#judgeUnlabelled(draft, here);
      return;
    }
    const said = new Set();
    for (const term of draft.clause.terms) {
      const own = this.#senses.usual(term.refs);
      const sameRoles = draft.clause.terms.length > 1 ? [...sameName].filter((role) => !own.includes(role)) : [];
      const local = { ...here, side: term.side, sameRoles: new Set(sameRoles), monogram: false };
      let senses = this.#senses.weighed(term.refs, here.firm);
      const ofMatrix = senses.filter(([sense]) => sense.ofMatrix).length;
      if (term.side === "front" && ofMatrix > 0 && ofMatrix < senses.length) {
        const told = senses.some(
          ([sense]) => !sense.ofMatrix && sense.roles.every((role) => here.otherRoles.has(role)),
        );
        const joined = this.#weights.get(term.agent || told ? "joined-matrix" : "bare-matrix");
        senses = senses.map(([sense, weight]) => [sense, sense.ofMatrix ? weight + joined : weight]);
      }
      if (this.#behindModel(term, tokens)) {
        const more = this.#weights.get("owner-after-model");
        senses = senses.map(([sense, weight]) => [
          sense,
          sense.roles.every((role) => this.#keptApart.has(role)) ? weight + more : weight,
        ]);
      }
      const choices = this.#fresh(choose(senses, local, this.#weights), said);
      draft.chosen.push([term, choices]);
      if (!choices.length) continue;
      const sense = choices[0].sense;
      for (const role of sense.roles) said.add(role);
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
  #fresh(choices, said) {
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
    const absorbed = new Set();
    let said = [];
    const told = [];
    const chosen = this.#withoutCallings(draft.chosen);
    for (const [, choices] of chosen) {
      if (choices.length) (this.#modifies(choices[0].sense) ? told : said).push(...choices[0].sense.roles);
    }
    for (let index = 0; index + 1 < chosen.length; index += 1) {
      const [before, sensesBefore] = chosen[index];
      const [after, sensesAfter] = chosen[index + 1];
      if (before.end === after.start && sensesBefore.length && sensesAfter.length) {
        // "auf Stein gez.": two words for one act
        const both = new Set([...sensesBefore[0].sense.roles, ...sensesAfter[0].sense.roles]);
        for (const role of both) if (both.has(this.#absorbed.get(role))) absorbed.add(role);
      }
    }
    said = said.filter((role) => !absorbed.has(role));
    if (said.length) {
      const technique = told.filter((role) => this.#techniquesSaid.has(role));
      if (technique.length) said = [...said.filter((role) => this.#stage(role) !== "matrix"), ...technique];
    } else said = told;
    if (said.includes("dedicator") && chosen.some(([, choices]) => choices[0]?.sense.term === HONOURS)) {
      said = said.filter((role) => role !== "dedicatee"); // honours that the giver takes to himself
    }
    if (this.#tooSlight(draft, said)) return;
    for (const role of said) {
      const reported = this.#roles.get(role)?.reported ?? role;
      if (!draft.roles.includes(reported)) draft.roles.push(reported);
      if (reported !== role && !draft.implied.includes(role)) draft.implied.push(role);
    }
  }

  /** The terms without trade nouns that only describe a person whose verb follows at once: "A. architect drew". */
  #withoutCallings(chosen) {
    return chosen.filter(([term, choices], index) => {
      if (term.side !== "back" || !this.#isTrade(term, choices) || index + 1 >= chosen.length) return true;
      const after = chosen[index + 1];
      return after[0].start !== term.end || this.#isTrade(...after);
    });
  }

  #isTrade(term, choices) {
    const ref = choices.length ? choices[0].sense.term : term.refs[0][0];
    return this.#terms.get(ref).class === "trade";
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
}

/** An ASCII letter in lower case, anything else a space: the technique field is the record's English. */
function foldWord(char) {
  if (char >= "A" && char <= "Z") return String.fromCharCode(char.charCodeAt(0) + 32);
  return char >= "a" && char <= "z" ? char : " ";
}
