"""The reader of the browser gives the same JSON as the reader in Python, for any lettering."""

import ast
import importlib.util
import json
import re
import shutil
import subprocess

import pytest

from margent.exchange.letterings import lettering_from
from margent.faults import Fault
from margent.vocabulary.edtf import years

MADE = 5000
NOISE = 1000

DATES = [
    "1612", " 1612\u3000", "161X", "16XX", "1612~", "~1612", "?1612%", "%1612?", "1610/1614", "1610~/1614?", "../1614", "/1614", "1610/..",
    "1610/", "/", "[1559,1560]", "{1559, 1562,1570~}", "[..1559]", "[1559..1570,1580]", "[..]", "1612-05", "1612-05-03", "1612-XX", "1766S2",
    "-0044", "-01XX", "-0044/1612", "1612?~", "161", "16123", "X612", "1612-5", "1612-", "1700/1600", "about 1612", "", "[]", "[1612", "1612S", "~",
]  # fmt: skip

ASKED = """
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
const load = (name) => import(pathToFileURL(`${process.argv[1]}/${name}.js`));
const [{ floorDivide, sorted }, { years }] = await Promise.all(["order", "edtf"].map(load));
const [divided, texts, keys, dates] = JSON.parse(readFileSync(0, "utf-8"));
const yearsOrNull = (date) => {
  try {
    return years(date);
  } catch {
    return null;
  }
};
const same = (each) => each;
console.log(JSON.stringify([divided.map((pair) => floorDivide(...pair)), sorted(texts, same), sorted(keys, same), dates.map(yearsOrNull)]));
"""

REFUSED = [
    pytest.param(record, id=name)
    for name, record in {
        "no object": ["A. Tobler sculp."],
        "no lines": {"text": "A. Tobler sculp."},
        "a line without text": {"lines": [{"place": "lower left"}]},
        "a line that is no text": {"lines": [3]},
        "no date": {"lines": [], "date": "about 1612"},
        "a date that ends early": {"lines": [], "date": "1700/1600"},
        "half a date": {"lines": [], "date": "1612-0"},
        "an unknown completeness": {"lines": [], "complete": "perhaps"},
        "a technique that is no text": {"lines": [], "technique": ["etching"]},
        "an id that is no text": {"lines": [], "id": {"a": 1}},
        "a long id": {"lines": [], "id": "x" * 1001},
        "half a character": {"lines": ["A. Tobler \ud835 sculp."]},
        "halves the wrong way about": {"lines": ["\udd04\ud835"]},
        "too long": {"lines": ["𝔄" * 20_001]},
    }.items()
]

WHOLE = {"Math.min", "Math.max"}
"""What stays whole numbers where it is given whole numbers."""
FORBIDDEN = re.compile(
    r"\.(?:to(?:Locale)?(?:Lower|Upper)Case|normalize|localeCompare|toLocale\w*|match\w*|replace\w*|search|test|exec|toFixed|toPrecision)\("
    r"|\b(?:RegExp|Intl|Date|parseFloat|eval|Function)\b|\*\*|\\p\{|\bfetch\b|\bimport\("
)
"""What would let a host's own rules for text, or its floating point, touch a reading."""

WITHOUT_LIKE = {
    "conditions.py": None,  # words for those who look a term up, and for the site
    "word_kinds.py": None,  # the same
    "forms.py": {"pack"},  # only the compiler packs
    "words.py": None,  # asks the vocabulary, which no browser loads
}


def outcome(reader, record):
    try:
        return reader.read(lettering_from(record)).as_dict()
    except Fault as fault:
        return {"fault": str(fault)}


def plain(text):
    """JSON without the difference between 1 and 1.0, which parsing does away with in a browser; the order of keys stays."""
    return json.dumps(json.loads(text, parse_int=float))


@pytest.fixture(scope="module")
def made(root):
    spec = importlib.util.spec_from_file_location("made_letterings", root / "tests/lettering/made_letterings.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def other_modules(root, tmp_path_factory):
    """The browser's reader where Node takes its files for modules, which a page says by type="module"."""
    modules = tmp_path_factory.mktemp("host") / "reader"
    shutil.copytree(root / "site/scripts/reader", modules)
    (modules / "package.json").write_text('{"type": "module"}', encoding="utf-8")
    return modules


@pytest.fixture(scope="module")
def other_host(root, node, compiled, other_modules, tmp_path_factory):
    """A function that reads many records with the browser's reader, all in one process."""
    folder = tmp_path_factory.mktemp("compiled")
    (folder / "reader.json").write_text(json.dumps(compiled, ensure_ascii=False), encoding="utf-8")

    def answers(records):
        done = subprocess.run(
            [node, root / "tests/lettering/read_with_node.mjs", other_modules, folder / "reader.json"],
            input="".join(json.dumps(record) + "\n" for record in records).encode(),
            capture_output=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr.decode()
        return done.stdout.decode().rstrip("\n").split("\n")

    return answers


@pytest.fixture(scope="module")
def vectors(root, made, vocabulary, compiled):
    """Kind of vector -> records."""
    judged = root.parent / "shared" / "gold" / "letterings.jsonl"
    lines = judged.read_text(encoding="utf-8").splitlines() if judged.is_file() else []
    return {
        "judged": [json.loads(line) for line in lines],
        "made": made.made_letterings(vocabulary, sorted(compiled["techniques"]), MADE),
        "noise": made.noise(vocabulary, NOISE),
        "long": made.long_letterings(),
        "refused": [param.values[0] for param in REFUSED],
    }


@pytest.fixture(scope="module")
def theirs(vectors, other_host):
    """Kind of vector -> what the browser's reader answers, as JSON text."""
    answers = other_host([record for records in vectors.values() for record in records])
    assert len(answers) == sum(map(len, vectors.values()))
    found = {}
    for kind, records in vectors.items():
        found[kind], answers = answers[: len(records)], answers[len(records) :]
    return found


@pytest.mark.parametrize("kind", ["judged", "made", "noise", "long"])
def test_both_hosts_give_the_same_json(reader, vectors, theirs, kind):
    if not vectors[kind]:
        pytest.skip("no judged letterings beside the checkout")
    differ = [
        record
        for record, answer in zip(vectors[kind], theirs[kind], strict=True)
        if plain(json.dumps(outcome(reader, record), ensure_ascii=False)) != plain(answer)
    ]
    assert not differ, f"{len(differ)} of {len(vectors[kind])} are read differently, the first: {json.dumps(differ[0])}"


@pytest.mark.parametrize("record", REFUSED)
def test_both_hosts_refuse_in_the_same_sentence(reader, vectors, theirs, record):
    mine = outcome(reader, record)
    assert list(mine) == ["fault"]
    assert json.loads(theirs["refused"][vectors["refused"].index(record)]) == mine


def test_the_made_letterings_are_worth_comparing(theirs, made):
    """Every part of a reading is met often, in every language, so that a fault in a host cannot hide."""
    readings = [json.loads(line) for line in theirs["made"]]
    statements = [statement for reading in readings for statement in reading["statements"]]
    for part in ("statements", "notices", "places", "dates", "unread"):
        assert sum(bool(reading[part]) for reading in readings) > MADE // 10, part
    for first in range(len(made.LANGUAGES)):
        assert sum(bool(reading["statements"]) for reading in readings[first :: len(made.LANGUAGES)]) > MADE // 20
    for key in ("implied", "instead", "doubtful", "term", "of"):
        assert sum(bool(statement[key]) for statement in statements) > 100, key
    for key in ("after", "same_as"):
        assert sum(statement[key] is not None for statement in statements) > 50, key
    assert len({role for statement in statements for role in statement["roles"]}) > 25
    assert len({json.dumps(reading["statements"]) for reading in readings}) > MADE // 2


def test_made_letterings_are_the_same_on_every_run(made, vocabulary, compiled, vectors):
    assert made.made_letterings(vocabulary, sorted(compiled["techniques"]), 70) == vectors["made"][:70]
    assert made.noise(vocabulary, 30) == vectors["noise"][:30]


def test_whole_numbers_order_and_years_are_those_of_python(root, node, other_modules):
    numbers = [*range(-30, 31), 999_999_999_999, -1_000_000_000_001]
    divided = [[left, right] for left in numbers for right in (1, 2, 3, 7, 10, 1000, -3)]
    texts = ["", "a", "b", "ab", "z", "é", "\ud7ff", "\ue000", "\uffff", "𝔄", "𝔄a", "\U0010ffff", "constructor"]
    keys = [[-number % 3, text, [text, "x"]] for number, text in enumerate(texts + texts[::-1])]
    found = json.loads(
        subprocess.run(
            [node, "--input-type=module", "-e", ASKED, other_modules],
            input=json.dumps([divided, texts[::-1], keys, DATES]),
            capture_output=True,
            check=True,
            encoding="utf-8",
        ).stdout
    )
    assert found == [
        [left // right for left, right in divided],
        sorted(texts),
        sorted(keys),
        [list(allowed) if (allowed := years_or_none(date)) else None for date in DATES],
    ]


def years_or_none(date):
    try:
        return years(date)
    except ValueError:
        return None


def sources(root):
    return {path.name: path.read_text(encoding="utf-8") for path in sorted((root / "site/scripts/reader").glob("*.js"))}


def without_comments(text):
    return "\n".join(
        line.split(" // ")[0] for line in text.split("\n") if not line.lstrip().startswith(("//", "/*", "*"))
    )


def test_the_modules_call_nothing_that_hosts_do_differently(root):
    for name, text in sources(root).items():
        code = without_comments(text)
        assert not FORBIDDEN.findall(code), f"{name}: {FORBIDDEN.findall(code)}"
        assert set(re.findall(r"\bMath\.\w+", code)) <= WHOLE, name
        assert ".sort()" not in code, f"{name}: sorts by halves of surrogate pairs; sort with `compare`"
        assert set(re.findall(r'from "([^"]+)"', code)) <= {f"./{other}" for other in sources(root)}, name


def camel(name):
    first, *rest = name.strip("_").split("_")
    return first + "".join(part.capitalize() for part in rest)


def test_every_function_has_its_like_of_the_same_name(root):
    """A function that is new, renamed or gone in Python shows here, before any vector meets it."""
    modules = sources(root)
    for path in sorted((root / "builder/margent/lettering").glob("*.py")):
        left_out = WITHOUT_LIKE.get(path.name, set())
        tree = ast.parse(path.read_text(encoding="utf-8"))
        inside = {
            each
            for node in ast.walk(tree)
            if isinstance(node, ast.FunctionDef)
            for each in ast.walk(node)
            if each is not node
        }
        wanted = {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef) and node not in inside}
        if left_out is None or not wanted:
            continue
        text = modules[path.with_suffix(".js").name]
        for name in sorted(wanted - left_out):
            if not name.startswith("__"):
                defined = rf"^(?:export )?function {camel(name)}\(|^  (?:get )?#?{camel(name)}\("
                assert re.search(defined, text, re.MULTILINE), f"{path.name}: {name} has no like in {path.stem}.js"
