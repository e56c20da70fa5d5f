"""The shapes of shapes/ compiled into direct checks and held against the entries of a graph.

Only SHACL Core is understood, and a part of it: a shape that uses more is refused when it is compiled, so that nothing is
passed over in silence. `reference.py` holds the same shapes by pySHACL.
"""

from __future__ import annotations

import operator
from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import NamedTuple

from pyoxigraph import BlankNode, Literal, NamedNode, RdfFormat, parse

from margent.checking import components
from margent.checking.components import SH, Breach, Check
from margent.checking.findings import Hit, Rule, Severity
from margent.checking.graph import Graph, Node, Properties
from margent.checking.wording import Wording
from margent.faults import Fault
from margent.vocabulary.namespaces import RDF, expand

SHAPES = "https://w3id.org/margent/shapes#"
_COUNTED = {"MinCountConstraintComponent", "MaxCountConstraintComponent"}
# Broken by too many values, as an entry that stands in two files mostly has.
_OF_MANY = {f"{name}ConstraintComponent" for name in ("MaxCount", "QualifiedMaxCount", "UniqueLang")}
_NONE = "it has none"
# By what a shape has others inside it, and where these stand in a list.
_LISTS = {f"{SH}{name}" for name in ("or", "and", "xone")}
_NESTING = {*_LISTS, *(f"{SH}{name}" for name in ("not", "node", "property", "qualifiedValueShape"))}
_COMMENT = expand("rdfs:comment")
# What says something about a shape and constrains nothing.
_ABOUT = {
    *(f"{SH}{name}" for name in ("severity", "message", "path", "name", "description", "order", "group")),
    *(f"{SH}{name}" for name in ("targetClass", "targetSubjectsOf", "flags", "ignoredProperties")),
    *(f"{SH}{name}" for name in ("qualifiedMinCount", "qualifiedMaxCount")),
    f"{RDF}type",
    _COMMENT,
}
# The constraints that a property which is not there can break.
_ASK_OF_NOTHING = {f"{SH}{name}" for name in ("minCount", "hasValue", "qualifiedMinCount")}


class Result(NamedTuple):
    """One result of a validation, as the standard has it: what every engine must find alike."""

    shape: str
    focus: str
    path: str | None  # None where there is none, or where it is more than one property
    component: str
    value: Node | None


class Shape(NamedTuple):
    """A compiled shape; `path` is empty for a node shape, and has several properties for alternatives."""

    iri: str
    path: tuple[str, ...]
    checks: tuple[Check, ...]
    inner: tuple[Shape, ...]  # by sh:property
    asks: str | None  # the only property without which nothing can be broken, where there is one

    def values(self, graph: Graph, focus: Node) -> Sequence[Node]:
        """What the shape looks at, seen from the node."""
        if not self.path:
            return (focus,)
        properties = graph.subjects.get(focus.value, {}) if isinstance(focus, NamedNode) else {}
        if len(self.path) == 1:
            return properties.get(self.path[0], ())
        return list(dict.fromkeys(value for name in self.path for value in properties.get(name, ())))

    def results(self, graph: Graph, focus: Node) -> Iterator[Result]:
        """Every broken constraint of the node."""
        values = self.values(graph, focus)
        path = self.path[0] if len(self.path) == 1 else None
        for check in self.checks:
            for breach in check(graph, focus, values):
                yield self._result(breach, focus, path)
        for value in values if self.inner else ():
            there = graph.subjects.get(value.value, {}) if isinstance(value, NamedNode) else {}
            for shape in self.inner:
                if shape.asks is None or shape.asks in there:  # most properties of a kind are not there
                    yield from shape.results(graph, value)

    def conforms(self, graph: Graph, focus: Node) -> bool:
        """True when no constraint of the node is broken."""
        return next(self.results(graph, focus), None) is None

    def _result(self, breach: Breach, focus: Node, path: str | None) -> Result:
        value = breach.value if self.path or breach.path else None  # of a node shape the value is the node itself
        return Result(self.iri, focus.value, breach.path or path, breach.component, value)


@dataclass(frozen=True)
class OfValues:
    """What a shape asks of each value by itself: what a cure needs to know."""

    checks: tuple[Check, ...]
    members: list[NamedNode | Literal]  # of sh:in
    only_language: list[str]  # the language of sh:languageIn, where it is the only one
    datatypes: list[str]
    wants_iri: list[bool]

    def keeps(self, value: Node) -> bool:
        """True when the value, by itself, breaks none of the constraints."""
        nothing = Graph((), {}, {})
        found = (breach for check in self.checks for breach in check(nothing, value, [value]))
        return all(breach.value is None for breach in found)


class Shapes:
    """All shapes of a folder: what they say, and which of them an entry has to keep."""

    def __init__(self, folder: Path) -> None:
        """Raises Fault when a file is not Turtle, or a shape uses what is not understood here."""
        self._said = _read(folder)
        self._compiled: dict[str, Shape] = {}
        self._of_class: dict[str, list[Shape]] = defaultdict(list)
        self._of_property: dict[str, list[Shape]] = defaultdict(list)
        for iri, properties in self._said.items():
            for key, targets in ((f"{SH}targetClass", self._of_class), (f"{SH}targetSubjectsOf", self._of_property)):
                for target in properties.get(key, ()):
                    targets[target.value].append(self._shape(iri))
        self.rules = sorted(self._rule(iri) for iri, said in self._said.items() if f"{SH}message" in said)
        self._messages = {rule.id: rule for rule in self.rules}

    @cached_property
    def look_further(self) -> bool:
        """True where a shape looks at what is said of a value, and not only at the value and its classes."""
        return any(
            f"{SH}path" in said and any(self._has_path(part) for name in _NESTING for part in self._parts(said, name))
            for said in self._said.values()
        )

    def _has_path(self, shape: Node) -> bool:
        said = self._said.get(_key(shape), {})
        return f"{SH}path" in said or f"{SH}property" in said

    def _parts(self, said: Properties, name: str) -> list[Node]:
        """The shapes inside a shape by that property, which may name them in a list."""
        values = said.get(name, [])
        return [part for each in values for part in (self._list(each) if name in _LISTS else [each])]

    def results(self, graph: Graph, only: Collection[str] | None = None) -> Iterator[Result]:
        """Every broken constraint of the subjects of the graph, or of only those."""
        plans: dict[frozenset[str], tuple[Shape, ...]] = {}
        for iri in graph.subjects if only is None else only:
            properties = graph.subjects.get(iri, {})
            classes = graph.classes(iri)
            plan = plans.get(classes)
            if plan is None:
                found = [shape for kind in classes for shape in self._of_class.get(kind, ())]
                plan = plans[classes] = tuple({shape.iri: shape for shape in found}.values())
            focus = NamedNode(iri)
            shapes = {shape.iri: shape for name in properties for shape in self._of_property.get(name, ())}
            for shape in plan:
                shapes.setdefault(shape.iri, shape)
            for shape in shapes.values():
                yield from shape.results(graph, focus)

    def hits(self, results: Iterator[Result], graph: Graph, wording: Wording) -> Iterator[Hit]:
        """The results in our words; those of a shape without a message cannot be told."""
        for result in results:
            rule = self._messages[result.shape.removeprefix(SHAPES)]
            value = result.value if isinstance(result.value, NamedNode | Literal) else None
            values = graph.subjects.get(result.focus, {}).get(result.path or "", [])
            if result.component == "UniqueLangConstraintComponent":  # the result does not say which texts
                value = _doubled(values)[-1]
            shown = _shown(result, values, wording) + _as_what(result, graph, wording)
            said_already = (
                shown == _NONE and rule.wrong.startswith(("has no ", "says nothing")) and " or " not in rule.wrong
            )
            wrong = f"{rule.wrong}: {shown}" if shown and not said_already else rule.wrong
            closes = result.component == "ClosedConstraintComponent"
            many = result.component in _OF_MANY
            yield Hit(
                rule.id, rule.severity, result.focus, wrong, rule.mend, result.path, value, closes=closes, many=many
            )

    def of_values(self, iri: str) -> OfValues:
        """What the shape of that IRI asks of each value by itself."""
        said = self._said[iri]
        languages = [each.value for head in said.get(f"{SH}languageIn", ()) for each in self._list(head)]
        members = [each for head in said.get(f"{SH}in", ()) for each in self._list(head)]
        return OfValues(
            self._compiled[iri].checks,
            [member for member in members if not isinstance(member, BlankNode)],
            languages if len(languages) == 1 else [],
            [each.value for each in said.get(f"{SH}datatype", ())],
            [True for each in said.get(f"{SH}nodeKind", ()) if each.value == f"{SH}IRI"],
        )

    def _rule(self, iri: str) -> Rule:
        said = self._said[iri]
        wrong, _, mend = said[f"{SH}message"][0].value.partition(": ")
        severe = NamedNode(f"{SH}Warning") not in said.get(f"{SH}severity", ())
        severity: Severity = "violation" if severe else "warning"
        reason = said[_COMMENT][0].value if _COMMENT in said else ""
        return Rule(iri.removeprefix(SHAPES), severity, wrong, mend, reason)

    def _shape(self, iri: str) -> Shape:
        """The compiled shape; each is compiled once."""
        if iri not in self._compiled:
            said = self._said[iri]
            path = self._path(iri, said.get(f"{SH}path", []))
            inner = tuple(self._shape(part.value) for part in said.get(f"{SH}property", ()))
            asks = path[0] if len(path) == 1 and _ASK_OF_NOTHING.isdisjoint(said) else None
            self._compiled[iri] = Shape(iri, path, tuple(self._checks(iri, said)), inner, asks)
        return self._compiled[iri]

    def _path(self, iri: str, said: list[Node]) -> tuple[str, ...]:
        """The properties of a path: one, or alternatives."""
        if not said:
            return ()
        if isinstance(said[0], NamedNode):
            return (said[0].value,)
        choice = self._said.get(_key(said[0]), {}).get(f"{SH}alternativePath")
        if not choice:
            raise Fault(f"{iri}: has a path that is neither a property nor alternatives; write it as one of these")
        return tuple(each.value for each in self._list(choice[0]))

    def _checks(self, iri: str, said: Properties) -> Iterator[Check]:
        for name, values in said.items():
            if name in _ABOUT or name == f"{SH}property":
                continue
            for value in values:
                yield self._check(iri, name.removeprefix(SH), value, said)

    def _check(self, iri: str, name: str, value: Node, said: Properties) -> Check:
        """The check of one constraint."""
        if name in {"minCount", "maxCount"}:
            return getattr(components, f"{name[:3]}_count")(int(value.value))  # type: ignore[no-any-return]
        if name in {"class", "datatype", "nodeKind"}:
            simple = {"class": components.is_class, "datatype": components.datatype, "nodeKind": components.node_kind}
            return simple[name](value.value)
        if name in {"in", "languageIn", "or", "and", "xone"}:
            return self._of_list(name, self._list(value))
        if name in _LENGTHS:
            edge = int(value.value)
            fits = _LENGTHS[name]
            return components.length(_component(name), lambda length: fits(length, edge))
        if name in _BOUNDS and isinstance(value, Literal):
            return components.bound(_component(name), value, _BOUNDS[name])
        match name:
            case "hasValue":
                return components.has_value(value)
            case "pattern":
                flags = "".join(flag.value for flag in said.get(f"{SH}flags", ()))
                return components.pattern(value.value, flags)
            case "uniqueLang":
                return components.unique_lang()
            case "closed":
                ignored = {each.value for key in said.get(f"{SH}ignoredProperties", ()) for each in self._list(key)}
                # of a shape with alternatives as its path the standard takes none
                paths = (self._shape(part.value).path for part in said.get(f"{SH}property", ()))
                return components.closed(frozenset(ignored | {path[0] for path in paths if len(path) == 1}))
            case "not":
                return components.none_of(self._shape(_key(value)).conforms)
            case "node":
                return components.conforming(self._shape(_key(value)).conforms)
            case "qualifiedValueShape":
                least, most = (
                    int(count[0].value) if (count := said.get(f"{SH}qualified{word}Count")) else None
                    for word in ("Min", "Max")
                )
                return components.qualified(self._shape(_key(value)).conforms, least, most)
        raise Fault(f"{iri}: uses sh:{name}, which is not understood; see builder/margent/checking/components.py")

    def _of_list(self, name: str, members: list[Node]) -> Check:
        if name == "in":
            return components.one_of(members)
        if name == "languageIn":
            return components.language_in([member.value for member in members])
        shapes = [self._shape(_key(member)).conforms for member in members]
        kinds = {"or": components.any_of, "and": components.all_of, "xone": components.exactly_one_of}
        return kinds[name](shapes)

    def _list(self, head: Node) -> list[Node]:
        """The members of an RDF list."""
        members: list[Node] = []
        while head.value != f"{RDF}nil":
            link = self._said[_key(head)]
            members.append(link[f"{RDF}first"][0])
            head = link[f"{RDF}rest"][0]
        return members


_LENGTHS = {"minLength": operator.ge, "maxLength": operator.le}
_BOUNDS = {
    "minInclusive": operator.ge,
    "maxInclusive": operator.le,
    "minExclusive": operator.gt,
    "maxExclusive": operator.lt,
}


@cache
def shapes_of(folder: Path) -> Shapes:
    """The shapes of the folder, compiled once in a run."""
    return Shapes(folder)


def _component(name: str) -> str:
    return f"{name[0].upper()}{name[1:]}ConstraintComponent"


def _key(node: Node) -> str:
    return f"_:{node.value}" if isinstance(node, BlankNode) else node.value


def _read(folder: Path) -> dict[str, Properties]:
    """What is said of each subject of the shapes; blank nodes are told apart by file."""
    said: dict[str, Properties] = {}
    for path in sorted(folder.glob("*.ttl")):
        try:
            for quad in parse(path=path, format=RdfFormat.TURTLE, rename_blank_nodes=True):
                assert not isinstance(quad.subject, Literal)
                properties = said.setdefault(_key(quad.subject), {})
                properties.setdefault(quad.predicate.value, []).append(quad.object)
        except SyntaxError as wrong:
            raise Fault(f"{path}:{wrong.lineno}: not Turtle: {wrong.msg}; the shapes must be mended first") from None
    return said


def _doubled(values: Sequence[Node]) -> list[Literal]:
    """The texts of which two or more are in one language, sorted."""
    texts = [value for value in values if isinstance(value, Literal) and value.language]
    tags = [text.language for text in texts]
    doubled = [text for text in texts if tags.count(text.language) > 1]
    return sorted(doubled, key=lambda text: (text.language or "", text.value))


def _as_what(result: Result, graph: Graph, wording: Wording) -> str:
    """What a value is that is there, but is not of the class that is wanted."""
    if result.component != "ClassConstraintComponent" or not isinstance(result.value, NamedNode):
        return ""
    kinds = sorted(set(graph.written(result.value.value)))
    return f", which is there as {' and '.join(map(wording.iri, kinds))}" if kinds else ""


def _shown(result: Result, values: Sequence[Node], wording: Wording) -> str:
    """What the message is about: how many there are, which property is out of place, which texts, or the value."""
    if result.component in _COUNTED and result.path is not None:  # of alternatives, the message says which
        return f"it has {len(values)}" if values else _NONE
    if result.component == "ClosedConstraintComponent":
        return wording.iri(result.path or "")
    if result.component == "UniqueLangConstraintComponent":
        return ", ".join(wording.value(text) for text in _doubled(values))
    return "" if result.value is None else wording.value(result.value)
