"""What end mills leave in tooth gaps: below their reach and in the fillets."""

from __future__ import annotations

import math

import pytest
from tooth_floor import MILL, double_wheel, fact, only, refusal, shop, teeth, tool, tried

from sequencer.operations.teeth.end_mill_rest import height_reached, rest_area


def test_a_thick_mill_stops_where_the_gap_is_as_wide_as_it_is() -> None:
    """Found by stepping through the gap in steps of 1 um."""
    run = teeth(double_wheel(), "wheel", "upper")
    height = height_reached(run, 9.0, 0.1)
    stepped = next(step / 1000 for step in range(20_000) if run.gap_above_root(step / 1000) >= 9.1)
    assert height == pytest.approx(stepped, abs=0.001)
    assert height_reached(run, 2.0, 0.1) == 0.0
    assert height_reached(run, 60.0, 0.1) == run.depth


def test_the_area_left_is_the_sum_of_thin_slices() -> None:
    run = teeth(double_wheel(), "wheel", "upper")
    slices = sum(run.gap_above_root((index + 0.5) * 0.01) * 0.01 for index in range(600))
    assert rest_area(run, 6.0) == pytest.approx(slices, rel=1e-5)
    assert rest_area(run, run.depth) == pytest.approx(run.gap_area, rel=0.05)


def test_the_refusal_of_a_thick_mill_says_what_it_would_leave() -> None:
    failed = refusal(tried(double_wheel(), shop(tool("M9", MILL, diameter="7 mm")), "wheel", "upper"), "M9")
    assert "it reaches down to" in failed.sentence
    assert 0 < fact(failed, "height left above the root") < 10


@pytest.mark.parametrize(("corner", "rest"), [("0.4 mm", 0.0), ("3.5 mm", 0.46)])
def test_a_corner_larger_than_the_fillet_leaves_a_rest(corner: str, rest: float) -> None:
    """Module 8, fillet 0.38*8 = 3.04 mm. Derived: both rounds touch root and flank, 110 deg apart."""
    mill = tool("M1", MILL, diameter="4 mm", corner_radius=corner)
    found = fact(
        only(tried(double_wheel(), shop(mill), "wheel", "upper").alternatives), "rest in the root fillets"
    )
    half = math.radians(110 / 2)
    corner_mm = float(corner.split()[0])
    centre = [corner_mm / math.sin(half), 3.04 / math.sin(half)]
    gaps = [centre[0] - corner_mm, centre[1] - 3.04]
    assert found == pytest.approx(max(gaps[0] - gaps[1], 0.0))
    assert (found > 0) is (rest > 0)
