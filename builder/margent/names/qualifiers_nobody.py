"""Whether words of an attribution phrase name nobody: a school, a place, a century, a trade, or Unknown."""

from __future__ import annotations

import re
from collections.abc import Sequence

from margent.names.qualifiers_lexicon import ROMAN, Lexicon, Word

_FIGURE = re.compile(r"\d")


class Nobody:
    """Answers by the words of one vocabulary; a hyphenated word counts in its pieces."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._lexicon = lexicon
        self._known = lexicon.of_a_school | lexicon.century | lexicon.school | lexicon.nobody
        self._places = lexicon.places | {place.replace("-", " ") for place in lexicon.places}

    def century(self, said: Sequence[Word]) -> bool:
        """Whether the words name a century or a dynasty: 16th Century, XVIIe siècle, Ming Dynasty."""
        folds = [word.fold for word in said]
        named = [fold for fold in folds if fold in self._lexicon.century]
        ordinal = any(_FIGURE.search(fold) or ROMAN.fullmatch(fold) for fold in folds)
        return bool(named) and (ordinal or (len(folds) > 1 and any(len(fold) > 4 for fold in named)))

    def schoolish(self, said: Sequence[Word]) -> bool:
        """Whether every word is one of a school, a place, a century or a trade, so that no person is named."""
        folds = [word.fold for word in said]
        if not folds:
            return False
        known = self._known | self._lexicon.somebody
        rest = [fold for fold in folds if fold not in known and fold not in ",-" and not _FIGURE.search(fold)]
        rest = [fold for fold in rest if not (ROMAN.fullmatch(fold) and len(folds) > 1)]
        if not rest:
            return any(fold in self._known or _FIGURE.search(fold) for fold in folds)
        return len(rest) == len(folds) and self.place(said) and len(folds) > 1

    def place(self, said: Sequence[Word]) -> bool:
        """Whether the words are the name of a known place."""
        if not said:
            return False
        text = "".join(word.fold + ("" if word.text.endswith(("-", "’", "'")) else " ") for word in said).strip()
        wide = " ".join(word.fold for word in said)
        return text in self._places or wide in self._places

    def anonymous(self, said: Sequence[Word]) -> bool:
        """Whether the words name nobody."""
        folds = [word.fold for word in said]
        lexicon = self._lexicon
        unknown = any(
            tuple(folds[place : place + len(each)]) == each for each in lexicon.nobodies for place in range(len(folds))
        )
        if unknown or self.century(said) or any(fold in lexicon.school for fold in folds):
            return True
        if folds and folds[-1] in lexicon.somebody and len(folds) <= 3:
            rest = folds[:-1]
            return not rest or not any(fold in lexicon.forenames for fold in rest)
        return self.schoolish(said)
