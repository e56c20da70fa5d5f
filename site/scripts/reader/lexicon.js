// Answers to margent/lettering/lexicon.py: what each stretch of a lettering may be.

import { floorDivide, length, mapOf, sorted } from "./order.js";
import { GUESSED, SURE_LENGTH } from "./spelling.js";

/** Gaps over which two pieces may be one word. */
const JOINING = "gkhbw";

/** Labels of everyday words. */
const PLAIN = new Set(["agent", "conj", "particle", "prep", "subject"]);

/** A word of the list of at most so many letters is not met by doubling or undoubling letters. */
const SHORT = 5;

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
const RAISED = 2;

/** A stretch of tokens [start, end) and one thing it may be; never changed once made. */
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
  #forms;
  #weights;
  #terms;
  #home;
  #superlatives;
  #spelling;
  #prefixes = new Set();

  constructor(compiled, forms, spelling) {
    this.#forms = forms;
    this.#weights = mapOf(compiled.grammar.lookup);
    this.#terms = mapOf(compiled.terms);
    this.#home = compiled.home;
    this.#superlatives = new Set(compiled.superlatives);
    this.#spelling = spelling;
    for (const key of forms.keys()) {
      let at = key.indexOf(" ");
      while (at > 0) {
        this.#prefixes.add(key.slice(0, at));
        at = key.indexOf(" ", at + 1);
      }
    }
  }

  /** Whether the folded word stands in the list by itself. */
  known(word) {
    return this.#forms.has(word);
  }

  /** What a folded key may be: rows of label, reference, weight and how the form was made. */
  sensesOf(key) {
    return this.#forms.get(key) ?? [];
  }

  /** For each token, the items that begin with it; terms of the lettering's language stand a little higher. */
  items(tokens) {
    const meant = new Map();
    for (const { full } of tokens) if (!meant.has(full)) meant.set(full, this.#spelling.alternatives(full));
    const spellings = tokens.map((_, index) => this.#spellings(tokens, index, meant));
    const found = tokens.map((_, index) => this.#from(tokens, spellings, index));
    const languages = this.#languages(found);
    return found.map((row, start) => row.map((entry) => this.#atHome(start, entry, languages)));
  }

  /** How much each language speaks in a lettering, in thousandths. */
  #languages(found) {
    const votes = new Map(this.#home.map((language) => [language, HOME_VOTES]));
    for (const row of found) {
      for (const { refs } of row) {
        const speaking = new Set(refs.map(([ref]) => this.language(ref)));
        speaking.delete("");
        for (const language of speaking) {
          votes.set(language, (votes.get(language) ?? 0) + floorDivide(60, speaking.size));
        }
      }
    }
    let total = 0;
    for (const vote of votes.values()) total += vote;
    const shares = new Map();
    if (total) for (const [language, vote] of votes) shares.set(language, floorDivide(vote * 1000, total));
    return shares;
  }

  /** The language of a term or a telling word; empty for anything else. */
  language(ref) {
    if (ref.startsWith(LANGUAGE_MARK)) return ref.slice(1);
    return this.#terms.get(ref)?.language ?? "";
  }

  /** The item of an entry, its terms each gaining by its language's share and ranked anew. */
  #atHome(start, { after, label, refs, weight, respelt }, languages) {
    let ranked = refs;
    if (SPEAKING.has(label)) {
      const gain = this.#weights.get("at-home");
      const share = (ref) => floorDivide(gain * (languages.get(this.language(ref)) ?? 0), 1000);
      ranked = sorted(refs.map(([ref, behind]) => [ref, behind + share(ref)]), bestFirst);
    }
    const [ref, top] = ranked[0];
    const others = ranked.slice(1).map(([other, behind]) => [other, behind - top]);
    return new Item(start, after, label, weight + top, ref, others, respelt);
  }

  /** The words that may begin at a token: folded word, the token after it, its cost, the rules that respelt it. */
  #spellings(tokens, index, meant) {
    const token = tokens[index];
    const found = [];
    for (const [word, cost, rules] of meant.get(token.full)) found.push([word, index + 1, cost, rules]);
    if (length(token.plain) > 1 && token.plain !== token.full) found.push([token.plain, index + 1, 0, []]);
    let joined = token.full;
    let after = index + 1;
    while (after < tokens.length && JOINING.includes(tokens[after].gap) && length(joined) < JOINED_LENGTH) {
      const cost = this.#weights.get("join-" + tokens[after].gap);
      joined += tokens[after].full;
      after += 1;
      if (this.#spelling.isWord(joined)) found.push([joined, after, cost, []]);
    }
    if (
      after === index + 1 &&
      after < tokens.length &&
      "np".includes(tokens[after].gap) &&
      tokens[after].shape === "l" &&
      length(joined) >= 3
    ) {
      const whole = joined + tokens[after].full;
      if (length(whole) >= 6 && this.#spelling.isWord(whole)) {
        found.push([whole, after + 1, this.#weights.get("join-line"), []]);
      }
    }
    return found;
  }

  /** All entries that begin at one token: items before the language of the lettering is known. */
  #from(tokens, spellings, start) {
    const best = new Map(); // "after label" -> { after, label, refs }
    const slot = (after, label) => {
      const name = `${after} ${label}`;
      if (!best.has(name)) best.set(name, { after, label, refs: new Map() });
      return best.get(name).refs;
    };
    const stack = [...spellings[start]];
    while (stack.length) {
      const [key, after, cost, rules] = stack.pop();
      const letters = length(key);
      for (const [label, ref, weight, how] of this.#forms.get(key) ?? []) {
        if (
          rules.length &&
          (letters < SURE_LENGTH ||
            (label === "notice" && rules.includes(GUESSED)) ||
            ((PLAIN.has(label) || letters <= SHORT) && rules.some((rule) => rule.startsWith("double-"))))
        ) {
          continue; // Parr is no spelling of par, Cort none of corrt, Js none of is, and no notice is guessed
        }
        const careful = !SOUND.has(how) || CAREFUL.has(label) || letters <= SURE_LENGTH;
        const respelt = rules.length && label === "place" && letters <= SHORT ? this.#weights.get("respelt-place") : 0;
        const unmarked = careful ? this.#unmarked(tokens, start, after, key, label, how) : 0;
        const total = weight + cost + respelt + unmarked;
        const refs = slot(after, label);
        const before = refs.get(ref);
        const better = !before || before[0] < total || (before[0] === total && rules.length < before[1].length);
        if (better) refs.set(ref, [total, rules]);
      }
      if (this.#prefixes.has(key) && after < tokens.length) {
        const across = this.#weights.get("across-" + tokens[after].gap) ?? 0;
        for (const [word, end, more, changed] of spellings[after]) {
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
      const refs = slot(start + 2, "dedicatory");
      if (!refs.has("dedicatory")) refs.set("dedicatory", [this.#weights.get("superlative"), []]);
    }
    const found = [];
    for (const { after, label, refs } of best.values()) {
      const ranked = sorted([...refs].map(([ref, [total]]) => [ref, total]), bestFirst);
      const [ref, top] = ranked[0];
      const behind = ranked.map(([each, total]) => [each, total - top]);
      found.push({ after, label, refs: behind, weight: top, respelt: refs.get(ref)[1] });
    }
    return found;
  }

  /** Whether a word is an everyday word as well. */
  #plain(key) {
    return this.sensesOf(key).some((row) => PLAIN.has(row[0]));
  }

  /** What it costs that a short form lacks its stop, or that a phrase is broken by a sign. */
  #unmarked(tokens, start, after, key, label, how) {
    const letters = length(key);
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

/** The order of the terms of one form: the weightiest first, then by name. */
function bestFirst([ref, weight]) {
  return [-weight, ref];
}
