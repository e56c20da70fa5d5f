"""Whether confidence means something: how often statements are right that say they are so and so sure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

PARTS = 10
"""Equal parts of the scale from 0 to 1."""

Sure = tuple[float, bool]
"""The confidence of a statement and whether it is right."""


@dataclass(frozen=True, slots=True)
class Bin:
    """The statements whose confidence lies in one part of the scale: how sure they are on average, and how many are right."""

    low: float
    high: float
    said: float
    right: float
    statements: int


def bins(sure: Iterable[Sure]) -> list[Bin]:
    """The parts of the scale that hold statements."""
    parts: list[list[Sure]] = [[] for _ in range(PARTS)]
    for confidence, right in sure:
        parts[min(int(confidence * PARTS), PARTS - 1)].append((confidence, right))
    return [
        Bin(
            low=index / PARTS,
            high=(index + 1) / PARTS,
            said=sum(confidence for confidence, _ in part) / len(part),
            right=sum(right for _, right in part) / len(part),
            statements=len(part),
        )
        for index, part in enumerate(parts)
        if part
    ]


def brier(sure: Sequence[Sure]) -> float:
    """The Brier score: the mean of the squared distance between confidence and being right (1) or wrong (0); lower is better.

    >>> brier([(1.0, True), (0.5, False)])
    0.125
    """
    return sum((confidence - right) ** 2 for confidence, right in sure) / max(len(sure), 1)
