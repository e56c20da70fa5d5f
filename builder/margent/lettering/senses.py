"""Which sense a term has where it stands: conditions weighed against the rest of the lettering."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

NO_ROLES: Final[frozenset[str]] = frozenset()


class Surroundings:
    """What the conditions of a sense may ask about one name and its lettering."""

    __slots__ = (
        "alone",
        "firm",
        "monogram",
        "on_map",
        "other_roles",
        "pencil",
        "place_near",
        "same_roles",
        "sheet_place",
        "side",
        "techniques",
        "years",
    )

    def __init__(
        self,
        side: str,
        firm: bool,
        place_near: bool,
        sheet_place: str | None,
        pencil: bool,
        on_map: bool,
        same_roles: frozenset[str],
        other_roles: set[str],
        alone: bool,
        techniques: frozenset[str],
        years: tuple[int, int] | None,
        monogram: bool = False,
    ) -> None:
        self.side = side  # front: the term stands before the name; back: behind it.
        self.firm = firm
        self.place_near = place_near
        self.sheet_place = sheet_place
        self.pencil = pencil
        self.on_map = on_map
        self.same_roles = same_roles  # Roles that other terms give to the same name.
        self.other_roles = other_roles  # Roles of the other names.
        self.alone = alone
        self.techniques = techniques
        self.years = years
        self.monogram = monogram


class Sense:
    """One thing that a term may say; never changed once made."""

    __slots__ = ("implies", "of", "of_matrix", "reason", "roles", "term", "weight", "when")

    def __init__(
        self,
        term: str,
        weight: int,
        roles: list[str],
        of: str | None,
        implies: list[str],
        reason: str,
        when: list[tuple[str, Sequence[Any]]],
        of_matrix: bool,
    ) -> None:
        self.term = term
        self.weight = weight
        self.roles = roles
        self.of = of
        self.implies = implies
        self.reason = reason
        self.when = when
        self.of_matrix = of_matrix  # Whether it says only work on the matrix.


class Choice:
    """A sense and its standing among the senses of its term, best first; weights in thousandths of a nat."""

    __slots__ = (
        "sense",
        "weight",
    )

    def __init__(self, sense: Sense, weight: int) -> None:
        self.sense = sense
        self.weight = weight


def holds(kind: str, values: Sequence[Any], here: Surroundings) -> bool | None:
    """Whether a condition holds; None where the lettering and its record do not say."""
    if kind == "alone":
        return here.alone
    if kind == "beside":
        return any(value in here.other_roles for value in values)
    if kind == "same-name":
        return any(value in here.same_roles for value in values)
    if kind == "technique":
        return any(value in here.techniques for value in values) if here.techniques else None
    if kind == "during":
        if here.years is None:
            return None
        low, high = here.years
        if any(first <= low and high <= last for first, last in values):
            return True
        return None if any(low <= last and first <= high for first, last in values) else False
    if kind == "sheet-place":
        return here.sheet_place in values if here.sheet_place else None
    if kind == "position":
        return here.side in values
    if kind == "name-kind":
        return ("firm" if here.firm else "person") in values
    if kind == "place-near":
        return here.place_near
    if kind == "map":
        return here.on_map
    if kind == "monogram":
        return here.monogram
    if kind == "pencil":
        return here.pencil
    return False


HONOURS: Final = "dedicatory"
"""The term that honours in a dedication act as."""

Refs = Sequence[tuple[str, int]]
"""Terms that have one form, best first, and how far each stands behind the best."""


def choose(weighed: list[Choice], here: Surroundings, weights: dict[str, int]) -> list[Choice]:
    """The senses that may hold here, best first; those with a condition that fails are left out.

    `weighed` has every sense with its weight before its conditions are asked, which is changed.
    """
    found: list[Choice] = []
    for choice in weighed:
        for kind, values in choice.sense.when:
            answer = holds(kind, values, here)
            if answer is None:
                choice.weight += weights["sense-untold"]
            elif answer:
                choice.weight += weights["sense-met"]
            else:
                break
        else:
            found.append(choice)
    if len(found) > 1:
        found.sort(key=_heaviest)
    return found


def _heaviest(choice: Choice) -> int:
    return -choice.weight


class Senses:
    """The senses of every term that state roles, prepared once for all letterings."""

    def __init__(self, compiled: Mapping[str, Any]) -> None:
        stages = {role: entry["stage"] for role, entry in compiled["roles"].items()}
        self._firm_matrix: int = compiled["grammar"]["lookup"]["firm-matrix"]
        self._stating: dict[str, list[Sense]] = {}
        self._easiest: dict[str, tuple[int, list[str]]] = {}
        for term, entry in compiled["terms"].items():
            senses = [
                Sense(
                    term,
                    sense["weight"],
                    sense["roles"],
                    sense["of"],
                    sense["implies"],
                    sense["reason"],
                    [(kind, values) for kind, values in sense["when"]],
                    all(stages.get(role, "matrix") == "matrix" for role in sense["roles"]),
                )
                for sense in entry["senses"]
                if sense["roles"]
            ]
            self._stating[term] = senses
            if senses:
                self._easiest[term] = _easiest(senses)

    def weighed(self, refs: Refs, firm: bool) -> list[Choice]:
        """The senses of all terms with one form, each weighed down by how far its term stands behind.

        A firm seldom cuts or draws, so that senses that say only work on the matrix are weighed down for it.
        """
        malus = self._firm_matrix if firm else 0
        return [
            Choice(sense, sense.weight + behind + (malus if sense.of_matrix else 0))
            for ref, behind in refs
            for sense in self._stating[ref]
        ]

    def usual(self, refs: Refs) -> Sequence[str]:
        """The roles that terms of one form state where nothing else is known; none where they state no role."""
        roles: Sequence[str] = ()
        best: int | None = None
        for ref, behind in refs:
            easiest = self._easiest.get(ref)
            if easiest is not None and (best is None or easiest[0] + behind > best):
                best, roles = easiest[0] + behind, easiest[1]
        return roles


def _easiest(senses: Sequence[Sense]) -> tuple[int, list[str]]:
    """The weight and the roles of the sense that asks the least of its surroundings."""
    weights = [sense.weight - 1000 * len(sense.when) for sense in senses]
    best = max(weights)
    return best, senses[weights.index(best)].roles
