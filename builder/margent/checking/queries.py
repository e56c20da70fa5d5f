"""Rules across entries: SPARQL queries, each run once over what it asks for.

A rule whose head says `# scope: file` is about one entry and its parts, which stand in one file; it is run over that file
alone. The others are run over the triples of all files, but only over those of the properties and classes that the query
names: nothing else can decide it. That is also what tells whether a kept answer still holds.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

from pyoxigraph import Literal, NamedNode, Quad, QuerySolutions, Store, Triple

from margent.checking.facts import key_of
from margent.checking.findings import Hit, Rule, Severity, filled
from margent.checking.wording import Wording
from margent.faults import Fault
from margent.vocabulary.namespaces import TYPE

_HEAD = re.compile(r"# (id|severity|scope|wrong|mend|reason): (.+)")
_OUTSIDE = re.compile(r"\bSERVICE\b", re.IGNORECASE)
_PREFIX = re.compile(r"PREFIX\s+(\w+):\s*<([^>]*)>", re.IGNORECASE)
_NAME = re.compile(r"\b(\w+):([A-Za-z]\w*)")


class Query(NamedTuple):
    """A rule and the SPARQL query that finds its breaches."""

    rule: Rule
    text: str
    of_a_file: bool
    names: frozenset[str]  # every property and class that the query names

    @property
    def keys(self) -> frozenset[str]:
        """The keys of the triples that can decide it."""
        return frozenset(key for name in self.names for key in (name, key_of(TYPE, name)) if name != TYPE)


@cache
def queries(folder: Path) -> tuple[Query, ...]:
    """The queries of the folder, sorted by id; raises Fault for one whose head does not state the rule.

    The head is a block of comments: `# id:`, `# severity:` (violation or warning), `# scope:` (file or all), `# wrong:`,
    `# mend:`, `# reason:`.
    """
    return tuple(sorted(_query(path) for path in sorted(folder.glob("*.rq"))))


def asked_keys(folder: Path) -> frozenset[str]:
    """The keys of all triples that the queries over all files ask for."""
    return frozenset(key for query in queries(folder) if not query.of_a_file for key in query.keys)


def store_of(triples: Iterable[Triple]) -> Store:
    """A store with those triples. It rewrites numbers ("01" as 1), which no query minds."""
    store = Store()
    # At once, not one by one: the store then sorts only once.
    store.bulk_extend(Quad(triple.subject, triple.predicate, triple.object) for triple in triples)
    return store


def hits(query: Query, store: Store, is_checked: Callable[[str], bool], wording: Wording) -> Iterator[Hit]:
    """The breaches of the rule by subjects that are checked.

    A query selects `?entry`, and where it can `?property` and `?value`, which say where in the file to look; where `?value`
    is something else, `?at` says it. The wording may use any selected variable as `{name}`. Raises Fault for a query that is not SPARQL.
    """
    try:
        solutions = store.query(query.text)
    except SyntaxError as wrong:
        raise Fault(f"{query.rule.id}: not SPARQL: {wrong.msg}; the rules must be mended first") from None
    assert isinstance(solutions, QuerySolutions), query.rule.id
    names = [variable.value for variable in solutions.variables]
    for solution in solutions:
        found = {name: value for name in names if (value := solution[name]) is not None}
        entry = found["entry"]
        if isinstance(entry, NamedNode) and is_checked(entry.value):
            yield _hit(query.rule, entry.value, found, wording)


def _query(path: Path) -> Query:
    text = path.read_text("utf-8")
    head = {match[1]: match[2] for line in text.splitlines() if (match := _HEAD.fullmatch(line))}
    severity = head.get("severity")
    if (
        head.keys() != {"id", "severity", "scope", "wrong", "mend", "reason"}
        or severity not in {"violation", "warning"}
        or head["scope"] not in {"file", "all"}
    ):
        raise Fault(
            f"{path}: the head must state id, severity (violation or warning), scope (file or all), wrong, mend and reason, a line each"
        )
    if _OUTSIDE.search(text):
        raise Fault(f"{path}: asks another server (SERVICE); a rule may ask only what is here")
    kept: Severity = "warning" if severity == "warning" else "violation"
    rule = Rule(head["id"], kept, head["wrong"], head["mend"], head["reason"])
    prefixes = dict(_PREFIX.findall(text))
    body = "\n".join(line for line in text.splitlines() if not line.lstrip().startswith("#"))
    names = frozenset(prefixes[prefix] + name for prefix, name in _NAME.findall(body) if prefix in prefixes)
    return Query(rule, text, head["scope"] == "file", names)


def _hit(rule: Rule, entry: str, found: dict[str, object], wording: Wording) -> Hit:
    words = {name: wording.value(value) for name, value in found.items() if isinstance(value, NamedNode | Literal)}
    place, value = found.get("property"), found.get("at", found.get("value"))
    return Hit(
        rule=rule.id,
        severity=rule.severity,
        entry=entry,
        wrong=filled(rule.wrong, **words),
        mend=filled(rule.mend, **words),
        property=place.value if isinstance(place, NamedNode) else None,
        value=value if isinstance(value, NamedNode | Literal) else None,
    )
