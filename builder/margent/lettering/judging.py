"""What each clause of a lettering states: roles by sense, and unlabelled names by their place and company."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from margent.lettering.clauses import Clause, Clauses, Name, TermSeen, edges, first_token, join_firms
from margent.lettering.houses import Houses
from margent.lettering.participles import Participles
from margent.lettering.parties import Parties
from margent.lettering.senses import HONOURS, Choice, Refs, Senses, Surroundings, choose, holds
from margent.lettering.tokens import Token
from margent.lettering.weights import shares

if TYPE_CHECKING:
    from margent.lettering.reader import Lettering


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
        self._techniques: Mapping[str, str] = compiled["techniques"]
        self._mapwords = frozenset(compiled["mapwords"])
        self._techniques_said = frozenset(compiled["technique-roles"])
        self._model_words = frozenset(compiled["modelwords"])
        self._absorbed: Mapping[str, str] = compiled["absorbed"]
        self._kept_apart = frozenset(compiled["kept-apart"])
        self._senses = Senses(compiled)
        self._participles = Participles(compiled, self._senses)
        self._houses = Houses(compiled)
        self._parties = Parties(compiled, self._senses)

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
        """The years of the record, or closer ones that the lettering names."""
        first, last = lettering.years or (0, 9999)
        years = [
            year
            for item in [*clauses.loose, *(other for clause in clauses.clauses for other in clause.others)]
            if item.label == "date" and item.ref and first <= (year := int(item.ref[:4])) <= last
        ]
        return (min(years), max(years)) if years else lettering.years

    # --- drafts ---------------------------------------------------------------------------------------

    def drafts(self, clauses: Clauses, tokens: Sequence[Token], lettering: Lettering) -> list[Draft]:
        """The statements of one segmentation, with roles."""
        self._parties.settle(clauses, tokens)
        self._participles.settle(clauses, tokens)
        for clause in clauses.clauses:
            self._houses.settle(clause, tokens)
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
        usual = {id(clause): frozenset(self._usual(clause)) for clause in clauses.clauses}
        first = [usual[id(draft.clause)] for draft in drafts]
        said_by = Counter([role for roles in first for role in roles])
        if not techniques and "lithographer" in said_by:
            techniques = frozenset(("lithography",))
        nameless = {role for refs in self._without_name(clauses) for role in self._senses.usual(refs)}
        if "dedicatee" in nameless:
            nameless.add("dedicator")  # "dedicato al merito di ...": somebody dedicates, though nobody signs
        towns_before = {
            item.end
            for item in [*clauses.loose, *(o for c in clauses.clauses for o in c.others)]
            if item.label == "place"
        }
        by_place: set[str] = set()
        for index, draft in enumerate(drafts):
            line = lettering.lines[tokens[draft.start].line]
            own = first[index]
            others = {role for role, times in said_by.items() if times > (role in own)} | nameless
            if not draft.clause.terms:
                others |= by_place
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
            if not draft.clause.terms:
                by_place.update(draft.roles)
        return self._without_described(drafts)

    def _without_name(self, clauses: Clauses) -> Iterator[Refs]:
        """The terms that say a role of nobody named: those that found no name, and notices that may be terms as well (D.D.D.)."""
        for term in clauses.nameless:
            yield term.refs
        for item in clauses.loose:
            if item.label == "notice":
                yield ((item.ref, 0), *item.others)

    def _without_described(self, drafts: list[Draft]) -> list[Draft]:
        """The drafts without persons whom only a trade noun describes where somebody else has a verb of that stage."""
        nouns = [self._only_noun(draft) for draft in drafts]
        if not any(nouns):
            return drafts
        by_verb = {
            self._roles[role]["stage"]
            for draft, noun in zip(drafts, nouns, strict=True)
            for role in draft.roles
            if not noun and draft.chosen and role in self._roles
        }
        return [
            draft
            for draft, noun in zip(drafts, nouns, strict=True)
            if not (
                noun
                and draft.roles
                and all(self._roles[role]["stage"] in by_verb for role in draft.roles if role in self._roles)
            )
        ]

    def _only_noun(self, draft: Draft) -> bool:
        return bool(draft.chosen) and all(
            bool(choices) and self._terms[choices[0].sense["term"]]["class"] == "trade" and term.side == "back"
            for term, choices in draft.chosen
        )

    def _usual(self, clause: Clause) -> list[str]:
        return [role for term in clause.terms for role in self._senses.usual(term.refs)]

    def _judge(
        self, draft: Draft, here: Surroundings, same: frozenset[str], lettering: Lettering, tokens: Sequence[Token]
    ) -> None:
        if not draft.clause.terms:
            self._judge_unlabelled(draft, here)
            return
        said: set[str] = set()
        for term in draft.clause.terms:
            own = frozenset(self._senses.usual(term.refs))
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
            senses = self._senses.weighed(term.refs, here.firm)
            if term.side == "front" and 0 < sum([sense["of-matrix"] for sense, _ in senses]) < len(senses):
                told = any(here.other_roles.issuperset(sense["roles"]) for sense, _ in senses if not sense["of-matrix"])
                joined = self._weights["joined-matrix" if term.agent or told else "bare-matrix"]
                senses = [(sense, weight + joined if sense["of-matrix"] else weight) for sense, weight in senses]
            if self._behind_model(term, tokens):
                more = self._weights["owner-after-model"]
                senses = [
                    (sense, weight + more if self._kept_apart.issuperset(sense["roles"]) else weight)
                    for sense, weight in senses
                ]
            choices = self._fresh(choose(senses, local, self._weights), said)
            draft.chosen.append((term, choices))
            if not choices:
                continue
            sense = choices[0].sense
            said.update(sense["roles"])
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

    def _fresh(self, choices: list[Choice], said: Set[str]) -> list[Choice]:
        """The senses with one in front that says what the name's terms before have not said: two seldom say the same."""
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
        chosen = self._without_callings(draft.chosen)
        senses = [(choices[0].sense, self._modifies(choices[0].sense)) for _, choices in chosen if choices]
        said = [role for sense, formula in senses if not formula for role in sense["roles"]]
        absorbed: set[str] = set()
        for (before, senses_before), (after, senses_after) in pairwise(chosen):
            if before.end == after.start and senses_before and senses_after:  # "auf Stein gez.": two words for one act
                both = {*senses_before[0].sense["roles"], *senses_after[0].sense["roles"]}
                absorbed.update(role for role in both if self._absorbed.get(role) in both)
        said = [role for role in said if role not in absorbed]
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

    def _without_callings(self, chosen: list[tuple[TermSeen, list[Choice]]]) -> list[tuple[TermSeen, list[Choice]]]:
        """The terms without trade nouns that only describe a person whose verb follows at once: "A. architect drew"."""
        return [
            (term, choices)
            for index, (term, choices) in enumerate(chosen)
            if not (
                term.side == "back"
                and self._is_trade(term, choices)
                and index + 1 < len(chosen)
                and chosen[index + 1][0].start == term.end
                and not self._is_trade(*chosen[index + 1])
            )
        ]

    def _is_trade(self, term: TermSeen, choices: Sequence[Choice]) -> bool:
        ref = choices[0].sense["term"] if choices else term.refs[0][0]
        return bool(self._terms[ref]["class"] == "trade")

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
