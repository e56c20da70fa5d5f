"""What a newer version breaks for those who use the older one.

An IRI that has vanished, a name that now leads to another entry, an entry that has become something else, a role or a sense
that means less than before. Withdrawing an entry breaks nothing: its IRI and page stay and say what took its place.
"""

from __future__ import annotations

from collections.abc import Iterator

from pyoxigraph import Literal, NamedNode

from margent.vocabulary.compare import Break, Value, Version, short_iri, written
from margent.vocabulary.namespaces import MG, TYPE, expand, shorten

_BROADER = expand("skos:broader")
_SAYS = expand("mg:says")
_ROLE = expand("mg:Role")
_REPLACED_BY = expand("dcterms:isReplacedBy")
# What an entry is looked up by: of one kind, a name leads to one entry.
_LOOKED_UP = (expand("skos:prefLabel"), expand("skosxl:literalForm"))
_MATCHES = {expand("skos:exactMatch"): (expand("skos:broadMatch"), expand("skos:narrowMatch"))}
_RESTORE = "put the entry back with owl:deprecated true, and dcterms:isReplacedBy with what took its place"


def breaks(old: Version, new: Version) -> tuple[Break, ...]:
    """Everything that breaks, in the order of the IRIs."""
    return tuple(
        sorted(
            [
                *_vanished(old, new),
                *_of_another_kind(old, new),
                *_moved(old, new),
                *_narrowed_roles(old, new),
                *_narrowed_senses(old, new),
                *_looser_matches(old, new),
            ],
            key=lambda each: (each.iri, each.what),
        )
    )


def _vanished(old: Version, new: Version) -> Iterator[Break]:
    """Entries, and words of the ontology, that are no longer there."""
    for iri in old.entries() - new.said.keys():
        if not old.name(iri):  # a rule of the reader: nobody outside refers to it
            continue
        yield Break(iri, "has vanished; whoever holds its IRI now holds nothing", _RESTORE)
    if any(iri.startswith(MG) for iri in new.said):  # an authority has no ontology
        for iri in old.said.keys() - new.said.keys():
            if iri.startswith(MG):
                yield Break(iri, "has vanished from the ontology", "put it back with owl:deprecated true")


def _of_another_kind(old: Version, new: Version) -> Iterator[Break]:
    """Entries of which a class was taken away."""
    for iri in old.entries() & new.said.keys():
        was, now = old.said[iri].get(TYPE, frozenset()), new.said[iri].get(TYPE, frozenset())
        if was - now:
            gone, come = (", ".join(sorted(shorten(kind.value) for kind in each)) for each in (was - now, now - was))
            what = f"is no longer {gone}" + (f" but {come}" if come else "")
            yield Break(iri, what, "withdraw the entry, and write another one for what it has become")


def _moved(old: Version, new: Version) -> Iterator[Break]:
    """Names that lead to another entry than before."""
    before, after = _names(old), _names(new)
    for key, iris in before.items():
        _kind, prop, name = key
        here = after.get(key, set())
        others = here - iris  # one that bore the name before has taken nothing away
        for iri in iris - here:
            proper = new.withdrawn(iri) and not _replacements(new, iri).isdisjoint(others)
            if others and iri in new.said and not proper:
                there = ", ".join(f"<{short_iri(other, new.bases)}>" for other in sorted(others))
                what = f"has lost the name {written(name, ())}, which now leads to {there}"
                mend = f"leave {shorten(prop)} where it was, or withdraw the entry with dcterms:isReplacedBy"
                yield Break(iri, what, mend)


def _names(version: Version) -> dict[tuple[str, str, Value], set[str]]:
    """What each name leads to, by kind of entry and property. A withdrawn entry leads nobody."""
    found: dict[tuple[str, str, Value], set[str]] = {}
    for iri, properties in version.said.items():
        if version.withdrawn(iri):
            continue
        for prop in _LOOKED_UP:
            for name in properties.get(prop, ()):
                for kind in properties.get(TYPE, ()):
                    found.setdefault((kind.value, prop, name), set()).add(iri)
    return found


def _replacements(version: Version, iri: str) -> set[str]:
    return {value.value for value in version.said.get(iri, {}).get(_REPLACED_BY, ())}


def _above(version: Version, iri: str) -> set[str]:
    """Everything broader than the role."""
    found: set[str] = set()
    ahead = [iri]
    while ahead:
        for value in version.said.get(ahead.pop(), {}).get(_BROADER, ()):
            if value.value not in found:
                found.add(value.value)
                ahead.append(value.value)
    return found


def _roles(version: Version) -> set[str]:
    return {iri for iri, said in version.said.items() if NamedNode(_ROLE) in said.get(TYPE, frozenset())}


def _narrowed_roles(old: Version, new: Version) -> Iterator[Break]:
    """Roles that were put below another role that was there before, and that they were not below."""
    for iri in sorted(_roles(old) & _roles(new)):
        if new.said[iri].get(_BROADER) == old.said[iri].get(_BROADER):  # what changed further up is told there
            continue
        lower = (_above(new, iri) - _above(old, iri) - {iri}) & old.said.keys()
        if lower and not new.withdrawn(iri):
            names = ", ".join(f"<{short_iri(each, new.bases)}>" for each in sorted(lower))
            yield Break(
                iri,
                f"has been narrowed: it is now a kind of {names}",
                "keep it where it was and add a narrower role beside it; who recorded it meant the broader one",
            )


def _narrowed_senses(old: Version, new: Version) -> Iterator[Break]:
    """Senses that now say a narrower role than they said."""
    for iri, said in old.said.items():
        was, now = said.get(_SAYS, frozenset()), new.said.get(iri, {}).get(_SAYS, frozenset())
        for come in now - was:
            for gone in was - now:
                if gone.value in _above(new, come.value):
                    yield Break(
                        iri,
                        f"says {written(come, new.bases)} where it said the broader {written(gone, new.bases)}",
                        "keep the broader role, and add a sense with the condition under which it is the narrower one",
                    )


def _looser_matches(old: Version, new: Version) -> Iterator[Break]:
    """Outside terms that an entry matched exactly and now only about."""
    for iri in old.entries() & new.said.keys():
        for exact, looser in _MATCHES.items():
            lost = old.said[iri].get(exact, frozenset()) - new.said[iri].get(exact, frozenset())
            for match in sorted(lost, key=str):
                if any(match in new.said[iri].get(prop, frozenset()) for prop in looser):
                    assert not isinstance(match, Literal)
                    yield Break(
                        iri,
                        f"no longer matches {written(match, new.bases)} exactly",
                        "withdraw the entry if it was never the same thing; catalogues have merged the two",
                    )
