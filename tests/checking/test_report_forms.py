"""The forms for other programs, read back by libraries that are not ours."""

import json
import re
from urllib.parse import unquote

import junitparser
import pytest
from pydantic_sarif.model import StaticAnalysisResultsFormatSarifVersion210JsonSchema as SarifLog

from margent.checking.check import Outcome
from margent.checking.findings import Finding, Rule
from margent.checking.report_forms import as_annotations, as_json, as_junit, as_sarif

RULES = [
    Rule("M032", "violation", "does not have exactly one literal", "write it once", "Each form has its own evidence."),
    Rule("X030", "warning", "is cited nowhere", "cite it", "The list is read as a list of what is used."),
    Rule("Y001", "violation", "{fault}", "{remedy}", "Nothing in it is published."),
]
FINDINGS = (
    Finding("vocab/makers/a b.ttl", 9, "M032", "anna#a", 'has "50%" <&> \x01 of, two: lines\nof it', "write it once"),
    Finding("vocab/sources.ttl", 3, "X030", "a-source", "is cited nowhere", "cite it", "warning"),
    Finding("vocab/terms.ttl", 12, "Y001", "", "not Turtle: no full stop", "mend this line"),
)
PATHS = ("vocab/clean.ttl", *(finding.file for finding in FINDINGS))
SOME = Outcome(FINDINGS, PATHS, 7)
NONE = Outcome((), PATHS, 7)


@pytest.mark.parametrize("outcome", [SOME, NONE], ids=["findings", "none"])
def test_sarif_keeps_the_published_schema(outcome):
    """Source: pydantic-sarif, whose models are generated from the schema that OASIS publishes for SARIF 2.1.0."""
    log = SarifLog.model_validate_json(as_sarif(outcome, RULES))
    assert log.runs[0].tool.driver.name == "margent"
    assert len(log.runs[0].results) == len(outcome.findings)


def test_sarif_says_file_line_rule_and_entry():
    run = json.loads(as_sarif(SOME, RULES))["runs"][0]
    told = [
        (
            unquote(place["physicalLocation"]["artifactLocation"]["uri"]),
            place["physicalLocation"]["region"]["startLine"],
            result["ruleId"],
            run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"],
            result["level"],
            [name["name"] for name in place.get("logicalLocations", [])],
        )
        for result in run["results"]
        for place in result["locations"]
    ]
    assert told == [
        (
            each.file,
            each.line,
            each.rule,
            each.rule,
            "warning" if each.severity == "warning" else "error",
            [each.entry] * bool(each.entry),
        )
        for each in FINDINGS
    ]


def test_junit_is_read_by_a_library():
    """Source: junitparser, which reads what CI servers write."""
    suites = junitparser.JUnitXml.fromstring(as_junit(SOME).encode())
    (suite,) = suites
    cases = list(suite)
    assert (suite.tests, suite.failures) == (4, 2)
    assert [(case.classname, case.name, [result.type for result in case.result]) for case in cases] == [
        ("vocab/makers/a b.ttl", "M032 anna#a", ["M032"]),
        ("vocab/terms.ttl", "Y001", ["Y001"]),
        ("vocab/clean.ttl", "nothing to mend", []),
        ("vocab/sources.ttl", "nothing to mend", []),
    ]
    assert "is cited nowhere" in cases[3].system_out


def test_junit_of_a_clean_vocabulary_has_no_failure():
    (suite,) = junitparser.JUnitXml.fromstring(as_junit(NONE).encode())
    assert (suite.tests, suite.failures) == (4, 0)


def test_annotations_stand_on_one_line_each_and_are_undone_to_the_same_text():
    """Source: the workflow commands of forge CI: what would end a command or a property is percent-encoded."""
    lines = as_annotations(SOME).splitlines()
    assert len(lines) == len(FINDINGS)
    for line, finding in zip(lines, FINDINGS, strict=True):
        command, properties, message = re.fullmatch(r"::(\w+) (.*?)::(.*)", line).groups()
        fields = dict(each.split("=", 1) for each in properties.split(","))
        assert command == ("warning" if finding.severity == "warning" else "error")
        assert unquote(fields["file"]) == finding.file
        assert int(fields["line"]) == finding.line
        assert finding.wrong in unquote(message)


def test_json_is_read_back():
    read = json.loads(as_json(SOME))
    assert (read["files"], read["entries"], read["violations"], read["warnings"]) == (4, 7, 2, 1)
    assert [Finding(**each) for each in read["findings"]] == list(FINDINGS)
