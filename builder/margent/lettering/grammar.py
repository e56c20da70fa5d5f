"""The best segmentations of a lettering: a weighted grammar of states and arcs, read by dynamic programming."""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from margent.lettering.lexicon import Item, Lexicon
from margent.lettering.tokens import CAPITALISED, INITIAL, NUMBER, Token

START = "outside"
UNBOUNDED = 1_000_000_000
"""A beam that leaves nothing out."""
SMALL_WORDS = frozenset(("agent", "conj", "particle", "prep"))
"""Words that are respelt in small letters: with a capital, "Day" is a surname and no "dai", however y and i change about."""
EVERYDAY = frozenset(("grantor", "notice", "street", "subject"))
"""Labels of words that are surnames as well: Price, King, Lane."""
FAINT = -1500
"""What weighs less tells nothing against one capital being an initial."""
TRADES = EVERYDAY | {"back", "front", "office"}
"""Labels of trades that are surnames as well: Graveur, Drucker."""


@dataclass(slots=True)
class Step:
    """One arc of a path: the state it left, the stretch it read, the state it came to; never changed once made.

    Both states stand without their context, which is that of the target: before, after or alone, else empty.  `serial`
    numbers the steps of all paths through one lettering, so that paths which share a step are told by its number.
    """

    serial: int
    source: str
    item: Item
    target: str
    context: str
    bond: str


@dataclass(slots=True, eq=False)
class State:
    """A state of the grammar, without its context, and the arcs that leave it: gap before the token -> label -> arcs."""

    name: str
    context: str
    final: int | None = None
    """What it weighs to end a lettering here; None where none may end."""
    over: dict[str, dict[str, list[Arc]]] = field(default_factory=dict)


Arc = tuple[State, int, str, bool]
"""The state come to, the weight over the gap, the bond, and whether the place on the sheet counts for it."""
Edge = tuple[int, int, State, State, Item, str]
"""An arc as the forward pass leaves it: the best score up to its end, where it began, both states, over what, bond."""
Chain = tuple[Edge, Any] | None
"""The edges of a path from some token to the end: the first, and the chain of the rest."""


@dataclass(slots=True)
class Path:
    """One segmentation of a whole lettering, with its score in thousandths of a nat; never changed once made."""

    score: int
    steps: list[Step]


class Grammar:
    """The compiled grammar; it holds no words, only states, labels, bonds and weights."""

    def __init__(self, compiled: Mapping[str, Any]) -> None:
        table: Mapping[str, Any] = compiled["grammar"]
        self._shapes: Mapping[str, Sequence[Sequence[Any]]] = table["shapes"]
        self._lookup: Mapping[str, int] = table["lookup"]
        self._places: Mapping[str, int] = table["places"]
        self._table: Sequence[Sequence[Any]] = table["arcs"]
        self._bonds: Mapping[str, Mapping[str, int]] = table["bonds"]
        final: Mapping[str, int] = table["final"]
        names = dict.fromkeys(state for arc in self._table for state in (arc[0], arc[2]))
        self._states = {name: State(*_parted(name), final.get(name)) for name in names}
        self._joined: set[str] = set()
        self._beam = self._lookup["beam"]
        self._doubt = self._lookup["doubt"]

    def _join(self, gap: str) -> None:
        """Gives every state its arcs over a gap; made when the first lettering has such a gap."""
        for source, label, target, weight, bond in self._table:
            whole = weight + self._bonds[bond].get(gap, 0)
            arcs = self._states[source].over.setdefault(gap, {}).setdefault(label, [])
            arcs.append((self._states[target], whole, bond, bond == "alone"))
        self._joined.add(gap)

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
        forenamed = {
            item.end
            for row in found
            for item in row
            if item.label == "given" and not item.respelt and tokens[item.start].shape == CAPITALISED
            if tokens[item.start].gap != "a"  # St. Martins Lane
        }
        small = self._lookup["low-among-capitals"] if any(token.shape in "caim" for token in tokens) else 0
        for index, token in enumerate(tokens):
            row = items[index]
            known: dict[int, set[str]] = {}
            for item in row:
                doubtful = item.label in SMALL_WORDS or (item.label == "place" and item.weight < 0)
                if token.shape == INITIAL and item.weight < FAINT:
                    continue
                if not (item.respelt and token.shape == CAPITALISED and doubtful):
                    known.setdefault(item.end, set()).add(item.label)
            if index in dated:
                known.setdefault(index + 1, set()).add("dated")
            if index in placed:
                known.setdefault(index + 1, set()).add("placed")
            if row:
                behind = index in forenamed and token.gap in "sa." and token.shape == CAPITALISED
                row = items[index] = [self._against(item, known.get(item.end, ()), behind) for item in row]
            single = known.get(index + 1, ())
            for label, weight, unless in self._shapes.get(token.shape, ()):
                malus = min([0, *(self._lookup.get(unless + also, 0) for also in single)]) if single else 0
                if malus and label == "cap" and self._surname(tokens, index, index in forenamed, single):
                    malus = max(malus, self._lookup["everyday-behind-given"])
                if label == "low":
                    malus += small
                row.append(Item(index, index + 1, label, weight + malus, ""))
        return items

    def _surname(self, tokens: Sequence[Token], index: int, forenamed: bool, single: Collection[str]) -> bool:
        """Whether a word with a capital stands where a surname does, and is a common word or a trade: J. H. Graveur."""
        token = tokens[index]
        if token.plain != token.full:
            return False
        trade = "office" in single
        if forenamed and token.gap in "sa.":
            return TRADES.issuperset(single) if trade else EVERYDAY.issuperset(single)
        return (
            trade
            and index > 0
            and tokens[index - 1].shape == INITIAL
            and token.gap == "a"
            and TRADES.issuperset(single)
        )

    def _against(self, item: Item, labels: Iterable[str], behind_given: bool) -> Item:
        """The item, weighed down where its words are also known under a label that tells against it, or are a surname's."""
        malus = self._lookup["everyday-behind-given"] if behind_given and item.label in EVERYDAY else 0
        for label in labels:
            against = self._lookup.get(f"{item.label}-{label}")
            if against is None and item.label != label:
                against = self._lookup.get(f"any-{label}")
            if against is not None and against < malus:
                malus = against
        if not malus:
            return item
        return Item(item.start, item.end, item.label, item.weight + malus, item.ref, item.others, item.respelt)

    def paths(
        self, tokens: Sequence[Token], items: Sequence[Sequence[Item]], places: Sequence[str | None], number: int
    ) -> list[Path]:
        """The `number` best segmentations, best first.  `places` holds for each line where it stands on the sheet."""
        found = self._paths(tokens, items, places, number, self._beam)
        if not found:  # what was furthest behind may be all that can be brought to an end
            found = self._paths(tokens, items, places, number, UNBOUNDED)
        return found

    def _paths(
        self,
        tokens: Sequence[Token],
        items: Sequence[Sequence[Item]],
        places: Sequence[str | None],
        number: int,
        beam: int,
    ) -> list[Path]:
        """The best segmentations that are never further behind than the beam is wide."""
        size = len(tokens)
        into: list[defaultdict[State, list[Edge]]] = [defaultdict(list) for _ in range(size + 1)]
        best: list[dict[State, int]] = [{self._states[START]: 0}]
        for gap in {token.gap for token in tokens} - self._joined:
            self._join(gap)
        for at in range(size):
            if at:
                best.append(_best_of(into[at], beam))
            token = tokens[at]
            gap = token.gap
            on_sheet = places[token.line]
            place = self._places.get(on_sheet, 0) if on_sheet else self._lookup["place-unsaid"]
            row = [(item.label, item.weight, into[item.end], item) for item in items[at]]
            for source, score in best[at].items():
                arcs = source.over.get(gap)
                if arcs is None:
                    continue
                for label, weight, there, item in row:
                    if label in arcs:
                        before = score + weight
                        for target, gain, bond, placed in arcs[label]:
                            total = before + gain + place if placed else before + gain
                            there[target].append((total, at, source, target, item, bond))
        best.append(_best_of(into[size], UNBOUNDED))
        return self._best_paths(best, into, number)

    def _best_paths(
        self, best: Sequence[Mapping[State, int]], into: Sequence[Mapping[State, Sequence[Edge]]], number: int
    ) -> list[Path]:
        """The best complete paths, found backwards with the forward scores as exact estimate.

        What waits in the heap is the end of a path, with the score of the best whole path that ends so.  The best edge
        into a state goes on with that path, every other begins one of its own: `known` keeps the best `number` of
        their scores, none of them too far behind the best to matter, and what scores no more than any of them is not
        followed, however many paths are equally good.  The work is therefore as much as the paths are long.
        """
        size = len(best) - 1
        heap: list[tuple[int, int, int, State, int, Chain]] = [
            (-(score + state.final), serial, size, state, state.final, None)
            for serial, (state, score) in enumerate(best[size].items())
            if state.final is not None
        ]
        heapq.heapify(heap)
        if not heap:
            return []
        known = [-heap[0][0] - self._doubt] * number
        for entry in heap:
            heapq.heappushpop(known, -entry[0])
        serial = len(best[size])
        found: list[Path] = []
        steps: dict[int, Step] = {}
        while heap and len(found) < number:
            negative, _, at, state, after, chain = heapq.heappop(heap)
            if -negative < known[0]:
                break
            if at == 0:
                found.append(Path(-negative, _steps(chain, steps)))
                continue
            goes_on = True
            for edge in into[at][state]:
                score = edge[0] + after
                if goes_on and score == -negative:
                    goes_on = False
                elif score > known[0]:
                    heapq.heapreplace(known, score)
                else:
                    continue
                serial += 1
                before, source = edge[1], edge[2]
                heapq.heappush(heap, (-score, serial, before, source, score - best[before][source], (edge, chain)))
        return found


def _steps(chain: Chain, known: dict[int, Step]) -> list[Step]:
    """The steps of a path; those of an edge that other paths took before are taken from `known`."""
    found = []
    while chain is not None:
        edge, chain = chain
        step = known.get(id(edge))
        if step is None:
            _, _, source, target, item, bond = edge
            step = known[id(edge)] = Step(len(known), source.name, item, target.name, target.context, bond)
        found.append(step)
    return found


def _parted(state: str) -> tuple[str, str]:
    """The state without its context, and the context."""
    name, _, context = state.partition("@")
    return name, context


def _best_of(into: Mapping[State, Sequence[Edge]], beam: int) -> dict[State, int]:
    """The best score up to each state that edges lead into, those left out that are further behind the best than the beam is wide."""
    if not into:
        return {}
    best = [max([edge[0] for edge in edges]) for edges in into.values()]
    least = max(best) - beam
    return {state: score for state, score in zip(into, best, strict=True) if score >= least}


def label_all(grammar: Grammar, lexicon: Lexicon, tokens: Sequence[Token], dates: Sequence[Item]) -> list[list[Item]]:
    """The items of a lettering from lexicon, dates and shapes together."""
    return grammar.label(tokens, lexicon.items(tokens), dates)
