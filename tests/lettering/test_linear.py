"""Reading takes work in proportion to the length of a lettering, counted in steps of the interpreter and not by a clock."""

import sys

import pytest

from margent.lettering.reader import lettering_of

SHORT, LONG = 1_000, 3_000
"""Characters of the two letterings that are compared."""
SPARE = 1.25
"""How much more than in proportion the longer may take: sorting, and what is done once for every lettering."""


def steps(reader, text):
    """How many instructions the interpreter carries out while it reads a text."""
    lettering = lettering_of(text.split("\n"))
    counted = 0

    def trace(frame, event, argument):
        nonlocal counted
        frame.f_trace_opcodes = True
        frame.f_trace_lines = False
        if event == "opcode":
            counted += 1
        return trace

    before = sys.gettrace()
    sys.settrace(trace)
    try:
        reader.read(lettering)
    finally:
        sys.settrace(before)
    return counted


@pytest.mark.parametrize(
    ("head", "unit"),
    [
        pytest.param("", "a'", id="elisions without end"),
        pytest.param("", "d'", id="elisions"),
        pytest.param("A. Tobler ", "sculp. ", id="one name with ever more terms"),
        pytest.param("", "A. Tobler sculp. B. Holm inv. ", id="ever more makers"),
        pytest.param("", "A. Tobler, ", id="ever more names"),
        pytest.param("", "engraved from the picture by A. Tobler, by B. Holm. ", id="participles that wait"),
        pytest.param("", "Tipografia dell'Ancora ", id="houses"),
        pytest.param("[" * 100, "A. Tobler] ", id="brackets"),
        pytest.param("", "cum privilegio Regis ", id="notices"),
        pytest.param("", "A. Tobler\nexcudit Paris 1612\n", id="lines"),
        pytest.param("", "idem excudit ", id="the same man"),
        pytest.param("", "xyq ", id="words that nobody knows"),
    ],
)
def test_the_work_grows_with_the_length(reader, head, unit):
    short, long = (head + unit * (size // len(unit)) for size in (SHORT, LONG))
    steps(reader, short)  # what is made ready once is not counted
    assert steps(reader, long) <= SPARE * len(long) / len(short) * steps(reader, short)
