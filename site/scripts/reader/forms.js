// Answers to margent/lettering/forms.py: the forms of the compiled reader, unpacked.

import { points } from "./order.js";

/** The forms as they were before packing: a Map from a folded key to its rows [label, reference, weight, how]. */
export function unpack(packed) {
  const forms = new Map();
  let key = "";
  packed.keys.split("\n").forEach((line, index) => {
    const tab = line.indexOf("\t");
    key = points(key).slice(0, Number(line.slice(0, tab))).join("") + line.slice(tab + 1);
    forms.set(key, packed.rows[packed.which[index]]);
  });
  return forms;
}
