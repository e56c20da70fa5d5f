"""The drawings of marks: plain shapes, taken in only where nothing in them can act, and written anew from what was understood.

A drawing is an SVG file below `marks/` of its authority; `mg:drawing` names it as it will lie in the published site, which
is `mark/NAME.svg` below the authority's base. What a drawing may hold is listed here, and all else is refused by file and
line: scripts, styles, links, pictures in it, text from elsewhere, entities.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from xml.parsers import expat
from xml.sax.saxutils import escape, quoteattr

from margent.faults import Fault, Faults
from margent.vocabulary.lines import places
from margent.vocabulary.model import Iri, Mark, Vocabulary
from margent.vocabulary.namespaces import expand
from margent.vocabulary.turtle import read_text

SHAPES = ("svg", "g", "title", "desc", "path", "line", "rect", "circle", "ellipse", "polyline", "polygon")
WORDED = ("title", "desc")
ATTRIBUTES = frozenset(
    [
        "viewBox",
        "width",
        "height",
        "x",
        "y",
        "x1",
        "y1",
        "x2",
        "y2",
        "cx",
        "cy",
        "r",
        "rx",
        "ry",
        "d",
        "points",
        "transform",
        "role",
        "fill",
        "fill-rule",
        "fill-opacity",
        "stroke",
        "stroke-width",
        "stroke-linecap",
        "stroke-linejoin",
        "stroke-miterlimit",
        "stroke-dasharray",
        "stroke-dashoffset",
        "stroke-opacity",
        "opacity",
    ]
)
MOST_BYTES = 200_000
NAMESPACE = "http://www.w3.org/2000/svg"

_VALUE = re.compile(r"[A-Za-z0-9#.,()\s+-]*")
_PUBLISHED = re.compile(r"mark/[a-z0-9]+(?:-[a-z0-9]+)*\.svg")


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing: where it lies in the published site, and its text there."""

    path: str
    text: str


def drawings(vocabulary: Vocabulary, authorities: Sequence[Path], prefixes: Sequence[str]) -> dict[Iri, Drawing]:
    """The drawing of each mark that has one of its own authority's; raises Faults that tells of all that are refused.

    `prefixes` are the folders of the site in which the pages of each authority lie, mostly empty.
    """
    found: dict[Iri, Drawing] = {}
    faults: list[Fault] = []
    for mark in vocabulary.marks.values():
        if not mark.drawing:
            continue
        for folder, publication, prefix in zip(authorities, vocabulary.authorities, prefixes, strict=True):
            if mark.iri.startswith(publication.base) and mark.drawing.startswith(publication.base):
                try:
                    name = _name(mark, mark.drawing.removeprefix(publication.base), vocabulary)
                    path = _file(mark, folder, name, vocabulary)
                    found[mark.iri] = Drawing(f"mark/{prefix}{name}", plain_shapes(path, folder))
                except Fault as fault:
                    faults.append(fault)
                break
    if faults:
        raise Faults(faults)
    return found


def plain_shapes(path: Path, inside: Path | None = None) -> str:
    """The drawing in the file, written anew; raises Fault with file and line where it holds more than plain shapes."""
    if path.stat().st_size > MOST_BYTES:
        raise Fault(f"{path}: larger than {MOST_BYTES // 1000} kB; a mark is a few strokes, draw it with fewer points")
    reader = _Reader(path)
    return reader.read(read_text(path, inside))


class _Reader:
    """Reads one file, element by element."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._out: list[str] = []
        self._open: list[str] = []
        self._parser = expat.ParserCreate()
        self._parser.StartDoctypeDeclHandler = lambda *_: self._refuse("a document type")
        self._parser.ProcessingInstructionHandler = lambda *_: self._refuse("an instruction for programs")
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._end
        self._parser.CharacterDataHandler = self._words

    def read(self, text: str) -> str:
        try:
            self._parser.Parse(text.encode("utf-8"), True)
        except expat.ExpatError as wrong:
            raise Fault(
                f"{self._path}:{wrong.lineno}: not well-formed XML ({expat.errors.messages[wrong.code]}); save the drawing anew"
            ) from None
        return "".join(self._out) + "\n"

    def _refuse(self, what: str) -> None:
        raise Fault(
            f"{self._path}:{self._parser.CurrentLineNumber}: the drawing holds {what}; only plain shapes are published, take it out"
        )

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        if name not in SHAPES or (self._open and self._open[-1] in WORDED) or (name == "svg") != (not self._open):
            self._refuse(f"<{name}>")
        kept = []
        for key, value in attributes.items():
            if key == "xmlns" and value == NAMESPACE:
                continue
            if key not in ATTRIBUTES:
                self._refuse(f"the attribute {key}")
            if not _VALUE.fullmatch(value) or "url" in value.lower():
                self._refuse(f"a value of {key} that is no number, colour or path")
            kept.append(f" {key}={quoteattr(value)}")
        space = f' xmlns="{NAMESPACE}"' if name == "svg" else ""
        self._out.append(f"<{name}{space}{''.join(kept)}>")
        self._open.append(name)

    def _end(self, name: str) -> None:
        self._out.append(f"</{name}>")
        self._open.pop()

    def _words(self, text: str) -> None:
        if self._open[-1] in WORDED:
            self._out.append(escape(text))
        elif text.strip():
            self._refuse("words between its shapes")


def _name(mark: Mark, path: str, vocabulary: Vocabulary) -> str:
    if not _PUBLISHED.fullmatch(path):
        raise Fault(
            f"{_where(mark, vocabulary)}: {mark.slug} has a drawing at {path}, where no page can have it; write <mark/{mark.slug}.svg>"
        )
    return path.removeprefix("mark/")


def _file(mark: Mark, folder: Path, name: str, vocabulary: Vocabulary) -> Path:
    found = sorted((folder / "marks").rglob(name))
    if not found:
        raise Fault(
            f"{_where(mark, vocabulary)}: {mark.slug} has the drawing {name}, which is not below {folder / 'marks'}; put it into marks/drawings/, or take the property out"
        )
    return found[0]


def _where(mark: Mark, vocabulary: Vocabulary) -> str:
    """The file and the line in which the mark names its drawing."""
    path = vocabulary.files[mark.iri]
    return f"{path}:{places(read_text(path)).line(mark.iri, expand('mg:drawing'))}"
