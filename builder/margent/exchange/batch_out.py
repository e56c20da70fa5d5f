"""Answers of a batch as text or as a workbook: JSON Lines, JSON, CSV, XLSX, and a form for the eye."""

from __future__ import annotations

import csv
import io
import json
import re
import textwrap
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from margent.exchange.letterings import Row
from margent.exchange.reading_table import Cell, header, inert, risky, table_rows
from margent.exchange.reading_text import reading_text

FORMS = ("table", "json", "jsonl", "csv", "xlsx")

LAST_ROW = 1_048_576
"""Rows that a sheet can have; what goes beyond stands on a further sheet."""
LONGEST_CELL = 32_767
"""Characters that a cell of a workbook can have."""

_NOT_IN_A_WORKBOOK = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")
"""Characters that XML cannot hold."""


@dataclass(frozen=True, slots=True)
class Written:
    """Makes the text of one answer in a form; `why` adds the reasons where the form leaves them out."""

    form: str
    why: bool = False

    def __call__(self, answer: Mapping[str, Any], row: Row | None = None) -> str:
        """The text of an answer; all texts of a form, joined as `written_all` does, make a whole file."""
        del row
        if self.form == "csv":
            return csv_text(table_rows(answer, self.why))
        if self.form == "json":
            return textwrap.indent(json.dumps(answer, ensure_ascii=False, indent=2), "  ")
        if self.form == "table":
            name = f"{answer['id'] or '-'}"
            return (
                f"{name}  {answer['error']}\n\n"
                if "error" in answer
                else f"{name}\n{reading_text(answer, why=self.why)}\n"
            )
        return json.dumps(answer, ensure_ascii=False) + "\n"


def csv_text(rows: Iterable[Iterable[Cell]]) -> str:
    """Rows as CSV, every text that might be computed made inert."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows([inert(cell) for cell in row] for row in rows)
    return out.getvalue()


def written_all(form: str, why: bool, texts: Iterable[str], out: IO[str]) -> None:
    """Nothing comes back: the texts of all answers are written, with what stands before, between and after them in the form."""
    if form == "csv":
        out.write(csv_text([header(why)]))
    if form != "json":
        for text in texts:
            out.write(text)
        return
    before = "[\n"
    for text in texts:
        out.write(before + text)
        before = ",\n"
    out.write("[]\n" if before == "[\n" else "\n]\n")


def write_workbook(path: Path, answers: Iterable[Mapping[str, Any]], why: bool = False) -> None:
    """Nothing comes back: the answers are written as an XLSX workbook, row by row."""
    rows = (row for answer in answers for row in table_rows(answer, why))
    write_sheet(path, "Readings", header(why), rows)


def write_sheet(path: Path, title: str, names: Iterable[str], rows: Iterable[Iterable[Cell]]) -> None:
    """Nothing comes back: rows under a header are written as an XLSX workbook; no text in it is a formula."""
    import openpyxl
    from openpyxl.cell import WriteOnlyCell

    def cell(sheet: Any, value: Cell) -> Any:
        if not isinstance(value, str):
            return value
        text = _NOT_IN_A_WORKBOOK.sub("\ufffd", value)[:LONGEST_CELL]
        if not risky(text):
            return text
        marked = WriteOnlyCell(sheet, text)
        marked.data_type = "s"  # openpyxl takes a text that begins with = for a formula
        marked.quotePrefix = True  # and so does the spreadsheet, once somebody edits the cell
        return marked

    names = list(names)
    book = openpyxl.Workbook(write_only=True)
    book.properties.creator = "Margent"
    number = LAST_ROW
    sheets = 0
    for row in rows:
        if number >= LAST_ROW:
            sheets += 1
            sheet = _new_sheet(book, title if sheets == 1 else f"{title} {sheets}", names)
            number = 1
        sheet.append([cell(sheet, value) for value in row])
        number += 1
    if not sheets:
        _new_sheet(book, title, names)
    book.save(path)


def _new_sheet(book: Any, title: str, names: list[str]) -> Any:
    sheet = book.create_sheet(title)
    sheet.freeze_panes = "A2"
    sheet.append(names)
    return sheet
