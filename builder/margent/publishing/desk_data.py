"""What the pages' scripts need beside the look-up: the compiled reader, and what roles, places and sources are called."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from margent.publishing.folding import alphabetical
from margent.publishing.scripts import data_script
from margent.vocabulary.model import Labelled, Vocabulary


def write_desk_data(vocabulary: Vocabulary, compiled: str, data: Path) -> None:
    """Nothing comes back: the scripts are written to the folder `data`; `compiled` is the text of reader.json."""
    sources = sorted(
        (source for source in vocabulary.sources.values() if source.iri.startswith(vocabulary.publication.base)),
        key=lambda source: (alphabetical(source.title.value), source.iri),
    )
    told = {
        "reader": compiled,
        "labels": _json(labels_of(vocabulary)),
        "sources": _json({source.slug: source.title.value for source in sources if not source.withdrawn}),
    }
    for name, text in told.items():
        (data / f"{name}.js").write_text(data_script(name, text), encoding="utf-8", newline="\n")


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


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
