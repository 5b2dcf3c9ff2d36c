"""Widths and breaking of text, places in a column, contrast of shades, rounding of numbers."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.pictures import ink
from sequencer.pictures.columns import spread
from sequencer.pictures.lettering import clauses, text_width, wrapped
from sequencer.pictures.rounding import in_units, length_words, number_words, quantity_words


@pytest.mark.parametrize(
    ("text", "bold", "width"),
    [
        ("A", False, 6.67),
        ("A", True, 7.22),
        ("mm", False, 16.66),
        ("10 mm", False, 30.56),
        (" ", False, 2.78),
        ("ä", False, 5.56),
        ("Ö", False, 7.78),
        ("ü", True, 6.11),
        ("ß", False, 6.11),
        ("Ø", True, 7.78),
    ],
)
def test_widths_are_those_of_the_font_metrics(text: str, bold: bool, width: float) -> None:
    """Widths of Helvetica in thousandths (Adobe metrics).

    A 667, bold A 722, m 833, digit 556, blank 278,
    adieresis 556, Odieresis and Oslash 778, germandbls 611, bold udieresis 611.
    """
    assert text_width(text, 10.0, bold=bold) == pytest.approx(width)


@given(st.text(alphabet="abc _-,.ØM1", max_size=80), st.floats(8, 60))
@settings(deadline=None, derandomize=True)
def test_no_line_is_wider_than_asked_and_no_letter_is_lost(text: str, width: float) -> None:
    lines = wrapped(text, 3.0, width)
    assert all(text_width(line, 3.0) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_text_breaks_after_blanks_hyphens_and_underscores() -> None:
    assert wrapped("run_out_groove of the gear", 2.9, 17.0) == ("run_out_", "groove of the", "gear")


def test_clauses_break_at_commas_first() -> None:
    text = "12 x Ø 16 mm, 45 mm deep, on Ø 450 mm"
    assert clauses(text, 2.6, 40.0) == ("12 x Ø 16 mm, 45 mm deep,", "on Ø 450 mm")
    assert clauses(text, 2.6, 200.0) == (text,)


def test_words_without_text_take_no_line() -> None:
    assert wrapped("", 3.0, 20.0) == ()
    assert spread((), (), 1.0) == ()


@given(
    st.lists(st.tuples(st.floats(-200, 200), st.floats(1, 20)), min_size=1, max_size=40),
    st.floats(0, 3),
)
@settings(deadline=None, derandomize=True)
def test_labels_of_a_column_keep_order_and_gap(pairs: list[tuple[float, float]], gap: float) -> None:
    targets = tuple(sorted(target for target, _ in pairs))
    heights = tuple(height for _, height in pairs)
    places = spread(targets, heights, gap)
    for index in range(1, len(places)):
        need = (heights[index - 1] + heights[index]) / 2 + gap
        assert places[index] - places[index - 1] >= need - 1e-9


def test_labels_with_room_stay_where_they_want_to_be() -> None:
    assert spread((0.0, 20.0, 50.0), (5.0, 5.0, 5.0), 1.0) == (0.0, 20.0, 50.0)


def test_labels_that_collide_share_the_shift_evenly() -> None:
    """Two labels of height 4 at one place, gap 2: each moves by 3, so their middles lie 6 apart."""
    assert spread((10.0, 10.0), (4.0, 4.0), 2.0) == (7.0, 13.0)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [("#000000", "#ffffff", 21.0), ("#777777", "#ffffff", 4.48), ("#123456", "#123456", 1.0)],
)
def test_contrast_agrees_with_published_values(one: str, other: str, ratio: float) -> None:
    """WCAG 2.2: black on white is 21 : 1; #777777 on white is the well-known 4.48 : 1 (from memory)."""
    assert ink.contrast(one, other) == pytest.approx(ratio, abs=0.005)
    assert ink.contrast(other, one) == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize("ground", [ink.PAPER, ink.LIGHT, ink.SHADE])
@pytest.mark.parametrize("text", [ink.INK, ink.QUIET])
def test_text_is_readable_on_every_ground(text: str, ground: str) -> None:
    """WCAG 2.2, 1.4.6: 7 : 1 for black text; 1.4.3: 4.5 : 1 for the quiet one."""
    assert ink.contrast(text, ground) >= (7.0 if text == ink.INK else 4.5)


def test_shades_are_grey() -> None:
    """Nothing is told apart by colour: every shade has equal red, green and blue."""
    for shade in (ink.INK, ink.QUIET, ink.FAINT, ink.SHADE, ink.LIGHT, ink.PAPER):
        assert shade[1:3] == shade[3:5] == shade[5:7]


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (12.345, "min", "12.3"),
        (0.04, "min", "0.04"),
        (0.0, "min", "0.0"),
        (2.187, "rpm", "2.2"),
        (212.4, "rpm", "212"),
        (986.46, "kg", "986"),
        (17.46, "kg", "17.5"),
        (0.25, "mm/rev", "0.25"),
        (648.17812, "mm", "648.178"),
        (110.0, "m/min", "110"),
        (-0.000383912, "1/mm", "-0.0003839"),
        (3.23, "m", "3.23"),
        (16.0, "", "16"),
        (0.7321, "", "0.7321"),
        (12345.6, "Pa", "12346"),
        (float("inf"), "rpm", "no limit"),
    ],
)
def test_rounding_rules(value: float, unit: str, words: str) -> None:
    assert number_words(value, unit) == words


def test_lengths_follow_the_unit_of_the_part() -> None:
    """1 in = 25.4 mm and 1 ft = 0.3048 m exactly (international yard and pound agreement, 1959)."""
    assert length_words(25.4, "in") == "1 in"
    assert length_words(25.4, "mm") == "25.4 mm"
    assert in_units(30.48, "m/min", "in") == (pytest.approx(100.0), "ft/min")
    assert in_units(2.0, "kg", "in") == (2.0, "kg")
    assert quantity_words(3.0, "") == "3"
