"""The report of a score: groups, confusions, confidence, the page, and the curve fitted to it."""

import json
import re
import xml.etree.ElementTree as ET
from html.parser import HTMLParser

import pytest

from margent.cli import run
from margent.exchange.calibration import Example, calibrated, source_of, turtle
from margent.exchange.plots import reliability_square, role_bars
from margent.exchange.reliability import bins, brier
from margent.exchange.score_page import score_page
from margent.exchange.score_report import RoleFound, misses_text, period, report_data, report_of, report_text
from margent.exchange.scoring import NOBODY, NOT_READ, Scorer
from margent.faults import Fault

MEETS = {
    "engrave": ["engraver", "burin-engraver"],
    "publish": ["publisher"],
    "paint": ["painter"],
    "print": ["printer"],
}
SCORER = Scorer(MEETS)


def judged(*statements, also=(), name="x", **keys):
    return {
        "id": name,
        "lines": [{"text": "<A. Holm> & Co."}],
        "statements": [
            *({"name": name, "roles": roles} for name, roles in statements),
            *({"name": name, "roles": [], "also": roles} for name, roles in also),
        ],
        **keys,
    }


def reading(*statements):
    return {"statements": [{"name": name, "roles": roles, "confidence": sure} for name, roles, sure in statements]}


@pytest.mark.parametrize(
    ("record", "read", "expected"),
    [
        pytest.param(judged(("A. Holm", ["engrave"])), reading(("A. Holm", ["engraver"], 1)), [("engrave", "engraver")], id="met"),
        pytest.param(judged(("A. Holm", ["engrave"])), reading(("A. Holm", ["printer"], 1)), [("engrave", "printer")], id="taken for another"),
        pytest.param(judged(("A. Holm", ["engrave"])), reading(("B. Tobler", ["engraver"], 1)), [("engrave", NOT_READ), (NOBODY, "engraver")], id="another name"),
        pytest.param(judged(("A. Holm", ["engrave", "publish"])), reading(("A. Holm", ["printer", "publisher"], 1)), [("publish", "publisher"), ("engrave", "printer")], id="one met, one not"),
        pytest.param(judged(("A. Holm", ["engrave"]), also=[("A. Holm", ["print"])]), reading(("A. Holm", ["engraver", "printer"], 1)), [("engrave", "engraver")], id="optional"),
        pytest.param(judged(), reading(), [], id="nothing"),
    ],
)  # fmt: skip
def test_what_a_role_is_taken_for(record, read, expected):
    assert SCORER.taken_for(record, read) == expected


def test_a_statement_is_right_when_all_its_roles_are():
    record = judged(("A. Holm", ["engrave", "publish"]), ("C. Rund", ["paint"]), also=[("C. Rund", ["print"])])
    read = reading(
        ("A. Holm", ["engraver"], 1),
        ("A. Holm", ["printer"], 1),
        ("C. Rund", ["painter", "printer"], 1),
        ("D. Moss", ["painter"], 1),
        ("E. Bly", [], 1),
    )
    assert SCORER.right(record, read) == [True, False, True, False, False]


@pytest.mark.parametrize(
    ("date", "span"),
    [
        ("1612", "1600–1649"),
        ("1649/1652", "1650–1699"),
        ("1640/1650", "1600–1649"),
        ("161X", "1600–1649"),
        ("1600/..", "wider than 50 years"),
        (None, "no date"),
    ],
)
def test_periods(date, span):
    assert period({"date": date}) == span


def test_a_date_that_is_none_is_said():
    with pytest.raises(Fault, match="x7: 'about 1600' is no date in EDTF"):
        period({"id": "x7", "date": "about 1600"})


PAIRS = [
    (judged(("A. Holm", ["engrave"]), name="a", lang="la", date="1612"), reading(("A. Holm", ["engraver"], 0.9))),
    (judged(("B. Tobler", ["publish"]), name="b", lang="fr", date="1640"), reading(("B. Tobler", ["printer"], 0.6))),
    (judged(("C. Rund", ["paint"]), name="c", lang="la"), reading()),
]


@pytest.fixture(scope="module")
def report():
    return report_of(SCORER, PAIRS)


def test_the_report_as_data(report):
    data = json.loads(json.dumps(report_data(report)))
    assert [(each["language"], each["letterings"], each["whole"]["share"]) for each in data["languages"]] == [
        ("la", 2, 0.5),
        ("fr", 1, 0.0),
    ]
    assert [(each["period"], each["letterings"]) for each in data["periods"]] == [("1600–1649", 2), ("no date", 1)]
    assert [(each["judged"], each["read"], each["times"]) for each in data["confusions"]] == [
        ("paint", NOT_READ, 1),
        ("publish", "printer", 1),
    ]
    assert data["confidence"]["statements"] == 2
    assert data["confidence"]["brier"] == pytest.approx((0.01 + 0.36) / 2)


def test_the_report_for_the_eye(report):
    text = "".join(report_text(report))
    assert "  publish         printer                  1\n" in text
    assert "  la                        2  0.667" in text
    assert text.splitlines()[-1].startswith("whole   0.333 of 3")


def test_misses_tell_what_was_missed_and_added(report):
    assert "".join(misses_text(report, PAIRS)) == (
        "b  <A. Holm> & Co.\n    missed  btobler: publisher\n    added   btobler: printer\nc  <A. Holm> & Co.\n    missed  crund: painter\n"
    )


# --- the page --------------------------------------------------------------------------------------------


class Page(HTMLParser):
    def __init__(self, text):
        super().__init__()
        self.tags, self.open, self.unbalanced = [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag != "meta":
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.unbalanced.append(tag)


def test_the_page_stands_alone(report):
    text = score_page("judged & <more>.jsonl", "2026.11", report, PAIRS)
    page = Page(text)
    assert (page.open, page.unbalanced) == ([], [])
    tags = {tag for tag, _ in page.tags}
    assert not tags & {"script", "link", "img", "iframe", "object"}
    assert not any(name.startswith("on") or name in {"src", "href"} for _, attrs in page.tags for name in attrs)
    assert "url(" not in text
    assert "http://" not in text
    assert "https://" not in text
    assert "judged &amp; &lt;more&gt;.jsonl" in text
    assert "<A. Holm>" not in text
    assert "&lt;A. Holm&gt; &amp; Co." in text


def test_every_plot_is_told_in_words_too(report):
    page = Page(score_page("j", "v", report, PAIRS))
    drawings = [attrs for tag, attrs in page.tags if tag == "svg"]
    ids = {attrs.get("id") for _, attrs in page.tags}
    assert len(drawings) == 2
    for attrs in drawings:
        assert attrs["role"] == "img"
        assert set(attrs["aria-labelledby"].split()) <= ids


@pytest.mark.parametrize(
    "drawing",
    [
        role_bars([RoleFound("engrave <&>", 10, 7), RoleFound("publish", 1, 0)]),
        role_bars([]),
        reliability_square(bins([(0.95, True), (0.91, False), (0.2, False), (1.0, True)])),
        reliability_square([]),
    ],
)
def test_a_drawing_is_well_formed(drawing):
    ET.fromstring(drawing)


def test_no_disc_leaves_the_drawing():
    drawing = ET.fromstring(reliability_square(bins([(0.0, False), (1.0, True)])))
    _, _, width, height = map(float, drawing.get("viewBox").split())
    for disc in drawing.iter("circle"):
        x, y, r = (float(disc.get(key)) for key in ("cx", "cy", "r"))
        assert r <= x <= width - r
        assert r <= y <= height - r


# --- confidence ------------------------------------------------------------------------------------------


def test_bins_hold_every_statement_once():
    sure = [(0.0, False), (0.1, True), (0.999, True), (1.0, False)]
    found = bins(sure)
    assert [(each.low, each.statements, each.right) for each in found] == [(0.0, 1, 0.0), (0.1, 1, 1.0), (0.9, 2, 0.5)]
    assert brier([]) == 0


@pytest.mark.parametrize(
    ("source", "house"),
    [
        ("Invented Museum, inv. 7", "Invented Museum"),
        ("Invented Museum 12", "Invented Museum"),
        ("prints.example/7", "prints.example"),
        ("7", "7"),
        (None, ""),
    ],
)
def test_the_house_of_a_source(source, house):
    assert source_of({"source": source}) == house


def examples(number=400):
    """Statements that are right as often as the square of their raw share, so that the raw share is too sure."""
    found = []
    for index in range(number):
        raw = (index % 20) / 20
        found.append(Example(raw, (index * 7919 % 1000) / 1000 < raw * raw, f"house {index * 31 % 11}"))
    return found


@pytest.mark.parametrize("way", [None, "isotonic", "logistic"])
def test_the_curve_rises_and_betters_the_raw_share(way):
    pytest.importorskip("sklearn", reason="scikit-learn is the extra `calibrate`")
    found = calibrated(examples(), way)
    raws, sures = zip(*found.points, strict=True)
    assert (raws[0], raws[-1]) == (0, 1000)
    assert list(raws) == sorted(set(raws))
    assert list(sures) == sorted(sures)
    assert 0 < sures[0] <= sures[-1] < 1000
    assert found.out_of_fold[found.way] < found.raw_brier
    assert dict(found.points).get(500, 250) == pytest.approx(250, abs=120)


def test_the_points_are_turtle_that_the_vocabulary_takes():
    pytest.importorskip("sklearn", reason="scikit-learn is the extra `calibrate`")
    import pyoxigraph

    text = turtle(calibrated(examples()))
    head = "@prefix mg: <https://w3id.org/margent/ns#> .\n"
    triples = list(pyoxigraph.parse(head + text, pyoxigraph.RdfFormat.TURTLE, base_iri="https://w3id.org/margent/"))
    points = {triple.subject.value for triple in triples}
    assert len(triples) == 3 * len(points)
    assert all(re.fullmatch(r"https://w3id\.org/margent/reading/confidence-\d+", point) for point in points)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (examples(40), "40 statements from 11 sources are too few"),
        ([Example(0.5, True, "one") for _ in range(100)], "100 statements from 1 sources are too few"),
        ([Example(0.5, True, str(index)) for index in range(100)], "all statements are judged alike"),
    ],
)
def test_too_little_is_said(given, said):
    with pytest.raises(Fault, match=said):
        calibrated(given)


# --- the command -----------------------------------------------------------------------------------------

LINES = [
    {
        "id": "a",
        "lang": "la",
        "date": "1612",
        "lines": ["A. Holm sculpsit"],
        "statements": [{"name": "A. Holm", "roles": ["engrave"]}],
    },
    {
        "id": "b",
        "lang": "la",
        "lines": [{"text": "B. Tobler excudit"}],
        "statements": [{"name": "B. Tobler", "roles": ["paint"]}],
    },
]


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "judged.jsonl"
    path.write_text("".join(json.dumps(each) + "\n" for each in LINES), encoding="utf-8")
    return path


def score(capsys, *args):
    code = run(["score", *map(str, args)])
    return code, *capsys.readouterr()


def test_misses_are_printed_or_filed(file, tmp_path, capsys):
    misses = "b  B. Tobler excudit\n    missed  btobler: painter\n    added   btobler: publisher\n"
    code, out, err = score(capsys, file, "--misses")
    assert (code, err) == (0, "")
    assert out.startswith(misses)
    _, figures, _ = score(capsys, file, "--misses", tmp_path / "misses.txt")
    assert misses + figures == out
    assert (tmp_path / "misses.txt").read_text(encoding="utf-8") == misses
    _, data, _ = score(capsys, file, "--misses", "--as", "json")
    assert [each["id"] for each in json.loads(data)["misses"]] == ["b"]


def test_the_report_is_a_page_beside_the_figures(file, tmp_path, capsys):
    code, out, _ = score(capsys, file, "--report", tmp_path / "r.html")
    assert code == 0
    assert out.endswith("whole   0.500 of 2  [0.000, 1.000]\n")
    assert "How the letterings of judged.jsonl are read" in (tmp_path / "r.html").read_text(encoding="utf-8")


def test_readings_made_before_give_the_same_figures(file, tmp_path, capsys):
    _, now, _ = score(capsys, file)
    run(["read", "--from", str(file), "--to", str(tmp_path / "readings.jsonl")])
    assert score(capsys, file, "--readings", tmp_path / "readings.jsonl") == (0, now, "")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("no JSON", "judged.jsonl:1: is not JSON; write one object a line"),
        ("[1]", "judged.jsonl:1: is no JSON object; write one object a line"),
        ("[" * 100_000, "judged.jsonl:1: is not JSON; write one object a line"),
        ('{"lines": [], "statements": 7}', "judged.jsonl:1: its statements are not understood; write "),
        (
            '{"lines": [], "statements": [{"roles": ["paint"]}]}',
            "judged.jsonl:1: its statements are not understood; write ",
        ),
        ('{"id": "x", "lines": 7}', "judged.jsonl: lettering 1: the row has no list under "),
        (
            '{"id": "x", "lines": [], "statements": [{"name": "A", "roles": ["bake"]}]}',
            "x: 'bake' is no role that can be judged; write one of ",
        ),
        ("", "judged.jsonl: holds no letterings; write one judged lettering a line"),
    ],
)
def test_a_judged_file_that_does_not_do_is_one_sentence(tmp_path, capsys, line, said):
    path = tmp_path / "judged.jsonl"
    path.write_text(line + "\n")
    code, out, err = score(capsys, path)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert err.removeprefix(f"{tmp_path}/").startswith(said)


def test_calibrating_reads_for_itself(file, capsys):
    assert score(capsys, file, "--calibrate", "--misses")[0] == 2
    code, out, err = score(capsys, file, "--calibrate")
    assert (code, out) == (2, "")
    assert "too few to fit confidence to" in err
