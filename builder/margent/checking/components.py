"""The constraint components of SHACL Core, each as a direct check of the values of one node.

Shapes Constraint Language, W3C Recommendation 20 July 2017, https://www.w3.org/TR/shacl/, section 4. A component is
compiled once from a shape; its check is then a closure over plain Python values, which is what makes ten thousand makers a
matter of seconds. What is not here (sh:lessThan, sh:equals, paths through other nodes ...) is refused when shapes are
compiled, never passed over. The reference is pySHACL: `tests/checking/test_parity.py` compares the two.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from pyoxigraph import BlankNode, Literal, NamedNode

from margent.checking.graph import Graph, Node
from margent.vocabulary.namespaces import RDF, XSD

SH = "http://www.w3.org/ns/shacl#"


class Breach(NamedTuple):
    """One broken constraint of a node: the component by its local name, and the value or the property that breaks it."""

    component: str
    value: Node | None = None
    path: str | None = None  # only of sh:closed, which is broken by a property


# Given the graph, the node and the values of the shape's path (the node itself, of a node shape).
Check = Callable[[Graph, Node, Sequence[Node]], Iterator[Breach]]
Conforms = Callable[[Graph, Node], bool]
Holds = Callable[[Graph, Node], bool]

_WHOLE = re.compile(r"[+-]?[0-9]+\Z")
_DECIMAL = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)\Z")


def each(component: str, holds: Holds) -> Check:
    """A check that every value must pass by itself."""

    def check(graph: Graph, _focus: Node, values: Sequence[Node]) -> Iterator[Breach]:
        for value in values:
            if not holds(graph, value):
                yield Breach(component, value)

    return check


def min_count(least: int) -> Check:
    """At least so many values."""

    def check(_graph: Graph, _focus: Node, values: Sequence[Node]) -> Iterator[Breach]:
        if len(values) < least:
            yield Breach("MinCountConstraintComponent")

    return check


def max_count(most: int) -> Check:
    """At most so many values."""

    def check(_graph: Graph, _focus: Node, values: Sequence[Node]) -> Iterator[Breach]:
        if len(values) > most:
            yield Breach("MaxCountConstraintComponent")

    return check


def is_class(wanted: str) -> Check:
    """Every value is an entry of the class, or of one below it."""

    def holds(graph: Graph, value: Node) -> bool:
        return isinstance(value, NamedNode) and wanted in graph.classes(value.value)

    return each("ClassConstraintComponent", holds)


def datatype(wanted: str) -> Check:
    """Every value is a literal of the datatype, and well formed."""
    form = _FORMS.get(wanted)

    def holds(_graph: Graph, value: Node) -> bool:
        if not isinstance(value, Literal) or value.datatype.value != wanted:
            return False
        return form is None or form(value.value)

    return each("DatatypeConstraintComponent", holds)


def node_kind(wanted: str) -> Check:
    """Every value is an IRI, a literal, a blank node, or one of two of these."""
    kinds = {"IRI": NamedNode, "BlankNode": BlankNode, "Literal": Literal}
    allowed = tuple(kind for name, kind in kinds.items() if name in wanted.removeprefix(SH).split("Or"))
    return each("NodeKindConstraintComponent", lambda _graph, value: isinstance(value, allowed))


def one_of(allowed: Sequence[Node]) -> Check:
    """Every value is one of those."""
    known = frozenset(allowed)
    return each("InConstraintComponent", lambda _graph, value: value in known)


def has_value(wanted: Node) -> Check:
    """One of the values is that one."""

    def check(_graph: Graph, _focus: Node, values: Sequence[Node]) -> Iterator[Breach]:
        if wanted not in values:
            yield Breach("HasValueConstraintComponent")

    return check


def pattern(expression: str, flags: str) -> Check:
    """Every value is text, or an IRI, in which the expression is found."""
    of_python = {"i": re.IGNORECASE, "m": re.MULTILINE, "s": re.DOTALL, "x": re.VERBOSE}
    found = re.compile(expression, sum(of_python[flag] for flag in flags)).search
    kept: dict[str, bool] = {}

    def holds(_graph: Graph, value: Node) -> bool:
        if isinstance(value, BlankNode):
            return False
        text = value.value
        known = kept.get(text)
        if known is None:
            known = found(text) is not None
            if len(kept) < 50_000:
                kept[text] = known
        return known

    return each("PatternConstraintComponent", holds)


def length(component: str, fits: Callable[[int], bool]) -> Check:
    """Every value is text, or an IRI, whose length fits."""
    return each(component, lambda _graph, value: not isinstance(value, BlankNode) and fits(len(value.value)))


def bound(component: str, limit: Literal, fits: Callable[[float, float], bool]) -> Check:
    """Every value is a number that fits the limit."""
    edge = _number(limit)
    assert edge is not None, limit

    def holds(_graph: Graph, value: Node) -> bool:
        number = _number(value)
        return number is not None and fits(number, edge)

    return each(component, holds)


def language_in(ranges: Sequence[str]) -> Check:
    """Every value is text in one of the languages, or in a variety of one (`fr` allows `fr-be`)."""
    wanted = tuple(each_range.lower() for each_range in ranges)

    def holds(_graph: Graph, value: Node) -> bool:
        tag = value.language if isinstance(value, Literal) else None
        if not tag:
            return False
        tag = tag.lower()
        return any(tag == each_range or tag.startswith(f"{each_range}-") for each_range in wanted)

    return each("LanguageInConstraintComponent", holds)


def unique_lang() -> Check:
    """No two values are in one language; told once for each language."""

    def check(_graph: Graph, _focus: Node, values: Sequence[Node]) -> Iterator[Breach]:
        if len(values) > 1:
            tags = [value.language for value in values if isinstance(value, Literal) and value.language]
            for _tag in sorted({tag for tag in tags if tags.count(tag) > 1}):
                yield Breach("UniqueLangConstraintComponent")

    return check


def closed(allowed: frozenset[str]) -> Check:
    """The node has no property but those."""

    def check(graph: Graph, _focus: Node, values: Sequence[Node]) -> Iterator[Breach]:
        for node in values:
            properties = graph.subjects.get(node.value, {}) if isinstance(node, NamedNode) else {}
            if not properties.keys() <= allowed:
                for name in properties.keys() - allowed:
                    for value in properties[name]:
                        yield Breach("ClosedConstraintComponent", value, name)

    return check


def qualified(shape: Conforms, least: int | None, most: int | None) -> Check:
    """Of the values, at least and at most so many conform to the shape."""

    def check(graph: Graph, _focus: Node, values: Sequence[Node]) -> Iterator[Breach]:
        count = sum(shape(graph, value) for value in values)
        if least is not None and count < least:
            yield Breach("QualifiedMinCountConstraintComponent")
        if most is not None and count > most:
            yield Breach("QualifiedMaxCountConstraintComponent")

    return check


def any_of(shapes: Sequence[Conforms]) -> Check:
    """Every value conforms to one of the shapes."""
    return each("OrConstraintComponent", lambda graph, value: any(shape(graph, value) for shape in shapes))


def all_of(shapes: Sequence[Conforms]) -> Check:
    """Every value conforms to all of the shapes."""
    return each("AndConstraintComponent", lambda graph, value: all(shape(graph, value) for shape in shapes))


def exactly_one_of(shapes: Sequence[Conforms]) -> Check:
    """Every value conforms to exactly one of the shapes."""
    return each("XoneConstraintComponent", lambda graph, value: sum(shape(graph, value) for shape in shapes) == 1)


def none_of(shape: Conforms) -> Check:
    """No value conforms to the shape."""
    return each("NotConstraintComponent", lambda graph, value: not shape(graph, value))


def conforming(shape: Conforms) -> Check:
    """Every value conforms to the shape."""
    return each("NodeConstraintComponent", shape)


def _number(value: Node) -> float | None:
    """The number that a literal stands for; None for anything else."""
    if isinstance(value, Literal) and value.datatype.value in {f"{XSD}integer", f"{XSD}decimal"}:
        return float(value.value) if _DECIMAL.match(value.value) else None
    return None


def _is_date(text: str) -> bool:
    try:
        dt.date.fromisoformat(text)
    except ValueError:
        return False
    return len(text) == len("2026-11-25")


# What a literal of a datatype must look like. Of other datatypes nothing is asked: SHACL leaves them to the engine.
_FORMS: dict[str, Callable[[str], bool]] = {
    f"{XSD}integer": lambda text: _WHOLE.match(text) is not None,
    f"{XSD}decimal": lambda text: _DECIMAL.match(text) is not None,
    f"{XSD}boolean": {"true", "false", "1", "0"}.__contains__,
    f"{XSD}date": _is_date,
    f"{RDF}langString": lambda _text: True,
}
