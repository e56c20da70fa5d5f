"""The reference: the shapes of shapes/ held against the checked files by pySHACL.

Slow (a second and more for a thousand makers), and used to show that the direct checks of `shapes.py` find the same: in tests,
and by `margent check --reference`.
"""

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

from margent.checking.material import Material
from margent.checking.shapes import Result
from margent.faults import Fault
from margent.vocabulary.namespaces import XSD


def reference_results(material: Material, folder: Path) -> Iterator[Result]:
    """What pySHACL finds in the subjects of the checked files.

    Of the files beside, only the classes of what is referred to are looked at. (pySHACL's own option for that,
    `focus_nodes`, must not be used: it also passes over the values that shapes inside `sh:or` and
    `sh:qualifiedValueShape` have to look at.)
    """
    data = reference_data(material)
    shapes = _needed(flat(shapes_graph(folder)), data)
    _, results, _ = pyshacl.validate(data, shacl_graph=shapes, inplace=True, inference="none", advanced=False)
    assert isinstance(results, rdflib.Graph), results  # anything else is a fault in the shapes, not in the data
    for result in results.subjects(RDF.type, SH.ValidationResult):
        found = _result(results, result)
        if material.is_checked(found.focus):
            yield found


def _result(results: rdflib.Graph, result: Node) -> Result:
    """One result of the report in the form in which engines are compared."""
    shape, focus, path, component, value = (
        results.value(result, key)
        for key in (SH.sourceShape, SH.focusNode, SH.resultPath, SH.sourceConstraintComponent, SH.value)
    )
    return Result(
        shape=str(shape),
        focus=str(focus),
        path=str(path) if isinstance(path, rdflib.URIRef) else None,
        component=str(component).removeprefix(str(SH)),
        value=None if value is None or value == focus else _ours(value),
    )


@cache
def shapes_graph(folder: Path) -> rdflib.Graph:
    """All shapes of the folder in one graph; raises Fault when one is not Turtle."""
    graph = rdflib.Graph()
    for path in sorted(folder.glob("*.ttl")):
        try:
            for quad in parse(path=path, format=RdfFormat.TURTLE):
                graph.add(_triple(quad.triple))
        except SyntaxError as wrong:
            raise Fault(f"{path}:{wrong.lineno}: not Turtle: {wrong.msg}; the shapes must be mended first") from None
    return graph


def reference_data(material: Material) -> rdflib.Graph:
    """The checked triples, the classes of everything they refer to, and the order of the classes."""
    graph = rdflib.Graph()
    for file in material.files:
        for triple in file.turtle().triples:
            graph.add(_triple(triple))
        for name in file.facts.links:
            for kind in material.types(name):
                graph.add((rdflib.URIRef(name), RDF.type, rdflib.URIRef(kind)))
    for kind, above in material.superclasses:
        graph.add((rdflib.URIRef(kind), RDFS.subClassOf, rdflib.URIRef(above)))
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
