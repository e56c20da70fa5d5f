// Answers to margent/exchange/letterings.py: a lettering from the record that describes it.

import { years } from "./edtf.js";
import { Fault } from "./fault.js";
import { length, points } from "./order.js";
import { Line } from "./transcription.js";

/** How much of the lettering is there; only `yes` gives implied roles full weight. */
const COMPLETE = ["yes", "trimmed", "part", "unknown"];

/** Characters of an id at most. */
const LONGEST_ID = 1000;

/** The lettering that an object describes, as one line of a batch does; throws Fault for what it cannot hold. */
export function letteringFrom(record) {
  if (record === null || typeof record !== "object" || Array.isArray(record)) {
    throw new Fault('the row is no JSON object: write {"lines": [{"text": "..."}]}');
  }
  if (!Array.isArray(record.lines)) {
    throw new Fault('the row has no list under "lines": write {"lines": [{"text": "..."}]}');
  }
  const lines = record.lines.map((each, index) => line(each, index + 1));
  const complete = text(record, "complete") ?? "unknown";
  if (!COMPLETE.includes(complete)) {
    throw new Fault(`"complete" is ${short(complete)}: write one of ${COMPLETE.join(", ")}`);
  }
  const date = text(record, "date");
  return {
    lines,
    id: idOf(record),
    date,
    years: yearsOf(date),
    place: text(record, "place"),
    technique: text(record, "technique"),
    complete,
  };
}

function idOf(record) {
  const given = record.id ?? null;
  if (given === null) return null;
  if (typeof given !== "string" && !Number.isInteger(given)) {
    throw new Fault('"id" is neither text nor a whole number: write it in quotation marks');
  }
  const name = String(given);
  if (length(name) > LONGEST_ID) {
    throw new Fault(`"id" has ${thousands(length(name))} characters: write at most ${thousands(LONGEST_ID)}`);
  }
  return printable(name, '"id"');
}

function yearsOf(date) {
  if (!date) return null;
  try {
    return years(date);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new Fault(`${short(date)} is no date in EDTF: write 1612, 1612~, 161X or 1610/1614`);
  }
}

function line(given, number) {
  if (typeof given === "string") return new Line(printable(given, "the lettering"));
  if (given === null || typeof given !== "object" || typeof given.text !== "string") {
    throw new Fault(`line ${number} of the lettering has no "text": write {"text": "..."}`);
  }
  return new Line(printable(given.text, "the lettering"), text(given, "place"), text(given, "how"), text(given, "hand"));
}

/** The text; throws Fault where it holds half of a surrogate pair, which no encoding can write. */
function printable(given, what) {
  for (let index = 0; index < given.length; index += 1) {
    const unit = given.charCodeAt(index);
    if (unit < 0xd800 || unit > 0xdfff) continue;
    const next = given.charCodeAt(index + 1);
    if (unit > 0xdbff || !(next >= 0xdc00 && next <= 0xdfff)) {
      throw new Fault(`${what} holds half a character (a lone surrogate): transcribe that sign anew`);
    }
    index += 1;
  }
  return given;
}

function text(record, key) {
  const value = record[key] ?? null;
  if (value === null) return null;
  if (typeof value !== "string") throw new Fault(`"${key}" is not text: write it in quotation marks`);
  return printable(value, `"${key}"`) || null;
}

/** A value as it is quoted in a message: a hostile one must not fill the screen. */
function short(value) {
  const chars = points(value);
  return `'${chars.length <= 40 ? value : chars.slice(0, 40).join("") + "…"}'`;
}

/** A whole number with a comma before each three figures. */
export function thousands(number) {
  let figures = String(number);
  let out = "";
  while (figures.length > 3) {
    out = "," + figures.slice(-3) + out;
    figures = figures.slice(0, -3);
  }
  return figures + out;
}
