"""`margent mark`: which monogram, device or stamp of an authority was seen."""

from __future__ import annotations

import json
from pathlib import Path

import click

from margent.cli.data_out import data_out
from margent.cli.options import authority_option, home_option
from margent.exchange.letterings import years_of
from margent.exchange.mark_text import CAUTION, mark_data, mark_text
from margent.faults import Fault
from margent.names.mark_letters import letters_of
from margent.names.marks import MOST_FOUND, Marks, Seen
from margent.vocabulary.here import authority_folders, room
from margent.vocabulary.load import load

LONGEST = 200
"""Characters of letters or words at most: a mark has a few."""

EXAMPLE = """\b
Examples:
  margent mark VA --authority demo
  margent mark HS --device heron --date 1580 --authority demo
  margent mark --device "Fisch" --arrangement darunter --authority demo --as json
  margent mark "G?P" --authority ours/
"""


@click.command("mark", epilog=EXAMPLE)
@click.argument("letters", required=False)
@click.option(
    "--device",
    "devices",
    multiple=True,
    metavar="WORD",
    help="What the mark shows, in plain words: heron, Reiher, a bridge; repeatable.",
)
@click.option(
    "--arrangement",
    "arrangements",
    multiple=True,
    metavar="WORD",
    help="How its letters stand: joined, one inside the other, lettere legate; repeatable.",
)
@click.option("--date", metavar="EDTF", help="When the print was made: 1612, 161X, 1610/1614.")
@click.option(
    "--limit",
    type=click.IntRange(1, 1000),
    default=MOST_FOUND,
    show_default=True,
    metavar="N",
    help="How many marks to tell of.",
)
@click.option(
    "--as",
    "form",
    type=click.Choice(("table", "json", "jsonl")),
    default="table",
    help="table (the usual), json, or jsonl.",
)
@home_option
@authority_option
def command(
    letters: str | None,
    devices: tuple[str, ...],
    arrangements: tuple[str, ...],
    date: str | None,
    limit: int,
    form: str,
    home: Path | None,
    authorities: tuple[str, ...],
) -> int:
    """Say which marks have LETTERS, for whom they stand, what they then state, and whether they are a maker's at all.

    The letters may come in any order and be a part of them; a question mark is a letter that cannot be read. I and J, U and
    V are alike, and W is two Vs. Words may be English, French, Italian, German, Dutch, Spanish or Latin.
    """
    letters = letters or ""
    if not (letters.strip() or devices or arrangements):
        raise Fault("margent mark needs something of the mark: give its LETTERS, or --device, or --arrangement")
    for said in (letters, *devices, *arrangements):
        if len(said) > LONGEST:
            raise Fault(f"{len(said):,} characters for one thing of a mark; the most that is read is {LONGEST}")
    read = "".join(char for char in letters if char.isalpha())
    if letters.strip() and not letters_of(letters):
        raise Fault(
            f"{letters!r} has neither letters nor figures: write what was read, as AV, and ? for what cannot be read"
        )
    for option, words in (("--device", devices), ("--arrangement", arrangements)):
        if not all(any(char.isalnum() for char in word) for word in words):
            raise Fault(f"{option} needs a word, as in {option} {'heron' if option == '--device' else 'joined'}")
    folders = authority_folders(authorities, home)
    if not folders:
        raise Fault(
            "margent mark needs marks: name a folder of them with --authority FOLDER or MARGENT_AUTHORITY; "
            "--authority demo has invented ones"
        )
    vocabulary = load(room("vocab", home), folders)
    seen = Seen(letters, devices, arrangements, years_of(date))
    answer = Marks(vocabulary).find(seen, limit)
    if form == "table":
        data_out().write(mark_text(answer, vocabulary, folders))
    else:
        data = mark_data(seen, answer, vocabulary, folders)
        data_out().write(json.dumps(data, ensure_ascii=False, indent=2 if form == "json" else None) + "\n")
    for word in answer.unknown:
        click.echo(
            f"the vocabulary has no mark word {word!r}: try a broader one, as bird or flower, or leave it out", err=True
        )
    if not answer.found and read:
        initials = ". ".join(read.upper()) + "."
        click.echo(f'makers whose names have these initials: margent who "{initials}"', err=True)
    if answer.found and form == "table":
        click.echo(CAUTION, err=True)
    return 0 if answer.found else 1
