"""Modules wrapped into one classic script, and data as scripts."""

import json
import subprocess

import pytest

from margent.faults import Fault
from margent.publishing.scripts import bundled, data_script, write_scripts


@pytest.fixture
def modules(tmp_path):
    """A function that writes modules and gives back the folder."""

    def write(**files):
        for name, text in files.items():
            path = tmp_path / f"{name.replace('_', '/')}.js"
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        return tmp_path

    return write


def run(node, text):
    return subprocess.run([node, "-e", text], capture_output=True, text=True, check=True, timeout=30).stdout


def test_what_is_exported_arrives_under_the_name_it_is_imported_by(node, modules):
    folder = modules(
        main='import { Cup, FULL as level } from "./deep/cup.js";\nimport { double } from "./double.js";\n'
        "console.log(new Cup().fill(), double(level));\n",
        deep_cup='import {\n  double,\n} from "../double.js";\n\nexport const FULL = 3;\n\nconst hidden = 1;\n\n'
        "export class Cup {\n  fill() {\n    return double(FULL) + hidden;\n  }\n}\n",
        double="export function double(number) {\n  return 2 * number;\n}\nconst hidden = 5;\n",
    )
    assert run(node, bundled(folder / "main.js")) == "7 6\n"


@pytest.mark.parametrize(
    "text",
    [
        pytest.param('import * as all from "./other.js";', id="everything under one name"),
        pytest.param('import other from "./other.js";', id="a default"),
        pytest.param("export default 1;", id="export of a default"),
        pytest.param("export { a };", id="export of a list"),
        pytest.param("export let a = 1;", id="export of what may change"),
        pytest.param('import { a } from "somewhere";', id="from outside"),
        pytest.param('import { a } from "./lost.js";', id="a file that is not there"),
        pytest.param('import { a } from "./main.js";', id="from itself"),
    ],
)
def test_other_forms_are_refused_with_the_file(modules, text):
    folder = modules(main=text + "\n", other="export const a = 1;\n")
    with pytest.raises(Fault, match=r"\.js: "):
        bundled(folder / "main.js")


def test_every_script_of_the_site_is_wrapped(root, tmp_path, node):
    write_scripts(root / "site" / "scripts", tmp_path)
    written = {path.name for path in tmp_path.glob("*.js")}
    assert {"desk.js", "look-up.js"} <= written
    for path in tmp_path.glob("*.js"):
        subprocess.run([node, "--check", str(path)], check=True, timeout=30)
        assert "\nimport " not in path.read_text(encoding="utf-8")


@pytest.mark.parametrize("value", ["plain", "it's", 'a "b" \\ c', "\n\r\t\u2028\u2029", "</script>", "𝔄 ſ"])
def test_data_come_back_as_they_were(node, value):
    program = "globalThis.margentGive = (name, data) => console.log(JSON.stringify([name, data]));\n"
    out = run(node, program + data_script("a name", json.dumps({"value": value}, ensure_ascii=False)))
    assert json.loads(out) == ["a name", {"value": value}]
