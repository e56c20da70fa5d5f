"""The documentation says what is there."""

import importlib.util
import re
import tomllib

import pytest


@pytest.fixture(scope="module")
def page(root):
    return (root / "DEVELOPERS.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def tool(root):
    spec = importlib.util.spec_from_file_location("developers_map", root / "tools" / "developers_map.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_map_is_what_the_modules_say(page, tool):
    assert page == tool.with_map(page), "run `make tidy`, or: python tools/developers_map.py"


def test_every_module_says_what_it_is(root, tool):
    for module in (root / "builder").rglob("*.py"):
        assert tool.first_sentence(module).endswith("."), module


def test_every_dependency_has_its_reason(root, page):
    project = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = project["dependencies"] + [name for extra in project["optional-dependencies"].values() for name in extra]
    table = page[page.index("## Why each library") :]
    for requirement in wanted:
        name = re.match(r"[\w-]+", requirement).group()
        assert re.search(rf"^\| .*\b{name}\b.* \|", table, re.MULTILINE), name


def test_every_switched_off_rule_has_its_reason(root):
    text = (root / "pyproject.toml").read_text(encoding="utf-8")
    lists = re.findall(r'^(?:ignore|"tests/\*\*") = \[\n(.*?)^\]', text, re.MULTILINE | re.DOTALL)
    lines = [line for each in lists for line in each.splitlines()]
    assert len(lists) == 2
    assert all("#" in line for line in lines)


def test_links_in_the_pages_lead_somewhere(root):
    for page in root.glob("*.md"):
        for target in re.findall(r"\]\(([^)#]+)\)", page.read_text(encoding="utf-8")):
            if "://" not in target:
                assert (root / target).exists(), f"{page.name}: {target}"
