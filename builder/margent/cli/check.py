"""`margent check`: what is wrong in a vocabulary or an authority, where, and how to mend it."""

from __future__ import annotations

import gc
import json
import sys
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from margent.cli.options import authority_option, home_option
from margent.faults import Fault
from margent.vocabulary.here import authority_folders, room

if TYPE_CHECKING:
    from margent.checking.check import Outcome

EXAMPLE = """\b
Example:
  margent check                        the general vocabulary
  margent check --authority ours/      and an institution's own makers and marks
  margent check ours/ --as json        only the folder named
"""


@click.command(
    "check",
    epilog=EXAMPLE,
    help="""Say everything that is wrong in the vocabulary, with file, line and how to mend it.

    Without FOLDER the general vocabulary and the authorities are checked; with FOLDER only that, and the others are known
    beside it. Findings go to stdout, a summary to stderr. The exit code is 1 when something must be mended; warnings alone
    leave it 0. Nothing is fetched.""",
)
@click.argument("folders", nargs=-1, metavar="[FOLDER]...", type=click.Path(path_type=Path))
@authority_option
@home_option
@click.option("--as", "form", type=click.Choice(["text", "json"]), default="text", help="Form of the findings.")
def command(folders: tuple[Path, ...], authorities: tuple[str, ...], home: Path | None, form: str) -> int:
    """The exit code: 1 when there are violations, else 0."""
    from margent.checking.check import check, kept_in
    from margent.checking.findings import report
    from margent.publishing.reader_cache import cache_folder

    own = authority_folders(authorities, home)
    vocab, shapes = room("vocab", home), room("shapes", home)
    for folder in folders:
        if not folder.is_dir():
            raise Fault(f"{folder}: no such folder; name the folder of a vocabulary or an authority, not a file in it")
    checked = folders or (vocab, *own)
    # A folder with an ontology of its own is a whole vocabulary: ours beside it would double every entry.
    general = () if any((folder / "ns.ttl").is_file() for folder in checked) else (vocab,)
    told = {folder.resolve() for folder in checked}
    beside = [folder for folder in (*general, *own) if folder.resolve() not in told]
    kept = kept_in(cache_folder(), shapes)
    # Millions of small objects are made and kept to the end: looking for rubbish among them costs a fifth of the time.
    gc.disable()
    outcome = check(checked, beside, shapes, _progress, kept)
    _progress("")
    click.echo(_json(outcome) if form == "json" else report(outcome.findings), nl=form == "json")
    click.echo(_summary(outcome), err=True)
    return 1 if outcome.violations else 0


def _progress(what: str) -> None:
    """Nothing comes back: one line on a terminal says what is being done; elsewhere nothing is written."""
    if sys.stderr.isatty():
        sys.stderr.write(f"\r\x1b[K{what}{' ...' if what else ''}")
        sys.stderr.flush()


def _summary(outcome: Outcome) -> str:
    """One sentence: how much was checked and how much must be mended."""
    looked = f"{_many(outcome.files, 'file')}, {_many(outcome.entries, 'entry', 'entries')}"
    if not outcome.findings:
        return f"{looked}: nothing to mend"
    return f"{looked}: {outcome.violations} to mend, {_many(outcome.warnings, 'warning')}"


def _many(count: int, one: str, more: str = "") -> str:
    return f"{count:,} {one if count == 1 else more or one + 's'}"


def _json(outcome: Outcome) -> str:
    """One JSON object; the keys of a finding are those of the report, and `violations` is what decides the exit code."""
    return json.dumps(
        {
            "format": 1,
            "files": outcome.files,
            "entries": outcome.entries,
            "violations": outcome.violations,
            "warnings": outcome.warnings,
            "findings": [asdict(finding) for finding in outcome.findings],
        },
        ensure_ascii=False,
        indent=1,
    )
