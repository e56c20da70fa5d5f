"""Rules across entries: SPARQL queries, each run once over everything that is known."""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

from pyoxigraph import Literal, NamedNode, Quad, QuerySolutions, Store

from margent.checking.findings import Hit, Rule, Severity, filled
from margent.checking.material import Material
from margent.checking.wording import Wording
from margent.faults import Fault

_HEAD = re.compile(r"# (id|severity|wrong|mend|reason): (.+)")


class Query(NamedTuple):
    """A rule and the SPARQL query that finds its breaches."""

    rule: Rule
    text: str


def queries(folder: Path) -> list[Query]:
    """The queries of the folder, sorted by id; raises Fault for one whose head does not state the rule.

    The head is a block of comments: `# id:`, `# severity:` (violation or warning), `# wrong:`, `# mend:`, `# reason:`.
    """
    return sorted(_query(path) for path in sorted(folder.glob("*.rq")))


def query_hits(material: Material, folder: Path) -> list[Hit]:
    """The breaches of those rules by subjects of the checked files.

    A query selects `?entry`, and where it can `?property` and `?value`, which say where in the file to look. The wording
    may use any selected variable as `{name}`. Raises Fault for a query that is not SPARQL.
    """
    store = Store()
    # At once, not one by one: the store then sorts only once. It rewrites numbers ("01" as 1), which no query minds.
    store.bulk_extend(Quad(triple.subject, triple.predicate, triple.object) for triple in material.triples())
    wording = Wording(material.bases)
    hits: list[Hit] = []
    for rule, text in queries(folder):
        try:
            solutions = store.query(text)
        except SyntaxError as wrong:
            raise Fault(f"{folder}: {rule.id}: not SPARQL: {wrong.msg}; the rules must be mended first") from None
        assert isinstance(solutions, QuerySolutions), rule.id
        names = [variable.value for variable in solutions.variables]
        for solution in solutions:
            found = {name: value for name in names if (value := solution[name]) is not None}
            entry = found["entry"]
            if isinstance(entry, NamedNode) and entry.value in material.subjects:
                hits.append(_hit(rule, entry.value, found, wording))
    return hits


def _query(path: Path) -> Query:
    text = path.read_text("utf-8")
    head = {match[1]: match[2] for line in text.splitlines() if (match := _HEAD.fullmatch(line))}
    severity = head.get("severity")
    if head.keys() != {"id", "severity", "wrong", "mend", "reason"} or severity not in {"violation", "warning"}:
        raise Fault(
            f"{path}: the head must state id, severity (violation or warning), wrong, mend and reason, a line each"
        )
    kept: Severity = "warning" if severity == "warning" else "violation"
    return Query(Rule(head["id"], kept, head["wrong"], head["mend"], head["reason"]), text)


def _hit(rule: Rule, entry: str, found: dict[str, object], wording: Wording) -> Hit:
    words = {name: wording.value(value) for name, value in found.items() if isinstance(value, NamedNode | Literal)}
    place, value = found.get("property"), found.get("value")
    return Hit(
        rule=rule.id,
        severity=rule.severity,
        entry=entry,
        wrong=filled(rule.wrong, **words),
        mend=filled(rule.mend, **words),
        property=place.value if isinstance(place, NamedNode) else None,
        value=value if isinstance(value, NamedNode | Literal) else None,
    )
