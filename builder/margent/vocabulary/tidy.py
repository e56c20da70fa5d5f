"""One stable form for every file of the vocabulary, so that a change shows as the lines it changed and nothing else.

The form follows from the triples alone, but for three things it keeps: the comment at the head, the @base, and
prefixes of namespaces that are not ours. One property a line, and one value a line where a property has several.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable
from pathlib import Path
from urllib.parse import urldefrag

from pyoxigraph import BlankNode, Literal, NamedNode, RdfFormat, parse

from margent.faults import Fault, Faults
from margent.vocabulary.lines import Token, resolve, tokens
from margent.vocabulary.namespaces import PREFIXES, TYPE, XSD, expand
from margent.vocabulary.turtle import TurtleFile, read_file

# What is read first stands first: what it is, what it is called, what it says, how it behaves, on what evidence.
# A property that is not here follows these, in the order of its IRI.
ORDER = tuple(
    expand(name)
    for name in (
        "rdf:type",
        "skos:prefLabel",
        "skosxl:literalForm",
        "rdfs:label",
        "dcterms:title",
        "dcterms:description",
        "dcterms:creator",
        "dcterms:publisher",
        "mg:publishedAt",
        "dcterms:license",
        "dcterms:language",
        "dcterms:issued",
        "mg:address",
        "mg:base",
        "mg:siteAddress",
        "mg:version",
        "mg:dataFormat",
        "mg:literal",
        "mg:formKind",
        "mg:kind",
        "mg:wordKind",
        "mg:markKind",
        "mg:wordClass",
        "mg:grammar",
        "mg:case",
        "mg:gender",
        "mg:axis",
        "mg:rank",
        "mg:order",
        "mg:namePosition",
        "mg:governs",
        "mg:says",
        "mg:implies",
        "mg:of",
        "mg:weight",
        "mg:alone",
        "mg:besideRole",
        "mg:sameNameRole",
        "mg:technique",
        "mg:during",
        "mg:sheetPlace",
        "mg:nameKind",
        "mg:placeNear",
        "mg:onMap",
        "mg:inPencil",
        "mg:find",
        "mg:put",
        "mg:cost",
        "mg:work",
        "mg:locator",
        "mg:asFound",
        "skos:definition",
        "skos:scopeNote",
        "rdfs:comment",
        "skos:broader",
        "skos:related",
        "mg:stage",
        "mg:born",
        "mg:died",
        "mg:active",
        "mg:period",
        "mg:letters",
        "mg:arrangement",
        "mg:device",
        "mg:drawing",
        "mg:standsFor",
        "mg:states",
        "mg:onCopies",
        "mg:object",
        "mg:state",
        "mg:date",
        "mg:transcription",
        "mg:seen",
        "mg:place",
        "mg:role",
        "mg:relation",
        "mg:to",
        "mg:introducedBy",
        "mg:mistakenFor",
        "mg:howToTell",
        "mg:phrase",
        "mg:word",
        "mg:form",
        "mg:shortenedTo",
        "mg:shortForm",
        "mg:variantForm",
        "mg:shortFor",
        "mg:inflectionOf",
        "mg:homographOf",
        "mg:reason",
        "mg:why",
        "mg:trait",
        "mg:comparedWith",
        "mg:memberOf",
        "mg:pupilOf",
        "mg:partnerOf",
        "mg:successorOf",
        "skos:exactMatch",
        "skos:closeMatch",
        "skos:broadMatch",
        "skos:narrowMatch",
        "skos:relatedMatch",
        "mg:matchNote",
        "mg:breadthNote",
        "skos:note",
        "skos:editorialNote",
        "owl:deprecated",
        "dcterms:isReplacedBy",
        "mg:confusion",
        "mg:nameForm",
        "mg:workingPlace",
        "mg:practised",
        "mg:kin",
        "mg:mark",
        "mg:attestation",
        "mg:sense",
        "mg:citation",
        "mg:standing",
    )
)
_PLACE_OF = {iri: place for place, iri in enumerate(ORDER)}

_SAFE_LOCAL = re.compile(r"[A-Za-z0-9_](?:[A-Za-z0-9_-]*[A-Za-z0-9_])?")
_INTEGER = re.compile(r"[+-]?[0-9]+")
_DECIMAL = re.compile(r"[+-]?[0-9]*\.[0-9]+")
_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\r": "\\r", "\t": "\\t", "\b": "\\b", "\f": "\\f"}
_TO_ESCAPE = re.compile(r'[\\"\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff]')

Value = NamedNode | Literal


def tidied(file: TurtleFile) -> str:
    """The text of the file in the one form. Its graph is the same, which is proven before anything comes back.

    Raises Faults that tells, by line, of comments below the head and of blank nodes: the form has no place for either.
    """
    head, faults = _head(file)
    faults += _blank_nodes(file)
    if faults:
        raise Faults(faults)
    text = _Writer(file).write(head)
    again = {quad.triple for quad in parse(io.BytesIO(text.encode("utf-8")), format=RdfFormat.TURTLE)}
    assert again == set(file.triples), f"{file.path}: tidying would change the graph"
    return text


def untidy(paths: Iterable[Path]) -> dict[Path, str]:
    """The files that are not in the one form, each with the text it should have.

    Raises Faults that tells of everything in any of the files that stands in the way, so that nothing is written by halves.
    """
    found: dict[Path, str] = {}
    faults: list[Fault] = []
    for path in paths:
        try:
            text = tidied(read_file(path))
        except Faults as several:
            faults += several.faults
        except Fault as fault:
            faults.append(fault)
        else:
            if path.read_bytes() != text.encode("utf-8"):
                found[path] = text
    if faults:
        raise Faults(faults)
    return found


def natural(text: str) -> tuple[tuple[str | int, ...], str]:
    """A key that sorts `cite-10` behind `cite-9`, and tells any two texts apart."""
    parts = re.split(r"([0-9]{1,18})", text)
    return tuple(int(part) if place % 2 else part for place, part in enumerate(parts)), text


def _head(file: TurtleFile) -> tuple[list[str], list[Fault]]:
    """The lines of the comment at the head, paragraphs parted by one empty line, and a fault for each comment below."""
    head: list[str] = []
    faults: list[Fault] = []
    begun = False
    last = 0
    for token in tokens(file.text):
        if token.kind != "comment":
            begun = True
        elif begun:
            faults.append(
                Fault(
                    f"{file.path}:{token.line}: a comment below the head of the file, which tidying would lose; make it a skos:editorialNote of the entry"
                )
            )
        else:
            if head and token.line > last + 1:
                head.append("")
            head.append(token.text.rstrip())
            last = token.line
    return head, faults


def _blank_nodes(file: TurtleFile) -> list[Fault]:
    """A fault for each blank node, by the line where it opens."""
    if not any(isinstance(term, BlankNode) for triple in file.triples for term in (triple.subject, triple.object)):
        return []
    return [
        Fault(
            f"{file.path}:{token.line}: a blank node ({token.text}); give it an IRI below its entry, such as <entry#part>"
        )
        for token in tokens(file.text)
        if _opens_blank(token)
    ]


def _opens_blank(token: Token) -> bool:
    return token.kind == "blank" or (token.kind == "sign" and token.text in "[(")


_PLAIN = re.compile(r"[A-Za-z0-9][\w-]*(?:/[A-Za-z0-9][\w-]*)*(?:#[\w-]+)?", re.ASCII)


class _Writer:
    """Writes one file's triples; it knows the base and the prefixes, and notes which prefixes were needed."""

    def __init__(self, file: TurtleFile) -> None:
        self.base = file.base
        self.triples = set(file.triples)
        others = {
            prefix: namespace for prefix, namespace in file.prefixes.items() if namespace not in PREFIXES.values()
        }
        self.prefixes = {prefix: namespace for prefix, namespace in others.items() if prefix not in PREFIXES} | PREFIXES
        # the longest namespace first, so that one inside another is met before it
        self.namespaces = sorted(self.prefixes.items(), key=lambda item: (-len(item[1]), item[0]))
        self.ours = set(PREFIXES.values())
        self.used: set[str] = set()
        self.named: dict[str, str] = {}
        self.plain_base = self.base is not None and self.base.endswith("/")

    def write(self, head: list[str]) -> str:
        """The whole text."""
        body = self._body()
        directives = [f"@base <{self.base}> ."] if self.base is not None else []
        directives += [f"@prefix {prefix}: <{self.prefixes[prefix]}> ." for prefix in sorted(self.used)]
        blocks = ["\n".join(lines) for lines in (head, directives) if lines]
        return "\n\n".join([*blocks, *body]) + "\n" if blocks or body else ""

    def _body(self) -> list[str]:
        """The blocks of the file: an entry with its parts is one, with no empty line inside."""
        subjects: dict[str, dict[str, list[Value]]] = {}
        for triple in self.triples:
            subjects.setdefault(_value(triple.subject).value, {}).setdefault(triple.predicate.value, []).append(
                _value(triple.object)
            )
        blocks: list[str] = []
        for subject in sorted(subjects, key=lambda iri: (natural(urldefrag(iri)[0]), natural(iri))):
            text = self._statement(subject, subjects[subject])
            entry, fragment = urldefrag(subject)
            if fragment and entry in subjects:
                blocks[-1] += "\n" + text  # its entry sorted right before it
            else:
                blocks.append(text)
        return blocks

    def _statement(self, subject: str, properties: dict[str, list[Value]]) -> str:
        """All that the file says of one subject."""
        lines: list[str] = []
        for predicate in sorted(properties, key=lambda iri: (_PLACE_OF.get(iri, len(ORDER)), iri)):
            name = "a" if predicate == TYPE else self._name(predicate)
            values = [self._term(value) for value in sorted(properties[predicate], key=_value_order)]
            lines.append(f"{name} " + ",\n        ".join(values))
        return f"{self._name(subject)} " + " ;\n    ".join(lines) + " ."

    def _term(self, value: Value) -> str:
        """One value as Turtle."""
        if isinstance(value, NamedNode):
            return self._name(value.value)
        datatype = value.datatype.value
        quoted = f'"{_TO_ESCAPE.sub(_escape, value.value)}"'
        if value.language:
            return f"{quoted}@{value.language.lower()}"
        if datatype == XSD + "string":
            return quoted
        if (datatype == XSD + "integer" and _INTEGER.fullmatch(value.value)) or (
            datatype == XSD + "decimal" and _DECIMAL.fullmatch(value.value)
        ):
            return value.value
        if datatype == XSD + "boolean" and value.value in {"true", "false"}:
            return value.value
        return f"{quoted}^^{self._name(datatype)}"

    def _name(self, iri: str) -> str:
        """The IRI as it is written: by one of our prefixes, else relative to the base, else by the file's, else whole."""
        if iri not in self.named:
            self.named[iri] = self._named(iri)
        return self.named[iri]

    def _named(self, iri: str) -> str:
        under_base = self._relative(iri)
        for prefix, namespace in self.namespaces:
            if (
                iri.startswith(namespace)
                and (namespace in self.ours or under_base is None)
                and _SAFE_LOCAL.fullmatch(iri[len(namespace) :])
            ):
                self.used.add(prefix)
                return f"{prefix}:{iri[len(namespace) :]}"
        return f"<{iri if under_base is None else under_base}>"

    def _relative(self, iri: str) -> str | None:
        """What is left of the IRI after the base, or None where that would not lead back to it."""
        if self.base is None or "#" in self.base or not iri.startswith(self.base):
            return None
        rest = iri[len(self.base) :]
        if self.plain_base and _PLAIN.fullmatch(rest):
            return rest  # most of all: what has neither dots nor signs leads back
        if ":" in re.split("[/?#]", rest, maxsplit=1)[0]:
            return None  # would be taken for a scheme
        return rest if resolve(self.base, rest) == iri else None


def _value(term: object) -> Value:
    """The term, known to be no blank node and no quoted triple."""
    assert isinstance(term, NamedNode | Literal)
    return term


def _value_order(value: Value) -> tuple[str, str, tuple[tuple[str | int, ...], str]]:
    """IRIs come first, then texts by language, then by datatype, each in natural order."""
    if isinstance(value, NamedNode):
        return "", "", natural(value.value)
    return value.language or " ", value.datatype.value, natural(value.value)


def _escape(match: re.Match[str]) -> str:
    char = match.group()
    return _ESCAPES.get(char) or f"\\u{ord(char):04X}"
