"""The vocabulary as it was read at the last run, file by file, so that only files that changed since are read anew.

What is kept is plain JSON and nothing in it is run: a file that does not fit is passed over and the Turtle is read.
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, get_args, get_origin, get_type_hints

from pyoxigraph import NamedNode

from margent.faults import Fault, Faults
from margent.vocabulary.load import ENTRIES, assembled, entries_of, load_publication
from margent.vocabulary.model import Iri, Supported, Text, Thing, Vocabulary
from margent.vocabulary.turtle import TurtleFile, read_file, turtle_files

CLASSES: dict[str, type[Supported]] = {cls.__name__: cls for cls, _ in ENTRIES.values()}
TABLES = {cls.__name__: table for cls, table in ENTRIES.values()}
_MENTIONED = re.compile(r'"([a-z]+://[^"\\#]+)[^"\\]*"')


@dataclass(frozen=True, slots=True)
class Change:
    """What became of one entry since the last run: its text then and now, empty where it was not or is no more."""

    iri: Iri
    table: str
    before: str
    after: str


@dataclass
class Read:
    """The vocabulary as it is now, what changed in it, and every entry's text, by which others are found to mention it."""

    vocabulary: Vocabulary
    changes: list[Change] = field(default_factory=list)
    texts: dict[Iri, str] = field(default_factory=dict)
    digests: dict[Path, str] = field(default_factory=dict)
    """For each folder a digest of all its Turtle, in names and bytes."""
    files: list[_File] = field(default_factory=list)
    gone: list[Path] = field(default_factory=list)

    def keep(self) -> None:
        """What was read is kept for the next run; call it when the run has come to a good end."""
        for path in self.gone:
            path.unlink(missing_ok=True)
        for file in self.files:
            file.keep()


def mentions(text: str) -> set[str]:
    """Every IRI in the text of an entry, parts by their entry: its own, those it points to, and addresses elsewhere."""
    return set(_MENTIONED.findall(text))


def read(vocab: Path, authorities: Sequence[Path], kept: Path) -> Read:
    """The vocabulary and the authorities, as far as possible from what is kept in the folder `kept`.

    Raises Faults as `load` does.
    """
    folders = [vocab, *authorities]
    publications = [load_publication(folder) for folder in folders]
    faults: list[Fault] = []
    files = [_File.of(path, folder, kept, faults) for folder in folders for path in turtle_files(folder)]
    if faults:
        raise Faults(faults)
    found = ((file.path, TABLES[name], entry) for file in files for name, entry in file.entries())
    result = Read(assembled(publications[0], publications[1:], found, faults))
    result.files = files
    for file in files:
        result.texts |= {Iri(iri): text for iri, (_, text, _) in file.now.items()}
        result.changes += file.changes()
    result.gone = sorted(set(kept.glob("*.json")) - {file.kept for file in files})
    for path in result.gone:
        before = _kept(path)["entries"]
        result.changes += [Change(Iri(iri), TABLES[cls], text, "") for iri, (cls, text, _) in before.items()]
    for folder in folders:
        told = "".join(f"{file.path.relative_to(folder)}\0{file.digest}\n" for file in files if file.folder == folder)
        result.digests[folder] = hashlib.sha256(told.encode()).hexdigest()
    return result


class _File:
    """One Turtle file: its entries now, from what is kept of it where it has not changed, and what was kept of it before."""

    def __init__(self, path: Path, folder: Path, kept: Path, digest: str) -> None:
        self.path, self.folder, self.digest = path, folder, digest
        self.kept = kept / f"{hashlib.sha256(str(path.resolve()).encode()).hexdigest()[:24]}.json"
        self.before = _kept(self.kept)
        self.now: dict[str, tuple[str, str, str]] = self.before["entries"]
        self.changed = self.before["digest"] != digest
        self._read: list[tuple[str, Supported]] | None = None

    @classmethod
    def of(cls, path: Path, folder: Path, kept: Path, faults: list[Fault]) -> _File:
        file = cls(path, folder, kept, hashlib.sha256(path.read_bytes()).hexdigest())
        if file.changed:
            try:
                turtle = read_file(path, inside=folder)
            except Fault as fault:
                faults.append(fault)
                return file
            file._read = [(type(entry).__name__, entry) for _, entry in entries_of(turtle, faults)]
            whole = _digests(turtle)
            file.now = {entry.iri: (name, encoded(entry), whole.get(entry.iri, "")) for name, entry in file._read}
        return file

    def entries(self) -> Iterator[tuple[str, Supported]]:
        """The entries, each with the name of its class."""
        if self._read is not None:
            yield from self._read
        else:
            for name, text, _ in self.now.values():
                yield name, _decoder(CLASSES[name])(json.loads(text))

    def changes(self) -> Iterator[Change]:
        if self.changed:
            before: dict[str, tuple[str, str, str]] = self.before["entries"]
            for iri in {**before, **self.now}:
                old, new = before.get(iri, ("", "", "")), self.now.get(iri, ("", "", ""))
                if tuple(old) != tuple(new):
                    yield Change(Iri(iri), TABLES[new[0] or old[0]], old[1], new[1])

    def keep(self) -> None:
        if self.changed:
            self.kept.parent.mkdir(parents=True, exist_ok=True)
            text = json.dumps({"digest": self.digest, "entries": self.now}, ensure_ascii=False)
            beside = self.kept.with_suffix(".new")
            beside.write_text(text, encoding="utf-8")
            beside.replace(self.kept)


def _kept(path: Path) -> dict[str, Any]:
    try:
        found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
        if all(cls in CLASSES for cls, _, _ in found["entries"].values()):
            return found
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        pass
    return {"digest": "", "entries": {}}


def _digests(turtle: TurtleFile) -> dict[str, str]:
    """For each entry a digest of all its triples, for the file may say more of it than the model takes in."""
    lines: dict[str, list[str]] = {}
    for triple in turtle.triples:
        if isinstance(triple.subject, NamedNode):
            lines.setdefault(triple.subject.value.partition("#")[0], []).append(str(triple))
    return {iri: hashlib.sha256("\n".join(sorted(own)).encode()).hexdigest()[:16] for iri, own in lines.items()}


def encoded(entry: Thing) -> str:
    """The entry as JSON: each field that is not empty, parts within it."""
    return json.dumps(_plain(entry), ensure_ascii=False, separators=(",", ":"))


def _plain(value: Any) -> Any:
    if isinstance(value, Thing):
        return {
            each.name: _plain(own)
            for each in dataclasses.fields(value)
            if (own := getattr(value, each.name)) != each.default
        }
    return [_plain(each) for each in value] if isinstance(value, tuple) else value


def decoded(cls: type[Thing], text: str) -> Thing:
    """The entry that was encoded; raises KeyError, TypeError or ValueError for what was not."""
    entry: Thing = _decoder(cls)(json.loads(text))
    return entry


_decoders: dict[Any, Callable[[Any], Any]] = {}


def _decoder(cls: type[Any]) -> Callable[[Any], Any]:
    """What makes an instance of the class from its plain form; made once for each class."""
    if cls not in _decoders:
        hints = get_type_hints(cls, include_extras=True)
        fields = {each.name: _of_hint(hints[each.name]) for each in dataclasses.fields(cls)}
        special = {name: make for name, make in fields.items() if make is not None}

        def make(plain: dict[str, Any]) -> Any:
            for name in special.keys() & plain.keys():
                plain[name] = special[name](plain[name])
            return cls(**plain)

        _decoders[cls] = make
    return _decoders[cls]


def _of_hint(hint: Any) -> Callable[[Any], Any] | None:
    """What a field's plain value goes through; None where it is the value itself."""
    if hasattr(hint, "__metadata__"):
        hint = get_args(hint)[0]
    if get_origin(hint) is tuple:
        inner = _of_hint(get_args(hint)[0])
        return tuple if inner is None else lambda values: tuple(map(inner, values))
    options = [each for each in get_args(hint) if each is not type(None)] or [hint]
    single = options[0]
    if single is Text:
        return lambda pair: Text(*pair)
    if isinstance(single, type) and issubclass(single, Thing):
        return _decoder(single)
    return None
