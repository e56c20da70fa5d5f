import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyoxigraph import Literal, NamedNode, RdfFormat, Triple, serialize

from margent.cli import run
from margent.faults import Faults
from margent.vocabulary.in_place import put_in_place
from margent.vocabulary.namespaces import PREFIXES
from margent.vocabulary.tidy import natural, tidied, untidy
from margent.vocabulary.turtle import TurtleFile, read_file

BASE = "https://w3id.org/margent/"
MESSY = """# Terms of the Latin trade.
#   Kept by hand.

# A second paragraph.
@prefix mg: <https://w3id.org/margent/ns#> . @prefix skosxl: <http://www.w3.org/2008/05/skos-xl#> .
@prefix unused: <https://x.example/> . @prefix edtf: <http://id.loc.gov/datatypes/edtf/> .
@base <https://w3id.org/margent/> .
<term/la-x#cite-10> a mg:Citation ; mg:work <source/b> ; mg:locator 'p. 3' .
<term/la-x#cite-9> a mg:Citation ; mg:work <source/a> .
<term/la-x> mg:sense <term/la-x#engraver> ; mg:shortForm "b"@LA, "a"@la ; skosxl:literalForm "x"@la ; a mg:Term ;
  mg:citation <term/la-x#cite-10>, <term/la-x#cite-9> ; mg:period "1500/1900"^^edtf:EDTF ; <https://y.example/z> true .
<term/la-x#engraver> a mg:Sense ; mg:weight "-1000"^^<http://www.w3.org/2001/XMLSchema#integer> ; mg:says mg:, <role/engraver> ;
  mg:reason \"\"\"two
lines with "marks" and \\\\\"\"\"@en .
<term/la-9> a mg:Term .
"""
TIDY = """# Terms of the Latin trade.
#   Kept by hand.

# A second paragraph.

@base <https://w3id.org/margent/> .
@prefix edtf: <http://id.loc.gov/datatypes/edtf/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix skosxl: <http://www.w3.org/2008/05/skos-xl#> .

<term/la-9> a mg:Term .

<term/la-x> a mg:Term ;
    skosxl:literalForm "x"@la ;
    mg:period "1500/1900"^^edtf:EDTF ;
    mg:shortForm "a"@la,
        "b"@la ;
    mg:sense <term/la-x#engraver> ;
    mg:citation <term/la-x#cite-9>,
        <term/la-x#cite-10> ;
    <https://y.example/z> true .
<term/la-x#cite-9> a mg:Citation ;
    mg:work <source/a> .
<term/la-x#cite-10> a mg:Citation ;
    mg:work <source/b> ;
    mg:locator "p. 3" .
<term/la-x#engraver> a mg:Sense ;
    mg:says <ns#>,
        <role/engraver> ;
    mg:weight -1000 ;
    mg:reason "two\\nlines with \\"marks\\" and \\\\"@en .
"""


def test_the_one_form(turtle):
    assert tidied(read_file(turtle("a.ttl", MESSY))) == TIDY
    assert tidied(read_file(turtle("b.ttl", TIDY))) == TIDY


@pytest.mark.parametrize(
    ("content", "line", "said"),
    [
        pytest.param(
            TIDY.replace("mg:work <source/a> .", "mg:work <source/a> . # see p. 4"),
            23,
            "make it a skos:editorialNote",
            id="comment at an end",
        ),
        pytest.param(
            TIDY.replace("<term/la-9> a", "# an old one\n<term/la-9> a"),
            11,
            "make it a skos:editorialNote",
            id="comment between",
        ),
        pytest.param(
            TIDY.replace("<term/la-9> a mg:Term", "<term/la-9> mg:x [ mg:y 1 ]"),
            11,
            "a blank node ([); give it an IRI",
            id="brackets",
        ),
        pytest.param(
            TIDY.replace("<term/la-9> a", "_:b a"), 11, "a blank node (_:b); give it an IRI", id="named blank node"
        ),
        pytest.param(
            TIDY.replace("<term/la-9> a mg:Term", "<term/la-9> mg:x ( 1 2 )"), 11, "a blank node (()", id="list"
        ),
    ],
)
def test_what_the_form_has_no_place_for_is_told_by_line(turtle, content, line, said):
    path = turtle("a.ttl", content)
    with pytest.raises(Faults) as caught:
        tidied(read_file(path))
    assert str(caught.value).startswith(f"{path}:{line}: ")
    assert said in str(caught.value)
    assert len(caught.value.faults) == 1


def test_other_prefixes_are_kept_where_needed_and_lose_to_ours(turtle):
    text = '@prefix o: <https://o.example/> .\n@prefix mg: <https://not-ours.example/> .\n<https://a.example/> o:p mg:q, o:b\\/c, "x"^^o:t .\n'
    assert tidied(read_file(turtle("a.ttl", text))) == (
        "@prefix o: <https://o.example/> .\n\n"
        '<https://a.example/> o:p <https://not-ours.example/q>,\n        <https://o.example/b/c>,\n        "x"^^o:t .\n'
    )


@pytest.mark.parametrize("content", ["", "# only a head\n", "# head\n\n@base <https://w3id.org/margent/> .\n"])
def test_a_file_without_triples_keeps_what_it_has(turtle, content):
    assert tidied(read_file(turtle("a.ttl", content))) == content


def test_the_text_is_there_whole_or_not_at_all(turtle, tmp_path):
    path = turtle("a.ttl", "old")
    path.chmod(0o640)
    link = tmp_path / "link.ttl"
    link.symlink_to(path)
    put_in_place({link: "ä\n"})
    assert path.read_bytes() == "ä\n".encode()
    assert link.is_symlink()
    assert path.stat().st_mode & 0o777 == 0o640
    assert sorted(each.name for each in tmp_path.iterdir()) == ["a.ttl", "link.ttl"]


def test_natural_order():
    assert sorted(["a-10", "a-9", "a", "b", "a-9x"], key=natural) == ["a", "a-9", "a-9x", "a-10", "b"]


def joined(namespace, rest):
    """An IRI with at most one number sign, and per cent signs that mean something."""
    before, sign, after = (namespace + rest.replace("%", "%41")).partition("#")
    return NamedNode(before + sign + after.replace("#", ""))


def iris():
    namespaces = [BASE, BASE + "term/", "https://x.example/", *list(PREFIXES.values())[:3]]
    return st.builds(joined, st.sampled_from(namespaces), st.text("abz09-._~:/?#%é", max_size=8))


LITERALS = st.one_of(
    st.builds(Literal, st.text()),
    st.builds(lambda value, lang: Literal(value, language=lang), st.text(), st.sampled_from(["en", "fr", "en-GB"])),
    st.builds(
        lambda value, kind: Literal(value, datatype=kind),
        st.text("0123-+.truefals", max_size=5),
        st.sampled_from(
            [
                NamedNode("http://www.w3.org/2001/XMLSchema#" + name)
                for name in ("integer", "decimal", "boolean", "double", "string")
            ]
        ),
    ),
)
GRAPHS = st.lists(st.builds(Triple, iris(), iris(), st.one_of(iris(), LITERALS)), max_size=12)


@given(GRAPHS, st.sampled_from([None, BASE, BASE + "term", "https://x.example/"]))
def test_twice_is_once_and_the_graph_is_the_same(tmp_path_factory, triples, base):
    path = tmp_path_factory.mktemp("tidy") / "a.ttl"
    once = tidied(TurtleFile(path, "", base, {"x": "https://x.example/"}, triples))
    path.write_text(once, encoding="utf-8", newline="\n")
    again = read_file(path)
    assert set(again.triples) == set(triples)
    assert tidied(again) == once


@given(GRAPHS)
def test_the_order_in_which_things_were_written_does_not_matter(triples):
    turned = [*reversed(triples), *triples]
    forms = {
        tidied(TurtleFile(None, serialize(each, format=RdfFormat.N_TRIPLES).decode(), BASE, {}, each))
        for each in (triples, turned)
    }
    assert len(forms) == 1


def test_the_command_writes_and_lists(turtle, tmp_path, capsys):
    messy, tidy = (
        turtle("vocab/a.ttl", "\ufeff" + MESSY.replace("\n", "\r\n").replace("\r\nlines", "\\nlines")),
        turtle("vocab/demo/b.ttl", TIDY),
    )
    turtle("vocab/demo/publication.ttl", TIDY)
    assert run(["tidy", "--check", "--home", str(tmp_path)]) == 1
    assert capsys.readouterr() == (f"{messy}\n", "1 of 3 files are not tidy\n")
    assert run(["tidy", str(messy), str(tidy.parent)]) == 0
    assert capsys.readouterr() == (f"{messy}\n", "1 of 3 files were not tidy and are now\n")
    assert messy.read_text() == tidy.read_text() == TIDY
    assert run(["tidy", "--check", str(tmp_path)]) == 0
    assert capsys.readouterr() == ("", "0 of 3 files are not tidy\n")


def test_nothing_is_written_where_one_file_stands_in_the_way(turtle, tmp_path, capsys):
    messy, wrong = turtle("a.ttl", MESSY), turtle("b.ttl", "<a")
    assert run(["tidy", str(tmp_path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(f"{wrong}:1:")
    assert messy.read_text() == MESSY


def test_our_own_files_can_be_tidied(root):
    """Whether they are tidy is asked by `margent tidy --check`; here, that nothing in them stands in the way."""
    from margent.vocabulary.turtle import turtle_files

    untidy(turtle_files(root / "vocab", all_below=True))
