// What was read, in words: statements with doubt and reasons, then notices, places, dates and what stayed unread.

import { joined, make } from "../page/make.js";
import { LANGUAGE, say } from "../page/texts.js";
import { keyOf, slugOf } from "./names.js";

const hundredths = (share) => String(Math.round(share * 100));

/** The list of statements. */
export function statementsTold(reading, names) {
  return reading.statements.map((statement, index) => {
    const roles = joined(statement.roles.map((role) => names.link("role", role)));
    return make(
      "li",
      { class: statement.doubtful ? "statement doubtful" : "statement" },
      make(
        "div",
        { class: "noted" },
        make(
          "div",
          {},
          make(
            "p",
            { class: "who" },
            make("b", { class: "key" }, keyOf(index)),
            " ",
            make("i", { class: "form", lang: "", dir: "auto" }, statement.name),
            ", ",
            make("span", { class: "did" }, roles.length ? roles : say("no-role")),
          ),
          make("p", { class: "sure" }, sureness(statement), " ", further(statement, reading.statements, names)),
        ),
        reasons(statement),
      ),
    );
  });
}

function sureness(statement) {
  return say(statement.doubtful ? "sure-doubtful" : "sure", { share: hundredths(statement.confidence) });
}

/** What else there is to say: what is implied, after whom, and what it may be instead. */
function further(statement, statements, names) {
  const out = [];
  if (statement.implied.length) {
    out.push(say("implied"), " ", joined(statement.implied.map((role) => names.link("role", role))), ". ");
  }
  if (statement.after !== null) out.push(say("after", named(statements, statement.after)), " ");
  if (statement.same_as !== null) out.push(say("same", named(statements, statement.same_as)), " ");
  if (statement.instead.length) {
    const others = statement.instead.map(({ roles, share }) => [
      joined(roles.map((role) => names.link("role", role))),
      " (",
      hundredths(share),
      ")",
    ]);
    out.push(say("instead"), " ", joined(others), ".");
  }
  return out;
}

function named(statements, index) {
  return { name: statements[index].name, key: keyOf(index) };
}

function reasons(statement) {
  const lang = LANGUAGE === "en" ? null : "en";
  return make("div", { class: "gloss", lang }, statement.because.map((reason) => make("p", { dir: "auto" }, reason)));
}

/** Pairs of a heading and what belongs under it, for what is no statement; empty where there is nothing. */
export function restTold(reading, names) {
  const form = (text) => make("i", { class: "form", lang: "", dir: "auto" }, text);
  const groups = [
    ["notices", reading.notices.map((notice) => [form(notice.text), ": ", names.link("notice", notice.kind), parties(notice)])],
    ["places", reading.places.map((place) => [form(place.text), ": ", names.link("place", slugOf(place.place)), `, ${say(`place-${place.kind}`)}`])],
    ["dates", reading.dates.map((date) => [form(date.text), ": ", date.edtf && date.edtf !== date.text ? `${date.edtf}, ` : "", say(`date-${date.kind}`)])],
    ["unread-parts", reading.unread.map((rest) => [form(rest.text)])],
  ];
  return groups
    .filter(([, items]) => items.length)
    .map(([name, items]) => make("div", {}, make("dt", {}, say(name)), items.map((item) => make("dd", {}, item))));
}

/** Who granted a privilege and who holds it. */
function parties(notice) {
  const out = [];
  if (notice.granter) out.push("; ", say("granter", { name: notice.granter }));
  if (notice.holder) out.push("; ", say("holder", { name: notice.holder }));
  return out;
}
