// Which marks fit what was asked, the best first. Each aspect asked for counts alike; a mark that lacks one stands behind
// those that have all, for a description may err where letters do not.

import { years } from "../reader/edtf.js";
import { alike, lettersOf } from "./letters.js";

const LEAST = 0.4; // of 1: below that the likeness is chance
const NEAR = 15; // years outside the known period of use at which a mark is still thought of

/** The marks that fit, with their likeness from 0 to 1 and the reasons by the names of their texts. */
export function marksFor(asked, data, words) {
  const letters = lettersOf(asked.letters);
  const device = words.named(asked.device);
  const arrangement = words.named(asked.arrangement);
  const span = asked.date ? years(asked.date) : null;
  const found = [];
  for (const mark of data.marks) {
    const seen = [
      letters.length ? byLetters(letters, mark) : null,
      given(device) ? byWords(words.shown(device, mark.device ?? ""), "mark-device") : null,
      given(arrangement) ? byWords(words.shown(arrangement, mark.arrangement ?? ""), "mark-arrangement") : null,
    ].filter((aspect) => aspect);
    if (seen.length && seen.every(([share]) => share === 0)) continue; // a year alone makes no mark alike
    const aspects = span ? [...seen, byDate(span, mark)] : seen;
    if (!aspects.length) continue;
    const likeness = aspects.reduce((sum, [share]) => sum + share, 0) / aspects.length;
    const told = aspects.filter(([share, reason]) => reason && share > 0).map(([, reason]) => reason);
    if (likeness >= LEAST && told.length) found.push({ mark, likeness, because: told });
  }
  return found.sort((one, other) => other.likeness - one.likeness || (one.mark.page < other.mark.page ? -1 : 1));
}

const given = ({ things, words }) => things.size + words.length > 0;

function byLetters(asked, mark) {
  const own = lettersOf(mark.letters ?? "");
  const share = alike(asked, own);
  if (share < 1) return [share * 0.9, share ? "mark-some-letters" : ""];
  return asked.join() === own.join() ? [1, "mark-letters"] : [0.97, "mark-other-order"];
}

function byWords(share, reason) {
  return [share, share ? reason : ""];
}

function byDate([first, last], mark) {
  if (!mark.period) return [0.5, ""];
  const [from, to] = years(mark.period);
  const away = Math.max(0, from - last, first - to);
  if (away === 0) return [1, "mark-in-use"];
  return away <= NEAR ? [0.6, "mark-near-use"] : [0, ""];
}
