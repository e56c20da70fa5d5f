"""One run of publishing: site, dumps, compiled reader and what the look-up needs, in one folder.

What has not changed since the last run to the same folder is taken over from there, byte for byte what it would be.
"""

from __future__ import annotations

import dataclasses
import hashlib
import os
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from pyoxigraph import Triple

from margent.publishing import kept_entries, reader_file, site_state
from margent.publishing.dependencies import touched
from margent.publishing.desk_data import write_desk_data
from margent.publishing.dumps import (
    Dump,
    File,
    Folder,
    Graphs,
    folder_names,
    graphs,
    ontology_of,
    triples_of,
    write_dump,
)
from margent.publishing.entry_data import EntryData
from margent.publishing.handlist import pdf_maker
from margent.publishing.into_place import MARKER, built_beside
from margent.publishing.json_ld import context
from margent.publishing.look_up_shards import write_look_up
from margent.publishing.marks_data import write_marks
from margent.publishing.material import Material, Page
from margent.publishing.offline import write_offline
from margent.publishing.reader_cache import cache_folder
from margent.publishing.site import Former, write_site
from margent.publishing.site_state import State
from margent.vocabulary.model import Iri, Vocabulary


@dataclass(frozen=True, slots=True)
class Published:
    """What was published: how many pages, how many of them were written anew, data files, and the page to begin with."""

    pages: int
    new: int
    files: int
    start: Path


def publish(
    vocab: Path,
    site: Path,
    target: Path,
    authorities: Sequence[Path] = (),
    address: str = "",
    progress: Callable[[str], None] = lambda _: None,
    more: Sequence[Page] = (),
) -> Published:
    """What was published to the folder `target`, which is replaced whole or not touched at all.

    `more` are pages that do not follow from the vocabulary, such as that of the rules; they are written at every run.

    Raises Fault where the vocabulary cannot be read or the folder cannot be replaced.
    """
    kept = cache_folder() / f"site-{hashlib.sha256(str(target.absolute()).encode()).hexdigest()[:16]}"
    with built_beside(target) as new:
        progress("vocabulary")
        read = kept_entries.read(vocab, authorities, kept / "entries")
        key = site_state.key_of(vocab, authorities, site, _settings(read.vocabulary, address, more))
        run = _Run(vocab, authorities, read, site_state.former(kept / "state.json", key, target), key)
        progress("data")
        run.write_data(new / "data", target)
        progress("reader")
        run.write_reader(new / "data", target)
        progress("pages")
        others = [File(**file) for file in run.state.others]
        material = Material(run.vocabulary, run.dumps, others, authorities, address, more)
        changed = Former(target, run.former.pages, frozenset(touched(read.changes))) if run.former else None
        pages = write_site(
            material, read.texts, EntryData(run.triples, run.context, material.bases), site, new, changed, progress
        )
        progress("look-up")
        write_marks(material, new / "data")
        write_look_up(run.vocabulary, material.pages, new)
        write_offline(site, new)
        (new / MARKER).write_text(_marker(run.vocabulary), encoding="utf-8", newline="\n")
        run.state.pages = pages.pages
    run.state.stamp = site_state.stamp_of(target)
    try:
        read.keep()
        site_state.keep(kept / "state.json", run.state)
    except OSError:
        pass  # it only saves time
    files = len(run.state.others) + sum(len(dump.files) for dump in run.dumps)
    return Published(pages.count, pages.new, files, target / "index.html")


class _Run:
    """The data of one run: what is taken over from the last one, and what is made."""

    def __init__(
        self, vocab: Path, authorities: Sequence[Path], read: kept_entries.Read, former: State | None, key: str
    ) -> None:
        self.vocabulary = read.vocabulary
        self.former = former
        self.state = State(key)
        self.dumps: list[Dump] = []
        self._vocab, self._authorities = vocab, authorities
        self._digests = [read.digests[folder] for folder in (vocab, *authorities)]
        self._whole: Graphs | None = None
        ontology = ontology_of(vocab)
        self.context = context(ontology, self.vocabulary.publication.base)

    def triples(self, iris: Sequence[Iri]) -> list[Triple]:
        """The triples of those entries, and what follows from the others for them."""
        if self._whole:
            return [triple for body in self._whole.bodies for triple in body]
        return triples_of(iris, self.vocabulary)

    def write_data(self, data: Path, site: Path) -> None:
        """Nothing comes back: the dumps are in the folder `data`, those that stand taken over from the former `site`."""
        names = ["", *folder_names(self._authorities)]
        publications = [self.vocabulary.publication, *self.vocabulary.authorities]
        for number, (name, publication) in enumerate(zip(names, publications, strict=True)):
            dump = self._standing(number)
            if dump is None or not _linked(
                [f"{name}/{file.path}" if name else file.path for file in dump.files], site / "data", data
            ):
                if self._whole is None:
                    self._whole = graphs(self._vocab, self._authorities, self.vocabulary)
                dump = write_dump(publication, name, self._whole.bodies[number], self._whole, data)
            self.dumps.append(dataclasses.replace(dump, publication=publication, folder=name))
            self.state.bodies.append((self._digests[number], site_state.written(dump.files), dump.triples))

    def write_reader(self, data: Path, site: Path) -> None:
        """Nothing comes back: the compiled reader is there, and what the desk needs; both follow from the general vocabulary."""
        if self.former and self._standing(0) and _linked(self.former.reader, site / "data", data):
            self.state.reader, self.state.others = self.former.reader, self.former.others
            return
        before = set(data.iterdir())
        folder = Folder(data)
        compiled = reader_file.as_json(reader_file.compile_reader(self.vocabulary))
        folder.write("reader.json", "application/json", "the compiled reader of letterings", compiled)
        write_desk_data(self.vocabulary, compiled, data)
        self.state.reader = sorted(path.name for path in set(data.iterdir()) - before)
        self.state.others = site_state.written(folder.files)

    def _standing(self, number: int) -> Dump | None:
        """The dump of the last run, where nothing in its folder has changed since."""
        if self.former and len(self.former.bodies) > number and self.former.bodies[number][0] == self._digests[number]:
            return self.former.dump(number, self.vocabulary.publication)
        return None


def _settings(vocabulary: Vocabulary, address: str, more: Sequence[Page]) -> str:
    """What else is told on every page, or decides what there is on it."""
    paths = [page.path for page in more]
    return f"{address}\0{paths}{bool(vocabulary.makers)}{bool(vocabulary.marks)}{pdf_maker() is not None}"


def _linked(paths: Iterable[str], site: Path, new: Path) -> bool:
    """Whether all the files could be taken over."""
    try:
        for path in paths:
            (new / path).parent.mkdir(parents=True, exist_ok=True)
            (new / path).unlink(missing_ok=True)
            os.link(site / path, new / path)
    except OSError:
        return False
    return True


def _marker(vocabulary: Vocabulary) -> str:
    """What the marker says to somebody who opens it."""
    publication = vocabulary.publication
    return (
        "This folder was written by `margent publish`, which replaces it whole at its next run: keep nothing of your own in it.\n"
        f"{' '.join(publication.titles[0].value.split())}, version {publication.version}\n"
    )
