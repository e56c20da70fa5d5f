"""What each stretch of a lettering may be: the compiled word list, looked up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from margent.lettering.forms import Row
from margent.lettering.spelling import GUESSED, SURE_LENGTH, Spelling, Spelt
from margent.lettering.tokens import CAPITALISED, Token

JOINING: Final = frozenset("gkhbw")
"""Gaps over which two pieces may be one word: M.r, dis.ò, Cavalie/ris."""
PLAIN: Final = frozenset(("agent", "conj", "particle", "prep", "subject"))
"""Labels of everyday words."""
SHORT: Final = 5
"""A word of the list of at most so many letters is not met by doubling or undoubling letters."""
DIGITS: Final = "0123456789"
SURNAME: Final = 6
"""A capitalised word of at most so many letters is rather a surname than a term spelt in another way."""
HOME_VOTES: Final = 30
"""What speaks for the language that letterings are in where nothing tells; a telling word has 60 votes."""
LANGUAGE_MARK: Final = "~"
"""Before the language of a plain word, in the place of a term's slug."""
RAISED: Final = 2
"""Letters of a raised ending at most."""
SPEAKING: Final = frozenset(("front", "back", "notice", "agent", "office"))
"""Labels of forms that gain where the lettering is in their language."""
SOUND: Final = frozenset(("whole", "variant"))
"""How forms are made that need no stop and no capital behind them."""
CAREFUL: Final = frozenset(("front", "given", "place", "honorific", "firm", "post", "kin"))
"""Labels that count on a capital, on more letters than one, or on no stop."""
JOINED_LENGTH: Final = 24
"""Letters of a word joined from pieces at most."""


class Item:
    """A stretch of tokens [start, end) and one thing it may be.

    `label` is what the grammar calls it, `weight` its standing in thousandths of a nat, `ref` the term,
    place or date that it is (empty for plain words), `others` further terms with the same form and how far
    each stands behind, `respelt` the spelling rules or the guess that led there.
    """

    __slots__ = ("end", "label", "others", "ref", "respelt", "start", "weight")

    def __init__(
        self,
        start: int,
        end: int,
        label: str,
        weight: int,
        ref: str,
        others: tuple[tuple[str, int], ...] = (),
        respelt: tuple[str, ...] = (),
    ) -> None:
        self.start = start
        self.end = end
        self.label = label
        self.weight = weight
        self.ref = ref
        self.others = others
        self.respelt = respelt


class Meaning:
    """What a form may be under one label; never changed once made."""

    __slots__ = ("careful", "hows", "label", "languages", "others", "refs", "rows", "told", "top")

    def __init__(
        self,
        label: str,
        refs: list[tuple[str, int]],
        others: tuple[tuple[str, int], ...],
        top: int,
        languages: tuple[str, ...],
        told: tuple[str, ...],
        hows: tuple[str, ...],
        careful: bool,
        rows: Sequence[Row],
    ) -> None:
        self.label = label
        self.refs = refs  # The terms, best first, and how far each stands behind the best.
        self.others = others  # All of them but the best.
        self.top = top  # The weight of the best.
        self.languages = languages  # The language of each term; empty for what is no word of a language.
        self.told = told  # The languages for which it speaks, each once.
        self.hows = hows  # How the form was made, each way once.
        self.careful = careful  # Whether it depends on where it stands, however long it is.
        self.rows = rows


Entry = tuple[int, Meaning, int, tuple[str, ...]]
"""An item before the language of the lettering is known: the token after it, what it may be, its weight, how it was respelt."""
Met = tuple[str, int, int, tuple[str, ...]]
"""A word that may begin at a token: folded, the token after it, its cost, the rules that respelt it."""


class Lexicon:
    """The compiled forms, found by longest and all shorter matches over word sequences."""

    def __init__(self, compiled: Mapping[str, Any], forms: Mapping[str, Sequence[Row]], spelling: Spelling) -> None:
        self._weights: dict[str, int] = compiled["grammar"]["lookup"]
        self._home: list[str] = compiled["home"]
        self._superlatives = frozenset(compiled["superlatives"])
        self._spelling = spelling
        self._languages_of = {slug: str(entry["language"]) for slug, entry in compiled["terms"].items()}
        self._at_home_gain: int = self._weights["at-home"]
        self._alone: dict[str, tuple[str, ...]] = {}
        self._courtesy = self._meaning("dedicatory", {"dedicatory": self._weights["superlative"]}, (), ())
        meanings = {id(rows): self._meanings(rows) for rows in compiled["forms"]["rows"]}  # which many forms share
        self._forms = {key: meanings[id(rows)] for key, rows in forms.items()}
        prefixes: set[str] = set()
        for key in forms:
            before = key.rpartition(" ")[0]
            while before and before not in prefixes:
                prefixes.add(before)
                before = before.rpartition(" ")[0]
        self._prefixes = prefixes

    def _meanings(self, rows: Sequence[Row]) -> tuple[Meaning, ...]:
        """What the rows of a form say, label by label."""
        if len(rows) == 1:
            return (self._single(rows[0]),)
        if len(rows) == 2 and rows[0][0] != rows[1][0]:
            return self._single(rows[0]), self._single(rows[1])
        by_label: dict[str, list[Row]] = {}
        for row in rows:
            by_label.setdefault(row[0], []).append(row)
        found = []
        for label, same in by_label.items():
            if len(same) == 1:
                found.append(self._single(same[0]))
                continue
            weights: dict[str, int] = {}
            for _, ref, weight, _ in same:
                weights[ref] = max(weight, weights.get(ref, weight))
            found.append(self._meaning(label, weights, tuple({row[3]: None for row in same}), same))
        return tuple(found)

    def _single(self, row: Row) -> Meaning:
        """What one row says; most forms are of one term under a label."""
        label, ref, weight, how = row
        language = self.language(ref)
        languages = self._alone.setdefault(language, (language,))  # shared: there are ten thousand such rows
        hows = self._alone.setdefault(how, (how,))
        careful = label in CAREFUL or how not in SOUND
        return Meaning(label, [(ref, 0)], (), weight, languages, languages if language else (), hows, careful, ())

    def _meaning(self, label: str, weights: dict[str, int], hows: tuple[str, ...], rows: Sequence[Row]) -> Meaning:
        """What a form may be under a label, from the weights of its terms."""
        ranked = list(weights.items())
        if len(ranked) > 1:
            ranked.sort(key=_best_first)
        top = ranked[0][1]
        refs = [(ref, weight - top) for ref, weight in ranked]
        languages = tuple([self.language(ref) for ref, _ in refs])
        told = tuple({language: None for language in languages if language})
        careful = label in CAREFUL or not SOUND.issuperset(hows)
        return Meaning(label, refs, tuple(refs[1:]), top, languages, told, hows, careful, rows)

    def items(self, tokens: list[Token]) -> list[list[Item]]:
        """For each token, the items that begin with it; terms of the lettering's language stand a little higher."""
        meant: dict[str, list[Spelt]] = {}
        for token in tokens:
            if token.full not in meant:
                meant[token.full] = self._spelling.alternatives(token.full)
        met = [self._met(tokens, index, meant[token.full]) for index, token in enumerate(tokens)]
        found = [self._from(tokens, met, index) for index in range(len(tokens))]
        gains = self._gains(found)
        return [[self._at_home(start, entry, gains) for entry in row] if row else [] for start, row in enumerate(found)]

    def _gains(self, found: list[list[Entry]]) -> dict[str, int]:
        """What a term gains by its language; a word of several languages speaks for each in part."""
        votes: dict[str, int] = dict.fromkeys(self._home, HOME_VOTES)
        for row in found:
            for entry in row:
                told = entry[1].told
                for language in told:
                    votes[language] = votes.get(language, 0) + 60 // len(told)
        total = sum(votes.values())
        gain = self._at_home_gain
        return {language: gain * (vote * 1000 // total) // 1000 for language, vote in votes.items()} if total else {}

    def language(self, ref: str) -> str:
        """The language of a term or a telling word; empty for anything else."""
        if ref.startswith(LANGUAGE_MARK):
            return ref[1:]
        return self._languages_of.get(ref, "")

    def _at_home(self, start: int, entry: Entry, gains: dict[str, int]) -> Item:
        """The item of an entry, its terms each gaining by its language's share and ranked anew."""
        after, meaning, weight, respelt = entry
        label, refs, others = meaning.label, meaning.refs, meaning.others
        ref = refs[0][0]
        if label in SPEAKING:
            if others:
                ranked = [
                    (each, behind + gains.get(language, 0))
                    for (each, behind), language in zip(refs, meaning.languages, strict=True)
                ]
                ranked.sort(key=_best_first)
                ref, top = ranked[0]
                weight += top
                others = tuple([(each, behind - top) for each, behind in ranked[1:]])
            else:
                weight += gains.get(meaning.languages[0], 0)
        return Item(start, after, label, weight, ref, others, respelt)

    def _met(self, tokens: list[Token], index: int, meant: list[Spelt]) -> list[Met]:
        """The words that may begin at a token."""
        token = tokens[index]
        joined, after = token.full, index + 1
        found = [(word, after, cost, rules) for word, cost, rules in meant]
        if token.plain != joined and len(token.plain) > 1:
            found.append((token.plain, after, 0, ()))
        if after == len(tokens):
            return found
        gap = tokens[after].gap
        if gap in JOINING:
            while after < len(tokens) and tokens[after].gap in JOINING and len(joined) < JOINED_LENGTH:
                cost = self._weights["join-" + tokens[after].gap]
                joined += tokens[after].full
                after += 1
                if self._spelling.is_word(joined):
                    found.append((joined, after, cost, ()))
        elif gap in "np" and tokens[after].shape == "l" and len(joined) >= 3:
            joined += tokens[after].full
            if len(joined) >= 6 and self._spelling.is_word(joined):
                found.append((joined, after + 1, self._weights["join-line"], ()))
        return found

    def _from(self, tokens: list[Token], met: list[list[Met]], start: int) -> list[Entry]:
        """All entries that begin at one token."""
        found: list[Entry] = []
        stack = list(met[start])
        several = len(stack) > 1
        while stack:
            key, after, cost, rules = stack.pop()
            for meaning in self._forms.get(key, ()):
                if rules and _not_so_spelt(key, meaning.label, rules):
                    continue
                spelt = cost + self._respelt(tokens[start], key, meaning.label) if rules else cost
                if meaning.careful or len(key) <= SURE_LENGTH:
                    found.append(self._where_it_stands(tokens, start, (key, after, spelt, rules), meaning))
                else:
                    found.append((after, meaning, meaning.top + spelt, rules))
            if key in self._prefixes and after < len(tokens):
                across = cost + self._weights.get("across-" + tokens[after].gap, 0)
                for word, end, more, changed in met[after]:
                    stack.append((key + " " + word, end, across + more, rules + changed))
                several = True
        if (
            start + 1 < len(tokens)
            and tokens[start + 1].gap == "k"
            and tokens[start + 1].full in self._superlatives
            and tokens[start].shape != "i"
        ):
            # Ossequ:mo, Col.ma: a superlative of courtesy, whatever the word
            self._add_courtesy(found, start + 2)
        return self._joined(found) if several and _any_twice(found) else found

    def _respelt(self, token: Token, key: str, label: str) -> int:
        """What it costs more that a word of few letters is met only by a spelling rule: Hale is no Halae, Graves no gravés."""
        if label == "place" and len(key) <= SHORT:
            return self._weights["respelt-place"]
        figures = any(char in DIGITS for char in token.full)  # a figure in a word is a slip of who copied it
        if label in ("front", "back") and token.shape == CAPITALISED and len(key) <= SURNAME and not figures:
            return self._weights["respelt-capital"]
        return 0

    def _add_courtesy(self, found: list[Entry], after: int) -> None:
        """Adds that the tokens up to `after` honour in a dedication, where no entry says so."""
        for end, meaning, _, _ in found:
            if end == after and meaning.label == self._courtesy.label and self._courtesy.refs[0] in meaning.refs:
                return
        found.append((after, self._courtesy, self._courtesy.top, ()))

    def _where_it_stands(
        self,
        tokens: list[Token],
        start: int,
        met: Met,
        meaning: Meaning,
    ) -> Entry:
        """The entry of a meaning that depends on where it stands."""
        key, after, cost, rules = met
        costs = [self._unmarked(tokens, start, after, key, meaning.label, how) for how in meaning.hows]
        if len(costs) == 1 or min(costs) == max(costs):
            return after, meaning, meaning.top + cost + costs[0], rules
        by_how = dict(zip(meaning.hows, costs, strict=True))
        weights: dict[str, int] = {}
        for _, ref, weight, how in meaning.rows:
            weights[ref] = max(weight + by_how[how], weights.get(ref, weight + by_how[how]))
        here = self._meaning(meaning.label, weights, meaning.hows, meaning.rows)
        return after, here, here.top + cost, rules

    def _joined(self, entries: list[Entry]) -> list[Entry]:
        """The entries, those of one label and one end made one: of each term the weightiest counts, of equals the least respelt."""
        best: dict[tuple[int, str], list[Entry]] = {}
        for entry in entries:
            best.setdefault((entry[0], entry[1].label), []).append(entry)
        return [self._one(each) if len(each) > 1 else each[0] for each in best.values()]

    def _one(self, entries: list[Entry]) -> Entry:
        """Several entries of one label and one end as one."""
        weights: dict[str, int] = {}
        respelt: dict[str, tuple[str, ...]] = {}
        for _, meaning, top, rules in entries:
            for ref, behind in meaning.refs:
                weight = top + behind
                before = weights.get(ref)
                if before is None or before < weight or (before == weight and len(rules) < len(respelt[ref])):
                    weights[ref] = weight
                    respelt[ref] = rules
        meaning = self._meaning(entries[0][1].label, weights, (), ())
        return entries[0][0], meaning, meaning.top, respelt[meaning.refs[0][0]]

    def _plain(self, key: str) -> bool:
        """Whether a word is an everyday word as well."""
        return any(meaning.label in PLAIN for meaning in self._forms.get(key, ()))

    def _unmarked(self, tokens: list[Token], start: int, after: int, key: str, label: str, how: str) -> int:
        """What it costs that a short form lacks its stop, or that a phrase is broken by a sign."""
        if how in SOUND and label not in CAREFUL and len(key) > SURE_LENGTH:
            return 0
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
        if label == "conj" and last.stop and last.shape == CAPITALISED:
            return self._weights["letter-stop"]  # And. is Andreas
        if label == "firm" and last.shape == "l" and len(last.full) == 1 and after - start <= 2:
            return self._weights["et-cetera"]
        joined = label in ("firm", "post", "kin") and last.shape == "i" and after - start > 1
        if (label == "firm" and letters <= SURE_LENGTH) or (joined and tokens[start].shape == "x"):
            return self._company(tokens[after] if after < len(tokens) else None, letters)
        if how == "sign" and tokens[start].shape == "l":
            return self._weights["lower-siglum"]
        if after < len(tokens) and (how == "sign" or tokens[after].gap == "k"):
            cost = self._before(tokens[after], letters, label, how)
            if cost:
                return cost
        if label not in ("front", "back") or (after - start > 1 and how in ("short", "cut")):
            return 0
        return self._stops(last, letters, key, label, how)

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


def _any_twice(entries: list[Entry]) -> bool:
    """Whether any two of some entries have one label and one end; there are too few of them for a set to be quicker."""
    for at, entry in enumerate(entries):
        for before in range(at):
            other = entries[before]
            if other[0] == entry[0] and other[1].label == entry[1].label:
                return True
    return False


def _not_so_spelt(key: str, label: str, rules: Sequence[str]) -> bool:
    """Whether what was read is too far from a form: Parr is no spelling of par, Cort none of corrt, Js none of is, and no notice is guessed."""
    return (
        len(key) < SURE_LENGTH
        or (label == "notice" and GUESSED in rules)
        or ((label in PLAIN or len(key) <= SHORT) and any(rule.startswith("double-") for rule in rules))
    )


def _best_first(ref: tuple[str, int]) -> tuple[int, str]:
    """The order of the terms of one form: the weightiest first, then by name."""
    return -ref[1], ref[0]
