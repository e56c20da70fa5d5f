"""IRIs and values as an editor would write them in the file."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from pyoxigraph import BlankNode, Literal, NamedNode, Triple

from margent.vocabulary.namespaces import XSD, shorten

_PLAIN = {f"{XSD}string", f"{XSD}integer", f"{XSD}boolean"}
# A value is quoted to be recognised, not to be read again: a paragraph would bury the message.
_LONGEST = 80


def shown(path: Path) -> str:
    """The path as a finding shows it: below the working directory it is relative."""
    here = Path.cwd()
    return str(path.relative_to(here) if path.is_absolute() and path.is_relative_to(here) else path)


class Wording:
    """Turns terms into text, with every IRI below one of the bases written relative to it."""

    def __init__(self, bases: Iterable[str]) -> None:
        # the longest first, so that an authority below another base keeps its own
        self._bases = sorted({base for base in bases if base}, key=len, reverse=True)

    def iri(self, iri: str) -> str:
        """`mg:Term`, `<role/engraver>`, or the whole IRI in angle brackets."""
        short = shorten(iri)
        if short != iri:
            return short
        return f"<{self._relative(iri)}>"

    def entry(self, iri: str) -> str:
        """The name by which a finding calls an entry: `la-sculpsit#engraver`, `mg:Term`."""
        short = shorten(iri)
        if short != iri:
            return short
        relative = self._relative(iri)
        return relative.rsplit("/", 1)[-1] or relative

    def value(self, value: NamedNode | BlankNode | Literal | Triple) -> str:
        """The value as it stands in Turtle, long texts cut short."""
        if isinstance(value, NamedNode):
            return self.iri(value.value)
        if not isinstance(value, Literal):
            return "a blank node"
        text = value.value if len(value.value) <= _LONGEST else f"{value.value[:_LONGEST]}..."
        if value.language:
            return f'"{text}"@{value.language}'
        datatype = value.datatype.value
        if datatype == f"{XSD}string":
            return f'"{text}"'
        return text if datatype in _PLAIN else f'"{text}"^^{shorten(datatype)}'

    def _relative(self, iri: str) -> str:
        for base in self._bases:
            if iri.startswith(base) and iri != base:
                return iri[len(base) :]
        return iri
