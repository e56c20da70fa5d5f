// Answers to margent/lettering/lexicon.py: what each stretch of a lettering may be.

import { floorDivide, length, mapOf, points, sorted } from "./order.js";
import { GUESSED, SURE_LENGTH } from "./spelling.js";
import { CAPITALISED } from "./tokens.js";

/** Gaps over which two pieces may be one word. */
const JOINING = "gkhbw";

/** Labels of everyday words. */
const PLAIN = new Set(["agent", "conj", "particle", "prep", "subject"]);

/** A word of the list of at most so many letters is not met by doubling or undoubling letters. */
const SHORT = 5;

/** A capitalised word of at most so many letters is rather a surname than a term spelt in another way. */
const SURNAME = 6;
const DIGITS = "0123456789";

/** What speaks for the language that letterings are in where nothing tells; a telling word has 60 votes. */
const HOME_VOTES = 30;

/** Before the language of a plain word, in the place of a term's slug. */
export const LANGUAGE_MARK = "~";

/** Labels of forms that gain where the lettering is in their language. */
const SPEAKING = new Set(["front", "back", "notice", "agent", "office"]);

/** How forms are made that need no stop and no capital behind them. */
const SOUND = new Set(["whole", "variant"]);

/** Labels that count on a capital, or on more letters than one. */
const CAREFUL = new Set(["front", "given", "place", "honorific", "firm", "post", "kin"]);

/** Letters of a word joined from pieces at most. */
const JOINED_LENGTH = 24;

/** Letters of a raised ending at most. */
export const RAISED = 2;

/** A stretch of tokens [start, end) and one thing it may be. */
export class Item {
  constructor(start, end, label, weight, ref, others = [], respelt = []) {
    this.start = start;
    this.end = end;
    this.label = label;
    this.weight = weight;
    this.ref = ref;
    this.others = others;
    this.respelt = respelt;
  }
}

/** The compiled forms, found by longest and all shorter matches over word sequences. */
export class Lexicon {
  #forms = new Map(); // key -> what a form may be, label by label
  #weights;
  #terms;
  #home;
  #superlatives;
  #spelling;
  #prefixes = new Set();
  #courtesy;

  constructor(compiled, forms, spelling) {
    this.#weights = mapOf(compiled.grammar.lookup);
    this.#terms = mapOf(compiled.terms);
    this.#home = compiled.home;
    this.#superlatives = new Set(compiled.superlatives);
    this.#spelling = spelling;
    this.#courtesy = this.#meaning("dedicatory", new Map([["dedicatory", this.#weights.get("superlative")]]), [], []);
    const prepared = new Map(); // many forms share their rows
    for (const [key, rows] of forms) {
      if (!prepared.has(rows)) prepared.set(rows, this.#meanings(rows));
      this.#forms.set(key, prepared.get(rows));
      let at = key.indexOf(" ");
      while (at > 0) {
        this.#prefixes.add(key.slice(0, at));
        at = key.indexOf(" ", at + 1);
      }
    }
  }

  /** What the rows of a form say, label by label. */
  #meanings(rows) {
    const byLabel = new Map();
    for (const row of rows) byLabel.set(row[0], [...(byLabel.get(row[0]) ?? []), row]);
    return [...byLabel].map(([label, same]) => {
      if (same.length === 1) return this.#single(same[0]);
      const weights = new Map();
      for (const [, ref, weight] of same) weights.set(ref, Math.max(weight, weights.get(ref) ?? weight));
      return this.#meaning(label, weights, [...new Set(same.map((row) => row[3]))], same);
    });
  }

  /** What one row says; most forms are of one term under a label. */
  #single(row) {
    const [label, ref, weight, how] = row;
    return this.#meaning(label, new Map([[ref, weight]]), [how], [row]);
  }

  /** What a form may be under a label, from the weights of its terms; never changed once made. */
  #meaning(label, weights, hows, rows) {
    const ranked = sorted([...weights], bestFirst);
    const top = ranked[0][1];
    const languages = ranked.map(([ref]) => this.language(ref));
    return {
      label,
      refs: ranked.map(([ref, weight]) => [ref, weight - top]),
      top,
      languages,
      told: [...new Set(languages.filter((language) => language))],
      hows,
      rows,
    };
  }

  /** For each token, the items that begin with it; terms of the lettering's language stand a little higher. */
  items(tokens) {
    const meant = new Map();
    for (const { full } of tokens) if (!meant.has(full)) meant.set(full, this.#spelling.alternatives(full));
    const met = tokens.map((token, index) => this.#met(tokens, index, meant.get(token.full)));
    const found = tokens.map((_, index) => this.#from(tokens, met, index));
    const gains = this.#gains(found);
    return found.map((row, start) => row.map((entry) => this.#atHome(start, entry, gains)));
  }

  /** What a term gains by its language; a word of several languages speaks for each in part. */
  #gains(found) {
    const votes = new Map(this.#home.map((language) => [language, HOME_VOTES]));
    for (const row of found) {
      for (const { meaning } of row) {
        for (const language of meaning.told) {
          votes.set(language, (votes.get(language) ?? 0) + floorDivide(60, meaning.told.length));
        }
      }
    }
    let total = 0;
    for (const vote of votes.values()) total += vote;
    const gain = this.#weights.get("at-home");
    const gains = new Map();
    if (!total) return gains;
    for (const [language, vote] of votes) gains.set(language, floorDivide(gain * floorDivide(vote * 1000, total), 1000));
    return gains;
  }

  /** The language of a term or a telling word; empty for anything else. */
  language(ref) {
    if (ref.startsWith(LANGUAGE_MARK)) return ref.slice(1);
    return this.#terms.get(ref)?.language ?? "";
  }

  /** The item of an entry, its terms each gaining by its language's share and ranked anew. */
  #atHome(start, { after, meaning, weight, respelt }, gains) {
    let ranked = meaning.refs;
    if (SPEAKING.has(meaning.label)) {
      const gained = ranked.map(([ref, behind], index) => [ref, behind + (gains.get(meaning.languages[index]) ?? 0)]);
      ranked = sorted(gained, bestFirst);
    }
    const [ref, top] = ranked[0];
    const others = ranked.slice(1).map(([other, behind]) => [other, behind - top]);
    return new Item(start, after, meaning.label, weight + top, ref, others, respelt);
  }

  /** The words that may begin at a token: folded word, the token after it, its cost, the rules that respelt it. */
  #met(tokens, index, meant) {
    const token = tokens[index];
    let joined = token.full;
    let after = index + 1;
    const found = meant.map(([word, cost, rules]) => [word, after, cost, rules]);
    if (token.plain !== joined && length(token.plain) > 1) found.push([token.plain, after, 0, []]);
    if (after === tokens.length) return found;
    if (JOINING.includes(tokens[after].gap)) {
      while (after < tokens.length && JOINING.includes(tokens[after].gap) && length(joined) < JOINED_LENGTH) {
        const cost = this.#weights.get("join-" + tokens[after].gap);
        joined += tokens[after].full;
        after += 1;
        if (this.#spelling.isWord(joined)) found.push([joined, after, cost, []]);
      }
    } else if ("np".includes(tokens[after].gap) && tokens[after].shape === "l" && length(joined) >= 3) {
      joined += tokens[after].full;
      if (length(joined) >= 6 && this.#spelling.isWord(joined)) {
        found.push([joined, after + 1, this.#weights.get("join-line"), []]);
      }
    }
    return found;
  }

  /** All entries that begin at one token: items before the language of the lettering is known. */
  #from(tokens, met, start) {
    const found = [];
    const stack = [...met[start]];
    while (stack.length) {
      const [key, after, cost, rules] = stack.pop();
      for (const meaning of this.#forms.get(key) ?? []) {
        if (rules.length && notSoSpelt(key, meaning.label, rules)) continue;
        const spelt = rules.length ? cost + this.#respelt(tokens[start], key, meaning.label) : cost;
        found.push(this.#whereItStands(tokens, start, [key, after, spelt, rules], meaning));
      }
      if (this.#prefixes.has(key) && after < tokens.length) {
        const across = this.#weights.get("across-" + tokens[after].gap) ?? 0;
        for (const [word, end, more, changed] of met[after]) {
          stack.push([key + " " + word, end, cost + more + across, [...rules, ...changed]]);
        }
      }
    }
    if (
      start + 1 < tokens.length &&
      tokens[start + 1].gap === "k" &&
      this.#superlatives.has(tokens[start + 1].full) &&
      tokens[start].shape !== "i"
    ) {
      // Ossequ:mo, Col.ma: a superlative of courtesy, whatever the word
      this.#addCourtesy(found, start + 2);
    }
    return anyTwice(found) ? this.#joined(found) : found;
  }

  /** What it costs more that a word of few letters is met only by a spelling rule: Hale is no Halae, Graves no gravés. */
  #respelt(token, key, label) {
    if (label === "place" && length(key) <= SHORT) return this.#weights.get("respelt-place");
    const figures = points(token.full).some((char) => DIGITS.includes(char)); // a figure in a word is a slip of who copied it
    const term = (label === "front" || label === "back") && !figures;
    return term && token.shape === CAPITALISED && length(key) <= SURNAME ? this.#weights.get("respelt-capital") : 0;
  }

  /** Adds that the tokens up to `after` honour in a dedication, where no entry says so. */
  #addCourtesy(found, after) {
    const { label, refs, top } = this.#courtesy;
    const says = ([ref]) => ref === refs[0][0];
    const known = found.some((each) => each.after === after && each.meaning.label === label && each.meaning.refs.some(says));
    if (!known) found.push({ after, meaning: this.#courtesy, weight: top, respelt: [] });
  }

  /** The entry of a meaning, weighed by where it stands. */
  #whereItStands(tokens, start, [key, after, cost, rules], meaning) {
    const { label, hows, rows } = meaning;
    const costs = new Map(hows.map((how) => [how, this.#unmarked(tokens, start, after, key, label, how)]));
    const weights = new Map();
    for (const [, ref, weight, how] of rows) {
      const here = weight + costs.get(how);
      weights.set(ref, Math.max(here, weights.get(ref) ?? here));
    }
    const here = this.#meaning(label, weights, hows, rows);
    return { after, meaning: here, weight: here.top + cost, respelt: rules };
  }

  /** The entries, those of one label and one end made one. */
  #joined(entries) {
    const best = new Map();
    for (const entry of entries) {
      const name = `${entry.after} ${entry.meaning.label}`;
      if (!best.has(name)) best.set(name, []);
      best.get(name).push(entry);
    }
    return [...best.values()].map((each) => (each.length > 1 ? this.#one(each) : each[0]));
  }

  /** Several entries of one label and one end as one: of each term the weightiest counts, of equals the least respelt. */
  #one(entries) {
    const weights = new Map();
    const rules = new Map();
    for (const { meaning, weight: top, respelt } of entries) {
      for (const [ref, behind] of meaning.refs) {
        const weight = top + behind;
        const before = weights.get(ref);
        if (before === undefined || before < weight || (before === weight && respelt.length < rules.get(ref).length)) {
          weights.set(ref, weight);
          rules.set(ref, respelt);
        }
      }
    }
    const meaning = this.#meaning(entries[0].meaning.label, weights, [], []);
    return { after: entries[0].after, meaning, weight: meaning.top, respelt: rules.get(meaning.refs[0][0]) };
  }

  /** Whether a word is an everyday word as well. */
  #plain(key) {
    return (this.#forms.get(key) ?? []).some((meaning) => PLAIN.has(meaning.label));
  }

  /** What it costs that a short form lacks its stop, or that a phrase is broken by a sign. */
  #unmarked(tokens, start, after, key, label, how) {
    const letters = length(key);
    if (SOUND.has(how) && !CAREFUL.has(label) && letters > SURE_LENGTH) return 0;
    const first = tokens[start];
    const sided = label === "front" || label === "back";
    if (letters === 1 && first.shape === "i") {
      if (!sided) {
        if (PLAIN.has(label)) return this.#weights.get(first.stop ? "letter-stop" : "letter-plain");
        return this.#weights.get("letter-word");
      }
      if (after < tokens.length && "as".includes(tokens[after].gap) && "cai".includes(tokens[after].shape)) {
        return this.#weights.get("letter-then-capital");
      }
    }
    if (["given", "place", "honorific"].includes(label) && first.shape === "l") return this.#weights.get("lower-" + label);
    const last = tokens[after - 1];
    if (label === "conj" && last.stop && last.shape === CAPITALISED) return this.#weights.get("letter-stop"); // And. is Andreas
    if (label === "firm" && last.shape === "l" && length(last.full) === 1 && after - start <= 2) {
      return this.#weights.get("et-cetera");
    }
    const joined = ["firm", "post", "kin"].includes(label) && last.shape === "i" && after - start > 1;
    if ((label === "firm" && letters <= SURE_LENGTH) || (joined && first.shape === "x")) {
      return this.#company(tokens[after], letters);
    }
    if (how === "sign" && first.shape === "l") return this.#weights.get("lower-siglum");
    if (after < tokens.length) {
      const cost = this.#before(tokens[after], letters, label, how);
      if (cost) return cost;
    }
    const several = after - start > 1 && (how === "short" || how === "cut");
    return several ? 0 : this.#stops(last, letters, key, label, how);
  }

  /** What it costs a sign of company that it is a letter or two: "e A.", of a firm and of anything; "A. & C. Tobler". */
  #company(following, letters) {
    const goesOn = following !== undefined && "as".includes(following.gap) && "ca".includes(following.shape);
    return this.#weights.get(goesOn && letters <= SURE_LENGTH ? "sign-then-capital" : "letter-firm");
  }

  /** What it costs a form that the word behind it belongs with it or is no word to follow it. */
  #before(following, letters, label, how) {
    if (how === "sign" && letters <= 5) {
      const next = "as".includes(following.gap) && "ca".includes(following.shape) && !(label === "front" && letters > 2);
      if (next || (following.gap === "k" && following.shape === "i")) return this.#weights.get("sign-then-capital");
    }
    if (following.gap === "k" && following.shape === "l") {
      const sided = label === "front" || label === "back";
      if (sided && this.#superlatives.has(following.full)) return this.#weights.get("before-raised"); // Devotiss.mo is no devotiss.
      if (label === "given" && length(following.full) <= RAISED) return this.#weights.get("given-raised"); // Sig.r is no Sigismund
    }
    return 0;
  }

  /** What it costs a term that it has a stop and is whole, or has none and is cut short. */
  #stops(last, letters, key, label, how) {
    if (label !== "front" && label !== "back") return 0;
    if (label === "front" && how === "whole" && last.stop) {
      if (letters > SURE_LENGTH) return this.#weights.get("stopped-whole"); // "excudit. Tot Amsterdam by ...": a sentence ends
      if (this.#plain(key)) return this.#weights.get("stopped-plain");
    }
    if ((how === "short" || how === "cut") && !last.stop) {
      if (this.#plain(key)) return this.#weights.get(label === "back" ? "unstopped-plain" : "unstopped-plain-front");
      if (letters <= 3) return this.#weights.get(letters === 1 ? "unstopped-1" : letters === 2 ? "unstopped-2" : "unstopped-3");
    }
    return 0;
  }
}

/** Whether any two of some entries have one label and one end. */
function anyTwice(entries) {
  return new Set(entries.map(({ after, meaning }) => `${after} ${meaning.label}`)).size < entries.length;
}

/** Whether what was read is too far from a form: Parr is no spelling of par, Cort none of corrt, Js none of is, and no notice is guessed. */
function notSoSpelt(key, label, rules) {
  const letters = length(key);
  return (
    letters < SURE_LENGTH ||
    (label === "notice" && rules.includes(GUESSED)) ||
    ((PLAIN.has(label) || letters <= SHORT) && rules.some((rule) => rule.startsWith("double-")))
  );
}

/** The order of the terms of one form: the weightiest first, then by name. */
function bestFirst([ref, weight]) {
  return [-weight, ref];
}
