// A reading in the forms in which it leaves the desk: text for a record's note, rows of a table, JSON.

import { say } from "../page/texts.js";

// Answers to margent/exchange/reading_table.py: the same columns, the same marks of text that a spreadsheet might compute.
const HEADER = [
  "id", "line", "name", "roles", "implied", "term", "of", "after", "same_as", "maker", "confidence", "doubtful", "instead",
  "notices", "places", "dates", "unread", "error",
];
const BETWEEN = "; ";
const REAL = new Set(["confidence"]);

/** Header and one row a statement, or one row without a name, as `margent read --as csv` writes them. */
export function asCsv(reading) {
  const whole = {
    id: reading.id,
    notices: reading.notices.map((each) => `${each.kind}: ${each.text}`).join(BETWEEN),
    places: reading.places.map((each) => each.text).join(BETWEEN),
    dates: reading.dates.map((each) => each.edtf || each.text).join(BETWEEN),
    unread: reading.unread.map((each) => each.text).join(BETWEEN),
  };
  const rows = reading.statements.map((each) => ({
    ...whole,
    line: each.line,
    name: each.name,
    roles: each.roles.join(BETWEEN),
    implied: each.implied.join(BETWEEN),
    term: each.term,
    of: each.of,
    after: each.after,
    same_as: each.same_as,
    maker: each.maker,
    confidence: each.confidence,
    doubtful: each.doubtful ? "yes" : "no",
    instead: each.instead.map((other) => other.roles.join(", ")).join(BETWEEN),
  }));
  const lines = [HEADER, ...(rows.length ? rows : [whole]).map((row) => HEADER.map((name) => cell(row[name], REAL.has(name))))];
  return lines.map((line) => line.map(quoted).join(",") + "\n").join("");
}

function cell(value, real) {
  if (value === null || value === undefined) return "";
  if (typeof value === "number") return real && Number.isInteger(value) ? `${value}.0` : String(value);
  return risky(value) ? `'${value}` : value;
}

function risky(text) {
  return /^[\t\r\n]/.test(text) || /^\s*[=+\-@＝＋－＠]/u.test(text);
}

function quoted(text) {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** The reading as the Python reader writes it. */
export function asJson(reading) {
  return JSON.stringify(reading, null, 2) + "\n";
}

/** The lettering, and beneath it who did what, for a note in a record. */
export function asText(record, reading, names) {
  const out = [record.lines.map((line) => line.text.trim()).join(" / ")];
  for (const statement of reading.statements) {
    const roles = statement.roles.map((role) => names.label("role", role)).join(", ") || say("no-role");
    out.push(`${statement.name}: ${roles}${statement.doubtful ? ` (${say("doubtful")})` : ""}`);
  }
  for (const notice of reading.notices) out.push(`${names.label("notice", notice.kind)}: ${notice.text}`);
  return out.join("\n") + "\n";
}
