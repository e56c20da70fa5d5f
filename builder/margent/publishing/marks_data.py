"""What the finder of marks looks through in the browser: every mark as `names/marks.py` compares it, and the words and weights."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from margent.names.mark_words import MarkWords
from margent.names.marks import Described, Marks
from margent.publishing.look_up import ENGLISH
from margent.publishing.material import Material
from margent.publishing.scripts import data_script

MOST_LETTERS = 6
"""Letters behind a monogram that may be a term cut short, as F for fecit; longer words are no part of a monogram."""


def write_marks(material: Material, data: Path) -> None:
    """Nothing comes back: `marks.js` is written to the folder `data`, where the vocabulary has marks at all."""
    if material.vocabulary.marks:
        text = json.dumps(marks_data(material), ensure_ascii=False, separators=(",", ":"))
        data.mkdir(parents=True, exist_ok=True)
        (data / "marks.js").write_text(data_script("marks", text), encoding="utf-8", newline="\n")


def marks_data(material: Material) -> dict[str, Any]:
    """`marks` in force by their pages, `devices` and `arrangements`, `weights` with wordings, and `terms` by their letters."""
    marks = Marks(material.vocabulary)
    return {
        "weights": {key: [each.weight, each.wording] for key, each in sorted(marks.weights.items())},
        "devices": _words(marks.devices),
        "arrangements": _words(marks.arrangements),
        "terms": {letters: term for letters, term in sorted(marks.terms.items()) if len(letters) <= MOST_LETTERS},
        "marks": [_mark(each, material) for each in sorted(marks.described, key=lambda each: each.mark.iri)],
    }


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


def _mark(described: Described, material: Material) -> dict[str, Any]:
    """One mark; what it has nothing of is left out."""
    pages, mark = material.pages, described.mark
    drawing = material.drawings.get(mark.iri)
    told = {
        "page": pages.path(mark.iri).removesuffix(".html"),
        "label": pages.name(mark.iri, ENGLISH).value,
        "kind": mark.mark_kind,
        "written": mark.letters,
        "letters": "".join(described.letters),
        "devices": sorted(slug_of(iri) for iri in described.devices),
        "arrangements": sorted(slug_of(iri) for iri in described.arrangements),
        "words": sorted(described.words),
        "period": described.period,
        "drawing": drawing.path if drawing else None,
        "whom": [[pages.path(iri).removesuffix(".html"), pages.name(iri, ENGLISH).value] for iri in mark.stands_for],
        "states": [slug_of(iri) for iri in mark.states],
    }
    return {key: value for key, value in told.items() if value}
