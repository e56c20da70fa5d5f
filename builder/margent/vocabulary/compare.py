"""Two versions of a vocabulary compared: entries added, changed, withdrawn and vanished, field by field.

A version is a folder of Turtle files or a folder of dumps. Only what is said counts: the order of triples, files and folders
changes nothing.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal as OneOf

from pyoxigraph import Literal, NamedNode, RdfFormat, Triple, parse

from margent.faults import Fault, Faults
from margent.vocabulary.namespaces import MG, TYPE, XSD, expand, shorten
from margent.vocabulary.turtle import TurtleFault, parsed, read_text, turtle_files

Value = NamedNode | Literal
Said = dict[str, dict[str, frozenset[Value]]]
"""What is said of each subject, by property."""

DEPRECATED = expand("owl:deprecated")
_BASE = expand("mg:base")
_NAMES = (expand("skos:prefLabel"), expand("skosxl:literalForm"), expand("dcterms:title"), expand("rdfs:label"))
_TRUE = {"true", "1"}
# Dumps say of themselves how many triples they have and when they were made; that is no entry.
_ABOUT_ITSELF = {"void.ttl", "context.jsonld"}


@dataclass(frozen=True)
class Version:
    """One version: what is said of each subject, and the bases of its publications."""

    said: Said
    bases: tuple[str, ...]
    are_dumps: bool

    def entries(self) -> set[str]:
        """The IRIs of the entries: of subjects that are no part of another and no word of the ontology."""
        return {iri for iri in self.said if not iri.startswith(MG) and "#" not in iri and iri not in self.bases}

    def withdrawn(self, iri: str) -> bool:
        """Whether the entry is there and marked as withdrawn."""
        return any(value.value in _TRUE for value in self.said.get(iri, {}).get(DEPRECATED, ()))

    def name(self, iri: str) -> str:
        """The first of its names in the order of the alphabet, an English one if there is any; empty without."""
        for prop in _NAMES:
            names = [each for each in self.said.get(iri, {}).get(prop, ()) if isinstance(each, Literal)]
            if names:
                return min(names, key=lambda each: (each.language != "en", each.value)).value
        return ""


@dataclass(frozen=True, slots=True)
class Field:
    """One property of an entry or of one of its parts that says something else than before."""

    part: str  # `#seen`, or nothing for the entry itself
    property: str  # as it is written in a file: `mg:born`
    removed: tuple[str, ...]
    added: tuple[str, ...]


Kind = OneOf["added", "changed", "withdrawn", "vanished"]


@dataclass(frozen=True, slots=True)
class Change:
    """One entry that is not what it was."""

    iri: str
    name: str
    kind: Kind
    fields: tuple[Field, ...]


@dataclass(frozen=True, slots=True)
class Break:
    """What fails for those who use the older version: an error unless the entry was withdrawn as it should be."""

    iri: str
    what: str
    mend: str


@dataclass(frozen=True)
class Comparison:
    """Everything that is another in the newer version."""

    changes: tuple[Change, ...]
    breaks: tuple[Break, ...]
    bases: tuple[str, ...] = field(default=())

    def of_kind(self, kind: Kind) -> list[Change]:
        """The changes of one kind, in the order of their IRIs."""
        return [change for change in self.changes if change.kind == kind]


def read_version(path: Path) -> Version:
    """The version in a folder of Turtle files, in a published folder, or in one dump; raises Faults for what cannot be read."""
    found: dict[str, dict[str, set[Value]]] = {}
    faults: list[Fault] = []
    dumps = _dumps(path)
    for file in dumps or turtle_files(path, all_below=True):
        try:
            for triple in _triples(file, path if path.is_dir() else path.parent):
                if isinstance(triple.subject, NamedNode) and isinstance(triple.object, NamedNode | Literal):
                    properties = found.setdefault(triple.subject.value, {})
                    properties.setdefault(triple.predicate.value, set()).add(triple.object)
        except Fault as fault:
            faults.append(fault)
    if faults:
        raise Faults(faults)
    if not found:
        raise Fault(
            f"{path}: holds no Turtle file and no dump; name the folder of a vocabulary, a published folder or a git revision"
        )
    said = {iri: {name: frozenset(values) for name, values in each.items()} for iri, each in found.items()}
    bases = {value.value for each in said.values() for value in each.get(_BASE, ())}
    return Version(said, tuple(sorted(bases, key=len, reverse=True)), bool(dumps))


def _dumps(path: Path) -> list[Path]:
    """The dumps at that place, the N-Triples of each body of data; none where it is a folder of files to edit."""
    if path.is_file():
        return [path]
    if not path.is_dir():
        raise Fault(f"{path}: no such folder; name the folder of a vocabulary, a published folder or a git revision")
    place = path / "data" if (path / "data").is_dir() else path
    found = sorted([*place.glob("*.nt"), *place.glob("*/*.nt")])
    return [*found, *place.glob("ns.ttl")] if found else []


def _triples(path: Path, inside: Path) -> Iterable[Triple]:
    """The triples of one file."""
    forms = {".nt": RdfFormat.N_TRIPLES, ".jsonld": RdfFormat.JSON_LD}
    if path.suffix == ".ttl":
        return parsed(path, read_text(path, inside)).triples
    if path.suffix not in forms:
        raise Fault(f"{path}: is no dump; name one that ends in .ttl, .nt or .jsonld")
    return _parsed_dump(path, forms[path.suffix])


def _parsed_dump(path: Path, form: RdfFormat) -> Iterator[Triple]:
    """The triples of a dump, whatever its size: it was written by a program."""
    try:
        for quad in parse(io.BytesIO(path.read_bytes()), format=form):
            yield quad.triple
    except SyntaxError as wrong:
        raise TurtleFault(
            path, wrong.lineno or 1, wrong.offset or 1, f"cannot be read: {wrong.msg}; publish it anew"
        ) from None
    except OSError as refused:
        raise Fault(f"{path}: cannot be read ({refused.strerror})") from None


def changes(old: Version, new: Version) -> tuple[Change, ...]:
    """Every entry that is not what it was, in the order of the IRIs; raises Fault where a dump is compared with files.

    A dump says what follows from the entries too, so that everything would seem to be new.
    """
    if old.are_dumps != new.are_dumps:
        raise Fault("one of the two is a dump and the other is not: compare two dumps, or two folders of files")
    parts: dict[str, set[str]] = {}
    for iri in old.said.keys() | new.said.keys():
        if not iri.startswith(MG):
            parts.setdefault(_whole(iri, (*old.bases, *new.bases)), set()).add(iri)
    found = (_change(entry, sorted(parts[entry]), old, new) for entry in sorted(parts))
    return tuple(change for change in found if change is not None)


def _whole(iri: str, bases: Iterable[str]) -> str:
    """The entry that the IRI is a part of; what hangs on a base itself (`#publisher`) belongs to the publication."""
    whole = iri.partition("#")[0]
    return iri if not whole or iri in bases else whole


def _change(entry: str, iris: list[str], old: Version, new: Version) -> Change | None:
    fields = tuple(each for iri in iris for each in _fields(entry, iri, old, new))
    if not fields:
        return None
    kind: Kind = "changed"
    if not any(iri in old.said for iri in iris):
        kind = "added"
    elif entry in old.said and entry not in new.said:
        kind = "vanished"
    elif new.withdrawn(entry) and not old.withdrawn(entry):
        kind = "withdrawn"
    return Change(entry, new.name(entry) or old.name(entry), kind, fields)


def _fields(entry: str, iri: str, old: Version, new: Version) -> Iterator[Field]:
    before, after = old.said.get(iri, {}), new.said.get(iri, {})
    for name in sorted(before.keys() | after.keys(), key=lambda each: (each != TYPE, each)):
        was, now = before.get(name, frozenset()), after.get(name, frozenset())
        if was != now:
            gone, come = (
                tuple(sorted(written(value, (*old.bases, *new.bases)) for value in each))
                for each in (was - now, now - was)
            )
            yield Field(iri.removeprefix(entry), shorten(name), gone, come)


def written(value: Value, bases: Iterable[str]) -> str:
    """The value as it stands in a file."""
    if isinstance(value, NamedNode):
        short = shorten(value.value)
        return short if short != value.value else f"<{short_iri(value.value, bases)}>"
    if value.language:
        return f'"{value.value}"@{value.language}'
    kind = value.datatype.value
    if kind == f"{XSD}string":
        return f'"{value.value}"'
    return value.value if kind in {f"{XSD}integer", f"{XSD}boolean"} else f'"{value.value}"^^{shorten(kind)}'


def short_iri(iri: str, bases: Iterable[str]) -> str:
    """The IRI relative to the base it is below, as entries are called in their files."""
    return next((iri.removeprefix(base) for base in bases if iri.startswith(base) and iri != base), iri)
