"""What the finder of marks looks through in the browser: every mark, and the words by which marks are described."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from margent.publishing.look_up import ENGLISH
from margent.publishing.material import Material
from margent.publishing.scripts import data_script
from margent.vocabulary.cataloguing_words import MarkWord
from margent.vocabulary.model import Mark


def write_marks(material: Material, data: Path) -> None:
    """Nothing comes back: `marks.js` is written to the folder `data`, where the vocabulary has marks at all."""
    if material.vocabulary.marks:
        text = json.dumps(marks_data(material), ensure_ascii=False, separators=(",", ":"))
        (data / "marks.js").write_text(data_script("marks", text), encoding="utf-8", newline="\n")


def marks_data(material: Material) -> dict[str, Any]:
    """`marks` in force, by their pages, and `words`: for each thing shown its wordings in all languages, and what is broader."""
    words = [
        word for word in material.vocabulary.mark_words.values() if isinstance(word, MarkWord) and not word.withdrawn
    ]
    marks = sorted(material.vocabulary.marks.values(), key=lambda mark: material.pages.path(mark.iri))
    return {
        "words": {
            word.slug: [
                sorted({text.value for text in (*word.labels, *word.wordings)}),
                [iri.rsplit("/", 1)[-1] for iri in word.broader],
            ]
            for word in words
        },
        "marks": [_mark(mark, material) for mark in marks if not mark.withdrawn],
    }


def _mark(mark: Mark, material: Material) -> dict[str, Any]:
    """One mark; what it has nothing of is left out."""
    pages = material.pages
    drawing = material.drawings.get(mark.iri)
    told = {
        "page": pages.path(mark.iri).removesuffix(".html"),
        "label": pages.name(mark.iri, ENGLISH).value,
        "kind": mark.mark_kind,
        "letters": mark.letters,
        "arrangement": " ".join(text.value for text in mark.arrangements),
        "device": " ".join(text.value for text in mark.devices),
        "period": mark.period,
        "drawing": drawing.path if drawing else None,
        "whom": [[pages.path(iri).removesuffix(".html"), pages.name(iri, ENGLISH).value] for iri in mark.stands_for],
        "states": [iri.rsplit("/", 1)[-1] for iri in mark.states],
    }
    return {key: value for key, value in told.items() if value}
