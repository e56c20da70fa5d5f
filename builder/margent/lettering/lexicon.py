"""What each stretch of a lettering may be: the compiled word list, looked up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from margent.lettering.forms import Row
from margent.lettering.spelling import GUESSED, SURE_LENGTH, Spelling, Spelt
from margent.lettering.tokens import Token

JOINING = frozenset("gkhbw")
"""Gaps over which two pieces may be one word: M.r, dis.ò, Cavalie/ris."""
PLAIN = frozenset(("agent", "conj", "particle", "prep", "subject"))
"""Labels of everyday words."""
SHORT = 5
"""A word of the list of at most so many letters is not met by doubling or undoubling letters."""
HOME_VOTES = 30
"""What speaks for the language that letterings are in where nothing tells; a telling word has 60 votes."""
LANGUAGE_MARK = "~"
"""Before the language of a plain word, in the place of a term's slug."""
RAISED = 2
"""Letters of a raised ending at most."""
SPEAKING = frozenset(("front", "back", "notice", "agent", "office"))
"""Labels of forms that gain where the lettering is in their language."""
SOUND = frozenset(("whole", "variant"))
"""How forms are made that need no stop and no capital behind them."""
CAREFUL = frozenset(("front", "given", "place", "honorific", "firm", "post", "kin"))
"""Labels that count on a capital, on more letters than one, or on no stop."""
JOINED_LENGTH = 24
"""Letters of a word joined from pieces at most."""


@dataclass(slots=True)
class Item:
    """A stretch of tokens [start, end) and one thing it may be; never changed once made.

    `label` is what the grammar calls it, `weight` its standing in thousandths of a nat, `ref` the term,
    place or date that it is (empty for plain words), `others` further terms with the same form and how far
    each stands behind, `respelt` the spelling rules or the guess that led there.
    """

    start: int
    end: int
    label: str
    weight: int
    ref: str
    others: tuple[tuple[str, int], ...] = ()
    respelt: tuple[str, ...] = ()


Entry = tuple[int, str, list[tuple[str, int]], int, tuple[str, ...]]
"""An item before the language of the lettering is known: the token after it, its label, what it may be, its weight, how it was respelt."""


class Lexicon:
    """The compiled forms, found by longest and all shorter matches over word sequences."""

    def __init__(self, compiled: Mapping[str, Any], forms: Mapping[str, Sequence[Row]], spelling: Spelling) -> None:
        self._forms = forms
        self._weights: Mapping[str, int] = compiled["grammar"]["lookup"]
        self._home: Sequence[str] = compiled["home"]
        self._superlatives = frozenset(compiled["superlatives"])
        self._spelling = spelling
        self._languages_of = {slug: str(entry["language"]) for slug, entry in compiled["terms"].items()}
        prefixes: set[str] = set()
        for key in self._forms:
            at = key.find(" ")
            while at > 0:
                prefixes.add(key[:at])
                at = key.find(" ", at + 1)
        self._prefixes = prefixes

    def known(self, word: str) -> bool:
        """Whether the folded word stands in the list by itself."""
        return word in self._forms

    def senses_of(self, key: str) -> Sequence[Row]:
        """What a folded key may be: rows of label, reference, weight and how the form was made."""
        return self._forms.get(key, ())

    def items(self, tokens: Sequence[Token]) -> list[list[Item]]:
        """For each token, the items that begin with it; terms of the lettering's language stand a little higher."""
        meant: dict[str, list[Spelt]] = {}
        for token in tokens:
            if token.full not in meant:
                meant[token.full] = self._spelling.alternatives(token.full)
        spellings = [self._spellings(tokens, index, meant) for index in range(len(tokens))]
        found = [self._from(tokens, spellings, index) for index in range(len(tokens))]
        languages = self._languages(found)
        return [
            [self._at_home(start, entry, languages) for entry in row] if row else [] for start, row in enumerate(found)
        ]

    def _languages(self, found: Sequence[Sequence[Entry]]) -> dict[str, int]:
        """How much each language speaks in a lettering, in thousandths; a word of several languages speaks for each in part."""
        votes: dict[str, int] = dict.fromkeys(self._home, HOME_VOTES)
        for row in found:
            for _, _, refs, _, _ in row:
                speaking = {self.language(ref) for ref, _ in refs}
                speaking.discard("")
                for language in speaking:
                    votes[language] = votes.get(language, 0) + 60 // len(speaking)
        total = sum(votes.values())
        return {language: vote * 1000 // total for language, vote in votes.items()} if total else {}

    def language(self, ref: str) -> str:
        """The language of a term or a telling word; empty for anything else."""
        if ref.startswith(LANGUAGE_MARK):
            return ref[1:]
        return self._languages_of.get(ref, "")

    def _at_home(self, start: int, entry: Entry, languages: Mapping[str, int]) -> Item:
        """The item of an entry, its terms each gaining by its language's share and ranked anew."""
        after, label, refs, weight, respelt = entry
        if label in SPEAKING:
            gain = self._weights["at-home"]
            refs = [(ref, behind + gain * languages.get(self.language(ref), 0) // 1000) for ref, behind in refs]
            if len(refs) > 1:
                refs.sort(key=_best_first)
        top = refs[0][1]
        others = tuple([(ref, behind - top) for ref, behind in refs[1:]])
        return Item(start, after, label, weight + top, refs[0][0], others, respelt)

    def _spellings(
        self, tokens: Sequence[Token], index: int, meant: Mapping[str, Sequence[Spelt]]
    ) -> list[tuple[str, int, int, tuple[str, ...]]]:
        """The words that may begin at a token: folded word, the token after it, its cost, the rules that respelt it."""
        token = tokens[index]
        found = [(word, index + 1, cost, rules) for word, cost, rules in meant[token.full]]
        if len(token.plain) > 1 and token.plain != token.full:
            found.append((token.plain, index + 1, 0, ()))
        joined, after = token.full, index + 1
        while after < len(tokens) and tokens[after].gap in JOINING and len(joined) < JOINED_LENGTH:
            cost = self._weights["join-" + tokens[after].gap]
            joined += tokens[after].full
            after += 1
            if self._spelling.is_word(joined):
                found.append((joined, after, cost, ()))
        if (
            after == index + 1
            and after < len(tokens)
            and tokens[after].gap in "np"
            and tokens[after].shape == "l"
            and len(joined) >= 3
        ):
            whole = joined + tokens[after].full
            if len(whole) >= 6 and self._spelling.is_word(whole):
                found.append((whole, after + 1, self._weights["join-line"], ()))
        return found

    def _from(
        self, tokens: Sequence[Token], spellings: Sequence[Sequence[tuple[str, int, int, tuple[str, ...]]]], start: int
    ) -> list[Entry]:
        """All entries that begin at one token."""
        best: dict[tuple[int, str], dict[str, tuple[int, tuple[str, ...]]]] = {}
        stack = list(spellings[start])
        while stack:
            key, after, cost, rules = stack.pop()
            for label, ref, weight, how in self._forms.get(key, ()):
                if rules and (
                    len(key) < SURE_LENGTH
                    or (label == "notice" and GUESSED in rules)
                    or ((label in PLAIN or len(key) <= SHORT) and any(rule.startswith("double-") for rule in rules))
                ):
                    continue  # Parr is no spelling of par, Cort none of corrt, Js none of is, and no notice is guessed
                total = weight + cost
                if rules and label == "place" and len(key) <= SHORT:
                    total += self._weights["respelt-place"]
                if how not in SOUND or label in CAREFUL or len(key) <= SURE_LENGTH:
                    total += self._unmarked(tokens, start, after, key, label, how)
                slot = best.get((after, label))
                if slot is None:
                    best[after, label] = {ref: (total, rules)}
                elif (
                    ref not in slot
                    or slot[ref][0] < total
                    or (slot[ref][0] == total and len(rules) < len(slot[ref][1]))
                ):
                    slot[ref] = (total, rules)
            if key in self._prefixes and after < len(tokens):
                across = cost + self._weights.get("across-" + tokens[after].gap, 0)
                for word, end, more, changed in spellings[after]:
                    stack.append((key + " " + word, end, across + more, rules + changed))
        if (
            start + 1 < len(tokens)
            and tokens[start + 1].gap == "k"
            and tokens[start + 1].full in self._superlatives
            and tokens[start].shape != "i"
        ):
            # Ossequ:mo, Col.ma: a superlative of courtesy, whatever the word
            best.setdefault((start + 2, "dedicatory"), {}).setdefault("dedicatory", (self._weights["superlative"], ()))
        found: list[Entry] = []
        for (after, label), refs in best.items():
            ranked = [(ref, total) for ref, (total, _) in refs.items()]
            if len(ranked) > 1:
                ranked.sort(key=_best_first)
            ref, top = ranked[0]
            found.append((after, label, [(each, total - top) for each, total in ranked], top, refs[ref][1]))
        return found

    def _plain(self, key: str) -> bool:
        """Whether a word is an everyday word as well."""
        return any(row[0] in PLAIN for row in self._forms.get(key, ()))

    def _unmarked(self, tokens: Sequence[Token], start: int, after: int, key: str, label: str, how: str) -> int:
        """What it costs that a short form lacks its stop, or that a phrase is broken by a sign."""
        if len(key) == 1 and tokens[start].shape == "i":
            if label not in ("front", "back"):
                if label in PLAIN:
                    return self._weights["letter-stop" if tokens[start].stop else "letter-plain"]
                return self._weights["letter-word"]
            if after < len(tokens) and tokens[after].gap in "as" and tokens[after].shape in "cai":
                return self._weights["letter-then-capital"]
        if label in ("given", "place", "honorific") and tokens[start].shape == "l":
            return self._weights["lower-" + label]
        last = tokens[after - 1]
        letters = len(key)
        if label == "firm" and last.shape == "l" and len(last.full) == 1 and after - start <= 2:
            return self._weights["et-cetera"]
        joined = label in ("firm", "post", "kin") and last.shape == "i" and after - start > 1
        if (label == "firm" and letters <= SURE_LENGTH) or (joined and tokens[start].shape == "x"):
            return self._company(tokens[after] if after < len(tokens) else None, letters)
        if how == "sign" and tokens[start].shape == "l":
            return self._weights["lower-siglum"]
        if after < len(tokens) and (cost := self._before(tokens[after], letters, label, how)):
            return cost
        several = after - start > 1 and how in ("short", "cut")
        return 0 if several else self._stops(last, letters, key, label, how)

    def _company(self, following: Token | None, letters: int) -> int:
        """What it costs a sign of company that it is a letter or two: "e A.", of a firm and of anything; "A. & C. Tobler"."""
        goes_on = following is not None and following.gap in "as" and following.shape in "ca"
        return self._weights["sign-then-capital" if goes_on and letters <= SURE_LENGTH else "letter-firm"]

    def _before(self, following: Token, letters: int, label: str, how: str) -> int:
        """What it costs a form that the word behind it belongs with it or is no word to follow it."""
        if how == "sign" and letters <= 5:
            capital = following.gap in "as" and following.shape in "ca" and not (label == "front" and letters > 2)
            if capital or (following.gap == "k" and following.shape == "i"):
                return self._weights["sign-then-capital"]
        if following.gap == "k" and following.shape == "l":
            if label in ("front", "back") and following.full in self._superlatives:
                return self._weights["before-raised"]  # Devotiss.mo is no devotiss.
            if label == "given" and len(following.full) <= RAISED:
                return self._weights["given-raised"]  # Sig.r is no Sigismund
        return 0

    def _stops(self, last: Token, letters: int, key: str, label: str, how: str) -> int:
        """What it costs a term that it has a stop and is whole, or has none and is cut short."""
        if label not in ("front", "back"):
            return 0
        if label == "front" and how == "whole" and last.stop:
            if letters > SURE_LENGTH:
                return self._weights["stopped-whole"]  # "excudit. Tot Amsterdam by ...": a sentence ends
            if self._plain(key):
                return self._weights["stopped-plain"]
        if how in ("short", "cut") and not last.stop:
            if self._plain(key):
                return self._weights["unstopped-plain" if label == "back" else "unstopped-plain-front"]
            if letters <= 3:
                return self._weights[
                    "unstopped-1" if letters == 1 else "unstopped-2" if letters == 2 else "unstopped-3"
                ]
        return 0


def _best_first(ref: tuple[str, int]) -> tuple[int, str]:
    """The order of the terms of one form: the weightiest first, then by name."""
    return -ref[1], ref[0]
