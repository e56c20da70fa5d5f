"""Marks that were found, as data and as text for the eye: for whom each stands, what it states, why, and where its drawing lies."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from margent.names.marks import Answer, FoundMark, Seen
from margent.publishing.wording import CHOICES
from margent.vocabulary.model import Maker, Mark, Vocabulary

CAUTION = "A mark that fits is a proposal for a trained eye: makers share letters and devices, and copyists copy marks."
ON_COPIES = "is also met on copies, where it names the maker of the model"
NO_MAKER = "names no maker: it tells what befell this sheet, not who made the print"


def mark_data(seen: Seen, answer: Answer, vocabulary: Vocabulary, folders: Sequence[Path]) -> dict[str, Any]:
    """The answer as plain data; `folders` are those of the authorities, below which the drawings lie."""
    return {
        "query": {
            "letters": seen.letters,
            "device": list(seen.devices),
            "arrangement": list(seen.arrangements),
            "years": list(seen.years) if seen.years else None,
        },
        "marks": [_mark(each, vocabulary, folders) for each in answer.found],
        "unknown_words": list(answer.unknown),
        "caution": CAUTION,
    }


def mark_text(answer: Answer, vocabulary: Vocabulary, folders: Sequence[Path]) -> str:
    """The answer as lines, the best first."""
    out: list[str] = []
    for number, each in enumerate(answer.found, 1):
        data = _mark(each, vocabulary, folders)
        period = f", {data['period']}" if data["period"] else ""
        out.append(f"{number:>3} {data['label']} ({CHOICES[each.mark.mark_kind]}{period})")
        if not each.makers_mark:
            out.append(f"    {NO_MAKER}")
        out += [f"    {line}" for line in _said(data)]
        out += [f"      {reason}" for reason in each.because]
    if not out:
        out.append("  no mark in the file fits")
    return "\n".join(out) + "\n"


def _said(data: dict[str, Any]) -> list[str]:
    """What a mark looks like, for whom it stands and what it states, a line each."""
    shown = "; ".join(filter(None, (data["letters"], data["arrangement"], data["device"])))
    makers = "; ".join(each["label"] + (f" ({each['dates']})" if each["dates"] else "") for each in data["makers"])
    roles = ", ".join(data["states"])
    lines = [data["mark"], shown]
    if makers:
        lines.append(f"{'for' if data['makers_mark'] else 'of'} {makers}{f', as {roles}' if roles else ''}")
    elif roles:
        lines.append(f"states: {roles}")
    if data["on_copies"]:
        lines.append(ON_COPIES)
    lines += [f"note: {note}" for note in data["notes"]]
    if data["drawing"]:
        lines.append(f"drawing: {data['drawing_file'] or data['drawing']}")
    return lines


def _mark(found: FoundMark, vocabulary: Vocabulary, folders: Sequence[Path]) -> dict[str, Any]:
    mark = found.mark
    return {
        "mark": mark.iri,
        "label": mark.labels[0].value if mark.labels else mark.letters or mark.slug,
        "kind": mark.mark_kind,
        "makers_mark": found.makers_mark,
        "letters": mark.letters,
        "arrangement": _first(mark.arrangements),
        "device": _first(mark.devices),
        "sheet_places": list(mark.sheet_place),
        "period": mark.period,
        "drawing": mark.drawing,
        "drawing_file": _drawing(mark, vocabulary, folders),
        "makers": [{"maker": maker.iri, "label": maker.label(), "dates": _dates(maker)} for maker in found.makers],
        "states": [iri.rpartition("/")[2] for iri in mark.states],
        "on_copies": mark.on_copies,
        "weight": found.weight,
        "because": list(found.because),
        "notes": [note.value for note in mark.notes],
    }


def _first(texts: Sequence[Any]) -> str | None:
    return str(texts[0].value) if texts else None


def _dates(maker: Maker) -> str | None:
    if maker.born or maker.died:
        return f"{maker.born or '?'} to {maker.died or '?'}"
    return f"active {maker.active}" if maker.active else None


def _drawing(mark: Mark, vocabulary: Vocabulary, folders: Sequence[Path]) -> str | None:
    """Where the drawing lies below the folder of its authority; None where it is not there."""
    file = vocabulary.files.get(mark.iri)
    if mark.drawing is None or file is None:
        return None
    for folder in folders:
        if file.resolve().is_relative_to(folder.resolve()):
            there = sorted((folder / "marks").rglob(mark.drawing.rpartition("/")[2]))
            return str(there[0].relative_to(folder).as_posix()) if there else None
    return None
