// Answers to margent/lettering/judging.py: what each clause of a lettering states.

import { edges, firstToken, joinFirms } from "./clauses.js";
import { Houses } from "./houses.js";
import { floorDivide, mapOf, same } from "./order.js";
import { Participles } from "./participles.js";
import { Parties } from "./parties.js";
import { HONOURS, Senses, choose, holds } from "./senses.js";
import { shares } from "./weights.js";

/** How many tokens before an address a word for a picture may stand. */
const ADDRESS = 3;

/** Gaps before the head of a line. */
const HEADS = "^nbep";

/** How near a word for a picture stands to the term that follows it. */
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

  /** What is the same for all segmentations of a lettering. */
  sheet(tokens, lettering) {
    const technique = lettering.technique ?? "";
    const onMap = technique.includes("map") || tokens.some((token) => this.#mapwords.has(token.full));
    return { tokens, lettering, techniques: this.#technique(technique), onMap };
  }

  #technique(technique) {
    let folded = "";
    for (const char of technique) folded += foldWord(char);
    const told = folded.split(" ").filter((word) => this.#techniques.has(word));
    return new Set(told.map((word) => this.#techniques.get(word)));
  }

  /** The years of the record, or closer ones that the lettering names. */
  #years(lettering, others) {
    const [first, last] = lettering.years ?? [0, 9999];
    const years = others.filter((item) => item.label === "date" && item.ref).map((item) => Number(item.ref.slice(0, 4)));
    const closer = years.filter((year) => first <= year && year <= last);
    return closer.length ? [Math.min(...closer), Math.max(...closer)] : lettering.years;
  }

  /** The stage of a role; undefined for a role that the vocabulary lacks. */
  #stage(role) {
    return this.#roles.get(role)?.stage;
  }

  // --- drafts ----------------------------------------------------------------------------------------

  /** The statements of one segmentation, with roles. */
  drafts(clauses, sheet) {
    const { tokens, lettering } = sheet;
    this.#parties.settle(clauses, tokens);
    this.#participles.settle(clauses, tokens);
    const drafts = [];
    const first = [];
    const saidBy = new Map();
    const others = [...clauses.loose];
    for (const clause of clauses.clauses) {
      this.#houses.settle(clause, tokens);
      const usual = this.#usual(clause);
      const stages = usual.filter((role) => this.#roles.has(role)).map((role) => this.#stage(role));
      joinFirms(clause, usual, stages, this.#firms);
      const said = new Set(usual);
      for (const name of clause.names) {
        drafts.push(new Draft(name, clause, ...edges(name, tokens)));
        first.push(said);
        for (const role of said) saidBy.set(role, (saidBy.get(role) ?? 0) + 1);
      }
      others.push(...clause.others);
    }
    let { techniques } = sheet;
    if (!techniques.size && saidBy.has("lithographer")) techniques = new Set(["lithography"]);
    const nameless = this.#withoutName(clauses).flatMap((refs) => this.#senses.usual(refs));
    const addressed = clauses.clauses.some((clause) => this.#addresses(clause, tokens));
    if (nameless.includes("dedicatee") || addressed) nameless.push("dedicator"); // somebody dedicates, though nobody signs
    const years = this.#years(lettering, others);
    const townsBefore = new Set(others.filter((item) => item.label === "place").map((item) => item.end));
    const byPlace = new Set();
    drafts.forEach((draft, index) => {
      const { clause } = draft;
      const line = lettering.lines[tokens[draft.start].line];
      const beside = new Set(nameless);
      for (const [role, times] of saidBy) if (times > 1 || !first[index].has(role)) beside.add(role);
      if (!clause.terms.length) for (const role of byPlace) beside.add(role);
      const here = {
        side: "back",
        firm: draft.name.has("firm"),
        placeNear: anyUnder(clause.others, ["place"]) || townsBefore.has(firstToken(clause)),
        sheetPlace: line.place,
        pencil: line.how === "pencil",
        onMap: sheet.onMap,
        sameRoles: new Set(),
        otherRoles: beside,
        alone: ![...beside].some((role) => this.#roles.get(role)?.makes),
        techniques,
        years,
        monogram: false,
      };
      if (clause.terms.length) this.#judge(draft, here, first[index], sheet);
      else {
        this.#judgeUnlabelled(draft, here);
        for (const role of draft.roles) byPlace.add(role);
      }
    });
    return this.#withoutDescribed(drafts);
  }

  /** Whether honours of several words at the head of a line address somebody: that is a dedication, whoever gives it. */
  #addresses(clause, tokens) {
    return clause.terms.some(
      ({ refs, side, start, end }) =>
        refs[0][0] === HONOURS && side === "front" && end - start >= ADDRESS && HEADS.includes(tokens[start].gap),
    );
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

  #judge(draft, here, sameName, sheet) {
    const said = new Set();
    const { terms } = draft.clause;
    for (const term of terms) {
      here.side = term.side;
      if (terms.length > 1) {
        const own = this.#senses.usual(term.refs);
        here.sameRoles = new Set([...sameName].filter((role) => !own.includes(role)));
      }
      let choices = choose(this.#weighed(term, here, sheet.tokens), here, this.#weights);
      if (said.size) choices = this.#fresh(choices, said);
      draft.chosen.push([term, choices]);
      if (!choices.length) continue;
      const { sense } = choices[0];
      for (const role of sense.roles) said.add(role);
      if (sheet.lettering.complete === "yes") {
        draft.implied.push(...sense.implies.filter((role) => !draft.implied.includes(role)));
      }
      draft.of = draft.of || sense.of || this.#of(sense.roles);
    }
    this.#settle(draft);
  }

  /** What the first of some roles is work on. */
  #of(roles) {
    return this.#roles.get(roles[0])?.of ?? null;
  }

  /** The senses of a term with what they weigh where it stands, before their conditions are asked. */
  #weighed(term, here, tokens) {
    const weighed = this.#senses.weighed(term.refs, here.firm);
    if (term.side !== "front") return weighed;
    const ofMatrix = weighed.filter(({ sense }) => sense.ofMatrix);
    if (ofMatrix.length > 0 && ofMatrix.length < weighed.length) {
      const toldElsewhere = ({ sense }) => !sense.ofMatrix && sense.roles.every((role) => here.otherRoles.has(role));
      const joined = term.agent || weighed.some(toldElsewhere) ? "joined-matrix" : "bare-matrix";
      for (const choice of ofMatrix) choice.weight += this.#weights.get(joined);
    }
    if (this.#behindModel(term, tokens)) {
      for (const choice of weighed) {
        if (choice.sense.roles.every((role) => this.#keptApart.has(role))) {
          choice.weight += this.#weights.get("owner-after-model");
        }
      }
    }
    return weighed;
  }

  /** Sets of each draft how sure its chosen senses are among all that may hold, and what else they may say. */
  weigh(drafts) {
    for (const draft of drafts) {
      for (const [, choices] of draft.chosen) {
        if (choices.length < 2) continue;
        const byRoles = new Map(); // the roles as one text -> [roles, share]
        const standing = shares(choices.map((choice) => choice.weight), this.#exp);
        choices.forEach(({ sense }, index) => {
          const key = sense.roles.join(" ");
          if (!byRoles.has(key)) byRoles.set(key, [sense.roles, 0]);
          byRoles.get(key)[1] += standing[index];
        });
        const chosen = choices[0].sense.roles;
        draft.share = floorDivide(draft.share * byRoles.get(chosen.join(" "))[1], 1000);
        for (const [roles, share] of byRoles.values()) {
          if (share > 0 && !same(roles, chosen)) draft.instead.push([roles, share]);
        }
      }
    }
  }

  /** Whether a term that announces a name follows close upon a word for a picture. */
  #behindModel(term, tokens) {
    for (let index = Math.max(0, term.start - MODEL_WITHIN); index < term.start; index += 1) {
      if (this.#modelWords.has(tokens[index].full) && (tokens[index].gap !== "p" || index === term.start - 1)) return true;
    }
    return false;
  }

  /** The senses with one that says something new in front: two terms of one name seldom say the same. */
  #fresh(choices, said) {
    const nothingNew = (choice) => choice.sense.roles.every((role) => said.has(role));
    if (!choices.length || !nothingNew(choices[0])) return choices;
    for (const choice of choices) {
      if (!nothingNew(choice) && choice.weight >= choices[0].weight - this.#weights.get("sense-fresh")) {
        return [choice, ...choices.filter((other) => other !== choice)];
      }
    }
    return choices;
  }

  /** Sets the roles of a draft from the senses chosen for its terms; a formula adds at most a technique. */
  #settle(draft) {
    const chosen = this.#withoutCallings(draft.chosen);
    let said = this.#together(chosen);
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

  /** The roles that several terms of one name say together. */
  #together(chosen) {
    const said = [];
    const told = [];
    for (const [, choices] of chosen) {
      if (choices.length) (this.#modifies(choices[0].sense) ? told : said).push(...choices[0].sense.roles);
    }
    const absorbed = new Set();
    for (let index = 0; index + 1 < chosen.length; index += 1) {
      const [before, sensesBefore] = chosen[index];
      const [after, sensesAfter] = chosen[index + 1];
      if (before.end === after.start && sensesBefore.length && sensesAfter.length) {
        // "auf Stein gez.": two words for one act
        const both = new Set([...sensesBefore[0].sense.roles, ...sensesAfter[0].sense.roles]);
        for (const role of both) if (both.has(this.#absorbed.get(role))) absorbed.add(role);
      }
    }
    const left = said.filter((role) => !absorbed.has(role));
    if (!left.length) return told;
    const technique = told.filter((role) => this.#techniquesSaid.has(role));
    return technique.length ? [...left.filter((role) => this.#stage(role) !== "matrix"), ...technique] : left;
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
    here.side = "none";
    here.placeNear = anyUnder(draft.clause.others, ["place", "street", "office"]);
    here.monogram = draft.name.has("mono");
    for (const rule of this.#unlabelled) {
      if (rule.when.every(([kind, values]) => holds(kind, values, here))) {
        draft.roles = [...rule.roles];
        draft.rule = rule;
        draft.share = rule.share;
        draft.of = this.#of(draft.roles);
        return;
      }
    }
  }
}

/** Whether any of some items stands under one of the labels. */
function anyUnder(items, labels) {
  return items.some((item) => labels.includes(item.label));
}

/** An ASCII letter in lower case, anything else a space: the technique field is the record's English. */
function foldWord(char) {
  if (char >= "A" && char <= "Z") return String.fromCharCode(char.charCodeAt(0) + 32);
  return char >= "a" && char <= "z" ? char : " ";
}
