"""Texts in another language, decimal comma, inches in sentences."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import SequencerError
from sequencer.language import PLAIN, Catalogue, Wording, languages, read_catalogue
from sequencer.language.wording import in_inches

TEXTS = Catalogue(
    {
        "turning": "Drehen",
        "hobbing": "Wälzfräsen",
        "needs {} mm, has {} mm": "{2} mm vorhanden, {1} mm nötig",
        "{} before {}": "{} vor {}",
        "hidden by jaws {}": "von Backen verdeckt: {}",
        "hidden by jaws z {} to {}": "von Backen verdeckt, z {} bis {}",
    }
)
GERMAN = Wording("de", TEXTS, comma=True, names=frozenset({"bore", "T1.5"}))


def test_a_text_with_holes_takes_its_holes_along_and_they_may_change_places():
    assert GERMAN.words("needs 75.2 mm, has 40 mm") == "40 mm vorhanden, 75,2 mm nötig"


def test_what_is_in_a_hole_is_looked_up_too():
    assert GERMAN.words("turning before hobbing") == "Drehen vor Wälzfräsen"


def test_the_text_with_most_words_of_its_own_wins():
    assert GERMAN.words("hidden by jaws z 0 to 60") == "von Backen verdeckt, z 0 bis 60"


def test_parts_of_a_text_without_entry_are_looked_up_alone():
    assert GERMAN.words("turning; hobbing, tapping") == "Drehen; Wälzfräsen, tapping"
    assert TEXTS.missing("turning; hobbing, tapping") == ("tapping",)


def test_names_stay_as_they_are():
    assert GERMAN.words("bore") == "bore"
    assert GERMAN.words("T1.5") == "T1.5"


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("1.5", "1,5"),
        ("Ø 12.25 to Ø 20", "Ø 12,25 to Ø 20"),
        ("-0.15", "-0,15"),
        ("LB-22.5", "LB-22.5"),
        ("edition 1.2.3", "edition 1.2.3"),
        ("It is 40.5.", "It is 40,5."),
        ("M20x1.5", "M20x1.5"),
    ],
)
def test_a_decimal_comma_stands_in_numbers_only(text, written):
    assert Wording(comma=True).number(text) == written


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("needs 75.2 mm, has 40 mm", "needs 2.961 in, has 1.57 in"),
        ("hidden by jaws z 0 to 60.5 mm", "hidden by jaws z 0.00 to 2.382 in"),
        ("module 5 mm", "module 5 mm"),
        ("an area of 30 mm2", "an area of 30 mm2"),
        ("0.25 mm/rev at 120 m/min", "0.0098 in/rev at 394 ft/min"),
    ],
)
def test_computed_lengths_in_sentences_are_written_in_inches(text, written):
    assert in_inches(text) == written


def test_plain_words_stay():
    assert PLAIN.words("needs 75.2 mm") == "needs 75.2 mm"


def test_holes_that_do_not_agree_are_refused():
    with pytest.raises(ValueError, match=r'the holes of "a \{\} b \{\}" and of "x \{\}" do not agree'):
        Catalogue({"a {} b {}": "x {}"})


def test_a_language_without_texts_is_refused_with_those_that_there_are():
    with pytest.raises(SequencerError, match=r'no catalogue of texts for language "xx".*one of en, de'):
        read_catalogue("xx")


@pytest.mark.parametrize("language", languages()[1:])
def test_every_catalogue_can_be_read_and_its_holes_agree(language):
    catalogue = read_catalogue(language)
    assert catalogue is not None
    for english in catalogue.texts:
        assert catalogue.missing(english) == ()


@settings(deadline=None, derandomize=True)
@given(st.text(max_size=60))
def test_any_text_can_be_written(text):
    assert isinstance(GERMAN.words(text), str)
    assert Wording().words(text) == text


def test_a_name_in_a_hole_stays_even_where_it_is_a_word_of_the_catalogue():
    catalogue = Catalogue({"Finish {}": "{} schlichten", "blank": "Rohteil"})
    assert Wording("de", catalogue).words("Finish blank") == "Rohteil schlichten"
    assert Wording("de", catalogue).keeping({"blank"}).words("Finish blank") == "blank schlichten"


@pytest.mark.parametrize(
    ("english", "german"),
    [
        (
            "Table never above 120 rpm in this clamping: jaws.",
            "Tisch in dieser Aufspannung nie über 120 1/min: jaws.",
        ),
        ("Before the teeth are finished tighten again to 80.5 kN: the part is stiff.", "80,5 kN nachspannen"),
        ("power skiving", "Wälzschälen"),
    ],
)
def test_german_sheets_use_the_words_of_the_trade(english, german):
    wording = Wording("de", read_catalogue("de"), comma=True)
    assert german in wording.words(english)


def test_all_general_cautions_have_german_words():
    from sequencer.papers.cautions import LAST_WORD

    catalogue = read_catalogue("de")
    assert catalogue is not None
    assert catalogue.missing(LAST_WORD) == ()
