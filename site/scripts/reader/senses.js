// Answers to margent/lettering/senses.py: which sense a term has where it stands.

import { greatest, mapOf, sorted } from "./order.js";

/** Whether a condition holds; null where the lettering and its record do not say. */
export function holds(kind, values, here) {
  if (kind === "alone") return here.alone;
  if (kind === "beside") return values.some((value) => here.otherRoles.has(value));
  if (kind === "same-name") return values.some((value) => here.sameRoles.has(value));
  if (kind === "technique") return here.techniques.size ? values.some((value) => here.techniques.has(value)) : null;
  if (kind === "during") {
    if (here.years === null) return null;
    const [low, high] = here.years;
    if (values.some(([first, last]) => first <= low && high <= last)) return true;
    return values.some(([first, last]) => low <= last && first <= high) ? null : false;
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

/**
 * The senses that may hold here, best first; those with a condition that fails are left out.
 * `weighed` has every sense with its weight before its conditions are asked, which is changed.
 */
export function choose(weighed, here, weights) {
  const found = weighed.filter((choice) => {
    for (const [kind, values] of choice.sense.when) {
      const answer = holds(kind, values, here);
      if (answer !== null && !answer) return false;
      choice.weight += weights.get(answer === null ? "sense-untold" : "sense-met");
    }
    return true;
  });
  return sorted(found, heaviest);
}

function heaviest(choice) {
  return -choice.weight;
}

/** The term that honours in a dedication act as. */
export const HONOURS = "dedicatory";

/** The senses of every term that state roles, prepared once for all letterings. */
export class Senses {
  #firmMatrix;
  #stating = new Map();
  #easiest = new Map();

  constructor(compiled) {
    const roles = mapOf(compiled.roles);
    const ofMatrix = ({ roles: said }) => said.every((role) => !roles.has(role) || roles.get(role).stage === "matrix");
    this.#firmMatrix = compiled.grammar.lookup["firm-matrix"];
    for (const [term, entry] of mapOf(compiled.terms)) {
      const senses = entry.senses
        .filter((sense) => sense.roles.length)
        .map((sense) => ({ ...sense, term, ofMatrix: ofMatrix(sense) }));
      this.#stating.set(term, senses);
      if (senses.length) this.#easiest.set(term, easiest(senses));
    }
  }

  /** The senses of all terms with one form, each weighed down by how far its term stands behind. */
  weighed(refs, firm) {
    const malus = firm ? this.#firmMatrix : 0;
    return refs.flatMap(([ref, behind]) =>
      this.#stating.get(ref).map((sense) => ({ sense, weight: sense.weight + behind + (sense.ofMatrix ? malus : 0) })),
    );
  }

  /** The roles that terms of one form state where nothing else is known; none where they state no role. */
  usual(refs) {
    let roles = [];
    let best = null;
    for (const [ref, behind] of refs) {
      const found = this.#easiest.get(ref);
      if (found !== undefined && (best === null || found[0] + behind > best)) {
        best = found[0] + behind;
        roles = found[1];
      }
    }
    return roles;
  }
}

/** The weight and the roles of the sense that asks the least of its surroundings. */
function easiest(senses) {
  const best = greatest(senses, (sense) => sense.weight - 1000 * sense.when.length);
  return [best.weight - 1000 * best.when.length, best.roles];
}
