"""Lines of subjects, properties and values in files that no tool has tidied."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyoxigraph import Literal, NamedNode, RdfFormat, parse

from margent.checking.positions import positions
from margent.vocabulary.namespaces import MG, TYPE

B = "https://a.example/"
HEAD = f"@base <{B}> .\n@prefix mg: <{MG}> .\n@prefix x: <https://x.example/> .\n"  # three lines


def line(text, subject, predicate=None, value=None):
    return positions(HEAD + text).line(subject, predicate, value) - 3


@pytest.mark.parametrize(
    ("text", "asked", "expected"),
    [
        pytest.param("<a> a mg:Term .\n<b> a mg:Term .", (f"{B}b",), 2, id="second statement"),
        pytest.param("<a> a mg:Term . <b> a mg:Term .\n", (f"{B}b",), 1, id="two statements on a line"),
        pytest.param("<a>\n a\n mg:Term .", (f"{B}a", TYPE), 2, id="a is rdf:type"),
        pytest.param("<a> mg:p 1 ;\n mg:q 2 .", (f"{B}a", f"{MG}q"), 2, id="semicolon"),
        pytest.param("<a> mg:p 1 ;\n ;\n mg:q 2 ; .", (f"{B}a", f"{MG}q"), 3, id="empty semicolons"),
        pytest.param('<a> mg:p "x ; mg:q 1 .\\" <b>" ;\n mg:q 2 .', (f"{B}a", f"{MG}q"), 2, id="signs inside a string"),
        pytest.param('<a> mg:p "#" ; # mg:q 1\n mg:q 2 .', (f"{B}a", f"{MG}q"), 2, id="# in a string and a comment"),
        pytest.param('<a> mg:p """one\n"two"\n;""" ;\n mg:q 2 .', (f"{B}a", f"{MG}q"), 4, id="string over lines"),
        pytest.param("<a> mg:p '''it's\n''' ; mg:q 2 .", (f"{B}a", f"{MG}q"), 2, id="single quotes"),
        pytest.param("<a#b> mg:p 1 .\n<a> mg:p 1 .", (f"{B}a",), 2, id="# inside an IRI"),
        pytest.param("x:a\\,b mg:p 1 .", ("https://x.example/a,b",), 1, id="escaped name"),
        pytest.param("x:a.b mg:p 1.5 .\nx:c mg:p 1.\nx:d mg:p 1 .", ("https://x.example/d",), 3, id="points in names"),
        pytest.param("<https://a.example/ns#> mg:p 1 .", (f"{B}ns#",), 1, id="empty fragment"),
        pytest.param("<> mg:p 1 .\n<#p> mg:p 1 .", (f"{B}#p",), 2, id="relative to the base itself"),
        pytest.param("PREFIX y: <y/>\ny:a mg:p 1 .", (f"{B}y/a",), 2, id="SPARQL prefix half way"),
        pytest.param(
            "<a> mg:p 1 .\n@base <https://b.example/> .\n<a> mg:p 1 .", ("https://b.example/a",), 3, id="new base"
        ),
        pytest.param("<a> mg:p [ mg:q 1 ;\n mg:r ( 1 2 ) ] ;\n mg:q 2 .", (f"{B}a", f"{MG}q"), 3, id="brackets"),
        pytest.param("[ mg:p 1 ] mg:q 2 .\n<a> mg:p 1 .", (f"{B}a",), 2, id="bracket as subject"),
        pytest.param(
            '<a> mg:p "x"@en,\n "y"@la-x-z,\n "z"^^mg:t ;\n mg:q 1 .', (f"{B}a", f"{MG}q"), 4, id="tags and types"
        ),
        pytest.param("<a> mg:p 1 ;\n mg:p 2 .", (f"{B}a", f"{MG}p"), 1, id="the first of two"),
        pytest.param("<a> mg:p 1 .", (f"{B}a", f"{MG}missing"), 1, id="a missing property is at the subject"),
        pytest.param("<a> mg:p 1 .", (f"{B}a", f"{MG}p", Literal("9")), 1, id="a missing value is at the property"),
        pytest.param(
            '<a> mg:p "x"@en,\n "x"@fr .', (f"{B}a", f"{MG}p", Literal("x", language="fr")), 2, id="by language"
        ),
        pytest.param('<a> mg:p "x",\n "a\\u00e9\\n" .', (f"{B}a", f"{MG}p", Literal("aé\n")), 2, id="escapes"),
        pytest.param("<a> mg:p <b>,\n x:c .", (f"{B}a", f"{MG}p", NamedNode("https://x.example/c")), 2, id="an IRI"),
        pytest.param("<a> mg:p 1,\n 02,\n true .", (f"{B}a", f"{MG}p", Literal("02")), 2, id="a number as written"),
        pytest.param("<a> mg:p 1,\n true .", (f"{B}a", f"{MG}p", Literal(True)), 2, id="true"),
    ],
)
def test_line(text, asked, expected):
    assert line(text, *asked) == expected


def test_a_subject_that_is_not_there_has_no_line():
    assert positions(HEAD).line(f"{B}a") is None


def test_a_subject_begun_again_is_noted_with_its_later_line():
    found = positions(f"{HEAD}<a> mg:p 1 .\n<b> mg:p 1 .\n<a> mg:q 1 .")
    assert found.repeated == [(f"{B}a", 6)]
    assert found.line(f"{B}a") == 4


@pytest.mark.parametrize("text", ["<a> mg:p\n [ ] .", "<a> mg:p\n _:x .", "<a> mg:p ( 1\n [] ) .", "\n_:x mg:p 1 ."])
def test_the_first_blank_node_is_noted(text):
    assert positions(HEAD + text).blank == 5


names = st.sampled_from(["a", "b", "c#d", "term/la-x"])
texts = st.text(st.sampled_from("ab;.,#<>[]()@^' \t\\\"\n"), max_size=8)
gaps = st.sampled_from([" ", "\n", "  \n\n", " # not ; this . \n", "\t"])


def quoted(text, long):
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"""{escaped}"""' if long else '"{}"'.format(escaped.replace("\n", "\\n"))


values = st.one_of(
    st.builds(
        lambda text, long, tag: (quoted(text, long) + tag, Literal(text, language=tag[1:] or None)),
        texts,
        st.booleans(),
        st.sampled_from(["", "@en", "@la"]),
    ),
    st.builds(lambda name: (f"<{name}>", NamedNode(B + name)), names),
    st.builds(lambda number: (str(number), Literal(str(number))), st.integers(0, 99)),
)
statements = st.lists(
    st.tuples(
        names,
        st.lists(st.tuples(st.sampled_from("pqr"), st.lists(values, min_size=1, max_size=3)), min_size=1, max_size=3),
    ),
    min_size=1,
    max_size=4,
)


@given(statements, st.lists(gaps, min_size=1, max_size=20))
def test_any_layout_leads_to_the_lines_it_was_written_on(wanted, spaces):
    """Words are written with any gaps between them; the first line of each subject, property and value is then found again."""
    text = HEAD
    used = 0
    first = {}

    def write(word, key=None):
        nonlocal text, used
        if key is not None:
            first.setdefault(key, text.count("\n") + 1)
        text += word + spaces[used % len(spaces)]
        used += 1

    for subject, properties in wanted:
        write(f"<{subject}>", (B + subject, None, None))
        for number, (name, objects) in enumerate(properties):
            if number:
                write(";")
            write(f"mg:{name}", (B + subject, MG + name, None))
            for place, (word, value) in enumerate(objects):
                if place:
                    write(",")
                write(word, (B + subject, MG + name, value))
        write(".")
    list(parse(text.encode(), format=RdfFormat.TURTLE))  # the layout is valid, or the test proves nothing
    found = positions(text)
    assert {key: found.line(*key) for key in first} == first
