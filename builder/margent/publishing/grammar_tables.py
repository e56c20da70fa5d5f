"""The reader's grammar and settings, resolved from the rules of vocab/reading/ into the plain tables that hosts interpret."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from margent.faults import Fault
from margent.vocabulary.model import Supported, Vocabulary
from margent.vocabulary.reading_rules import (
    Arc,
    Bond,
    ConfidencePoint,
    EndState,
    Exchange,
    LabelScore,
    NamedScore,
    NameOpening,
    NameStart,
    Setting,
    ShapeReading,
    SheetPlaceScore,
    Template,
    UnlabelledRule,
)


@dataclass(slots=True)
class GrammarTables:
    """Everything of vocab/reading/ that is not a word list or a spelling rule."""

    arcs: list[tuple[str, str, str, int, str]] = field(default_factory=list)
    """From state, label, to state, score, bond."""
    final: dict[str, int] = field(default_factory=dict)
    bonds: dict[str, dict[str, int]] = field(default_factory=dict)
    """Bond -> class of gap -> score; a gap that is not there scores nothing."""
    shapes: dict[str, list[tuple[str, int, str]]] = field(default_factory=dict)
    labels: dict[str, int] = field(default_factory=dict)
    places: dict[str, int] = field(default_factory=dict)
    scores: dict[str, int] = field(default_factory=dict)
    settings: dict[str, list[str]] = field(default_factory=dict)
    exchanges: dict[str, dict[str, str]] = field(default_factory=dict)
    templates: dict[str, str] = field(default_factory=dict)
    confidence: list[tuple[int, int]] = field(default_factory=list)
    unlabelled: list[UnlabelledRule] = field(default_factory=list)

    def setting(self, key: str) -> list[str]:
        """The words of a setting; raises Fault where the vocabulary has none."""
        if key not in self.settings:
            raise Fault(f"vocab/reading/ has no mg:Setting with mg:key {key!r}; the reader needs it: add one")
        return self.settings[key]


def grammar_tables(vocabulary: Vocabulary) -> GrammarTables:
    """The tables of a vocabulary, in an order that does not depend on its files."""
    tables = GrammarTables()
    rules = sorted(vocabulary.reading_rules.values(), key=lambda rule: rule.iri)
    openings = [rule for rule in rules if isinstance(rule, NameOpening)]
    bonds = {rule.name for rule in rules if isinstance(rule, Bond)}
    for rule in rules:
        for arc in _arcs(rule, openings):
            if arc[4] not in bonds:
                raise Fault(
                    f"{rule.iri}: names the bond {arc[4]!r}, which no mg:Bond describes; describe it or mend the name"
                )
            tables.arcs.append(arc)
        _enter(tables, rule)
    tables.arcs = sorted(set(tables.arcs))
    tables.confidence.sort()
    tables.unlabelled.sort(key=lambda rule: (rule.order, rule.iri))
    return tables


def _arcs(rule: Supported, openings: list[NameOpening]) -> Iterator[tuple[str, str, str, int, str]]:
    """The single arcs that a rule stands for."""
    if isinstance(rule, Arc):
        for label in rule.labels:
            if rule.contexts:
                for context in rule.contexts:
                    yield f"{rule.source}@{context}", label, f"{rule.target}@{context}", rule.score, rule.bond
            else:
                yield rule.source, label, rule.target, rule.score, rule.bond
    elif isinstance(rule, NameStart):
        for source in rule.sources:
            for opening in openings:
                for label in opening.labels:
                    if not rule.labels or label in rule.labels:
                        yield source, label, f"{opening.target}@{rule.context}", opening.score + rule.score, rule.bond


def _enter(tables: GrammarTables, rule: Supported) -> None:
    """Puts a rule where its class belongs."""
    match rule:
        case EndState():
            tables.final.update(dict.fromkeys(rule.states, rule.score))
        case Bond():
            tables.bonds[rule.name] = {gap: each.score for each in rule.gap_scores for gap in each.gaps}
        case ShapeReading():
            tables.shapes.setdefault(rule.shape, []).append((rule.label, rule.score, rule.unless))
        case LabelScore():
            tables.labels[rule.label] = rule.score
        case SheetPlaceScore():
            tables.places.update(dict.fromkeys(rule.sheet_places, rule.score))
        case NamedScore():
            tables.scores[rule.key] = rule.score
        case Setting():
            tables.settings[rule.key] = sorted(rule.values)
        case Exchange():
            tables.exchanges.setdefault(rule.key, {}).update(dict.fromkeys(rule.find, rule.put))
        case Template():
            tables.templates[rule.key] = rule.wording.value
        case ConfidencePoint():
            tables.confidence.append((rule.raw, rule.confidence))
        case UnlabelledRule():
            tables.unlabelled.append(rule)


def plain_numbers(exchange: dict[str, str]) -> dict[str, int]:
    """An exchange whose values are whole numbers."""
    found: dict[str, Any] = {}
    for find, put in exchange.items():
        if not put.lstrip("-").isdigit():
            raise Fault(f"vocab/reading/: {find!r} stands for {put!r}, which is no whole number; write figures")
        found[find] = int(put)
    return found
