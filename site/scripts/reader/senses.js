// Answers to margent/lettering/senses.py: which sense a term has where it stands.

import { sorted } from "./order.js";

/** Whether a condition holds; null where the lettering and its record do not say. */
export function holds(kind, values, here) {
  if (kind === "alone") return here.alone;
  if (kind === "beside") return values.some((value) => here.otherRoles.has(value));
  if (kind === "same-name") return values.some((value) => here.sameRoles.has(value));
  if (kind === "technique") return here.techniques.size ? values.some((value) => here.techniques.has(value)) : null;
  if (kind === "during") {
    if (here.years === null) return null;
    const [low, high] = here.years;
    return values.some(([first, last]) => low <= last && first <= high);
  }
  if (kind === "sheet-place") return here.sheetPlace ? values.includes(here.sheetPlace) : null;
  if (kind === "position") return values.includes(here.side);
  if (kind === "name-kind") return values.includes(here.firm ? "firm" : "person");
  if (kind === "place-near") return here.placeNear;
  if (kind === "map") return here.onMap;
  if (kind === "monogram") return here.monogram;
  if (kind === "pencil") return here.pencil;
  return false;
}

/** The senses that may hold here with their weights, best first; those with a condition that fails are left out. */
export function choose(senses, here, weights) {
  const found = [];
  for (const sense of senses) {
    let weight = sense.weight;
    let failed = false;
    for (const [kind, values] of sense.when) {
      const answer = holds(kind, values, here);
      if (answer === null) weight += weights.get("sense-untold");
      else if (answer) weight += weights.get("sense-met");
      else {
        failed = true;
        break;
      }
    }
    if (!failed) found.push({ sense, weight });
  }
  return sorted(found, (choice) => -choice.weight);
}
