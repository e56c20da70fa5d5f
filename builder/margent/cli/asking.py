"""What a command still needs, asked for on a terminal; elsewhere it is a fault that names the option."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from typing import TypeVar

import click

from margent.faults import Fault
from margent.vocabulary.edtf import years

Found = TypeVar("Found")


class Asking:
    """Asks on a terminal, on stderr; `whole` is true where nothing was said, so that what may be left out is asked for too."""

    def __init__(self, command: str, *, whole: bool) -> None:
        self.command = command
        self.may = sys.stdin.isatty()
        self.whole = whole and self.may
        self.stood_in: list[str] = []
        """The options for which a stand-in was taken."""

    def needed(self, given: str | None, option: str, question: str, stand_in: str | None = None) -> str:
        """What was given, else the answer; where nobody can be asked the stand-in, and a Fault where there is none."""
        if given is not None and given.strip():
            return given.strip()
        if not self.may and stand_in:
            self.stood_in.append(option)
            return stand_in
        if not self.may:
            raise Fault(f"margent {self.command} needs {question[0].lower()}{question[1:]}: say it with {option}")
        answer = ""
        while not answer:
            answer = str(click.prompt(question, default="", show_default=False, err=True)).strip()
        return answer

    def optional(self, given: str | None, question: str) -> str | None:
        """What was given, else the answer where everything is asked for; None for an empty one."""
        if given is not None:
            return given.strip() or None
        if not self.whole:
            return None
        return str(click.prompt(f"{question} (may be empty)", default="", show_default=False, err=True)).strip() or None

    def chosen(
        self,
        given: str | None,
        option: str,
        question: str,
        find: Callable[[str], Found | None],
        choices: Mapping[str, str] | None = None,
        default: str | None = None,
    ) -> Found:
        """The thing that is meant by what was given or answered; asks again for what is not known.

        Raises Fault for an unknown thing that was given, or where nobody can be asked and there is no default.
        """
        hint = f"; write one of {', '.join(sorted(choices.values()))}" if choices else ""
        if given is None and default is not None and not self.whole:
            given = default
        while True:
            if given is not None:
                said = given
            elif self.may:
                if choices:
                    click.echo(f"  {', '.join(sorted(choices.values()))}", err=True)
                said = str(click.prompt(question, default=default or "", show_default=bool(default), err=True))
            else:
                raise Fault(
                    f"margent {self.command} needs {question[0].lower()}{question[1:]}: say it with {option}{hint}"
                )
            found = find(said.strip())
            if found is not None:
                return found
            wrong = f"{option} {said.strip()!r}: is not known{hint}"
            if given is not None:
                raise Fault(wrong)
            click.echo(wrong, err=True)


def date_of(given: str | None, option: str) -> str | None:
    """The date as it was given; raises Fault where it is no EDTF."""
    if given is None or not given.strip():
        return None
    try:
        years(given.strip())
    except (ValueError, RecursionError):
        raise Fault(f"{option} {given!r}: is no date in EDTF; write 1612, 1612~, 161X or 1610/1614") from None
    return given.strip()
