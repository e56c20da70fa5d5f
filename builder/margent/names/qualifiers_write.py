"""Structure written back as an attribution phrase, in a language."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from margent.faults import Fault
from margent.names.qualifiers_lexicon import LANGUAGES, SLOT, Lexicon

if TYPE_CHECKING:
    from margent.names.qualifiers import Part

# Said in this order: probably / after / the workshop of.
_AXES: Final = ("certainty", "relation", "nearness")
_VOWEL = re.compile(r"[aeiouyàâéèêëîïôûœæ]", re.IGNORECASE)


class Writer:
    """Writes parts by the phrases of a lexicon."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._lexicon = lexicon

    def write(self, parts: Sequence[Part], language: str) -> str:
        """The phrase; raises Fault where it cannot be written."""
        if language not in LANGUAGES:
            raise Fault(f"{language}: no language of attributions; choose one of {', '.join(LANGUAGES)}")
        text = ""
        carry: tuple[str, ...] = ()
        for part in parts:
            if not part.name.strip():
                raise Fault("an attribution needs a name: write the school, or Unknown, where nobody is named")
            said = self._one(part, language)
            if not text:
                text = said
            elif part.joined is None:
                # a comma before a bare name would read as one more name of a list
                text += (", " if part.qualifiers and not self._behind_only(part, language) else "; ") + said
            else:
                ends = carry and (not part.qualifiers or self._behind_only(part, language))
                text += f"{';' if ends else ''} {self._lexicon.words_of(part.joined, language)[0]} {said}"
            carry = part.qualifiers
        return text

    def phrase(self, slug: str, language: str) -> str:
        """The phrase by which the qualifier is written, with the sign … where the name stands behind nothing."""
        lexicon = self._lexicon
        own = [text.value for text in lexicon.phrases.get(slug, ()) if text.lang == language]
        if not own:
            raise Fault(
                f"{slug}: no qualifier that can be written in {language}; `margent attribute --list` names those there are"
            )
        label = next((text.value for text in lexicon.labels[slug] if text.lang == language), "")
        chosen = [phrase for phrase in own if phrase in lexicon.words_of("written", language)]
        chosen += [phrase for phrase in own if phrase.removeprefix(SLOT).strip() == label]
        return min(chosen or own, key=len) if not chosen else chosen[0]

    def _behind_only(self, part: Part, language: str) -> bool:
        return all(self.phrase(slug, language).startswith(SLOT) for slug in part.qualifiers)

    def _one(self, part: Part, language: str) -> str:
        """One name with its qualifiers: before it in the order of the axes, behind it with the sign last."""
        lexicon = self._lexicon
        slugs = sorted(part.qualifiers, key=lambda slug: (_AXES.index(lexicon.axes[slug]), lexicon.ranks[slug]))
        phrases = [self.phrase(slug, language) for slug in slugs]
        before = [phrase for phrase in phrases if not phrase.startswith(SLOT)]
        behind = [phrase.removeprefix(SLOT).strip() for phrase in phrases if phrase.startswith(SLOT)]
        behind.sort(key=lambda phrase: not phrase[0].isalpha())
        for place, (slug, phrase) in enumerate(
            zip([s for s, p in zip(slugs, phrases, strict=True) if p in before], before, strict=True)
        ):
            if place < len(before) - 1:
                before[place] = self._bare(slug, phrase, language)
        said = " ".join([*before, part.name, *behind])
        return self._elided(said, before[-1], language) if before else said

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
