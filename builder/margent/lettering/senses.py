"""Which sense a term has where it stands: conditions weighed against the rest of the lettering."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the conditions of a sense may ask about one name and its lettering."""

    side: str
    """front: the term stands before the name; back: behind it."""
    firm: bool
    place_near: bool
    sheet_place: str | None
    pencil: bool
    on_map: bool
    same_roles: frozenset[str]
    """Roles that other terms give to the same name."""
    other_roles: frozenset[str]
    """Roles of the other names."""
    alone: bool
    techniques: frozenset[str]
    years: tuple[int, int] | None
    monogram: bool = False


@dataclass(frozen=True, slots=True)
class Choice:
    """A sense and its standing among the senses of its term, best first; weights in thousandths of a nat."""

    sense: Mapping[str, Any]
    weight: int


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
        return any(low <= last and first <= high for first, last in values)
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


def choose(senses: Sequence[Mapping[str, Any]], here: Surroundings, weights: Mapping[str, int]) -> list[Choice]:
    """The senses that may hold here, best first; those with a condition that fails are left out."""
    found: list[Choice] = []
    for sense in senses:
        weight = sense["weight"]
        for kind, values in sense["when"]:
            answer = holds(kind, values, here)
            if answer is None:
                weight += weights["sense-untold"]
            elif answer:
                weight += weights["sense-met"]
            else:
                break
        else:
            found.append(Choice(sense, weight))
    found.sort(key=lambda choice: -choice.weight)
    return found
