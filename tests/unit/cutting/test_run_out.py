"""Room beyond the tooth end: exact against sampling, known limits, and the sentence a planner reads."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.cutting.cutter_bodies import (
    CutterBody,
    disc_body,
    end_mill_body,
    hob_body,
    skiving_body,
)
from sequencer.cutting.hobbing import approach
from sequencer.cutting.run_out import (
    MINIMUM_OVERRUN,
    Arrangement,
    Setting,
    axial_room,
    clash_depth,
    largest_cutter_diameter,
    plane_room,
    ring_room,
)
from sequencer.cutting.skiving import engagement_reach
from sequencer.errors import OutOfRange


def placed(body: CutterBody, setting: Setting, s, r, theta):
    """Points of the surface in space, written down anew and not with the frame under test."""
    t = math.radians(setting.tilt)
    root, way = setting.root_radius, (-1.0 if setting.internal else 1.0)
    if setting.arrangement is Arrangement.RADIAL:
        up = r * np.sin(theta)
        lift = body.profile[0][1] * abs(math.sin(t))
        x = root + way * (lift + s * math.cos(t) - up * math.sin(t))
        return x, r * np.cos(theta), s * math.sin(t) + up * math.cos(t)
    centre = root + way * body.diameter / 2
    x, side = centre + r * np.cos(theta), r * np.sin(theta)
    if setting.arrangement is Arrangement.CROSSED:
        return x, s * math.cos(t) - side * math.sin(t), s * math.sin(t) + side * math.cos(t)
    return x, s * math.sin(t) - side * math.cos(t), s * math.cos(t) + side * math.sin(t)


def sampled(body, setting, inner, outer, side, far=math.inf, step=0.15):
    """Greatest height of a dense sample of the surface inside the ring; None when no point is there."""
    profile = [(body.profile[0][0], 0.0), *body.profile, (body.profile[-1][0], 0.0)]
    best = None
    for (s0, r0), (s1, r1) in pairwise(profile):
        count = max(2, int(math.hypot(s1 - s0, r1 - r0) / step))
        turns = max(90, int(2 * math.pi * max(r0, r1) / step))
        t = np.linspace(0, 1, min(count, 1500))[:, None]
        theta = np.linspace(0, 2 * math.pi, min(turns, 4000))
        x, y, z = placed(body, setting, s0 + (s1 - s0) * t, r0 + (r1 - r0) * t, theta)
        z = z if side == "above" else -z
        rho = np.hypot(x, y)
        inside = (rho <= outer) & (rho >= inner) & (z <= far)
        if inside.any():
            best = max(float(z[inside].max()), -math.inf if best is None else best)
    return best


HOB = hob_body(140, 180, arbor_diameter=60, arbor_length=60, head_diameter=150, head_length=80)
DISC = disc_body(200, 40, tip_width=12, flank_depth=20, arbor_diameter=60, arbor_length=40)
SKIVER = skiving_body(120, 25, 50, 60, 100, 150, relief_angle=8)
MILL = end_mill_body(16, 60, holder_diameter=40, holder_length=80)

CASES = [
    (HOB, Setting(Arrangement.CROSSED, 432, 16.2), 450),
    (HOB, Setting(Arrangement.CROSSED, 432, -23.8), 450),
    (HOB, Setting(Arrangement.CROSSED, 432, 16.2), 470),
    (HOB, Setting(Arrangement.CROSSED, 432, 16.2), 700),
    (HOB, Setting(Arrangement.CROSSED, 432, 0.0), 450),
    (HOB, Setting(Arrangement.CROSSED, 120, 12.0), 135),
    (DISC, Setting(Arrangement.CROSSED, 282, 25.0), 300),
    (DISC, Setting(Arrangement.CROSSED, 282, -25.0), 340),
    (disc_body(90, 12), Setting(Arrangement.CROSSED, 310, 0.0, internal=True), 300),
    (
        disc_body(90, 12, arbor_diameter=30, arbor_length=90),
        Setting(Arrangement.CROSSED, 310, 20.0, True),
        250,
    ),
    (SKIVER, Setting(Arrangement.SKIVING, 205, 20.0, internal=True), 196),
    (SKIVER, Setting(Arrangement.SKIVING, 205, 20.0, internal=True), 150),
    (SKIVER, Setting(Arrangement.SKIVING, 205, -20.0, internal=True), 40),
    (SKIVER, Setting(Arrangement.SKIVING, 232, 20.0), 246),
    (SKIVER, Setting(Arrangement.SKIVING, 232, 20.0), 280),
    (SKIVER, Setting(Arrangement.SKIVING, 232, 12.0), 400),
    (MILL, Setting(Arrangement.RADIAL, 232), 246),
    (MILL, Setting(Arrangement.RADIAL, 232), 310),
    (MILL, Setting(Arrangement.RADIAL, 232, 25.0), 310),
    (MILL, Setting(Arrangement.RADIAL, 150, 30.0, internal=True), 140),
    (MILL, Setting(Arrangement.RADIAL, 150, 0.0, internal=True), 60),
]


@pytest.mark.parametrize("side", ["above", "below"])
@pytest.mark.parametrize(("body", "setting", "radius"), CASES)
def test_room_agrees_with_a_dense_sample_of_the_body(body, setting, radius, side):
    room = axial_room(body, setting, radius, side, overrun=0.0)
    ring = (radius, math.inf) if setting.internal else (0.0, radius)
    sample = sampled(body, setting, *ring, side)
    assert sample is not None
    assert room.reach == pytest.approx(max(0.0, sample), abs=0.1)
    # a sample can only miss the highest point, never exceed it
    assert room.reach >= sample - 1e-6


@given(
    diameter=st.floats(40, 250),
    length=st.floats(60, 250),
    root=st.floats(60, 900),
    tilt=st.floats(-35, 35),
    above_root=st.floats(1, 120),
    side=st.sampled_from(["above", "below"]),
)
@settings(deadline=None, derandomize=True, max_examples=25)
def test_any_hob_agrees_with_a_sample(diameter, length, root, tilt, above_root, side):
    body, setting = hob_body(diameter, length, diameter / 2, 40), Setting(Arrangement.CROSSED, root, tilt)
    room = axial_room(body, setting, root + above_root, side, overrun=0.0)
    sample = sampled(body, setting, 0.0, root + above_root, side, step=0.4)
    assert sample is not None
    assert sample - 1e-6 <= room.reach <= sample + 0.8


@given(
    diameter=st.floats(20, 300),
    depth=st.floats(1, 40),
    tip=st.floats(100, 2000),
)
@settings(deadline=None, derandomize=True, max_examples=60)
def test_untilted_hob_against_its_own_tip_circle_needs_the_handbook_approach(diameter, depth, tip):
    """sqrt(h (D - h)), the approach of every handbook."""
    if depth > min(diameter / 2, tip / 4):
        depth = min(diameter / 2, tip / 4)
    setting = Setting(Arrangement.CROSSED, tip / 2 - depth)
    room = axial_room(hob_body(diameter, 400), setting, tip / 2, overrun=0.0)
    assert room.reach == pytest.approx(math.sqrt(depth * (diameter - depth)), abs=1e-4)


@given(
    diameter=st.floats(60, 250),
    share=st.floats(0.01, 0.04),
    tip=st.floats(150, 1500),
    tilt=st.floats(1, 32),
)
@settings(deadline=None, derandomize=True, max_examples=60)
def test_tilted_long_hob_needs_a_little_more_than_the_published_formula(diameter, share, tip, tilt):
    """The formula is up to 6 % short of the body, most for small hobs on large gears."""
    depth = min(share * tip, diameter / 3)
    setting = Setting(Arrangement.CROSSED, tip / 2 - depth, tilt)
    reach = axial_room(hob_body(diameter, 3000), setting, tip / 2, overrun=0.0).reach
    published = approach(diameter, depth, tip, tilt)
    assert published * (1 - 1e-6) <= reach
    assert reach <= published * 1.07


@given(
    radius=st.floats(30, 120),
    sigma=st.floats(8, 30),
    gear=st.floats(1.6, 4.0),
    depth=st.floats(2, 15),
    internal=st.booleans(),
)
@settings(deadline=None, derandomize=True, max_examples=60)
def test_thin_skiving_cutter_needs_the_engagement_reach(radius, sigma, gear, depth, internal):
    """A flat disc with its edge at position 0 has the reach of the tip circle alone."""
    root = radius * gear
    limit = root - depth if internal else root + depth
    body = CutterBody("skiving cutter", 2 * radius, ((0.0, radius), (0.001, radius)))
    setting = Setting(Arrangement.SKIVING, root, sigma, internal)
    expected = engagement_reach(2 * limit, 2 * root, 2 * radius, sigma, internal)
    assert axial_room(body, setting, limit, "below", 0.0).reach == pytest.approx(expected, abs=2e-3)


def test_skiving_holder_needs_far_more_room_above_than_the_edge_below():
    setting = Setting(Arrangement.SKIVING, 232, 20.0)
    below = axial_room(SKIVER, setting, 246, "below", 0.0)
    above = axial_room(SKIVER, setting, 246, "above", 0.0)
    assert below.reach < 16 < above.reach


def test_radial_end_mill_needs_its_radius_until_the_holder_comes_in():
    setting = Setting(Arrangement.RADIAL, 232)
    assert axial_room(MILL, setting, 246, overrun=0.0).reach == pytest.approx(8.0)
    assert axial_room(MILL, setting, 232 + 59, overrun=0.0).reach == pytest.approx(8.0)
    assert axial_room(MILL, setting, 232 + 61, overrun=0.0).reach == pytest.approx(20.0)


def test_neighbour_smaller_than_the_root_needs_only_the_overrun():
    room = axial_room(HOB, Setting(Arrangement.CROSSED, 432, 16.2), 350)
    assert not room.touches
    assert room.needed == MINIMUM_OVERRUN
    assert room.sentence(40, "shoulder") == (
        "needs 2.0 mm, has 40.0 mm: only the overrun counts, the shoulder dia 700.0 stays clear of "
        "hob dia 140.0, tilt 16.2 deg"
    )


def test_internal_neighbour_with_a_wider_bore_needs_only_the_overrun():
    room = axial_room(SKIVER, Setting(Arrangement.SKIVING, 205, 20.0, internal=True), 210, overrun=3.0)
    assert not room.touches
    assert room.needed == 3.0


def test_sentence_carries_the_numbers():
    setting = Setting(Arrangement.CROSSED, 432, 16.2)
    room = axial_room(hob_body(140, 180), setting, 450, overrun=10.0)
    assert room.sentence(40.0, "shoulder") == (
        "needs 72.2 mm, has 40.0 mm against the shoulder dia 900.0 because hob dia 140.0, tilt 16.2 deg"
    )
    assert not room.passes(40.0)
    assert room.passes(72.3)


def test_sentence_of_a_plane_names_no_diameter():
    room = plane_room(hob_body(100, 100), Setting(Arrangement.CROSSED, 432), overrun=0.0)
    assert room.sentence(60, "table") == "needs 50.0 mm, has 60.0 mm against the table because " + (
        "hob dia 100.0, tilt 0.0 deg"
    )


def test_plane_below_counts_the_whole_tilted_body():
    """Lowest corner of a tilted cylinder: L/2 sin(eta) + r cos(eta)."""
    eta = math.radians(16.2)
    expected = 90 * math.sin(eta) + 70 * math.cos(eta)
    setting = Setting(Arrangement.CROSSED, 432, 16.2)
    assert plane_room(hob_body(140, 180), setting, "below", 0.0).needed == pytest.approx(expected, abs=1e-6)
    far = axial_room(hob_body(140, 180), setting, math.inf, "below", 0.0)
    assert far.needed == pytest.approx(expected, abs=1e-6)


def test_plane_works_for_internal_cutters_too():
    setting = Setting(Arrangement.SKIVING, 205, 20.0, internal=True)
    expected = 60 * math.sin(math.radians(20))
    assert plane_room(SKIVER, setting, "below", 0.0).needed == pytest.approx(expected, abs=1e-6)


def test_jaws_that_start_outside_the_cutter_are_free():
    setting = Setting(Arrangement.RADIAL, 232)
    room = ring_room(end_mill_body(16, 60), setting, 300, 500, "below", 1.0)
    assert not room.touches
    assert room.needed == 1.0
    assert ring_room(end_mill_body(16, 60), setting, 280, 500, "below", 1.0).needed == pytest.approx(9.0)


def test_ring_agrees_with_a_sample():
    setting = Setting(Arrangement.CROSSED, 432, 16.2)
    for inner, outer in ((470, 520), (520, 560), (440, 600)):
        room = ring_room(HOB, setting, inner, outer, "below", 0.0)
        assert room.reach == pytest.approx(sampled(HOB, setting, inner, outer, "below"), abs=0.1)


def test_thin_ring_under_the_holder_is_not_hit_by_the_neck():
    """A plate with a bore that the neck passes and the holder does not."""
    body = skiving_body(120, 25, 50, 100, 140, 60)
    setting = Setting(Arrangement.SKIVING, 100, 2.0, internal=True)
    assert clash_depth(body, setting, 75, math.inf, 60, 90, "above") == 0.0
    assert clash_depth(body, setting, 75, math.inf, 100, 140, "above") > 10


def test_clash_depth_agrees_with_a_sample():
    setting = Setting(Arrangement.SKIVING, 205, 20.0, internal=True)
    depth = clash_depth(SKIVER, setting, 150, math.inf, 5, 12, "above")
    sample = sampled(SKIVER, setting, 150, math.inf, "above", far=12)
    assert depth == pytest.approx(sample - 5, abs=0.1)


def test_shift_of_the_hob_moves_its_end_into_the_neighbour():
    setting = Setting(Arrangement.CROSSED, 432, 20.0)
    short, shifted = hob_body(140, 120), hob_body(140, 120, shift=40)
    assert axial_room(shifted, setting, 470, "above").needed > axial_room(short, setting, 470, "above").needed
    assert axial_room(shifted, setting, 470, "below").needed < axial_room(short, setting, 470, "below").needed


def test_largest_cutter_is_the_last_that_passes():
    setting = Setting(Arrangement.CROSSED, 432, 16.2)

    def body_of(diameter):
        return hob_body(diameter, 180)

    found = largest_cutter_diameter(60.0, body_of, setting, 450, smallest=40, largest=250)
    assert found is not None
    assert axial_room(body_of(found), setting, 450).passes(60.0)
    assert not axial_room(body_of(found + 0.02), setting, 450).passes(60.0)


def test_largest_cutter_knows_when_all_or_none_pass():
    setting = Setting(Arrangement.CROSSED, 432, 16.2)
    bodies = {"body_of": lambda d: hob_body(d, 180), "setting": setting, "neighbour_radius": 450}
    assert largest_cutter_diameter(5.0, smallest=40, largest=250, **bodies) is None
    assert largest_cutter_diameter(500.0, smallest=40, largest=250, **bodies) == 250


def test_opposite_hand_hob_needs_more_room_than_same_hand():
    """Same-hand hob 140 on mn 8 beta 20 stays within a 90 mm gap, the opposite hand does not (E + U + 3)."""
    hob = hob_body(140, 220)
    same = axial_room(hob, Setting(Arrangement.CROSSED, 432.6, 16.2), 450.6, overrun=8 + 3)
    other = axial_room(hob, Setting(Arrangement.CROSSED, 432.6, 23.8), 450.6, overrun=11 + 3)
    assert same.passes(90)
    assert not other.passes(90)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: axial_room(HOB, Setting(Arrangement.CROSSED, 432), -1), "neighbour radius is -1"),
        (lambda: axial_room(HOB, Setting(Arrangement.CROSSED, 432), math.nan), "neighbour radius is nan"),
        (lambda: axial_room(HOB, Setting(Arrangement.CROSSED, 432), 450, "left"), 'side is "left"'),
        (lambda: axial_room(HOB, Setting(Arrangement.CROSSED, 432), 450, overrun=-1), "overrun is -1"),
        (lambda: Setting(Arrangement.CROSSED, 0), "root radius is 0"),
        (lambda: Setting(Arrangement.CROSSED, 432, 80), "tilt is 80.*-75 to 75"),
        (
            lambda: axial_room(HOB, Setting(Arrangement.CROSSED, 60, 0, True), 50),
            "does not fit.*smaller cutter",
        ),
        (lambda: ring_room(HOB, Setting(Arrangement.CROSSED, 432), 500, 400), "inner radius 500"),
        (lambda: clash_depth(HOB, Setting(Arrangement.CROSSED, 432), 1, 400, 9, 3), "near face 9 mm"),
        (lambda: hob_body(0, 100), "diameter is 0"),
        (lambda: hob_body(100, 100, arbor_diameter=-1), "arbor diameter is -1"),
        (lambda: disc_body(100, 10, tip_width=20), "tip width is 20.*0 to 10"),
        (lambda: skiving_body(100, 10, relief_angle=40), "relief angle is 40"),
        (lambda: CutterBody("hob", 10, ((0, 5),)), "profile has 1 points"),
        (lambda: CutterBody("hob", 10, ((0, 5), (-1, 5))), "go back.*Order the points"),
    ],
)
def test_senseless_numbers_are_refused(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_body_knows_its_sizes():
    assert HOB.length == 180 + 2 * 60 + 2 * 80
    assert HOB.greatest_diameter == 150
    assert hob_body(140, 180, head_diameter=150, head_length=80).profile[0] == (-170, 75)
