// A form of a maker's name, with where it was met, to be put into the maker's entry.

import { Checks } from "./checks.js";
import { edtf, entry, file, iri, literal, slug } from "./turtle.js";

const MAKER = /^https?:\/\/[^\s<>"{}|^`\\#]+\/maker\/[^\s<>"{}|^`\\#/]+$/;

/** The findings, and the Turtle where there are none; `general` is the base of the general vocabulary. */
export async function nameFormEntry(values, general) {
  const checks = new Checks();
  const maker = checks.needed("maker", values.maker);
  if (maker && !MAKER.test(maker)) checks.wrong("maker", "suggest-no-maker");
  const form = checks.needed("form", values.form);
  const name = slug(form);
  if (form && !name) checks.wrong("form", "suggest-no-letters");
  checks.needed("language", values.language);
  checks.needed("formKind", values.formKind);
  checks.needed("object", values.object);
  checks.date("date", values.date);
  checks.standing(values);
  if (checks.found.length) return { found: checks.found, text: "" };

  const base = maker.slice(0, maker.lastIndexOf("/maker/") + 1);
  const self = maker.slice(base.length);
  const own = iri(`${self}#${name}`);
  const met = iri(`${self}#met-${slug(values.object).slice(0, 40).replace(/-$/, "")}`);
  const cite = values.standing === "cited" ? iri(`${self}#cite-${values.source}`) : null;
  const parts = [
    `${iri(self)} mg:nameForm ${own} .\n`,
    entry(own, "mg:NameForm", [
      ["mg:literal", literal(form, values.language)],
      ["mg:formKind", `mg:${values.formKind}`],
      ["mg:attestation", met],
    ]),
    cite &&
      entry(cite, "mg:Citation", [
        ["mg:work", iri(`${general}source/${values.source}`)],
        ["mg:locator", literal(values.locator)],
        ["mg:asFound", values.asFound && literal(values.asFound)],
      ]),
    entry(met, "mg:Attestation", [
      ["mg:sheetPlace", values.sheetPlace && literal(values.sheetPlace)],
      ["mg:object", literal(values.object)],
      ["mg:state", values.state && literal(values.state)],
      ["mg:date", values.date && edtf(values.date)],
      ["mg:transcription", values.transcription && literal(values.transcription)],
      ["mg:seen", cite ? "false" : "true"],
      ["mg:citation", cite],
    ]),
  ];
  return { found: [], text: file(base, parts.filter((part) => part)) };
}
