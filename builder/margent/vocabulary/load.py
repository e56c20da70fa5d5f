"""Turtle turned into the model: one general conversion that follows the fields of each dataclass."""

from __future__ import annotations

import types
from collections.abc import Callable, Iterable, Sequence
from dataclasses import MISSING, dataclass, fields
from pathlib import Path
from typing import Annotated, Any, Final, TypeVar, Union, get_args, get_origin, get_type_hints

from pyoxigraph import BlankNode, Literal, NamedNode, Triple

from margent.faults import Fault, Faults
from margent.vocabulary import cataloguing_words, model, name_rules, reading_rules
from margent.vocabulary.lines import places
from margent.vocabulary.model import Choice, Edtf, Iri, Publication, Supported, Text, Thing, Vocabulary
from margent.vocabulary.namespaces import TYPE, expand, shorten
from margent.vocabulary.turtle import TurtleFile, read_file, read_folder

T = TypeVar("T", bound=Thing)
Value = NamedNode | BlankNode | Literal | Triple
Properties = dict[str, list[Value]]

# The class of a subject -> the dataclass it becomes and the table of the Vocabulary it goes to.
ENTRIES: Final[dict[str, tuple[type[Supported], str]]] = {
    expand("mg:Stage"): (model.Stage, "stages"),
    expand("mg:Role"): (model.Role, "roles"),
    expand("mg:Term"): (model.Term, "terms"),
    expand("mg:NoticeKind"): (model.NoticeKind, "notice_kinds"),
    expand("mg:WordList"): (model.WordList, "word_lists"),
    expand("mg:SpellingRule"): (model.SpellingRule, "spelling_rules"),
    expand("mg:Place"): (model.Place, "places"),
    expand("mg:Forename"): (model.Forename, "forenames"),
    expand("mg:Qualifier"): (model.Qualifier, "qualifiers"),
    expand("mg:Source"): (model.Source, "sources"),
    expand("mg:Person"): (model.Maker, "makers"),
    expand("mg:Family"): (model.Maker, "makers"),
    expand("mg:Workshop"): (model.Maker, "makers"),
    expand("mg:Firm"): (model.Maker, "makers"),
    expand("mg:UnidentifiedHand"): (model.Maker, "makers"),
    expand("mg:Mark"): (model.Mark, "marks"),
    expand("mg:AttributionWords"): (cataloguing_words.AttributionWords, "attribution_words"),
    expand("mg:DeviceWord"): (cataloguing_words.MarkWord, "mark_words"),
    expand("mg:ArrangementWord"): (cataloguing_words.MarkWord, "mark_words"),
    **{
        expand("mg:" + rule.__name__): (rule, "reading_rules")
        for rule in (
            reading_rules.Arc,
            reading_rules.NameStart,
            reading_rules.NameOpening,
            reading_rules.EndState,
            reading_rules.Bond,
            reading_rules.ShapeReading,
            reading_rules.LabelScore,
            reading_rules.SheetPlaceScore,
            reading_rules.NamedScore,
            reading_rules.Setting,
            reading_rules.Exchange,
            reading_rules.Template,
            reading_rules.ConfidencePoint,
            reading_rules.UnlabelledRule,
        )
    },
    **{
        expand("mg:" + rule.__name__): (rule, "name_rules")
        for rule in (
            name_rules.NameWords,
            name_rules.NameSpelling,
            name_rules.NameParadigm,
            name_rules.NameEnding,
            name_rules.EvidenceWeight,
        )
    },
}
_PUBLICATION = expand("mg:Publication")
_DATA_FORMAT = expand("mg:dataFormat")


def load(vocab: Path, authorities: Sequence[Path] = ()) -> Vocabulary:
    """The vocabulary in the folder `vocab`, with the makers and marks of each authority's folder.

    Raises Faults that tells of everything that is not Turtle or does not fit the model, by file and line, and Fault when
    a folder is written in a newer data format than this program knows. Whether the entries make sense is not asked here:
    that is the work of the checks.
    """
    publication, files = _read(vocab)
    known = [_read(folder) for folder in authorities]
    faults: list[Fault] = []
    found = (
        (file.path, name, entry)
        for file in (*files, *(file for _, own in known for file in own))
        for name, entry in entries_of(file, faults)
    )
    return assembled(publication, [each for each, _ in known], found, faults)


def assembled(
    publication: Publication,
    authorities: Sequence[Publication],
    found: Iterable[tuple[Path, str, Supported]],
    faults: list[Fault],
) -> Vocabulary:
    """The vocabulary of entries found, each with its file and its table; raises Faults where `faults` has any at the end."""
    tables: dict[str, dict[Iri, Supported]] = {name: {} for _, name in ENTRIES.values()}
    where: dict[Iri, Path] = {}
    for path, name, entry in found:
        if entry.iri in where:
            faults.append(_fault(read_file(path), entry.iri, None, f"also stands in {where[entry.iri]}; keep one"))
        tables[name][entry.iri] = entry
        where[entry.iri] = path
    if faults:
        raise Faults(faults)
    sorted_tables: dict[str, Any] = {name: dict(sorted(table.items())) for name, table in tables.items()}
    return Vocabulary(publication=publication, authorities=tuple(authorities), files=where, **sorted_tables)


def load_publication(folder: Path) -> Publication:
    """What the folder's publication.ttl says; raises Fault when it is missing, wrong, or of a newer data format."""
    path = folder / "publication.ttl"
    return _publication(folder, read_file(path, inside=folder) if path.is_file() else None)


def _read(folder: Path) -> tuple[Publication, list[TurtleFile]]:
    """The publication and the files of a folder, of a data format that we know."""
    files = read_folder(folder)
    settings = next((file for file in files if file.path == folder / "publication.ttl"), None)
    return _publication(folder, settings), files


def _publication(folder: Path, file: TurtleFile | None) -> Publication:
    """What that file says of the folder."""
    if file is None:
        raise Fault(
            f"{folder}: has no publication.ttl; write one with a title, a base IRI, a version and mg:dataFormat {model.DATA_FORMAT}"
        )
    subjects = grouped(file.triples)
    found = [iri for iri, properties in subjects.items() if NamedNode(_PUBLICATION) in properties.get(TYPE, ())]
    if len(found) != 1:
        raise Fault(f"{file.path}: describes {len(found)} publications; describe exactly one, as a mg:Publication")
    try:
        # The number is read before all else: a newer format may have changed everything else.
        for value in subjects[found[0]].get(_DATA_FORMAT, ()):
            number = _whole_number(value)
            if number > model.DATA_FORMAT:
                known = f"the newest this Margent knows is {model.DATA_FORMAT}"
                raise _WrongError(
                    found[0], _DATA_FORMAT, f"is in data format {number}, and {known}; install a newer Margent"
                )
        return _build(Publication, found[0], subjects)
    except _UnfitError as unfit:
        raise _fault(
            file, found[0], _DATA_FORMAT, f"has a value of mg:dataFormat that is not {unfit}; mend it"
        ) from None
    except _WrongError as wrong:
        raise _fault(file, wrong.subject, wrong.predicate, wrong.message) from None


def grouped(triples: Iterable[Triple]) -> dict[str, Properties]:
    """The values of each property of each subject that has an IRI, in the order of the triples."""
    subjects: dict[str, Properties] = {}
    for subject, predicate, value in triples:
        if isinstance(subject, NamedNode):
            subjects.setdefault(subject.value, {}).setdefault(predicate.value, []).append(value)
    return subjects


def entries_of(file: TurtleFile, faults: list[Fault]) -> Iterable[tuple[str, Supported]]:
    """The entries of one file, each with the name of its table; what does not fit is added to `faults`."""
    subjects = grouped(file.triples)
    for iri, properties in subjects.items():
        for kind in properties.get(TYPE, ()):
            if isinstance(kind, NamedNode) and kind.value in ENTRIES:
                cls, name = ENTRIES[kind.value]
                try:
                    yield name, _build(cls, iri, subjects)
                except _WrongError as wrong:
                    faults.append(_fault(file, wrong.subject, wrong.predicate, wrong.message))
                break


def _fault(file: TurtleFile, subject: str, predicate: str | None, message: str) -> Fault:
    """The fault with its place in front."""
    name = subject.removeprefix(file.base or "") or subject
    return Fault(f"{file.path}:{places(file.text).line(subject, predicate)}: {name} {message}")


class _WrongError(Exception):
    """What does not fit, on its way to the file whose name it lacks."""

    def __init__(self, subject: str, predicate: str | None, message: str) -> None:
        super().__init__(message)
        self.subject = subject
        self.predicate = predicate
        self.message = message


class _UnfitError(Exception):
    """A value of the wrong sort: the message says what was wanted."""


@dataclass(frozen=True, slots=True)
class _Slot:
    """How one field is filled: `part` is the dataclass its values become, where they are parts."""

    name: str
    predicate: str
    many: bool
    required: bool
    convert: Callable[[Value], Any]
    part: type[Thing] | None


def _build(cls: type[T], iri: str, subjects: dict[str, Properties]) -> T:
    """The instance of `cls` that the properties of `iri` describe; raises _WrongError."""
    properties = subjects[iri]
    made: dict[str, Any] = {"iri": iri}
    for slot in _slots(cls):
        values = properties.get(slot.predicate)
        if not values:
            if slot.required:
                raise _WrongError(iri, None, f"has no {shorten(slot.predicate)}; add it")
            continue
        if len(values) > 1 and not slot.many:
            raise _WrongError(iri, slot.predicate, f"has {len(values)} values of {shorten(slot.predicate)}; keep one")
        try:
            converted = [slot.convert(value) for value in values]
        except _UnfitError as unfit:
            raise _WrongError(
                iri, slot.predicate, f"has a value of {shorten(slot.predicate)} that is not {unfit}; mend it"
            ) from None
        if slot.part is not None:
            for part in converted:
                if part not in subjects:
                    raise _WrongError(
                        iri,
                        slot.predicate,
                        f"names {part}, which is not described in this file; describe it after the entry",
                    )
            converted = [_build(slot.part, part, subjects) for part in sorted(converted)]
        else:
            converted.sort(key=_in_order)
        made[slot.name] = tuple(converted) if slot.many else converted[0]
    return cls(**made)


def _in_order(value: Any) -> Any:
    """The key by which values of one field are sorted: texts by language first."""
    return (value.lang, value.value) if isinstance(value, Text) else value


_read_off: dict[type[Thing], tuple[_Slot, ...]] = {}


def _slots(cls: type[Thing]) -> tuple[_Slot, ...]:
    """How the fields of the class are filled, read off its annotations, once for each class."""
    if cls in _read_off:
        return _read_off[cls]
    hints = get_type_hints(cls, include_extras=True)
    slots = []
    for each in fields(cls):
        hint = hints[each.name]
        if get_origin(hint) is not Annotated:
            continue  # the IRI itself
        wanted, predicate = get_args(hint)
        many = get_origin(wanted) is tuple
        single = get_args(wanted)[0] if many else _without_none(wanted)
        required = each.default is MISSING and each.default_factory is MISSING
        part = single if isinstance(single, type) and issubclass(single, Thing) else None
        slots.append(_Slot(each.name, expand(predicate), many, required, CONVERSIONS[Iri if part else single], part))
    _read_off[cls] = tuple(slots)
    return _read_off[cls]


def _without_none(hint: Any) -> Any:
    """`X` for `X | None`."""
    if get_origin(hint) in {types.UnionType, Union}:
        return next(each for each in get_args(hint) if each is not types.NoneType)
    return hint


def _literal(value: Value, wanted: str) -> Literal:
    if not isinstance(value, Literal):
        raise _UnfitError(wanted)
    return value


def _text(value: Value) -> Text:
    literal = _literal(value, "a text in quotation marks")
    return Text(literal.value, literal.language or "")


def _plain(value: Value) -> str:
    return _literal(value, "a text in quotation marks").value


def _iri(value: Value) -> Iri:
    if not isinstance(value, NamedNode):
        raise _UnfitError("an IRI")
    return Iri(value.value)


def _choice(value: Value) -> Choice:
    return Choice(_iri(value).rpartition("#")[2])


def _edtf(value: Value) -> Edtf:
    return Edtf(_literal(value, "a date in quotation marks").value)


def _whole_number(value: Value) -> int:
    try:
        return int(_literal(value, "a whole number").value)
    except ValueError:
        raise _UnfitError("a whole number") from None


def _truth(value: Value) -> bool:
    said = _literal(value, "true or false").value
    if said not in {"true", "false"}:
        raise _UnfitError("true or false")
    return said == "true"


# The type written in the model -> how a value becomes it.
CONVERSIONS: Final[dict[Any, Callable[[Value], Any]]] = {
    Text: _text,
    str: _plain,
    Iri: _iri,
    Choice: _choice,
    Edtf: _edtf,
    int: _whole_number,
    bool: _truth,
}
