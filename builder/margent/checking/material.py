"""What a run looks at: the files that are checked, and those that are only known beside them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from pyoxigraph import NamedNode, Triple

from margent.checking.findings import Hit, Rule
from margent.faults import Fault, Faults
from margent.vocabulary.namespaces import MG, TYPE
from margent.vocabulary.turtle import TurtleFault, TurtleFile, read_file, turtle_files

NOT_READ = Rule(
    "Y001",
    "violation",
    "{fault}",
    "{remedy}",
    "Nothing in a file that cannot be read is published, and nothing in it can be checked.",
)
_BASE = NamedNode(f"{MG}base")


@dataclass(frozen=True)
class Folder:
    """One folder: its files in the order of their paths, and the base that its publication.ttl names."""

    path: Path
    files: tuple[TurtleFile, ...]

    @cached_property
    def base(self) -> str | None:
        """The value of mg:base, or None where the folder has no publication.ttl at its top that names one."""
        for file in self.files:
            if file.path == self.path / "publication.ttl":
                for triple in file.triples:
                    if triple.predicate == _BASE and isinstance(triple.object, NamedNode):
                        return triple.object.value
        return None

    @property
    def is_general(self) -> bool:
        """True for a general vocabulary, which brings its own ontology and needs no other beside it."""
        return any(file.path == self.path / "ns.ttl" for file in self.files)


@dataclass(frozen=True)
class Material:
    """The folders to check, and those whose entries may be referred to."""

    checked: tuple[Folder, ...]
    beside: tuple[Folder, ...] = ()

    @cached_property
    def files(self) -> tuple[TurtleFile, ...]:
        """The files that are checked."""
        return tuple(file for folder in self.checked for file in folder.files)

    @cached_property
    def known_files(self) -> tuple[TurtleFile, ...]:
        """All files, the checked ones first."""
        return (*self.files, *(file for folder in self.beside for file in folder.files))

    @cached_property
    def places(self) -> dict[str, list[TurtleFile]]:
        """The IRI of each subject, in all files, with the files in which it stands."""
        found: dict[str, list[TurtleFile]] = {}
        for file in self.known_files:
            for iri in {triple.subject.value for triple in file.triples if isinstance(triple.subject, NamedNode)}:
                found.setdefault(iri, []).append(file)
        return found

    @cached_property
    def subjects(self) -> frozenset[str]:
        """The IRIs of the subjects of the checked files."""
        checked = {id(file) for file in self.files}
        return frozenset(iri for iri, files in self.places.items() if any(id(file) in checked for file in files))

    @cached_property
    def types(self) -> dict[str, set[str]]:
        """The IRI of each subject, in all files, with its classes as written."""
        found: dict[str, set[str]] = {}
        for triple in self.triples():
            subject, value = triple.subject, triple.object
            if triple.predicate.value == TYPE and isinstance(subject, NamedNode) and isinstance(value, NamedNode):
                found.setdefault(subject.value, set()).add(value.value)
        return found

    @cached_property
    def bases(self) -> tuple[str, ...]:
        """Every base of a folder or a file."""
        said = {folder.base for folder in (*self.checked, *self.beside)} | {file.base for file in self.known_files}
        return tuple(sorted(base for base in said if base))

    def lacks(self, iri: str) -> bool:
        """True for an IRI below one of the bases that stands nowhere. The words of our ontology are another matter."""
        return iri.startswith(self.bases) and not iri.startswith(MG) and iri not in self.places

    def triples(self) -> Iterable[Triple]:
        """All triples of all files."""
        for file in self.known_files:
            yield from file.triples


def read(folder: Path) -> tuple[Folder, list[Hit]]:
    """The folder with all its files that can be read, and a hit for each that cannot.

    Raises Fault when there is no such folder, or no Turtle file in it.
    """
    paths = turtle_files(folder)
    if not paths:
        raise Fault(f"{folder}: no Turtle file in or below it; name the folder of a vocabulary or an authority")
    files: list[TurtleFile] = []
    hits: list[Hit] = []
    for path in paths:
        try:
            files.append(read_file(path, inside=folder))
        except Faults as faults:
            hits += [_not_read(path, fault) for fault in faults.faults]
        except Fault as fault:
            hits.append(_not_read(path, fault))
    return Folder(folder, tuple(files)), hits


def _not_read(path: Path, fault: Fault) -> Hit:
    """A hit with what the fault says, parted into what is wrong and how to mend it."""
    line = fault.line if isinstance(fault, TurtleFault) else 1
    said = fault.message if isinstance(fault, TurtleFault) else str(fault).removeprefix(f"{path}: ")
    wrong, _, mend = said.partition("; ")
    return Hit(
        NOT_READ.id, NOT_READ.severity, "", wrong, mend or "mend the file, or take it away", None, None, path, line
    )
