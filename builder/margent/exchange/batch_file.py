"""A file of letterings in any of the forms that are read: its rows, and the digest that tells whether it has changed."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from margent.exchange.delimited import delimited_rows
from margent.exchange.json_lines import json_line_rows
from margent.exchange.letterings import Row
from margent.exchange.workbook import workbook_rows
from margent.faults import Fault

TABLES = (".csv", ".tsv", ".tab")
WORKBOOKS = (".xlsx", ".xlsm")
OTHERS = (".xls", ".ods", ".numbers", ".docx", ".doc", ".pdf")
"""What is often at hand instead: each can be saved as something that is read."""


@dataclass(frozen=True, slots=True)
class BatchFile:
    """A file of letterings and how it is to be read; the form is told by the ending of its name, JSON Lines where it tells nothing."""

    path: Path
    columns: Mapping[str, str] = field(default_factory=dict)
    encoding: str | None = None
    sheet: str | None = None

    @property
    def kind(self) -> str:
        """`table`, `workbook` or `lines`; raises Fault for a form that is not read, and for options that the form has no use for."""
        ending = self.path.suffix.lower()
        if ending in OTHERS:
            raise Fault(f"{self.path}: {ending} files are not read; save it as CSV in UTF-8, or as XLSX")
        kind = "table" if ending in TABLES else "workbook" if ending in WORKBOOKS else "lines"
        if self.columns and kind == "lines":
            raise Fault(
                f"{self.path}: --column is for CSV, TSV and XLSX; a JSON Lines file has its keys named as they are"
            )
        if self.encoding and kind != "table":
            raise Fault(
                f"{self.path}: --encoding is for CSV and TSV; JSON Lines and XLSX say themselves how they are written"
            )
        if self.sheet is not None and kind != "workbook":
            raise Fault(f"{self.path}: --sheet is for XLSX; this file has no sheets")
        return kind

    def rows(self) -> Iterator[Row]:
        """The rows in order, read one at a time; broken ones come with their error.

        Raises Fault where the file cannot be read at all.
        """
        kind = self.kind
        if self.path.is_dir():
            raise Fault(f"{self.path}: is a folder; name a file of letterings")
        if kind == "table":
            return delimited_rows(self.path, self.columns, self.encoding)
        if kind == "workbook":
            return workbook_rows(self.path, self.columns, self.sheet)
        return json_line_rows(self.path)

    def digest(self) -> str:
        """A digest of the file's bytes and of how it is read; the same file read otherwise has another."""
        digest = hashlib.sha256(repr((sorted(self.columns.items()), self.encoding, self.sheet, self.kind)).encode())
        try:
            with self.path.open("rb") as file:
                while block := file.read(1 << 20):
                    digest.update(block)
        except OSError as error:
            raise Fault(f"{self.path}: cannot be read ({error.strerror}); name a file of letterings") from None
        return digest.hexdigest()
