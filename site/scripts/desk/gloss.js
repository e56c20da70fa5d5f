// The lettering as philologists gloss a text: the line as it stands, a brace beneath each of its parts, and beneath the
// brace what the part says. Parts may lie within others: a date within a privilege.

import { joined, make } from "../page/make.js";
import { say } from "../page/texts.js";
import { keyOf, slugOf } from "./names.js";

/** The lines that were read, those of the three places side by side, the others beneath. */
export function glossed(record, reading, names) {
  const parts = partsOf(reading, names);
  const groups = new Map();
  record.lines.forEach(({ text, place }, number) => {
    const points = Array.from(text);
    const own = nested(parts.filter((part) => part.line === number));
    const line = make("p", { class: "engraved", lang: "", dir: "auto" }, pieces(points, 0, points.length, own));
    if (!groups.has(place)) groups.set(place, []);
    groups.get(place).push(line);
  });
  const beneath = groups.get(null) ?? [];
  groups.delete(null);
  const signed = [...groups].map(([place, lines]) => make("div", { class: place.replace(" ", "-") }, lines));
  return [make("div", { class: "signed" }, signed), make("div", { class: "beneath" }, beneath)];
}

/** Every stretch that something is said of, with what is said. */
function partsOf(reading, names) {
  const parts = [];
  const terms = new Map();
  reading.statements.forEach((statement, index) => {
    const key = make("b", { class: "key" }, keyOf(index));
    const said = statement.terms.length ? [key] : [key, " ", joined(statement.roles.map((role) => names.label("role", role)))];
    parts.push({ ...statement, kind: "name", said });
    for (const term of statement.terms) {
      const where = `${term.line}:${term.span}`;
      if (terms.has(where)) continue; // one word may stand for two names
      terms.set(where, term);
      const roles = term.roles.length ? term.roles : statement.roles;
      parts.push({ ...term, kind: "term", said: joined(roles.map((role) => names.label("role", role))) });
    }
  });
  for (const notice of reading.notices) parts.push({ ...notice, kind: "notice", said: names.label("notice", notice.kind) });
  for (const place of reading.places) parts.push({ ...place, kind: "place", said: names.label("place", slugOf(place.place)) });
  for (const date of reading.dates) {
    parts.push({ ...date, kind: "date", said: date.edtf && date.edtf !== date.text ? date.edtf : say(`date-${date.kind}`) });
  }
  for (const rest of reading.unread) parts.push({ ...rest, kind: "unread", said: say("unread") });
  return parts;
}

/** The parts of one line as a tree, in order; a part that only half overlaps another is left to the list below. */
function nested(parts) {
  const sorted = [...parts].sort((one, other) => one.span[0] - other.span[0] || other.span[1] - one.span[1]);
  const roots = [];
  const open = [];
  for (const part of sorted) {
    const [start, end] = part.span;
    while (open.length && open.at(-1).end <= start) open.pop();
    const above = open.at(-1);
    if (above && (end > above.end || (start === above.start && end === above.end))) continue;
    const node = { ...part, start, end, within: [] };
    (above ? above.within : roots).push(node);
    open.push(node);
  }
  return roots;
}

/** What stands between two places of a line: bare text, and parts with their braces. */
function pieces(points, start, end, parts) {
  const out = [];
  let at = start;
  for (const part of parts) {
    if (part.start > at) out.push(points.slice(at, part.start).join(""));
    out.push(
      make(
        "span",
        { class: `part ${part.kind}` },
        make("span", { class: "words" }, pieces(points, part.start, part.end, part.within)),
        make("span", { class: "brace", "aria-hidden": "true" }, make("span"), make("span")),
        make("span", { class: "unseen" }, ": "),
        make("span", { class: "said", lang: document.documentElement.lang, dir: "auto" }, part.said),
        make("span", { class: "unseen" }, "; "),
      ),
    );
    at = part.end;
  }
  if (at < end) out.push(points.slice(at, end).join(""));
  return out;
}
