"""The page of rules: what an entry must keep, with the reason, the cure, and an example on either side."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Protocol

from margent.publishing.material import Page

# What the letter of a rule stands for; `shapes/README.md` says the same with the files.
KINDS = {
    "A": "Words round attributions",
    "B": "Sources",
    "C": "Citations, and the standing of what is not cited",
    "D": "Dates",
    "E": "How names are written and weighed",
    "F": "Forenames",
    "G": "The reader's grammar",
    "K": "Marks",
    "L": "Labels and languages",
    "M": "Makers, name forms, attestations, working places, practice, kin",
    "N": "Kinds of notice",
    "O": "The ontology",
    "P": "Places and the forms of their names",
    "Q": "Qualifiers",
    "R": "Roles, confusions, stages",
    "S": "Senses",
    "T": "Terms",
    "U": "Publications",
    "V": "Words by which marks are described",
    "W": "Word lists",
    "X": "Entries compared with each other",
    "Y": "Files: syntax, words, references, entries written twice",
}


class Rule(Protocol):
    """A rule as the check has it."""

    @property
    def id(self) -> str:
        """Shown with every finding."""

    @property
    def severity(self) -> str:
        """Violation or warning."""

    @property
    def wrong(self) -> str:
        """What is wrong where it is broken."""

    @property
    def mend(self) -> str:
        """How to mend it."""

    @property
    def reason(self) -> str:
        """Who would be misled."""


@dataclass(frozen=True, slots=True)
class Explained:
    """A rule with its examples."""

    rule: Rule
    good: str
    bad: str


def rule_page(rules: Sequence[Rule], shapes: Path) -> Page:
    """The page of those rules, in groups by what they are about; the examples lie beside the shapes."""
    path = shapes / "examples.json"
    examples: dict[str, dict[str, str]] = json.loads(path.read_text("utf-8"))["examples"] if path.is_file() else {}

    def explained(group: Iterable[Rule]) -> list[Explained]:
        sides = ((rule, examples.get(rule.id, {})) for rule in group)
        return [Explained(rule, of.get("good", ""), of.get("bad", "")) for rule, of in sides]

    by_letter = groupby(sorted(rules, key=lambda rule: rule.id), key=lambda rule: rule.id[0])
    groups = [(letter, KINDS[letter], explained(group)) for letter, group in by_letter]
    return Page("rules.html", "rules.html", lambda _: {"groups": groups, "count": len(rules)})
