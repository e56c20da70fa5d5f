"""The list in which the site's home page looks up a word: every form of every term under its folded letters.

A browser reads it with `site/scripts/look-up.js`, which folds what is typed by the table that is part of the list.
"""

from __future__ import annotations

import json
from collections import defaultdict
from typing import Any

from margent.lettering.characters import LOWER, UPPER
from margent.publishing.derived import forms_beside
from margent.publishing.folding import characters, folded
from margent.vocabulary.model import Term, Vocabulary

FORMAT = 1

# Letters that somebody may type or paste: Latin with its extensions, and the ligatures that typefaces have.
_TYPED = ((0x41, 0x24F), (0x1E00, 0x1EFF), (0xA720, 0xA7FF), (0xFB00, 0xFB06))


def look_up_list(vocabulary: Vocabulary) -> dict[str, Any]:
    """The list: `fold` by letter, `words` as [form, language, slug, shortest truncation, what it says], `forms` as places in words."""
    words: list[list[Any]] = []
    forms: dict[str, set[int]] = defaultdict(set)
    for term in vocabulary.terms.values():
        if term.withdrawn:
            continue
        shortest = folded(term.shortened_to.value) if term.shortened_to is not None else ""
        for text in (term.literal, *forms_beside(term)):
            forms[folded(text.value)].add(len(words))
        words.append([term.literal.value, term.language, term.slug, shortest, says(term, vocabulary)])
    forms.pop("", None)
    return {
        "format": FORMAT,
        "version": vocabulary.publication.version,
        "fold": _fold_table(),
        "words": words,
        "forms": {form: sorted(places) for form, places in sorted(forms.items())},
    }


def says(term: Term, vocabulary: Vocabulary) -> list[str]:
    """The English labels of what a term says, the most usual first, each once."""
    labels: list[str] = []
    for sense in sorted(term.senses, key=lambda sense: (-sense.weight, sense.iri)):
        for concept in sense.says:
            entry = vocabulary.roles.get(concept) or vocabulary.notice_kinds.get(concept)
            label = entry.label() if entry else concept.rsplit("/", 1)[-1]
            if label not in labels:
                labels.append(label)
    return labels


def as_json(found: dict[str, Any]) -> str:
    """The list as one line of JSON."""
    return json.dumps(found, ensure_ascii=False, separators=(",", ":")) + "\n"


def as_script(text: str) -> str:
    """The same list for pages opened from a disk, where a browser lets a page load scripts but no data."""
    return "// written by `margent publish`: the list of data/look-up.json\nmargentLookUp(" + text.rstrip("\n") + ");\n"


def _fold_table() -> dict[str, str]:
    """The folded letters of each letter that does not stand for itself."""
    known = characters()
    table: dict[str, str] = {}
    for first, last in _TYPED:
        for point in range(first, last + 1):
            char = chr(point)
            if known.kind(char) in (UPPER, LOWER):
                table[char] = known.fold(char)
    return {char: to for char, to in table.items() if char != to or not char.isascii()}
