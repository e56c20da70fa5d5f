import hashlib
import os
import shutil
import subprocess
import sys
from html.parser import HTMLParser
from urllib.parse import unquote, urljoin, urlsplit

import pytest

from margent.faults import Fault
from margent.publishing.into_place import MARKER, built_beside
from margent.publishing.pages import followable
from margent.publishing.publish import publish

LOADING = {"link": "href", "script": "src", "img": "src", "source": "src", "iframe": "src", "object": "data"}
LARGEST_ROLE_PAGE = 60_000


def is_data(named):
    """Whether a script element holds data, which no browser runs."""
    return named.get("type") == "application/ld+json"


class Parsed(HTMLParser):
    """What one page has: its elements, the texts of some of them, where it leads and what it loads."""

    def __init__(self, text):
        super().__init__()
        self.ids, self.links, self.loads, self.faults, self.metas = set(), [], [], [], {}
        self.counts, self.title, self.text, self.lang = {}, "", [], ""
        self._within = ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attributes):
        named = dict(attributes)
        if not is_data(named):
            self.counts[tag] = self.counts.get(tag, 0) + 1
        self._within = tag
        if "id" in named:
            if named["id"] in self.ids:
                self.faults.append(f"two elements have the id {named['id']}")
            self.ids.add(named["id"])
        for name in named:
            if name.startswith("on") or name == "style":
                self.faults.append(f"<{tag}> has the attribute {name}")
        if tag == "html":
            self.lang = named.get("lang", "")
        elif tag == "meta":
            self.metas[named.get("http-equiv") or named.get("name")] = named.get("content", "")
        elif tag == "a":
            self.links.append(named["href"])
        elif tag == "style" or (tag == "script" and "src" not in named and not is_data(named)):
            self.faults.append(f"<{tag}> in the page itself")
        if LOADING.get(tag) in named:
            self.loads.append(named[LOADING[tag]])

    def handle_endtag(self, tag):
        self._within = ""

    def handle_data(self, data):
        if self._within == "title":
            self.title += data
        self.text.append(data)


def language_of(path):
    """The language in whose folder a page lies."""
    return path[:2] if path[2:3] == "/" else "en"


def pages_of(folder):
    return {
        path.relative_to(folder).as_posix(): Parsed(path.read_text(encoding="utf-8"))
        for path in sorted(folder.rglob("*.html"))
    }


def digest_of(folder):
    """The digest of each file."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file()
    }


@pytest.fixture(scope="module")
def frozen(root, tmp_path_factory):
    """The vocabulary and the templates of the checkout as they are now: somebody may go on working there meanwhile."""
    folder = tmp_path_factory.mktemp("frozen")
    for name in ("vocab", "site"):
        shutil.copytree(root / name, folder / name)
    return folder


@pytest.fixture(scope="module")
def site(frozen, tmp_path_factory):
    """The site of the checkout, with the invented authority."""
    target = tmp_path_factory.mktemp("published") / "site"
    publish(frozen / "vocab", frozen / "site", target, [frozen / "vocab" / "demo"])
    return target


@pytest.fixture(scope="module")
def pages(site):
    return pages_of(site)


@pytest.fixture(scope="module")
def small_site(small, tmp_path_factory):
    target = tmp_path_factory.mktemp("small") / "site"
    publish(small / "vocab", small / "site", target)
    return target


def test_every_internal_link_arrives(site, pages):
    files = {path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()}
    astray = []
    for here, page in pages.items():
        for address in page.links + page.loads:
            if urlsplit(address).scheme:
                continue
            whole = urlsplit(urljoin(here, address))
            path = unquote(whole.path) or here
            if path not in files:
                astray.append(f"{here}: {address}")
            elif (
                whole.fragment
                and "=" not in whole.fragment
                and path.endswith(".html")
                and whole.fragment not in pages[path].ids
            ):
                astray.append(f"{here}: {address} (no such id)")
    assert astray == []


def test_every_page_has_what_a_reader_and_a_browser_need(pages):
    wanting = []
    for here, page in pages.items():
        policy = page.metas.get("Content-Security-Policy", "")
        for name, there in {
            "its language": page.lang == language_of(here),
            "a title": page.title.strip(" ·\n") not in ("", "Margent"),
            "one main": page.counts.get("main") == 1,
            "one h1": page.counts.get("h1") == 1,
            "a strict content security policy": "default-src 'none'" in policy and "unsafe" not in policy,
            "a width": "viewport" in page.metas,
        }.items():
            if not there:
                wanting.append(f"{here}: lacks {name}")
        wanting += [f"{here}: {fault}" for fault in page.faults]
    assert wanting == []


def test_no_page_loads_anything_from_elsewhere(site, pages):
    away = [f"{here}: {each}" for here, page in pages.items() for each in page.loads if urlsplit(each).scheme]
    away += [f"{here}: {each}" for here, page in pages.items() for each in page.loads if each.startswith(("//", "/"))]
    assert away == []
    for style in site.rglob("*.css"):
        text = style.read_text(encoding="utf-8")
        assert "http:" not in text
        assert "https:" not in text
        assert "@import" not in text


def test_every_outside_link_is_of_the_web(pages):
    schemes = {urlsplit(each).scheme for page in pages.values() for each in page.links}
    assert schemes <= {"", "http", "https"}


def test_no_page_of_a_role_is_long(site):
    too_long = {path.name: path.stat().st_size for path in (site / "role").glob("*.html")}
    assert {name: size for name, size in too_long.items() if size >= LARGEST_ROLE_PAGE} == {}


def test_every_entry_in_force_or_withdrawn_has_its_page(site, vocabulary):
    for folder, table in {
        "role": vocabulary.roles,
        "term": vocabulary.terms,
        "notice": vocabulary.notice_kinds,
        "qualifier": vocabulary.qualifiers,
        "place": vocabulary.places,
        "source": vocabulary.sources,
        "forename": vocabulary.forenames,
    }.items():
        wanted = {iri.rsplit("/", 1)[-1] + ".html" for iri in table}
        assert wanted <= {path.name for path in (site / folder).iterdir()}  # the authority has sources of its own


def test_a_withdrawn_entry_says_so_and_leaves_the_lists(small_site):
    page = Parsed((small_site / "term" / "la-scribbled.html").read_text(encoding="utf-8"))
    assert "Withdrawn." in page.text
    assert "../term/la-sculpsit.html" in page.links
    index = Parsed((small_site / "words" / "la.html").read_text(encoding="utf-8"))
    assert "../term/la-sculpsit.html" in index.links
    assert "../term/la-scribbled.html" not in index.links
    assert not any("scribbled" in path.read_text(encoding="utf-8") for path in (small_site / "look-up").iterdir())


def test_two_runs_write_the_same_bytes(site, frozen, tmp_path):
    """The second run is another process, in which texts hash otherwise and another time zone rules."""
    program = (
        "import sys; from pathlib import Path; from margent.publishing.publish import publish\n"
        "root, target = map(Path, sys.argv[1:])\n"
        "publish(root / 'vocab', root / 'site', target, [root / 'vocab' / 'demo'])"
    )
    there = {**os.environ, "PYTHONHASHSEED": "12345", "TZ": "Pacific/Auckland", "LC_ALL": "C"}
    subprocess.run([sys.executable, "-c", program, str(frozen), str(tmp_path / "again")], check=True, env=there)
    assert digest_of(tmp_path / "again") == digest_of(site)


def test_a_second_run_replaces_the_first_whole(small, frozen, tmp_path):
    target = tmp_path / "site"
    publish(small / "vocab", frozen / "site", target)
    before = digest_of(target)
    (target / "term" / "left-behind.html").write_text("old", encoding="utf-8")
    publish(small / "vocab", frozen / "site", target)
    assert digest_of(target) == before
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_nobody_publishes_where_somebody_is_publishing(small, tmp_path):
    target = tmp_path / "site"
    with built_beside(target) as built:
        with pytest.raises(Fault, match="another run"):
            publish(small / "vocab", small / "site", target)
        assert built.new.is_dir()
    assert target.is_dir()


def test_a_folder_of_somebody_else_is_not_replaced(small, tmp_path):
    target = tmp_path / "thesis"
    target.mkdir()
    (target / "chapter.txt").write_text("years of work", encoding="utf-8")
    with pytest.raises(Fault, match="did not publish"):
        publish(small / "vocab", small / "site", target)
    assert [path.name for path in tmp_path.iterdir()] == ["thesis"]
    assert [path.name for path in target.iterdir()] == ["chapter.txt"]


def test_an_empty_folder_may_be_published_to(small, tmp_path):
    target = tmp_path / "empty"
    target.mkdir()
    publish(small / "vocab", small / "site", target)
    assert (target / MARKER).is_file()


def test_a_link_and_a_file_are_not_replaced(small, tmp_path):
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    (tmp_path / "folder").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "folder")
    for name in ("file", "link"):
        with pytest.raises(Fault):
            publish(small / "vocab", small / "site", tmp_path / name)
    assert (tmp_path / "file").read_text(encoding="utf-8") == "mine"
    assert list((tmp_path / "folder").iterdir()) == []


def test_a_run_that_fails_leaves_the_former_site(small, tmp_path):
    target = tmp_path / "site"
    publish(small / "vocab", small / "site", target)
    before = digest_of(target)
    with pytest.raises(Fault):
        publish(small / "no-vocab", small / "site", target)
    assert digest_of(target) == before
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


SCRIPT = '<script>alert("x")</script>'
BREAKING = "\"><img src=x onerror='alert(1)'>"
TURNING = "\u202egnuworb \u05d0\u05d1\u05d2"


@pytest.fixture(scope="module")
def hostile(home_with, tmp_path_factory):
    """The site of a small vocabulary in which whatever may be a text or an address wants harm."""

    def inside(text):
        return text.replace("\\", "\\\\").replace('"', '\\"')

    replaced = {
        '"Cut the plate."@en': f'"{inside(SCRIPT)}"@en',
        '"engraver"@en': f'"{inside(BREAKING)}"@en',
        '"Look at the lines."@en': f'"{inside(SCRIPT + BREAKING)}"@en',
        '"sculpcit"@la': f'"{inside(BREAKING)}"@la',
        '"sculpsit"@la ; mg:kind': f'"{inside(SCRIPT)}"@la ; mg:kind',
        '"perfect, 3rd person singular"@en': f'"{TURNING}"@en',
        '"A handbook"@en': f'"{inside(BREAKING)}"@en',
        '"Anon"': f'"{inside(SCRIPT)}"',
        '"sculps."': f'"{inside(SCRIPT)}"',
        "<https://handbook.example/>": "<javascript:alert(1)>, <data:text/html,x>",
        "relator:egr": "<javascript:alert(2)>",
    }
    home = home_with(tmp_path_factory.mktemp("hostile"), replaced)
    publish(home / "vocab", home / "site", home / "out")
    return home / "out"


def test_hostile_entries_are_inert(hostile):
    for here, page in pages_of(hostile).items():
        assert page.faults == [], here
        assert page.counts.get("script", 0) == sum(load.endswith(".js") for load in page.loads), here
        assert page.counts.get("img", 0) == (1 if here.rsplit("/")[-1] in ("index.html", "lower-margin.html") else 0), (
            here
        )
        assert all(urlsplit(each).scheme in ("", "http", "https") for each in page.links), here


def test_hostile_entries_are_still_told(hostile):
    role = Parsed((hostile / "role" / "engraver.html").read_text(encoding="utf-8"))
    assert SCRIPT in role.text
    assert BREAKING in role.text
    assert "javascript:alert(2)" in role.text
    source = Parsed((hostile / "source" / "handbook.html").read_text(encoding="utf-8"))
    assert "javascript:alert(1)" in source.text
    assert "data:text/html,x" in source.text


def test_a_note_of_ten_thousand_characters_is_shown_whole(home_with, tmp_path):
    note = "A word with <b>marks</b> & more. " * 320
    home = home_with(tmp_path / "home", {'skos:note "Opened at page 1."@en': f'skos:note "{note}"@en'})
    publish(home / "vocab", home / "site", tmp_path / "site")
    page = Parsed((tmp_path / "site" / "source" / "handbook.html").read_text(encoding="utf-8"))
    assert note in "".join(page.text)
    assert page.faults == []
    assert page.counts.get("b", 0) == 0


def test_a_text_that_turns_the_direction_turns_only_itself(hostile):
    text = (hostile / "term" / "la-sculpsit.html").read_text(encoding="utf-8")
    before = text[: text.index(TURNING)]
    assert before.endswith('<span dir="auto">')


@pytest.mark.parametrize(
    ("address", "followed"),
    [
        ("https://example.org/a", True),
        ("http://example.org/a", True),
        ("HTTPS://example.org/a", True),
        ("javascript:alert(1)", False),
        ("JavaScript:alert(1)", False),
        ("\u0001javascript:alert(1)", False),
        ("java\nscript:alert(1)", False),
        ("data:text/html,x", False),
        ("file:///etc/hosts", False),
        ("https:", False),
        ("//example.org/a", False),
        ("https://[broken", False),
        ("", False),
    ],
)
def test_only_addresses_of_the_web_are_followed(address, followed):
    assert bool(followable(address)) is followed


def test_an_entry_whose_iri_leaves_its_folder_is_refused(home_with, tmp_path):
    home = home_with(tmp_path / "home", {"notice/price": "notice/Price_of%2F.."})
    with pytest.raises(Fault, match="Price_of"):
        publish(home / "vocab", home / "site", home / "out")
    assert not (home / "out").exists()
