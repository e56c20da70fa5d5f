// What must be so before an entry is worth sending: the rules of the shapes that somebody filling in a form can break.

import { years } from "../reader/edtf.js";

/** Collects what is wrong: the name of a field, and the name of the text that says it. */
export class Checks {
  found = [];

  wrong(field, text, values = {}) {
    this.found.push({ field, text, values });
  }

  /** The value, after noting where it is lacking. */
  needed(field, value) {
    if (!value) this.wrong(field, "suggest-lacking");
    return value;
  }

  /** Notes a date that is no EDTF. */
  date(field, value) {
    if (!value) return;
    try {
      years(value);
    } catch {
      this.wrong(field, "suggest-date");
    }
  }

  /** On whose word it stands: a passage of a source needs its place in the work. */
  standing(values) {
    if (values.standing !== "cited") return;
    this.needed("source", values.source);
    this.needed("locator", values.locator);
  }
}
