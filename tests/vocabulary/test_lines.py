import pytest

from margent.vocabulary.lines import places, tokens

TEXT = '''# head <a> .
@base <https://x.example/> .
PREFIX p: <https://x.example/ns#>

<a> a p:T ;
    p:note """two . lines
; here""" , 'it\\'s' ;
    p:n 1.5, 2 .
p:b.c p:n [ p:inner 1 ; p:m ( 1 2 ) ] ; # comment
    p:last <#x> .
<> p:n -1.
'''


def test_subjects_and_properties_are_found_by_line():
    found = places(TEXT)
    base, ns = "https://x.example/", "https://x.example/ns#"
    assert found.subjects == {base + "a": 5, ns + "b.c": 9, base: 11}
    assert found.line(base + "a", ns + "note") == 6
    assert found.line(base + "a", ns + "n") == 8
    assert found.line(ns + "b.c", ns + "last") == 10
    assert found.line(ns + "b.c", ns + "inner") == 9, (
        "a property inside brackets is not the subject's: its subject's line is told"
    )
    assert found.line("https://nowhere.example/") == 1


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        pytest.param("<a#b> # c", ["iri", "comment"], id="a number sign in an IRI is no comment"),
        pytest.param('"# \\" no" # c', ["string", "comment"], id="nor in a string"),
        pytest.param('"""a "quoted" # word""" .', ["string", "sign"], id="nor in a long string"),
        pytest.param('"""a""" "b"', ["string", "string"], id="a long string ends at its first end"),
        pytest.param('"" .', ["string", "sign"], id="an empty string"),
        pytest.param('"x"@en-GB ;', ["string", "at", "sign"], id="a language"),
        pytest.param("p:a#c", ["name", "comment"], id="a comment right after a name"),
        pytest.param("_:b1 .", ["blank", "sign"], id="a blank node"),
        pytest.param("p:a.", ["name", "sign"], id="the full stop is no part of a name"),
    ],
)
def test_tokens(text, kinds):
    assert [token.kind for token in tokens(text)] == kinds
