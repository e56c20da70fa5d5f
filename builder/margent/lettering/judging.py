"""What each clause of a lettering states: roles by sense, and unlabelled names by their place and company."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any, Final

from margent.lettering.clauses import Clause, Clauses, Name, TermSeen, edges, first_token, join_firms
from margent.lettering.houses import Houses
from margent.lettering.lexicon import Item
from margent.lettering.participles import Participles
from margent.lettering.parties import Parties
from margent.lettering.senses import HONOURS, NO_ROLES, Choice, Refs, Sense, Senses, Surroundings, choose, holds
from margent.lettering.tokens import Token
from margent.lettering.transcription import Lettering
from margent.lettering.weights import shares

PARTIES: Final = frozenset(("dedicatee", "dedicator"))
"""The roles of a dedication."""
ADDRESS: Final = 3
"""Words of honours that address somebody, at least."""
HEADS: Final = "^nbep"
"""Gaps before the head of a line."""
MODEL_WITHIN: Final = 4
"""How many tokens before an address a word for a picture may stand."""


class Draft:
    """A statement in the making: a name in its clause, with the senses chosen for its terms."""

    __slots__ = ("chosen", "clause", "end", "implied", "instead", "name", "of", "roles", "rule", "share", "start")

    def __init__(self, name: Name, clause: Clause, start: int, end: int) -> None:
        self.name = name
        self.clause = clause
        self.start = start
        self.end = end
        self.chosen: list[tuple[TermSeen, list[Choice]]] = []
        self.roles: list[str] = []
        self.implied: list[str] = []
        self.of: str | None = None
        self.rule: Mapping[str, Any] | None = None
        self.share = 1000
        self.instead: list[tuple[tuple[str, ...], int]] = []


class Sheet:
    """What is the same for all segmentations of a lettering."""

    __slots__ = ("lettering", "on_map", "techniques", "tokens")

    def __init__(self, tokens: list[Token], lettering: Lettering, techniques: frozenset[str], on_map: bool) -> None:
        self.tokens = tokens
        self.lettering = lettering
        self.techniques = techniques  # Those that its record tells.
        self.on_map = on_map


class Judge:
    """Decides what each clause of a lettering states, by the compiled senses and rules."""

    def __init__(self, compiled: Mapping[str, Any]) -> None:
        self._terms: dict[str, dict[str, Any]] = compiled["terms"]
        self._roles: dict[str, dict[str, Any]] = compiled["roles"]
        self._weights: dict[str, int] = compiled["grammar"]["lookup"]
        self._firms: dict[str, Any] = compiled["firms"]
        self._unlabelled: Sequence[Mapping[str, Any]] = compiled["unlabelled"]
        self._exp: list[int] = compiled["exp"]
        self._techniques: dict[str, str] = compiled["techniques"]
        self._stages = {role: str(entry["stage"]) for role, entry in self._roles.items()}
        self._makers = frozenset(role for role, entry in self._roles.items() if entry["makes"])
        self._trades = frozenset(term for term, entry in self._terms.items() if entry["class"] == "trade")
        self._mapwords = frozenset(compiled["mapwords"])
        self._techniques_said = frozenset(compiled["technique-roles"])
        self._model_words = frozenset(compiled["modelwords"])
        self._absorbed: dict[str, str] = compiled["absorbed"]
        self._kept_apart = frozenset(compiled["kept-apart"])
        self._senses = Senses(compiled)
        self._participles = Participles(compiled, self._senses)
        self._houses = Houses(compiled)
        self._parties = Parties(compiled, self._senses)

    # --- what the record and the whole lettering say -------------------------------------------------

    def sheet(self, tokens: list[Token], lettering: Lettering) -> Sheet:
        """What the segmentations of a lettering share."""
        technique = lettering.technique or ""
        on_map = "map" in technique or not self._mapwords.isdisjoint([token.full for token in tokens])
        return Sheet(tokens, lettering, self._technique(technique), on_map)

    def _technique(self, technique: str) -> frozenset[str]:
        words = "".join([self._fold_word(char) for char in technique]).split(" ")
        return frozenset([self._techniques[word] for word in words if word in self._techniques])

    @staticmethod
    def _fold_word(char: str) -> str:
        """An ASCII letter in lower case, anything else a space: the technique field is the record's English."""
        if "A" <= char <= "Z":
            return chr(ord(char) + 32)
        return char if "a" <= char <= "z" else " "

    def _years(self, lettering: Lettering, others: list[Item]) -> tuple[int, int] | None:
        """The years of the record, or closer ones that the lettering names."""
        first, last = lettering.years or (0, 9999)
        years = [int(item.ref[:4]) for item in others if item.label == "date" and item.ref]
        closer = [year for year in years if first <= year <= last]
        return (min(closer), max(closer)) if closer else lettering.years

    # --- drafts ---------------------------------------------------------------------------------------

    def drafts(self, clauses: Clauses, sheet: Sheet) -> list[Draft]:
        """The statements of one segmentation, with roles."""
        tokens, lettering = sheet.tokens, sheet.lettering
        self._parties.settle(clauses, tokens)
        self._participles.settle(clauses, tokens)
        drafts: list[Draft] = []
        first: list[frozenset[str]] = []
        said_by: dict[str, int] = {}
        others = list(clauses.loose)
        for clause in clauses.clauses:
            self._houses.settle(clause, tokens)
            usual = self._usual(clause)
            join_firms(clause, usual, [self._stages[role] for role in usual if role in self._stages], self._firms)
            said = frozenset(usual)
            for name in clause.names:
                start, end = edges(name, tokens)
                drafts.append(Draft(name, clause, start, end))
                first.append(said)
                for role in said:
                    said_by[role] = said_by.get(role, 0) + 1
            others += clause.others
        techniques = sheet.techniques
        if not techniques and "lithographer" in said_by:
            techniques = frozenset(("lithography",))
        nameless = {role for refs in self._without_name(clauses) for role in self._senses.usual(refs)}
        if "dedicatee" in nameless or any(self._addresses(clause, tokens) for clause in clauses.clauses):
            nameless.add("dedicator")  # "dedicato al merito di ...": somebody dedicates, though nobody signs
        years = self._years(lettering, others)
        towns_before = {item.end for item in others if item.label == "place"}
        by_place: set[str] = set()
        for draft, own in zip(drafts, first, strict=True):
            clause = draft.clause
            line = lettering.lines[tokens[draft.start].line]
            beside = {role for role, times in said_by.items() if times > 1 or role not in own}
            beside |= nameless
            if not clause.terms:
                beside |= by_place
            here = Surroundings(
                "back",
                draft.name.has("firm"),
                _any_under(clause.others, ("place",)) or (bool(towns_before) and first_token(clause) in towns_before),
                line.place,
                line.how == "pencil",
                sheet.on_map,
                NO_ROLES,
                beside,
                self._makers.isdisjoint(beside),
                techniques,
                years,
            )
            if clause.terms:
                self._judge(draft, here, own, sheet)
            else:
                self._judge_unlabelled(draft, here)
                by_place.update(draft.roles)
        return self._without_described(drafts)

    def _addresses(self, clause: Clause, tokens: list[Token]) -> bool:
        """Whether honours of several words at the head of a line address somebody: that is a dedication, whoever gives it."""
        return any(
            term.refs[0][0] == HONOURS
            and term.side == "front"
            and term.end - term.start >= ADDRESS
            and tokens[term.start].gap in HEADS
            for term in clause.terms
        )

    def _without_name(self, clauses: Clauses) -> Iterator[Refs]:
        """The terms that say a role of nobody named: those that found no name, and notices that may be terms as well (D.D.D.)."""
        for term in clauses.nameless:
            yield term.refs
        for item in clauses.loose:
            if item.label == "notice":
                yield ((item.ref, 0), *item.others)

    def _without_described(self, drafts: list[Draft]) -> list[Draft]:
        """The drafts without persons whom only a trade noun describes where somebody else has a verb of that stage."""
        nouns = [draft for draft in drafts if self._only_noun(draft)]
        if not nouns:
            return drafts
        by_verb = {
            self._stages[role]
            for draft in drafts
            if draft.chosen and draft not in nouns
            for role in draft.roles
            if role in self._stages
        }
        return [
            draft
            for draft in drafts
            if draft not in nouns
            or not draft.roles
            or not all(self._stages[role] in by_verb for role in draft.roles if role in self._stages)
        ]

    def _only_noun(self, draft: Draft) -> bool:
        for term, choices in draft.chosen:
            if term.side != "back" or not choices or choices[0].sense.term not in self._trades:
                return False
        return bool(draft.chosen)

    def _usual(self, clause: Clause) -> list[str]:
        return [role for term in clause.terms for role in self._senses.usual(term.refs)]

    def _judge(self, draft: Draft, here: Surroundings, same: frozenset[str], sheet: Sheet) -> None:
        said: set[str] = set()
        terms = draft.clause.terms
        for term in terms:
            here.side = term.side
            if len(terms) > 1:
                here.same_roles = same.difference(self._senses.usual(term.refs))
            choices = choose(self._weighed(term, here, sheet.tokens), here, self._weights)
            if said:
                choices = self._fresh(choices, said)
            draft.chosen.append((term, choices))
            if not choices:
                continue
            sense = choices[0].sense
            said.update(sense.roles)
            if sheet.lettering.complete == "yes":
                draft.implied.extend([role for role in sense.implies if role not in draft.implied])
            draft.of = draft.of or sense.of or self._of(sense.roles)
        self._settle(draft)

    def _of(self, roles: Sequence[str]) -> str | None:
        """What the first of some roles is work on."""
        found: str | None = self._roles[roles[0]]["of"] if roles and roles[0] in self._roles else None
        return found

    def _weighed(self, term: TermSeen, here: Surroundings, tokens: list[Token]) -> list[Choice]:
        """The senses of a term with what they weigh where it stands, before their conditions are asked."""
        weighed = self._senses.weighed(term.refs, here.firm)
        if term.side == "front":
            of_matrix = [choice for choice in weighed if choice.sense.of_matrix]
            if 0 < len(of_matrix) < len(weighed):
                told = any(
                    here.other_roles.issuperset(choice.sense.roles) for choice in weighed if not choice.sense.of_matrix
                )
                for choice in of_matrix:
                    choice.weight += self._weights["joined-matrix" if term.agent or told else "bare-matrix"]
            if self._behind_model(term, tokens):
                for choice in weighed:
                    if self._kept_apart.issuperset(choice.sense.roles):
                        choice.weight += self._weights["owner-after-model"]
        return weighed

    def weigh(self, drafts: list[Draft]) -> None:
        """Sets of each draft how sure its chosen senses are among all that may hold, and what else they may say."""
        for draft in drafts:
            for _, choices in draft.chosen:
                if len(choices) < 2:
                    continue
                by_roles: dict[tuple[str, ...], int] = {}
                for choice, share in zip(
                    choices, shares([choice.weight for choice in choices], self._exp), strict=True
                ):
                    key = tuple(choice.sense.roles)
                    by_roles[key] = by_roles.get(key, 0) + share
                chosen = tuple(choices[0].sense.roles)
                draft.share = draft.share * by_roles[chosen] // 1000
                draft.instead.extend(
                    [(roles, share) for roles, share in by_roles.items() if share > 0 and roles != chosen]
                )

    def _behind_model(self, term: TermSeen, tokens: list[Token]) -> bool:
        """Whether a term that announces a name follows close upon a word for a picture."""
        for index in range(max(0, term.start - MODEL_WITHIN), term.start):
            token = tokens[index]
            if token.full in self._model_words and (token.gap != "p" or index == term.start - 1):
                return True
        return False

    def _fresh(self, choices: list[Choice], said: set[str]) -> list[Choice]:
        """The senses with one in front that says what the name's terms before have not said: two seldom say the same."""
        if not choices or not said.issuperset(choices[0].sense.roles):
            return choices
        for choice in choices:
            if (
                not said.issuperset(choice.sense.roles)
                and choice.weight >= choices[0].weight - self._weights["sense-fresh"]
            ):
                return [choice, *[other for other in choices if other is not choice]]
        return choices

    def _settle(self, draft: Draft) -> None:
        """Sets the roles of a draft from the senses chosen for its terms.

        A formula such as "aqua forti" or "ad vivum" only says how or from what: beside a word that says the work it
        adds nothing but a technique, which then stands in the place of the broad word.
        """
        chosen = draft.chosen
        if len(chosen) == 1:
            said = list(chosen[0][1][0].sense.roles) if chosen[0][1] else []
        else:
            chosen = self._without_callings(chosen)
            said = self._together(chosen)
        if "dedicator" in said and any(choices and choices[0].sense.term == HONOURS for _, choices in chosen):
            said = [role for role in said if role != "dedicatee"]  # honours that the giver takes to himself
        if self._too_slight(draft, said):
            return
        for role in said:
            reported = self._roles[role]["reported"] if role in self._roles else role
            if reported not in draft.roles:
                draft.roles.append(reported)
            if reported != role and role not in draft.implied:
                draft.implied.append(role)

    def _together(self, chosen: list[tuple[TermSeen, list[Choice]]]) -> list[str]:
        """The roles that several terms of one name say together."""
        senses = [(choices[0].sense, self._modifies(choices[0].sense)) for _, choices in chosen if choices]
        said = [role for sense, formula in senses if not formula for role in sense.roles]
        absorbed: set[str] = set()
        for (before, senses_before), (after, senses_after) in pairwise(chosen):
            if before.end == after.start and senses_before and senses_after:  # "auf Stein gez.": two words for one act
                both = {*senses_before[0].sense.roles, *senses_after[0].sense.roles}
                absorbed.update([role for role in both if self._absorbed.get(role) in both])
        said = [role for role in said if role not in absorbed]
        told = [role for sense, formula in senses if formula for role in sense.roles]
        if not said:
            return told
        technique = [role for role in told if role in self._techniques_said]
        if technique:
            return [role for role in said if self._stages[role] != "matrix"] + technique
        return said

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

    def _is_trade(self, term: TermSeen, choices: list[Choice]) -> bool:
        return (choices[0].sense.term if choices else term.refs[0][0]) in self._trades

    def _too_slight(self, draft: Draft, roles: Sequence[str]) -> bool:
        """Whether a single word without forename or title is all there is to a party of a dedication that no preposition announces."""
        if draft.end - draft.start > 1 or not roles or not PARTIES.issuperset(roles):
            return False
        if draft.name.has("given", "initial", "honorific", "sameman", "firm", "mono"):
            return False
        return all(term.side == "back" or term.refs[0][0] == HONOURS for term in draft.clause.terms)

    def _modifies(self, sense: Sense) -> bool:
        """Whether a sense is a formula's that says how or from what, not who."""
        stages = {self._stages[role] for role in sense.roles if role in self._stages}
        return bool(self._terms[sense.term]["class"] == "formula") and stages <= {"matrix", "conceiving"}

    def _judge_unlabelled(self, draft: Draft, here: Surroundings) -> None:
        """A name without a term: its role by the first rule of place and company that holds."""
        here.side = "none"
        here.place_near = _any_under(draft.clause.others, ("place", "street", "office"))
        here.monogram = draft.name.has("mono")
        for rule in self._unlabelled:
            if all(holds(kind, values, here) for kind, values in rule["when"]):
                draft.roles = list(rule["roles"])
                draft.rule = rule
                draft.share = rule["share"]
                draft.of = self._of(draft.roles)
                return


def _any_under(items: list[Item], labels: Sequence[str]) -> bool:
    """Whether any of some items stands under one of the labels."""
    return any(item.label in labels for item in items)
