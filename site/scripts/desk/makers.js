// Makers of the authority who bear a name like one on the print. Who is meant is not decided here: dates, places and roles
// are weighed by `margent who`, and the last word is the cataloguer's.

import { answersTo, kindOf } from "../look-up/answers.js";
import { joined, make } from "../page/make.js";
import { LANGUAGE, say } from "../page/texts.js";

const MOST = 3;
const ENGLISH = LANGUAGE === "en" ? null : "en"; // what the look-up says of an entry is English in every language of the site

/** Rows of the look-up for the makers whose names have the beginning of every word of the name. */
export async function makersLike(name, shards) {
  const answer = await answersTo(name, shards);
  const words = shards.key(name).split(" ");
  const bears = (row) => {
    const own = row.whole.split(" ");
    return words.every((word) => own.some((other) => other.startsWith(word) || (word.length > 1 && word.startsWith(other) && other.length > 1)));
  };
  return (answer?.found ?? []).filter((row) => kindOf(row) === "maker" && bears(row)).slice(0, MOST);
}

/** A line with their names, each leading to its page; null without any. */
export function makersTold(makers, root) {
  if (!makers.length) return null;
  const links = makers.map((row) => [make("a", { href: `${root}${row.page}.html`, dir: "auto" }, row.label), row.said ? make("span", { lang: ENGLISH }, ` (${row.said})`) : null]);
  return make("p", { class: "sure like" }, say("makers-like"), " ", joined(links, "; "), ".");
}
