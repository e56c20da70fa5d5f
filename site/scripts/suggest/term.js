// A word, phrase or abbreviation as an entry of the general vocabulary.

import { Checks } from "./checks.js";
import { edtf, entry, file, iri, literal, slug } from "./turtle.js";

/** The findings, and the Turtle where there are none; `known` says whether a form is in the vocabulary in that language. */
export async function termEntry(values, base, known) {
  const checks = new Checks();
  const form = checks.needed("form", values.form);
  const lang = checks.needed("language", values.language);
  const says = checks.needed("says", values.says);
  checks.needed("position", values.position);
  checks.needed("reason", values.reason);
  checks.date("period", values.period);
  checks.standing(values);
  const name = slug(form);
  if (form && !name) checks.wrong("form", "suggest-no-letters");
  if (values.shortest) {
    if (/[.:]$/.test(values.shortest)) checks.wrong("shortest", "suggest-point");
    else if (!form.toLowerCase().startsWith(values.shortest.toLowerCase())) checks.wrong("shortest", "suggest-not-beginning");
  }
  if (form && lang && (await known(form, lang))) checks.wrong("form", "suggest-known", { form });
  if (checks.found.length) return { found: checks.found, text: "" };

  const self = `term/${lang}-${name}`;
  const sense = iri(`${self}#${says.split("/").at(-1)}`);
  const cite = values.standing === "cited" ? iri(`${self}#cite-${values.source}`) : null;
  const support = cite ? ["mg:citation", cite] : ["mg:standing", `mg:${values.standing}`];
  const parts = [
    entry(iri(self), "mg:Term", [
      ["skosxl:literalForm", literal(form, lang)],
      ["mg:kind", `mg:${values.kind}`],
      ["mg:wordClass", values.wordClass && `mg:${values.wordClass}`],
      ["mg:namePosition", `mg:${values.position}`],
      ["mg:period", values.period && edtf(values.period)],
      ["mg:shortenedTo", values.shortest && literal(values.shortest, lang)],
      ["mg:sense", sense],
      support,
    ]),
    cite &&
      entry(cite, "mg:Citation", [
        ["mg:work", iri(`source/${values.source}`)],
        ["mg:locator", literal(values.locator)],
        ["mg:asFound", values.asFound && literal(values.asFound)],
      ]),
    entry(sense, "mg:Sense", [
      ["mg:says", iri(says)],
      ["mg:weight", "0"],
      ["mg:reason", literal(values.reason, "en")],
      support,
    ]),
  ];
  return { found: [], text: file(base, parts.filter((part) => part)) };
}
