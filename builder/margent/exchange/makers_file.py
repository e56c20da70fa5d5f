"""A file with a list of makers in any of the forms that are taken in, told by the ending of its name."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from margent.exchange.batch_file import OTHERS, TABLES, WORKBOOKS
from margent.exchange.delimited import delimited_records
from margent.exchange.listed_maker import Listed
from margent.exchange.listed_words import ListedWords
from margent.exchange.makers_marc import marc_makers
from margent.exchange.makers_skos import FORMATS, skos_makers
from margent.exchange.makers_table import MakerColumns, known_maker_columns, maker_columns, table_makers
from margent.exchange.workbook import workbook_records
from margent.faults import Fault

MARC = (".mrc", ".marc")
XML = (".xml", ".marcxml")
SKOS = tuple(ending for ending in FORMATS if ending not in XML)
_RDF = re.compile(rb"<(?:\w+:)?RDF[\s>]")
TAKEN = "CSV, TSV, XLSX, MARC 21 authority records (.mrc, .xml) or SKOS (.ttl, .rdf, .jsonld, .nt)"


@dataclass(slots=True)
class MakersFile:
    """A list of makers and how it is to be read."""

    path: Path
    columns: Mapping[str, str] = field(default_factory=dict)
    encoding: str | None = None
    sheet: str | None = None
    language: str = "en"
    found: MakerColumns | None = None
    """Where the columns of a table were found; known once its makers are asked for."""

    @property
    def form(self) -> str:
        """`table`, `workbook`, `marc`, `marcxml` or `skos`; raises Fault for what is not taken in, and for options without use."""
        ending = self.path.suffix.lower()
        if ending in OTHERS:
            raise Fault(f"{self.path}: {ending} files are not read; save it as CSV in UTF-8, or as XLSX")
        forms = {"table": TABLES, "workbook": WORKBOOKS, "marc": MARC, "marcxml": XML, "skos": SKOS}
        form = next((form for form, endings in forms.items() if ending in endings), None)
        if form == "marcxml" and _is_rdf(self.path):
            form = "skos"
        if form is None:
            raise Fault(f"{self.path}: no list that can be taken in; name a file in {TAKEN}")
        if self.columns and form not in {"table", "workbook"}:
            raise Fault(f"{self.path}: --column is for CSV, TSV and XLSX; the other forms say themselves what is what")
        if self.encoding and form != "table":
            raise Fault(
                f"{self.path}: --encoding is for CSV and TSV; the other forms say themselves how they are written"
            )
        if self.sheet is not None and form != "workbook":
            raise Fault(f"{self.path}: --sheet is for XLSX; this file has no sheets")
        return form

    def makers(self, words: ListedWords) -> Iterator[Listed]:
        """The makers and what could not be taken, in order.

        Raises Fault where the file cannot be read, here or while it is read; nothing is ever fetched.
        """
        form = self.form
        if self.path.is_dir():
            raise Fault(f"{self.path}: is a folder; name a file in {TAKEN}")
        if not self.path.exists():
            raise Fault(f"{self.path}: no such file; name a file in {TAKEN}")
        if form == "table":
            records = delimited_records(
                self.path, lambda header: known_maker_columns(header, self.columns), self.encoding
            )
        elif form == "workbook":
            records = workbook_records(self.path, self.sheet)
        elif form == "skos":
            return skos_makers(self.path, self.language)
        else:
            return marc_makers(self.path, words, self.language, xml=form == "marcxml")
        self.found = maker_columns(str(self.path), next(records).cells, self.columns)
        return table_makers(records, self.found, words, self.language)


def _is_rdf(path: Path) -> bool:
    """Whether the first element of an XML file is RDF's; `.xml` is the ending of both."""
    try:
        with path.open("rb") as file:
            return bool(_RDF.search(file.read(4096).replace(b"\0", b"")))
    except OSError:
        return False  # told where the file is read
