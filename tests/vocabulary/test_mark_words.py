"""The words of marks: seven languages for each, and no word that means everything."""

from collections import Counter, defaultdict

import emoji

from margent.names.mark_words import MarkWords, folded_words
from margent.names.normal import fold

LANGUAGES = {"en", "fr", "it", "de", "nl", "es", "la"}


def test_every_word_has_a_label_in_each_language(vocabulary):
    assert len(vocabulary.mark_words) > 200
    for word in vocabulary.mark_words.values():
        assert {text.lang for text in word.labels} == LANGUAGES, word.iri


def test_no_wording_says_again_what_a_label_says(vocabulary):
    for word in vocabulary.mark_words.values():
        assert not set(word.labels) & set(word.wordings), word.iri


def test_few_words_are_shared_in_one_language(vocabulary):
    """Two things with one name in a language cannot be told apart by it; where it must be, both are answered."""
    for kind in ("DeviceWord", "ArrangementWord"):
        words = MarkWords(vocabulary, kind).words.values()
        said = Counter(
            (text.lang, folded_words(text.value)) for word in words for text in (*word.labels, *word.wordings)
        )
        shared = sorted(key for key, count in said.items() if count > 1)
        assert len(shared) <= 20, shared


def test_a_thing_and_what_is_broader_have_different_names(vocabulary):
    for word in vocabulary.mark_words.values():
        for broader in word.broader:
            same = set(word.labels) & set(vocabulary.mark_words[broader].labels)
            assert not same, (word.iri, same)


def test_the_names_of_things_are_those_of_the_unicode_consortium(vocabulary):
    """Its names of pictograms in five languages, which the library `emoji` carries: a thing that has one of the English names
    must be called as there in French, Italian, German and Spanish. Some pictograms show a narrower thing."""
    languages = ("en", "fr", "it", "de", "es")
    emoji.config.load_language(list(languages))
    pictograms = defaultdict(list)
    for names in emoji.EMOJI_DATA.values():
        said = {lang: fold(names[lang]).strip(":").replace("_", " ") for lang in languages if lang in names}
        if len(said) == len(languages):
            pictograms[said["en"]].append(said)
    agree, differ = [], []
    for word in vocabulary.mark_words.values():
        ours = defaultdict(set)
        for text in (*word.labels, *word.wordings):
            ours[text.lang].add(fold(text.value))
        for english in ours["en"]:
            for said in pictograms.get(english, ()):
                for lang in languages[1:]:
                    found = any(each in said[lang] for each in ours[lang])
                    (agree if found else differ).append((word.slug, lang, said[lang]))
    assert len(agree) + len(differ) > 400
    assert len(agree) / (len(agree) + len(differ)) >= 0.93, differ
