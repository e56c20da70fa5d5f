"""`margent score`: how well the vocabulary reads a collection's own judged letterings."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from margent.cli.options import home_option
from margent.exchange.letterings import lettering_from
from margent.exchange.scoring import Scorer, figures, whole
from margent.faults import Fault
from margent.lettering.reader import Reader
from margent.publishing.grammar_tables import grammar_tables
from margent.publishing.reader_cache import compiled_reader
from margent.vocabulary.here import room
from margent.vocabulary.load import load

EXAMPLE = """\b
Examples:
  margent score judged.jsonl
  margent score judged.jsonl --readings readings.jsonl --misses

Each line of the judged file is a lettering with what each name did:
  {"id": "x1", "lines": [{"text": "A. Verrou sculp."}],
   "statements": [{"name": "A. Verrou", "roles": ["engrave"]}]}
"""


@click.command(name="score", epilog=EXAMPLE)
@click.argument("judged", type=click.Path(path_type=Path))
@click.option(
    "--readings",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Readings made before; else the letterings are read now.",
)
@click.option("--misses", is_flag=True, help="Show each lettering that is not wholly right.")
@click.option("--as", "form", type=click.Choice(("table", "json")), default="table", help="table (the usual) or json.")
@home_option
def command(judged: Path, readings: Path | None, misses: bool, form: str, home: Path | None) -> int:
    """Compare readings with the letterings of the file JUDGED, by pairs of a name and a role."""
    vocab = room("vocab", home)
    records = _records(judged)
    if readings is None:
        reader = Reader(compiled_reader(vocab))
        answers = {str(each.get("id")): reader.read(lettering_from(each)).as_dict() for each in records}
    else:
        answers = {str(each.get("id")): each for each in _records(readings)}
    settings = grammar_tables(load(vocab)).settings
    scorer = Scorer(
        {key.removeprefix("judged-"): roles for key, roles in settings.items() if key.startswith("judged-")}
    )
    pairs = [(record, answers.get(str(record.get("id")), {})) for record in records]
    tallies = [scorer.tally(record, answer) for record, answer in pairs]
    near, strict, (share, interval) = figures(tallies, "close"), figures(tallies, "strict"), whole(tallies)
    roles = scorer.by_role(pairs)
    if form == "json":
        click.echo(
            json.dumps(
                {
                    "letterings": len(tallies),
                    "close": {
                        "precision": near.precision,
                        "recall": near.recall,
                        "f1": near.f1,
                        "interval": near.interval,
                    },
                    "strict": {
                        "precision": strict.precision,
                        "recall": strict.recall,
                        "f1": strict.f1,
                        "interval": strict.interval,
                    },
                    "whole": {"share": share, "interval": interval},
                    "roles": [{"role": role, "judged": asked, "found": found} for role, asked, found in roles],
                },
                indent=2,
            )
        )
        return 0
    if misses:
        for (record, _), tally in zip(pairs, tallies, strict=True):
            if not tally.whole:
                click.echo(f"{tally.id}  {' / '.join(line['text'] for line in record['lines'])}")
                for name, wanted in tally.missed:
                    click.echo(f"    missed  {name}: {' or '.join(wanted)}")
                for name, role in tally.added:
                    click.echo(f"    added   {name}: {role}")
    for role, asked, found in roles:
        click.echo(f"  {role:<17} {found} of {asked}")
    for name, each in (("close", near), ("strict", strict)):
        click.echo(
            f"{name:<7} precision {each.precision:.3f}  recall {each.recall:.3f}  F1 {each.f1:.3f}  [{each.interval[0]:.3f}, {each.interval[1]:.3f}]"
        )
    click.echo(f"whole   {share:.3f} of {len(tallies)}  [{interval[0]:.3f}, {interval[1]:.3f}]")
    return 0


def _records(path: Path) -> list[dict[str, Any]]:
    """The objects of a JSON Lines file; raises Fault with the row where one is broken."""
    records: list[dict[str, Any]] = []
    try:
        for number, line in enumerate(path.read_text(encoding="utf-8-sig").splitlines(), 1):
            if line.strip():
                try:
                    record = json.loads(line)
                except ValueError:
                    raise Fault(f"{path}:{number}: is not JSON; write one object a line") from None
                if not isinstance(record, dict):
                    raise Fault(f"{path}:{number}: is no JSON object; write one object a line")
                records.append(record)
    except (OSError, UnicodeDecodeError) as error:
        raise Fault(f"{path}: cannot be read as UTF-8 text ({error}); name a JSON Lines file") from None
    return records
