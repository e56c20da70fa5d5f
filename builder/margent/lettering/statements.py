"""From clauses to statements: roles by sense, unlabelled names by their place, confidence, and reasons in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from margent.lettering.clauses import Clause, Clauses, Name, TermSeen, edges, first_token, join_firms
from margent.lettering.lexicon import Item
from margent.lettering.reading import DateRead, Notice, PlaceRead, Reading, Statement, TermRead, Unread
from margent.lettering.senses import Choice, Surroundings, choose, holds
from margent.lettering.spelling import GUESSED
from margent.lettering.tokens import Token
from margent.lettering.weights import along, shares

if TYPE_CHECKING:
    from margent.lettering.reader import Lettering


ABBREVIATED = 3
"""A name's last word of at most so many letters is taken as cut short, and its stop as part of the name."""
HONOURS = "dedicatory"
"""The term that honours in a dedication act as."""
MODEL_WITHIN = 4
"""How many tokens before an address a word for a picture may stand."""


@dataclass(slots=True)
class Draft:
    """A statement in the making: a name in its clause, with the senses chosen for its terms."""

    name: Name
    clause: Clause
    start: int
    end: int
    chosen: list[tuple[TermSeen, list[Choice]]] = field(default_factory=list)
    roles: list[str] = field(default_factory=list)
    implied: list[str] = field(default_factory=list)
    of: str | None = None
    rule: Mapping[str, Any] | None = None
    share: int = 1000
    instead: list[tuple[tuple[str, ...], int]] = field(default_factory=list)


class Judge:
    """Decides what each clause of a lettering states, by the compiled senses and rules."""

    def __init__(self, compiled: Mapping[str, Any]) -> None:
        self._terms: Mapping[str, Mapping[str, Any]] = compiled["terms"]
        self._roles: Mapping[str, Mapping[str, Any]] = compiled["roles"]
        self._weights: Mapping[str, int] = compiled["grammar"]["lookup"]
        self._firms: Mapping[str, Any] = compiled["firms"]
        self._unlabelled: Sequence[Mapping[str, Any]] = compiled["unlabelled"]
        self._exp: Sequence[int] = compiled["exp"]
        self._curve: Sequence[Sequence[int]] = compiled["confidence"]
        self._words: Mapping[str, str] = compiled["templates"]
        self._base = str(compiled["base"])
        self._techniques: Mapping[str, str] = compiled["techniques"]
        self._mapwords = frozenset(compiled["mapwords"])
        self._techniques_said = frozenset(compiled["technique-roles"])
        self._model_words = frozenset(compiled["modelwords"])
        self._powers = frozenset(compiled["powers"])
        self._absorbed: Mapping[str, str] = compiled["absorbed"]
        self._kept_apart = frozenset(compiled["kept-apart"])

    # --- what the record and the whole lettering say -------------------------------------------------

    def _technique(self, lettering: Lettering) -> frozenset[str]:
        if lettering.technique:
            words = "".join([self._fold_word(char) for char in lettering.technique]).split(" ")
            told = {self._techniques[word] for word in words if word in self._techniques}
            if told:
                return frozenset(told)
        return frozenset()

    @staticmethod
    def _fold_word(char: str) -> str:
        """An ASCII letter in lower case, anything else a space: the technique field is the record's English."""
        if "A" <= char <= "Z":
            return chr(ord(char) + 32)
        return char if "a" <= char <= "z" else " "

    def _years(self, lettering: Lettering, clauses: Clauses) -> tuple[int, int] | None:
        if lettering.years is not None:
            return lettering.years
        years = [
            int(item.ref[:4])
            for item in [*clauses.loose, *(other for clause in clauses.clauses for other in clause.others)]
            if item.label == "date" and item.ref
        ]
        return (min(years), max(years)) if years else None

    # --- drafts ---------------------------------------------------------------------------------------

    def drafts(self, clauses: Clauses, tokens: Sequence[Token], lettering: Lettering) -> list[Draft]:
        """The statements of one segmentation, with roles."""
        for clause in clauses.clauses:
            clause.terms = self._without_unnamed(clause.terms)
            said = self._usual(clause)
            join_firms(clause, said, [self._roles[role]["stage"] for role in said if role in self._roles], self._firms)
        drafts = []
        for clause in clauses.clauses:
            for name in clause.names:
                start, end = edges(name, tokens)
                drafts.append(Draft(name, clause, start, end))
        techniques = self._technique(lettering)
        years = self._years(lettering, clauses)
        on_map = any(token.full in self._mapwords for token in tokens) or "map" in (lettering.technique or "")
        first = [frozenset(self._usual(draft.clause)) for draft in drafts]
        if not techniques and any("lithographer" in roles for roles in first):
            techniques = frozenset(("lithography",))
        towns_before = {
            item.end
            for item in [*clauses.loose, *(o for c in clauses.clauses for o in c.others)]
            if item.label == "place"
        }
        for index, draft in enumerate(drafts):
            line = lettering.lines[tokens[draft.start].line]
            others: set[str] = set()
            for other, roles in enumerate(first):
                if other != index:
                    others |= roles
            for nameless in clauses.nameless:
                others.update(self._usual_of(nameless))
            here = Surroundings(
                side="back",
                firm=draft.name.has("firm"),
                place_near=any(item.label == "place" for item in draft.clause.others)
                or first_token(draft.clause) in towns_before,
                sheet_place=line.place,
                pencil=line.how == "pencil",
                on_map=on_map,
                same_roles=frozenset(),
                other_roles=frozenset(others),
                alone=not any(self._roles[role]["makes"] for role in others if role in self._roles),
                techniques=techniques,
                years=years,
            )
            self._judge(draft, here, first[index], lettering, tokens)
        return self._without_described(drafts)

    def _without_described(self, drafts: list[Draft]) -> list[Draft]:
        """The drafts without persons whom only a trade noun describes where somebody else has a verb of that stage."""
        by_verb: set[str] = set()
        for draft in drafts:
            if not self._only_noun(draft):
                by_verb.update(
                    self._roles[role]["stage"] for role in draft.roles if role in self._roles and draft.chosen
                )
        return [
            draft
            for draft in drafts
            if not (
                self._only_noun(draft)
                and draft.roles
                and all(self._roles[role]["stage"] in by_verb for role in draft.roles if role in self._roles)
            )
        ]

    def _only_noun(self, draft: Draft) -> bool:
        return bool(draft.chosen) and all(
            bool(choices) and self._terms[choices[0].sense["term"]]["class"] == "trade" and term.side == "back"
            for term, choices in draft.chosen
        )

    def _usual_of(self, term: TermSeen) -> Sequence[str]:
        senses = self._senses(term)
        if not senses:
            return ()
        best = max(senses, key=lambda sense: int(sense["weight"]) - 1000 * len(sense["when"]))
        roles: Sequence[str] = best["roles"]
        return roles

    def _senses(self, term: TermSeen, firm: bool = False) -> list[Mapping[str, Any]]:
        """The senses that state roles, of all terms with this form; each knows its term and is weighed down by how far that stands behind.

        A firm seldom cuts or draws: its senses of the matrix are weighed down.
        """
        return [
            {
                **sense,
                "term": ref,
                "weight": sense["weight"]
                + behind
                + (self._weights["firm-matrix"] if firm and self._of_matrix(sense) else 0),
            }
            for ref, behind in term.refs
            for sense in self._terms[ref]["senses"]
            if sense["roles"]
        ]

    def _of_matrix(self, sense: Mapping[str, Any]) -> bool:
        return all(self._roles[role]["stage"] == "matrix" for role in sense["roles"] if role in self._roles)

    def _usual(self, clause: Clause) -> list[str]:
        return [role for term in clause.terms for role in self._usual_of(term)]

    def _judge(
        self, draft: Draft, here: Surroundings, same: frozenset[str], lettering: Lettering, tokens: Sequence[Token]
    ) -> None:
        if not draft.clause.terms:
            self._judge_unlabelled(draft, here)
            return
        for term in draft.clause.terms:
            own = frozenset(self._usual_of(term))
            local = Surroundings(
                side=term.side,
                firm=here.firm,
                place_near=here.place_near,
                sheet_place=here.sheet_place,
                pencil=here.pencil,
                on_map=here.on_map,
                same_roles=same - own if len(draft.clause.terms) > 1 else frozenset(),
                other_roles=here.other_roles,
                alone=here.alone,
                techniques=here.techniques,
                years=here.years,
            )
            senses = self._senses(term, here.firm)
            if (
                term.side == "front"
                and any(self._of_matrix(sense) for sense in senses)
                and not all(self._of_matrix(sense) for sense in senses)
            ):
                joined = self._weights["joined-matrix"] if term.agent else self._weights["bare-matrix"]
                senses = [
                    {**sense, "weight": sense["weight"] + joined} if self._of_matrix(sense) else sense
                    for sense in senses
                ]
            if self._behind_model(term, tokens):
                senses = [
                    {**sense, "weight": sense["weight"] + self._weights["owner-after-model"]}
                    if set(sense["roles"]) <= self._kept_apart
                    else sense
                    for sense in senses
                ]
            choices = self._fresh(choose(senses, local, self._weights), draft)
            draft.chosen.append((term, choices))
            if not choices:
                continue
            sense = choices[0].sense
            if lettering.complete == "yes":
                draft.implied.extend(role for role in sense["implies"] if role not in draft.implied)
            draft.of = (
                draft.of
                or sense["of"]
                or (self._roles[sense["roles"][0]]["of"] if sense["roles"][0] in self._roles else None)
            )
            by_roles: dict[tuple[str, ...], int] = {}
            for choice, share in zip(choices, shares([c.weight for c in choices], self._exp), strict=True):
                key = tuple(choice.sense["roles"])
                by_roles[key] = by_roles.get(key, 0) + share
            draft.share = draft.share * by_roles[tuple(sense["roles"])] // 1000
            draft.instead.extend(
                (roles, share) for roles, share in by_roles.items() if roles != tuple(sense["roles"]) and share > 0
            )
        self._settle(draft)

    def _behind_model(self, term: TermSeen, tokens: Sequence[Token]) -> bool:
        """Whether a term that announces a name follows close upon a word for a picture."""
        return term.side == "front" and any(
            tokens[index].full in self._model_words
            for index in range(max(0, term.start - MODEL_WITHIN), term.start)
            if tokens[index].gap != "p" or index == term.start - 1
        )

    def _fresh(self, choices: list[Choice], draft: Draft) -> list[Choice]:
        """The senses with one that says something new in front: two terms of one name seldom say the same."""
        said = {role for _, before in draft.chosen if before for role in before[0].sense["roles"]}
        if not choices or not said or not set(choices[0].sense["roles"]) <= said:
            return choices
        for choice in choices:
            if (
                not set(choice.sense["roles"]) <= said
                and choice.weight >= choices[0].weight - self._weights["sense-fresh"]
            ):
                return [choice, *(other for other in choices if other is not choice)]
        return choices

    def _settle(self, draft: Draft) -> None:
        """Sets the roles of a draft from the senses chosen for its terms.

        A formula such as "aqua forti" or "ad vivum" only says how or from what: beside a word that says the work it
        adds nothing but a technique, which then stands in the place of the broad word.
        """
        senses = [(choices[0].sense, self._modifies(choices[0].sense)) for _, choices in draft.chosen if choices]
        said = [role for sense, formula in senses if not formula for role in sense["roles"]]
        for (before, senses_before), (after, senses_after) in zip(draft.chosen, draft.chosen[1:], strict=False):
            if before.end == after.start and senses_before and senses_after:  # "auf Stein gez.": two words for one act
                both = {*senses_before[0].sense["roles"], *senses_after[0].sense["roles"]}
                said = [role for role in said if role not in both or self._absorbed.get(role) not in both]
        told = [role for sense, formula in senses if formula for role in sense["roles"]]
        if said:
            technique = [role for role in told if role in self._techniques_said]
            if technique:
                said = [role for role in said if self._roles[role]["stage"] != "matrix"] + technique
        else:
            said = told
        if "dedicator" in said and any(sense["term"] == HONOURS for sense, _ in senses):
            said = [role for role in said if role != "dedicatee"]  # honours that the giver takes to himself
        if self._too_slight(draft, said):
            return
        for role in said:
            reported = self._roles[role]["reported"] if role in self._roles else role
            if reported not in draft.roles:
                draft.roles.append(reported)
            if reported != role and role not in draft.implied:
                draft.implied.append(role)

    def _too_slight(self, draft: Draft, roles: Sequence[str]) -> bool:
        """Whether a single word without forename or title is all there is to a party of a dedication that no preposition announces."""
        if not roles or not set(roles) <= {"dedicatee", "dedicator"} or draft.end - draft.start > 1:
            return False
        if draft.name.has("given", "initial", "honorific", "sameman", "firm", "mono"):
            return False
        return all(term.side == "back" or term.refs[0][0] == HONOURS for term in draft.clause.terms)

    def _modifies(self, sense: Mapping[str, Any]) -> bool:
        """Whether a sense is a formula's that says how or from what, not who."""
        stages = {self._roles[role]["stage"] for role in sense["roles"] if role in self._roles}
        return self._terms[sense["term"]]["class"] == "formula" and stages <= {"matrix", "conceiving"}

    def _without_unnamed(self, terms: list[TermSeen]) -> list[TermSeen]:
        """The terms of a clause without those whose maker is not named: in "engraved from the picture by A" nobody engraved."""
        for index in range(len(terms) - 1, 0, -1):
            term = terms[index]
            entry = self._terms[term.refs[0][0]]
            source = entry["class"] in ("preposition", "formula") and any(
                self._roles[role]["stage"] == "conceiving" for role in self._usual_of(term) if role in self._roles
            )
            if source and term.side == "front" and not term.agent and not terms[index - 1].agent:
                return terms[index:]
        return terms

    def _judge_unlabelled(self, draft: Draft, here: Surroundings) -> None:
        """A name without a term: its role by the first rule of place and company that holds."""
        beside_address = any(item.label in ("place", "street", "office") for item in draft.clause.others)
        local = Surroundings(
            side="none",
            firm=here.firm,
            place_near=beside_address,
            sheet_place=here.sheet_place,
            pencil=here.pencil,
            on_map=here.on_map,
            same_roles=frozenset(),
            other_roles=here.other_roles,
            alone=here.alone,
            techniques=here.techniques,
            years=here.years,
            monogram=draft.name.has("mono"),
        )
        for rule in self._unlabelled:
            if all(holds(kind, values, local) for kind, values in rule["when"]):
                draft.roles = list(rule["roles"])
                draft.rule = rule
                draft.share = rule["share"]
                draft.of = self._roles[draft.roles[0]]["of"] if draft.roles and draft.roles[0] in self._roles else None
                return

    # --- the reading ----------------------------------------------------------------------------------

    def write(
        self,
        reading: Reading,
        readings: Sequence[tuple[list[Draft], Clauses, int]],
        tokens: Sequence[Token],
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
        for index, draft in enumerate(kept):
            text, line, span = self._slice(tokens, draft.start, draft.end, lines, name=draft.name)
            certain = self._certainty(draft, readings)
            terms = []
            for term, choices in draft.chosen:
                term_text, term_line, term_span = self._slice(tokens, term.start, term.end, lines)
                terms.append(
                    TermRead(term_text, term_line, term_span, list(choices[0].sense["roles"]) if choices else [])
                )
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
                    same_as=self._same_as(draft, kept, index),
                    maker=None,
                    members=[],
                    unknown=1.0,
                    candidates=[],
                    confidence=confidence / 1000,
                    doubtful=confidence < self._weights["doubtful"],
                    instead=[
                        {"roles": list(roles), "share": share / 1000}
                        for roles, share in sorted(draft.instead, key=lambda pair: (-pair[1], pair[0]))[:3]
                    ],
                    because=self._because(draft, tokens, lines),
                )
            )
        self._afters(reading)
        self._rest(reading, drafts, clauses, tokens, lines)

    def _slice(
        self, tokens: Sequence[Token], start: int, end: int, lines: Sequence[Any], name: Name | None = None
    ) -> tuple[str, int, tuple[int, int]]:
        """The text of tokens [start, end) on the line of the first, with the stop that belongs to it and brackets made whole."""
        line = tokens[start].line
        last = start
        while last + 1 < end and tokens[last + 1].line == line:
            last += 1
        text = lines[line].text
        left, right = tokens[start].start, tokens[last].end
        while right < len(text) and text[right] == "]" and text.count("[", left, right) > text.count("]", left, right):
            right += 1
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
        self, terms: Sequence[TermRead], tokens: Sequence[Token], draft: Draft, lines: Sequence[Any]
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

    def _same_as(self, draft: Draft, kept: Sequence[Draft], index: int) -> int | None:
        if not draft.name.sameman:
            return None
        for other in range(index - 1, -1, -1):
            if any(self._roles[role]["makes"] for role in kept[other].roles if role in self._roles):
                return other
        return index - 1 if index else None

    def _certainty(self, draft: Draft, readings: Sequence[tuple[list[Draft], Clauses, int]]) -> int:
        """The share, in thousandths, of the segmentations that give this name these roles, times the share of the chosen senses."""
        total = agreed = 0
        wanted = tuple(draft.roles)
        for drafts, _, weight in readings:
            total += weight
            for other in drafts:
                if (
                    other.start < draft.end
                    and draft.start < other.end
                    and tuple(r for r in other.roles if r not in self._kept_apart) == wanted
                ):
                    agreed += weight
                    break
        share = agreed * draft.share // total if total else 0
        if draft.roles and all(
            self._roles[role]["stage"] == "sponsoring" for role in draft.roles if role in self._roles
        ):
            share = share * self._weights["share-sponsoring"] // 1000  # dedications are loosely built
        if any(GUESSED in term.respelt for term in draft.clause.terms):
            share = share * self._weights["share-guessed"] // 1000
        return share

    def _afters(self, reading: Reading) -> None:
        """Points each maker of the matrix to the statement of the model or drawing it was made after."""
        sources = [i for i, s in enumerate(reading.statements) if s.of in ("model", "drawing")]
        for index, statement in enumerate(reading.statements):
            if statement.of == "plate" and sources and index not in sources:
                drawings = [i for i in sources if reading.statements[i].of == "drawing"]
                statement.after = (drawings or sources)[-1]

    def _because(self, draft: Draft, tokens: Sequence[Token], lines: Sequence[Any]) -> list[str]:
        """The reasons of a statement in plain sentences, from the compiled templates."""
        reasons: list[str] = []
        if draft.rule is not None:
            reasons.append(str(draft.rule["reason"]))
        for term, choices in draft.chosen:
            text, _, _ = self._slice(tokens, term.start, term.end, lines)
            entry = self._terms[choices[0].sense["term"] if choices else term.refs[0][0]]
            if choices:
                sense = choices[0].sense
                reasons.append(
                    self._words["term"].format(
                        text=text,
                        form=entry["form"],
                        language=entry["language"],
                        role=", ".join(self._roles[r]["label"] for r in sense["roles"] if r in self._roles),
                        reason=sense["reason"],
                    )
                )
            reasons.append(self._words["before" if term.side == "front" else "behind"].format(text=text))
            reasons.extend(
                self._words["guessed" if rule == GUESSED else "respelt"].format(
                    text=text, form=entry["form"], rule=rule
                )
                for rule in term.respelt
            )
        return reasons

    def _rest(
        self, reading: Reading, drafts: Sequence[Draft], clauses: Clauses, tokens: Sequence[Token], lines: Sequence[Any]
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
        for item in sorted(clauses.unread, key=lambda item: item.start):
            if run and (item.start != run[-1] + 1 or tokens[item.start].line != tokens[run[-1]].line):
                self._unread(reading, run, tokens, lines)
                run = []
            run.extend(range(item.start, item.end))
        if run:
            self._unread(reading, run, tokens, lines)
        reading.notices.sort(key=lambda notice: (notice.line, notice.span))

    def _granter(self, tokens: Sequence[Token], item: Item, lines: Sequence[Any]) -> str | None:
        """The power that a notice names at its end, where the list of powers knows it: Regis in cum privilegio Regis."""
        for start in range(item.start + 1, item.end):
            if " ".join(token.full for token in tokens[start : item.end]) in self._powers:
                return self._slice(tokens, start, item.end, lines)[0]
        return None

    def _publication_line(self, draft: Draft, tokens: Sequence[Token], lines: Sequence[Any]) -> Notice | None:
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

    def _unread(self, reading: Reading, run: Sequence[int], tokens: Sequence[Token], lines: Sequence[Any]) -> None:
        text, line, span = self._slice(tokens, run[0], run[-1] + 1, lines)
        reading.unread.append(Unread(text, line, span))
