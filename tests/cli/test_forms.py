"""`margent forms`: what was met comes with its places, what is made by rule is marked so."""

import json

import pytest

from margent.cli import run


@pytest.fixture
def forms(capsys):
    """A function that runs `margent forms` and gives back exit code, output and messages."""

    def asked(*args):
        code = run(["forms", *args])
        out, err = capsys.readouterr()
        return code, out, err

    return asked


def test_forms_of_a_maker_are_those_that_were_met_and_those_made(forms):
    code, out, _ = forms("A. Verrouia", "--authority", "demo", "--as", "json")
    answer = json.loads(out)
    assert code == 0
    assert answer["label"] == "Verrou, Anna"
    met = [each for each in answer["forms"] if not each["generated"]]
    made = [each for each in answer["forms"] if each["generated"]]
    assert {"A. Verrou", "Anna Verrovia", "Vidua Petri Kwelderinkii"} <= {each["form"] for each in met}
    assert all(each["attested"] for each in met)
    assert met[0]["attested"][0]["object"].startswith("Tannery Print Room")
    assert {"form": "Annae Verrouiae", "language": "la", "says": "genitive", "generated": True, "attested": []} in made
    assert not {each["form"] for each in met} & {each["form"] for each in made}


def test_the_table_tells_them_apart(forms):
    _, out, _ = forms("Verrou, Anna", "--authority", "demo")
    met, made = out.split("  made by rule, not seen:\n")
    assert "      Tannery Print Room 0151: Saint Gertrude with the Mice, 1622, A. Verrou sculp.\n" in met
    assert "la genitive" in made
    assert "Annae Verrouiae" in made


def test_a_name_of_nobody_has_made_forms_only(forms):
    code, out, _ = forms("Barent van Holm", "--as", "json")
    answer = json.loads(out)
    assert (code, answer["maker"]) == (0, None)
    assert all(each["generated"] for each in answer["forms"])
    assert "B. van Holm" in {each["form"] for each in answer["forms"]}


def test_without_a_word_there_is_no_form(forms):
    assert forms("...")[0] == 1


def test_a_page_is_refused_in_one_sentence(forms):
    code, out, err = forms("A" * 201)
    assert (code, out) == (2, "")
    assert "the longest that is taken has 200" in err
