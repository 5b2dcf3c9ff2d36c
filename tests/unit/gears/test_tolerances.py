"""Scope and messages of the flank tolerances."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import OutOfRange
from sequencer.gears import flank_tolerances
from sequencer.gears.tolerances import rounded_tolerance, tolerances_1995, tolerances_2013

REFUSED = [
    (
        ("ISO 1328-1", 2013, 0, 120.0, 3.0, 30.0),
        {},
        r"flank class is 0 \(allowed: a whole number from 1 to 11\)",
    ),
    (("ISO 1328-1", 2013, 12, 120.0, 3.0, 30.0), {}, r"flank class is 12"),
    (("ISO 1328-1", 2013, 6.5, 120.0, 3.0, 30.0), {}, r"flank class is 6.5"),
    (
        ("ISO 1328-1", 2013, 6, 4.9, 3.0, 30.0),
        {},
        r"reference diameter is 4.9 mm .*at least 5 mm and at most 15000",
    ),
    (("ISO 1328-1", 2013, 6, 15001.0, 3.0, 30.0), {}, r"reference diameter is 15001 mm"),
    (
        ("ISO 1328-1", 2013, 6, 120.0, 0.49, 30.0),
        {},
        r"normal module is 0.49 mm .*at least 0.5 mm and at most 70",
    ),
    (
        ("ISO 1328-1", 2013, 6, 120.0, 3.0, 1201.0),
        {},
        r"face width is 1201 mm .*at least 4 mm and at most 1200",
    ),
    (("ISO 1328-1", 2013, 6, 120.0, 3.0, 30.0), {"teeth": 4}, r"number of teeth is 4 .*from 5 to 1000"),
    (
        ("ISO 1328-1", 2013, 6, 120.0, 3.0, 30.0),
        {"helix_angle": 46.0},
        r"helix angle is 46 deg .*at most 45 deg",
    ),
    (("ISO 1328-1", 1995, 13, 120.0, 3.0, 30.0), {}, r"accuracy grade is 13 .*from 0 to 12"),
    (("ISO 1328-1", 1995, 6, 10001.0, 3.0, 30.0), {}, r"reference diameter is 10001 mm .*at most 10000 mm"),
    (("ISO 1328-1", 1995, 6, 120.0, 71.0, 30.0), {}, r"normal module is 71 mm"),
    (("ISO 1328-1", 1995, 6, 120.0, 3.0, 3.0), {}, r"face width is 3 mm .*at least 4 mm"),
    (
        ("ISO 1328-1", 2004, 6, 120.0, 3.0, 30.0),
        {},
        r"edition 2004 of ISO 1328-1 is unknown \(known: 1995, 2013\)",
    ),
    (("DIN 3962", 1978, 6, 120.0, 3.0, 30.0), {}, r"standard 'DIN 3962' is unknown \(known: ISO 1328-1, "),
]


@pytest.mark.parametrize(("values", "more", "words"), REFUSED)
def test_outside_the_scope_is_refused(
    values: tuple[object, ...], more: dict[str, object], words: str
) -> None:
    with pytest.raises(OutOfRange, match=words) as caught:
        flank_tolerances(*values, **more)  # type: ignore[arg-type]
    assert caught.value.remedy


def test_identical_adoptions_use_the_same_formulas() -> None:
    first = flank_tolerances("ISO 1328-1", 2013, 6, 120.0, 3.0, 30.0)
    for name, year in (
        ("din iso 1328-1", 2013),
        ("ANSI/AGMA ISO 1328-1", 2014),
        ("DIN  EN ISO 1328-1", 2013),
    ):
        assert flank_tolerances(name, year, 6, 120.0, 3.0, 30.0).rounded == first.rounded
    older = flank_tolerances("ISO 1328-1", 1995, 6, 120.0, 3.0, 30.0)
    assert flank_tolerances("JIS B 1702-1", 1998, 6, 120.0, 3.0, 30.0).rounded == older.rounded
    assert older.rounded != first.rounded


@pytest.mark.parametrize("limit", [20.0, 50.0, 125.0, 280.0])
def test_a_value_on_a_range_limit_belongs_to_the_lower_range(limit: float) -> None:
    """Ranges read "over 50 up to and including 125"."""
    on, below, above = (tolerances_1995(d, 3.0, 30.0, 5) for d in (limit, limit - 0.01, limit + 0.01))
    assert on == below
    assert above.single_pitch > on.single_pitch


def test_the_lowest_limit_belongs_to_the_first_range() -> None:
    assert tolerances_1995(5.0, 0.5, 4.0, 5) == tolerances_1995(19.0, 1.9, 9.0, 5)


@settings(deadline=None, derandomize=True)
@given(st.floats(5.0, 10000.0), st.floats(0.5, 70.0), st.floats(4.0, 1000.0), st.integers(1, 10))
def test_one_class_is_the_square_root_of_two(d: float, mn: float, b: float, flank_class: int) -> None:
    for formula in (tolerances_2013, tolerances_1995):
        finer, coarser = formula(d, mn, b, flank_class), formula(d, mn, b, flank_class + 1)
        for name, value in vars(finer).items():
            assert getattr(coarser, name) == pytest.approx(value * 2**0.5)


@settings(deadline=None, derandomize=True)
@given(st.floats(0.05, 2000.0))
def test_rounding_moves_by_half_a_step_at_most(value: float) -> None:
    step = 1.0 if value > 10 else 0.5 if value >= 5 else 0.1
    assert abs(rounded_tolerance(value) - value) <= step / 2 + 1e-9


def test_shortcuts_read_the_rounded_values() -> None:
    found = flank_tolerances("ISO 1328-1", 2013, 7, 885.4, 8.0, 120.0, teeth=104, helix_angle=20.0)
    for name, value in vars(found.rounded).items():
        assert getattr(found, name) == value
    assert found.year == 2013


def test_negative_tolerance_is_refused() -> None:
    with pytest.raises(OutOfRange, match="tolerance is -1 um"):
        rounded_tolerance(-1.0)
