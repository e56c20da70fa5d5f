"""Where in a Turtle file things stand, which the parser does not tell: subjects, properties, comments, blank nodes.

It runs over text that has been parsed, so it need not find faults, only places. Lines count from 1.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple
from urllib.parse import urljoin

from margent.vocabulary.namespaces import TYPE

_NAME = r"""(?: \\. | [^\s<>"'()\[\]{};,.\#^@\\] | \.(?=[^\s<>"'()\[\]{};,\#]) )+"""
_TOKEN = re.compile(
    rf"""
      (?P<comment> \#[^\n\r]* )
    | (?P<iri>     <[^<>\s]*> )
    | (?P<string>  \"\"\" (?: [^"\\] | \\. | "(?!"") )* \"\"\" | ''' (?: [^'\\] | \\. | '(?!'') )* '''
                 | " (?: [^"\\\n] | \\. )* " | ' (?: [^'\\\n] | \\. )* ' )
    | (?P<at>      @[A-Za-z]+ (?: -[A-Za-z0-9]+ )* )
    | (?P<blank>   _:{_NAME} )
    | (?P<sign>    \^\^ | [;,.()\[\]{{}}] )
    | (?P<name>    {_NAME} )
    """,
    re.VERBOSE | re.DOTALL,
)


_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*(?:/[A-Za-z0-9][A-Za-z0-9_-]*)*(?:#[A-Za-z0-9_-]+)?\Z")
_SCHEME = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:")


class Token(NamedTuple):
    """One word of Turtle: `kind` is comment, iri, string, at, blank, sign or name; `start` counts characters from 0."""

    kind: str
    text: str
    start: int
    line: int


# The rest of a statement up to its full stop. A name may hold full stops but not begin with one.
_REST = re.compile(
    rf"""
    (?: \s++ | \#[^\n\r]*+ | <[^<>\s]*+>
      | \"\"\" (?: [^"\\] | \\. | "(?!"") )*+ \"\"\" | \'\'\' (?: [^'\\] | \\. | '(?!'') )*+ \'\'\'
      | " (?: [^"\\\n] | \\. )*+ " | ' (?: [^'\\\n] | \\. )*+ '
      | @[A-Za-z]++ | \^\^ | [;,()\[\]{{}}] | (?!\.) {_NAME}
    )*+ \.
    """,
    re.VERBOSE | re.DOTALL,
)


def end_of_statement(text: str, start: int) -> int:
    """Where the statement that stands at `start` ends, behind its full stop; the end of the text where it has none."""
    rest = _REST.match(text, start)
    return rest.end() if rest else len(text)


def tokens(text: str, start: int = 0, line: int = 1) -> Iterator[Token]:
    """The words of the text from `start` on, which is in that line; comments are among them."""
    counted = start
    for match in _TOKEN.finditer(text, start):
        start = match.start()
        line += text.count("\n", counted, start)
        counted = start
        yield Token(match.lastgroup or "", match.group(), start, line)


@dataclass(slots=True)
class Places:
    """Where each subject first stands, and each property of a subject, by whole IRIs."""

    subjects: dict[str, int] = field(default_factory=dict)
    properties: dict[tuple[str, str], int] = field(default_factory=dict)

    def line(self, subject: str, predicate: str | None = None) -> int:
        """The line of that property, else of the subject, else 1."""
        if predicate is not None and (subject, predicate) in self.properties:
            return self.properties[subject, predicate]
        return self.subjects.get(subject, 1)


def places(text: str) -> Places:
    """The places of all subjects and properties at the top level of a file; those inside brackets are left out."""
    found = Places()
    base = ""
    prefixes: dict[str, str] = {}
    words = (token for token in tokens(text) if token.kind != "comment")
    subject: str | None = None
    wants = "subject"
    depth = 0
    for token in words:
        if token.kind == "sign":
            depth += {"[": 1, "(": 1, "]": -1, ")": -1}.get(token.text, 0)
            if depth > 0:
                continue
            if token.text == ".":
                subject, wants = None, "subject"
            elif token.text == ";" or wants == "subject":  # the latter is the end of a bracket that was the subject
                wants = "property"
        elif depth > 0 or wants == "value":
            continue
        elif wants == "subject" and token.text.lower().lstrip("@") == "base":
            base = resolve(base, next(words).text[1:-1])
        elif wants == "subject" and token.text.lower().lstrip("@") == "prefix":
            prefix = next(words).text[:-1]
            prefixes[prefix] = resolve(base, next(words).text[1:-1])
        elif wants == "subject":
            subject, wants = _whole(token, base, prefixes), "property"
            if subject is not None:
                found.subjects.setdefault(subject, token.line)
        else:
            wants = "value"
            predicate = _whole(token, base, prefixes)
            if subject is not None and predicate is not None:
                found.properties.setdefault((subject, predicate), token.line)
    return found


def resolve(base: str, reference: str) -> str:
    """The whole IRI of what stands between angle brackets; `urljoin` alone loses an empty fragment (`ns#`)."""
    if _SCHEME.match(reference):
        return reference
    if base.endswith("/") and _PLAIN.match(
        reference
    ):  # as nearly all are; joining them the long way takes ten times as long
        return base + reference
    return urljoin(base, reference) + ("#" if reference.endswith("#") else "")


def _whole(token: Token, base: str, prefixes: dict[str, str]) -> str | None:
    """The whole IRI that the token names, or None for a blank node."""
    if token.kind == "iri":
        return resolve(base, token.text[1:-1])
    if token.kind == "name":
        if token.text == "a":
            return TYPE
        prefix, _, local = token.text.partition(":")
        return prefixes.get(prefix, "") + re.sub(r"\\(.)", r"\1", local)
    return None
