// Answers to margent/lettering/weights.py: sums of probabilities in whole numbers.

import { floorDivide } from "./order.js";

/** Thousandths of a nat between two entries of the exponential table. */
export const STEP = 10;

/** The share of each weight in thousandths, as the exponential of its distance to the best. */
export function shares(weights, table) {
  if (!weights.length) return [];
  let best = weights[0];
  for (const weight of weights) best = Math.max(best, weight);
  const masses = weights.map((weight) => table[floorDivide(best - weight, STEP)] ?? 0);
  let total = 0;
  for (const mass of masses) total += mass;
  return masses.map((mass) => floorDivide(mass * 1000, total));
}

/** The height of a curve given by points [x, y] at `value`, straight between points, in whole numbers. */
export function along(value, curve) {
  for (let index = 0; index + 1 < curve.length; index += 1) {
    const [left, low] = curve[index];
    const [right, high] = curve[index + 1];
    if (value <= right) {
      return right > left ? low + floorDivide((high - low) * (value - left), right - left) : high;
    }
  }
  return curve.at(-1)[1];
}
