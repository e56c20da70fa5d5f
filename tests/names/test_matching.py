"""Names as they stand on prints lead to the right one of the invented makers, and by the evidence that a cataloguer would name."""

import pytest

from margent.names.authority import Authority
from margent.names.index_stream import Form, Record

BASE = "https://authority.print-room.example/maker/"


@pytest.fixture(scope="module")
def demo(root, vocabulary):
    return Authority.read([root / "vocab" / "demo"], vocabulary)


READ = [
    # spelling
    pytest.param("Anna Verov", "anna-verrou", id="u and v, a letter single"),
    pytest.param("Pieter Quelderinck", "pieter-kwelderink", id="qu for kw, ck for k"),
    pytest.param("GIOVAN BATTISTA PASSALORTO", "giambattista-passalorto", id="capitals"),
    pytest.param("Toussaint Obrincour", "toussaint-aubrincourt", id="written by ear"),
    pytest.param("Emile Chantegris", "emile-chantegris", id="without accents"),
    pytest.param("Matthæus Grauenhorst", "matthaeus-grauenhorst", id="a ligature for a dotted vowel"),
    # Latin
    pytest.param("Petrus Kwelderinkius", "pieter-kwelderink", id="Latin nominative"),
    pytest.param("Petri Kwelderinkii", "pieter-kwelderink", id="Latin genitive"),
    pytest.param("Petro Kwelderinkio", "pieter-kwelderink", id="Latin dative and ablative"),
    pytest.param("Petrum Kwelderinkium", "pieter-kwelderink", id="Latin accusative"),
    pytest.param("Petrum Kwelderinck", "pieter-kwelderink", id="half declined"),
    pytest.param("Catharina Wielemakera", "catharina-wielemaker", id="Latin feminine"),
    pytest.param("Gerardi Wielemakri", "gerard-wielemaker", id="a name in -er that loses its e"),
    pytest.param("Quistelrodaei", "marten-quistelrode", id="Greek type from a name in -e"),
    pytest.param("Flaminii Bracalontii", "flaminio-bracalonti", id="genitive in -ii of an Italian"),
    # other languages
    pytest.param("P. Kwelderinks", "pieter-kwelderink", id="Dutch and German genitive"),
    pytest.param("Ursula Siebenlistin", "ursula-siebenlist", id="German feminine"),
    pytest.param("Karl Wetzkorns", "karl-wetzkorn", id="German genitive"),
    pytest.param("Lattanzio Sfornagho", "lattanzio-sfornaghi", id="Italian singular of a plural"),
    # forenames
    pytest.param("Peter Kwelderink", "pieter-kwelderink", id="forename in another language"),
    pytest.param("Pietro Kwelderink", "pieter-kwelderink", id="forename in a third"),
    pytest.param("Guilielmus Steenuil", "willem-steenuil", id="Latin forename"),
    pytest.param("Wilh. Steenuil", "willem-steenuil", id="forename cut short, in another language"),
    pytest.param("Balth. Ruytenhove", "balthasar-ruytenhove", id="forename cut short"),
    pytest.param("G. B. Passalorto", "giambattista-passalorto", id="two initials of a forename of two"),
    pytest.param("Jean Claude Basquerel", "jean-claude-basquerel", id="without the hyphen"),
    pytest.param("JeanClaude Basquerel", "jean-claude-basquerel", id="without the space"),
    pytest.param("I. C. Basquerel", "jean-claude-basquerel", id="I for J"),
    pytest.param("Basquerel, J.-C.", "jean-claude-basquerel", id="surname first, initials joined"),
    pytest.param("JCBasquerel", "jean-claude-basquerel", id="initials written together with the surname"),
    # surnames
    pytest.param("Kweld., P.", "pieter-kwelderink", id="a surname cut short"),
    pytest.param("P. Kwelderi.", "pieter-kwelderink", id="the end of a surname lost"),
    pytest.param("Chantegris", "emile-chantegris", id="a surname alone, of one maker"),
    pytest.param("van Steenuil, W.", "willem-steenuil", id="a particle that the file lacks"),
    # beside the name
    pytest.param("Mr. Edmund Hartwhistle, Esq.", "edmund-hartwhistle", id="title and honour"),
    pytest.param("E. Hartwhistle, R.A.", "edmund-hartwhistle", id="letters of an academy"),
    pytest.param("le Sr. Basquerel", "jean-claude-basquerel", id="le sieur"),
    pytest.param("Jan Verrou den Ouden", "jan-verrou-the-elder", id="the elder in Dutch"),
    pytest.param("Ioannes Verrou Iunior", "jan-verrou-the-younger", id="the younger in Latin"),
    pytest.param("Jan Verrou III", "jan-verrou-iii", id="the third"),
    # those whom a name does not name
    pytest.param("Wed. P. Kwelderink", "anna-verrou", id="Dutch widow"),
    pytest.param("Vidua Petri Kwelderinkii", "anna-verrou", id="Latin widow"),
    pytest.param("Lambert Ossekoop Erven", "heirs-of-lambert-ossekoop", id="Dutch heirs"),
    pytest.param("Haeredes Lamberti Ossekoop", "heirs-of-lambert-ossekoop", id="Latin heirs"),
    pytest.param("Quillfeather & Son", "quillfeather-and-son", id="a firm"),
    pytest.param("Gebr. Immelspach", "gebrueder-immelspach", id="brothers"),
    pytest.param("Ravoisette frères", "ravoisette-freres", id="brothers in French"),
    pytest.param("Hurlecoq", "hurlecoq-family", id="a surname alone, of a family"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "maker"), READ)
def test_the_right_maker_is_first(demo, name, maker):
    first = demo.candidates(name, limit=1).candidates
    assert first
    assert first[0].maker == BASE + maker


NOBODY = [
    pytest.param("Willem Verrou", id="a namesake of a family of engravers"),
    pytest.param("Pieter Kwelderbosch", id="half a surname"),
    pytest.param("Edmund Harthistle-Bromley", id="another double surname"),
    pytest.param("Johann Immelbach", id="a like name"),
    pytest.param("Wxyz", id="letters"),
    pytest.param("", id="nothing"),
    pytest.param("...", id="no word"),
    pytest.param("Master of the Three Barrels", id="a conventional name"),
]


@pytest.mark.parametrize("name", NOBODY)
def test_a_stranger_stays_unknown(demo, name):
    answer = demo.candidates(name)
    assert answer.unknown > max([0.5, *(each.probability for each in answer.candidates)])


def makers(*names):
    return [Record(f"x:{name}", "Person", name, [Form(name, "authorised", attested=False)]) for name in names]


@pytest.mark.parametrize(
    ("name", "others", "right"),
    [
        pytest.param("J. P. Holm", ["Holm, Jan Pietersz.", "Holm, Karel"], "Holm, Jan Pietersz.", id="patronymic by initial"),
        pytest.param("Jan Holm", ["Holm, Jan Pietersz.", "Holm, Pieter Jansz."], "Holm, Jan Pietersz.", id="no patronymic read"),
        pytest.param("Pieter Jansz Holm", ["Holm, Jan Pietersz.", "Holm, Pieter Jansz."], "Holm, Pieter Jansz.", id="who is whose son"),
        pytest.param("Barent v. Holm", ["Holm, Barent van", "Holm, Barend"], "Holm, Barent van", id="a particle cut short"),
        pytest.param("Barent Vanholm", ["Holm, Barent van", "Hol, Barent"], "Holm, Barent van", id="a particle written together"),
        pytest.param("Delamare, Luc", ["La Mare, Luc de", "Mareschal, Luc"], "La Mare, Luc de", id="two particles written together"),
        pytest.param("Holm-Tessar, Ida", ["Holm Tessar, Ida", "Holm, Ina"], "Holm Tessar, Ida", id="double surname, hyphen and space"),
        pytest.param("Ida Tessar", ["Holm Tessar, Ida", "Tessardi, Ida"], "Holm Tessar, Ida", id="half of a double surname"),
        pytest.param("Holm d. J., Jan", ["Holm, Jan, the younger", "Holm, Jan, the elder"], "Holm, Jan, the younger", id="der Jüngere"),
        pytest.param("Ian. Holm Senior", ["Holm, Jan, the younger", "Holm, Jan, the elder"], "Holm, Jan, the elder", id="senior"),
        pytest.param("Jan Holm II", ["Holm, Jan (I)", "Holm, Jan (II)"], "Holm, Jan (II)", id="numbers in brackets"),
        pytest.param("Georg Romanus", ["Roman, Georg", "Romberg, Georg"], "Roman, Georg", id="a surname that looks Latin"),
        pytest.param("Ans. Sterna", ["Stern, Anselm", "Sternheim, Anselm"], "Stern, Anselm", id="a Latin -a"),
    ],
)  # fmt: skip
def test_among_likes_the_right_one_is_first(vocabulary, name, others, right):
    answer = Authority.of(makers(*others), vocabulary).candidates(name)
    assert answer.candidates[0].label == right


def test_shares_and_the_unknown_make_one(demo):
    for name in ("Verrou", "A. Verrou", "Jan Verrou", "Xyzk"):
        answer = demo.candidates(name, limit=1000)
        assert sum(each.probability for each in answer.candidates) + answer.unknown == pytest.approx(1, abs=1e-6)


def test_every_piece_of_evidence_is_in_the_table_and_they_add_up(demo, vocabulary):
    known = {rule.key for rule in vocabulary.name_rules.values() if hasattr(rule, "weight")}
    for name in ("Verrou", "Vid. P. Kwelderinkii", "Jan Verrou III", "J. C. Basquerell", "Lambert Ossekoop Erven"):
        for each in demo.candidates(name, (1640, 1650), ("engraver",), ("antwerp",)).candidates:
            assert {one.key for one in each.evidence} <= known
            assert sum(one.weight for one in each.evidence) == each.weight


@pytest.mark.parametrize(
    ("further", "wording"),
    [
        pytest.param({"years": (1633, 1633)}, "worked 1620 to 1670, which fits 1633", id="date"),
        pytest.param({"years": (1700, 1700), "roles": ("engraver",)}, "had long died by 1700", id="too late"),
        pytest.param({"years": (1600, 1600)}, "was not born in 1600", id="too early"),
        pytest.param({"roles": ("publisher",)}, "is known as publisher", id="role"),
        pytest.param({"roles": ("engraver",)}, "is known as engraver", id="a broader role"),
        pytest.param(
            {"roles": ("painter",)}, "is known as burin engraver and publisher, not as painter", id="another role"
        ),
        pytest.param({"places": ("Amstelodami",)}, "worked at Amsterdam", id="place, in Latin"),
        pytest.param({"places": ("Paris",)}, "not at Paris", id="another place"),
        pytest.param(
            {"cosigners": ("Pieter Kwelderink",)},
            "has signed together with Kwelderink, Pieter",
            id="her husband signs too",
        ),
    ],
)
def test_what_else_is_known_is_weighed_and_told(demo, further, wording):
    answer = demo.candidates("Anna Verrou", **further)
    (anna,) = [each for each in answer.candidates if each.maker == BASE + "anna-verrou"]
    assert wording in " ".join(anna.because)
