"""The best segmentations of a lettering: a weighted grammar of states and arcs, read by dynamic programming."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from heapq import heapify, heappop, heappush, heappushpop, heapreplace
from typing import Any, Final

from margent.lettering.lexicon import Item, Lexicon
from margent.lettering.tokens import CAPITALISED, INITIAL, LOWERCASE, NUMBER, Token

START: Final = "outside"
UNBOUNDED: Final = 1_000_000_000
"""A beam that leaves nothing out."""
SMALL_WORDS: Final = frozenset(("agent", "conj", "particle", "prep"))
"""Words that are respelt in small letters: with a capital, "Day" is a surname and no "dai", however y and i change about."""
EVERYDAY: Final = frozenset(("grantor", "notice", "street", "subject"))
"""Labels of words that are surnames as well: Price, King, Lane."""
WORDS: Final = EVERYDAY | {"office"}
"""Labels of words that weigh less behind a forename, as they are its surname there."""
TRADES: Final = WORDS | {"back", "front"}
"""Labels of trades that are surnames as well: Graveur, Drucker."""
FAINT: Final = -1500
"""What weighs less tells nothing against one capital being an initial."""


class State:
    """A state of the grammar, without its context, and the arcs that leave it: gap before the token -> number of the label -> arcs."""

    __slots__ = ("context", "final", "name", "number", "over")

    def __init__(self, number: int, name: str, context: str, final: int | None) -> None:
        self.number = number
        self.name = name
        self.context = context  # What a name there is to the term: before, after or alone; empty outside a name.
        self.final = final  # What it weighs to end a lettering here; None where none may end.
        self.over: dict[str, list[list[Arc] | None]] = {}


class Arc:
    """An arc over one gap."""

    __slots__ = ("bond", "gain", "placed", "source", "target")

    def __init__(self, source: State, target: State, gain: int, bond: str, placed: bool) -> None:
        self.source = source
        self.target = target
        self.gain = gain
        self.bond = bond
        self.placed = placed  # Whether the place on the sheet counts for it.


class Node:
    """A state to which paths come at some token, with the best score up to there and the edges by which they come."""

    __slots__ = ("at", "edges", "score", "state")

    def __init__(self, at: int, state: State, score: int, edges: list[Edge]) -> None:
        self.at = at
        self.state = state
        self.score = score
        self.edges = edges


class Edge:
    """A step as the forward pass leaves it: the best score up to its end, where it begins, its arc, and over what."""

    __slots__ = ("arc", "begun", "item", "score")

    def __init__(self, score: int, begun: Node, arc: Arc, item: Item) -> None:
        self.score = score
        self.begun = begun
        self.arc = arc
        self.item = item


Chain = tuple[Edge, Any] | None
"""The edges of a path from some token to the end: the first, and the chain of the rest."""


class Path:
    """One segmentation of a whole lettering, with its score in thousandths of a nat; never changed once made."""

    __slots__ = ("edges", "score")

    def __init__(self, score: int, edges: list[Edge]) -> None:
        self.score = score
        self.edges = edges


class Grammar:
    """The compiled grammar; it holds no words, only states, labels, bonds and weights."""

    def __init__(self, compiled: Mapping[str, Any]) -> None:
        table: dict[str, Any] = compiled["grammar"]
        self._lookup: dict[str, int] = table["lookup"]
        self._places: dict[str, int] = table["places"]
        self._table: Sequence[Sequence[Any]] = table["arcs"]
        self._bonds: Mapping[str, dict[str, int]] = table["bonds"]
        final: dict[str, int] = table["final"]
        names = dict.fromkeys(state for arc in self._table for state in (arc[0], arc[2]))
        self._states: dict[str, State] = {}
        for number, name in enumerate(names):
            bare, _, context = name.partition("@")
            self._states[name] = State(number, bare, context, final.get(name))
        self._numbers = {label: number for number, label in enumerate(dict.fromkeys(arc[1] for arc in self._table))}
        """The labels that the grammar knows."""
        self._joined: set[str] = set()
        against: dict[str, dict[str, int]] = {}
        for name, weight in self._lookup.items():
            for at in [at for at, sign in enumerate(name) if sign == "-"]:
                against.setdefault(name[:at], {})[name[at + 1 :]] = weight
        self._against = against
        self._against_any = against.get("any", {})
        self._shapes: dict[str, list[tuple[str, int, dict[str, int]]]] = {
            shape: [(label, weight, against.get(unless.removesuffix("-"), {})) for label, weight, unless in rows]
            for shape, rows in table["shapes"].items()
        }
        self._beam: int = self._lookup["beam"]
        self._doubt: int = self._lookup["doubt"]

    def _join(self, gap: str) -> None:
        """Gives every state its arcs over a gap; made when the first lettering has such a gap."""
        for source, label, target, weight, bond in self._table:
            whole = weight + self._bonds[bond].get(gap, 0)
            left = self._states[source]
            arc = Arc(left, self._states[target], whole, bond, bond == "alone")
            over = left.over.get(gap)
            if over is None:
                over = left.over[gap] = [None] * len(self._numbers)
            number = self._numbers[label]
            arcs = over[number]
            if arcs is None:
                over[number] = [arc]
            else:
                arcs.append(arc)
        self._joined.add(gap)

    def label(self, tokens: list[Token], found: list[list[Item]], dates: list[Item]) -> list[list[Item]]:
        """Every item the grammar may use, by its first token: what the lexicon found, dates, and what shape alone suggests."""
        items = [list(row) for row in found]
        dated: set[int] = set()
        for date in dates:
            items[date.start].append(date)
            if date.end - date.start > 1:
                dated.update([index for index in range(date.start, date.end) if tokens[index].shape != NUMBER])
        placed: set[int] = set()
        for row in found:
            for item in row:
                if item.label == "place" and item.end - item.start > 1:
                    placed.update(range(item.start, item.end))
        forenamed = _forenamed(tokens, found)
        small = self._lookup["low-among-capitals"] if any(token.shape in "caim" for token in tokens) else 0
        for index, token in enumerate(tokens):
            row, after, shape = items[index], index + 1, token.shape
            telling = [item for item in row if not _set_apart(item, shape)]
            single = [item.label for item in telling if item.end == after]
            if index in dated:
                single.append("dated")
            if index in placed:
                single.append("placed")
            behind = index in forenamed and shape == CAPITALISED and token.gap in "sa."
            for item in row:
                known = single if item.end == after else [each.label for each in telling if each.end == item.end]
                self._weigh_down(item, known, behind and item.end == after)
            for label, weight, against in self._shapes.get(shape, ()):
                malus = 0
                for also in single:
                    malus = min(malus, against.get(also, 0))
                if malus and label == "cap" and _surname(tokens, index, index in forenamed, single):
                    malus = max(malus, self._lookup["everyday-behind-given"])
                if label == "low":
                    malus += small
                row.append(Item(index, after, label, weight + malus, "", (), ()))
        return items

    def _weigh_down(self, item: Item, labels: Sequence[str], behind_given: bool) -> None:
        """Weighs an item down where its words are also known under a label that tells against it, or are a surname's."""
        against = self._against.get(item.label)
        malus = self._lookup["everyday-behind-given"] if behind_given and item.label in WORDS else 0
        for label in labels:
            told = None if against is None else against.get(label)
            if told is None and label != item.label:
                told = self._against_any.get(label)
            if told is not None and told < malus:
                malus = told
        item.weight += malus

    def paths(
        self, tokens: list[Token], items: list[list[Item]], places: Sequence[str | None], number: int
    ) -> list[Path]:
        """The `number` best segmentations, best first.  `places` holds for each line where it stands on the sheet."""
        found = self._paths(tokens, items, places, number, self._beam)
        if not found:  # what was furthest behind may be all that can be brought to an end
            found = self._paths(tokens, items, places, number, UNBOUNDED)
        return found

    def _paths(
        self,
        tokens: list[Token],
        items: list[list[Item]],
        places: Sequence[str | None],
        count: int,
        beam: int,
    ) -> list[Path]:
        """The best segmentations that are never further behind than the beam is wide."""
        size = len(tokens)
        start = self._states[START]
        nodes: list[list[Node]] = [[] for _ in range(size + 1)]
        nodes[0].append(Node(0, start, 0, []))
        unmet: list[Node | None] = [None] * len(self._states)
        by_state = [unmet.copy() for _ in range(size + 1)]
        doubt, numbers = self._doubt, self._numbers
        for at, token in enumerate(tokens):
            here = nodes[at]
            if not here:
                continue
            gap = token.gap
            if gap not in self._joined:
                self._join(gap)
            on_sheet = places[token.line]
            place = self._places.get(on_sheet, 0) if on_sheet else self._lookup["place-unsaid"]
            row = [
                (numbers[item.label], item.weight, by_state[item.end], item)
                for item in items[at]
                if item.label in numbers
            ]
            least = max([node.score for node in here]) - beam
            for node in here:
                score = node.score
                over = node.state.over.get(gap)
                if score < least or over is None:
                    continue
                for label, weight, there, item in row:
                    arcs = over[label]
                    if arcs is None:
                        continue
                    before = score + weight
                    for arc in arcs:
                        total = before + arc.gain
                        if arc.placed:
                            total += place
                        number = arc.target.number
                        known = there[number]
                        if known is None:
                            known = Node(item.end, arc.target, total, [Edge(total, node, arc, item)])
                            there[number] = known
                            nodes[item.end].append(known)
                        elif total >= known.score - doubt:
                            if total > known.score:  # noqa: PLR1730 - a call costs more than all else of this loop
                                known.score = total
                            known.edges.append(Edge(total, node, arc, item))
        return self._best_paths(nodes[size], count)

    def _best_paths(self, ends: list[Node], number: int) -> list[Path]:
        """The best complete paths, found backwards with the forward scores as exact estimate.

        What waits in the heap is the end of a path, with the score of the best whole path that ends so.  The best edge
        into a node goes on with that path, every other begins one of its own: `known` keeps the best `number` of
        their scores, none of them too far behind the best to matter, and what scores no more than any of them is not
        followed, however many paths are equally good.  The work is therefore as much as the paths are long.
        """
        heap: list[tuple[int, int, Node, int, Chain]] = []
        for serial, node in enumerate(ends):
            final = node.state.final
            if final is not None:
                heap.append((-(node.score + final), serial, node, final, None))
        if not heap:
            return []
        heapify(heap)
        known = [-heap[0][0] - self._doubt] * number
        for entry in heap:
            heappushpop(known, -entry[0])
        serial = len(ends)
        found: list[Path] = []
        while heap and len(found) < number:
            negative, _, node, after, chain = heappop(heap)
            score = -negative
            if score < known[0]:
                break
            while node.at:
                goes_on: Edge | None = None
                turn = 0
                for edge in node.edges:
                    other = edge.score + after
                    if other == score and goes_on is None:
                        goes_on = edge
                        serial += 1
                        turn = serial
                    elif other > known[0]:
                        heapreplace(known, other)
                        serial += 1
                        heappush(heap, (-other, serial, edge.begun, other - edge.begun.score, (edge, chain)))
                assert goes_on is not None, "a node has the score of its best edge"
                node = goes_on.begun
                after = score - node.score
                chain = (goes_on, chain)
                if heap and heap[0][0] == negative:  # of equally good paths, the one that waits longest has its turn
                    heappush(heap, (negative, turn, node, after, chain))
                    break
            else:
                found.append(Path(score, _edges(chain)))
        return found


def _set_apart(item: Item, shape: str) -> bool:
    """Whether an item tells nothing of a word: a small word or short town that a capitalised one is respelt to, or a faint one."""
    if item.weight < FAINT and (shape == INITIAL or item.label == "conj"):
        return True
    doubtful = item.label in SMALL_WORDS or (item.label == "place" and item.weight < 0)
    return doubtful and bool(item.respelt) and shape == CAPITALISED


def _forenamed(tokens: list[Token], found: list[list[Item]]) -> set[int]:
    """The tokens that stand behind a forename, or behind the particles that follow it; behind "St. Martins" stands a lane."""
    given = [
        item
        for row in found
        for item in row
        if item.label == "given" and not item.respelt and tokens[item.start].shape == CAPITALISED
    ]
    ends = {item.end for item in given}
    behind = {
        item.end
        for item in given
        if item.start in ends or tokens[item.start].gap != "a" or tokens[item.start - 1].shape != CAPITALISED
    }
    for index in range(len(tokens)):
        if index in behind and tokens[index].shape == LOWERCASE and tokens[index].gap in "sa.":
            behind.update([item.end for item in found[index] if item.label == "particle" and not item.respelt])
    return behind


def _surname(tokens: list[Token], index: int, forenamed: bool, single: Sequence[str]) -> bool:
    """Whether a word with a capital stands where a surname does, and is a common word or a trade: J. H. Graveur."""
    token = tokens[index]
    if token.plain != token.full:
        return False
    trade = "office" in single
    if forenamed and token.gap in "sa.":
        return (TRADES if trade else EVERYDAY).issuperset(single)
    initialled = index > 0 and tokens[index - 1].shape == INITIAL and token.gap == "a"
    return trade and initialled and TRADES.issuperset(single)


def _edges(chain: Chain) -> list[Edge]:
    """The edges of a path, in order."""
    found = []
    while chain is not None:
        edge, chain = chain
        found.append(edge)
    return found


def label_all(grammar: Grammar, lexicon: Lexicon, tokens: list[Token], dates: list[Item]) -> list[list[Item]]:
    """The items of a lettering from lexicon, dates and shapes together."""
    return grammar.label(tokens, lexicon.items(tokens), dates)
