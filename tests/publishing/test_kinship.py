from margent.publishing.kinship import Kin
from margent.vocabulary.model import Kinship, Maker, Text


def makers(**kin):
    """Makers by short names, each with what it says of its kin: `anna=[("daughter", "jan")]`; born in the order given."""
    return {
        name: Maker(
            iri=name,
            labels=(Text(name, "en"),),
            kind="Person",
            born=str(1500 + number),
            kin=tuple(Kinship(iri=f"{name}#{i}", relation=relation, to=to) for i, (relation, to) in enumerate(said)),
        )
        for number, (name, said) in enumerate(kin.items())
    }


def drawn(nodes):
    """A tree as nested pairs: the person with those married, and the children."""
    return [("+".join((node.person or "?", *node.married)), drawn(node.children)) for node in nodes]


def test_children_stand_below_whoever_says_so():
    known = makers(jan=[("father", "piet")], piet=[], anna=[("daughter", "jan")], kees=[("son", "piet")])
    tree = [("jan", [("piet", [("kees", [])]), ("anna", [])])]
    assert drawn(Kin(known).tree("kees")) == tree
    assert drawn(Kin(known).tree("jan")) == tree


def test_those_married_stand_beside_each_other_and_nowhere_else():
    known = makers(jan=[], anna=[("daughter", "jan"), ("widow", "piet")], piet=[], kees=[("son", "piet")])
    assert drawn(Kin(known).tree("piet")) == [("jan", [("anna+piet", [("kees", [])])])]


def test_brothers_without_parents_have_parents_whom_nobody_names():
    assert drawn(Kin(makers(a=[("brother", "b")], b=[])).tree("a")) == [("?", [("a", []), ("b", [])])]


def test_a_brother_has_his_brothers_father():
    known = makers(jan=[], anna=[("daughter", "jan")], kees=[("brother", "anna")])
    assert drawn(Kin(known).tree("kees")) == [("jan", [("anna", []), ("kees", [])])]


def test_other_ties_and_nobody_make_no_tree():
    assert Kin(makers(a=[("nephew", "b")], b=[])).tree("a") == ()


def test_a_circle_ends():
    known = makers(a=[("father", "b")], b=[("father", "a")], c=[("son", "a")])
    assert Kin(known).tree("c") is not None


def test_cousins_who_marry_stand_each_below_their_own_and_their_child_stands_once():
    known = makers(
        old=[("father", "x"), ("father", "y")],
        x=[("father", "a")],
        y=[("father", "b")],
        a=[("husband", "b")],
        b=[],
        c=[("son", "a")],
    )
    below = [("x", [("a+b", [("c", [])])]), ("y", [("b+a", [])])]
    assert drawn(Kin(known).tree("a")) == [("old", below)]
