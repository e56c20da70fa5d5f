// Prints every result of a validation, one a line: shape, focus node, path, component, value, parted by tabs.
//
//     node validate.mjs DATA SHAPES...
//
// A path of more than one property is left out, as is a value that is the focus node itself: the standard leaves both open.

import fs from "node:fs";
import env from "@zazuko/env";
import { Parser } from "n3";
import SHACLValidator from "rdf-validate-shacl";

const SH = "http://www.w3.org/ns/shacl#";

function term(node) {
  if (node.termType === "NamedNode") return env.namedNode(node.value);
  if (node.termType === "BlankNode") return env.blankNode(node.value);
  return env.literal(node.value, node.language || env.namedNode(node.datatype.value));
}

function read(paths) {
  const data = env.dataset();
  paths.forEach((path, number) => {
    const format = path.endsWith(".nt") ? "N-Triples" : "Turtle";
    const parser = new Parser({ format, blankNodePrefix: `_:f${number}` });
    for (const quad of parser.parse(fs.readFileSync(path, "utf8"))) {
      data.add(env.quad(term(quad.subject), term(quad.predicate), term(quad.object)));
    }
  });
  return data;
}

function shown(node) {
  if (!node) return "";
  if (node.termType !== "Literal") return node.value;
  return JSON.stringify([node.value, node.language.toLowerCase(), node.datatype.value]);
}

const [data, ...shapes] = process.argv.slice(2);
const validator = new SHACLValidator(read(shapes), { factory: env, allowNamedNodeInList: true });
const report = await validator.validate(read([data]));
for (const result of report.results) {
  const focus = result.focusNode.value;
  const path = result.path && result.path.termType === "NamedNode" ? result.path.value : "";
  const value = shown(result.value);
  const component = result.sourceConstraintComponent.value.replace(SH, "");
  console.log([result.sourceShape.value, focus, path, component, value === focus ? "" : value].join("\t"));
}
