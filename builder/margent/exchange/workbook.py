"""Letterings from an XLSX workbook, read row by row with openpyxl."""

from __future__ import annotations

import datetime as dt
import warnings
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from margent.exchange.columns import columns_of
from margent.exchange.delimited import Record
from margent.exchange.letterings import Row, row_from
from margent.faults import Fault

UNPACKED = 2_000_000_000
"""Bytes that a workbook may unpack to: a small file can hold any number of zeros."""

LAST_ROW = 1_048_576
"""Rows that a sheet can have; a damaged workbook may claim any number."""

DAMAGE = (zipfile.BadZipFile, zlib.error, LookupError, ValueError, TypeError, AttributeError, SyntaxError, EOFError)
"""What openpyxl and what it stands on raise for a file that is not what its name says."""


def workbook_rows(path: Path, wanted: Mapping[str, str], sheet: str | None = None) -> Iterator[Row]:
    """The rows of one sheet of a workbook, in order; empty ones are passed over.

    `sheet` is the sheet's name, else the first is read.  `number` is the one the spreadsheet shows.
    Raises Fault where the file is no workbook, has no such sheet, or its header does not do.
    """
    records = workbook_records(path, sheet)
    columns = columns_of(str(path), next(records).cells, wanted)
    for number, cells, _ in records:
        try:
            record = columns.record(cells)
        except Fault as fault:
            yield Row(number, columns.id_in(cells), None, f"row {number} {fault}")
            continue
        yield row_from(number, record)


def workbook_records(path: Path, sheet: str | None = None) -> Iterator[Record]:
    """The header of one sheet of a workbook, and then its rows that are not empty, every cell as text.

    Raises Fault where the file is no workbook, or has no such sheet.
    """
    import openpyxl
    from openpyxl.utils.exceptions import InvalidFileException

    _not_too_large(path)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter(
                "ignore"
            )  # styles and checks of cells that openpyxl does not know, and we do not need
            book = openpyxl.load_workbook(path, read_only=True, data_only=True, keep_links=False)
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror or error}); name an XLSX workbook") from None
    except (InvalidFileException, *DAMAGE):
        raise Fault(f"{path}: is no XLSX workbook; save it as XLSX, or as CSV in UTF-8") from None
    try:
        table = _sheet(path, book, sheet)
        table.reset_dimensions()  # some programs write a wrong size, and rows beyond it would be lost
        rows = table.iter_rows(values_only=True)
        header = next(rows, None)
        if header is None:
            raise Fault(f"{path}: sheet {table.title!r} is empty; the first row must name the columns")
        yield Record(1, [_cell(value) for value in _cut(header)])
        for number, values in enumerate(rows, 2):
            if number > LAST_ROW:
                raise Fault(
                    f"{path}: sheet {table.title!r} claims more than {LAST_ROW:,} rows; save it anew, or as CSV in UTF-8"
                )
            cells = [_cell(value) for value in values]
            if any(cell.strip() for cell in cells):
                yield Record(number, cells)
    except DAMAGE:
        raise Fault(f"{path}: the workbook is damaged; open it in a spreadsheet program and save it anew") from None
    finally:
        book.close()


def _not_too_large(path: Path) -> None:
    try:
        with zipfile.ZipFile(path) as packed:
            size = sum(part.file_size for part in packed.infolist())
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror}); name an XLSX workbook") from None
    except (zipfile.BadZipFile, ValueError, NotImplementedError):
        raise Fault(f"{path}: is no XLSX workbook; save it as XLSX, or as CSV in UTF-8") from None
    if size > UNPACKED:
        raise Fault(f"{path}: unpacks to {size:,} bytes, and at most {UNPACKED:,} are read; save it as CSV in UTF-8")


def _sheet(path: Path, book: Any, name: str | None) -> Any:
    names = [each.title for each in book.worksheets]
    if name is not None and name not in names:
        raise Fault(f"{path}: has no sheet {name!r}; it has {', '.join(names)}")
    if not names:
        raise Fault(f"{path}: has no sheet with cells; name a workbook that has one")
    return book[names[0] if name is None else name]


def _cut(values: tuple[Any, ...]) -> tuple[Any, ...]:
    """The header up to its last name."""
    last = max((at for at, value in enumerate(values) if value is not None), default=-1)
    return values[: last + 1]


def _cell(value: Any) -> str:
    """A cell as text: whole numbers without a point, days as in EDTF.

    >>> _cell(1612.0), _cell(None), _cell(dt.datetime(1612, 3, 4)), _cell(True)
    ('1612', '', '1612-03-04', 'yes')
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, dt.datetime):
        return value.date().isoformat()
    return str(value).replace("_x000D_", "")
