"""Plots as SVG inside a page: bars of roles, and confidence against being right.

Each has a title and a description for those who do not see it; the figures stand in a table beside it as well.
Colours and type come from the page's style, by class.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape

from margent.exchange.reliability import Bin
from margent.exchange.score_report import RoleFound

BAR, GAP = 16, 8
"""Height of a bar and the space to the next."""
NAMES, BARS, FIGURES = 150, 380, 90
"""Widths of the three columns of the bars."""
SIDE, MARGIN = 320, 46
"""Side of the square that confidence is drawn in, and the space for its scale."""


def role_bars(roles: Sequence[RoleFound]) -> str:
    """A bar for each judged role, as long as the role is frequent; the part that was found is filled."""
    most = max((each.judged for each in roles), default=1)
    height = len(roles) * (BAR + GAP) + GAP
    told = "; ".join(f"{each.role} {each.found} of {each.judged}" for each in roles)
    return _svg(
        NAMES + BARS + FIGURES, height, "bars", "Judged roles and how many were found", told, _bars(roles, most)
    )


def _bars(roles: Sequence[RoleFound], most: int) -> Iterator[str]:
    for index, each in enumerate(roles):
        top = GAP + index * (BAR + GAP)
        asked = max(BARS * each.judged / most, 2)
        found = asked * each.found / each.judged
        base = top + BAR - 4
        yield f'<text class="name" x="{NAMES - 8}" y="{base}">{escape(each.role)}</text>'
        yield f'<rect class="judged" x="{NAMES}" y="{top}" width="{asked:.1f}" height="{BAR}"/>'
        yield f'<rect class="found" x="{NAMES}" y="{top}" width="{found:.1f}" height="{BAR}"/>'
        yield f'<text x="{NAMES + asked + 6:.1f}" y="{base}">{each.found} of {each.judged}</text>'


def reliability_square(found: Sequence[Bin]) -> str:
    """Confidence to the right, the share of right statements upwards; the larger a disc the more statements it stands for."""
    told = "; ".join(f"said {each.said:.2f}, right {each.right:.2f}, {each.statements} statements" for each in found)
    size = SIDE + 2 * MARGIN
    return _svg(size, size, "square", "Confidence against being right", told, _square(found))


def _square(found: Sequence[Bin]) -> Iterator[str]:
    left, bottom = MARGIN, MARGIN + SIDE
    yield f'<rect class="ground" x="{left}" y="{MARGIN}" width="{SIDE}" height="{SIDE}"/>'
    for tenth in range(0, 11, 2):
        at = SIDE * tenth / 10
        yield f'<text class="under" x="{left + at:.1f}" y="{bottom + 16}">{tenth / 10:g}</text>'
        yield f'<text class="name" x="{left - 6}" y="{bottom - at + 4:.1f}">{tenth / 10:g}</text>'
    yield f'<line class="ideal" x1="{left}" y1="{bottom}" x2="{left + SIDE}" y2="{MARGIN}"/>'
    yield f'<text class="under" x="{left + SIDE / 2:.1f}" y="{bottom + 36}">confidence said</text>'
    yield f'<text class="under" x="{left + SIDE / 2:.1f}" y="{MARGIN - 12}">share of statements that are right</text>'
    points = [(left + SIDE * each.said, bottom - SIDE * each.right, each.statements) for each in found]
    yield '<polyline class="line" points="' + " ".join(f"{x:.1f},{y:.1f}" for x, y, _ in points) + '"/>'
    most = max((number for _, _, number in points), default=1)
    for x, y, number in points:
        yield f'<circle class="found" cx="{x:.1f}" cy="{y:.1f}" r="{3 + 9 * (number / most) ** 0.5:.1f}"/>'


def _svg(width: int, height: int, name: str, title: str, told: str, parts: Iterator[str]) -> str:
    """A drawing with its title and what it shows in words; `name` makes the ids that tie them together."""
    return (
        f'<svg class="{name}" viewBox="0 0 {width} {height}" role="img" aria-labelledby="{name}-title {name}-told">'
        f'<title id="{name}-title">{escape(title)}</title><desc id="{name}-told">{escape(told)}</desc>{"".join(parts)}</svg>'
    )
