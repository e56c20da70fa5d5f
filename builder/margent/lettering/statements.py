"""From judged clauses to the reading: statements with confidence and reasons, notices, places, dates, what stayed unread."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from itertools import accumulate
from typing import Any, Final

from margent.lettering.clauses import Clauses, Name
from margent.lettering.judging import Draft
from margent.lettering.lexicon import Item
from margent.lettering.reading import DateRead, Notice, PlaceRead, Reading, Statement, TermRead, Unread
from margent.lettering.spelling import GUESSED
from margent.lettering.tokens import Token
from margent.lettering.transcription import Lettering, Line
from margent.lettering.weights import along

ABBREVIATED: Final = 3
"""A name's last word of at most so many letters is taken as cut short, and its stop as part of the name."""


Ranges = tuple[list[tuple[int, int, list[str]]], list[int]]
"""Names by their tokens [start, end) with their roles, in order, and for each how far the names up to it reach."""


class Writer:
    """Writes readings from the drafts of a lettering's segmentations."""

    def __init__(self, compiled: Mapping[str, Any]) -> None:
        self._terms: dict[str, dict[str, Any]] = compiled["terms"]
        self._roles: dict[str, dict[str, Any]] = compiled["roles"]
        self._weights: dict[str, int] = compiled["grammar"]["lookup"]
        self._curve: list[list[int]] = compiled["confidence"]
        self._words: dict[str, str] = compiled["templates"]
        self._respelt: dict[str, str] = compiled["spelling"]["reasons"]
        self._base = str(compiled["base"])
        self._powers = frozenset(compiled["powers"])
        self._kept_apart = frozenset(compiled["kept-apart"])

    def write(
        self,
        reading: Reading,
        readings: list[tuple[list[Draft], Clauses, int]],
        tokens: list[Token],
        lettering: Lettering,
    ) -> None:
        """Fills a reading from the drafts of the best segmentation, with confidence from all of them."""
        drafts, clauses, _ = readings[0]
        lines = lettering.lines
        kept: list[Draft] = []
        for draft in drafts:
            if not draft.roles:
                continue
            apart = [role for role in draft.roles if role in self._kept_apart]
            if len(apart) == len(draft.roles):
                text, line, span = self._slice(tokens, draft.start, draft.end, lines)
                reading.notices.append(Notice("provenance", text, line, span, holder=text))
                continue
            draft.roles = [role for role in draft.roles if role not in self._kept_apart]
            kept.append(draft)
        ranges = [(weight, self._ranges(others)) for others, _, weight in readings] if len(readings) > 1 else []
        same_as = self._same_as(kept)
        for index, draft in enumerate(kept):
            text, line, span = self._slice(tokens, draft.start, draft.end, lines, name=draft.name)
            certain = self._certainty(draft, ranges)
            terms = []
            for term, choices in draft.chosen:
                term_text, term_line, term_span = self._slice(tokens, term.start, term.end, lines)
                terms.append(TermRead(term_text, term_line, term_span, list(choices[0].sense.roles) if choices else []))
            confidence = along(certain, self._curve)
            reading.statements.append(
                Statement(
                    name=text,
                    line=line,
                    span=span,
                    roles=draft.roles,
                    implied=[role for role in draft.implied if role not in draft.roles],
                    terms=terms,
                    term=self._term_text(terms, tokens, draft, lines),
                    of=draft.of,
                    after=None,
                    same_as=same_as[index],
                    maker=None,
                    members=[],
                    unknown=1.0,
                    candidates=[],
                    confidence=confidence / 1000,
                    doubtful=confidence < self._weights["doubtful"],
                    instead=_instead(draft, confidence),
                    because=self._because(draft, tokens, lines),
                )
            )
        self._afters(reading)
        self._rest(reading, drafts, clauses, tokens, lines)

    def _slice(
        self, tokens: list[Token], start: int, end: int, lines: tuple[Line, ...], name: Name | None = None
    ) -> tuple[str, int, tuple[int, int]]:
        """The text of tokens [start, end) on the line of the first, with the stop that belongs to it and brackets made whole."""
        line = tokens[start].line
        last = end - 1
        while tokens[last].line != line:
            last -= 1
        text = lines[line].text
        left, right = tokens[start].start, tokens[last].end
        if "]" in text:
            opened = text.count("[", left, right) - text.count("]", left, right)
            while right < len(text) and text[right] == "]" and opened > 0:
                right += 1
                opened -= 1
        if right < len(text) and text[right] in ".:" and (name is None or len(tokens[last].full) <= ABBREVIATED):
            right += 1
        whole = text[left:right]
        for other in range(last + 1, end):
            if tokens[other].line != line:
                line_end = max(index for index in range(other, end) if tokens[index].line == tokens[other].line)
                whole += " " + lines[tokens[other].line].text[tokens[other].start : tokens[line_end].end]
                line = tokens[other].line
        return whole, tokens[start].line, (left, right)

    def _term_text(
        self, terms: list[TermRead], tokens: list[Token], draft: Draft, lines: tuple[Line, ...]
    ) -> str | None:
        if not terms:
            return None
        first, last = terms[0], terms[-1]
        if (
            all(term.line == first.line for term in terms)
            and not first.span[0] <= tokens[draft.start].start < last.span[1]
        ):
            return str(lines[first.line].text[first.span[0] : last.span[1]])
        return " ".join(term.text for term in terms)

    def _same_as(self, kept: list[Draft]) -> list[int | None]:
        """For each draft the one that its same-man word means: the last maker before it, else the last name."""
        found: list[int | None] = []
        maker: int | None = None
        for index, draft in enumerate(kept):
            before = index - 1 if index else None
            found.append(None if not draft.name.sameman else before if maker is None else maker)
            if any(self._roles[role]["makes"] for role in draft.roles if role in self._roles):
                maker = index
        return found

    def _ranges(self, drafts: list[Draft]) -> Ranges:
        """Where names begin and end, in order, with their roles, and the furthest that any has ended so far."""
        ranges = sorted((each.start, each.end, [r for r in each.roles if r not in self._kept_apart]) for each in drafts)
        return ranges, list(accumulate([end for _, end, _ in ranges], max))

    def _certainty(self, draft: Draft, readings: list[tuple[int, Ranges]]) -> int:
        """The share, in thousandths, of the segmentations that give this name these roles, times the share of the chosen senses."""
        total = agreed = 0
        for weight, (ranges, furthest) in readings:
            total += weight
            for at in range(bisect_right(furthest, draft.start), len(ranges)):
                start, end, roles = ranges[at]
                if start >= draft.end:
                    break
                if draft.start < end and roles == draft.roles:
                    agreed += weight
                    break
        share = agreed * draft.share // total if total else draft.share
        if draft.roles and all(
            self._roles[role]["stage"] == "sponsoring" for role in draft.roles if role in self._roles
        ):
            share = share * self._weights["share-sponsoring"] // 1000  # dedications are loosely built
        if any(GUESSED in term.respelt for term in draft.clause.terms):
            share = share * self._weights["share-guessed"] // 1000
        return share

    def _afters(self, reading: Reading) -> None:
        """Points each maker of the matrix to the statement of the model or drawing it was made after."""
        models = [index for index, said in enumerate(reading.statements) if said.of == "model"]
        drawings = [index for index, said in enumerate(reading.statements) if said.of == "drawing"]
        sources = drawings or models
        if sources:
            for statement in reading.statements:
                if statement.of == "plate":
                    statement.after = sources[-1]

    def _because(self, draft: Draft, tokens: list[Token], lines: tuple[Line, ...]) -> list[str]:
        """The reasons of a statement in plain sentences, from the compiled templates."""
        reasons: list[str] = []
        if draft.rule is not None:
            reasons.append(str(draft.rule["reason"]))
        for term, choices in draft.chosen:
            text, _, _ = self._slice(tokens, term.start, term.end, lines)
            entry = self._terms[choices[0].sense.term if choices else term.refs[0][0]]
            if choices:
                sense = choices[0].sense
                reasons.append(
                    self._words["term" if entry["form"] else "honours"].format(
                        text=text,
                        form=entry["form"],
                        language=entry["language"],
                        role=", ".join(self._roles[r]["label"] for r in sense.roles if r in self._roles),
                        reason=sense.reason,
                    )
                )
            reasons.append(self._words["before" if term.side == "front" else "behind"].format(text=text))
            reasons.extend(
                self._words["guessed" if rule == GUESSED else "respelt"].format(
                    text=text, form=entry["form"], rule=self._respelt.get(rule, rule)
                )
                for rule in term.respelt
            )
        return reasons

    def _rest(
        self, reading: Reading, drafts: list[Draft], clauses: Clauses, tokens: list[Token], lines: tuple[Line, ...]
    ) -> None:
        """Notices, places, dates and unread stretches."""
        stages: dict[int, str] = {}
        for draft in drafts:
            stage = self._roles[draft.roles[0]]["stage"] if draft.roles and draft.roles[0] in self._roles else ""
            for other in draft.clause.others:
                stages.setdefault(other.start, stage)
        others = {
            (item.start, item.end, item.label): item
            for item in [*clauses.loose, *(o for c in clauses.clauses for o in c.others)]
        }
        ordered = sorted(others.values(), key=lambda item: (item.start, item.end))
        grantors = {item.start: item for item in ordered if item.label == "grantor"}
        for item in ordered:
            text, line, span = self._slice(tokens, item.start, item.end, lines)
            stage = stages.get(item.start, "")
            if item.label == "place":
                reading.places.append(
                    PlaceRead(
                        text,
                        self._base + "place/" + item.ref,
                        "imprint" if stage in ("publishing", "printing", "") else "work",
                        line,
                        span,
                    )
                )
            elif item.label == "date":
                kind = "publication" if stage in ("publishing", "printing") else "execution" if stage else "unsaid"
                reading.dates.append(DateRead(text, item.ref or None, kind, line, span))
            elif item.label == "notice":
                end = item.end
                granter = self._granter(tokens, item, lines)
                while end in grantors and tokens[grantors[end].end - 1].line == line:
                    end = grantors[end].end
                if end > item.end:
                    granter, _, _ = self._slice(tokens, item.end, end, lines)
                    text, line, span = self._slice(tokens, item.start, end, lines)
                kind = self._notice_of(item.ref)
                reading.notices.append(Notice(kind, text, line, span, granter=granter))
        for draft in drafts:
            found = self._publication_line(draft, tokens, lines)
            if found is not None and found not in reading.notices:
                reading.notices.append(found)
        run: list[int] = []
        for index in sorted(_left_over(drafts, clauses)):
            if run and (index != run[-1] + 1 or tokens[index].line != tokens[run[-1]].line):
                self._unread(reading, run, tokens, lines)
                run = []
            run.append(index)
        if run:
            self._unread(reading, run, tokens, lines)
        reading.notices.sort(key=lambda notice: (notice.line, notice.span))

    def _granter(self, tokens: list[Token], item: Item, lines: tuple[Line, ...]) -> str | None:
        """The power that a notice names at its end, where the list of powers knows it: Regis in cum privilegio Regis."""
        for start in range(item.start + 1, item.end):
            if " ".join(token.full for token in tokens[start : item.end]) in self._powers:
                return self._slice(tokens, start, item.end, lines)[0]
        return None

    def _publication_line(self, draft: Draft, tokens: list[Token], lines: tuple[Line, ...]) -> Notice | None:
        """The line that says when a print was published, from its word to its date; None where no date stands with the word."""
        if "publisher" not in draft.roles:
            return None
        dates = [item for item in draft.clause.others if item.label == "date"]
        for term in draft.clause.terms:
            for date in dates:
                first, last = min(term.start, date.start), max(term.end, date.end)
                if term.side == "front" and tokens[first].line == tokens[last - 1].line and date.start >= term.start:
                    text, line, span = self._slice(tokens, term.start, date.end, lines)
                    return Notice("publication-line", text, line, span, holder=None)
        return None

    def _notice_of(self, ref: str) -> str:
        for sense in self._terms[ref]["senses"]:
            if sense["notice"]:
                return str(sense["notice"])
        return "publication-line"

    def _unread(self, reading: Reading, run: Sequence[int], tokens: list[Token], lines: tuple[Line, ...]) -> None:
        text, line, span = self._slice(tokens, run[0], run[-1] + 1, lines)
        reading.unread.append(Unread(text, line, span))


def _left_over(drafts: list[Draft], clauses: Clauses) -> set[int]:
    """The tokens of which nothing is said: what the path passed over, and names that got no role with their terms."""
    found = {index for item in clauses.unread for index in range(item.start, item.end)}
    speaking = {id(draft.clause) for draft in drafts if draft.roles}
    for draft in drafts:
        if not draft.roles:
            found.update(range(draft.start, draft.end))
            if id(draft.clause) not in speaking:
                found.update(index for term in draft.clause.terms for index in range(term.start, term.end))
    return found


def _instead(draft: Draft, confidence: int) -> list[dict[str, Any]]:
    """The three likeliest other things that its terms may say, each with its share, all within what confidence leaves over."""
    others = sorted(draft.instead, key=lambda pair: (-pair[1], pair[0]))
    whole = sum(share for _, share in others)
    return [
        {"roles": list(roles), "share": min(share, share * (1000 - confidence) // whole) / 1000}
        for roles, share in others[:3]
    ]
