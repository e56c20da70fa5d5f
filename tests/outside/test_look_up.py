"""The look-up of the pages leads from a museum's variant names to its makers, by what is typed alone.

The data: 10,158 makers and 1,245 variant names of theirs, from the open data of the National Gallery of Art in Washington
(CC0). One variant in eight is a pseudonym that shares no word with the name, and cannot be found without a form of its own.
"""

import csv
import json
import subprocess
from pathlib import Path

import pytest

from margent.cli import run
from margent.publishing.look_up_shards import write_look_up
from margent.publishing.pages import Pages
from margent.vocabulary.load import load

pytestmark = pytest.mark.slow

LISTED, ITSELF = 0.75, 0.99
HERE = Path(__file__).resolve().parent


def rows(shared, name):
    with (shared / "open-data" / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def looked_up(shared, root, node, tmp_path_factory):
    """A function that answers many names at once: a list of pages for each."""
    folder = tmp_path_factory.mktemp("open")
    source = shared / "open-data" / "nga-makers.csv"
    assert run(["import", "makers", str(source), "--to", str(folder / "a"), "--base", "https://open.example/"]) in {
        0,
        1,
    }
    vocabulary = load(root / "vocab", [folder / "a"])
    write_look_up(vocabulary, Pages(vocabulary), folder)

    def ask(names):
        command = [node, str(HERE / "look_up_with_node.mjs"), str(root / "site" / "scripts"), str(folder)]
        done = subprocess.run(command, input=json.dumps(names), capture_output=True, text=True, timeout=120, check=True)
        return json.loads(done.stdout)

    return ask


def share_of_listed(asked, answers):
    return sum(f"maker/{row['id']}" in pages for row, pages in zip(asked, answers, strict=True)) / len(asked)


def test_variants_lead_to_their_makers(shared, looked_up):
    variants = rows(shared, "nga-name-variants.csv")
    assert share_of_listed(variants, looked_up([row["variant"] for row in variants])) >= LISTED


def test_makers_are_found_by_their_own_names_in_either_order(shared, looked_up):
    makers = rows(shared, "nga-makers.csv")[::7]
    assert share_of_listed(makers, looked_up([row["name"] for row in makers])) >= ITSELF
    turned = [row for row in makers if row["forward_name"]]
    assert share_of_listed(turned, looked_up([row["forward_name"] for row in turned])) >= ITSELF - 0.02
