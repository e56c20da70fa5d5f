"""The data of the look-up: keys, and files that are small and hold everything."""

import gzip
import json
import random
import re
import subprocess
from collections import Counter

import pytest

from margent.publishing.look_up import Row, entries
from margent.publishing.look_up_keys import Keys
from margent.publishing.look_up_shards import ALIKE, FOLDER, FULL, file_name, shards, write_look_up
from margent.publishing.pages import Pages

LARGEST = 12_000
"""Bytes of a compressed file at most: what a slow line brings while somebody types."""


@pytest.fixture(scope="module")
def keys(vocabulary):
    return Keys(vocabulary)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        pytest.param("inuenit", "INVENIT", id="u for v, capitals"),
        pytest.param("Iohannes", "Johannes", id="i for j"),
        pytest.param("ſculpſit", "sculpsit", id="the long s"),
        pytest.param("Antuerpiæ", "Antverpiae", id="joined letters"),
        pytest.param("excudit.", "( excudit :", id="stray stops"),
        pytest.param("d'après", "D’apres", id="accents and apostrophes"),
        pytest.param("Hessell", "Hesel", id="letters doubled"),
        pytest.param("Müller", "Mu\u0308ller", id="an accent of its own"),
    ],
)
def test_what_early_spelling_does_not_tell_apart_has_one_key(keys, one, other):
    assert keys(one) == keys(other) != ""


@pytest.mark.parametrize(("one", "other"), [("inv.", "inc."), ("1612", "1162"), ("del", "dess"), ("1611", "161")])
def test_what_differs_keeps_its_own_key(keys, one, other):
    assert keys(one) != keys(other)


def test_a_key_keeps_its_beginning_while_somebody_types_on(keys, vocabulary):
    for term in vocabulary.terms.values():
        text = term.literal.value
        whole = keys(text)
        for length in range(1, len(text)):
            assert whole.startswith(keys(text[:length]))


def test_the_browser_makes_the_same_keys(keys, vocabulary, node, root):
    texts = [form for *_, forms in entries(vocabulary, Pages(vocabulary), keys) for form in forms]
    texts += ["", "  ", "Ægidius & fils", "Ἀθηνᾶ", "М. Петров", "ﬁne ﬂow", "a𝔄b", "ﷺ", "1611 bb"]
    program = (
        f"import {{ keysOf }} from {json.dumps((root / 'site/scripts/look-up/keys.js').as_uri())};\n"
        "import { readFileSync } from 'node:fs';\n"
        "const { letters, texts } = JSON.parse(readFileSync(0, 'utf-8'));\n"
        "console.log(JSON.stringify(texts.map(keysOf(letters))));\n"
    )
    given = json.dumps({"letters": keys.published(), "texts": texts})
    done = subprocess.run(
        [node, "--input-type=module", "-e", program],
        input=given,
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    assert json.loads(done.stdout) == [keys(text) for text in texts]


@pytest.fixture(scope="module")
def many():
    """Rows as an authority of many makers has them: some names that thousands share, and one that hundreds bear whole."""
    chance = random.Random(1612)
    letters = "aeioulnrstm"
    names = ["".join(chance.choices(letters, k=chance.randint(3, 9))) for _ in range(4000)]
    found = []
    for number in range(12_000):
        words = [chance.choice(["jan", "iacob", chance.choice(names)]), chance.choice(names)]
        if number % 20 == 0:
            words = ["petrus", "holm"]
        page = f"maker/m-{number}"
        found += [Row(" ".join(words[at:] + words[:at]), 5, page, " ".join(words), at, 90) for at in range(2)]
    return sorted(found)


def test_every_row_stands_where_a_browser_looks_for_it(many):
    """But of entries of one and the same name only so many as anybody would read."""
    cut = {name: rows for name, _, rows in shards(many)}
    lost = Counter()
    for row in many:
        name = next(name for name in (row.key[:length] for length in range(len(row.key), -1, -1)) if name in cut)
        if not any(row is each for each in cut[name]):
            lost[row.key] += 1
    borne_by = Counter(row.key for row in many)
    assert all(borne_by[key] - number >= ALIKE for key, number in lost.items())


def test_no_file_is_large(many, vocabulary, tmp_path):
    for name, _, rows in shards(many):
        assert sum(row.size for row in rows) <= FULL, name
    write_look_up(vocabulary, Pages(vocabulary), tmp_path)
    for path in (tmp_path / FOLDER).iterdir():
        assert len(gzip.compress(path.read_bytes(), 6)) <= LARGEST, path


def test_file_names_are_fit_for_every_system():
    names = [file_name(name) for name in ("", "con", "a b", "a&b", "ab", "é")]
    assert len({name.lower() for name in names}) == len(names)
    assert all(re.fullmatch(r"s-[0-9a-z_.]*", name) for name in names)
