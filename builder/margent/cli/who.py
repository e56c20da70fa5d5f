"""`margent who`: which maker of an authority is meant by a name on a print."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any

import click

from margent.cli.data_out import data_out
from margent.cli.options import authority_option, home_option
from margent.cli.progress import told
from margent.exchange.letterings import printable, years_of
from margent.exchange.names_file import asked_in, wanted_name_columns
from margent.exchange.who_text import who_text
from margent.faults import Fault
from margent.names.authority import Answer, Authority
from margent.names.evidence import Years
from margent.names.normal import fold
from margent.publishing.reader_cache import cache_folder
from margent.vocabulary.here import authority_folders, room
from margent.vocabulary.load import load
from margent.vocabulary.model import Vocabulary

LONGEST = 500
"""Characters of one name at most; a name is a few words, not a page."""

EXAMPLE = """\b
Examples:
  margent who "A. Verrou" --authority demo
  margent who "Vid. Kwelderinkii" --date 1653 --role publisher --place Amsterdam --authority demo
  margent who --from names.csv --column signature --column date=Year --authority makers --as jsonl
"""


@dataclass(frozen=True, slots=True)
class _Said:
    """What is known of the print beside the name."""

    years: Years | None
    roles: tuple[str, ...]
    places: tuple[str, ...]
    others: tuple[str, ...]


@click.command(name="who", epilog=EXAMPLE)
@click.argument("name", required=False)
@click.option(
    "--from",
    "source",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Look up the names in a column of a CSV, TSV or XLSX file, one answer a row, in order.",
)
@click.option(
    "--column",
    "columns",
    multiple=True,
    metavar="NAME",
    help="The column of the file that holds the names; date=NAME, role=NAME, place=NAME and with=NAME name columns that say more of "
    "each print.",
)
@click.option("--date", metavar="EDTF", help="When the print was made: 1612, 161X, 1610/1614.")
@click.option("--role", "roles", multiple=True, metavar="ROLE", help="What the maker did: engraver; repeatable.")
@click.option("--place", "places", multiple=True, metavar="TOWN", help="A town named on the print; repeatable.")
@click.option(
    "--with",
    "others",
    multiple=True,
    metavar="MAKER",
    help="Somebody else who signs the print, by name or IRI; repeatable.",
)
@click.option(
    "--as",
    "form",
    type=click.Choice(("table", "json", "jsonl")),
    help="table (the usual for NAME), jsonl (the usual for --from), or json.",
)
@home_option
@authority_option
def command(
    name: str | None,
    source: Path | None,
    columns: tuple[str, ...],
    date: str | None,
    roles: tuple[str, ...],
    places: tuple[str, ...],
    others: tuple[str, ...],
    form: str | None,
    home: Path | None,
    authorities: tuple[str, ...],
) -> int:
    """Say which makers may be meant by NAME as it stands on a print, how likely each is, and why.

    What is left is the share of somebody who is in no file. Dates count by role: a painter may be long dead when the
    plate is cut, its engraver may not. A surname alone is answered with the family where the file has one.
    """
    if (name is None) == (source is None):
        raise Fault("margent who needs a name: give NAME, or a file with --from and --column, one of the two")
    if columns and source is None:
        raise Fault("--column is for a file of names: name it with --from")
    folders = authority_folders(authorities, home)
    if not folders:
        raise Fault(
            "margent who needs makers: name a folder of them with --authority FOLDER or MARGENT_AUTHORITY; "
            "--authority demo has invented ones"
        )
    vocabulary = load(room("vocab", home))
    wanted = wanted_name_columns(columns) if source is not None else {}
    said = _Said(years_of(date), _roles(roles, vocabulary), places, others)
    authority = Authority.load(folders, vocabulary, cache_folder())
    out = data_out()
    if source is None:
        assert name is not None
        answer = _answer(authority, name, said)
        if form in ("json", "jsonl"):
            out.write(json.dumps(answer.as_dict(), ensure_ascii=False, indent=2 if form == "json" else None) + "\n")
        else:
            out.write(who_text(authority, answer, said.years))
        return 0 if answer.candidates else 1
    rows = broken = 0
    for answered in told(_answers(authority, vocabulary, source, wanted, said)):
        rows += 1
        if isinstance(answered, Answer) and form == "table":
            out.write(who_text(authority, answered, None) + "\n")
            continue
        data = answered.as_dict() if isinstance(answered, Answer) else answered
        broken += "error" in data
        out.write(json.dumps(data, ensure_ascii=False, indent=2 if form == "json" else None) + "\n")
    if broken:
        click.echo(
            f"{broken} row{'s' if broken > 1 else ''} could not be used; each stands in its place with an error",
            err=True,
        )
    if not rows:
        click.echo(f"{source}: holds no names", err=True)
    return 1 if broken or not rows else 0


def _answers(
    authority: Authority, vocabulary: Vocabulary, source: Path, wanted: dict[str, str], said: _Said
) -> Iterator[Answer | dict[str, Any]]:
    """The answer to each row, or the name of the row and what is wrong with it."""
    for asked in asked_in(source, wanted):
        if asked.error is not None:
            yield {"query": asked.name, "error": asked.error}
            continue
        assert asked.name is not None
        cells = {ours: tuple(filter(None, map(str.strip, cell.split(";")))) for ours, cell in asked.further.items()}
        try:
            own = _Said(
                years_of(asked.further.get("date")) or said.years,
                _roles(cells.get("role", ()), vocabulary) or said.roles,
                cells.get("place") or said.places,
                cells.get("with") or said.others,
            )
            answer = _answer(authority, asked.name, own)
        except Fault as fault:
            yield {"query": asked.name[:LONGEST], "error": f"row {asked.number}: {fault}"}
            continue
        yield answer


def _answer(authority: Authority, name: str, said: _Said) -> Answer:
    if len(name) > LONGEST:
        raise Fault(f"a name of {len(name):,} characters; the longest that is looked up has {LONGEST:,}: give one name")
    printable(name, "the name")
    return authority.candidates(name, said.years, said.roles, said.places, said.others)


def _roles(said: tuple[str, ...], vocabulary: Vocabulary) -> tuple[str, ...]:
    """The roles by the last part of the IRI, from that or from a name in any language; raises Fault for an unknown one."""
    known: dict[str, str] = {
        fold(label.value): role.slug for role in vocabulary.roles.values() for label in role.labels
    }
    known |= {role.slug: role.slug for role in vocabulary.roles.values()}
    found: dict[str, None] = {}
    for each in said:
        slug = known.get(fold(each.strip())) or known.get(each.strip().rpartition("/")[2])
        if slug is None:
            near = get_close_matches(fold(each), known, 3)
            hint = f"did you mean {' or '.join(near)}?" if near else "write one as in engraver, painter or publisher"
            raise Fault(f"the vocabulary has no role {each[:40]!r}: {hint}")
        found[slug] = None
    return tuple(found)
