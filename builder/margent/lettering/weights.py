"""Sums of probabilities in whole numbers, so that every host computes the same."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

STEP: Final = 10
"""Thousandths of a nat between two entries of the exponential table."""


def shares(weights: list[int], table: list[int]) -> list[int]:
    """The share of each weight in thousandths, as the exponential of its distance to the best; table[k] is exp(-k * STEP / 1000) in millionths."""
    if not weights:
        return []
    best = max(weights)
    size = len(table)
    masses = [table[(best - weight) // STEP] if (best - weight) // STEP < size else 0 for weight in weights]
    total = sum(masses)
    return [mass * 1000 // total for mass in masses]


def along(value: int, curve: list[list[int]]) -> int:
    """The height of a curve given by points (x, y) at `value`, straight between points, in whole numbers."""
    for (left, low), (right, high) in pairwise(curve):
        if value <= right:
            return low + (high - low) * (value - left) // (right - left) if right > left else high
    return curve[-1][1]
