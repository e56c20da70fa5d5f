"""The best segmentations of a lettering: a weighted grammar of states and arcs, read by dynamic programming."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from margent.lettering.lexicon import Item, Lexicon
from margent.lettering.tokens import NUMBER, Token

GAPS = "^gkabdhnopsw.,:;"
"""The classes of gaps that the tokeniser tells apart."""
START = "outside"
NEVER = -1_000_000_000
SMALL_WORDS = frozenset(("agent", "conj", "particle", "prep"))
"""Words that are respelt in small letters: with a capital, "Day" is a surname and no "dai", however y and i change about."""


@dataclass(slots=True)
class Step:
    """One arc of a path: the state it left, the stretch it read, the state it came to; never changed once made.

    Both states stand without their context, which is that of the target: before, after or alone, else empty.
    """

    source: str
    item: Item
    target: str
    context: str
    bond: str
    weight: int


Arc = tuple[str, int, str, bool]
"""The state come to, the weight over the gap, the bond, and whether the place on the sheet counts for it."""
Edge = tuple[int, int, str, Item, str, int]
"""An arc as the forward pass leaves it: the score up to its end, where it began, from which state, over what, bond, gain."""


@dataclass(slots=True)
class Path:
    """One segmentation of a whole lettering, with its score in thousandths of a nat; never changed once made."""

    score: int
    steps: tuple[Step, ...]


class Grammar:
    """The compiled grammar; it holds no words, only states, labels, bonds and weights."""

    def __init__(self, compiled: Mapping[str, Any]) -> None:
        table: Mapping[str, Any] = compiled["grammar"]
        self._final: Mapping[str, int] = table["final"]
        self._bonds: Mapping[str, Mapping[str, int]] = table["bonds"]
        self._shapes: Mapping[str, Sequence[Sequence[Any]]] = table["shapes"]
        self._lookup: Mapping[str, int] = table["lookup"]
        self._places: Mapping[str, int] = table["places"]
        self._over_gap = {gap: self._arcs(table["arcs"], gap) for gap in GAPS}
        self._states = {
            state: _parted(state) for source, _, target, _, _ in table["arcs"] for state in (source, target)
        }

    def _arcs(self, table: Iterable[Sequence[Any]], gap: str) -> dict[str, dict[str, list[Arc]]]:
        """State left -> label -> the arcs over a gap, with what the bond weighs there."""
        arcs: dict[str, dict[str, list[Arc]]] = {}
        for source, label, target, weight, bond in table:
            whole = weight + self._bonds[bond].get(gap, 0)
            arcs.setdefault(source, {}).setdefault(label, []).append((target, whole, bond, bond == "alone"))
        return arcs

    def label(
        self, tokens: Sequence[Token], found: Sequence[Sequence[Item]], dates: Sequence[Item]
    ) -> list[list[Item]]:
        """Every item the grammar may use, by its first token: what the lexicon found, dates, and what shape alone suggests."""
        items = [list(row) for row in found]
        dated: set[int] = set()
        for date in dates:
            items[date.start].append(date)
            dated.update(
                index
                for index in range(date.start, date.end)
                if date.end - date.start > 1 and tokens[index].shape != NUMBER
            )
        placed = {
            index
            for row in found
            for item in row
            if item.label == "place"
            for index in range(item.start, item.end)
            if item.end - item.start > 1
        }
        for index, token in enumerate(tokens):
            known: dict[int, set[str]] = {}
            for item in items[index]:
                if not (item.respelt and token.shape == "c" and item.label in SMALL_WORDS):
                    known.setdefault(item.end, set()).add(item.label)
            if index in dated:
                known.setdefault(index + 1, set()).add("dated")
            if index in placed:
                known.setdefault(index + 1, set()).add("placed")
            row = items[index] = [self._against(item, known.get(item.end, ())) for item in items[index]]
            single = known.get(index + 1, ())
            for label, weight, unless in self._shapes.get(token.shape, ()):
                malus = 0
                for also in single:
                    malus = min(malus, self._lookup.get(unless + also, 0))
                row.append(Item(index, index + 1, label, weight + malus, ""))
        return items

    def _against(self, item: Item, labels: Iterable[str]) -> Item:
        """The item, weighed down where its words are also known under a label that tells against it."""
        malus = 0
        for label in labels:
            malus = min(
                malus,
                self._lookup.get(
                    f"{item.label}-{label}", self._lookup.get(f"any-{label}", 0) if item.label != label else 0
                ),
            )
        if not malus:
            return item
        return Item(item.start, item.end, item.label, item.weight + malus, item.ref, item.others, item.respelt)

    def paths(
        self, tokens: Sequence[Token], items: Sequence[Sequence[Item]], places: Sequence[str | None], number: int
    ) -> list[Path]:
        """The `number` best segmentations, best first.  `places` holds for each line where it stands on the sheet."""
        size = len(tokens)
        best: list[dict[str, int]] = [{} for _ in range(size + 1)]
        into: list[dict[str, list[Edge]]] = [{} for _ in range(size + 1)]
        best[0][START] = 0
        for at in range(size):
            here = best[at]
            if not here:
                continue
            token = tokens[at]
            over = self._over_gap[token.gap]
            place = self._places.get(places[token.line] or "", 0)
            row = [(item.label, item.weight, best[item.end], into[item.end], item) for item in items[at]]
            for state, score in here.items():
                arcs = over.get(state)
                if arcs is None:
                    continue
                for label, standing, best_there, into_there, item in row:
                    if label not in arcs:
                        continue
                    for target, weight, bond, alone in arcs[label]:
                        gain = standing + weight + place if alone else standing + weight
                        total = score + gain
                        edge = (total, at, state, item, bond, gain)
                        if target in best_there:
                            into_there[target].append(edge)
                            if total > best_there[target]:  # noqa: PLR1730 — a call of max in the innermost loop costs a tenth of it
                                best_there[target] = total
                        else:
                            best_there[target] = total
                            into_there[target] = [edge]
        return self._best_paths(best, into, size, number)

    def _best_paths(
        self, best: Sequence[Mapping[str, int]], into: Sequence[Mapping[str, Sequence[Edge]]], size: int, number: int
    ) -> list[Path]:
        """The best complete paths, found backwards with the forward scores as exact estimate."""
        serial = 0
        heap: list[tuple[int, int, int, str, int, tuple[Any, ...]]] = []
        for state, score in best[size].items():
            final = self._final.get(state, NEVER)
            if final > NEVER:
                heap.append((-(score + final), serial, size, state, final, ()))
                serial += 1
        heapq.heapify(heap)
        found: list[Path] = []
        budget = number * (size + 8) * 2
        while heap and len(found) < number and budget > 0:
            negative, _, at, state, after, chain = heapq.heappop(heap)
            budget -= 1
            if at == 0:
                steps: list[Step] = []
                while chain:
                    source, item, target, bond, gain = chain[0]
                    steps.append(Step(self._states[source][0], item, *self._states[target], bond, gain))
                    chain = chain[1]
                found.append(Path(-negative, tuple(steps)))
                continue
            for total, before, source, item, bond, gain in into[at].get(state, ()):
                serial += 1
                step = (source, item, state, bond, gain)
                heapq.heappush(heap, (-(total + after), serial, before, source, after + gain, (step, chain)))
        return found


def _parted(state: str) -> tuple[str, str]:
    """The state without its context, and the context."""
    bare, _, context = state.partition("@")
    return bare, context


def label_all(grammar: Grammar, lexicon: Lexicon, tokens: Sequence[Token], dates: Sequence[Item]) -> list[list[Item]]:
    """The items of a lettering from lexicon, dates and shapes together."""
    return grammar.label(tokens, lexicon.items(tokens), dates)
