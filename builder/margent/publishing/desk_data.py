"""What the pages' scripts need beside the look-up: the compiled reader, and what roles, notices and places are called."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path

from margent.publishing.scripts import data_script
from margent.vocabulary.model import Labelled, Vocabulary


def write_desk_data(vocabulary: Vocabulary, compiled: str, data: Path) -> None:
    """Nothing comes back: `reader.js` and `labels.js` are written to the folder `data`; `compiled` is the text of reader.json."""
    labels = json.dumps(labels_of(vocabulary), ensure_ascii=False, separators=(",", ":"))
    for name, text in (("reader", compiled), ("labels", labels)):
        (data / f"{name}.js").write_text(data_script(name, text), encoding="utf-8", newline="\n")


def labels_of(vocabulary: Vocabulary) -> dict[str, dict[str, dict[str, str]]]:
    """For each kind of page, and each entry by the last part of its IRI, its label in each language."""
    kinds: dict[str, Iterable[Labelled]] = {
        "role": vocabulary.roles.values(),
        "notice": vocabulary.notice_kinds.values(),
        "place": vocabulary.places.values(),
    }
    return {
        kind: {entry.slug: {text.lang: text.value for text in entry.labels} for entry in entries}
        for kind, entries in kinds.items()
    }
