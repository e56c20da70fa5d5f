"""The rows of the look-up as small files, cut where they are full: each holds the keys that begin with its name.

Where more rows begin with a text than one file may hold, the file of that text has the most wanted of them and all that
go on with a rare letter; for each other letter there is a file one letter further on. So a browser needs one file for
what was typed, however large the authority.
"""

from __future__ import annotations

import json
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from heapq import nsmallest
from itertools import accumulate, islice
from pathlib import Path

from margent.publishing.look_up import Found, Row, entries, rows_of
from margent.publishing.look_up_keys import Keys
from margent.publishing.pages import Pages
from margent.publishing.scripts import data_script
from margent.vocabulary.model import Iri, Vocabulary

FORMAT = 2

FOLDER = "look-up"
INDEX = f"{FOLDER}/index.js"

FULL = 44_000
"""Characters of one file at most, which compress to less than 12 kB."""
WANTED = 15
"""Entries of each kind that stand in the file of a text with which too many keys begin."""
ALIKE = 100
"""Rows of one and the same key, which no letter tells apart: more than these cannot be answered, nor would anybody read them."""
FORMS = 8
"""Forms of one entry that may stand side by side among them."""

Node = dict[str, "Node | int"]


@dataclass
class Known:
    """The rows of the look-up, sorted, the entries to which they lead, and each shard's name with whether there are longer ones."""

    rows: list[Row] = field(default_factory=list)
    found: dict[Iri, Found] = field(default_factory=dict)
    shards: dict[str, bool] = field(default_factory=dict)


def write_look_up(vocabulary: Vocabulary, pages: Pages, site: Path) -> Known:
    """What was written to the folder look-up/ of the site."""
    keys = Keys(vocabulary)
    known = Known()
    for iri, found, forms in entries(vocabulary, pages, keys):
        known.found[iri] = found
        known.rows.extend(rows_of(found, forms, keys))
    known.rows.sort()
    write_shards(known, shards(known.rows), site)
    write_index(known, vocabulary, keys, site)
    return known


def write_shards(known: Known, cut: Iterable[tuple[str, bool, Sequence[Row]]], site: Path) -> None:
    """Nothing comes back: the shards are written and noted."""
    (site / FOLDER).mkdir(parents=True, exist_ok=True)
    by_page = {found.page: found for found in known.found.values()}
    for name, more, own in cut:
        text = data_script(f"look-up {name}", _shard(own, by_page))
        (site / path_of(name)).write_text(text, encoding="utf-8", newline="\n")
        known.shards[name] = more


def write_index(known: Known, vocabulary: Vocabulary, keys: Keys, site: Path) -> None:
    """Nothing comes back: the index is written, which has the names of all shards and the table of letters."""
    tree: Node = {}
    for name, more in sorted(known.shards.items()):
        _mark(tree, name, more)
    index = {
        "format": FORMAT,
        "version": vocabulary.publication.version,
        "letters": keys.published(),
        "shards": _written(tree),
    }
    text = json.dumps(index, ensure_ascii=False, separators=(",", ":"))
    (site / INDEX).write_text(data_script("look-up", text), encoding="utf-8", newline="\n")


def shards(
    sorted_rows: Sequence[Row], stands: Callable[[str], bool] = lambda _: False
) -> Iterator[tuple[str, bool, Sequence[Row]]]:
    """Name, whether there are files of longer names, and rows of each shard, from the one without a name on.

    Those are left out whose name `stands`, with all longer ones.
    """
    yield from _Cut(sorted_rows, stands).shards("", 0, len(sorted_rows))


class _Cut:
    """Cuts stretches of the sorted rows, each of the keys that begin with a name."""

    def __init__(self, sorted_rows: Sequence[Row], stands: Callable[[str], bool]) -> None:
        self._rows = sorted_rows
        self._stands = stands
        self._keys = [row.key for row in sorted_rows]
        self._before = [0, *accumulate(row.size for row in sorted_rows)]
        """Characters of all rows before each, at most: an entry is written once, however many of its forms are there."""

    def shards(self, name: str, first: int, last: int) -> Iterator[tuple[str, bool, Sequence[Row]]]:
        if self._stands(name):
            return
        if self._size(first, last) <= FULL:
            yield name, False, self._rows[first:last]
            return
        longer = bisect_right(self._keys, name, first, last)
        exact = self._rows[first : min(longer, first + ALIKE)]
        own = dict.fromkeys(_most_wanted(exact, self._rows[longer:last]) if name else exact)
        room = FULL - sum(row.size for row in own)
        further: list[tuple[str, int, int]] = []
        groups = sorted(self._groups(name, longer, last), key=lambda each: (self._size(*each[1:]), each[0]))
        for letter, begin, end in groups:
            room -= self._size(begin, end)
            if room < 0:
                further.append((letter, begin, end))
            else:
                own |= dict.fromkeys(self._rows[begin:end])
        yield name, bool(further), sorted(own)
        for letter, begin, end in sorted(further):
            yield from self.shards(name + letter, begin, end)

    def _groups(self, name: str, first: int, last: int) -> Iterator[tuple[str, int, int]]:
        """Each letter with which the keys go on, and the stretch of those that do."""
        while first < last:
            letter = self._keys[first][len(name)]
            end = bisect_left(self._keys, name + chr(ord(letter) + 1), first, last)
            yield letter, first, end
            first = end

    def _size(self, first: int, last: int) -> int:
        return self._before[last] - self._before[first]


def file_name(name: str) -> str:
    """A file name that every system takes: `s-` and the shard's name, signs other than plain letters by number.

    >>> file_name("uan d"), file_name("&")
    ('s-uan_d', 's-.26')
    """
    return "s-" + "".join(
        char if char.isascii() and char.isalnum() else "_" if char == " " else f".{ord(char):x}" for char in name
    )


def path_of(name: str) -> str:
    """Where the shard of a name lies in the site."""
    return f"{FOLDER}/{file_name(name)}.js"


def _most_wanted(exact: Sequence[Row], longer: Sequence[Row]) -> list[Row]:
    """Rows for a text with which too many keys begin: those that are no more than it, then the shortest of each kind of entry."""
    chosen: dict[str, Row] = {}
    for row in exact:
        chosen.setdefault(row.page, row)
    kinds: dict[int, list[Row]] = {}
    for row in longer:
        kinds.setdefault(row.rank, []).append(row)
    for _, own in sorted(kinds.items()):
        fresh = [row for row in nsmallest(WANTED * FORMS, own, key=_wanted) if row.page not in chosen]
        for row in islice({row.page: row for row in fresh}.values(), WANTED):
            chosen[row.page] = row
    return list(chosen.values())


def _wanted(row: Row) -> tuple[bool, int, str, str]:
    return row.at > 0, len(row.key), row.key, row.page


def _shard(own: Sequence[Row], by_page: Mapping[str, Found]) -> str:
    """`entries` as [page, label, language, what is said, shortest truncation], `rows` as [entry, form or 0 for the label, word]."""
    numbers: dict[str, int] = {}
    listed: list[list[str | int]] = []
    for row in own:
        number = numbers.setdefault(row.page, len(numbers))
        line: list[str | int] = [number, row.form if row.form != by_page[row.page].label else 0, row.at]
        while line[-1] == 0 and len(line) > 1:
            line.pop()
        listed.append(line)
    told: list[list[str]] = []
    for page in numbers:
        entry = by_page[page]
        told.append([entry.page, entry.label, entry.lang, entry.said, entry.shortest])
        while not told[-1][-1]:
            told[-1].pop()
    return json.dumps({"entries": told, "rows": listed}, ensure_ascii=False, separators=(",", ":"))


def _mark(tree: Node, name: str, full: bool) -> None:
    """Notes a shard in the tree of their names: 1 for one without longer ones, a node for one with."""
    at = tree
    for letter in name[:-1]:
        below = at[letter]
        assert isinstance(below, dict)
        at = below
    if name:
        at[name[-1]] = {} if full else 1


def _written(tree: Node) -> str:
    """The tree as text: `a` is a shard, `b(..)` one for whose name there are longer ones, within the brackets."""
    return "".join(
        letter + (f"({_written(below)})" if isinstance(below, dict) else "") for letter, below in sorted(tree.items())
    )
