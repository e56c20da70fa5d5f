"""The findings in the forms that other programs read: JSON, SARIF, JUnit, and the lines by which a forge marks a change.

SARIF 2.1.0 is an OASIS standard, https://docs.oasis-open.org/sarif/sarif/v2.1.0/; a finding is a `result`, a rule is a
`reportingDescriptor`. JUnit's XML has no standard; every finding is a test that failed, and a file without one a test that passed.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import PurePath
from typing import Any
from urllib.parse import quote
from xml.etree import ElementTree as ET

from margent import __version__
from margent.checking.check import Outcome
from margent.checking.findings import Finding, Rule

_LEVEL = {"violation": "error", "warning": "warning"}
# What XML 1.0 has no place for; a literal of a broken file may hold it.
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def as_json(outcome: Outcome) -> str:
    """One JSON object; the keys of a finding are those of the report, and `violations` is what decides the exit code."""
    return json.dumps(
        {
            "format": 1,
            "files": outcome.files,
            "entries": outcome.entries,
            "violations": outcome.violations,
            "warnings": outcome.warnings,
            "findings": [asdict(finding) for finding in outcome.findings],
        },
        ensure_ascii=False,
        indent=1,
    )


def as_sarif(outcome: Outcome, rules: Sequence[Rule]) -> str:
    """One SARIF log with one run; only the rules that were broken are described."""
    broken = {finding.rule for finding in outcome.findings}
    described = [rule for rule in rules if rule.id in broken]
    number = {rule.id: index for index, rule in enumerate(described)}
    log = {
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [
            {
                "tool": {
                    "driver": {
                        "name": "margent",
                        "version": __version__,
                        "rules": [_descriptor(rule) for rule in described],
                    }
                },
                "columnKind": "unicodeCodePoints",
                "results": [_result(finding, number) for finding in outcome.findings],
            }
        ],
    }
    return json.dumps(log, ensure_ascii=False, indent=1)


def _descriptor(rule: Rule) -> dict[str, Any]:
    """A rule as SARIF describes it."""
    return {
        "id": rule.id,
        "shortDescription": {"text": rule.wrong},
        "fullDescription": {"text": rule.reason},
        "help": {"text": rule.mend},
        "defaultConfiguration": {"level": _LEVEL[rule.severity]},
    }


def _result(finding: Finding, number: dict[str, int]) -> dict[str, Any]:
    """A finding as SARIF has it. Its fingerprint leaves the line out, so that it is known again when the file grows."""
    address = {"uri": quote(PurePath(finding.file).as_posix())}
    if PurePath(finding.file).is_absolute():
        address = {"uri": PurePath(finding.file).as_uri()}
    place: dict[str, Any] = {"physicalLocation": {"artifactLocation": address, "region": {"startLine": finding.line}}}
    if finding.entry:
        place["logicalLocations"] = [{"name": finding.entry, "kind": "member"}]
    return {
        "ruleId": finding.rule,
        "ruleIndex": number[finding.rule],
        "level": _LEVEL[finding.severity],
        "message": {"text": _sentence(finding)},
        "locations": [place],
        "partialFingerprints": {"entryAndFault/v1": f"{finding.entry} {finding.rule} {finding.wrong}"},
    }


def as_junit(outcome: Outcome) -> str:
    """One test suite: a failed test for each finding that must be mended, a passed one for each file without any."""
    failing = {finding.file for finding in outcome.findings if finding.severity == "violation"}
    clean = [path for path in outcome.paths if path not in failing]
    violations = [finding for finding in outcome.findings if finding.severity == "violation"]
    counts = {"tests": str(len(violations) + len(clean)), "failures": str(len(violations)), "errors": "0"}
    root = ET.Element("testsuites", counts)
    suite = ET.SubElement(root, "testsuite", {"name": "margent check", **counts})
    for finding in violations:
        name = f"{finding.rule} {finding.entry}".strip()
        case = ET.SubElement(suite, "testcase", {"classname": _xml(finding.file), "name": _xml(name)})
        failure = ET.SubElement(case, "failure", {"type": finding.rule, "message": _xml(finding.wrong)})
        failure.text = _xml(finding.text())
    for path in clean:
        case = ET.SubElement(suite, "testcase", {"classname": _xml(path), "name": "nothing to mend"})
        warned = [finding.text() for finding in outcome.findings if finding.file == path]
        if warned:
            ET.SubElement(case, "system-out").text = _xml("\n".join(warned))
    ET.indent(root, " ")
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(root, encoding="unicode") + "\n"


def as_annotations(outcome: Outcome) -> str:
    """One workflow command a line: a forge that runs the check shows each finding at its line of the change."""
    lines = []
    for finding in outcome.findings:
        title = _property(f"{finding.rule} {finding.entry}".strip())
        where = f"file={_property(PurePath(finding.file).as_posix())},line={finding.line},title={title}"
        lines.append(f"::{_LEVEL[finding.severity]} {where}::{_data(_sentence(finding))}\n")
    return "".join(lines)


def _sentence(finding: Finding) -> str:
    """What is wrong and how to mend it, in one text."""
    name = f"{finding.entry} " if finding.entry else ""
    return f"{name}{finding.wrong}. To mend it: {finding.mend}."


def _xml(text: str) -> str:
    return _NOT_XML.sub("\ufffd", text)


def _data(text: str) -> str:
    """The text of a workflow command: what would end it is escaped."""
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    """A property of a workflow command."""
    return _data(text).replace(":", "%3A").replace(",", "%2C")
