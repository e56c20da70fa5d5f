"""The index of an authority from its cache file, where neither the makers nor the vocabulary have changed since.

The file is a line of JSON and then the bytes of the arrays it names. Nothing in it is run: a file that does not fit is
passed over and written anew.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
import tempfile
from array import array
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from margent.names.index import Index
from margent.names.index_stream import records
from margent.names.lore import Lore
from margent.names.normal import Folded
from margent.vocabulary.turtle import turtle_files

FORMAT = 1
_ARRAYS = ("dates", "form_maker", "form_flags", "form_start", "form_words")
KEPT = 4
"""Cache files that are kept beside the newest."""


def cached_index(folders: Sequence[Path], lore: Lore, cache: Path | None) -> Index:
    """The index of the makers of those folders, from the cache where there is one; without a cache folder always made anew."""
    if cache is None:
        return Index.of(records(folders), lore)
    path = cache / f"makers-{fingerprint(folders, lore)}.bin"
    index = _read(path, lore)
    if index is None:
        index = Index.of(records(folders), lore)
        _write(path, index)
    return index


def fingerprint(folders: Sequence[Path], lore: Lore) -> str:
    """A digest of names, sizes and times of the files, of the code that reads names, and of what is known of names."""
    digest = hashlib.sha256(f"{FORMAT} {sys.byteorder} {lore.digest}".encode())
    here = Path(__file__).parent
    for path in [
        *(path for folder in folders for path in turtle_files(folder)),
        *(here / f"{name}.py" for name in ("normal", "parts", "index", "index_stream", "lore")),
    ]:
        about = path.stat()
        digest.update(f"{path.resolve()}\0{about.st_size}\0{about.st_mtime_ns}\n".encode())
    return digest.hexdigest()[:24]


def _read(path: Path, lore: Lore) -> Index | None:
    """The index of the file; None where there is none, or one that does not fit."""
    try:
        with path.open("rb") as file:
            head: dict[str, Any] = json.loads(file.readline())
            index = Index(lore)
            index.iris, index.labels = head["iris"], head["labels"]
            index.words = [Folded(word) for word in head["words"]]
            index.form_texts = head["form_texts"]
            index.roles = [tuple(roles) for roles in head["roles"]]
            index.places = [tuple(places) for places in head["places"]]
            index.ties = {int(maker): [(tie, other) for tie, other in ties] for maker, ties in head["ties"].items()}
            index.objects = {int(maker): objects for maker, objects in head["objects"].items()}
            index.kinds = bytearray(file.read(head["kinds"]))
            for name in _ARRAYS:
                values: array[int] = getattr(index, name)
                del values[:]
                values.fromfile(file, head[name])
            if file.read(1):
                return None
    except (OSError, ValueError, KeyError, EOFError, TypeError, AttributeError):
        return None
    if len(index.kinds) != len(index.iris) or len(index.form_start) != len(index.form_maker) + 1:
        return None
    index.number_of = {iri: number for number, iri in enumerate(index.iris)}
    index.derive()
    return index


def _write(path: Path, index: Index) -> None:
    """Nothing comes back: the file is written whole; where it cannot be, nothing is lost but time."""
    head = {
        "iris": index.iris,
        "labels": index.labels,
        "words": index.words,
        "form_texts": index.form_texts,
        "roles": index.roles,
        "places": index.places,
        "ties": index.ties,
        "objects": index.objects,
        "kinds": len(index.kinds),
        **{name: len(getattr(index, name)) for name in _ARRAYS},
    }
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".makers-")
        with os.fdopen(handle, "wb") as file:
            file.write(json.dumps(head, ensure_ascii=False, separators=(",", ":")).encode("utf-8") + b"\n")
            file.write(index.kinds)
            for each in _ARRAYS:
                getattr(index, each).tofile(file)
        Path(name).replace(path)
        for old in sorted(path.parent.glob("makers-*.bin"), key=lambda each: each.stat().st_mtime_ns)[: -1 - KEPT]:
            old.unlink(missing_ok=True)
    except OSError:
        return
