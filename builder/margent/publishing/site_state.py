"""What the last run of publishing left to build on: from what each page was made, and which files of data it wrote.

It is kept in the user's cache folder, never in the site. It counts only where the program, the templates, the settings and
the published folder are those of that run; in all other cases everything is written anew.
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
import shutil
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from margent.publishing.dumps import Dump, File
from margent.publishing.handlist import pdf_maker
from margent.publishing.into_place import MARKER
from margent.vocabulary.model import Publication

SOURCES = ("templates", "guide", "messages")
"""Folders of the site's source on which the pages depend; all others are copied at every run."""
PDF_SOURCES = ("styles", "fonts")
"""Those on which the handlist as PDF depends besides."""

KEPT = 8
"""Published folders for which something is kept, those published to last."""


@dataclass
class State:
    """What is kept: `pages` the keys of each page, `bodies` a digest and the files of each body of data."""

    key: str
    stamp: list[int] = field(default_factory=list)
    pages: dict[str, list[str]] = field(default_factory=dict)
    bodies: list[tuple[str, list[dict[str, Any]], int]] = field(default_factory=list)
    reader: list[str] = field(default_factory=list)
    """Files below data/ that follow from the general vocabulary alone, beside its dump."""
    others: list[dict[str, Any]] = field(default_factory=list)
    """Those of them that the data page lists."""
    languages: dict[str, str] = field(default_factory=dict)
    """The compiled catalogue of each language that is published."""
    look_up: str = ""
    """The digest of what is kept of the look-up."""

    def dump(self, number: int, publication: Publication) -> Dump:
        """A body of data as it was written then."""
        _, files, triples = self.bodies[number]
        return Dump(publication, "", tuple(File(**file) for file in files), triples)


KEPT_AS_THEY_ARE = ("reader", "others", "languages", "look_up")


def key_of(vocab: Path, authorities: Sequence[Path], source: Path, settings: str) -> str:
    """A digest of all on which every page depends: the program, the templates, the ontology, who publishes."""
    package = Path(__file__).resolve().parent.parent
    names = (*SOURCES, *PDF_SOURCES) if pdf_maker() else SOURCES
    files = [
        *package.rglob("*.py"),
        *(path for name in names for path in (source / name).rglob("*") if path.is_file()),
        *vocab.glob("ns*.ttl"),
        *(folder / "publication.ttl" for folder in (vocab, *authorities)),
    ]
    digest = hashlib.sha256(f"{settings}\0{[str(path.resolve()) for path in (vocab, *authorities)]}".encode())
    for path in sorted(files):
        digest.update(f"{path.resolve()}\0".encode() + hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()


def stamp_of(target: Path) -> list[int]:
    """What tells the published folder, as a run left it, from any other, and from itself after a run that was cut short."""
    try:
        about, marker = target.stat(), (target / MARKER).stat()
    except OSError:
        return []
    return [about.st_dev, about.st_ino, marker.st_ino, marker.st_mtime_ns]


def former(path: Path, key: str, target: Path) -> State | None:
    """What the last run left, where it may be built upon."""
    try:
        found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
        names: list[str] = found["names"]
        pages = {page: [names[number] for number in numbers] for page, numbers in found["pages"].items()}
        bodies = [(digest, files, triples) for digest, files, triples in found["bodies"]]
        rest = [found[name] for name in KEPT_AS_THEY_ARE]
        state = State(found["key"], found["stamp"], pages, bodies, *rest)
    except (OSError, ValueError, KeyError, TypeError, IndexError, AttributeError):
        return None
    return state if state.key == key and state.stamp and state.stamp == stamp_of(target) else None


def keep(path: Path, state: State) -> None:
    """Nothing comes back: the state is kept for the next run."""
    numbers: dict[str, int] = {}
    pages = {
        page: [numbers.setdefault(key, len(numbers)) for key in keys] for page, keys in sorted(state.pages.items())
    }
    whole = {
        "key": state.key,
        "stamp": state.stamp,
        "names": list(numbers),
        "pages": pages,
        "bodies": state.bodies,
    }
    whole |= {name: getattr(state, name) for name in KEPT_AS_THEY_ARE}
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_suffix(".new")
    beside.write_text(json.dumps(whole, ensure_ascii=False, separators=(",", ":")), encoding="utf-8")
    beside.replace(path)
    states = sorted(path.parent.parent.glob("site-*/state.json"), key=lambda each: each.stat().st_mtime_ns)
    for old in states[:-KEPT]:
        shutil.rmtree(old.parent, ignore_errors=True)


def written(files: Iterable[File]) -> list[dict[str, Any]]:
    """Files of data as they are kept."""
    return [dataclasses.asdict(file) for file in files]
