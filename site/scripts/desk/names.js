// How roles, notices and places are called in the language of the page, and where their pages lie.

import { make } from "../page/make.js";
import { LANGUAGE } from "../page/texts.js";

/** The labels of data/labels.js; `tree` is the address of the root of the page's language. */
export class Names {
  #labels;
  #tree;

  constructor(labels, tree) {
    this.#labels = labels;
    this.#tree = tree;
  }

  /** What the entry is called: `kind` is role, notice or place, `slug` the last part of its IRI. */
  label(kind, slug) {
    const own = this.#own(kind, slug);
    return own?.[LANGUAGE] ?? own?.en ?? slug;
  }

  /** A link to the page of the entry, or its bare name where there is none. */
  link(kind, slug, attributes = {}) {
    const own = this.#own(kind, slug);
    if (!own) return slug;
    const lang = own[LANGUAGE] || LANGUAGE === "en" ? null : "en";
    return make("a", { href: `${this.#tree}${kind}/${slug}.html`, lang, ...attributes }, this.label(kind, slug));
  }

  #own(kind, slug) {
    return Object.hasOwn(this.#labels[kind], slug) ? this.#labels[kind][slug] : null;
  }
}

/** The key of a statement: a to z, then aa. */
export function keyOf(index) {
  const letter = String.fromCharCode(97 + (index % 26));
  return index < 26 ? letter : keyOf(Math.floor(index / 26) - 1) + letter;
}

/** The last part of an IRI. */
export function slugOf(iri) {
  return iri.slice(iri.lastIndexOf("/") + 1);
}
