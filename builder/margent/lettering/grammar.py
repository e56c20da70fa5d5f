"""The best segmentations of a lettering: a weighted grammar of states and arcs, read by dynamic programming."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from margent.lettering.lexicon import Item, Lexicon
from margent.lettering.tokens import NUMBER, Token

GAPS = "^gkabdhnopsw.,:;"
"""The classes of gaps that the tokeniser tells apart."""
START = "outside"
NEVER = -1_000_000_000


@dataclass(frozen=True, slots=True)
class Step:
    """One arc of a path: the state it left, the stretch it read, the state it came to."""

    source: str
    item: Item
    target: str
    bond: str
    weight: int


Edge = tuple[int, int, str, Item, str, int]
"""An arc as the forward pass leaves it: the score up to its end, where it began, from which state, over what, bond, gain."""


@dataclass(frozen=True, slots=True)
class Path:
    """One segmentation of a whole lettering, with its score in thousandths of a nat."""

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
        arcs: dict[str, dict[str, list[tuple[str, int, str]]]] = {}
        for source, label, target, weight, bond in table["arcs"]:
            arcs.setdefault(source, {}).setdefault(label, []).append((target, weight, bond))
        self._arcs = arcs
        self._over_gap = {gap: {bond: scores.get(gap, 0) for bond, scores in self._bonds.items()} for gap in GAPS}

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
                known.setdefault(item.end, set()).add(item.label)
            if index in dated:
                known.setdefault(index + 1, set()).add("dated")
            if index in placed:
                known.setdefault(index + 1, set()).add("placed")
            row = items[index] = [self._against(item, known[item.end]) for item in items[index]]
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
        return replace(item, weight=item.weight + malus) if malus else item

    def paths(
        self, tokens: Sequence[Token], items: Sequence[Sequence[Item]], places: Sequence[str | None], number: int
    ) -> list[Path]:
        """The `number` best segmentations, best first.  `places` holds for each line where it stands on the sheet."""
        size = len(tokens)
        best: list[dict[str, int]] = [{} for _ in range(size + 1)]
        into: list[dict[str, list[Edge]]] = [{} for _ in range(size + 1)]
        best[0][START] = 0
        for at in range(size):
            gap = tokens[at].gap
            bonds = self._over_gap[gap]
            place = self._places.get(places[tokens[at].line] or "", 0)
            row = items[at]
            for state, score in best[at].items():
                arcs = self._arcs.get(state)
                if arcs is None:
                    continue
                for item in row:
                    reached = arcs.get(item.label)
                    if reached is None:
                        continue
                    end = item.end
                    best_there = best[end]
                    into_there = into[end]
                    for target, weight, bond in reached:
                        gain = item.weight + weight + bonds[bond]
                        if bond == "alone":
                            gain += place
                        total = score + gain
                        known = best_there.get(target)
                        if known is None:
                            best_there[target] = total
                            into_there[target] = [(total, at, state, item, bond, gain)]
                        else:
                            into_there[target].append((total, at, state, item, bond, gain))
                            if total > known:
                                best_there[target] = total
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
                    steps.append(Step(*chain[0]))
                    chain = chain[1]
                found.append(Path(-negative, tuple(steps)))
                continue
            for total, before, source, item, bond, gain in into[at].get(state, ()):
                serial += 1
                step = (source, item, state, bond, gain)
                heapq.heappush(heap, (-(total + after), serial, before, source, after + gain, (step, chain)))
        return found


def label_all(grammar: Grammar, lexicon: Lexicon, tokens: Sequence[Token], dates: Sequence[Item]) -> list[list[Item]]:
    """The items of a lettering from lexicon, dates and shapes together."""
    return grammar.label(tokens, lexicon.items(tokens), dates)
