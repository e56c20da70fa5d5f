"""Where in a Turtle file a subject, a property or a value stands, which the parser does not tell.

Run only on files with findings. It may be given any valid Turtle, however untidy: several statements on a line,
strings over many lines, `#` and `;` inside strings, prefixed and relative IRIs, bases and prefixes set half way.
Lines count from 1.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Set
from dataclasses import dataclass, field

from pyoxigraph import Literal, NamedNode

from margent.vocabulary.lines import Token, end_of_statement, resolve, tokens
from margent.vocabulary.namespaces import TYPE

_ESCAPE = re.compile(r"\\(?:u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|(.))", re.DOTALL)
_BASE = re.compile(r"^@base\s+<([^>]*/)>\s*\.\s*$", re.MULTILINE)
# A line that ends in a full stop and holds no comment (only an IRI may have its sign), and blank lines behind it.
_ENDED = re.compile(r"^(?:[^#<\n]|<[^<>\n]*>)*\.[ \t]*\n\s*\Z", re.MULTILINE)
_ESCAPED = {"t": "\t", "b": "\b", "n": "\n", "r": "\r", "f": "\f"}
# What a value is looked up by: "I" and the whole IRI, or "L", the text, and the language in small letters.
_Key = tuple[str, str, str]


@dataclass(slots=True)
class Positions:
    """The lines of one file, by whole IRIs; each the first at which the thing stands."""

    subjects: dict[str, int] = field(default_factory=dict)
    properties: dict[tuple[str, str], int] = field(default_factory=dict)
    values: dict[tuple[str, str, _Key], int] = field(default_factory=dict)
    repeated: list[tuple[str, int]] = field(default_factory=list)  # a subject that is begun again, and where
    blank: int | None = None  # the first blank node

    def line(self, subject: str, predicate: str | None = None, value: NamedNode | Literal | None = None) -> int | None:
        """The line of the value, else of the property, else of the subject; None when the subject is not in the file."""
        if predicate is not None:
            if value is not None and (subject, predicate, _key(value)) in self.values:
                return self.values[subject, predicate, _key(value)]
            if (subject, predicate) in self.properties:
                return self.properties[subject, predicate]
        return self.subjects.get(subject)


def positions(text: str, only: Container[str] | None = None) -> Positions:
    """The positions of everything outside brackets in a text that is valid Turtle.

    With `only`, just what is said of those subjects: the rest is passed over in a tenth of the time.
    """
    return _Scan(text, only).found


class _Words:
    """The words of a file one after the other, without comments; the rest of a statement can be passed over."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._ahead = tokens(text)

    def __iter__(self) -> _Words:
        return self

    def __next__(self) -> Token:
        token = next(self._ahead)
        while token.kind == "comment":
            token = next(self._ahead)
        return token

    def pass_over(self, token: Token) -> None:
        """Nothing comes back: the next word is the first one behind the statement in which the token stands."""
        self.go_to(token, end_of_statement(self._text, token.start))

    def go_to(self, token: Token, start: int) -> None:
        """Nothing comes back: the next word is the first one from there on, which is behind the token."""
        self._ahead = tokens(self._text, start, token.line + self._text.count("\n", token.start, start))


class _Scan:
    """One pass over the words of a file."""

    def __init__(self, text: str, only: Container[str] | None) -> None:
        self.found = Positions()
        self._only = only
        self._length = len(text)
        self._starts = _starts(text, only) if only is not None else None
        self._words = _Words(text)
        self._base = ""
        self._prefixes: dict[str, str] = {}
        self._subject: str | None = None
        self._predicate: str | None = None
        self._wants = "subject"
        self._depth = 0
        self._text: tuple[str, int] | None = None  # a string that may still be given a language
        self._is_datatype = False
        for token in self._words:
            self._take(token)
        self._end_text()

    def _take(self, token: Token) -> None:
        """Nothing comes back: one word moves the scan on."""
        if token.kind == "at" and self._text is not None:
            self._end_text(token.text[1:].lower())
        elif token.text == "^^":
            self._is_datatype = True
        elif token.kind == "sign":
            self._sign(token)
        elif self._is_datatype:
            self._is_datatype = False
        elif self._depth > 0:
            self._note_blank(token)
        elif self._wants == "subject" and token.text.lower().lstrip("@") == "base":
            self._base = resolve(self._base, next(self._words).text[1:-1])
        elif self._wants == "subject" and token.text.lower().lstrip("@") == "prefix":
            prefix = next(self._words).text[:-1]
            self._prefixes[prefix] = resolve(self._base, next(self._words).text[1:-1])
        elif self._wants == "subject":
            self._begin(token)
        elif self._wants == "property":
            self._property(token)
        else:
            self._value(token)

    def _sign(self, token: Token) -> None:
        """Nothing comes back: a full stop, semicolon, comma or bracket."""
        self._end_text()
        if token.text in "[(":
            self._depth += 1
            if token.text == "[":
                self._note_blank(token, anyway=True)
        elif token.text in "])":
            self._depth -= 1
            if self._depth == 0 and self._wants == "subject":
                self._subject, self._wants = None, "property"
        elif self._depth == 0 and token.text == ".":
            self._subject, self._wants = None, "subject"
        elif self._depth == 0 and token.text == ";":
            self._wants = "property"

    def _begin(self, token: Token) -> None:
        self._note_blank(token)
        self._subject, self._wants = self._whole(token), "property"
        if self._only is not None and self._subject not in self._only:
            if self._starts is None:
                self._words.pass_over(token)
            else:
                ahead = (start for start in self._starts if start > token.start)
                self._words.go_to(token, next(ahead, self._length))
            self._subject, self._wants = None, "subject"
        if self._subject is None:
            return
        if self._subject in self.found.subjects:
            self.found.repeated.append((self._subject, token.line))
        else:
            self.found.subjects[self._subject] = token.line

    def _property(self, token: Token) -> None:
        self._predicate, self._wants = self._whole(token), "value"
        if self._subject is not None and self._predicate is not None:
            self.found.properties.setdefault((self._subject, self._predicate), token.line)

    def _value(self, token: Token) -> None:
        self._note_blank(token)
        if token.kind == "string":
            quotes = 3 if token.text[:3] in {'"""', "'''"} else 1
            self._text = _unescaped(token.text[quotes:-quotes]), token.line
        elif token.kind == "iri" or ":" in token.text:
            self._note(("I", self._whole(token) or "", ""), token.line)
        else:
            self._note(("L", token.text, ""), token.line)  # a number, true or false

    def _end_text(self, language: str = "") -> None:
        if self._text is not None:
            text, line = self._text
            self._text = None
            self._note(("L", text, language), line)

    def _note(self, key: _Key, line: int) -> None:
        if self._depth == 0 and self._subject is not None and self._predicate is not None:
            self.found.values.setdefault((self._subject, self._predicate, key), line)

    def _note_blank(self, token: Token, *, anyway: bool = False) -> None:
        if self.found.blank is None and (anyway or token.kind == "blank"):
            self.found.blank = token.line

    def _whole(self, token: Token) -> str | None:
        """The whole IRI that the word names, or None for a blank node."""
        if token.kind == "iri":
            return resolve(self._base, _unescaped(token.text[1:-1]))
        if token.kind != "name":
            return None
        if token.text == "a" and self._wants == "property":
            return TYPE
        prefix, _, local = token.text.partition(":")
        return self._prefixes.get(prefix, "") + re.sub(r"\\(.)", r"\1", local)


def _starts(text: str, only: Container[str] | Iterable[str]) -> list[int] | None:
    """Where the statements of those subjects begin, in a text so tidy that it can be seen at a glance; None for any other.

    At a glance: one base at the top, no text over several lines, and each subject once at the beginning of a line, behind a
    line that ends a statement. Nothing but a subject can stand there.
    """
    base = _BASE.search(text, 0, 10_000)
    if (
        base is None
        or text.count("ase <") + text.count("ASE <") != 1
        or '"""' in text
        or "'''" in text
        or not isinstance(only, Set)
    ):
        return None
    found: list[int] = []
    for iri in only:
        written = f"\n<{iri.removeprefix(base[1])}> "
        places = [text.find(written) + 1] if text.count(written) == 1 else []
        if len(places) != 1 or not _ENDED.search(text, max(0, places[0] - 2000), places[0]):
            return None
        found += places
    return sorted(found)


def _key(value: NamedNode | Literal) -> _Key:
    """What the value is looked up by."""
    if isinstance(value, NamedNode):
        return ("I", value.value, "")
    return ("L", value.value, (value.language or "").lower())


def _unescaped(text: str) -> str:
    """The text with its escapes undone."""
    if "\\" not in text:
        return text

    def one(escape: re.Match[str]) -> str:
        code = escape[1] or escape[2]
        return chr(int(code, 16)) if code else _ESCAPED.get(escape[3], escape[3])

    return _ESCAPE.sub(one, text)
