"""Signed swivel and revolutions of hobbing and skiving, by velocity vectors and by playing the cut through.

Everything here is derived. Axes: work axis z upwards, cutter on the x axis at positive x, y completes them.
"""

from __future__ import annotations

import math
from itertools import product

import pytest

from sequencer.cutting import hobbing, skiving
from sequencer.cutting.simulation import (
    cutter_turns_anticlockwise,
    hobbing_setup,
    simulate_hobbing,
    skiving_setup,
)
from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear

Vector = tuple[float, float, float]


def cross(a: Vector, b: Vector) -> Vector:
    """Cross product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def dot(a: Vector, b: Vector) -> float:
    """Scalar product."""
    return sum(x * y for x, y in zip(a, b, strict=True))


@pytest.mark.parametrize(
    ("helix", "hob_hand", "feed_way", "cut_way"),
    list(product((-30.0, 0.0, 20.0), ("right", "left"), ("down", "up"), ("climb", "conventional"))),
)
def test_hob_thread_runs_with_the_teeth(helix, hob_hand, feed_way, cut_way):
    """At the pitch point thread and tooth are parallel and move alike square to both."""
    module, teeth, starts = 5.0, 40, 2
    pitch = 100.0
    lead_angle = hobbing.hob_lead_angle(starts, module, pitch)
    found = hobbing.hob_senses(
        module, teeth, helix, starts, lead_angle, hob_hand, 120.0, 3.0, feed_way, cut_way
    )
    swivel, gamma, beta = (math.radians(value) for value in (found.swivel, lead_angle, helix))
    axis: Vector = (0.0, math.cos(swivel), math.sin(swivel))
    # The hob touches the work at its own negative x side; cross(axis, -x) = +z there before the swivel.
    velocity = cross(tuple(found.hob * part for part in axis), (-pitch / 2, 0.0, 0.0))
    up = cross(axis, (-1.0, 0.0, 0.0))
    assert up[2] > 0
    sign = 1 if hob_hand == "right" else -1
    # A right-hand thread that goes along its axis turns as a screw: here upwards at the work.
    thread = tuple(sign * math.sin(gamma) * a + math.cos(gamma) * u for a, u in zip(axis, up, strict=True))
    tooth = (0.0, math.sin(beta), math.cos(beta))
    assert thread == pytest.approx(tooth, abs=1e-12)
    work = cross((0.0, 0.0, found.table), (module * teeth / math.cos(beta) / 2, 0.0, 0.0))
    square = cross((1.0, 0.0, 0.0), tooth)
    assert dot(velocity, square) == pytest.approx(dot(work, square), rel=1e-9)
    # Fed along z the space must still meet the hob: over one lead of travel the work turns once.
    travel = 3.0 * abs(found.table) * (-1 if feed_way == "down" else 1)
    per_mm = -found.differential / travel
    assert per_mm == pytest.approx(math.sin(beta) / (math.pi * module * teeth))
    # Climb: edges at the work move against the feed of the hob.
    assert (velocity[2] * travel < 0) is (cut_way == "climb")


def test_all_hob_senses_of_the_simulation_are_those_of_a_climb_cut_downwards():
    gear = CylindricalGear(normal_module=4.0, teeth=31, face_width=40.0, helix_angle=25.0, hand="left")
    for hand in ("right", "left"):
        setup = hobbing_setup(gear, 1, hand, 80.0)
        found = hobbing.hob_senses(4.0, 31, -25.0, 1, setup.lead_angle, hand, 31.0, 2.0)
        assert found.swivel == pytest.approx(setup.swivel)
        assert found.table / found.hob == pytest.approx(setup.ratio)
        assert found.differential / (2.0 * abs(found.table)) == pytest.approx(setup.differential)
        assert simulate_hobbing(gear, setup).largest < 0.3


@pytest.mark.parametrize(
    ("helix", "hand", "words"), [(20.0, "right", "left end up"), (-20.0, "right", "right end up")]
)
def test_swivel_is_said_in_words(helix, hand, words):
    assert words in hobbing.hob_senses(4.0, 30, helix, 1, 3.0, hand, 100.0, 2.0).swivel_words


def test_level_hob():
    assert hobbing.hob_senses(4.0, 30, 3.0, 1, 3.0, "right", 100.0, 2.0).swivel_words == "level"


SKIVED = [
    (internal, gear_helix, cutter_helix)
    for internal, gear_helix, cutter_helix in product(
        (False, True), (-20.0, 0.0, 20.0), (-20.0, 0.0, 5.0, 20.0)
    )
    if abs(skiving.crossed_axes_angle(cutter_helix, gear_helix, internal)) >= 1
]


@pytest.mark.parametrize(("internal", "gear_helix", "cutter_helix"), SKIVED)
@pytest.mark.parametrize("feed_way", ["down", "up"])
def test_the_lower_face_of_a_skiving_cutter_leads(internal, gear_helix, cutter_helix, feed_way):
    """Against the work the edge moves down the cutter axis, along the tooth; the simulation says the same."""
    module, teeth, cutter_teeth = 4.0, 80, 31
    found = skiving.skiving_senses(
        module, teeth, gear_helix, internal, cutter_teeth, cutter_helix, 500.0, 0.2, feed_way
    )
    sigma = math.radians(skiving.crossed_axes_angle(cutter_helix, gear_helix, internal))
    lean = -math.sin(sigma) if internal else math.sin(sigma)
    axis: Vector = (0.0, lean, math.cos(sigma))
    work_radius = skiving.pitch_diameter(module, teeth, gear_helix) / 2
    radius = skiving.pitch_diameter(module, cutter_teeth, cutter_helix) / 2
    edge = cross(tuple(found.cutter * part for part in axis), (radius if internal else -radius, 0.0, 0.0))
    work = cross((0.0, 0.0, found.table), (work_radius, 0.0, 0.0))
    slide = tuple(a - b for a, b in zip(edge, work, strict=True))
    beta = math.radians(gear_helix)
    tooth = (0.0, math.sin(beta), math.cos(beta))
    assert dot(slide, axis) < 0
    assert abs(dot(slide, tooth)) == pytest.approx(math.sqrt(dot(slide, slide)), rel=1e-9)
    gear = CylindricalGear(
        normal_module=module,
        teeth=teeth,
        face_width=30.0,
        internal=internal,
        helix_angle=abs(gear_helix),
        hand="right" if gear_helix > 0 else "left" if gear_helix < 0 else None,
    )
    setup = skiving_setup(gear, cutter_teeth, cutter_helix)
    assert (found.cutter > 0) is cutter_turns_anticlockwise(gear, setup)
    assert found.table / found.cutter == pytest.approx(setup.ratio)
    way = 1 if feed_way == "down" else -1
    assert found.differential / (0.2 * abs(found.table)) == pytest.approx(way * setup.differential)
    assert found.adds is (found.table * found.differential > 0)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: hobbing.signed_swivel(20.0, 3.0, "spur"), 'hand is "spur"'),
        (lambda: hobbing.hob_senses(4, 30, 0, 1, 3, "right", 100, 2, "sideways"), 'feed way is "sideways"'),
        (lambda: hobbing.hob_senses(4, 30, 0, 1, 3, "right", 100, 2, "down", "both"), 'cut way is "both"'),
        (lambda: skiving.skiving_senses(4, 60, 0, False, 27, 20, 500, 0.1, "in"), 'feed way is "in"'),
        (lambda: skiving.skiving_senses(4, 60, -20, False, 27, 20, 500, 0.1), "crossed axes angle is 0"),
    ],
)
def test_senses_without_sense_are_refused(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_shift_and_hob_teeth():
    """Derived by counting: hob 130 long, module 5: 130 - 2 (1.25*5/tan 20 + 5) = 85.66 mm.

    A hob of 12 gashes has 12 teeth for each axial pitch of 15.73 mm.
    """
    half = hobbing.generating_length(5.0, 20.0)
    free = hobbing.shift_range(130.0, half, 5.0)
    assert free == pytest.approx(130 - 2 * (6.25 / math.tan(math.radians(20)) + 5))
    gamma = hobbing.hob_lead_angle(1, 5.0, 97.5)
    teeth = hobbing.edges_in_use(12, free, 5.0, gamma)
    assert teeth == pytest.approx(12 * free / (math.pi * 5 / math.cos(math.radians(gamma))))
    assert hobbing.metres_for_each_edge(90.0, teeth) == pytest.approx(90 / teeth)
    assert hobbing.even_shift(free, 9.0, 90.0) == pytest.approx(free / 10)
    assert hobbing.even_shift(free, 100.0, 90.0) == free
    assert hobbing.shift_range(20.0, half, 5.0) == 0.0
