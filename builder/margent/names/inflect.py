"""The forms that a name may take on prints by rule: Latin cases, the house of a family, genitives, women, plurals, initials.

Every form made here is marked as made; what was met on a print stands in an authority, with its attestation.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import NamedTuple

from margent.names.lore import Lore, cases
from margent.names.normal import Folded, fold
from margent.names.parts import Parts, parts_of
from margent.vocabulary.name_rules import NameParadigm

VOWELS = "aeiouy"
HISSING = ("s", "x", "z")
"""Endings behind which a genitive -s is written as an apostrophe, or left out."""
OF_PLACES = frozenset({"anus", "ensis"})
"""Latin surnames in these are towns: nobody's vernacular surname is made into one."""
WOMEN = {
    "nominative": "feminine",
    "genitive": "feminine genitive",
    "dative": "feminine genitive",
    "accusative": "feminine accusative",
    "ablative": "feminine ablative",
}
"""The case of a man's name -> the form of a woman's; the dative of the first declension is written as the genitive."""


class Made(NamedTuple):
    """A form made by rule: `means` says which case it is, or what it says of the person; `rule` names what made it."""

    text: str
    language: str
    means: str
    rule: str


def surname_forms(surname: str, lore: Lore) -> Iterator[Made]:
    """The forms of a surname in Latin, and with the endings of other languages, each once for each meaning.

    A surname that is Latin already is declined as it is; any other is Latinised in every way that its ending allows.
    """
    seen: set[tuple[str, str, str]] = set()
    for made in (*_latin(surname, lore), *_vernacular(surname, lore)):
        key = (made.text, made.language, made.means)
        if made.text != surname and key not in seen:
            seen.add(key)
            yield made


def forename_forms(forename: str, lore: Lore) -> Iterator[Made]:
    """The Latin forms of a forename that the vocabulary knows, in every case; none for another."""
    for slug in lore.classes(fold(forename)):
        for latin in lore.latin_forenames.get(slug, ()):
            yield Made(latin, "la", "nominative", slug)
            declined = [_forename_cases(word, lore) for word in latin.split()]  # Johannes Baptista: both words
            for means in ("genitive", "dative", "accusative", "ablative"):
                for words in product(*(each[means] for each in declined)):
                    yield Made(" ".join(words), "la", means, slug)


def _forename_cases(word: str, lore: Lore) -> dict[str, tuple[str, ...]]:
    """The forms of one Latin forename by case; a name that no paradigm fits is the same in all."""
    paradigm = _declined_as(word, lore, of_forename=True)
    if paradigm is None:
        return dict.fromkeys(("genitive", "dative", "accusative", "ablative"), (word,))
    stem = word[: len(word) - len(paradigm.nominative)]
    return {means: tuple(stem + ending for ending in endings) for means, endings in cases(paradigm)}


def name_forms(name: str, lore: Lore) -> Iterator[Made]:
    """The forms of a whole name: in speech order, with initials, and in every Latin case, a woman's in the feminine."""
    found = parts_of(name, lore)
    if not found or not found[0].family:
        return
    shown = _as_written(found[0])
    given, family = [shown[word.text] for word in found[0].given], [shown[word.text] for word in found[0].family]
    if given and (found[0].inverted or len(found[0].particles) < 2):
        surname = " ".join((*found[0].particles, *family))
        yield Made(" ".join((*given, surname)), "mul", "plain", "order of speech")
        yield Made(" ".join((*(f"{word[:1]}." for word in given), surname)), "mul", "initials", "initials")
    surnames = list(surname_forms(family[-1], lore))
    if not given:
        yield from surnames
        return
    woman = any(lore.forename_gender.get(slug) == "feminine" for slug in lore.classes(fold(given[0])))
    for first in forename_forms(given[0], lore):
        wanted = WOMEN.get(first.means, first.means) if woman else first.means
        for last in surnames:
            if last.language == "la" and last.means == wanted:
                yield Made(f"{first.text} {last.text}", "la", first.means, last.rule)
    for last in surnames:
        if last.language != "la" or last.means.startswith("plural") or last.means == "adjective":
            yield last


def _as_written(parts: Parts) -> dict[Folded, str]:
    """The words of the name as they are written, by their folded form."""
    return {fold(word.strip(".,()")): word.strip(".,()") for word in parts.text.replace("-", " ").split()} | {
        word.text: word.text[:1].upper() + word.text[1:]
        for word in parts.words
        if word.text not in {fold(each.strip(".,()")) for each in parts.text.replace("-", " ").split()}
    }


def _declined_as(latin: str, lore: Lore, *, of_forename: bool) -> NameParadigm | None:
    """The paradigm whose nominative a Latin name ends in, by the longest ending; None where only the bare one fits."""
    fitting = [
        paradigm
        for paradigm in lore.paradigms
        if paradigm.of_forename == of_forename and paradigm.nominative and fold(latin).endswith(paradigm.nominative)
    ]
    return max(fitting, key=lambda paradigm: len(paradigm.nominative), default=None)


def _latin(surname: str, lore: Lore) -> Iterator[Made]:
    """The Latin cases of a surname, those of the plural, the woman's name, and the adjective of the house."""
    own = _declined_as(surname, lore, of_forename=False)
    if own is not None and len(own.nominative) > 1:
        yield from _declined(surname[: -len(own.nominative)], own)
        return
    for paradigm in lore.paradigms:
        if paradigm.of_forename or paradigm.nominative in OF_PLACES or not paradigm.genitive[0]:
            continue
        stem = _stem(surname, paradigm)
        if stem is not None:
            yield from _declined(stem, paradigm)


def _stem(surname: str, paradigm: NameParadigm) -> str | None:
    """What a surname keeps when it is Latinised so; None where its ending does not allow it."""
    folded = fold(surname)
    for ending in sorted(paradigm.made_from, key=len, reverse=True):
        if ending and folded.endswith(ending) and len(folded) > len(ending) + 1:
            return surname[: -len(ending)]
    if "" not in paradigm.made_from or folded[-1:] == paradigm.nominative[:1]:
        return None
    if not paradigm.nominative and folded[-1:] in VOWELS:
        return None  # a name that keeps its vernacular end is half declined behind a consonant only
    return surname


def _declined(stem: str, paradigm: NameParadigm) -> Iterator[Made]:
    for means, endings in cases(paradigm):
        for ending in endings:
            yield Made(stem + ending, "la", means, paradigm.iri)


def _vernacular(surname: str, lore: Lore) -> Iterator[Made]:
    """The genitives, women's names and plurals of living languages."""
    folded = fold(surname)
    for rule in lore.endings:
        if rule.of_forename:
            continue
        for ending in rule.endings:
            if rule.instead_of:
                cut = next((each for each in rule.instead_of if each and folded.endswith(each)), None)
                if cut is not None:
                    yield Made(surname[: -len(cut)] + ending.value, ending.lang, rule.key, rule.iri)
            elif _may_follow(fold(ending.value), folded):
                yield Made(surname + ending.value, ending.lang, rule.key, rule.iri)


def _may_follow(ending: str, name: str) -> bool:
    """Whether an ending is put on such a name: no -s behind a hissing sound, and -es and -ens only there or behind a consonant."""
    if ending.lstrip("'").startswith("s"):
        return not name.endswith(HISSING)
    if ending in {"es", "ens"}:
        return name[-1:] not in VOWELS and (ending == "es" or name.endswith(HISSING))
    return True
