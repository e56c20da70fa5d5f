"""Letterings from CSV and TSV files: records found one at a time, a broken one costing only itself."""

from __future__ import annotations

import codecs
import csv
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import IO, NamedTuple

from margent.exchange.columns import columns_of, known_columns
from margent.exchange.letterings import Row, row_from
from margent.faults import Fault

LONGEST_RECORD = 1_000_000
"""Characters of one record at most; an open quotation mark would otherwise take in the whole file."""

SEPARATORS = (",", ";", "\t")
"""What may stand between cells: programs write semicolons where the comma is the decimal sign, and tabs as `Unicode text`."""

HEADER_LINES = 50
"""Lines at the head of a file in which the header is looked for: a column's name may hold line breaks."""


class _TooLong(Exception):  # noqa: N818 - it never leaves this module
    """A record is longer than LONGEST_RECORD."""


class Record(NamedTuple):
    """A record with its number from 1; of one that is broken, `cells` are those of its first line as far as they can be told."""

    number: int
    cells: list[str]
    wrong: str | None = None


def delimited_rows(path: Path, wanted: Mapping[str, str], encoding: str | None = None) -> Iterator[Row]:
    """The rows of a CSV or TSV file, in order; a broken row comes with its error, an empty one is passed over.

    `number` is the one a spreadsheet shows: the header is row 1, and a row with breaks in its cells is one row.
    Raises Fault where the file cannot be read, is in another encoding, or its header does not do.
    """
    records = delimited_records(path, lambda cells: known_columns(cells, wanted), encoding)
    columns = columns_of(str(path), next(records).cells, wanted)
    for number, cells, wrong in records:
        if wrong:
            yield Row(number, columns.id_in(cells), None, f"row {number} {wrong}")
            continue
        try:
            record = columns.record(cells)
        except Fault as fault:
            yield Row(number, columns.id_in(cells), None, f"row {number} {fault}")
            continue
        yield row_from(number, record)


def delimited_records(path: Path, known: Callable[[list[str]], int], encoding: str | None = None) -> Iterator[Record]:
    """The header of a CSV or TSV file, and then its records that are not empty, a broken one with what is wrong with it.

    `known` says how many columns of a header are known: by it the separator is told.
    Raises Fault where the file cannot be read, is empty, is in another encoding, or its header is broken.
    """
    chosen = _encoding(path, encoding)
    _readable(path, chosen)
    try:
        with path.open(encoding=chosen, newline="") as file:
            lines = _lines(file)
            head = list(islice(lines, HEADER_LINES))
            if not head:
                raise Fault(f"{path}: is empty; the first row must name the columns")
            records = _records(_together(head, lines), _separator(head, known))
            header = next(records)
            if header.wrong:
                raise Fault(f"{path}:1: the header {header.wrong}")
            yield header
            for record in records:
                if record.wrong or any(cell.strip() for cell in record.cells):
                    yield record
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror}); name a CSV or TSV file") from None
    except UnicodeDecodeError:  # only where the file could not be read beforehand, as a pipe
        raise Fault(
            f"{path}: is not text in {chosen}; save it as UTF-8, or name its encoding with --encoding"
        ) from None


def _encoding(path: Path, said: str | None) -> str:
    """The encoding to read with: what was said, else what the file's first bytes show, else UTF-8."""
    if said is not None:
        try:
            "a".encode(said)  # codecs such as rot13 are looked up as well, but are no encodings
            return codecs.lookup(said).name
        except LookupError:
            raise Fault(
                f"--encoding {said!r}: is no encoding known here; write utf-8, utf-16, cp1252 or mac_roman"
            ) from None
    if not path.is_file():
        return "utf-8-sig"
    try:
        with path.open("rb") as file:
            first = file.read(4)
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror}); name a CSV or TSV file") from None
    return "utf-16" if first.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) else "utf-8-sig"


def _readable(path: Path, encoding: str) -> None:
    """Nothing comes back: the file is decoded once before anything is read, so that no half of a table is answered."""
    if not path.is_file():
        return
    decoder = codecs.getincrementaldecoder(encoding)()
    line = 1
    with path.open("rb") as file:
        while True:
            block = file.read(1 << 20)
            try:
                line += decoder.decode(block, final=not block).count("\n")
            except UnicodeDecodeError as error:
                line += error.object[: error.start].count(b"\n")
                raise Fault(
                    f"{path}:{line}: is not text in {encoding.removesuffix('-sig').upper()}; save it as UTF-8, or name its encoding with --encoding"
                ) from None
            except UnicodeError:
                raise Fault(
                    f"{path}: is not text in {encoding.upper()}; save it as UTF-8, or name its encoding with --encoding"
                ) from None
            if not block:
                return


def _lines(file: IO[str]) -> Iterator[str]:
    """The lines of the file, each cut where it is longer than a record may be; iterating would hold a line of any length."""
    while line := file.readline(LONGEST_RECORD + 1):
        if len(line) > LONGEST_RECORD and not line.endswith("\n"):
            while rest := file.readline(LONGEST_RECORD):
                if rest.endswith("\n"):
                    break
        yield line


def _together(head: list[str], lines: Iterator[str]) -> Iterator[str]:
    yield from head
    yield from lines


def _separator(head: list[str], known: Callable[[list[str]], int]) -> str:
    """The separator under which the header shows the most columns that are known, the comma where none does."""

    def worth(separator: str) -> tuple[int, int]:
        header = next(_records(iter(head), separator))
        return (0, 0) if header.wrong else (known(header.cells), len(header.cells))

    return max(SEPARATORS, key=worth)


def _records(lines: Iterator[str], separator: str) -> Iterator[Record]:
    """Each record of the file.

    A broken record that took in further lines gives them back: reading goes on at its second line.
    """
    returned: deque[str] = deque()
    number = 0
    while True:
        taken: list[str] = []
        number += 1
        try:
            cells = next(csv.reader(_taking(taken, returned, lines), delimiter=separator, strict=True))
        except StopIteration:
            return
        except _TooLong:
            wrong = f"is longer than {LONGEST_RECORD:,} characters: close every quotation mark, and give one print's lettering a row"
        except csv.Error:
            wrong = "has a quotation mark out of place: put the cell in quotation marks and double those inside it"
        else:
            yield Record(number, cells)
            continue
        yield Record(number, next(csv.reader(taken[:1], delimiter=separator), []), wrong)
        returned.extendleft(reversed(taken[1:]))


def _taking(taken: list[str], returned: deque[str], lines: Iterator[str]) -> Iterator[str]:
    """The lines given back, then the further ones, each noted in `taken`."""
    size = 0
    while True:
        line = returned.popleft() if returned else next(lines, None)
        if line is None:
            return
        taken.append(line)
        size += len(line)
        if size > LONGEST_RECORD:
            raise _TooLong
        yield line


csv.field_size_limit(2 * LONGEST_RECORD)  # the limit above is ours, with a message of ours
