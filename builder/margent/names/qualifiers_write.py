"""Structure written back as an attribution phrase, in a language."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import islice, product
from typing import TYPE_CHECKING, Final

from margent.faults import Fault
from margent.names.qualifiers_lexicon import INITIALS, LANGUAGES, SLOT, Lexicon

if TYPE_CHECKING:
    from margent.names.qualifiers import Part

# Said in this order: probably / after / the workshop of.
_AXES: Final = ("certainty", "relation", "nearness")
_MOST_TRIED: Final = 400
_VOWEL = re.compile(r"[aeiouyàâéèêëîïôûœæ]", re.IGNORECASE)


class Writer:
    """Writes parts by the phrases of a lexicon."""

    def __init__(self, lexicon: Lexicon, alone: Callable[[str, str], tuple[str, ...] | None]) -> None:
        self._lexicon = lexicon
        self._alone = alone  # how a text with one name is read: its qualifiers

    def write(self, parts: Sequence[Part], language: str) -> str:
        """The phrase; raises Fault where it cannot be written."""
        if language not in LANGUAGES:
            raise Fault(f"{language}: no language of attributions; choose one of {', '.join(LANGUAGES)}")
        text = ""
        carry: tuple[str, ...] = ()
        before: Part | None = None
        for part in parts:
            if not part.name.strip():
                raise Fault("an attribution needs a name: write the school, or Unknown, where nobody is named")
            for slug in part.qualifiers:
                self.phrase(slug, language)  # a Fault says which one cannot be written
            said = self._one(part, language)
            if not text:
                text = said
            elif part.joined is None:
                # a comma before a bare name would read as one more name of a list
                text += ("; " if self._behind_only(part, language) else ", ") + said
            else:
                ends = carry and self._behind_only(part, language)
                if part.joined == "and" and before is not None and not before.qualifiers:
                    # initials before "and" would share the surname behind it
                    ends = ends or bool(INITIALS.fullmatch(before.name) and INITIALS.match(said))
                text += f"{';' if ends else ''} {self._parting(part, before, language)} {said}"
            carry, before = part.qualifiers, part
        return text

    def phrase(self, slug: str, language: str) -> str:
        """The phrase by which the qualifier is written, with the sign … where the name stands behind nothing."""
        lexicon = self._lexicon
        own = [text.value for text in lexicon.phrases.get(slug, ()) if text.lang == language]
        if not own:
            raise Fault(
                f"{slug}: no qualifier that can be written in {language}; the qualifiers are those of vocab/qualifiers/"
            )
        label = next((text.value for text in lexicon.labels[slug] if text.lang == language), "")
        chosen = [phrase for phrase in own if phrase in lexicon.words_of("written", language)]
        chosen += [phrase for phrase in own if phrase.removeprefix(SLOT).strip() == label]
        return min(chosen or own, key=len) if not chosen else chosen[0]

    def _parting(self, part: Part, before: Part | None, language: str) -> str:
        """The word between two parts; one that stands inside names too, such as y, only between names of several words."""
        lexicon = self._lexicon
        written = lexicon.words_of("written", language)
        said = [word for word in lexicon.words_of(str(part.joined), language) if word in written]
        inside = [word for word in lexicon.words_of("and-in-a-firm", language) if word in written]
        if part.joined == "and" and inside and before is not None:
            single = any(len(each.name.split()) < 2 for each in (part, before))
            return said[0] if single or part.qualifiers or before.qualifiers else inside[0]
        return said[0]

    def _behind_only(self, part: Part, language: str) -> bool:
        return all(self.phrase(slug, language).startswith(SLOT) for slug in part.qualifiers)

    def _one(self, part: Part, language: str) -> str:
        """One name with its qualifiers, in the usual phrases where they can stand together.

        Some cannot: "nach" before "Art von" is a phrase of another meaning. Then others are tried.
        """
        slugs = sorted(
            part.qualifiers, key=lambda slug: (_AXES.index(self._lexicon.axes[slug]), self._lexicon.ranks[slug])
        )
        usual = [self.phrase(slug, language) for slug in slugs]
        said = self._said(part.name, slugs, usual, language)
        if len(slugs) < 2 or set(self._alone(said, language) or ()) == set(slugs):
            return said
        known = [[text.value for text in self._lexicon.phrases[slug] if text.lang == language] for slug in slugs]
        for phrases in islice(product(*known), _MOST_TRIED):
            tried = self._said(part.name, slugs, phrases, language)
            if set(self._alone(tried, language) or ()) == set(slugs):
                return tried
        return said

    def _said(self, name: str, slugs: Sequence[str], phrases: Sequence[str], language: str) -> str:
        """The name between its phrases: those before it in the order of the axes, those behind it with the sign last."""
        before = [(slug, phrase) for slug, phrase in zip(slugs, phrases, strict=True) if not phrase.startswith(SLOT)]
        behind = [phrase.removeprefix(SLOT).strip() for phrase in phrases if phrase.startswith(SLOT)]
        behind.sort(key=lambda phrase: not phrase[0].isalpha())
        said = [self._bare(slug, phrase, language) for slug, phrase in before[:-1]] + [
            phrase for _, phrase in before[-1:]
        ]
        text = " ".join([*said, name, *behind])
        return self._elided(text, said[-1], language) if said else text

    def _bare(self, slug: str, phrase: str, language: str) -> str:
        """The phrase without its preposition where it is used so: probably after, not probably by after."""
        own = [text.value for text in self._lexicon.phrases[slug] if text.lang == language]
        shorter = [each for each in own if phrase.startswith(each + " ")]
        return min(shorter, key=len, default=phrase)

    def _elided(self, said: str, phrase: str, language: str) -> str:
        """The text with the last preposition shortened before a vowel, where the language does so."""
        preposition = phrase.rsplit(" ", 1)[-1]
        forms = self._lexicon.words_of(f"elided-{preposition}", language)
        at = said.find(phrase + " ") + len(phrase)
        if forms and at < len(said) and _VOWEL.match(said, at + 1):
            return said[: at - len(preposition)] + forms[0] + said[at + 1 :]
        return said
