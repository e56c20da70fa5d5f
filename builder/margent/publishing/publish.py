"""One run of publishing: site, dumps, compiled reader and what the look-up needs, in one folder.

What has not changed since the last run to the same folder is taken over from there, byte for byte what it would be.
"""

from __future__ import annotations

import dataclasses
import gc
import hashlib
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from margent.publishing import kept_entries, messages, reader_file, site_state
from margent.publishing.dependencies import touched
from margent.publishing.desk_data import write_desk_data
from margent.publishing.dumps import Dump, File, Folder, Graphs, folder_names, write_dump
from margent.publishing.entry_data import EntryData
from margent.publishing.handlist import pdf_maker
from margent.publishing.into_place import MARKER, Built, built_beside
from margent.publishing.look_up_kept import look_up
from margent.publishing.marks_data import write_marks
from margent.publishing.material import Material, Page
from margent.publishing.offline import write_offline
from margent.publishing.reader_cache import cache_folder
from margent.publishing.site import Former, write_site
from margent.publishing.site_state import State
from margent.vocabulary.model import Vocabulary


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
    with _uncollected(), built_beside(target) as built:
        progress("vocabulary")
        read = kept_entries.read(vocab, authorities, kept / "entries")
        key = site_state.key_of(vocab, authorities, site, _settings(read.vocabulary, address, more))
        run = _Run(vocab, authorities, read, site_state.former(kept / "state.json", key, target), key)
        progress("data")
        run.write_data(built)
        progress("reader")
        run.write_reader(built)
        progress("pages")
        others = [File(**file) for file in run.state.others]
        material = Material(run.vocabulary, run.dumps, others, authorities, address, more)
        changed = Former(run.former.pages, frozenset(touched(read.changes))) if run.former else None
        spoken = messages.unpacked(run.former.languages) if run.former else messages.languages(site, progress)
        data = EntryData(run.known.of, run.known.context, material.bases)
        pages = write_site(material, read.texts, data, site, built, spoken, changed, progress)
        progress("look-up")
        write_marks(material, built.new / "data")
        digest = run.former.look_up if run.former else ""
        run.state.look_up = look_up(
            run.vocabulary, material.pages, built, kept / "look-up.json", digest, read.changes, read.texts
        )
        write_offline(site, built)
        (built.new / MARKER).write_text(_marker(run.vocabulary), encoding="utf-8", newline="\n")
        run.state.pages = pages.pages
        run.state.languages = messages.packed(spoken)
    run.state.stamp = site_state.stamp_of(target)
    try:
        read.keep()
        site_state.keep(kept / "state.json", run.state)
    except OSError:
        pass  # it only saves time
    files = len(run.state.others) + sum(len(dump.files) for dump in run.dumps)
    return Published(pages.count, pages.new, files, target / "index.html")


@contextmanager
def _uncollected() -> Iterator[None]:
    """Nothing comes back: until the block ends Python does not look through the vocabulary for circles of objects.

    There are few, and with a hundred thousand makers the search takes ten times as long as the work.
    """
    collected = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collected:
            gc.enable()


class _Run:
    """The data of one run: what is taken over from the last one, and what is made."""

    def __init__(
        self, vocab: Path, authorities: Sequence[Path], read: kept_entries.Read, former: State | None, key: str
    ) -> None:
        self.vocabulary = read.vocabulary
        self.former = former
        self.state = State(key)
        self.dumps: list[Dump] = []
        self.known = Graphs(vocab, authorities, read.vocabulary)
        self._names = ["", *folder_names(authorities)]
        self._digests = [read.digests[folder] for folder in (vocab, *authorities)]

    def write_data(self, built: Built) -> None:
        """Nothing comes back: the dumps are in the folder data/ of the site, those that stand taken over from the former one."""
        publications = [self.vocabulary.publication, *self.vocabulary.authorities]
        for number, (name, publication) in enumerate(zip(self._names, publications, strict=True)):
            dump = self._standing(number)
            if dump is None or not built.stands(
                *(f"data/{name}/{file.path}" if name else f"data/{file.path}" for file in dump.files)
            ):
                last = self._last(number)
                former = (last, built.target / "data") if last else None
                dump = write_dump(publication, name, self.known.body(number), self.known, built.new / "data", former)
            self.dumps.append(dataclasses.replace(dump, publication=publication, folder=name))
            self.state.bodies.append((self._digests[number], site_state.written(dump.files), dump.triples))

    def write_reader(self, built: Built) -> None:
        """Nothing comes back: the compiled reader is there, and what the desk needs; both follow from the general vocabulary."""
        if self.former and self._standing(0) and built.stands(*(f"data/{name}" for name in self.former.reader)):
            self.state.reader, self.state.others = self.former.reader, self.former.others
            return
        folder = Folder(built.new / "data")
        before = set(folder.path.iterdir())
        compiled = reader_file.as_json(reader_file.compile_reader(self.vocabulary))
        folder.write("reader.json", "application/json", "the compiled reader of letterings", compiled)
        write_desk_data(self.vocabulary, compiled, folder.path)
        self.state.reader = sorted(path.name for path in set(folder.path.iterdir()) - before)
        self.state.others = site_state.written(folder.files)

    def _standing(self, number: int) -> Dump | None:
        """The dump of the last run, where nothing in its folder has changed since."""
        last = self._last(number)
        return last if last and self.former and self.former.bodies[number][0] == self._digests[number] else None

    def _last(self, number: int) -> Dump | None:
        """The dump of the last run."""
        if self.former and len(self.former.bodies) > number:
            return self.former.dump(number, self.vocabulary.publication)
        return None


def _settings(vocabulary: Vocabulary, address: str, more: Sequence[Page]) -> str:
    """What else is told on every page, or decides what there is on it."""
    paths = [page.path for page in more]
    return f"{address}\0{paths}{bool(vocabulary.makers)}{bool(vocabulary.marks)}{pdf_maker() is not None}"


def _marker(vocabulary: Vocabulary) -> str:
    """What the marker says to somebody who opens it."""
    publication = vocabulary.publication
    return (
        "This folder was written by `margent publish`, which replaces it whole at its next run: keep nothing of your own in it.\n"
        f"{' '.join(publication.titles[0].value.split())}, version {publication.version}\n"
    )
