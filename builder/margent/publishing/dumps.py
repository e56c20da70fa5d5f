"""The data of a publication as files: Turtle, JSON-LD and N-Triples of the same graph, the ontology, the context, and a description.

The same vocabulary gives the same bytes on every machine: what is written is sorted by rules of our own, and the only
dates are those of publication.ttl.
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pyoxigraph import NamedNode, Triple

from margent.publishing import dump_forms
from margent.publishing.derived import derived, derived_of_authority
from margent.publishing.description import Body, description
from margent.publishing.json_ld import context
from margent.vocabulary.model import Iri, Publication, Vocabulary
from margent.vocabulary.turtle import TurtleFile, read_file, read_folder


def is_ontology(file: TurtleFile) -> bool:
    """Whether a file of the vocabulary defines classes and properties: ns.ttl, and ns-names.ttl and its like beside it."""
    return file.path.name == "ns.ttl" or file.path.name.startswith("ns-")


@dataclass(frozen=True, slots=True)
class File:
    """One file of the data: its path below the data folder, what it is, its size in bytes, its SHA-256 in hexadecimal."""

    path: str
    form: str
    about: str
    size: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Dump:
    """One body of data as written: the general vocabulary (`folder` is empty) or one authority in a folder of its own."""

    publication: Publication
    folder: str
    files: tuple[File, ...]
    triples: int


class Graphs:
    """The triples that are published: the ontology, and each body of data, the general vocabulary first, read when it is asked for.

    `context` is the JSON-LD context that all bodies share.
    """

    def __init__(self, vocab: Path, authorities: Sequence[Path], vocabulary: Vocabulary) -> None:
        self._folders = [vocab, *authorities]
        self._vocabulary = vocabulary
        self._bodies: dict[int, list[Triple]] = {}
        self._files: set[Path] = set()
        self.ontology = ontology_of(vocab)
        self.context: dict[str, Any] = context(self.ontology, vocabulary.publication.base)

    def body(self, number: int) -> list[Triple]:
        """The triples of one body with what follows from its entries; raises Fault where its folder cannot be read."""
        if number not in self._bodies:
            files = [file for file in read_folder(self._folders[number]) if number or not is_ontology(file)]
            self._files.update(file.path for file in files)
            own = [triple for file in files for triple in file.triples]
            if number:
                own += derived_of_authority(self._vocabulary, self._vocabulary.authorities[number - 1].base)
            else:
                own += derived(self._vocabulary)
            self._bodies[number] = own
        return self._bodies[number]

    def of(self, iris: Iterable[Iri]) -> list[Triple]:
        """The triples of some entries at least, and what follows for them; of the bodies not yet read only the files in question are."""
        found = [triple for own in self._bodies.values() for triple in own]
        rest = [iri for iri in iris if self._vocabulary.files[iri] not in self._files]
        return found + triples_of(rest, self._vocabulary) if rest else found


def ontology_of(vocab: Path) -> list[Triple]:
    """The triples of the ontology alone."""
    return [triple for path in sorted(vocab.glob("ns*.ttl")) for triple in read_file(path, inside=vocab).triples]


def triples_of(iris: Iterable[Iri], vocabulary: Vocabulary) -> list[Triple]:
    """The triples of some entries with their parts, and what follows for them: only the files in which they stand are read."""
    wanted = set(iris)
    files = {vocabulary.files[iri] for iri in wanted}
    found = [triple for path in sorted(files) for triple in read_file(path).triples]
    if any(iri.startswith(vocabulary.publication.base) for iri in wanted):
        found += derived(vocabulary)
    makers = {iri: maker for iri, maker in vocabulary.makers.items() if iri in wanted}
    found += derived_of_authority(dataclasses.replace(vocabulary, makers=makers), "")
    return [triple for triple in found if _entry(triple) in wanted]


def _entry(triple: Triple) -> str:
    return triple.subject.value.partition("#")[0] if isinstance(triple.subject, NamedNode) else ""


def write_dumps(authorities: Sequence[Path], vocabulary: Vocabulary, known: Graphs, data: Path) -> list[Dump]:
    """What was written to the folder `data`, the general vocabulary first."""
    names = ["", *folder_names(authorities)]
    publications = [vocabulary.publication, *vocabulary.authorities]
    return [
        write_dump(publication, name, known.body(number), known, data)
        for number, (publication, name) in enumerate(zip(publications, names, strict=True))
    ]


def write_dump(
    publication: Publication,
    name: str,
    triples: Iterable[Triple],
    known: Graphs,
    data: Path,
    former: tuple[Dump, Path] | None = None,
) -> Dump:
    """One body of data as written below `data`; that of the general vocabulary, which has no name, with the ontology.

    `former` is what the last run wrote, and the folder with its data: what has not changed since is taken from there.
    """
    folder = Folder(data / name)
    if not name:
        folder.write("ns.ttl", "text/turtle", "classes and properties", _turtle(known.ontology, None, "ns.ttl"))
        folder.write(
            "context.jsonld",
            "application/ld+json",
            "the JSON-LD context by itself",
            json.dumps({"@context": known.context}, ensure_ascii=False, indent=1) + "\n",
        )
    return _dump(publication, name, triples, known.context, folder, former)


def folder_names(authorities: Iterable[Path]) -> list[str]:
    """A name for each authority, made from its folder's, fit for a path and an address; each once."""
    names: list[str] = []
    for path in authorities:
        plain = re.sub(r"[^a-z0-9]+", "-", path.resolve().name.lower()).strip("-") or "authority"
        name, count = plain, 1
        while name in names:
            count += 1
            name = f"{plain}-{count}"
        names.append(name)
    return names


def _dump(
    publication: Publication,
    name: str,
    triples: Iterable[Triple],
    about: dict[str, object],
    folder: Folder,
    former: tuple[Dump, Path] | None,
) -> Dump:
    """The same graph written three ways, and its description."""
    stem = name or "margent"
    title = " ".join(publication.titles[0].value.split())  # a line break would end the comment
    head = f"# {title}, version {' '.join(publication.version.split())}: everything in one file, with what follows\n"
    head += "# from the entries. Written by `margent publish` from the files of the vocabulary; change those.\n"
    graph = dump_forms.Body(triples, publication.base, stem, head, about)
    forms = graph.forms(former and _unchanged(stem, former[0], former[1] / name))
    folder.write(f"{stem}.ttl", "text/turtle", "everything, as Turtle", forms[".ttl"])
    folder.write(f"{stem}.jsonld", "application/ld+json", "everything, as JSON-LD 1.1", forms[".jsonld"])
    folder.write(f"{stem}.nt", "application/n-triples", "everything, as canonical N-Triples", forms[".nt"])
    body = Body(
        publication=publication,
        folder=name,
        stem=stem,
        triples=len(graph.lines),
        subjects=graph.subjects,
        files=[(file.path, file.form, file.about, file.size, file.sha256) for file in folder.files],
    )
    folder.write(
        "void.ttl",
        "text/turtle",
        "this table for programs, as DCAT and VoID",
        _turtle(description(body), publication.base, stem),
    )
    return Dump(publication, name, tuple(folder.files), body.triples)


def _unchanged(stem: str, former: Dump, folder: Path) -> dict[str, str] | None:
    """The three forms of the last run by their endings; None where one is not as that run left it."""
    digests = {file.path: file.sha256 for file in former.files}
    found: dict[str, str] = {}
    for ending in (".ttl", ".jsonld", ".nt"):
        try:
            data = (folder / f"{stem}{ending}").read_bytes()
        except OSError:
            return None
        if _digest(data) != digests.get(f"{stem}{ending}"):
            return None
        found[ending] = data.decode("utf-8")
    return found


class Folder:
    """A folder that is being filled, and the list of what is in it."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.files: list[File] = []
        path.mkdir(parents=True, exist_ok=True)

    def write(self, name: str, form: str, about: str, text: str) -> None:
        """Nothing comes back: the file is written and listed."""
        data = text.encode("utf-8")
        (self.path / name).write_bytes(data)
        self.files.append(File(name, form, about, len(data), _digest(data)))


def _turtle(triples: Iterable[Triple], base: str | None, name: str) -> str:
    return dump_forms.turtle(dump_forms.Body((), base, name, "", {}), triples)


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
