"""Everything that `margent score` says, as data and as text: figures in all, by language and period, confusions, confidence."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from margent.exchange.reliability import Bin, bins, brier
from margent.exchange.scoring import Figures, Scorer, Tally, figures, whole
from margent.faults import Fault
from margent.vocabulary.edtf import years

SPAN = 50
"""Years of a period."""
WIDE, UNDATED = f"wider than {SPAN} years", "no date"
UNTOLD = "not said"
"""The language of a record that says none."""

Judged = tuple[Mapping[str, Any], Mapping[str, Any]]
"""A judged lettering and its reading."""


@dataclass(frozen=True, slots=True)
class Group:
    """The figures of some letterings: all of them, or those of a language or a period."""

    name: str
    letterings: int
    close: Figures
    strict: Figures
    whole: float
    whole_interval: tuple[float, float]


@dataclass(frozen=True, slots=True)
class RoleFound:
    """How often a role was judged and how often it was found, the name closely."""

    role: str
    judged: int
    found: int


@dataclass(frozen=True, slots=True)
class Confusion:
    """How often a judged role was taken for one that was read; `right` where that role meets it."""

    judged: str
    read: str
    times: int
    right: bool


@dataclass(frozen=True, slots=True)
class Report:
    """What a comparison of readings with judged letterings shows."""

    all: Group
    roles: list[RoleFound]
    languages: list[Group]
    periods: list[Group]
    confusions: list[Confusion]
    bins: list[Bin]
    statements: int
    right: float
    brier: float
    tallies: list[Tally]


def report_of(scorer: Scorer, pairs: Sequence[Judged]) -> Report:
    """The whole report; raises Fault for a record whose date or judged role cannot be used."""
    tallies = [scorer.tally(record, reading) for record, reading in pairs]
    confusions = Counter(pair for record, reading in pairs for pair in scorer.taken_for(record, reading))
    sure = [pair for record, reading in pairs for pair in confidences(scorer, record, reading)]
    return Report(
        all=_group("all", tallies),
        roles=[RoleFound(*each) for each in scorer.by_role(pairs)],
        languages=_groups(pairs, tallies, lambda record: str(record.get("lang") or UNTOLD), by_size=True),
        periods=_groups(pairs, tallies, period, by_size=False),
        confusions=[
            Confusion(judged, read, times, scorer.meets(judged, read))
            for (judged, read), times in sorted(confusions.items(), key=lambda pair: (-pair[1], pair[0]))
        ],
        bins=bins(sure),
        statements=len(sure),
        right=sum(right for _, right in sure) / max(len(sure), 1),
        brier=brier(sure),
        tallies=tallies,
    )


def confidences(scorer: Scorer, record: Mapping[str, Any], reading: Mapping[str, Any]) -> list[tuple[float, bool]]:
    """The confidence of each statement of a reading, and whether it is right."""
    named = [each for each in reading.get("statements", ()) if each.get("name")]
    return [
        (float(each["confidence"]), right)
        for each, right in zip(named, scorer.right(record, reading), strict=True)
        if isinstance(each.get("confidence"), int | float)
    ]


def period(record: Mapping[str, Any]) -> str:
    """The fifty years in which the middle of a record's date lies, for dates that are told within fifty years.

    >>> period({"date": "1640~"}), period({"date": "1745/1755"}), period({"date": "17XX"}), period({})
    ('1600–1649', '1750–1799', 'wider than 50 years', 'no date')
    """
    if not record.get("date"):
        return UNDATED
    try:
        first, last = years(str(record["date"]))
    except ValueError:
        raise Fault(
            f"{record.get('id')}: {record['date']!r} is no date in EDTF: write 1612, 1612~, 161X or 1610/1614"
        ) from None
    if last - first > SPAN:
        return WIDE
    begin = (first + last) // 2 // SPAN * SPAN
    return f"{begin}–{begin + SPAN - 1}"


def _groups(
    pairs: Sequence[Judged], tallies: Sequence[Tally], key: Callable[[Mapping[str, Any]], str], by_size: bool
) -> list[Group]:
    parts: dict[str, list[Tally]] = {}
    for (record, _), tally in zip(pairs, tallies, strict=True):
        parts.setdefault(key(record), []).append(tally)
    ordered = sorted(parts, key=lambda name: (-len(parts[name]) if by_size else 0, name))
    return [_group(name, parts[name]) for name in ordered]


def _group(name: str, tallies: Sequence[Tally]) -> Group:
    share, interval = whole(tallies)
    return Group(name, len(tallies), figures(tallies, "close"), figures(tallies, "strict"), share, interval)


# --- as data ---------------------------------------------------------------------------------------------


def report_data(report: Report) -> dict[str, Any]:
    """The report as plain data, without the single letterings."""
    return {
        **_group_data(report.all),
        "roles": [asdict(each) for each in report.roles],
        "languages": [{"language": each.name, **_group_data(each)} for each in report.languages],
        "periods": [{"period": each.name, **_group_data(each)} for each in report.periods],
        "confusions": [asdict(each) for each in report.confusions if not each.right],
        "confidence": {
            "statements": report.statements,
            "right": report.right,
            "brier": report.brier,
            "bins": [asdict(each) for each in report.bins],
        },
    }


def _group_data(group: Group) -> dict[str, Any]:
    return {
        "letterings": group.letterings,
        "close": asdict(group.close),
        "strict": asdict(group.strict),
        "whole": {"share": group.whole, "interval": group.whole_interval},
    }


def misses_data(report: Report, pairs: Sequence[Judged]) -> list[dict[str, Any]]:
    """The letterings that are not wholly right, with the pairs missed and added."""
    return [
        {
            "id": tally.id,
            "lettering": lettering_of(record),
            "missed": [{"name": name, "roles": list(roles)} for name, roles in tally.missed],
            "added": [{"name": name, "role": role} for name, role in tally.added],
        }
        for (record, _), tally in zip(pairs, report.tallies, strict=True)
        if not tally.whole
    ]


def lettering_of(record: Mapping[str, Any]) -> str:
    """The lettering of a record on one line."""
    return " / ".join(line if isinstance(line, str) else str(line["text"]) for line in record["lines"])


# --- as text ---------------------------------------------------------------------------------------------


def misses_text(report: Report, pairs: Sequence[Judged]) -> Iterator[str]:
    """Each lettering that is not wholly right, and beneath it what was missed and what was added."""
    for miss in misses_data(report, pairs):
        yield f"{miss['id']}  {miss['lettering']}\n"
        for each in miss["missed"]:
            yield f"    missed  {each['name']}: {' or '.join(each['roles'])}\n"
        for each in miss["added"]:
            yield f"    added   {each['name']}: {each['role']}\n"


def report_text(report: Report) -> Iterator[str]:
    """The report for the eye, the figures of everything last."""
    for role in report.roles:
        yield f"  {role.role:<17} {role.found} of {role.judged}\n"
    for title, groups in (("language", report.languages), ("period", report.periods)):
        yield f"by {title:<16} letterings  close F1                strict F1  whole\n"
        for group in groups:
            low, high = group.close.interval
            yield f"  {group.name:<19}{group.letterings:>8}  {group.close.f1:.3f} [{low:.3f}, {high:.3f}]  {group.strict.f1:>9.3f}  {group.whole:.3f}\n"
    wrong = [each for each in report.confusions if not each.right]
    if wrong:
        yield "judged            read as\n"
        for each in wrong:
            yield f"  {each.judged:<15} {each.read:<24} {each.times}\n"
    yield f"confidence of {report.statements} statements, {report.right:.3f} of them right; Brier score {report.brier:.3f}\n"
    for each_bin in report.bins:
        yield f"  said {each_bin.said:.2f}  right {each_bin.right:.2f}  of {each_bin.statements}\n"
    for name, each_figure in (("close", report.all.close), ("strict", report.all.strict)):
        low, high = each_figure.interval
        yield (
            f"{name:<7} precision {each_figure.precision:.3f}  recall {each_figure.recall:.3f}  "
            f"F1 {each_figure.f1:.3f}  [{low:.3f}, {high:.3f}]\n"
        )
    low, high = report.all.whole_interval
    yield f"whole   {report.all.whole:.3f} of {report.all.letterings}  [{low:.3f}, {high:.3f}]\n"
