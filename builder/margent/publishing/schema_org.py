"""What a page says to programs that know schema.org: the entry as a DefinedTerm, a Person, an Organization, a Place."""

from __future__ import annotations

import json
import re
from typing import Any

from margent.publishing.pages import followable
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Edtf, Iri, Labelled, Maker, Mark, Place, Source, Supported, Term, Text, Vocabulary

MAKERS = {"Person": "Person", "Firm": "Organization", "Workshop": "Organization"}

_DATE = re.compile(r"\d{4}(?:-\d{2}(?:-\d{2})?)?")
# Inside an element of HTML these would end it, begin another or start an entity.
_UNSAFE = {ord(char): f"\\u{ord(char):04x}" for char in "<>&\u2028\u2029"}


def structured(entry: Supported, vocabulary: Vocabulary, tongue: Tongue, address: str) -> str:
    """The entry as JSON-LD, safe to stand in a page; `address` is that of its page, empty where the site has none."""
    said: dict[str, Any] = {"@context": "https://schema.org", "@id": entry.iri, **_about(entry, vocabulary, tongue)}
    if address:
        said["url"] = address
    return json.dumps(said, ensure_ascii=False, separators=(",", ":")).translate(_UNSAFE)


def _about(entry: Supported, vocabulary: Vocabulary, tongue: Tongue) -> dict[str, Any]:
    if isinstance(entry, Maker):
        return _maker(entry, vocabulary, tongue)
    if isinstance(entry, Source):
        return _present(
            {
                "@type": "CreativeWork",
                "name": entry.title.value,
                "inLanguage": entry.title.lang,
                "author": list(entry.creators),
                "datePublished": _date(entry.issued),
                "sameAs": _addresses(entry.addresses),
            }
        )
    if isinstance(entry, Place):
        return _present(
            {
                "@type": "Place",
                **_named(entry.labels, tongue),
                "sameAs": _addresses((*entry.exact_matches, *entry.close_matches)),
            }
        )
    about: dict[str, Any] = {"@type": "DefinedTerm", "termCode": entry.slug}
    if isinstance(entry, Term):
        about |= {"name": entry.literal.value, "inLanguage": entry.language}
        about["description"] = "; ".join(reason.value for sense in entry.senses for reason in sense.reasons)
    elif isinstance(entry, Labelled):
        about |= _named(entry.labels, tongue)
        about["description"] = _value(tongue.best(entry.definitions))
    elif isinstance(entry, Mark):
        about["name"] = _value(tongue.best(entry.labels)) or entry.letters or entry.slug
        about["description"] = "; ".join(text.value for text in (*entry.arrangements, *entry.devices))
    about["inDefinedTermSet"] = vocabulary.publication.iri
    return _present(about)


def _maker(maker: Maker, vocabulary: Vocabulary, tongue: Tongue) -> dict[str, Any]:
    kind = MAKERS.get(maker.kind, "Thing")
    about: dict[str, Any] = {"@type": kind, **_named(maker.labels, tongue)}
    names = dict.fromkeys([*about.get("alternateName", []), *(form.literal.value for form in maker.name_forms)])
    about["alternateName"] = [name for name in names if name != about.get("name")]
    about["description"] = _value(tongue.best(maker.definitions))
    about["sameAs"] = _addresses(maker.exact_matches)
    if kind == "Person":
        roles = dict.fromkeys(each.role for each in maker.practices)
        known = [vocabulary.roles[role] for role in roles if role in vocabulary.roles]
        about |= {"birthDate": _date(maker.born), "deathDate": _date(maker.died)}
        about["hasOccupation"] = [{"@type": "Occupation", "name": _value(tongue.best(role.labels))} for role in known]
    return _present(about)


def _named(labels: tuple[Text, ...], tongue: Tongue) -> dict[str, Any]:
    name = _value(tongue.best(labels))
    return {
        "name": name,
        "alternateName": [text for text in dict.fromkeys(each.value for each in labels) if text != name],
    }


def _value(text: Text | None) -> str:
    return text.value if text else ""


def _date(date: Edtf | None) -> str:
    """A plain date; one that is uncertain or a span has no form there."""
    return date if date and _DATE.fullmatch(date) else ""


def _addresses(iris: tuple[Iri, ...]) -> list[str]:
    return [iri for iri in iris if followable(iri)]


def _present(about: dict[str, Any]) -> dict[str, Any]:
    """What is there."""
    return {key: value for key, value in about.items() if value}
