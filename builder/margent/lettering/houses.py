"""Houses named by their trade and bodies named by what they are: Tipografia dell'Ancora, the Holm Mirror."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from margent.lettering.clauses import Clause, Name, TermSeen
from margent.lettering.tokens import CAPITALISED, CAPITALS, LOWERCASE, Token

NAMING: Final = (CAPITALISED, CAPITALS)
"""Shapes of the words of a body's name."""
PERSONAL: Final = ("given", "initial", "honorific", "kin", "mono", "sameman")
"""Labels that show a name to be a person's, whose house the trade word only announces."""


class Houses:
    """Tells a house named by its trade from a trade word that announces its master, and gives it its whole name."""

    def __init__(self, compiled: Mapping[str, Any]) -> None:
        self._trades = frozenset(compiled["housewords"])
        self._articles = frozenset(compiled["housearticles"])
        self._bodies = frozenset(compiled["body-words"])
        self._joints = frozenset(compiled["body-joints"])

    def settle(self, clause: Clause, tokens: list[Token]) -> None:
        """Lengthens the first name of a clause by the trade word before it, where the two are the name of a house.

        Where another term announces the house as a whole ("presso la Calcografia ..."), the trade word says nothing more.
        """
        before = [term for term in clause.terms if term.side == "front"]
        floor = 0
        for name in clause.names:
            floor = max([floor, *[term.end for term in clause.terms if term.end <= name.start]])
            self._complete(name, floor, tokens)
            floor = name.end
        if not before or not clause.names:
            return
        trade, name = before[-1], clause.names[0]
        announced = len(before) > 1
        if self._is_house(trade, name, tokens, announced):
            name.start = trade.start
            name.labels.append("firm")
            if announced:
                clause.terms.remove(trade)
                if tokens[trade.start - 1].full in self._articles and before[-2].end <= trade.start - 1:
                    name.start -= 1

    def _complete(self, name: Name, floor: int, tokens: list[Token]) -> None:
        """Gives a society, company or journal the words before the one that says what it is, as far as they are capitalised."""
        if name.has(*PERSONAL) or not any(tokens[index].full in self._bodies for index in range(name.start, name.end)):
            return
        start = name.start
        while start > floor and tokens[start].gap == "s":
            joint = start - 1 > floor and tokens[start - 1].full in self._joints and tokens[start - 1].gap == "s"
            if tokens[start - 1].shape in NAMING:
                start -= 1
            elif joint and tokens[start - 2].shape in NAMING:
                start -= 2
            else:
                break
        if start > floor and tokens[start].gap == "s" and tokens[start - 1].full in self._articles:
            start -= 1
        if start < name.start:
            name.start = start
            name.labels.append("firm")

    def _is_house(self, trade: TermSeen, name: Name, tokens: list[Token], announced: bool) -> bool:
        if tokens[trade.start].full not in self._trades or trade.agent or name.has(*PERSONAL):
            return False
        if not trade.start < name.start <= trade.end + 2:
            return False
        joined = any(tokens[index].full in self._articles for index in range(trade.start + 1, name.end - 1))
        adjective = name.start == trade.end and (announced or tokens[name.start].shape == LOWERCASE)
        return joined or adjective
