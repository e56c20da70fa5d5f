"""The `margent` command: a thin skin that picks a command and turns what went wrong into an exit code.

Exit codes: 0 done; 1 findings, or nothing found; 2 wrong use or input; 3 a fault of Margent itself; 130 interrupted.
"""

from __future__ import annotations

import importlib
import importlib.util
import os
import sys
import tempfile
import traceback
from pathlib import Path
from typing import NamedTuple, NoReturn

import click
from click.shell_completion import shell_complete

from margent import __version__
from margent.faults import Fault


class Listed(NamedTuple):
    """A command before it is loaded: where it is, and its line in the help."""

    module: str
    summary: str


# One module a command; it holds a click command called `command`. A module is imported only when its command is asked for,
# not to list it: the validators alone take half a second to load.
COMMANDS: dict[str, Listed] = {
    "read": Listed("margent.cli.read", "Read a lettering: who did what, how sure, and why."),
    "word": Listed("margent.cli.word", "Look up what a word or abbreviation on a print says."),
    "who": Listed("margent.cli.who", "Say which maker is meant by a name on a print."),
    "mark": Listed("margent.cli.mark", "Find a monogram, device or stamp, and for whom it stands."),
    "forms": Listed("margent.cli.forms", "Say how a maker's name may stand on prints."),
    "attribute": Listed("margent.cli.attribute", "Take an attribution apart: how sure, how near, and to whom."),
    "gaps": Listed("margent.cli.gaps", "List the words of a file of letterings that were not read."),
    "check": Listed("margent.cli.check", "Say what is wrong in a vocabulary, by file and line."),
    "compare": Listed("margent.cli.compare", "Say what a newer version changes and breaks."),
    "tidy": Listed("margent.cli.tidy", "Write Turtle files in their one stable form."),
    "begin": Listed("margent.cli.begin", "Begin an institution's own authority of makers and marks."),
    "add": Listed("margent.cli.add", "Add a term, a maker, a form of a name or a mark."),
    "import": Listed("margent.cli.import_makers", "Take a list of makers from elsewhere into an authority."),
    "publish": Listed("margent.cli.publish", "Write the site, the dumps and the compiled reader."),
    "score": Listed("margent.cli.score", "Compare readings with letterings judged by hand."),
}


class CommandTable(click.Group):
    """A group whose commands are the table above; one whose module is not there is not listed."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        """The names of the commands that are there, in the order of the table."""
        return [name for name, listed in COMMANDS.items() if importlib.util.find_spec(listed.module)]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, or None."""
        if cmd_name not in self.list_commands(ctx):
            return None
        module = COMMANDS[cmd_name].module
        command = importlib.import_module(module).command
        assert isinstance(command, click.Command), f"{module}.command is no click command"
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Nothing comes back: the lines of the table are written, with no module loaded."""
        rows = [(name, COMMANDS[name].summary) for name in self.list_commands(ctx)]
        if rows:
            with formatter.section("Commands"):
                formatter.write_dl(rows)


EXAMPLE = """\b
Example:
  margent read "A. Verrou pinxit / B. Holm sculp."
"""


@click.command(
    cls=CommandTable,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    help="Read the lettering of a print; keep, check and publish the vocabulary it is read with.",
    epilog=EXAMPLE,
)
@click.version_option(__version__, prog_name="margent", message="%(prog)s %(version)s")
def margent() -> None:
    """Nothing comes back: the group only holds the commands."""


def main(args: list[str] | None = None) -> NoReturn:
    """Never returns: runs the command line and leaves with its exit code."""
    if asked := os.environ.get("_MARGENT_COMPLETE"):  # set by a shell that wants to complete a half-typed command
        sys.exit(shell_complete(margent, {}, "margent", "_MARGENT_COMPLETE", asked))
    sys.exit(run(args))


def run(args: list[str] | None = None) -> int:
    """The exit code of one command line (`sys.argv` without `args`); messages have gone to stderr."""
    try:
        # Not margent.main(): click would leave a broken pipe with exit code 1, which here means "findings".
        with margent.make_context("margent", sys.argv[1:] if args is None else list(args)) as context:
            code = margent.invoke(context)
        sys.stdout.flush()
    except click.exceptions.Exit as leaving:
        return leaving.exit_code
    except (KeyboardInterrupt, click.Abort):
        return 130
    except click.ClickException as wrong:
        wrong.show()
        return 2
    except Fault as fault:
        click.echo(str(fault), err=True)
        return 2
    except BrokenPipeError:
        return _reader_went_away()
    except Exception as broken:  # noqa: BLE001 - the last line of defence: nobody may see a traceback
        return _own_fault(broken)
    # A command says "findings" or "nothing found" by returning 1; click hands the value through.
    return code if isinstance(code, int) else 0


def _reader_went_away() -> int:
    """Exit code 0, quietly: `margent ... | head` is no fault. Python must not write to the closed pipe at exit."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0


def _own_fault(broken: Exception) -> int:
    """Exit code 3, with one sentence on stderr; the traceback is in a log file, which never holds a lettering."""
    handle, name = tempfile.mkstemp(prefix="margent-", suffix=".log", text=True)
    with os.fdopen(handle, "w", encoding="utf-8") as log:
        log.write(f"margent {__version__}, Python {sys.version}\n")
        log.write("".join(_without_values(broken)))
    click.echo(f"margent: a fault of Margent itself ({type(broken).__name__}); the log is {Path(name)}", err=True)
    return 3


def _without_values(broken: Exception) -> list[str]:
    """The lines of the traceback without the messages, which may quote what was read."""
    lines: list[str] = []
    error: BaseException | None = broken
    while error is not None:
        lines += traceback.format_tb(error.__traceback__)
        lines.append(f"{type(error).__name__}\n")
        error = error.__cause__ or error.__context__
    return lines
