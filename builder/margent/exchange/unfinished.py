"""The file of a run that may be stopped and gone on with: FILE.part beside the FILE it will become.

It holds a first line that says which input and which vocabulary it belongs to, then the answer to each row as a line of
JSON, whatever the form of the file in the end.  FILE itself is put in its place whole, when everything is read.
"""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from margent.exchange.batch_out import Written, write_workbook, written_all
from margent.faults import Fault

MARK = "margent unfinished batch"
"""The first key of the first line."""


@dataclass(frozen=True, slots=True)
class Belongs:
    """What an unfinished file belongs to: digests of the input and of the compiled reader, and the version of the vocabulary."""

    input: str
    vocabulary: str
    reader: str

    def line(self) -> str:
        """The first line of the file."""
        return json.dumps({MARK: 1, "input": self.input, "vocabulary": self.vocabulary, "reader": self.reader}) + "\n"


@dataclass(frozen=True, slots=True)
class Unfinished:
    """A batch on its way into the file `to`."""

    to: Path
    belongs: Belongs

    @property
    def part(self) -> Path:
        """The file that grows."""
        return self.to.with_name(self.to.name + ".part")

    def done(self) -> int:
        """How many answers stand in the file already; one that was cut off is taken away.

        Raises Fault where the file belongs to another run.
        """
        try:
            with self.part.open("r+b") as file:
                self._check(file.readline())
                number = 0
                whole = file.tell()
                while line := file.readline():
                    if not (line.startswith(b"{") and line.endswith(b"}\n")):
                        break
                    number += 1
                    whole = file.tell()
                file.truncate(whole)
        except FileNotFoundError:
            return 0
        except OSError as error:
            raise Fault(f"{self.part}: cannot be read ({error.strerror}); delete it, or run without --resume") from None
        return number

    def _check(self, first: bytes) -> None:
        try:
            said = json.loads(first)
        except ValueError:
            said = None
        if not isinstance(said, dict) or MARK not in said:
            raise Fault(f"{self.part}: is no unfinished file of Margent; move it, or name another file with --to")
        if said.get("input") != self.belongs.input:
            raise Fault(
                f"{self.part}: belongs to another input, or to one read with other columns; run without --resume to begin anew"
            )
        if (said.get("vocabulary"), said.get("reader")) != (self.belongs.vocabulary, self.belongs.reader):
            raise Fault(f"{self.part}: was read with another vocabulary; run without --resume to begin anew")

    def add(self, texts: Iterable[str], anew: bool) -> None:
        """Nothing comes back: the texts, each a line of JSON, are written behind what is there; `anew` clears it before.

        Raises Fault where the file cannot be written; what was written stays for --resume.
        """
        try:
            with self.part.open("w" if anew else "a", encoding="utf-8", newline="\n") as file:
                if anew or file.tell() == 0:
                    file.write(self.belongs.line())
                for text in texts:
                    file.write(text)
        except OSError as error:
            raise Fault(
                f"{self.part}: cannot be written ({error.strerror}); make room or name another file, and go on with --resume"
            ) from None

    def answers(self) -> Iterator[str]:
        """The lines of the answers."""
        with self.part.open(encoding="utf-8", newline="\n") as file:
            file.readline()
            yield from file

    def finish(self, form: str, why: bool) -> tuple[int, int]:
        """How many answers there are and how many of them are errors; the file `to` is in its place, the unfinished one gone."""
        counted = [0, 0]

        def told() -> Iterator[str]:
            for line in self.answers():
                counted[0] += 1
                counted[1] += line.startswith('{"id"')  # a reading begins with its format
                yield line

        def data() -> Iterator[dict[str, Any]]:
            for line in told():
                yield json.loads(line)

        handle, name = tempfile.mkstemp(dir=self.to.parent, prefix=f".{self.to.name}-")
        try:
            os.close(handle)
            if form == "xlsx":
                write_workbook(Path(name), data(), why)
            else:
                with self._opened(Path(name), form) as out:
                    written_all(form, why, told() if form == "jsonl" else map(Written(form, why), data()), out)
            _as_usual(Path(name))
            Path(name).replace(self.to)
        except OSError as error:
            raise Fault(
                f"{self.to}: cannot be written ({error.strerror}); mend that, and go on with --resume"
            ) from None
        finally:
            Path(name).unlink(missing_ok=True)
        self.part.unlink(missing_ok=True)
        return counted[0], counted[1]

    @staticmethod
    def _opened(path: Path, form: str) -> IO[str]:
        # spreadsheet programs take a CSV file for UTF-8 only where it begins with the mark
        return path.open("w", encoding="utf-8-sig" if form == "csv" else "utf-8", newline="")


def _as_usual(path: Path) -> None:
    """Nothing comes back: the file gets the rights that a newly made one has; a temporary file is closed to all others."""
    mask = os.umask(0)
    os.umask(mask)
    path.chmod(0o666 & ~mask)
