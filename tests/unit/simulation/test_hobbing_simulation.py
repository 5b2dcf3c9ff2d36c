"""Hobbing played through in space proves ratio, swivel, senses and differential of `hobbing`.

Everything here is derived: a right set-up must leave the involute, a wrong one must not.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.cutting import hobbing
from sequencer.cutting.simulation import HobbingSetup, hobbing_setup, profile_of, simulate_hobbing
from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear


def gear(**values: object) -> CylindricalGear:
    """A gear of module 4 with some values changed."""
    return CylindricalGear(**{"normal_module": 4.0, "teeth": 40, "face_width": 40.0, **values})  # type: ignore[arg-type]


SPUR = gear()
RIGHT = gear(normal_module=8.0, teeth=104, helix_angle=20.0, hand="right")
LEFT = gear(normal_module=8.0, teeth=104, helix_angle=20.0, hand="left")
SHIFTED = gear(teeth=36, helix_angle=30.0, hand="left", profile_shift=0.4)
#: Undercut: the involute begins where the trochoid of the hob tip crosses it.
UNDERCUT = gear(teeth=12)

#: Gear, starts, hand and pitch diameter of the hob.
CASES = [
    (SPUR, 1, "right", 80.0),
    (SPUR, 1, "left", 80.0),
    (RIGHT, 1, "right", 120.0),
    (RIGHT, 1, "left", 120.0),
    (LEFT, 1, "right", 120.0),
    (LEFT, 1, "left", 120.0),
    (SHIFTED, 2, "right", 90.0),
    (SHIFTED, 2, "left", 90.0),
    (UNDERCUT, 1, "right", 80.0),
    (gear(teeth=35), 2, "left", 90.0),
]
#: Cases for wrong set-ups: spur, both hands of gear and hob, several starts.
TRIED = [CASES[index] for index in (0, 2, 5, 6)]
HELICAL = [case for case in TRIED if case[0].helix_angle]


def cut_with(wanted: CylindricalGear, setup: HobbingSetup, **wrong: object) -> float:
    """Largest deviation with some values of the set-up wrong."""
    return simulate_hobbing(wanted, replace(setup, **wrong)).largest  # type: ignore[arg-type]


@pytest.mark.parametrize(("wanted", "starts", "hand", "diameter"), CASES)
def test_set_up_by_the_formulas_leaves_the_involute(wanted, starts, hand, diameter):
    """From the root form diameter to the tip, both flanks within 0.3 um."""
    deviation = simulate_hobbing(wanted, hobbing_setup(wanted, starts, hand, diameter))
    assert deviation.largest < 0.3
    assert deviation.right[0][0] == pytest.approx(wanted.root_form_diameter, abs=0.01)
    assert deviation.right[-1][0] == pytest.approx(wanted.tip_diameter)


@pytest.mark.parametrize(("wanted", "starts", "hand", "diameter"), TRIED)
def test_reversed_sense_of_the_table_ruins_the_teeth(wanted, starts, hand, diameter):
    setup = hobbing_setup(wanted, starts, hand, diameter)
    tooth = 1000 * wanted.tooth_thickness_at(wanted.reference_diameter)
    assert cut_with(wanted, setup, ratio=-setup.ratio) > tooth / 4


@pytest.mark.parametrize(("wanted", "starts", "hand", "diameter"), TRIED)
def test_hob_of_the_other_hand_ruins_the_teeth(wanted, starts, hand, diameter):
    """The sense of the table is that of a right-hand hob, but a left-hand hob is mounted, or the reverse."""
    other = "left" if hand == "right" else "right"
    assert cut_with(wanted, hobbing_setup(wanted, starts, hand, diameter), hand=other) > 1000


@pytest.mark.parametrize(("wanted", "starts", "hand", "diameter"), TRIED)
def test_ratio_of_one_start_too_many_ruins_the_teeth(wanted, starts, hand, diameter):
    setup = hobbing_setup(wanted, starts, hand, diameter)
    assert cut_with(wanted, setup, ratio=setup.ratio * (starts + 1) / starts) > 1000


@pytest.mark.parametrize(("wanted", "starts", "hand", "diameter"), TRIED)
def test_ratio_of_one_gear_tooth_too_many_shows(wanted, starts, hand, diameter):
    setup = hobbing_setup(wanted, starts, hand, diameter)
    assert cut_with(wanted, setup, ratio=setup.ratio * wanted.teeth / (wanted.teeth + 1)) > 100


@pytest.mark.parametrize(("wanted", "starts", "hand", "diameter"), HELICAL)
def test_wrong_sign_of_the_differential_ruins_helical_teeth(wanted, starts, hand, diameter):
    setup = hobbing_setup(wanted, starts, hand, diameter)
    assert cut_with(wanted, setup, differential=-setup.differential) > 1000


@pytest.mark.parametrize(("wanted", "starts", "hand", "diameter"), TRIED)
def test_swivel_to_the_wrong_side_shows(wanted, starts, hand, diameter):
    """Helical teeth are ruined; on a spur gear twice the lead angle still cuts some tenths too deep."""
    setup = hobbing_setup(wanted, starts, hand, diameter)
    assert cut_with(wanted, setup, swivel=-setup.swivel) > (1000 if wanted.helix_angle else 300)


@pytest.mark.parametrize(("wanted", "starts", "hand", "diameter"), HELICAL)
def test_sum_and_difference_of_the_angles_cannot_be_exchanged(wanted, starts, hand, diameter):
    """The swivel of the other hob hand misses by twice the lead angle."""
    setup = hobbing_setup(wanted, starts, hand, diameter)
    other = hobbing_setup(wanted, starts, "left" if hand == "right" else "right", diameter)
    assert cut_with(wanted, setup, swivel=other.swivel) > 200


@pytest.mark.parametrize(("wanted", "starts", "hand", "diameter"), TRIED)
def test_hob_too_far_away_leaves_thick_teeth_of_right_form(wanted, starts, hand, diameter):
    """0.1 mm too far: each flank 0.1 sin 20 = 34.2 um thick, since involutes do not mind the distance."""
    setup = hobbing_setup(wanted, starts, hand, diameter)
    above_root = profile_of(wanted, wanted.root_form_diameter + 0.15 * wanted.tooth_depth)
    deviation = simulate_hobbing(
        wanted, replace(setup, centre_distance=setup.centre_distance + 0.1), above_root
    )
    assert deviation.largest == pytest.approx(34.2, abs=0.5)
    assert deviation.form < 0.5


def test_swivel_wrong_by_a_degree_cuts_thin_teeth_of_right_form():
    """Involute gears on crossed axes stay conjugate at any angle, only the thickness changes."""
    setup = hobbing_setup(RIGHT, 1, "right", 120.0)
    above_root = profile_of(RIGHT, RIGHT.root_form_diameter + 3)
    deviation = simulate_hobbing(RIGHT, replace(setup, swivel=setup.swivel + 1), above_root)
    assert deviation.form < 0.3
    assert -40 < deviation.left[20][1] < -15


@pytest.mark.parametrize(
    ("wanted", "starts", "gashes", "diameter"),
    [
        (gear(normal_module=8.0, teeth=24), 1, 9, 130.0),
        (gear(teeth=40), 1, 8, 90.0),
        (gear(teeth=40), 2, 15, 120.0),
        (gear(normal_module=8.0, teeth=30, helix_angle=15.0, hand="right"), 1, 9, 150.0),
    ],
)
def test_facets_are_as_high_as_the_formula_says(wanted, starts, gashes, diameter):
    """Few gashes leave a polygon; its height is that of `hobbing.facet_height`, whose roll is circular.

    The formula takes the radius of curvature at the pitch circle; it grows towards the tip, by the tangent
    length, so the highest facets of the middle third are compared.
    """
    deviation = simulate_hobbing(
        wanted, hobbing_setup(wanted, starts, "right", diameter, gashes=gashes), profile_of(wanted)
    )
    height = hobbing.facet_height(wanted.normal_module, wanted.teeth, starts, gashes, wanted.pressure_angle)
    middle = [value for _, value in deviation.right[13:28]]
    assert min(value for _, value in deviation.right) > -0.1
    assert max(middle) == pytest.approx(height, rel=0.35)


def test_facets_shrink_with_the_square_of_the_gashes():
    few, many = (
        simulate_hobbing(SPUR, hobbing_setup(SPUR, 1, "right", 90.0, gashes=gashes)).largest
        for gashes in (6, 18)
    )
    assert few > 6 * many


@given(
    module=st.sampled_from([2.0, 5.0, 10.0]),
    teeth=st.integers(18, 120),
    helix=st.sampled_from([0.0, 12.0, 28.0]),
    hand=st.sampled_from(["left", "right"]),
    hob_hand=st.sampled_from(["left", "right"]),
    shift=st.sampled_from([0.0, 0.3, -0.1]),
    starts=st.integers(1, 2),
    size=st.floats(15, 25),
)
@settings(deadline=None, derandomize=True, max_examples=15)
def test_any_gear_comes_out_right(module, teeth, helix, hand, hob_hand, shift, starts, size):
    wanted = gear(
        normal_module=module,
        teeth=teeth,
        helix_angle=helix,
        hand=hand if helix else None,
        profile_shift=shift,
    )
    setup = hobbing_setup(wanted, starts, hob_hand, size * module)
    assert simulate_hobbing(wanted, setup).largest < 0.6


@pytest.mark.parametrize(("wanted", "diameter", "feed"), [(SPUR, 80.0, 3.0), (gear(teeth=60), 60.0, 2.0)])
def test_feed_marks_of_a_spur_gear_are_as_deep_as_the_formula_says(wanted, diameter, feed):
    """`hobbing.feed_mark_depth` takes the outside diameter, which cuts at the root of the gear.

    At the tip the hob is thinner by twice the working depth, so the marks are that much deeper.
    """
    setup = hobbing_setup(wanted, 1, "right", diameter, feed=feed)
    outside = diameter + 2.5 * wanted.normal_module
    marks = simulate_hobbing(wanted, setup, feed_marks=True)
    formula = hobbing.feed_mark_depth(feed, outside, wanted.pressure_angle, 0.0)
    assert marks.right[2][1] == pytest.approx(formula, rel=0.08)
    at_tip = diameter - 2 * wanted.normal_module
    assert marks.right[-1][1] == pytest.approx(formula * outside / at_tip, rel=0.08)
    assert simulate_hobbing(wanted, setup).largest < 0.1


def test_feed_marks_grow_with_the_square_of_the_feed():
    small, large = (
        simulate_hobbing(RIGHT, hobbing_setup(RIGHT, 1, "right", 120.0, feed=feed), feed_marks=True)
        for feed in (2.0, 4.0)
    )
    assert large.left[20][1] == pytest.approx(4 * small.left[20][1], rel=0.1)


def test_feed_marks_of_helical_teeth_stay_below_the_formula():
    """The marks run aslant over the flank, so their ridges lie closer than the feed along the tooth."""
    setup = hobbing_setup(RIGHT, 1, "right", 120.0, feed=4.0)
    formula = hobbing.feed_mark_depth(4.0, 140.0, 20.0, 20.0)
    marks = simulate_hobbing(RIGHT, setup, feed_marks=True)
    assert all(0.4 * formula < value < 0.7 * formula for _, value in marks.right)


def test_internal_gear_is_refused():
    internal = gear(teeth=60, internal=True)
    with pytest.raises(OutOfRange, match=r"gear is internal.*external gears only.*Skive or mill it"):
        hobbing_setup(internal, 1, "right", 80.0)
    with pytest.raises(OutOfRange, match=r"gear is internal.*external gears only.*Skive or mill it"):
        simulate_hobbing(internal, hobbing_setup(SPUR, 1, "right", 80.0))


def test_hob_too_thin_for_the_teeth_is_refused():
    """Three starts on 26 mm: the flanks would reach below the base cylinder of the thread."""
    with pytest.raises(
        OutOfRange, match=r"hob of pitch diameter 26 mm.*base cylinder.*larger hob or fewer starts"
    ):
        simulate_hobbing(SPUR, hobbing_setup(SPUR, 3, "right", 26.0))


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("ratio", 0.0, r"ratio is 0.*Give table turns for one hob turn"),
        ("hand", "up", r'hand is "up".*"right" or "left"'),
        ("swivel", 80.0, "swivel is 80"),
        ("gashes", 0, "gashes is 0"),
        ("lead_angle", 0.0, "lead angle is 0"),
    ],
)
def test_set_up_out_of_range_is_refused(name, value, words):
    with pytest.raises(OutOfRange, match=words):
        replace(hobbing_setup(SPUR, 1, "right", 80.0), **{name: value})
