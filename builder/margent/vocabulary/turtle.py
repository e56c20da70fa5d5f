"""Turtle files read into triples, with every fault of a run told by file, line and column."""

from __future__ import annotations

import codecs
import io
import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from pyoxigraph import RdfFormat, Triple, parse

from margent.faults import Fault, Faults
from margent.vocabulary.parser_words import in_plain_words

# The largest file of a vocabulary has 500 entries and stays under 2 MB; ten times that is somebody's dump, not a file to edit.
MOST_BYTES = 20 * 1000 * 1000


class TurtleFault(Fault):
    """A file that is not Turtle: `line` and `column` count from 1, in characters."""

    def __init__(self, path: Path, line: int, column: int, message: str) -> None:
        super().__init__(f"{path}:{line}:{column}: {message}")
        self.path = path
        self.line = line
        self.column = column
        self.message = message


@dataclass(frozen=True, slots=True)
class TurtleFile:
    """One file of a vocabulary: its text, with lines ended by a bare newline, and the triples in it, in its order."""

    path: Path
    text: str
    base: str | None
    prefixes: dict[str, str]
    triples: list[Triple]


def turtle_files(folder: Path, *, all_below: bool = False) -> list[Path]:
    """The .ttl files in and below the folder, sorted, without those of a vocabulary of its own.

    A folder below that has its own publication.ttl is such a vocabulary (vocab/demo/), to be asked for by name; with
    `all_below` its files come too. Raises Fault when the folder is not there, or a folder in it is a link to a place
    outside.
    """
    if not folder.is_dir():
        raise Fault(f"{folder}: no such folder")
    found: list[Path] = []
    for name, below, files in os.walk(folder):  # does not go through links
        here = Path(name)
        for each in below:
            if (here / each).is_symlink():
                _refuse_outside(here / each, folder)
        below[:] = [each for each in below if not each.startswith(".") and (all_below or not _is_own(here / each))]
        found += [here / file for file in files if file.endswith(".ttl") and not file.startswith(".")]
    return sorted(found)


def _is_own(folder: Path) -> bool:
    """Whether the folder is a vocabulary of its own."""
    return (folder / "publication.ttl").is_file()


def read_folder(folder: Path) -> list[TurtleFile]:
    """All files of the folder, sorted by path; raises Faults that tells of every file that cannot be read."""
    return read_files(turtle_files(folder), inside=folder)


def read_files(paths: Iterable[Path], inside: Path | None = None) -> list[TurtleFile]:
    """Those files, in that order; raises Faults that tells of every one that cannot be read."""
    files: list[TurtleFile] = []
    faults: list[Fault] = []
    for path in paths:
        try:
            files.append(read_file(path, inside))
        except Fault as fault:
            faults.append(fault)
    if faults:
        raise Faults(faults)
    return files


def read_file(path: Path, inside: Path | None = None) -> TurtleFile:
    """One file. A byte order mark and lines ended the Windows way are accepted and change nothing in the triples.

    Raises TurtleFault when it is not UTF-8 or not Turtle, and Fault when it is missing, larger than 20 MB, or a link out
    of the folder `inside`: a contribution must not make us publish a file from elsewhere on the machine.
    """
    return parsed(path, read_text(path, inside))


def parsed(path: Path, text: str) -> TurtleFile:
    """The file of that text, which has been read already; raises TurtleFault when it is not Turtle."""
    parser = parse(io.BytesIO(text.encode("utf-8")), format=RdfFormat.TURTLE)
    try:
        triples = [quad.triple for quad in parser]
    except SyntaxError as wrong:
        line, column = wrong.lineno or 1, wrong.offset or 1
        at, said = in_plain_words(wrong.msg, text, line, column)
        raise TurtleFault(path, at, column if at == line else 1, said) from None
    return TurtleFile(path, text, parser.base_iri, dict(parser.prefixes), triples)


def read_text(path: Path, inside: Path | None = None) -> str:
    """The text of one file, with lines ended by a bare newline; raises as `read_file` does, but for the syntax."""
    return decoded(path, read_bytes(path, inside))


def read_bytes(path: Path, inside: Path | None = None) -> bytes:
    """The bytes of that text, not yet shown to be UTF-8; raises Fault as `read_file` does."""
    if inside is not None:
        _refuse_outside(path, inside)
    if not path.is_file():
        raise Fault(f"{path}: no such file")
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            raise Fault(
                f"{path}: {size / 1e6:.0f} MB, and the largest file read is {MOST_BYTES // 1_000_000} MB; split it into files of at most 500 entries"
            )
        data = path.read_bytes()
    except OSError as refused:
        raise Fault(f"{path}: cannot be read ({refused.strerror})") from None
    return data.removeprefix(codecs.BOM_UTF8).replace(b"\r\n", b"\n")


def decoded(path: Path, data: bytes) -> str:
    """The text of those bytes; raises TurtleFault where they are not UTF-8."""
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as wrong:
        before = data[: wrong.start].decode("utf-8")
        line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
        raise TurtleFault(path, line, column, "not UTF-8 from here on; save the file as UTF-8") from None


def _refuse_outside(path: Path, folder: Path) -> None:
    """Nothing comes back; raises Fault when the path is a link, or lies behind one, that leads out of the folder."""
    if not path.resolve().is_relative_to(folder.resolve()):
        raise Fault(f"{path}: leads out of {folder}; put the file itself there, not a link to it")
