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

from margent.publishing.derived import derived, derived_of_authority
from margent.publishing.description import Body, description
from margent.publishing.json_ld import context, json_ld
from margent.publishing.ntriples import n_triples
from margent.vocabulary.model import Iri, Publication, Vocabulary
from margent.vocabulary.tidy import tidied
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


@dataclass(frozen=True, slots=True)
class Graphs:
    """The triples that are published: the ontology, and each body of data with what follows from its entries."""

    ontology: list[Triple]
    bodies: list[list[Triple]]
    """The general vocabulary first, then the authorities in their order."""
    context: dict[str, Any]
    """The JSON-LD context that all of them share."""


def graphs(vocab: Path, authorities: Sequence[Path], vocabulary: Vocabulary) -> Graphs:
    """The triples of the folders; `vocabulary` is what `load` made of them. Raises Fault where a folder cannot be read."""
    files = read_folder(vocab)
    ontology = [triple for file in files if is_ontology(file) for triple in file.triples]
    entries = [triple for file in files if not is_ontology(file) for triple in file.triples]
    bodies = [[*entries, *derived(vocabulary)]]
    for path, publication in zip(authorities, vocabulary.authorities, strict=True):
        own = [triple for file in read_folder(path) for triple in file.triples]
        bodies.append([*own, *derived_of_authority(vocabulary, publication.base)])
    return Graphs(ontology, bodies, context(ontology, vocabulary.publication.base))


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
        write_dump(publication, name, own, known, data)
        for publication, name, own in zip(publications, names, known.bodies, strict=True)
    ]


def write_dump(publication: Publication, name: str, triples: Iterable[Triple], known: Graphs, data: Path) -> Dump:
    """One body of data as written below `data`; that of the general vocabulary, which has no name, with the ontology."""
    folder = Folder(data / name)
    if not name:
        folder.write("ns.ttl", "text/turtle", "classes and properties", _turtle(known.ontology, None, "ns.ttl"))
        folder.write(
            "context.jsonld",
            "application/ld+json",
            "the JSON-LD context by itself",
            json.dumps({"@context": known.context}, ensure_ascii=False, indent=1) + "\n",
        )
    return _dump(publication, name, name or "margent", triples, known.context, folder)


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
    publication: Publication, name: str, stem: str, triples: Iterable[Triple], about: dict[str, object], folder: Folder
) -> Dump:
    """The same graph written three ways, and its description."""
    graph = set(triples)
    title = " ".join(publication.titles[0].value.split())  # a line break would end the comment
    head = f"# {title}, version {' '.join(publication.version.split())}: everything in one file, with what follows\n"
    head += "# from the entries. Written by `margent publish` from the files of the vocabulary; change those.\n"
    folder.write(f"{stem}.ttl", "text/turtle", "everything, as Turtle", _turtle(graph, publication.base, stem, head))
    folder.write(f"{stem}.jsonld", "application/ld+json", "everything, as JSON-LD 1.1", json_ld(graph, about))
    folder.write(f"{stem}.nt", "application/n-triples", "everything, as canonical N-Triples", n_triples(graph))
    body = Body(
        publication=publication,
        folder=name,
        stem=stem,
        triples=len(graph),
        subjects=len({triple.subject for triple in graph}),
        files=[(file.path, file.form, file.about, file.size, file.sha256) for file in folder.files],
    )
    folder.write(
        "void.ttl",
        "text/turtle",
        "this table for programs, as DCAT and VoID",
        _turtle(description(body), publication.base, stem),
    )
    return Dump(publication, name, tuple(folder.files), body.triples)


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


def _turtle(triples: Iterable[Triple], base: str | None, name: str, head: str = "") -> str:
    """The triples in the one form of the vocabulary's own files; that they read back the same is proven on the way."""
    return tidied(TurtleFile(Path(name), head, base, {"spdx": "http://spdx.org/rdf/terms#"}, list(triples)))


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
