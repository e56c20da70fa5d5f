"""Edits of every kind, one after another and several at once, leave the very bytes of a first run; so does a run that is killed."""

import hashlib
import random
import shutil
import subprocess
import sys

import pytest

from margent.publishing import dump_forms, look_up_shards
from margent.publishing.publish import publish

HEAD = """@base <https://many.example/> .
@prefix dcterms: <http://purl.org/dc/terms/> .
@prefix edtf: <http://id.loc.gov/datatypes/edtf/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
@prefix skosxl: <http://www.w3.org/2008/05/skos-xl#> .
"""
ENGRAVER = "<https://w3id.org/margent/role/engraver>"
SYLLABLES = ("ver", "rou", "hol", "em", "tob", "ler", "run", "da", "mos", "sin")


class Edited:
    """A home and an authority whose entries are made, changed, withdrawn and taken out by chance, the same every time."""

    def __init__(self, home, authority, seed):
        self.chance = random.Random(seed)
        self.home, self.authority = home, authority
        self.entries = home / "vocab" / "entries.ttl"
        self.first = self.entries.read_text(encoding="utf-8")
        self.makers, self.marks, self.terms = {}, {}, {}
        self.label, self.added = "engraver", 0
        (authority / "makers").mkdir(parents=True)
        (authority / "publication.ttl").write_text(
            HEAD + '<> a mg:Publication ; dcterms:title "Many"@en ; mg:base <> ; mg:version "1" ; mg:dataFormat 1 .\n'
        )
        for _ in range(60):
            self.a_maker_comes()
        for _ in range(5):
            self.a_mark_comes()
        self.write()

    def name(self):
        return "".join(self.chance.choices(SYLLABLES, k=3)).capitalize()

    def any_of(self, table):
        return table[self.chance.choice(sorted(table))]

    def a_maker_comes(self):
        self.added += 1
        surname = self.chance.choice(["Holm", self.name()])
        self.makers[f"m-{self.added}"] = {
            "name": f"{surname}, {self.name()}",
            "born": 1500 + self.added,
            "withdrawn": False,
            "note": "",
            "of": None,
        }

    def a_maker_goes(self):
        del self.makers[self.chance.choice(sorted(set(self.makers) - {each["of"] for each in self.marks.values()}))]

    def a_maker_is_withdrawn(self):
        self.any_of(self.makers)["withdrawn"] ^= True

    def a_maker_is_renamed(self):
        self.any_of(self.makers)["name"] = f"{self.name()}, {self.name()}"

    def a_maker_is_dated(self):
        self.any_of(self.makers)["born"] = self.chance.choice([None, 1400, "[1550..1555]"])

    def a_maker_gets_a_note_of_many_lines(self):
        self.any_of(self.makers)["note"] = 'two\\n\\nlines <a:b> xsd:date \\"quoted\\"'

    def a_maker_gets_a_master(self):
        self.any_of(self.makers)["of"] = self.chance.choice(sorted(self.makers))

    def a_mark_comes(self):
        self.added += 1
        self.marks[f"k-{self.added}"] = {
            "letters": self.name()[:2].upper(),
            "of": self.chance.choice(sorted(self.makers)),
        }

    def a_term_comes(self):
        self.added += 1
        tag = self.chance.choice(["la", "fr"])
        self.terms[f"{tag}-w-{self.added}"] = {"form": self.name().lower(), "weight": 0, "tag": tag}

    def a_term_is_spelt_otherwise(self):
        if self.terms:
            self.any_of(self.terms)["form"] = self.name().lower()

    def a_term_comes_into_another_language(self):
        if self.terms:
            term = self.any_of(self.terms)
            term["tag"] = "fr" if term["tag"] == "la" else "la"

    def a_term_is_weighed(self):
        if self.terms:
            self.any_of(self.terms)["weight"] = self.chance.choice([0, -1500, -2500])

    def a_role_is_called_otherwise(self):
        self.label = self.name().lower()

    def some_edits(self):
        """The names of a few edits that were made."""
        names = [name for name in dir(self) if name.startswith("a_")]
        made = self.chance.choices(names, k=self.chance.randint(1, 3))
        for name in made:
            getattr(self, name)()
        self.write()
        return made

    def write(self):
        """The files as the entries are now, makers in several files."""
        files = {}
        for slug, maker in self.makers.items():
            about = [
                f'<maker/{slug}> a mg:Person ; skos:prefLabel "{maker["name"]}"@en',
                f"mg:practised <maker/{slug}#p>",
            ]
            about += [f'mg:born "{maker["born"]}"^^edtf:EDTF'] if maker["born"] else []
            about += ["owl:deprecated true"] if maker["withdrawn"] else []
            about += [f'skos:note "{maker["note"]}"@en'] if maker["note"] else []
            about += [f"mg:pupilOf <maker/{maker['of']}>"] if maker["of"] in self.makers else []
            text = " ;\n    ".join(about) + f" .\n<maker/{slug}#p> a mg:Practice ; mg:role {ENGRAVER} .\n"
            files.setdefault(self.authority / "makers" / f"{int(slug[2:]) // 20}.ttl", []).append(text)
        for slug, mark in self.marks.items():
            text = f'<mark/{slug}> a mg:Mark ; skos:prefLabel "{mark["letters"]} joined"@en ; mg:markKind mg:makersMark ; mg:letters "{mark["letters"]}" ; mg:standsFor <maker/{mark["of"]}> .\n'
            files.setdefault(self.authority / "marks.ttl", []).append(text)
        for path, texts in files.items():
            path.write_text(HEAD + "\n" + "".join(texts), encoding="utf-8")
        terms = [
            f'<term/{slug}> a mg:Term ; skosxl:literalForm "{term["form"]}"@{term["tag"]} ; mg:kind mg:word ; mg:sense <term/{slug}#s> ; mg:standing mg:fromMemory .\n'
            f'<term/{slug}#s> a mg:Sense ; mg:says <role/engraver> ; mg:weight {term["weight"]} ; mg:standing mg:fromMemory .\n'
            for slug, term in self.terms.items()
        ]  # fmt: skip
        self.entries.write_text(
            self.first.replace('"engraver"@en', f'"{self.label}"@en') + "".join(terms), encoding="utf-8"
        )

    def publish(self, to):
        return publish(self.home / "vocab", self.home / "site", to, [self.authority])


@pytest.fixture
def edited(home_with, root, tmp_path, monkeypatch):
    """Such a home, published in English alone, with a look-up that is cut into many files and dumps that are soon written anew."""
    monkeypatch.setattr(look_up_shards, "FULL", 1500)
    monkeypatch.setattr(look_up_shards, "WANTED", 2)
    monkeypatch.setattr(dump_forms, "MOST_CHANGED", 40)
    home = home_with(tmp_path / "home", {})
    (home / "site").unlink()
    shutil.copytree(root / "site", home / "site", ignore=shutil.ignore_patterns("messages"))
    return Edited(home, tmp_path / "many", seed=1612)


@pytest.fixture
def anew(edited, tmp_path, monkeypatch):
    """A function that gives the digest of each file as a first run makes it."""

    def make():
        with monkeypatch.context() as here:
            here.setenv("MARGENT_CACHE", str(tmp_path / "empty"))
            edited.publish(tmp_path / "anew")
        shutil.rmtree(tmp_path / "empty")
        return digest_of(tmp_path / "anew")

    monkeypatch.setenv("MARGENT_CACHE", str(tmp_path / "cache"))
    return make


def digest_of(folder):
    """The digest of each file, and nothing of each folder."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""
        for path in folder.rglob("*")
    }


@pytest.mark.slow
def test_edits_by_chance_give_the_bytes_of_a_first_run(edited, anew, tmp_path):
    site = tmp_path / "site"
    edited.publish(site)
    assert len(list((site / "look-up").iterdir())) > 15, "the look-up is cut into many files"
    standing = 0
    for _ in range(16):
        before = {path: path.stat().st_ino for path in site.rglob("*.html")}
        made = edited.some_edits()
        edited.publish(site)
        assert digest_of(site) == anew(), made
        standing += sum(path.is_file() and path.stat().st_ino == inode for path, inode in before.items())
    assert standing > 16 * 20, "pages that nothing touched were not written again"
    assert sorted(path.name for path in tmp_path.iterdir() if path.name.startswith(".")) == []


KILLED = """
import os, sys
from pathlib import Path
from margent.publishing import into_place
from margent.publishing.publish import publish
left = int(sys.argv[1])
def counted(plain):
    def step(*given, **more):
        global left
        if left == 0:
            os._exit(9)
        left -= 1
        return plain(*given, **more)
    return step
def put(*given, plain=into_place._put):
    for name in ("replace", "unlink", "rmdir"):
        setattr(Path, name, counted(getattr(Path, name)))
    plain(*given)
into_place._put = put
publish(*map(Path, sys.argv[2:5]), [Path(sys.argv[5])])
"""


@pytest.mark.slow
@pytest.mark.parametrize("steps", [0, 1, 4, 14])
def test_a_run_killed_while_it_puts_files_in_place_spoils_nothing(edited, anew, tmp_path, steps):
    """The edit is taken back before the next run, so that what the killed run put there is of no use to it."""
    site = tmp_path / "site"
    edited.publish(site)
    wanted = anew()
    path = edited.authority / "makers" / "1.ttl"
    text = path.read_text(encoding="utf-8")
    path.write_text(
        text.replace(", ", ", Anna ", 1).replace(
            "<maker/m-21> a", '<maker/gone> a mg:Person ; skos:prefLabel "Gone"@en .\n<maker/m-21> a'
        ),
        encoding="utf-8",
    )
    arguments = [edited.home / "vocab", edited.home / "site", site, edited.authority]
    done = subprocess.run([sys.executable, "-c", KILLED, str(steps), *map(str, arguments)], check=False)
    assert done.returncode == 9, "the run is killed"
    path.write_text(text, encoding="utf-8")
    edited.publish(site)
    assert digest_of(site) == wanted
    assert sorted(path.name for path in tmp_path.iterdir() if path.name.startswith(".")) == []
