"""`margent attribute`: how sure, how near, and to whom, in an attribution phrase."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from margent.cli.data_out import data_out
from margent.cli.options import home_option
from margent.faults import Fault
from margent.names.qualifiers import Attributions, Part
from margent.names.qualifiers_lexicon import LANGUAGES
from margent.vocabulary.here import room
from margent.vocabulary.load import load
from margent.vocabulary.model import Vocabulary

LONGEST = 2000
"""Characters of one phrase at most: an attribution is a line of a label, not a page."""

EXAMPLE = """\b
Examples:
  margent attribute "Attributed to Anna Verrou, after Pieter Holm"
  margent attribute "Umkreis des Jan Verrou" --in fr
  margent attribute --from attributions.txt --as jsonl > parts.jsonl
"""


@click.command(name="attribute", epilog=EXAMPLE)
@click.argument("text", required=False)
@click.option(
    "--from",
    "source",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Take every line of a text file apart; each gives one answer, in order.",
)
@click.option(
    "--language",
    type=click.Choice(LANGUAGES),
    help="The language of the phrases; else the one that explains most of each.",
)
@click.option("--in", "target", type=click.Choice(LANGUAGES), help="Write each attribution in this language too.")
@click.option("--as", "form", type=click.Choice(("table", "json", "jsonl")), help="table (the usual), json, or jsonl.")
@home_option
def command(
    text: str | None, source: Path | None, language: str | None, target: str | None, form: str | None, home: Path | None
) -> int:
    """Take an attribution apart: each name, how it is joined to the one before, and what qualifies it.

    A qualifier is a cataloguer's judgement on one of three axes: how certain the name is, how near the hand is to it,
    and how the print stands to a model. Schools, centuries and words such as Unknown name nobody. A qualifier said once
    holds for every name of a list.
    """
    if (text is None) == (source is None):
        raise Fault("margent attribute needs an attribution: give TEXT, or a file with --from, one of the two")
    vocabulary = load(room("vocab", home))
    attributions = Attributions(vocabulary)
    out = data_out()
    found = broken = 0
    form = form or ("jsonl" if source is not None else "table")
    for line in [text] if text is not None else _lines(source) if source is not None else []:
        if len(line) > LONGEST:
            said = f"an attribution of {len(line):,} characters; the longest that is read has {LONGEST:,}"
            if source is None:
                raise Fault(f"{said}: give one attribution at a time")
            out.write(json.dumps({"text": line[:80], "parts": [], "error": said}, ensure_ascii=False) + "\n")
            broken += 1
            continue
        parts = attributions.parse(line, language)
        found += bool(parts)
        written = attributions.write(parts, target) if target and parts else None
        if form == "table":
            out.write(_table(line, parts, written, vocabulary))
        else:
            data = _data(line, parts, written)
            out.write(json.dumps(data, ensure_ascii=False, indent=2 if form == "json" else None) + "\n")
    return 1 if broken or not found else 0


def _data(text: str, parts: list[Part], written: str | None) -> dict[str, Any]:
    data: dict[str, Any] = {"text": text, "parts": [part.as_dict() for part in parts]}
    return data if written is None else data | {"written": written}


def _table(text: str, parts: list[Part], written: str | None, vocabulary: Vocabulary) -> str:
    """The parts for the eye: a line a name, its qualifiers by their labels."""
    labels = {each.slug: each.label() for each in vocabulary.qualifiers.values()}
    said = [", ".join(labels[slug] for slug in part.qualifiers) or "by" for part in parts]
    width = max(map(len, said), default=0)
    out = [text]
    for part, label in zip(parts, said, strict=True):
        nobody = "  (names nobody)" if part.anonymous else ""
        out.append(f"  {part.joined or '':4}{label:{width}}  {part.name}{nobody}")
    if not parts:
        out.append("  no name in it")
    if written is not None:
        out.append(f"  = {written}")
    return "\n".join(out) + "\n"


def _lines(source: Path) -> Iterator[str]:
    """The lines of a text file, without their ends; raises Fault where it cannot be read."""
    try:
        with source.open(encoding="utf-8-sig") as file:
            for line in file:
                yield line.rstrip("\r\n")
    except OSError as error:
        raise Fault(
            f"{source}: cannot be read ({error.strerror}); name a text file with one attribution a line"
        ) from None
    except UnicodeDecodeError:
        raise Fault(f"{source}: not UTF-8; save the file as UTF-8 text, one attribution a line") from None
