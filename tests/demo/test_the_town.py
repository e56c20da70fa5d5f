"""The invented town holds what guide, tests and readers look for: families, widows, firms, hands without a name, four centuries."""

from collections import defaultdict

import pytest

from margent.vocabulary.edtf import years
from margent.vocabulary.load import load


@pytest.fixture(scope="module")
def makers(root):
    """The makers in force, by slug."""
    known = load(root / "vocab", [root / "vocab/demo"]).makers
    return {maker.slug: maker for maker in known.values() if not maker.withdrawn}


@pytest.fixture(scope="module")
def matrix(vocabulary):
    """The roles of those who make the matrix."""
    return {role.slug for role in vocabulary.roles.values() if role.stage.endswith("/matrix")}


def roles(maker):
    return {practice.role.rpartition("/")[2] for practice in maker.practices}


def kin(maker, *relations):
    return [each.to.rpartition("/")[2] for each in maker.kin if each.relation in relations]


def test_three_generations_share_a_surname_and_a_forename(makers):
    lines = [
        (child, parent, grandparent)
        for child, maker in makers.items()
        for parent in kin(maker, "son", "daughter")
        for grandparent in kin(makers[parent], "son", "daughter")
        if child.split("-")[:2] == parent.split("-")[:2] == grandparent.split("-")[:2]
    ]
    assert lines
    family = {makers[slug].member_of for slug in lines[0]}
    assert len(family) == 1
    assert makers[family.pop()[0].rpartition("/")[2]].kind == "Family"


def test_a_designer_never_cut_a_plate(makers, matrix):
    assert [slug for slug, maker in makers.items() if "designer" in roles(maker) and not roles(maker) & matrix]


def test_widows_and_heirs_publish_after_the_husband(makers):
    widows = [slug for slug, maker in makers.items() if kin(maker, "widow") and "publisher" in roles(maker)]
    heirs = [slug for slug, maker in makers.items() if slug.startswith("heirs-of") and maker.successor_of]
    assert len(widows) >= 2
    assert len(heirs) >= 2


def test_a_hand_without_a_name_has_a_mark_with_a_device(root, makers):
    marks = load(root / "vocab", [root / "vocab/demo"]).marks
    unnamed = {maker.iri for maker in makers.values() if maker.kind == "UnidentifiedHand"}
    assert [mark for mark in marks.values() if mark.devices and unnamed & set(mark.stands_for)]


def test_an_etcher_signs_in_three_languages(makers):
    signed = {
        slug: {form.literal.lang for form in maker.name_forms if any(each.seen for each in form.attestations)}
        for slug, maker in makers.items()
        if "etcher" in roles(maker)
    }
    assert [slug for slug, languages in signed.items() if len(languages) >= 3]


def test_lithographers_and_their_printers_stand_on_the_same_sheets(makers):
    sheets = defaultdict(set)
    for maker in makers.values():
        for form in maker.name_forms:
            for attestation in form.attestations:
                sheets[attestation.object] |= roles(maker)
    assert len([sheet for sheet, done in sheets.items() if {"lithographer", "lithographic-printer"} <= done]) >= 3


def test_a_victorian_publishes_and_the_twentieth_century_signs_in_pencil(makers):
    assert [
        slug
        for slug, maker in makers.items()
        if maker.active
        and "publisher" in roles(maker)
        and years(maker.active)[0] >= 1837
        and years(maker.active)[1] <= 1901
    ]
    assert [
        slug
        for slug, maker in makers.items()
        if any("in pencil" in seen.object and seen.date and years(seen.date)[0] > 1900 for form in maker.name_forms for seen in form.attestations)
    ]  # fmt: skip


def test_four_centuries_are_at_work(makers):
    active = [years(maker.active) for maker in makers.values() if maker.active]
    assert min(first for first, _ in active) < 1600
    assert max(last for _, last in active) > 1960
    for decade in range(1600, 1960, 10):
        assert any(first <= decade <= last for first, last in active), decade


def test_nobody_signs_before_twelve_or_is_seen_working_long_after_death(makers):
    """An attestation on the print is of the maker's life, but for copies, later states and posthumous impressions."""
    early = [
        (slug, seen.date)
        for slug, maker in makers.items()
        if maker.born
        for form in maker.name_forms
        for seen in form.attestations
        if seen.date and years(seen.date)[1] < years(maker.born)[0] + 12
    ]
    assert not early
