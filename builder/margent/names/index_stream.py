"""The makers of an authority's files, one at a time, straight from the stream of triples.

The model of the vocabulary is not built on the way: with a hundred thousand makers it would take minutes and gigabytes,
and matching asks for a tenth of what it holds.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

from pyoxigraph import RdfFormat, parse

from margent.vocabulary.edtf import EARLIEST, LATEST, years
from margent.vocabulary.namespaces import MG, TYPE, expand
from margent.vocabulary.turtle import read_file, read_text, turtle_files

KINDS = ("Person", "Family", "Workshop", "Firm", "UnidentifiedHand")
_KINDS = {MG + kind: kind for kind in KINDS}
_LABEL = expand("skos:prefLabel")
_ALTERNATIVES = (expand("skos:altLabel"), expand("skos:hiddenLabel"))
_WITHDRAWN = expand("owl:deprecated")
# What is read of the files; every other property is passed over before any Python object is kept of it.
_WANTED = {
    TYPE, _LABEL, *_ALTERNATIVES, _WITHDRAWN,
    *(MG + name for name in (
        "nameForm", "literal", "formKind", "attestation", "object", "born", "died", "active", "workingPlace", "place",
        "practised", "role", "kin", "to", "relation", "memberOf", "partnerOf", "pupilOf", "successorOf",
    )),
}  # fmt: skip


class Form(NamedTuple):
    """One form of a maker's name: how it is written, its kind, and whether it was met on a print or in a document."""

    text: str
    kind: str
    attested: bool


@dataclass(slots=True)
class Record:
    """What matching needs of one maker. The first form is the authorised name; years are whole numbers."""

    iri: str
    kind: str
    label: str
    forms: list[Form]
    born: tuple[int, int] | None = None
    died: tuple[int, int] | None = None
    active: tuple[int, int] | None = None
    roles: list[str] = field(default_factory=list)
    places: list[str] = field(default_factory=list)
    ties: list[tuple[str, str]] = field(default_factory=list)
    """What this maker is to another, and the other's IRI: `widow`, `son`, `member`, `partner`, `pupil`, `successor`."""
    objects: list[str] = field(default_factory=list)
    """Prints on which a form of the name was seen."""


Properties = dict[str, list[Any]]


def records(folders: Iterable[Path]) -> Iterator[Record]:
    """The makers of those folders, in the order of files and IRIs; withdrawn ones are left out.

    Raises Fault as reading any file of a vocabulary does.
    """
    for folder in folders:
        for path in turtle_files(folder):
            yield from records_of(path, folder)


def records_of(path: Path, inside: Path | None = None) -> Iterator[Record]:
    """The makers of one file."""
    text = read_text(path, inside)
    subjects: dict[str, Properties] = {}
    try:
        for quad in parse(io.BytesIO(text.encode("utf-8")), format=RdfFormat.TURTLE):
            predicate = quad.predicate.value
            if predicate in _WANTED:
                subjects.setdefault(str(getattr(quad.subject, "value", "")), {}).setdefault(predicate, []).append(
                    getattr(quad.object, "value", "")
                )
    except SyntaxError:
        read_file(path, inside)  # tells the fault by line and column
        raise
    for iri, properties in subjects.items():
        kind = next((known for name in properties.get(TYPE, ()) if (known := _KINDS.get(name))), None)
        if kind is not None and _WITHDRAWN not in properties and _LABEL in properties:
            yield _record(iri, kind, properties, subjects)


def _record(iri: str, kind: str, properties: Properties, subjects: dict[str, Properties]) -> Record:
    labels = sorted(properties[_LABEL])
    record = Record(iri, kind, labels[0], [Form(label, "authorised", attested=False) for label in labels])
    known = set(labels)
    for predicate in _ALTERNATIVES:
        for text in sorted(properties.get(predicate, ())):
            if text not in known:
                known.add(text)
                record.forms.append(Form(text, "noted", attested=False))
    for part in _parts(properties, "nameForm", subjects):
        text = _one(part, "literal")
        if not text:
            continue
        attestations = part.get(MG + "attestation", ())
        record.forms.append(Form(text, _one(part, "formKind").rpartition("#")[2], attested=bool(attestations)))
        for name in attestations:
            record.objects += subjects.get(name, {}).get(MG + "object", ())
    record.born, record.died, record.active = (_years(_one(properties, name)) for name in ("born", "died", "active"))
    record.roles = sorted({_one(part, "role").rpartition("/")[2] for part in _parts(properties, "practised", subjects)})
    record.places = sorted(
        {_one(part, "place").rpartition("/")[2] for part in _parts(properties, "workingPlace", subjects)}
    )
    for part in _parts(properties, "kin", subjects):
        record.ties.append((_one(part, "relation").rpartition("#")[2], _one(part, "to")))
    for name, tie in (
        ("memberOf", "member"),
        ("partnerOf", "partner"),
        ("pupilOf", "pupil"),
        ("successorOf", "successor"),
    ):
        record.ties += [(tie, other) for other in properties.get(MG + name, ())]
    record.ties.sort()
    record.objects = sorted(set(record.objects))
    return record


def _parts(properties: Properties, name: str, subjects: dict[str, Properties]) -> list[Properties]:
    return [subjects[part] for part in sorted(properties.get(MG + name, ())) if part in subjects]


def _one(properties: Properties, name: str) -> str:
    values = properties.get(MG + name)
    return str(values[0]) if values else ""


def _years(text: str) -> tuple[int, int] | None:
    """The years of an EDTF text; None without one, or where it is none: dates are checked elsewhere."""
    if not text:
        return None
    try:
        low, high = years(text)
    except ValueError:
        return None
    return (max(low, EARLIEST), min(high, LATEST))
