"""Confidence fitted to judged letterings, so that of the statements said to be 0.8 sure about eight in ten are right.

The curve is told by points from the reader's raw share to confidence.  How good it is, is measured out of fold: each
source's statements are judged by a curve that has not seen that source.  Build time only: the reader that is shipped
interprets the points and needs none of this.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from margent.exchange.reliability import Bin, Sure, bins, brier
from margent.faults import Fault

FOLDS = 5
KNOTS = (0, 50, 100, 150, 200, 250, 300, 350, 400, 450, 500, 550, 600, 700, 800, 900, 950, 1000)
"""Raw shares at which the curve is told, in thousandths."""
LEAST, MOST = 20, 985
"""Confidence is kept between these thousandths: nothing read off a print is certain, and no few hundred statements could show it."""
FEWEST = 50
"""Statements below which no curve is worth drawing."""

WAYS = ("isotonic", "logistic")
"""The two fits: any rising curve, and a straight line from log odds to log odds."""

Curve = Callable[[Sequence[float]], list[float]]


@dataclass(frozen=True, slots=True)
class Example:
    """One statement: the reader's raw share from 0 to 1, whether it is right, and the source of its lettering."""

    raw: float
    right: bool
    source: str


@dataclass(frozen=True, slots=True)
class Calibration:
    """A fitted curve, and how well its kind did out of fold."""

    way: str
    points: list[tuple[int, int]]
    """Raw share and confidence, both in thousandths, both rising."""
    statements: int
    sources: int
    raw_brier: float
    out_of_fold: dict[str, float]
    """The Brier score of each way."""
    bins: list[Bin]
    """The statements by their out-of-fold confidence."""


def source_of(record: Mapping[str, Any]) -> str:
    """The house that a record comes from: its source up to the first comma, bracket, colon, slash or figure.

    A source that names a page or a number would otherwise be a fold of one lettering.

    >>> source_of({"source": "Invented Museum, inv. 12.7"}), source_of({"source": "Invented Museum 12 (Holm)"})
    ('Invented Museum', 'Invented Museum')
    """
    said = str(record.get("source") or "")
    return re.split(r"[,(:/\d]", said, maxsplit=1)[0].strip() or said


def calibrated(examples: Sequence[Example], way: str | None = None) -> Calibration:
    """The curve fitted to all examples, in the way said or else in the one that does better out of fold.

    Raises Fault where there are too few examples or sources, or scikit-learn is not installed.
    """
    sources = sorted({each.source for each in examples})
    if len(examples) < FEWEST or len(sources) < FOLDS:
        raise Fault(
            f"{len(examples)} statements from {len(sources)} sources are too few to fit confidence to: "
            f'give at least {FEWEST} from {FOLDS}, each record with its "source"'
        )
    if len({each.right for each in examples}) < 2:
        raise Fault("all statements are judged alike: confidence cannot be fitted to them; judge more letterings")
    try:
        import sklearn  # noqa: F401 - asked for here so that its absence is one sentence
    except ImportError:
        raise Fault("scikit-learn is not installed: pip install 'margent[calibrate]', then fit again") from None
    held_back = {each: _out_of_fold(examples, each) for each in WAYS}
    scores = {each: brier(sure) for each, sure in held_back.items()}
    chosen = way or min(WAYS, key=lambda each: scores[each])
    curve = _fitted(examples, chosen)
    return Calibration(
        way=chosen,
        points=_rising(
            list(zip(KNOTS, (_bounded(value) for value in curve([knot / 1000 for knot in KNOTS])), strict=True))
        ),
        statements=len(examples),
        sources=len(sources),
        raw_brier=brier([(each.raw, each.right) for each in examples]),
        out_of_fold=scores,
        bins=bins(held_back[chosen]),
    )


def turtle(found: Calibration) -> str:
    """The points as Turtle for vocab/reading/settings.ttl, with how they were fitted in comments."""
    scores = ", ".join(f"{way} {score:.3f}" for way, score in found.out_of_fold.items())
    lines = [
        f"# Confidence: {found.way} fit on {found.statements} statements of {found.sources} sources.",
        f"# Brier score of the raw share {found.raw_brier:.3f}; out of fold, folds by source: {scores}.",
        *(f"# Out of fold said {each.said:.2f}, right {each.right:.2f}, of {each.statements}." for each in found.bins),
        *(
            f"<reading/confidence-{raw}> a mg:ConfidencePoint ; mg:rawShare {raw} ; mg:confidence {sure} ."
            for raw, sure in found.points
        ),
    ]
    return "\n".join(lines) + "\n"


def _out_of_fold(examples: Sequence[Example], way: str) -> list[Sure]:
    """Each example's confidence by a curve fitted without its source."""
    from sklearn.model_selection import GroupKFold

    found: list[Sure] = []
    groups = [each.source for each in examples]
    for train, test in GroupKFold(FOLDS).split(examples, groups=groups):
        kept = [examples[index] for index in train]
        curve = _fitted(kept, way)
        held = [examples[index] for index in test]
        found += [
            (_bounded(value) / 1000, each.right)
            for value, each in zip(curve([each.raw for each in held]), held, strict=True)
        ]
    return found


def _fitted(examples: Sequence[Example], way: str) -> Curve:
    raw, right = [each.raw for each in examples], [int(each.right) for each in examples]
    if way == "isotonic":
        from sklearn.isotonic import IsotonicRegression

        fit = IsotonicRegression(y_min=0, y_max=1, out_of_bounds="clip").fit(raw, right)
        return lambda values: [float(value) for value in fit.predict(list(values))]
    from sklearn.linear_model import LogisticRegression

    line = LogisticRegression(C=100.0).fit([[_log_odds(value)] for value in raw], right)
    return lambda values: [float(pair[1]) for pair in line.predict_proba([[_log_odds(value)] for value in values])]


def _log_odds(share: float) -> float:
    """The log odds of a share that is kept off nothing and all."""
    kept = min(max(share, 0.005), 0.995)
    return math.log(kept / (1 - kept))


def _bounded(value: float) -> int:
    return min(max(round(value * 1000), LEAST), MOST)


def _rising(points: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """The points without those that lie on the straight line between their neighbours."""
    kept = points[:1]
    for index in range(1, len(points) - 1):
        (left, low), (at, height), (right, high) = kept[-1], points[index], points[index + 1]
        if abs((height - low) * (right - left) - (high - low) * (at - left)) > (right - left):
            kept.append(points[index])
    return [*kept, *points[-1:]]
