"""Cutting times: exact integrals, additions and refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.cutting import speeds, times
from sequencer.errors import OutOfRange


@given(
    outer=st.floats(20, 2000),
    share=st.floats(0, 0.95),
    feed=st.floats(0.05, 1),
    speed=st.floats(20, 400),
    cap=st.floats(5, 2000),
)
@settings(deadline=None, derandomize=True, max_examples=50)
def test_facing_equals_a_sum_of_thin_rings(outer, share, feed, speed, cap):
    """Middle-point sum of dr / (f n(r)) with the capped revolutions."""
    inner = outer * share
    count = 4000
    width = (outer - inner) / 2 / count
    total = sum(
        width / (feed * speeds.capped_rpm(inner + (2 * i + 1) * width, speed, cap)) for i in range(count)
    )
    assert times.facing_time(outer, inner, feed, speed, cap) == pytest.approx(total, rel=1e-4)


def test_facing_to_the_centre_is_possible_because_the_speed_is_capped():
    """D 400, v 100, cap 200: knee at 159.15; outside 5.31 min, inside 1.99 min at feed 0.2."""
    knee = 1000 * 100 / (math.pi * 200)
    outside = math.pi * (400**2 - knee**2) / (4000 * 100 * 0.2)
    assert times.facing_time(400, 0, 0.2, 100, 200) == pytest.approx(outside + knee / 2 / (0.2 * 200))


def test_facing_below_the_knee_runs_at_the_cap():
    assert times.facing_time(100, 20, 0.2, 1000, 50) == pytest.approx(40 / (0.2 * 50))


def test_facing_needs_a_ring():
    with pytest.raises(OutOfRange, match=r"inner diameter 300 mm is not below outer diameter 200 mm"):
        times.facing_time(200, 300, 0.2, 100, 200)


def test_turning_adds_approach_and_overrun_to_each_cut():
    assert times.turning_time(96, 0.5, 40, approach=3, overrun=1, cuts=2) == pytest.approx(2 * 100 / 20)


@pytest.mark.parametrize(
    ("width", "blade", "overlap", "plunges"),
    [(6, 6, 0, 1), (12, 6, 0, 2), (12, 6, 1, 3), (90, 10, 1, 10), (90, 8, 0.5, 12), (6.5, 6, 1, 2)],
)
def test_grooves_are_cut_in_widths(width, blade, overlap, plunges):
    """The plunges side by side with their overlap cover the groove and one fewer does not."""
    assert times.grooving_plunges(width, blade, overlap) == plunges
    assert blade + (plunges - 1) * (blade - overlap) >= width - 1e-9
    assert plunges == 1 or blade + (plunges - 2) * (blade - overlap) < width


def test_blade_wider_than_the_groove_is_refused():
    with pytest.raises(OutOfRange, match=r"blade is 8.*0 to 6.*narrower blade"):
        times.grooving_plunges(6, 8)


def test_radial_groove_is_the_facing_integral_for_each_plunge():
    once = times.facing_time(600, 560, 0.1, 120, 400)
    assert times.radial_groove_time(600, 560, 3, 0.1, 120, 400) == pytest.approx(3 * once)
    dwell = times.radial_groove_time(600, 560, 3, 0.1, 120, 400, dwell_revolutions=2)
    assert dwell == pytest.approx(3 * (once + 2 / speeds.spindle_rpm(600, 120)))


def test_face_groove_runs_along_the_axis():
    assert times.face_groove_time(9, 2, 0.1, 50, approach=1) == pytest.approx(2 * 10 / 5)


def test_drill_point_of_118_degrees_is_about_three_tenths_of_the_diameter():
    assert times.drill_point_length(20, 118) == pytest.approx(10 / math.tan(math.radians(59)))
    assert times.drill_point_length(20, 180) == pytest.approx(0, abs=1e-12)
    with_point = times.drilling_time(50, 0.2, 500, point=times.drill_point_length(20))
    assert with_point > times.drilling_time(50, 0.2, 500)


def test_reaming_and_tapping_come_back():
    assert times.reaming_time(43, 0.5, 100, approach=2, overrun=5) == pytest.approx(2 * 50 / 50)
    assert times.reaming_time(43, 0.5, 100, 2, 5, return_factor=2) == pytest.approx(1.5)
    assert times.tapping_time(40, 2.5, 200, lead_threads=4) == pytest.approx(2 * 50 / 500)


def test_milling_and_chamfering():
    assert times.milling_time(100, 200, 20, 5, cuts=2) == pytest.approx(1.25)
    assert times.chamfer_turning_time(2, 0.1, 100, approach=0) == pytest.approx(2 * math.sqrt(2) / 10)
    assert times.tooth_edge_chamfer_time(100, 50, 1000, 0.02) == pytest.approx(7.0)


def test_keyway_by_milling_and_by_slotting():
    # 3 layers of at most 4 mm over 80 - 20 mm, and 10 mm of plunging
    assert times.keyway_milling_time(80, 20, 10, 4, 300, 50) == pytest.approx(3 * 60 / 300 + 10 / 50)
    # 50 + 2 strokes of 0.1 m forth at 10 and back at 20 m/min
    assert times.keyway_slotting_time(90, 5, 0.1, 10, 20) == pytest.approx(52 * 0.1 * (1 / 10 + 1 / 20))
    with pytest.raises(OutOfRange, match=r"width is 20.*0 to 15"):
        times.keyway_milling_time(15, 20, 10, 4, 300, 50)


def test_number_of_cuts_is_not_raised_by_rounding_noise():
    assert times.cuts_for_stock(0.3, 0.1) == 3
    assert times.cuts_for_stock(0.31, 0.1) == 4


def test_slab_cutter_deeper_than_its_diameter_is_refused():
    with pytest.raises(OutOfRange, match=r"depth is 80.*larger cutter"):
        times.slab_approach(80, 75)
