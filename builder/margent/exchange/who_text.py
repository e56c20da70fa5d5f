"""Who may be meant by a name, as text for the eye: shares, reasons, and a small timeline."""

from __future__ import annotations

from margent.names.authority import Answer, Authority, Candidate
from margent.names.evidence import Years, lifetime
from margent.names.timeline import Line, timeline

LEAST_SHARE = 0.01
"""Makers after the first are shown from this share on."""


def who_text(authority: Authority, answer: Answer, years: Years | None) -> str:
    """The answer as lines, the likeliest maker first; `years` are those of the print, for the timeline."""
    members = {member.number for member in answer.members}
    shown = [
        each
        for at, each in enumerate(answer.candidates)
        if not at or (each.probability >= LEAST_SHARE and each.number not in members)
    ]
    out = [answer.query]
    for number, each in enumerate(shown, 1):
        out += _maker(f"{number}", each)
        if number == 1 and answer.members:
            out.append("      of the family, rather:")
            for member in answer.members:
                out += ["    " + line for line in _maker("-", member)]
    unknown = "  -  somebody who is not in the file" if shown else "  nobody of that name is in the file"
    out.append(f"{unknown:48} {answer.unknown:.2f}")
    drawn = [*shown[:1], *answer.members, *shown[1:]]
    scale = timeline([Line(each.label, lifetime(authority.index, each.number)) for each in drawn], years)
    if scale:
        out += ["", *("  " + line for line in scale), "  - alive  = at work  ^ the print"]
    return "\n".join(line.rstrip() for line in out) + "\n"


def _maker(sign: str, maker: Candidate) -> list[str]:
    return [
        f"  {sign:>2} {maker.label:43} {maker.probability:.2f}",
        f"     {maker.maker}",
        *(f"      {reason}" for reason in maker.because),
    ]
