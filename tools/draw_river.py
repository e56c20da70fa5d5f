"""Draws site/images/river.svg, a river at sunrise in swelling lines as a burin cuts them: `python tools/draw_river.py`.

Every line runs across the whole plate; only its thickness makes light and shade, as in the single-line portraits of the
seventeenth century.  The picture is ours, and it is the same at every run.
"""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

WIDTH, HEIGHT, STEP, PITCH = 1000, 250, 10, 4.2
THINNEST, THICKEST = 0.3, 3.0
SUN = (668.0, 96.0, 27.0)
HORIZON = 152.0
TARGET = Path(__file__).resolve().parent.parent / "site" / "images" / "river.svg"


def far_hills(x: float) -> float:
    """The height of the far ridge."""
    return 138 - 12 * math.sin(x / 150 + 0.4) - 6 * math.sin(x / 61) - 16 * math.exp(-(((x - 905) / 130) ** 2))


def near_bank(x: float) -> float:
    """The height of the near bank, which falls to the water on its right."""
    return HORIZON + 22 + 110 * (max(0.0, x - 90) / 560) ** 2.2 - 4 * math.sin(x / 47)


def church(x: float, y: float) -> bool:
    """Whether a point lies in the church on the far bank."""
    nave = 286 < x < 352 and y > 126 + abs(x - 318) * 0.12
    tower = 352 <= x < 374 and y > 98
    spire = abs(x - 363) < (y - 52) * 0.24 and 52 < y <= 98
    return (nave or tower or spire) and y < HORIZON


def darkness(x: float, y: float) -> float:
    """How dark the picture is at a point, from 0 to 1."""
    away = math.hypot(x - SUN[0], y - SUN[1])
    if church(x, y):
        return 0.95
    if y > near_bank(x):
        return 0.80 + 0.16 * math.sin(x / 17 + y / 5) * math.sin(y / 9)
    if y < far_hills(x):
        if away < SUN[2]:
            return 0.0
        cloud = 0.2 * max(0.0, math.sin(x / 95 + y / 10) * math.sin(x / 230 - y / 24))
        sky = 0.12 + 0.36 * max(0.0, 1 - y / HORIZON) ** 1.4 + cloud
        return sky * min(1.0, 0.16 + (away - SUN[2]) / 190)
    if y < HORIZON:
        return 0.55 + 0.12 * math.sin(x / 31 + y / 6)
    spread = 22 + (y - HORIZON) * 1.1
    glitter = math.exp(-(((x - SUN[0]) / spread) ** 2))
    ripple = math.sin(x / (8 + (y - HORIZON) / 4) + y * 1.9)
    return max(0.03, (0.36 + 0.12 * ripple) * (1 - 0.93 * glitter))


def line(y: float) -> str:
    """One line as the outline of its swelling."""
    thick = [THINNEST + (THICKEST - THINNEST) * darkness(x, y) for x in range(0, WIDTH + 1, STEP)]
    wave = [0.9 * math.sin(index / 9 + y / 30) for index in range(len(thick))]
    upper = [(index * STEP, y + wave[index] - t / 2) for index, t in enumerate(thick)]
    lower = [(index * STEP, y + wave[index] + t / 2) for index, t in enumerate(thick)][::-1]
    tenths = [(round(x * 10), round(v * 10)) for x, v in upper + lower]
    parts = [f"M{tenths[0][0]} {tenths[0][1]}"]
    for (x0, y0), (x1, y1) in pairwise(tenths):
        parts.append(f"l{x1 - x0} {y1 - y0}" if x1 != x0 else f"v{y1 - y0}")
    return "".join(parts) + "z"


def main() -> None:
    """Nothing comes back: the picture is written."""
    paths = "".join(line(PITCH / 2 + PITCH * row) for row in range(int(HEIGHT / PITCH)))
    TARGET.write_text(
        f'<!-- drawn by tools/draw_river.py -->\n<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH * 10} {HEIGHT * 10}">\n'
        "<style>rect{fill:none}path{fill:#241c14}@media(prefers-color-scheme:dark){rect{fill:#a3967b}path{fill:#17130e}}</style>\n"
        f'<rect width="{WIDTH * 10}" height="{HEIGHT * 10}"/>'
        f'<path d="{paths}"/>\n</svg>\n',
        encoding="utf-8",
        newline="\n",
    )


if __name__ == "__main__":
    main()
