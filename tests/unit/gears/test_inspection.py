"""Choice and limits of the inspection sizes."""

from __future__ import annotations

import re
from dataclasses import replace
from math import cos, radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear, inspection_sizes
from sequencer.gears.over_balls import (
    BALL_DIAMETERS,
    ball_centre_involute,
    ball_contact_diameter,
    ideal_ball_diameter,
    measurement_over_pins,
)
from sequencer.gears.span import profile_shift_from_span, safe_span_face_width, span

GEAR = CylindricalGear(normal_module=3.0, teeth=24, face_width=30.0, profile_shift=0.4)
HELICAL = CylindricalGear(normal_module=8.0, teeth=104, face_width=120.0, helix_angle=20.0, hand="left")
RING = CylindricalGear(normal_module=4.0, teeth=61, face_width=40.0, internal=True)


def test_span_limits_follow_the_thickness_allowances() -> None:
    """Each allowance shortens the span by its share along the normal, cos 20."""
    size = inspection_sizes(GEAR, -0.05, -0.1).span
    assert size is not None
    assert size.upper == pytest.approx(size.nominal - 0.05 * cos(radians(20.0)))
    assert size.lower == pytest.approx(size.nominal - 0.10 * cos(radians(20.0)))


def test_thinner_teeth_lower_the_measurement_over_and_raise_it_between() -> None:
    over, between = (
        inspection_sizes(GEAR, -0.05, -0.1).over_balls,
        inspection_sizes(RING, -0.05, -0.1).over_balls,
    )
    assert over is not None
    assert between is not None
    assert over.lower < over.upper < over.nominal
    assert between.upper > between.lower > between.nominal


def test_limits_of_the_measurement_are_those_of_gears_with_that_thickness() -> None:
    """A gear with a smaller profile shift has the thinner tooth: same measurement over the same ball."""
    thinner = replace(GEAR, profile_shift=0.4 - 0.1 / (2 * 3.0 * 0.36397023426620234))
    size = inspection_sizes(GEAR, 0.0, -0.1).over_balls
    assert size is not None
    same = inspection_sizes(thinner, ball_diameter=size.ball_diameter).over_balls
    assert same is not None
    assert size.lower == pytest.approx(same.nominal, abs=1e-9)


def test_ball_touches_nearest_the_shifted_diameter() -> None:
    """No other stock ball touches nearer."""
    for gear in (GEAR, HELICAL, RING):
        chosen = inspection_sizes(gear).over_balls
        assert chosen is not None
        for ball in BALL_DIAMETERS:
            other = inspection_sizes(gear, ball_diameter=ball).over_balls
            if other is not None:
                assert abs(chosen.contact_diameter - gear.shifted_diameter) <= abs(
                    other.contact_diameter - gear.shifted_diameter
                )


HUGE = CylindricalGear(
    normal_module=100.0,
    teeth=60,
    face_width=400.0,
    pressure_angle=30.0,
    profile_shift=2.0,
    addendum_factor=0.3,
    dedendum_factor=0.6,
)
BAD_BALLS = [
    (GEAR, 3.0, "does not stand out over the tips"),
    (GEAR, 1.0, "does not touch both flanks above the base circle"),
    (GEAR, 12.0, r"touches at diameter \d+\.\d+ mm, outside the flank from"),
    (RING, 20.0, "does not touch both flanks above the base circle"),
    (RING, 6.0, "does not stand out over the tips"),
    (HUGE, None, "no ball of the stock sizes 0.1 to"),
]


@pytest.mark.parametrize(("gear", "ball", "words"), BAD_BALLS)
def test_ball_that_does_not_fit_says_why(gear: CylindricalGear, ball: float | None, words: str) -> None:
    sizes = inspection_sizes(gear, ball_diameter=ball)
    assert sizes.over_balls is None
    assert re.search(words, sizes.over_balls_reason)


def test_narrow_helical_gear_takes_fewer_teeth_or_none() -> None:
    """Over 14 teeth the span needs 106.9 mm of face; fewer teeth need less, until none touch the flank."""
    wide, narrower, narrow = (
        inspection_sizes(replace(HELICAL, face_width=face)) for face in (120.0, 100.0, 40.0)
    )
    assert wide.span is not None
    assert wide.span.teeth_spanned == 14
    assert wide.span.least_face_width == pytest.approx(106.94, abs=0.01)
    assert narrower.span is not None
    assert narrower.span.teeth_spanned == 13
    assert narrower.span.least_face_width < 100.0
    assert narrow.span is None
    assert "needs a face wider than" in narrow.span_reason
    assert "has 40.000 mm" in narrow.span_reason


def test_given_span_is_kept_or_refused_with_its_contact() -> None:
    kept = inspection_sizes(GEAR, teeth_spanned=3).span
    assert kept is not None
    assert kept.teeth_spanned == 3
    refused = inspection_sizes(GEAR, teeth_spanned=8)
    assert refused.span is None
    assert "a span over 8 teeth touches at diameter" in refused.span_reason
    with pytest.raises(OutOfRange, match="number of teeth spanned is 1 "):
        inspection_sizes(GEAR, teeth_spanned=1)


def test_internal_gear_has_neither_span_nor_chord() -> None:
    sizes = inspection_sizes(RING)
    assert sizes.span is None
    assert "no span; measure between balls" in sizes.span_reason
    assert sizes.chordal is None
    assert "internal tooth" in sizes.chordal_reason


def test_chord_needs_the_reference_circle_on_the_flank() -> None:
    shifted = CylindricalGear(
        normal_module=3.0, teeth=60, face_width=30.0, profile_shift=1.6, addendum_factor=0.6
    )
    sizes = inspection_sizes(shifted)
    assert sizes.chordal is None
    assert "reference circle 180.000 mm does not cross the flank" in sizes.chordal_reason
    usual = inspection_sizes(GEAR, -0.05, -0.1).chordal
    assert usual is not None
    assert usual.lower < usual.upper < usual.nominal < GEAR.normal_tooth_thickness
    assert usual.height > GEAR.addendum


@pytest.mark.parametrize(
    ("upper", "lower", "words"),
    [
        (-0.1, -0.05, r"lower tooth thickness allowance -0.05 mm is above the upper -0.1 mm"),
        (0.0, -4.0, r"lower tooth thickness allowance is -4 mm .*at least -1.5"),
        (float("nan"), 0.0, r"upper tooth thickness allowance is nan"),
    ],
)
def test_allowances_that_make_no_sense_are_refused(upper: float, lower: float, words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        inspection_sizes(GEAR, upper, lower)


def test_ball_diameter_must_be_above_zero() -> None:
    with pytest.raises(OutOfRange, match="ball diameter is 0 mm"):
        inspection_sizes(GEAR, ball_diameter=0.0)


def test_pins_over_helical_gears_lie_opposite_each_other() -> None:
    """Straight pins cross the axis anywhere: no cosine for an odd number of teeth, none fit inside."""
    assert measurement_over_pins(100.0, 5.0, 25, 15.0) == 105.0
    assert measurement_over_pins(100.0, 5.0, 25) == pytest.approx(100.0 * cos(radians(3.6)) + 5.0)
    assert measurement_over_pins(100.0, 5.0, 24, internal=True) == 95.0
    with pytest.raises(OutOfRange, match="internal gear of helix angle 15 deg is not measured with pins"):
        measurement_over_pins(100.0, 5.0, 25, 15.0, internal=True)


def test_ball_functions_refuse_balls_without_contact() -> None:
    with pytest.raises(OutOfRange, match=r"a ball of 0.5 mm does not touch both flanks.*larger ball"):
        ball_centre_involute(3.0, 24, 0.5, 4.7)
    with pytest.raises(OutOfRange, match=r"a ball of 30 mm does not touch both flanks.*smaller ball"):
        ball_centre_involute(3.0, 60, 30.0, 4.7, internal=True)
    with pytest.raises(OutOfRange, match="touches inside the base circle"):
        ball_contact_diameter(67.66, 0.001, 20.0)
    with pytest.raises(OutOfRange, match="shifted diameter is"):
        ideal_ball_diameter(3.0, 24, profile_shift=-1.0)


@settings(deadline=None, derandomize=True)
@given(st.integers(8, 400), st.floats(-0.4, 0.8), st.floats(0.0, 40.0), st.integers(2, 9))
def test_profile_shift_comes_back_from_the_span(teeth: int, shift: float, helix: float, count: int) -> None:
    measured = span(4.0, teeth, count, 20.0, helix, shift)
    assert profile_shift_from_span(4.0, teeth, count, measured, 20.0, helix) == pytest.approx(
        shift, abs=1e-10
    )


def test_safe_face_width_is_more_than_the_least() -> None:
    size = inspection_sizes(HELICAL).span
    assert size is not None
    assert size.safe_face_width == pytest.approx(safe_span_face_width(size.nominal, 20.0))
    assert size.safe_face_width > size.least_face_width


def test_strongly_shortened_profile_is_still_measured_where_it_has_flank() -> None:
    """With x = -1 on 10 teeth the middle lies inside the base circle: the ball touches what flank is left."""
    sizes = inspection_sizes(
        CylindricalGear(normal_module=3.0, teeth=10, face_width=30.0, profile_shift=-1.0)
    )
    assert sizes.span is None
    assert "no span over whole teeth touches the flank from 29.356 to 30.000 mm" in sizes.span_reason
    assert sizes.over_balls is not None
    assert 29.356 < sizes.over_balls.contact_diameter < 30.0
