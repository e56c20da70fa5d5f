"""The files of the finder of marks: small, however many marks there are, and holding every mark once."""

import gzip
import json
import random

import pytest

from margent.publishing.marks_data import FULL, marks_data
from margent.publishing.material import Material
from margent.vocabulary.load import load

LARGEST = 12_000
"""Bytes of a compressed file at most, as of the look-up's."""
MANY = 3000


@pytest.fixture(scope="module")
def files(root, tmp_path_factory):
    """The files for an authority of many invented marks, by their names."""
    folder = tmp_path_factory.mktemp("many")
    chance = random.Random(1612)
    head = "@base <https://many.example/> .\n@prefix dcterms: <http://purl.org/dc/terms/> .\n@prefix edtf: <http://id.loc.gov/datatypes/edtf/> .\n"
    head += "@prefix mg: <https://w3id.org/margent/ns#> .\n@prefix skos: <http://www.w3.org/2004/02/skos/core#> .\n"
    publication = '<> a mg:Publication ; dcterms:title "Many"@en ; mg:base <> ; mg:version "1" ; mg:dataFormat 1 .\n'
    (folder / "publication.ttl").write_text(head + publication, encoding="utf-8")
    words = [
        "heron",
        "bridge",
        "star",
        "key",
        "quail",
        "burin",
        "between two hills",
        "in a shield",
        "above a river",
        "crowned",
    ]
    entries = []
    for number in range(MANY):
        letters = "".join(chance.choices("ABCDEFGHIKLMNOPRSTVW", k=chance.randint(1, 4)))
        name = "".join(chance.choices("aeiourstlnmvh", k=9)).capitalize()
        device = f"a {' '.join(chance.choices(words, k=3))}"
        entries.append(
            f'<maker/m-{number}> a mg:Person ; skos:prefLabel "{name}, {letters}"@en .\n'
            f'<mark/k-{number}> a mg:Mark ; skos:prefLabel "{letters} of {name}"@en ; mg:markKind mg:makersMark ; mg:letters "{letters}" ;\n'
            f'    mg:device "{device}"@en ; mg:period "{1500 + number % 300}/{1520 + number % 300}"^^edtf:EDTF ; mg:standsFor <maker/m-{number}> .\n'
        )
    (folder / "marks.ttl").write_text(head + "".join(entries), encoding="utf-8")
    return dict(marks_data(Material(load(root / "vocab", [folder]), [], [])))


def test_no_file_is_large(files):
    assert len(files) > 10
    for name, told in files.items():
        text = json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode()
        assert len(gzip.compress(text, 6)) <= LARGEST, name
        assert len(text) <= FULL or name == "marks devices", name


def test_each_mark_stands_once_in_the_order_of_the_marks(files):
    compared = [row for number in range(files["marks"]["compared"]) for row in files[f"marks compared-{number + 1}"]]
    starts = files["marks"]["told"]
    told = [files[f"marks told-{number + 1}"] for number in range(len(starts))]
    assert [sum(map(len, told[:number])) for number in range(len(told))] == starts
    told = [row for piece in told for row in piece]
    assert len(compared) == len(told) == MANY
    for row, beside in zip(compared, told, strict=True):
        assert beside["label"].startswith(f"{row['written']} of ")
    assert sorted(row["page"] for row in told) == sorted(f"mark/k-{number}" for number in range(MANY))
