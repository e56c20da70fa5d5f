// Entries as Turtle, in the form in which the vocabulary's own files are written: relative IRIs, one property a line.

const PREFIXES = {
  edtf: "http://id.loc.gov/datatypes/edtf/",
  mg: "https://w3id.org/margent/ns#",
  skosxl: "http://www.w3.org/2008/05/skos-xl#",
};

/** A text, with its language where it has one. */
export function literal(text, lang = "") {
  const escaped = text.replace(/[\\"\u0000-\u001f\u007f]/g, (char) => ESCAPES[char] ?? `\\u${char.charCodeAt(0).toString(16).padStart(4, "0")}`);
  return `"${escaped}"${lang ? `@${lang}` : ""}`;
}

const ESCAPES = { "\\": "\\\\", '"': '\\"', "\n": "\\n", "\r": "\\r", "\t": "\\t" };

/** A date or period. */
export function edtf(text) {
  return `${literal(text)}^^edtf:EDTF`;
}

/** An IRI in angle brackets; throws RangeError where it holds what no IRI may hold. */
export function iri(text) {
  if (/[\s<>"{}|^`\\\u0000-\u0020]/.test(text)) throw new RangeError(`${text} is no IRI`);
  return `<${text}>`;
}

/** One entry or part; a property without a value is left out. */
export function entry(subject, kind, properties) {
  const lines = properties.filter(([, value]) => value).map(([property, value]) => `    ${property} ${value}`);
  return `${subject} a ${kind}${lines.length ? ` ;\n${lines.join(" ;\n")}` : ""} .\n`;
}

/** A whole file with the prefixes that it uses. */
export function file(base, entries) {
  const text = entries.join("");
  const used = Object.entries(PREFIXES).filter(([prefix]) => text.includes(`${prefix}:`));
  const head = [`@base <${base}> .`, ...used.map(([prefix, address]) => `@prefix ${prefix}: <${address}> .`)];
  return `${head.join("\n")}\n\n${text}`;
}

/** A short name for the end of an IRI: small letters, figures and hyphens; empty where the text has neither. */
export function slug(text) {
  const plain = text.normalize("NFKD").toLowerCase().replaceAll("ß", "ss").replaceAll("æ", "ae").replaceAll("œ", "oe").replaceAll("ø", "o").replaceAll("ł", "l");
  return plain.replace(/[\u0300-\u036f'’]/g, "").replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "");
}
