"""What the finder of marks looks through in the browser: every mark as `names/marks.py` compares it, and the words and weights.

By what marks are compared lies in a few files that are all loaded; what else is told of a mark lies in others, of which
those of the marks that were found are loaded. No file grows with the authority.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from margent.names.mark_words import MarkWords, weighty
from margent.names.marks import Described, Marks
from margent.publishing.look_up import ENGLISH
from margent.publishing.material import Material
from margent.publishing.scripts import data_script

MOST_LETTERS = 6
"""Letters behind a monogram that may be a term cut short, as F for fecit; longer words are no part of a monogram."""

FULL = 56_000
"""Bytes of one file of marks at most, which compress to less than 12 kB."""

FOLDER = "marks"


def write_marks(material: Material, data: Path) -> None:
    """Nothing comes back: the files are written to the folder `data`, where the vocabulary has marks at all."""
    if material.vocabulary.marks:
        (data / FOLDER).mkdir(parents=True, exist_ok=True)
        for name, told in marks_data(material):
            text = json.dumps(told, ensure_ascii=False, separators=(",", ":"))
            path = data / f"{name.replace(' ', '/')}.js"
            path.write_text(data_script(name, text), encoding="utf-8", newline="\n")


def marks_data(material: Material) -> Iterator[tuple[str, Any]]:
    """What is in each file, by its name: `marks` with weights, words and how many files there are; then the files.

    `marks compared-1` and so on have rows in the order of the marks; `marks told-1` the rest, from the numbers in `told` on.
    """
    marks = Marks(material.vocabulary)
    described = sorted(marks.described, key=lambda each: each.mark.iri)
    compared = list(_pieces(_compared(each) for each in described))
    told = list(_pieces(_told(each, material) for each in described))
    starts = [sum(map(len, told[:number])) for number in range(len(told))]
    yield (
        "marks",
        {
            "weights": {key: [each.weight, each.wording] for key, each in sorted(marks.weights.items())},
            "arrangements": _words(marks.arrangements),
            "terms": {letters: term for letters, term in sorted(marks.terms.items()) if len(letters) <= MOST_LETTERS},
            "compared": len(compared),
            "told": starts,
        },
    )
    yield "marks devices", _words(marks.devices)
    yield from ((f"marks compared-{number}", piece) for number, piece in enumerate(compared, start=1))
    yield from ((f"marks told-{number}", piece) for number, piece in enumerate(told, start=1))


def _pieces(rows: Iterable[dict[str, Any]]) -> Iterator[list[dict[str, Any]]]:
    """The rows in lists that are small enough for a file; a row that is larger has one of its own."""
    piece: list[dict[str, Any]] = []
    room = FULL
    for row in rows:
        size = len(json.dumps(row, ensure_ascii=False).encode())
        if piece and size > room:
            yield piece
            piece, room = [], FULL
        piece.append(row)
        room -= size
    if piece:
        yield piece


def _words(words: MarkWords) -> dict[str, Any]:
    """The words of one kind: what each is called in English and is narrower than, and which are meant by each phrase."""
    return {
        "entries": {
            word.slug: [word.label(), [slug_of(iri) for iri in word.broader]]
            for iri, word in sorted(words.words.items())
        },
        "called": {
            " ".join(phrase): sorted(slug_of(iri) for iri in entries)
            for phrase, entries in sorted(words.called.items())
        },
    }


def slug_of(iri: str) -> str:
    """The last part of an IRI."""
    return iri.rsplit("/", 1)[-1]


def _compared(described: Described) -> dict[str, Any]:
    """By what the mark is compared; what it has nothing of is left out."""
    row = {
        "written": described.mark.letters,
        "letters": "".join(described.letters),
        "devices": sorted(slug_of(iri) for iri in described.devices),
        "arrangements": sorted(slug_of(iri) for iri in described.arrangements),
        "words": sorted(weighty(tuple(described.words))),
        "period": described.period,
    }
    return {key: value for key, value in row.items() if value}


def _told(described: Described, material: Material) -> dict[str, Any]:
    """What else is told of the mark where it is found."""
    pages, mark = material.pages, described.mark
    drawing = material.drawings.get(mark.iri)
    row = {
        "page": pages.path(mark.iri).removesuffix(".html"),
        "label": pages.name(mark.iri, ENGLISH).value,
        "kind": mark.mark_kind,
        "drawing": drawing.path if drawing else None,
        "whom": [[pages.path(iri).removesuffix(".html"), pages.name(iri, ENGLISH).value] for iri in mark.stands_for],
        "states": [slug_of(iri) for iri in mark.states],
    }
    return {key: value for key, value in row.items() if value}
