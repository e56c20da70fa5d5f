"""The page of rules: every rule, with its examples, and the examples are those of the tests."""

import importlib.util
import json

import pytest

from margent.checking.check import all_rules
from margent.publishing.rule_page import KINDS, rule_page


@pytest.fixture(scope="module")
def rules(root):
    return all_rules(root / "shapes")


def test_the_examples_are_those_of_the_fixtures(root):
    spec = importlib.util.spec_from_file_location("rule_examples", root / "tools" / "rule_examples.py")
    tool = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(tool)
    written = (root / "shapes" / "examples.json").read_text("utf-8")
    assert written == tool.as_text(tool.examples()), "run: python tools/rule_examples.py"


def test_every_rule_has_a_good_and_a_bad_example(root, rules):
    examples = json.loads((root / "shapes" / "examples.json").read_text("utf-8"))["examples"]
    assert examples.keys() == {rule.id for rule in rules}
    assert all(each["good"].strip() and each["bad"].strip() for each in examples.values())


def test_every_rule_is_told_under_what_it_is_about(root, rules):
    told = rule_page(rules, root / "shapes").told(None)
    assert told["count"] == len(rules)
    assert [each.rule for _, _, group in told["groups"] for each in group] == sorted(rules, key=lambda rule: rule.id)
    assert {letter for letter, _, _ in told["groups"]} == set(KINDS)
    readme = (root / "shapes" / "README.md").read_text("utf-8")
    assert all(f"| {letter} |" in readme for letter in KINDS)
