"""Limits of sizes, flank classes and names as the drawing gives them."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from sequencer.part.quantities import Dimension
from sequencer.part.tolerances import FlankClass, SizeTolerance, read_size_tolerance


@pytest.mark.parametrize(
    ("written", "code", "upper", "lower", "grade"),
    [
        ("H7", "H7", None, None, 7),
        (" js6 ", "js6", None, None, 6),
        ("±0.05 mm", "", 0.05, -0.05, None),
        ("+/-0.002 in", "", 0.0508, -0.0508, None),
        ("+0.02/-0.01 mm", "", 0.02, -0.01, None),
        ("+0.002/-0 in", "", 0.0508, 0.0, None),
        ("0 / -0.1 mm", "", 0.0, -0.1, None),
    ],
)
def test_limits_of_a_size(written: str, code: str, upper: float, lower: float, grade: int | None) -> None:
    tolerance = read_size_tolerance(written)
    assert (tolerance.code, tolerance.grade) == (code, grade)
    assert tolerance.upper == (None if upper is None else pytest.approx(upper))
    assert tolerance.lower == (None if lower is None else pytest.approx(lower))
    assert tolerance.width == (None if upper is None else pytest.approx(upper - lower))
    assert str(tolerance) == written.strip()
    assert read_size_tolerance(tolerance) is tolerance


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("fine", "'fine' is not a tolerance; write an ISO 286 code"),
        ("H7/g6", "is not a tolerance"),
        ("±0.05", "'0.05' has no unit"),
        ("±0.05 kg", "'kg' is a unit of mass"),
        ("+0.02/+0.02 mm", "upper and lower deviation are equal"),
        ("±-0.05 mm", "half the width of a tolerance is above 0"),
        ("±0", "half the width of a tolerance is above 0"),
        ("0.05 mm", "is not a tolerance"),
        (7, "'7' is not a tolerance"),
        (None, "'None' is not a tolerance"),
    ],
)
def test_no_limits(written: object, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        read_size_tolerance(written)


@settings(deadline=None, derandomize=True, max_examples=200)
@given(st.text("+-±/0123456789. mminHhjs7kg", max_size=14))
def test_any_text_is_a_tolerance_or_a_value_error(written: str) -> None:
    try:
        tolerance = read_size_tolerance(written)
    except ValueError:
        return
    assert isinstance(tolerance, SizeTolerance)
    assert tolerance.code or (tolerance.width is not None and tolerance.width > 0)


def test_flank_class_names_its_standard_and_year() -> None:
    assert str(FlankClass.model_validate({"year": 2013, "class": 7})) == "ISO 1328-1:2013 class 7"
    with pytest.raises(ValidationError, match="1995 or 2013"):
        FlankClass.model_validate({"year": 1975, "class": 7})


def test_bounds_of_a_quantity_are_told_in_the_house_unit() -> None:
    with pytest.raises(ValueError, match="'-1 in' must be above 0 mm"):
        Dimension("length", above=0.0).read("-1 in")
    with pytest.raises(ValueError, match="'-1 h' must be at least 0 min"):
        Dimension("time", least=0.0).read("-1 h")
