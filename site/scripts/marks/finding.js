// Answers to margent/names/marks.py: which marks fit what was seen, by the same weights and told in the same words.

import { years } from "../reader/edtf.js";
import { UNREAD, compared, lettersOf } from "./letters.js";
import { MarkWords, weighty } from "./words.js";

const EARLIEST = 1;
const LATEST = 9999;
const NEAR = 15;

/** The marks, ready to be looked up: `data` and `devices` as published, and the rows by which marks are compared, in their order. */
export class Marks {
  #rows;
  #devices;
  #arrangements;
  #weights;
  #terms;

  constructor(data, devices, rows) {
    this.#rows = rows;
    this.#devices = new MarkWords(devices);
    this.#arrangements = new MarkWords(data.arrangements);
    this.#weights = new Map(Object.entries(data.weights));
    this.#terms = new Map(Object.entries(data.terms));
  }

  /** The numbers of the marks that fit, the best first, each with its weight and the reasons; throws RangeError where the date is none. */
  find({ letters, device, arrangement, date }) {
    const read = lettersOf(letters);
    const devices = this.#devices.asked(device);
    const arrangements = this.#arrangements.asked(arrangement);
    const span = date ? years(date) : null;
    const found = [];
    for (const [number, mark] of this.#rows.entries()) {
      if (!this.#hasSomething(mark, read, devices, arrangements)) continue;
      const reasons = [...this.#reasons(mark, read, devices, arrangements, span)];
      const weight = reasons.reduce((sum, reason) => sum + reason.weight, 0);
      if (weight > 0) found.push({ number, weight, because: reasons.map((reason) => reason.wording).filter((text) => text) });
    }
    return found.sort((one, other) => other.weight - one.weight); // equal ones stay in the order of their IRIs
  }

  #hasSomething(mark, read, devices, arrangements) {
    if (read.some((letter) => letter !== UNREAD && (mark.letters ?? "").includes(letter))) return true;
    if (devices.some((asked) => this.#device(mark, asked).weight > 0)) return true;
    return !read.length && !devices.length && arrangements.length > 0;
  }

  *#reasons(mark, read, devices, arrangements, span) {
    if (read.length) yield* this.#byLetters(mark, read);
    for (const asked of devices) yield this.#device(mark, asked);
    for (const asked of arrangements) if (asked.entries.length && mark.arrangements) yield this.#arrangement(mark, asked);
    if (span && mark.period) yield this.#byDate(mark.period, span);
  }

  *#byLetters(mark, read) {
    if (!mark.letters) {
      yield this.#told("mark-letters-none");
      return;
    }
    const fit = compared(read, Array.from(mark.letters));
    if (fit.alike) {
      yield this.#told("mark-letter", fit.alike, { letters: mark.written });
      if (!fit.inOrder) yield this.#told("mark-letter-order");
    }
    if (fit.missing.length) yield this.#told("mark-letter-missing", fit.missing.length, { letters: fit.missing.join(" and ") });
    if (fit.extra.length) yield this.#extra(read, fit);
  }

  /** What the letters that are too many weigh: little, where they stand last and may be a term. */
  #extra(read, fit) {
    const behind = read.slice(-fit.extra.length).join("");
    const term = fit.inOrder && fit.alike && behind === fit.extra.join("") ? this.#terms.get(behind) : undefined;
    if (term) return this.#told("mark-letter-term", 1, { letters: behind, term });
    const known = fit.extra.filter((letter) => letter !== UNREAD);
    const letters = (known.length ? known : ["a letter that was not read"]).join(" and ");
    return this.#told("mark-letter-extra", fit.extra.length, { letters });
  }

  #device(mark, asked) {
    const words = this.#devices;
    const shown = mark.devices ?? [];
    if (!asked.entries.length) {
      const met = weighty(asked.said.split(" ")).some((word) => mark.words?.includes(word));
      return this.#told(met ? "mark-device-word" : "mark-device-other", 1, { device: asked.said });
    }
    const same = asked.entries.filter((slug) => shown.includes(slug));
    if (same.length) return this.#told("mark-device", 1, { device: words.label(same[0]) });
    const device = words.label(asked.entries[0]);
    for (const slug of shown) {
      const broader = words.broader(slug);
      if (asked.entries.some((each) => broader.has(each))) return this.#told("mark-device-narrower", 1, { shown: words.label(slug), device });
    }
    const around = new Set(asked.entries.flatMap((slug) => [...words.broader(slug)]));
    const broad = shown.find((slug) => around.has(slug));
    return broad ? this.#told("mark-device-broader", 1, { shown: words.label(broad), device }) : this.#told("mark-device-other", 1, { device });
  }

  #arrangement(mark, asked) {
    const words = this.#arrangements;
    const same = asked.entries.filter((slug) => mark.arrangements.includes(slug));
    if (same.length) return this.#told("mark-arrangement", 1, { arrangement: words.label(same[0]) });
    const arrangement = words.label(asked.entries[0]);
    const around = new Set(asked.entries.flatMap((slug) => [...words.broader(slug)]));
    for (const slug of mark.arrangements) {
      const broader = words.broader(slug);
      if (around.has(slug) || asked.entries.some((each) => broader.has(each))) {
        return this.#told("mark-arrangement-near", 1, { shown: words.label(slug), arrangement });
      }
    }
    return this.#told("mark-arrangement-other", 1, { arrangement });
  }

  #byDate([first, last], [from, to]) {
    const period = spanOf(first, last);
    const gap = Math.max(from - last, first - to, 0);
    if (!gap) return this.#told("mark-date-fit", 1, { period });
    if (gap <= NEAR) return this.#told("mark-date-near", 1, { period, gap, years: gap === 1 ? "year" : "years" });
    return this.#told("mark-date-far", 1, { period, gap });
  }

  #told(key, times = 1, blanks = {}) {
    const [weight, wording] = this.#weights.get(key);
    return { weight: weight * times, wording: wording.replace(/\{(\w+)\}/g, (_, name) => blanks[name]) };
  }
}

function spanOf(first, last) {
  if (first <= EARLIEST) return `until ${last}`;
  if (last >= LATEST) return `from ${first}`;
  return first === last ? String(first) : `${first} to ${last}`;
}
