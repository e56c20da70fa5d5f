"""A comparison as text for the eye, as JSON, and as Markdown for a pull request."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Protocol

from margent.vocabulary.compare import Change, Comparison, Field, Kind, short_iri
from margent.vocabulary.visible import visible

_KINDS: tuple[Kind, ...] = ("added", "changed", "withdrawn", "vanished")
# A summary of a change is read on one screen; what is longer stands in the text form.
_MOST_FIELDS = 400


class OtherReading(Protocol):
    """A lettering that is read differently."""

    @property
    def id(self) -> str:
        """Its id."""

    @property
    def gone(self) -> tuple[str, ...]:
        """What only the older version says."""

    @property
    def come(self) -> tuple[str, ...]:
        """What only the newer one says."""


def summary(found: Comparison, readings: Sequence[OtherReading] | None) -> str:
    """One sentence: how many entries changed how, and how much breaks."""
    counts = [f"{len(each)} {kind}" for kind in _KINDS if (each := found.of_kind(kind))]
    said = (
        f"{', '.join(counts)}; {_many(len(found.breaks), 'break')}" if counts or found.breaks else "nothing has changed"
    )
    return said if readings is None else f"{said}; {_many(len(readings), 'lettering')} read differently"


def as_text(found: Comparison, readings: Sequence[OtherReading] | None) -> str:
    """What breaks first, then every entry with its fields, then the letterings."""
    lines: list[str] = []
    for each in found.breaks:
        lines += [f"{short_iri(each.iri, found.bases)} [breaks]", f"  wrong: {each.what}", f"  mend:  {each.mend}"]
    for change in found.changes:
        lines.append(f"{change.kind} {short_iri(change.iri, found.bases)}{f' ({change.name})' if change.name else ''}")
        if change.kind in {"changed", "withdrawn"}:
            for each_field in change.fields:
                lines += _field_lines(each_field)
    for reading in readings or ():
        lines.append(f"lettering {reading.id} is read differently")
        lines += [f"  - {said}" for said in reading.gone] + [f"  + {said}" for said in reading.come]
    return "".join(f"{visible(line)}\n" for line in lines)


def _field_lines(field: Field) -> Iterator[str]:
    where = f"{field.part} {field.property}" if field.part else field.property
    yield f"  {where}"
    yield from (f"    - {value}" for value in field.removed)
    yield from (f"    + {value}" for value in field.added)


def as_json(found: Comparison, readings: Sequence[OtherReading] | None) -> str:
    """One JSON object; the entries are named by their whole IRIs."""
    told: dict[str, object] = {
        "format": 1,
        "breaks": [asdict(each) for each in found.breaks],
        "readings": None
        if readings is None
        else [{"id": each.id, "gone": list(each.gone), "come": list(each.come)} for each in readings],
    }
    for kind in _KINDS:
        told[kind] = [_json_change(change) for change in found.of_kind(kind)]
    return json.dumps(told, ensure_ascii=False, indent=1) + "\n"


def _json_change(change: Change) -> dict[str, object]:
    return {
        "iri": change.iri,
        "name": change.name,
        "fields": [
            {"part": each.part, "property": each.property, "removed": list(each.removed), "added": list(each.added)}
            for each in change.fields
        ],
    }


def as_markdown(found: Comparison, readings: Sequence[OtherReading] | None) -> str:
    """A summary that a forge shows beside a change; nothing that an entry says can become markup in it."""
    parts = [f"**{summary(found, readings)}**\n"]
    if found.breaks:
        rows = [
            f"| {_code(short_iri(each.iri, found.bases))} | {_plain(each.what)} | {_plain(each.mend)} |"
            for each in found.breaks
        ]
        parts.append("### What breaks\n\n| entry | what | how to mend it |\n|---|---|---|\n" + "\n".join(rows) + "\n")
    shown = 0
    for kind in reversed(_KINDS):
        changes = found.of_kind(kind)
        if changes:
            parts.append(f"### {kind.capitalize()}: {len(changes)}\n")
            for change in changes:
                shown += len(change.fields) if kind == "changed" else 1
                if shown > _MOST_FIELDS:
                    break
                parts.append(_markdown_change(change, found.bases))
            parts.append("")
    if shown > _MOST_FIELDS:
        parts.append("The rest is too long for this page: run `margent compare` to see it.\n")
    if readings:
        parts.append(f"### Read differently: {len(readings)}\n")
        for reading in readings:
            parts.append(f"- {_code(reading.id)}")
            parts += [f"  - was {_code(said)}" for said in reading.gone]
            parts += [f"  - is {_code(said)}" for said in reading.come]
    return "\n".join(parts).rstrip() + "\n"


def _markdown_change(change: Change, bases: Sequence[str]) -> str:
    """One item of a list, with the fields of a changed entry below it."""
    name = f" {_plain(change.name)}" if change.name else ""
    lines = [f"- {_code(short_iri(change.iri, bases))}{name}"]
    if change.kind in {"changed", "withdrawn"}:
        for field in change.fields:
            lines.append(f"  - {_code(f'{field.part} {field.property}'.strip())}")
            lines += [f"    - was {_code(value)}" for value in field.removed]
            lines += [f"    - is {_code(value)}" for value in field.added]
    return "\n".join(lines)


def _code(text: str) -> str:
    """The text as code, in as many backticks as it needs, on one line."""
    plain = visible(" ".join(text.split())).replace("|", "\u2502")
    ticks = "`" * (max((len(run) for run in re.findall("`+", plain)), default=0) + 1)
    pad = " " if "`" in plain else ""
    return f"{ticks}{pad}{plain}{pad}{ticks}"


def _plain(text: str) -> str:
    """The text with nothing in it that Markdown or HTML would take for markup."""
    return re.sub(r"([\\`*_\[\]<>|&#!@~])", r"\\\1", visible(" ".join(text.split())))


def _many(count: int, one: str) -> str:
    return f"{count:,} {one if count == 1 else one + 's'}"
