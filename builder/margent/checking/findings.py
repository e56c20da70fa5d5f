"""A finding: one thing that is wrong, where it stands, and how to mend it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, NamedTuple

from pyoxigraph import Literal as Text
from pyoxigraph import NamedNode

Severity = Literal["violation", "warning"]


class Rule(NamedTuple):
    """One rule as it is documented: what is wrong where it is broken, how to mend that, and who would be misled."""

    id: str  # shown with every finding; never given to another rule
    severity: Severity
    wrong: str  # follows the name of the entry: "has no sense"
    mend: str
    reason: str


class Hit(NamedTuple):
    """One breach of a rule, by IRIs: what is known of it before anybody has looked for the line."""

    rule: str
    severity: Severity
    entry: str
    wrong: str
    mend: str
    property: str | None = None
    value: NamedNode | Text | None = None
    file: Path | None = None  # only where the rule is about one file, or the entry stands in several
    line: int | None = None  # only where the parser told it
    closes: bool = False  # the property is out of place; nothing is said of its value
    many: bool = False  # there are too many values


@dataclass(frozen=True, slots=True, order=True)
class Finding:
    """One breach of a rule at its place; findings sort by file, then line. Lines count from 1."""

    file: str
    line: int
    rule: str
    entry: str
    wrong: str
    mend: str
    severity: Severity = "violation"

    def text(self) -> str:
        """Three lines for an editor, without a newline at the end."""
        warning = " warning" if self.severity == "warning" else ""
        name = f"{self.entry} " if self.entry else ""
        return f"{self.file}:{self.line}: {name}[{self.rule}{warning}]\n  wrong: {self.wrong}\n  mend:  {self.mend}"


def report(findings: Iterable[Finding]) -> str:
    """The findings as text, sorted, each once; empty where there are none, else ending in a newline."""
    return "".join(f"{finding.text()}\n" for finding in sorted(set(findings)))


def filled(wording: str, **values: str) -> str:
    """The wording with each `{name}` replaced by its value; a name without a value stays as it stands."""
    return re.sub(r"\{(\w+)\}", lambda name: values.get(name[1], name[0]), wording)
