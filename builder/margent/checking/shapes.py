"""The shapes of shapes/ held against the checked files, by pySHACL."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pyshacl
import rdflib
from pyoxigraph import BlankNode, Literal, NamedNode, RdfFormat, Triple, parse
from rdflib.collection import Collection
from rdflib.namespace import RDF, RDFS, SH
from rdflib.term import Node

from margent.checking.findings import Hit, Rule, Severity
from margent.checking.material import Material
from margent.checking.wording import Wording
from margent.faults import Fault
from margent.vocabulary.namespaces import XSD

SHAPES = "https://w3id.org/margent/shapes#"
_COUNTED = {SH.MinCountConstraintComponent, SH.MaxCountConstraintComponent}


def shape_rules(folder: Path) -> list[Rule]:
    """The rules that the shapes of the folder state, sorted by id: every shape with a message is one."""
    graph = _shapes(folder)
    return sorted(
        Rule(_rule_id(shape), _severity(graph, shape), *_halves(message), str(graph.value(shape, RDFS.comment) or ""))
        for shape, message in graph.subject_objects(SH.message)
    )


def shape_hits(material: Material, folder: Path) -> list[Hit]:
    """The breaches of the shapes by subjects of the checked files.

    Of the files beside, only the classes of what is referred to are looked at, so that a small authority is checked in a
    moment however large the general vocabulary is. (pySHACL's own option for that, `focus_nodes`, must not be used: it
    also passes over the values that shapes inside `sh:or` and `sh:qualifiedValueShape` have to look at.)
    """
    data = _data(material)
    shapes = _needed(flat(_shapes(folder)), data)
    _, results, _ = pyshacl.validate(data, shacl_graph=shapes, inplace=True, inference="none", advanced=False)
    assert isinstance(results, rdflib.Graph), results  # anything else is a fault in the shapes, not in the data
    report = _Report(results, data, shapes, Wording(material.bases))
    return [hit for hit in report.hits() if hit.entry in material.subjects]


@cache
def _shapes(folder: Path) -> rdflib.Graph:
    """All shapes of the folder in one graph; raises Fault when one is not Turtle."""
    graph = rdflib.Graph()
    for path in sorted(folder.glob("*.ttl")):
        try:
            for quad in parse(path=path, format=RdfFormat.TURTLE):
                graph.add(_triple(quad.triple))
        except SyntaxError as wrong:
            raise Fault(f"{path}:{wrong.lineno}: not Turtle: {wrong.msg}; the shapes must be mended first") from None
    return graph


def _data(material: Material) -> rdflib.Graph:
    """The checked triples, the classes of everything they refer to, and the order of the classes."""
    graph = rdflib.Graph()
    wanted: set[str] = set()
    for file in material.files:
        for triple in file.triples:
            graph.add(_triple(triple))
            if isinstance(triple.object, NamedNode):
                wanted.add(triple.object.value)
    for triple in material.triples():
        if triple.predicate.value == str(RDFS.subClassOf):
            graph.add(_triple(triple))
    for iri in wanted - material.subjects:
        for kind in material.types.get(iri, ()):
            graph.add((rdflib.URIRef(iri), RDF.type, rdflib.URIRef(kind)))
    return graph


def flat(shapes: rdflib.Graph) -> rdflib.Graph:
    """Shapes that say the same, with every property shape of a shape with a target made a shape with that target.

    pySHACL looks at a property shape inside another shape anew for each entry, and at one with a target of its own once
    for all entries, which takes a quarter of the time. A shape that closes a kind still allows the same properties.
    """
    flattened = rdflib.Graph()
    flattened += shapes
    for shape in set(shapes.subjects(SH.targetClass, None)):
        inner = list(shapes.objects(shape, SH.property))
        for part in inner:
            flattened.remove((shape, SH.property, part))
            for kind in shapes.objects(shape, SH.targetClass):
                flattened.add((part, SH.targetClass, kind))
        allowed = shapes.value(shape, SH.ignoredProperties)
        if allowed is not None:
            paths = [path for part in inner if (path := shapes.value(part, SH.path)) is not None]
            longer = rdflib.BNode()
            Collection(flattened, longer, [*Collection(shapes, allowed), *paths])
            flattened.set((shape, SH.ignoredProperties, longer))
    return flattened


def _needed(shapes: rdflib.Graph, data: rdflib.Graph) -> rdflib.Graph:
    """The shapes without the targets that nothing in the data can meet."""
    kinds: set[Node | None] = set(data.objects(None, RDF.type))
    kinds |= {above for kind in kinds for above in data.transitive_objects(kind, RDFS.subClassOf)}
    used: set[Node | None] = set(data.predicates())
    met: dict[Node, set[Node | None]] = {SH.targetClass: kinds, SH.targetSubjectsOf: used, SH.targetObjectsOf: used}
    needed = rdflib.Graph()
    for shape, predicate, value in shapes:
        if predicate not in met or value in met[predicate]:
            needed.add((shape, predicate, value))
    return needed


class _Report:
    """What the validator found, said in our words."""

    def __init__(self, results: rdflib.Graph, data: rdflib.Graph, shapes: rdflib.Graph, wording: Wording) -> None:
        self._results = results
        self._data = data
        self._shapes = shapes
        self._wording = wording

    def hits(self) -> Iterator[Hit]:
        """One hit for each result."""
        for result in self._results.subjects(RDF.type, SH.ValidationResult):
            yield self._hit(result)

    def _hit(self, result: Node) -> Hit:
        shape, focus, path, component, value, message = (
            self._results.value(result, key)
            for key in (
                SH.sourceShape,
                SH.focusNode,
                SH.resultPath,
                SH.sourceConstraintComponent,
                SH.value,
                SH.resultMessage,
            )
        )
        assert shape is not None
        assert focus is not None
        wrong, mend = _halves(message)
        ours = None if value is None or value == focus else _ours(value)
        if component == SH.UniqueLangConstraintComponent:  # the validator does not say which texts
            ours = self._doubled(focus, path)[-1]
        shown = self._shown(focus, path, component, ours)
        return Hit(
            rule=_rule_id(shape),
            severity=_severity(self._shapes, shape),
            entry=str(focus),
            wrong=f"{wrong}: {shown}" if shown else wrong,
            mend=mend,
            property=str(path) if isinstance(path, rdflib.URIRef) else None,
            value=ours,
            closes=component == SH.ClosedConstraintComponent,
        )

    def _shown(self, focus: Node, path: Node | None, component: Node | None, value: NamedNode | Literal | None) -> str:
        """What the message is about: how many there are, which property is out of place, which texts, or the value."""
        if component in _COUNTED and isinstance(path, rdflib.URIRef):  # of alternatives, the message says which
            count = len(list(self._data.objects(focus, path)))
            return f"it has {count}" if count else "it has none"
        if component == SH.ClosedConstraintComponent:
            return self._wording.iri(str(path))
        if component == SH.UniqueLangConstraintComponent:
            return ", ".join(self._wording.value(text) for text in self._doubled(focus, path))
        return "" if value is None else self._wording.value(value)

    def _doubled(self, focus: Node, path: Node | None) -> list[Literal]:
        """The texts of which two or more are in one language, sorted."""
        texts = [text for text in self._data.objects(focus, path) if isinstance(text, rdflib.Literal) and text.language]
        languages = [text.language for text in texts]
        doubled = [Literal(str(text), language=text.language) for text in texts if languages.count(text.language) > 1]
        return sorted(doubled, key=lambda text: (text.language or "", text.value))


def _halves(message: Node | None) -> tuple[str, str]:
    """What is wrong and how to mend it: a shape's message holds both, with a colon and a blank between them."""
    wrong, _, mend = str(message).partition(": ")
    return wrong, mend


def _rule_id(shape: Node) -> str:
    return str(shape).removeprefix(SHAPES)


def _severity(shapes: rdflib.Graph, shape: Node) -> Severity:
    return "warning" if shapes.value(shape, SH.severity) == SH.Warning else "violation"


def _triple(triple: Triple) -> tuple[Node, Node, Node]:
    """The triple as rdflib has it."""
    return _theirs(triple.subject), _theirs(triple.predicate), _theirs(triple.object)


def _theirs(term: NamedNode | BlankNode | Literal | Triple) -> Node:
    """The term as rdflib has it, with the digits of a number as they were written."""
    if isinstance(term, NamedNode):
        return rdflib.URIRef(term.value)
    if isinstance(term, BlankNode):
        return rdflib.BNode(term.value)
    assert isinstance(term, Literal)
    if term.language:
        return rdflib.Literal(term.value, lang=term.language)
    if term.datatype.value == f"{XSD}string":
        return rdflib.Literal(term.value)
    return rdflib.Literal(term.value, datatype=rdflib.URIRef(term.datatype.value), normalize=False)


def _ours(term: Node) -> NamedNode | Literal | None:
    """The term as pyoxigraph has it; None for a blank node, which has a rule of its own."""
    if isinstance(term, rdflib.URIRef):
        return NamedNode(str(term))
    if not isinstance(term, rdflib.Literal):
        return None
    if term.language:
        return Literal(str(term), language=term.language)
    return Literal(str(term), datatype=NamedNode(str(term.datatype))) if term.datatype else Literal(str(term))
