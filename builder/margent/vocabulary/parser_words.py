"""What the Turtle parser objects to, in an editor's words: the line to look at, what is wrong there, and how to mend it."""

from __future__ import annotations

import re
from typing import NamedTuple


class Objection(NamedTuple):
    """One kind of message of the parser, and what is said instead; `{}` stands for what the expression takes out."""

    message: str
    wrong: str
    mend: str
    before: bool = False  # whether the fault stands where the statement before it ends


_OBJECTIONS = (
    Objection(
        "A dot is expected at the end of statements",
        "the statement has no end",
        "end it with a full stop, or with ; where more is said of the same entry",
        before=True,
    ),
    Objection(
        r"Line jumps are not allowed in string literals.*",
        "a text is not closed on its line",
        'write the second quotation mark: "..."@en',
    ),
    Objection(
        r"(.+) is not a valid RDF object", '"{}" stands where a value should', "write the value, or remove the sign"
    ),
    Objection(
        r"(.+) is not a valid predicate",
        '"{}" stands where a property should',
        "write the property, or end the line before it with a comma where it is one more value",
    ),
    Objection(
        r"(.+) is not a valid subject or graph name",
        '"{}" stands where an entry should begin',
        "remove it, or look for a full stop too many on the line before",
    ),
    Objection(
        r"The prefix (.+) has not been declared",
        "the prefix {} is not declared",
        "correct the prefix, or add it at the top: @prefix {} <...> .",
    ),
    Objection(
        r"No scheme found in an absolute IRI.*",
        "an IRI is relative, and nothing says to what",
        "write @base <https://...> . at the top, with the base of the publication",
    ),
    Objection(r"Invalid IRI code point (.+)", "an IRI has {} in it", "take it out of what stands between < and >"),
    Objection(
        r"Unexpected escape character (.+)",
        "a text has the sign {}, which means nothing",
        "write the backslash twice, or remove it",
    ),
)
_ANY = ("{}", "mend this line or the end of the one before it")


def in_plain_words(message: str, text: str, line: int, column: int) -> tuple[int, str]:
    r"""The line of the fault in that text, and what is said of it: what is wrong, a semicolon, and how to mend it.

    >>> in_plain_words("Parser error at line 2 between columns 1 and 4: A dot is expected at the end of statements", "<a> a <b>\n<c>", 2, 1)
    (1, 'not Turtle: the statement has no end; end it with a full stop, or with ; where more is said of the same entry')
    """
    said = message.partition(": ")[2] or message
    for objection in _OBJECTIONS:
        if match := re.fullmatch(objection.message, said):
            what = match[1] if match.groups() else ""
            at = _end_before(text, line, column) if objection.before else line
            return at, f"not Turtle: {objection.wrong.format(what)}; {objection.mend.format(what)}"
    wrong, mend = _ANY
    return line, f"not Turtle: {wrong.format(said)}; {mend}"


def _end_before(text: str, line: int, column: int) -> int:
    """The line on which ends what stands before that place, comments and empty lines left out."""
    lines = text.split("\n")[:line]
    lines[-1] = lines[-1][: column - 1]
    while len(lines) > 1 and (not lines[-1].strip() or lines[-1].lstrip().startswith("#")):
        lines.pop()
    return len(lines)
