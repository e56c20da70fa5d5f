"""One language of the site: its words for what the templates say, for years, numbers and languages, and its labels."""

from __future__ import annotations

import datetime as dt
import gettext
import re
from collections.abc import Iterable

from babel import Locale
from babel.dates import format_date, format_skeleton
from babel.numbers import format_decimal

from margent.publishing import wording
from margent.publishing.messages import SOURCE, Language
from margent.vocabulary.model import Edtf, Text

_DAY = re.compile(r"(\d{4})-(0[1-9]|1[0-2])(?:-(0[1-9]|[12]\d|3[01]))?")


class Tongue:
    """The language in which pages are written; its pages lie in a folder of its tag, those of the source language at the top."""

    def __init__(self, language: Language) -> None:
        self.tag = language.tag
        self.folder = "" if language.tag == SOURCE else f"{language.tag}/"
        self._translations: gettext.NullTranslations = language.translations

    def own_name(self) -> str:
        """What the language calls itself."""
        return Locale(self.tag).get_display_name() or self.tag

    def say(self, message: str) -> str:
        """The message in this language."""
        return self._translations.gettext(message) if message else ""

    def ngettext(self, singular: str, plural: str, number: int) -> str:
        """The message for so many."""
        return self._translations.ngettext(singular, plural, number)

    def best(self, texts: Iterable[Text]) -> Text | None:
        """The text in this language, else in English, else the first; None without any."""
        first = english = None
        for text in texts:
            if text.lang == self.tag:
                return text
            if english is None and text.lang == SOURCE:
                english = text
            first = first or text
        return english or first

    def language_name(self, tag: str) -> str:
        """The name of a language, or the tag where we have no name for it."""
        return self.say(wording.LANGUAGES[tag]) if tag in wording.LANGUAGES else tag

    def worded(self, choice: str) -> str:
        """A choice of the ontology in words; any other text as a message."""
        return self.say(wording.CHOICES.get(choice, choice))

    def number(self, number: int) -> str:
        """A whole number for reading, its thousands set apart."""
        return format_decimal(number, locale=self.tag)

    def size(self, size: int) -> str:
        """A size in bytes for reading, in thousands: `14.3 MB`."""
        for unit, step in (("MB", 1_000_000), ("kB", 1_000)):
            if size >= step:
                return f"{format_decimal(size / step, format='#,##0.0', locale=self.tag)} {unit}"
        return self.ngettext("%(num)s byte", "%(num)s bytes", size) % {"num": size}

    def share_of(self, part: int, total: int) -> str:
        """A share in whole hundredths, for reading; `under 1 %` rather than none where there is some."""
        if not total:
            return self.say("none")
        share = round(100 * part / total)
        return self.say("under 1 %") if part and not share else f"{share} %"

    def years(self, period: Edtf) -> str:
        """An EDTF date or interval for reading: `1500 to 1900`, `from 1430`, `about 1671`."""
        first, slash, last = period.partition("/")
        if not slash:
            return self._one_of(first) if first[:1] in "[{" else self._date(first)
        if first in ("", ".."):
            return self.say("until %(year)s") % {"year": self._date(last)}
        if last in ("", ".."):
            return self.say("from %(year)s") % {"year": self._date(first)}
        return self.say("%(first)s to %(last)s") % {"first": self._date(first), "last": self._date(last)}

    def _one_of(self, text: str) -> str:
        """A set of dates, of which one is meant: `1559 or 1560`, `between 1755 and 1761`."""
        parts = text.strip("[]{}").split(",")
        if len(parts) > 1:
            between = self.say("or")
            return f" {between} ".join(self._one_of(part.strip()) for part in parts)
        first, dots, last = parts[0].partition("..")
        if not dots:
            return self._date(first)
        if not first or not last:
            return self.years(Edtf(f"{first or '..'}/{last or '..'}"))
        return self.say("between %(first)s and %(last)s") % {"first": self._date(first), "last": self._date(last)}

    def _date(self, text: str) -> str:
        """One date: approximate ones say so, an unknown last figure makes a decade or a century."""
        bare = text.rstrip("?~%")
        day = _DAY.fullmatch(bare)
        if day:
            bare = self._day(bare, *day.groups())
        if bare.endswith("XX") and bare[:-2].isdigit():
            bare = self.say("the %(century)ss") % {"century": f"{bare[:-2]}00"}
        elif bare.endswith("X") and bare[:-1].isdigit():
            bare = self.say("the %(decade)ss") % {"decade": f"{bare[:-1]}0"}
        if text.endswith(("~", "%")):
            bare = self.say("about %(year)s") % {"year": bare}
        return self.say("%(year)s (uncertain)") % {"year": bare} if text.endswith(("?", "%")) else bare

    def _day(self, text: str, year: str, month: str, day: str | None) -> str:
        """A day or a month with its name; one that no calendar has stays as it is written."""
        try:
            whole = dt.date(int(year), int(month), int(day or 1))
        except ValueError:
            return text
        if day:
            return str(format_date(whole, "long", locale=self.tag))
        return str(format_skeleton("yMMMM", whole, locale=self.tag))
