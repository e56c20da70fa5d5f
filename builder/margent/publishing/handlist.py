"""The handlist: every word of the vocabulary with what it says, as a booklet to print, and as a PDF where a library can make one."""

from __future__ import annotations

import importlib.util
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from margent.publishing.entry_pages import EntryPages, how_usual
from margent.publishing.folding import alphabetical, initial
from margent.publishing.material import Material, Page
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Iri, Term

PDF = "handlist.pdf"
PDF_LIBRARY = "weasyprint"


@dataclass(frozen=True, slots=True)
class Said:
    """One thing that a word says: roles or a notice, and when, empty where it always does."""

    concepts: tuple[Iri, ...]
    when: str


@dataclass(frozen=True, slots=True)
class Line:
    """One word of the handlist."""

    term: Term
    says: tuple[Said, ...]


HEADS = "handlist-heads.css"
"""The style of the running heads, beside the page, for it is another in each language."""

_TO_ESCAPE = re.compile(r'["\\<\x00-\x1f]')

Letters = list[tuple[str, list[Line]]]


def handlist(material: Material, conditions: EntryPages) -> Page:
    """The page of the handlist."""

    def told(tongue: Tongue) -> dict[str, Any]:
        parts = [(tag, _letters(material, conditions, tag, tongue)) for tag in material.languages]
        return {"parts": parts, "count": sum(len(lines) for _, letters in parts for _, lines in letters)}

    return Page("handlist.html", "handlist.html", told, tables=("terms", "roles", "notice_kinds"))


def _letters(material: Material, conditions: EntryPages, tag: str, tongue: Tongue) -> Letters:
    """The headwords of a language under their initials."""
    own = [term for term in material.vocabulary.terms.values() if term.language == tag and not term.withdrawn]
    letters: dict[str, list[Line]] = {}
    for term in sorted(own, key=lambda each: (alphabetical(each.literal.value), each.iri)):
        says = []
        for sense in sorted(term.senses, key=lambda sense: (-sense.weight, sense.iri)):
            when = (how_usual(sense, tongue), conditions.condition(sense, tongue))
            says.append(Said(sense.says, "; ".join(part for part in when if part)))
        letters.setdefault(initial(term.literal.value), []).append(Line(term, tuple(says)))
    return list(letters.items())


def running_heads(languages: Iterable[str], tongue: Tongue) -> str:
    """The style by which each language's part of the handlist is printed under its name.

    The name stands in the style, for browsers cannot take a running head from the page.
    """
    lines = ["/* The running heads of the handlist, written by `margent publish`. */\n"]
    for tag in languages:
        name = _TO_ESCAPE.sub(lambda sign: f"\\{ord(sign.group()):x} ", tongue.language_name(tag))
        part = f"words-{tag.lower()}"
        lines.append(f'@page {part} {{ @top-center {{ content: "{name}"; }} }}\n')
        lines.append(f"@media print {{ .list[data-part={part}] {{ page: {part}; }} }}\n")
    return "".join(lines)


def pdf_maker() -> Callable[[Path, Path], None] | None:
    """What writes a page of the site as a PDF file; None where the library for it is not installed."""
    if importlib.util.find_spec(PDF_LIBRARY) is None:
        return None

    def write(page: Path, target: Path) -> None:
        from weasyprint import HTML

        HTML(filename=str(page)).write_pdf(str(target), pdf_identifier=b"margent-handlist")

    return write
