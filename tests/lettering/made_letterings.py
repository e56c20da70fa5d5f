"""Letterings made up from the vocabulary's own words and invented surnames, the same on every run.

They are no texts of real prints. `made_letterings` lays them out as letterings are laid out, in seven languages, with the
habits and slips of engravers and transcribers; `noise` gives text that no engraver ever cut.
"""

from __future__ import annotations

import random
from collections import defaultdict

LANGUAGES = ("la", "fr", "en", "it", "de", "nl", "es")

SYLLABLES = {
    "la": (("Vor", "Cam", "Tel", "Brun", "Sal", "Mer"), ("an", "il", "ert", "ond"), ("ius", "us", "ellus", "inus")),
    "fr": (("Bel", "Tour", "Mar", "Cha", "Ver", "Gou"), ("an", "ill", "ett", "ouv"), ("eau", "ier", "in", "ard", "et")),
    "en": (("Hol", "Wind", "Pen", "Ash", "Marl", "Tick"), ("e", "er", "ing", ""), ("ton", "ford", "well", "ley", "by")),
    "it": (("Bar", "Cos", "Ver", "Lan", "Mor", "Gal"), ("at", "ell", "on", "ucc"), ("i", "ini", "etti", "one", "a")),
    "de": (("Hol", "Brand", "Krei", "Stein", "Vog", "Rup"), ("n", "el", "er", ""), ("berg", "mann", "bach", "hofer")),
    "nl": (("Ver", "Hol", "Kamp", "Rijs", "Boe", "Duyn"), ("en", "el", "st", ""), ("huijsen", "dam", "kens", "broeck")),
    "es": (("Car", "Mor", "Val", "Per", "Sal", "Guz"), ("v", "all", "and", "er"), ("ez", "ero", "illo", "ano")),
}

SHEET_PLACES = (
    "lower left", "lower centre", "lower right", "in image", "upper left", "upper centre", "below image", "verso",
)  # fmt: skip
WAYS = ("plate", "scratched", "letterpress", "pencil", "ink", "stamp", "blind stamp")
HANDS = ("maker", "later", "unknown")
RECORD_DATES = (
    "1612", "159X", "1612~", "17XX", "1650/1670", "1700/..", "../1800", "/1750", "1766-05-03", "[1559,1560]", "1840?", "18XX%",
)  # fmt: skip


class Words:
    """What one language has to say: the words of the vocabulary by what they do in a lettering."""

    def __init__(self, vocabulary, language):
        self.language = language
        self.terms = defaultdict(list)
        for _, term in sorted(vocabulary.terms.items()):
            if term.language != language or term.withdrawn:
                continue
            forms = [term.literal.value, *(text.value for text in (*term.short_forms, *term.variant_forms))]
            if term.shortened_to is not None:
                forms += [term.shortened_to.value + stop for stop in (".", "", ":")]
            roles = any("/role/" in said for sense in term.senses for said in sense.says)
            place = ("front" if term.name_position == "nameAfter" else "back") if roles else "notice"
            self.terms[place].append(forms)
        self.forenames = [
            text.value
            for _, forename in sorted(vocabulary.forenames.items())
            for text in (*forename.labels, *forename.forms, *forename.short_forms)
            if text.lang == language
        ]
        self.towns = [
            text.value
            for _, place in sorted(vocabulary.places.items())
            for text in (*place.labels, *(form.literal for form in place.forms))
            if text.lang == language
        ]
        self.lists = {
            each.word_kind: [text.value for text in each.words]
            for _, each in sorted(vocabulary.word_lists.items())
            if any(text.lang == language for text in each.words)
        }


class Maker:
    """Makes letterings of one language, one after the other, by one source of chance."""

    def __init__(self, words, chance, techniques):
        self.words = words
        self.chance = chance
        self.techniques = techniques

    def word(self, kind):
        return self.chance.choice(self.words.lists.get(kind, ["et"]))

    def term(self, place):
        return self.chance.choice(self.chance.choice(self.words.terms[place] or self.words.terms["back"]))

    def surname(self):
        return "".join(self.chance.choice(part) for part in SYLLABLES[self.words.language])

    def name(self):
        chance = self.chance
        first, last = chance.choice(self.words.forenames), self.surname()
        letter, other = chance.choice("ABCDEFGHIJLMNPRSTVW"), chance.choice("ABCDFGIJLMPV")
        name = chance.choice(
            (
                f"{first} {last}",
                f"{letter}. {last}",
                f"{letter}.{last}",
                f"{letter} {last}",
                f"{letter}. {other}. {last}",
                f"{first} {letter}. {last}",
                f"{first[:3]}. {self.word('particle')} {last}",
                f"{letter}. {self.word('particle')} {last}",
                f"{self.word('honorific')} {last}",
                f"{first} {last} {self.word('origin')}",
                f"{first} {last} {self.word('kin')}",
                f"{letter}. {last} {self.word('postnominal')}",
                f"{first} {last}, {self.word('office')}",
                f"{self.word('kin')} {last}",
                last,
                f"{letter}{other}{last[0]}",
                self.word("sameman"),
            )
        )
        return name.upper() if chance.random() < 0.1 else name

    def firm(self):
        joined = self.word("conjunction")
        return self.chance.choice(
            (
                f"{self.surname()} {self.word('firm')}",
                f"{self.surname()} {joined} {self.surname()}",
                f"{self.surname()} {joined} {self.word('particle')} {self.surname()}",
                f"{self.surname()} {self.surname()} {joined} {self.surname()}",
                f"{self.word('honorific')} {self.surname()} {joined} {self.surname()}",
                f"{self.chance.choice(self.words.forenames)} {joined} {self.surname()}",
                f"{self.surname()[0]}. {joined} {self.surname()[0]}. {self.surname()}",
                f"{self.surname()}, {self.surname()} {joined} {self.surname()}",
                self.name(),
            )
        )

    def date(self):
        chance = self.chance
        year = chance.randint(1450, 1920)
        return chance.choice(
            (
                str(year),
                f"{chance.randint(1, 28)} {self.word('month')} {year}",
                f"{self.word('month')} {chance.randint(1, 28)}.th {year}",
                roman(year),
                roman(year).lower(),
                "i" + str(year)[1:],
                f"A.o {year}",
                f"th {year}",
                f"{self.word('month')} {chance.randint(1, 31)}",
            )
        )

    def sentence(self):
        """Words of a title or a verse, which are to stay unread."""
        subject = [self.word("subjectword") for _ in range(self.chance.randint(1, 3))]
        return " ".join([*subject, *(self.surname().lower() for _ in range(self.chance.randint(0, 4)))])

    def clause(self):
        """One statement or notice, as it may stand on a line."""
        back, front, name, joined = self.term("back"), self.term("front"), self.name(), self.word("conjunction")
        town, date = self.chance.choice(self.words.towns), self.date()
        return self.chance.choice(
            (
                f"{name} {back}",
                f"{name} {back}",
                f"{name}, {back}",
                f"{back} {name}",
                f"{front} {name}",
                f"{front} {name} {front} {self.name()}",
                f"{name} {joined} {self.name()} {back}",
                f"{name} {back} {joined} {self.term('back')}",
                f"{name} {back}. {self.name()} {self.term('back')}",
                f"{name} {back} {self.word('sameman')} {self.term('back')}",
                f"{name} {back} {date}",
                f"{town} {front} {self.firm()} {self.word('street')} {self.surname()}",
                f"{front} {self.firm()} {self.word('preposition')} {town} {date}",
                f"{front} {date} {self.word('agent')} {self.firm()}, {self.word('street')} {self.surname()}",
                f"{back} {self.word('agent')} {name}",
                f"{self.term('notice')} {self.word('grantor')}",
                f"{self.term('notice')} {town} {date}",
                f"{self.word('dedicatory')} {self.word('honorific')} {name} {back} {self.name()}",
                name,
                town + " " + date,
                self.sentence(),
                f"{self.chance.randint(1, 120)}/{self.chance.randint(1, 150)} {name}",
            )
        )

    def slipped(self, text):
        """The text with one habit of engravers or transcribers, or one slip."""
        chance = self.chance
        at = chance.randrange(len(text) + 1)
        word = chance.choice(text.split() or [""])
        return chance.choice(
            (
                text.upper(),
                text.replace("s", "ſ"),
                text.replace("u", "v") if chance.random() < 0.5 else text.replace("v", "u"),
                text.replace("i", "j").replace("ae", "æ"),
                text.replace(" ", ""),
                text.replace(" ", " / ", 1),
                text[:at] + "/" + text[at:],
                text[:at] + " | " + text[at:],
                text.replace(". ", ".", 1),
                text.replace(word, f"[{word}]", 1),
                text.replace(word, word[:2] + f"[{word[2:]}]", 1),
                text.replace(word, f"[[{word}]]", 1),
                text + " [sic]",
                text[:at] + "[?]" + text[at:],
                text[:at] + "[...]" + text[at:],
                text.replace(word, f"({word})", 1),
                text[:at] + text[at : at + 1] * 2 + text[at + 1 :],
                text[:at] + text[at + 1 :],
                text[:at] + text[at + 1 : at + 2] + text[at : at + 1] + text[at + 2 :],
                text.replace("t.", "^t", 1),
                text.replace(word, word[:-1] + "." + word[-1:], 1),
                text.replace("m", "\u0304", 1),
                text.replace(" ", "   ", 1),
                text.replace(" ", " - ", 1),
                text + chance.choice((",", ";", ":", " ...", ".", "—")),
            )
        )

    def lettering(self):
        """One record, as a line of a batch."""
        chance = self.chance
        lines = []
        for _ in range(chance.choice((1, 1, 2, 2, 3, 4))):
            text = self.clause()
            for _ in range(chance.choice((0, 0, 0, 1, 1, 2))):
                text = self.slipped(text)
            line = {"text": text}
            if chance.random() < 0.5:
                line["place"] = chance.choice(SHEET_PLACES)
            if chance.random() < 0.15:
                line["how"] = chance.choice(WAYS)
            if chance.random() < 0.1:
                line["hand"] = chance.choice(HANDS)
            if chance.random() < 0.15:  # a line ends in the middle of a word
                at = chance.randrange(len(text) + 1)
                lines.append({**line, "text": text[:at]})
                line["text"] = text[at:]
            lines.append(line)
        record = {"lines": lines}
        if chance.random() < 0.3:
            record["date"] = chance.choice(RECORD_DATES)
        if chance.random() < 0.3:
            record["technique"] = chance.choice(
                (*self.techniques, "Etching and engraving", "map", "Lithograph, coloured")
            )
        if chance.random() < 0.5:
            record["complete"] = chance.choice(("yes", "yes", "trimmed", "part", "unknown"))
        return record


def roman(year):
    """A year in Roman numerals."""
    out = ""
    for value, letters in zip(
        (1000, 900, 500, 400, 100, 90, 50, 40, 10, 9, 5, 4, 1),
        ("M", "CM", "D", "CD", "C", "XC", "L", "XL", "X", "IX", "V", "IV", "I"),
        strict=True,
    ):
        out += letters * (year // value)
        year %= value
    return out


def made_letterings(vocabulary, techniques, number, seed=1):
    """That many records, the languages in turn; `techniques` are words that the technique of a record may be."""
    makers = [
        Maker(Words(vocabulary, language), random.Random(f"{seed} {language}"), techniques) for language in LANGUAGES
    ]
    return [{"id": f"m{index}", **makers[index % len(makers)].lettering()} for index in range(number)]


POOLS = (
    "abcdefghijklmnopqrstuvwxyz",
    "ABCDEFGHIJKLMNOPQRSTUVWXYZ",
    "0123456789",
    "..::,,;;//||--&&''’’[[]]((()))^*°·…?!=~_#@",
    "     \t\n\r\v\f\x1c\x1f\x85\xa0\u2003\u2028\u2029\u3000",
    "ſßæœøđłþðıİẞǅﬁﬀꝓꝑꝗªº²½Ⅳⅿ",
    "éèêëñçãőűąęåØÆŒÅÉ",
    "\u0300\u0301\u0304\u0308\u0323\u20dd\u200b\u200d\u200e\u200f\u202e\u2066\u2069\ufeff\u00ad",
    "\x00\x01\x07\x1b\x7f\ufffd\uffff\ue000",
    "αβγΣς жЯ אב عرب ٣४ 永 ｆｕｌｌＷＩＤＴＨ ９",
    "𝔄𝒷𝟗𐐀𐐨🖼👩‍🎨𠀀🄰\U0001f1e6\U000e0041\U0010ffff",
)
"""Characters by kind: a text of noise takes some of them, so that each kind meets each other."""

NAMES_OF_METHODS = ("constructor", "__proto__", "toString", "hasOwnProperty", "valueOf", "length", "undefined", "NaN")
"""Words that a careless host would find in its own objects."""


def noise(vocabulary, number, seed=2):
    """That many records of text without sense, words of the vocabulary among it."""
    chance = random.Random(f"{seed} noise")
    terms = [term.literal.value for _, term in sorted(vocabulary.terms.items())]
    records = []
    for index in range(number):
        pools = chance.sample(POOLS, chance.randint(1, 5))
        lines = []
        for _ in range(chance.randint(0, 4)):
            parts = [
                chance.choice(chance.choice(pools))
                if chance.random() < 0.85
                else chance.choice((*terms, *NAMES_OF_METHODS))
                for _ in range(chance.choice((0, 3, 10, 30, 80)))
            ]
            text = "".join(parts)
            lines.append(
                text
                if chance.random() < 0.5
                else {"text": text, "place": chance.choice((*SHEET_PLACES, "", text[:5], None))}
            )
        records.append({"id": index if chance.random() < 0.5 else "".join(chance.sample(POOLS[10], 3)), "lines": lines})
    return records


def long_letterings():
    """Letterings at the limit of length and one beyond it, each of one thing again and again."""
    pieces = (
        "a'",
        "[",
        "]",
        "[a",
        "(",
        "[[x]]",
        "A",
        "a.",
        "I. ",
        "i",
        "1/",
        "M",
        "& ",
        "\u0301",
        "𝔄",
        "Io. Verrou inv. et sc. ",
        "\n",
    )
    records = [{"lines": [(piece * 2000)[:2000]]} for piece in pieces]
    return [*records, {"lines": ["x" * 20_000]}, {"lines": ["𝔄" * 10_000] * 2}, {"lines": ["𝔄" * 10_001] * 2}]
