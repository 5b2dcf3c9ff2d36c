"""Hobbing, skiving, form milling and end milling of gears."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.cutting import end_milling, form_milling, hobbing, skiving
from sequencer.errors import OutOfRange


@pytest.mark.parametrize(
    ("gear", "hob", "helix", "expected"),
    [
        ("right", "right", 20, 16.2),
        ("left", "left", 20, 16.2),
        ("left", "right", 20, 23.8),
        ("right", "left", 20, 23.8),
        ("spur", "right", 0, 3.8),
        ("right", "right", 2, 1.8),
    ],
)
def test_swivel_by_the_hands(gear, hob, helix, expected):
    assert hobbing.swivel_angle(helix, 3.8, gear, hob) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("gear", "hob", "helix", "words"),
    [
        ("up", "right", 20, 'gear hand is "up"'),
        ("right", "spur", 20, 'hob hand is "spur"'),
        ("spur", "right", 20, "helix angle 20 deg with gear hand"),
        ("right", "right", 0, "helix angle 0 deg with gear hand"),
    ],
)
def test_hands_that_cannot_be_are_refused(gear, hob, helix, words):
    with pytest.raises(OutOfRange, match=words):
        hobbing.swivel_angle(helix, 3.8, gear, hob)


def test_more_starts_divide_the_hobbing_time():
    once = hobbing.hobbing_time(100, 1, 200, 3, 240)
    assert hobbing.hobbing_time(100, 2, 200, 3, 240) == pytest.approx(once / 2)


def test_travel_is_the_sum_of_its_parts():
    assert hobbing.total_travel(120, 62, 8, 5) == 195


def test_overrun_grows_with_the_swivel_and_has_a_least_value():
    """Module 8: l = 1.25 x 8 / tan 20 = 27.5; sin 16.2 gives 7.7, sin 23.8 gives 11.1."""
    assert hobbing.generating_length(8, 20) == pytest.approx(27.47, abs=0.01)
    assert hobbing.overrun(8, 20, 16.2) == pytest.approx(7.66, abs=0.01)
    assert hobbing.overrun(8, 20, -23.8) == pytest.approx(11.09, abs=0.01)
    assert hobbing.overrun(8, 20, 0, least=3) == 3


@given(limit=st.floats(0.5, 30), diameter=st.floats(50, 300), helix=st.floats(0, 40))
@settings(deadline=None, derandomize=True)
def test_largest_feed_leaves_just_the_depth(limit, diameter, helix):
    feed = hobbing.largest_feed(limit, diameter, 20, helix)
    assert hobbing.feed_mark_depth(feed, diameter, 20, helix) == pytest.approx(limit)


def test_spur_gear_has_no_lead_but_a_differential_of_zero():
    with pytest.raises(OutOfRange, match=r"helix angle is 0.*use the differential turns"):
        hobbing.lead(8, 100, 0)
    assert hobbing.differential_turns(8, 100, 0) == 0
    assert hobbing.differential_turns(8, 100, -20) == -hobbing.differential_turns(8, 100, 20)
    assert hobbing.differential_rpm(3, 2, 8, 100, 20) == pytest.approx(6 / hobbing.lead(8, 100, 20))


@given(
    beta_w=st.floats(-35, 35),
    sigma=st.floats(5, 35),
    sense=st.sampled_from([1, -1]),
    internal=st.booleans(),
    z_t=st.integers(15, 45),
    more=st.integers(20, 120),
)
@settings(deadline=None, derandomize=True, max_examples=100)
def test_sliding_lies_along_the_tooth_and_has_the_wanted_speed(beta_w, sigma, sense, internal, z_t, more):
    """The sign convention of the crossed-axes angle is right only if this holds for every pair."""
    beta_t = skiving.cutter_helix_for(sense * sigma, beta_w, internal)
    if abs(beta_t) > 55:
        return
    z_w = z_t + more
    assert skiving.crossed_axes_angle(beta_t, beta_w, internal) == pytest.approx(sense * sigma)
    rpm = skiving.cutter_rpm(100, skiving.pitch_diameter(4, z_t, beta_t), sigma, beta_w)
    slide = skiving.sliding(4, z_t, z_w, beta_t, beta_w, internal, rpm)
    assert slide.speed == pytest.approx(100, rel=1e-9)
    assert slide.along_tooth == pytest.approx(1, abs=1e-9)


def test_internal_work_turns_the_same_way_and_external_the_opposite():
    assert skiving.speed_ratio(40, 100, internal=True) == 0.4
    assert skiving.speed_ratio(40, 100, internal=False) == -0.4


@pytest.mark.parametrize("sigma", [0, 0.5, -0.9, math.nan])
def test_parallel_axes_do_not_cut(sigma):
    with pytest.raises(OutOfRange, match=r"crossed axes angle is .*1 to 60.*the edge does not slide"):
        skiving.cutter_rpm(100, 170, sigma, 0)


def test_internal_cutter_with_too_many_teeth_is_refused():
    with pytest.raises(OutOfRange, match=r"cutter has 60 teeth, internal gear 60.*fewer teeth"):
        skiving.speed_ratio(60, 60, internal=True)


@given(
    depth=st.floats(2, 30),
    width=st.floats(0.5, 8),
    largest=st.floats(0.4, 2.0),
    share=st.floats(0.2, 0.5),
    finish=st.sampled_from([0.0, 0.05, 0.2]),
)
@settings(deadline=None, derandomize=True, max_examples=200)
def test_infeeds_reach_the_depth_within_both_limits(depth, width, largest, share, finish):
    smallest = min(share * largest, (depth - finish) / 2)
    plan = skiving.infeed_passes(depth, width, 20, largest, smallest, finish)
    assert plan.depth == pytest.approx(depth, abs=1e-6)
    rough = plan.infeeds[:-1] if finish else plan.infeeds
    assert all(smallest - 1e-9 <= infeed <= largest + 1e-6 for infeed in rough)
    assert all(later <= former + 1e-9 for former, later in pairwise(rough[:-1]))
    assert plan.passes == len(plan.infeeds)


def test_infeeds_cut_equal_areas_of_the_gap():
    plan = skiving.infeed_passes(9.0, 2.6, 20, 1.5, 0.1)
    slope, areas, done = math.tan(math.radians(20)), [], 0.0
    for infeed in plan.infeeds:
        areas.append((done + infeed) * (2.6 + slope * (done + infeed)) - done * (2.6 + slope * done))
        done += infeed
    assert areas == pytest.approx([areas[0]] * len(areas))
    assert plan.passes == 12
    assert plan.infeeds[0] <= 1.5


def test_infeed_limits_too_close_are_refused():
    with pytest.raises(OutOfRange, match=r"smallest infeed is 1.*at most half the largest"):
        skiving.infeed_passes(9, 2.6, 20, 1.5, 1.0)


def test_passes_may_have_their_own_feeds():
    assert skiving.passes_time(70, 5, 5, (0.4, 0.2), 100) == pytest.approx(2 + 4)
    with pytest.raises(OutOfRange, match=r"passes is 0"):
        skiving.passes_time(70, 5, 5, (), 100)


@given(sigma=st.floats(5, 35), radius=st.floats(30, 120), depth=st.floats(2, 15), internal=st.booleans())
@settings(deadline=None, derandomize=True)
def test_reach_solves_its_own_equation(sigma, radius, depth, internal):
    """The point of the tip circle at the reach lies on the limiting circle."""
    root = 2.4 * radius
    limit = root - depth if internal else root + depth
    reach = skiving.engagement_reach(2 * limit, 2 * root, 2 * radius, sigma, internal)
    s = math.radians(sigma)
    phi = math.asin(reach / (radius * math.sin(s)))
    x = root - radius + radius * math.cos(phi) if internal else root + radius - radius * math.cos(phi)
    assert math.hypot(x, radius * math.sin(phi) * math.cos(s)) == pytest.approx(limit, abs=1e-6)


def test_reach_is_the_whole_radius_when_the_circle_never_comes_out():
    """A small bore below an internal gear with a near-equal cutter: all of the half circle counts."""
    reach = skiving.engagement_reach(20, 200, 190, 20, internal=True)
    assert reach == pytest.approx(95 * math.sin(math.radians(20)))


def test_reach_on_the_wrong_side_is_refused():
    with pytest.raises(OutOfRange, match=r"limit diameter is 210.*0 to 200"):
        skiving.engagement_reach(210, 200, 100, 20, internal=True)


def test_cutter_entry_and_tooth_number():
    assert skiving.largest_entering_diameter(232, 1.5) == 229
    assert skiving.largest_cutter_teeth(60) == 39
    assert skiving.largest_cutter_teeth(60, 0.5) == 30


def test_hex_is_the_feed_from_half_the_diameter_on():
    assert form_milling.greatest_chip(0.3, 60, 100) == 0.3
    assert form_milling.greatest_chip(0.3, 49.999, 100) == pytest.approx(0.3, rel=1e-6)
    feed = form_milling.feed_for_chip(0.1, 18, 250)
    assert form_milling.greatest_chip(feed, 18, 250) == pytest.approx(0.1)


def test_helical_gap_is_longer():
    spur = form_milling.gap_travel(100, 0, 18, 250, 5)
    assert form_milling.gap_travel(100, 30, 18, 250, 5) - spur == pytest.approx(
        100 / math.cos(math.pi / 6) - 100
    )


@given(scallop=st.floats(0.5, 50), cutter=st.floats(0.5, 20), flank=st.floats(5, 500))
@settings(deadline=None, derandomize=True)
def test_lines_leave_the_scallop(scallop, cutter, flank):
    """Sagitta of the chord in the circle of joint curvature."""
    radius = 1 / (1 / cutter + 1 / flank)
    if scallop / 1000 > radius / 2:
        return
    spacing = end_milling.line_spacing(scallop, cutter, flank)
    sagitta = radius - math.sqrt(radius**2 - (spacing / 2) ** 2)
    assert 1000 * sagitta == pytest.approx(scallop, rel=1e-6)


def test_straight_edge_on_a_flat_flank_has_no_scallop():
    with pytest.raises(OutOfRange, match=r"Give a ball radius or a curved flank"):
        end_milling.line_spacing(5, math.inf)
    assert end_milling.line_spacing(5, math.inf, 100) == pytest.approx(2.0, rel=1e-3)


def test_end_mill_that_passes_the_gap():
    assert end_milling.largest_end_mill(9.0, stock=0.5, clearance=1.0) == 7.0
    with pytest.raises(OutOfRange, match=r"diameter left is -1"):
        end_milling.largest_end_mill(1.0, stock=1.0)


def test_end_milling_time_counts_both_flanks_of_all_gaps():
    assert end_milling.flank_lines(18, 0.9) == 21
    assert end_milling.roughing_levels(18, 2) == 9
    assert end_milling.slenderness(60, 12) == 5
    assert end_milling.smallest_end_mill(60, 5) == 12
    length = end_milling.line_length(70, 0, 10)
    assert length == 90
    assert end_milling.flank_time(80, 21, length, 900, 0.01, 0.05) == pytest.approx(80 * (42 * 0.11 + 0.05))
    assert end_milling.roughing_time(80, 9, length, 900, 0.0, 0.0) == pytest.approx(80 * 0.9)


def test_hundreds_of_passes_are_a_slip_in_the_numbers():
    with pytest.raises(OutOfRange, match=r"passes is 1000.*1 to 500.*Raise the infeeds"):
        skiving.infeed_passes(10, 2.6, 20, 0.02, 0.01)
