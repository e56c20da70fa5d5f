"""One run of publishing: site, dumps, compiled reader and what the look-up needs, in one folder."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from margent.publishing import reader_file
from margent.publishing.desk_data import write_desk_data
from margent.publishing.dumps import Folder, graphs, write_dumps
from margent.publishing.into_place import MARKER, built_beside
from margent.publishing.look_up_shards import write_look_up
from margent.publishing.marks_data import write_marks
from margent.publishing.material import Material, Page
from margent.publishing.offline import write_offline
from margent.publishing.site import write_site
from margent.vocabulary.load import load
from margent.vocabulary.model import Vocabulary


@dataclass(frozen=True, slots=True)
class Published:
    """What was published: how many pages and data files, and the page to begin with."""

    pages: int
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

    `more` are pages that do not follow from the vocabulary, such as that of the rules.

    Raises Fault where the vocabulary cannot be read or the folder cannot be replaced.
    """
    with built_beside(target) as new:
        progress("vocabulary")
        vocabulary = load(vocab, authorities)
        progress("data")
        known = graphs(vocab, authorities, vocabulary)
        dumps = write_dumps(authorities, vocabulary, known, new / "data")
        progress("reader")
        others = Folder(new / "data")
        compiled = reader_file.as_json(reader_file.compile_reader(vocabulary))
        others.write("reader.json", "application/json", "the compiled reader of letterings", compiled)
        write_desk_data(vocabulary, compiled, new / "data")
        progress("pages")
        material = Material(vocabulary, dumps, others.files, authorities, address, more)
        pages = write_site(material, known, site, new, progress)
        progress("look-up")
        write_marks(material, new / "data")
        write_look_up(vocabulary, material.pages, new)
        write_offline(site, new)
        (new / MARKER).write_text(_marker(vocabulary), encoding="utf-8", newline="\n")
        files = len(others.files) + sum(len(dump.files) for dump in dumps)
    return Published(pages, files, target / "index.html")


def _marker(vocabulary: Vocabulary) -> str:
    """What the marker says to somebody who opens it."""
    publication = vocabulary.publication
    return (
        "This folder was written by `margent publish`, which replaces it whole at its next run: keep nothing of your own in it.\n"
        f"{' '.join(publication.titles[0].value.split())}, version {publication.version}\n"
    )
