"""The rows of the look-up as small files, cut where they are full: each holds the keys that begin with its name.

Where more rows begin with a text than one file may hold, the file of that text has the most wanted of them and all that
go on with a rare letter; for each other letter there is a file one letter further on. So a browser needs one file for
what was typed, however large the authority.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from heapq import nsmallest
from itertools import groupby, islice
from pathlib import Path

from margent.publishing.look_up import Found, Row, rows
from margent.publishing.look_up_keys import Keys
from margent.publishing.pages import Pages
from margent.publishing.scripts import data_script
from margent.vocabulary.model import Vocabulary

FORMAT = 2

FOLDER = "look-up"

FULL = 44_000
"""Characters of one file at most, which compress to less than 12 kB."""
WANTED = 15
"""Entries of each kind that stand in the file of a text with which too many keys begin."""
ALIKE = 100
"""Rows of one and the same key, which no letter tells apart: more than these cannot be answered, nor would anybody read them."""
FORMS = 8
"""Forms of one entry that may stand side by side among them."""

Node = dict[str, "Node | int"]


def write_look_up(vocabulary: Vocabulary, pages: Pages, site: Path) -> int:
    """How many files were written to the folder look-up/ of the site."""
    files = look_up_files(vocabulary, pages)
    (site / FOLDER).mkdir(parents=True, exist_ok=True)
    for path, text in files.items():
        (site / path).write_text(text, encoding="utf-8", newline="\n")
    return len(files)


def look_up_files(vocabulary: Vocabulary, pages: Pages) -> dict[str, str]:
    """The text of each file by its path below the site: the shards, and the index with the table of letters."""
    keys = Keys(vocabulary)
    files: dict[str, str] = {}
    tree: Node = {}
    for name, full, own in shards(rows(vocabulary, pages, keys)):
        files[f"{FOLDER}/{file_name(name)}.js"] = data_script(f"look-up {name}", _shard(own))
        _mark(tree, name, full)
    index = {
        "format": FORMAT,
        "version": vocabulary.publication.version,
        "letters": keys.published(),
        "shards": _written(tree),
    }
    text = json.dumps(index, ensure_ascii=False, separators=(",", ":"))
    files[f"{FOLDER}/index.js"] = data_script("look-up", text)
    return files


def shards(sorted_rows: Sequence[Row], name: str = "") -> Iterator[tuple[str, bool, Sequence[Row]]]:
    """Name, whether there are files of longer names, and rows of each shard, from the one without a name on."""
    if _size(sorted_rows) <= FULL:
        yield name, False, sorted_rows
        return
    here = len(name)
    alike = [row for row in sorted_rows if len(row.key) == here]
    longer = sorted_rows[len(alike) :]
    exact = alike[:ALIKE]
    own = {id(row): row for row in (_most_wanted(exact, longer) if name else exact)}
    room = FULL - _size(own.values())
    further: list[tuple[str, list[Row]]] = []
    groups = [(letter, list(group)) for letter, group in groupby(longer, key=lambda row: row.key[here])]
    for letter, group in sorted(groups, key=lambda each: (_size(each[1]), each[0])):
        room -= _size(group)
        if room < 0:
            further.append((letter, group))
        else:
            own |= {id(row): row for row in group}
    yield name, bool(further), sorted(own.values(), key=_order)
    for letter, group in sorted(further):
        yield from shards(group, name + letter)


def file_name(name: str) -> str:
    """A file name that every system takes: `s-` and the shard's name, signs other than plain letters by number.

    >>> file_name("uan d"), file_name("&")
    ('s-uan_d', 's-.26')
    """
    return "s-" + "".join(
        char if char.isascii() and char.isalnum() else "_" if char == " " else f".{ord(char):x}" for char in name
    )


def _most_wanted(exact: Sequence[Row], longer: Sequence[Row]) -> list[Row]:
    """Rows for a text with which too many keys begin: those that are no more than it, then the shortest of each kind of entry."""
    chosen: dict[str, Row] = {}
    for row in exact:
        chosen.setdefault(row.found.page, row)
    for kind in sorted({row.found.rank for row in longer}):
        own = (row for row in longer if row.found.rank == kind)
        fresh = (row for row in nsmallest(WANTED * FORMS, own, key=_wanted) if row.found.page not in chosen)
        for row in islice({row.found.page: row for row in fresh}.values(), WANTED):
            chosen[row.found.page] = row
    return list(chosen.values())


def _wanted(row: Row) -> tuple[bool, int, str, str]:
    return row.at > 0, len(row.key), row.key, row.found.page


def _order(row: Row) -> tuple[str, int, str, str, int]:
    return row.key, row.found.rank, row.found.page, row.form, row.at


def _size(some: Iterable[Row]) -> int:
    """Characters of a file with these rows, at most: an entry is written once, however many of its forms are there."""
    return sum(row.size for row in some)


def _shard(own: Sequence[Row]) -> str:
    """`entries` as [page, label, language, what is said, shortest truncation], `rows` as [entry, form or 0 for the label, word]."""
    numbers: dict[Found, int] = {}
    listed: list[list[str | int]] = []
    for row in own:
        number = numbers.setdefault(row.found, len(numbers))
        line: list[str | int] = [number, row.form if row.form != row.found.label else 0, row.at]
        while line[-1] == 0 and len(line) > 1:
            line.pop()
        listed.append(line)
    entries = [[each.page, each.label, each.lang, each.said, each.shortest] for each in numbers]
    for entry in entries:
        while not entry[-1]:
            entry.pop()
    return json.dumps({"entries": entries, "rows": listed}, ensure_ascii=False, separators=(",", ":"))


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
