"""`margent check`: what is wrong in a vocabulary or an authority, where, and how to mend it."""

from __future__ import annotations

import gc
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from margent.cli.data_out import data_out
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
  margent check ours/ --since main     what a change brings
  margent check ours/ --mend           and mend what can be mended without asking
"""
FORMS = ("text", "json", "sarif", "junit", "annotations")


@click.command(
    "check",
    epilog=EXAMPLE,
    help="""Say everything that is wrong in the vocabulary, with file, line and how to mend it.

    Without FOLDER the general vocabulary and the authorities are checked; with FOLDER only that, and the others are known
    beside it. Findings go to stdout, a summary to stderr. The exit code is 1 when something must be mended; warnings alone
    leave it 0. Nothing is fetched. What has not changed since the last run is not worked out again.""",
)
@click.argument("folders", nargs=-1, metavar="[FOLDER]...", type=click.Path(path_type=Path))
@authority_option
@home_option
@click.option(
    "--as",
    "form",
    type=click.Choice(FORMS),
    default="text",
    help="Form of the findings: sarif and junit for other programs, annotations for a forge that marks the lines of a change.",
)
@click.option("--since", metavar="REV", help="Only what a change since that git revision touches or brings.")
@click.option("--mend", is_flag=True, help="Mend what has only one cure, and say what was done.")
@click.option("--watch", is_flag=True, help="Check again whenever a file changes, until Ctrl-C.")
@click.option("--afresh", is_flag=True, help="Work everything out again, and keep nothing for the next run.")
def command(
    folders: tuple[Path, ...],
    authorities: tuple[str, ...],
    home: Path | None,
    form: str,
    since: str | None,
    mend: bool,
    watch: bool,
    afresh: bool,
) -> int:
    """The exit code: 1 when there are violations, else 0."""
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
    run = _Run(tuple(checked), tuple(beside), shapes, form, since, afresh)
    if mend:
        run.mend()
    if not watch:
        # Millions of small objects are made and kept to the end: looking for rubbish among them costs a fifth of the time.
        gc.disable()
        return run.once()
    return _watch(run, (*checked, *beside))


@dataclass(frozen=True)
class _Run:
    """What was asked for; it may be done once, or again and again."""

    checked: tuple[Path, ...]
    beside: tuple[Path, ...]
    shapes: Path
    form: str
    since: str | None
    afresh: bool

    def once(self) -> int:
        """The exit code; the findings have gone to stdout and the summary to stderr."""
        from margent.checking.check import all_rules
        from margent.checking.findings import report
        from margent.checking.report_forms import as_annotations, as_json, as_junit, as_sarif

        outcome = self._outcome(self.checked)
        if self.since is not None:
            from margent.checking.since import touched_since

            outcome = touched_since(outcome, self.checked, self.since, self._outcome)
        _progress("")
        forms: dict[str, Callable[[], str]] = {
            "text": lambda: report(outcome.findings),
            "json": lambda: as_json(outcome) + "\n",
            "sarif": lambda: as_sarif(outcome, all_rules(self.shapes)) + "\n",
            "junit": lambda: as_junit(outcome),
            "annotations": lambda: as_annotations(outcome),
        }
        data_out().write(forms[self.form]())
        click.echo(_summary(outcome), err=True)
        return 1 if outcome.violations else 0

    def mend(self) -> None:
        """Nothing comes back: what has only one cure is mended, and told on stderr."""
        from margent.checking.mends import mend

        for done in mend(self.checked, self.beside, self.shapes):
            click.echo(done, err=True)

    def _outcome(self, folders: Sequence[Path]) -> Outcome:
        from margent.checking.check import check, kept_in
        from margent.publishing.reader_cache import cache_folder

        kept = kept_in(None if self.afresh else cache_folder(), self.shapes)
        return check(folders, self.beside, self.shapes, _progress, kept)


def _watch(run: _Run, folders: Sequence[Path]) -> int:
    """The exit code when it is interrupted, 130; it ends in no other way."""
    seen: dict[Path, tuple[int, int]] | None = None
    while True:
        now = _state(folders)
        if now != seen:
            seen = now
            try:
                run.once()
            except Fault as fault:  # a file half saved, a folder half moved: the next change may mend it
                click.echo(str(fault), err=True)
            click.echo(f"{time.strftime('%H:%M:%S')} waiting for a change; Ctrl-C ends", err=True)
        time.sleep(0.3)


def _state(folders: Sequence[Path]) -> dict[Path, tuple[int, int]]:
    """Time and size of every file that a run would look at."""
    from margent.vocabulary.turtle import turtle_files

    found: dict[Path, tuple[int, int]] = {}
    for folder in folders:
        try:
            for path in turtle_files(folder):
                about = path.stat()
                found[path] = (about.st_mtime_ns, about.st_size)
        except (OSError, Fault):
            continue
    return found


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
