"""Skiving played through in space proves ratio, senses, crossed-axes angle and differential of `skiving`.

Everything here is derived: a right set-up must leave the involute, a wrong one must not.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.cutting import skiving
from sequencer.cutting.simulation import (
    SkivingCutter,
    SkivingSetup,
    describe,
    ideal_cutter,
    involute_cutter,
    profile_of,
    simulate_skiving,
    skiving_setup,
)
from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear


def gear(**values: object) -> CylindricalGear:
    """A gear of module 4 with some values changed."""
    return CylindricalGear(**{"normal_module": 4.0, "teeth": 60, "face_width": 40.0, **values})  # type: ignore[arg-type]


INTERNAL_SPUR = gear(teeth=80, internal=True)
INTERNAL_RIGHT = gear(teeth=75, internal=True, helix_angle=20.0, hand="right")
INTERNAL_LEFT = gear(teeth=75, internal=True, helix_angle=20.0, hand="left")
EXTERNAL_SPUR = gear()
EXTERNAL_RIGHT = gear(helix_angle=20.0, hand="right", profile_shift=0.2)
EXTERNAL_LEFT = gear(helix_angle=20.0, hand="left", normal_module=8.0, teeth=104)

#: Gear, teeth and helix angle of the cutter; crossed-axes angles of both signs.
CASES = [
    (INTERNAL_SPUR, 31, 20.0),
    (INTERNAL_SPUR, 31, -20.0),
    (INTERNAL_RIGHT, 29, 0.0),
    (INTERNAL_LEFT, 29, 0.0),
    (INTERNAL_RIGHT, 29, 35.0),
    (EXTERNAL_SPUR, 27, 20.0),
    (EXTERNAL_SPUR, 27, -15.0),
    (EXTERNAL_RIGHT, 27, 0.0),
    (EXTERNAL_LEFT, 27, 0.0),
    (EXTERNAL_LEFT, 27, 40.0),
    (EXTERNAL_RIGHT, 27, -5.0),
]
HELICAL = [case for case in CASES if case[0].helix_angle]


def right_cutter(wanted: CylindricalGear, setup: SkivingSetup) -> SkivingCutter:
    """The ideal cutter of the right set-up, to be used with a wrong one."""
    return ideal_cutter(profile_of(wanted), setup)


def cut_with(wanted: CylindricalGear, setup: SkivingSetup, **wrong: float) -> float:
    """Largest deviation when the right cutter moves with some values of its set-up wrong."""
    return simulate_skiving(wanted, replace(setup, **wrong), right_cutter(wanted, setup)).largest


@pytest.mark.parametrize(("wanted", "teeth", "helix"), CASES)
def test_set_up_by_the_formulas_leaves_the_involute(wanted, teeth, helix):
    """Ratio, senses, crossed-axes angle and differential of the formulas: both flanks within 0.01 um."""
    deviation = simulate_skiving(wanted, skiving_setup(wanted, teeth, helix))
    assert deviation.largest < 0.01
    assert len(deviation.left) == len(deviation.right) == 41
    assert deviation.left[0][0] == pytest.approx(
        min(wanted.root_form_diameter, wanted.tip_diameter), abs=0.01
    )
    assert deviation.left[-1][0] == pytest.approx(max(wanted.root_form_diameter, wanted.tip_diameter))


@pytest.mark.parametrize(("wanted", "teeth", "helix"), CASES)
def test_reversed_sense_of_rotation_ruins_the_teeth(wanted, teeth, helix):
    """External work turning with the cutter, or internal work against it, cuts the teeth away."""
    setup = skiving_setup(wanted, teeth, helix)
    tooth = 1000 * wanted.tooth_thickness_at(wanted.reference_diameter)
    assert cut_with(wanted, setup, ratio=-setup.ratio) > tooth / 4


@pytest.mark.parametrize(("wanted", "teeth", "helix"), CASES)
def test_ratio_of_one_cutter_tooth_too_many_ruins_the_teeth(wanted, teeth, helix):
    setup = skiving_setup(wanted, teeth, helix)
    assert cut_with(wanted, setup, ratio=setup.ratio * (teeth + 1) / teeth) > 1000


@pytest.mark.parametrize(("wanted", "teeth", "helix"), CASES)
def test_cutter_with_one_tooth_too_many_ruins_the_teeth(wanted, teeth, helix):
    """The set-up is right for the cutter planned, but the cutter in the spindle has a tooth more."""
    mounted = right_cutter(wanted, skiving_setup(wanted, teeth + 1, helix))
    assert simulate_skiving(wanted, skiving_setup(wanted, teeth, helix), mounted).largest > 1000


@pytest.mark.parametrize(("wanted", "teeth", "helix"), HELICAL)
def test_wrong_sign_of_the_differential_ruins_helical_teeth(wanted, teeth, helix):
    setup = skiving_setup(wanted, teeth, helix)
    assert cut_with(wanted, setup, differential=-setup.differential) > 1000
    assert cut_with(wanted, setup, differential=0.0) > 500


@pytest.mark.parametrize(("wanted", "teeth", "helix"), HELICAL)
def test_wrong_sign_of_the_crossed_axes_angle_ruins_helical_teeth(wanted, teeth, helix):
    setup = skiving_setup(wanted, teeth, helix)
    assert cut_with(wanted, setup, crossed_axes_angle=-setup.crossed_axes_angle) > 500


def test_spur_teeth_come_out_the_same_in_the_mirror():
    """The mirrored set-up cuts the mirrored space, and a spur space is its own mirror image."""
    setup = skiving_setup(EXTERNAL_SPUR, 27, 20.0)
    assert cut_with(EXTERNAL_SPUR, setup, crossed_axes_angle=-20.0) < 0.01


@pytest.mark.parametrize(
    ("wanted", "teeth", "helix"),
    [case for case in CASES if case[0].helix_angle == 0 or case[2] not in (0, -5)],
)
def test_crossed_axes_angle_wrong_by_a_degree_shows(wanted, teeth, helix):
    setup = skiving_setup(wanted, teeth, helix)
    wrong = replace(setup, crossed_axes_angle=setup.crossed_axes_angle + 1)
    deviation = simulate_skiving(wanted, wrong, right_cutter(wanted, setup))
    assert deviation.largest > 15
    assert deviation.form > 15


@pytest.mark.parametrize(("wanted", "teeth", "helix"), CASES)
def test_wrong_centre_distance_moves_both_flanks(wanted, teeth, helix):
    """Off by 0.1 mm to the side of more material: each flank by about 0.1 sin 20 = 34 um."""
    setup = skiving_setup(wanted, teeth, helix)
    away = replace(setup, centre_distance=setup.centre_distance + (-0.1 if wanted.internal else 0.1))
    deviation = simulate_skiving(wanted, away, right_cutter(wanted, setup))
    for flank in (deviation.left, deviation.right):
        values = [value for _, value in flank]
        assert sum(values) / len(values) == pytest.approx(34.2, rel=0.05)


@pytest.mark.parametrize(("wanted", "right"), [(EXTERNAL_SPUR, True), (INTERNAL_SPUR, False)])
def test_edge_set_back_leaves_material_on_its_own_flank(wanted, right):
    """The flank of larger polar angle is right on external, left on internal teeth; 0.05 mm stay there."""
    setup = skiving_setup(wanted, 27, 20.0)
    cutter = right_cutter(wanted, setup)
    worn = replace(cutter, upper=tuple((x, y - 0.05) for x, y in cutter.upper))
    deviation = simulate_skiving(wanted, setup, worn)
    mine, other = (deviation.right, deviation.left) if right else (deviation.left, deviation.right)
    assert all(30 < value < 60 for _, value in mine)
    assert all(abs(value) < 0.01 for _, value in other)


@pytest.mark.parametrize("wanted", [EXTERNAL_SPUR, INTERNAL_SPUR])
def test_involute_cutter_on_parallel_axes_is_exact(wanted):
    """Without crossed axes the motion is that of two gears, whose involutes are known to be conjugate.

    The edge is no envelope of the gear here, so this proves the sweep itself.
    """
    profile = profile_of(wanted, wanted.reference_diameter - 6, wanted.reference_diameter + 6)
    setup = skiving_setup(wanted, 60, 0.0)
    assert setup.crossed_axes_angle == 0
    cutter = involute_cutter(profile, setup)
    assert simulate_skiving(wanted, setup, cutter, profile).largest < 0.01


@pytest.mark.parametrize(
    ("wanted", "helix"),
    [
        (EXTERNAL_SPUR, 20.0),
        (EXTERNAL_SPUR, -20.0),
        (EXTERNAL_LEFT, 40.0),
        (INTERNAL_SPUR, 20.0),
    ],
)
def test_plain_involute_cutter_is_right_at_the_pitch_circle_only(wanted, helix):
    """On crossed axes involute gears touch in a point: exact there, some um off at tip and root."""
    middle, half = wanted.reference_diameter, 1.6 * wanted.normal_module
    profile = profile_of(wanted, middle - half, middle + half)
    setup = skiving_setup(wanted, 60, helix)
    deviation = simulate_skiving(wanted, setup, involute_cutter(profile, setup), profile)
    for flank in (deviation.left, deviation.right):
        assert abs(flank[20][1]) < 0.02
        assert max(abs(value) for _, value in flank) > 0.5
    assert deviation.largest < 10


SPUR_CUTTER = [
    (EXTERNAL_RIGHT, 27),
    (EXTERNAL_LEFT, 27),
    (INTERNAL_RIGHT, 29),
    (INTERNAL_LEFT, 29),
    (gear(helix_angle=12.0, hand="left", profile_shift=0.3), 31),
]


@pytest.mark.parametrize(("wanted", "teeth"), SPUR_CUTTER)
def test_spur_involute_cutter_is_exact_on_helical_teeth(wanted, teeth):
    """All sections of a spur cutter are alike, so its edge acts as the whole cutter: crossed involute gears.

    The edge knows nothing of the set-up; the crossed-axes angle, its sign, the ratio and the differential
    are right only if two involute gears mesh in it.
    """
    middle = wanted.shifted_diameter
    profile = profile_of(wanted, middle - 1.5 * wanted.normal_module, middle + 1.5 * wanted.normal_module)
    setup = skiving_setup(wanted, teeth, 0.0)
    assert abs(setup.crossed_axes_angle) == wanted.helix_angle
    cutter = involute_cutter(profile, setup)
    assert simulate_skiving(wanted, setup, cutter, profile).largest < 0.05
    for wrong in (
        replace(setup, ratio=-setup.ratio),
        replace(setup, crossed_axes_angle=-setup.crossed_axes_angle),
        replace(setup, differential=-setup.differential),
    ):
        assert simulate_skiving(wanted, wrong, cutter, profile).largest > 500


@given(
    module=st.sampled_from([1.5, 3.0, 6.0]),
    teeth=st.integers(50, 120),
    helix=st.sampled_from([0.0, 12.0, 25.0]),
    hand=st.sampled_from(["left", "right"]),
    shift=st.sampled_from([0.0, 0.3, -0.1]),
    internal=st.booleans(),
    share=st.floats(0.3, 0.5),
    sigma=st.sampled_from([-22.0, -15.0, 15.0, 22.0]),
)
@settings(deadline=None, derandomize=True, max_examples=40)
def test_any_gear_comes_out_right(module, teeth, helix, hand, shift, internal, share, sigma):
    """The middle of the profile, where every edge is sound, for any mixture of hands and signs."""
    wanted = gear(
        normal_module=module,
        teeth=teeth,
        helix_angle=helix,
        hand=hand if helix else None,
        profile_shift=shift,
        internal=internal,
    )
    cutter_helix = skiving.cutter_helix_for(sigma, wanted.reference_helix, internal)
    middle = wanted.shifted_diameter
    profile = profile_of(wanted, middle - 1.4 * module, middle + 1.4 * module)
    setup = skiving_setup(wanted, max(20, round(share * teeth)), cutter_helix)
    assert setup.crossed_axes_angle == pytest.approx(sigma)
    assert simulate_skiving(wanted, setup, profile=profile).largest < 0.1


def test_differential_is_the_reciprocal_of_the_lead():
    """From the drawing: lead = pi d / tan(beta); left hand negative."""
    setup = skiving_setup(EXTERNAL_LEFT, 27, 0.0)
    lead = math.pi * EXTERNAL_LEFT.reference_diameter / math.tan(math.radians(20))
    assert setup.differential == pytest.approx(-1 / lead)


def test_set_up_that_turns_the_wrong_way_has_no_ideal_cutter():
    setup = skiving_setup(EXTERNAL_SPUR, 27, 20.0)
    with pytest.raises(OutOfRange, match=r"never touches the edge.*Check sense, ratio, crossed-axes angle"):
        ideal_cutter(profile_of(EXTERNAL_SPUR), replace(setup, ratio=-setup.ratio))


def test_pointed_cutter_is_refused_with_the_profile_that_it_can_cut():
    """18 teeth must reach 5.2 mm beyond their pitch circle at module 3: more than a tooth can."""
    wanted = gear(normal_module=3.0, teeth=44, profile_shift=-0.2)
    with pytest.raises(
        OutOfRange, match=r"tooth is pointed.*compare the profile from diameter 126\.413 to 136\.81"
    ):
        simulate_skiving(wanted, skiving_setup(wanted, 18, 15.0))


def test_cutter_whose_edge_turns_back_is_refused():
    """15 teeth cannot cut the tips of 44 internal teeth that nearly reach their base circle."""
    wanted = gear(normal_module=5.0, teeth=44, internal=True)
    with pytest.raises(
        OutOfRange, match=r"edge of the cutter turns back.*more teeth.*compare the profile from"
    ):
        simulate_skiving(wanted, skiving_setup(wanted, 15, 15.0))


def test_involute_cutter_below_its_base_circle_is_refused():
    with pytest.raises(
        OutOfRange, match=r"asks for an edge below its base circle.*more teeth or compare less"
    ):
        involute_cutter(profile_of(EXTERNAL_SPUR), skiving_setup(EXTERNAL_SPUR, 12, 20.0))


@pytest.mark.parametrize("ends", [(200.0, 240.0), (236.0, 250.0), (240.0, 236.0)])
def test_profile_outside_the_tooth_is_refused(ends):
    """Module 4, 60 teeth: base circle 225.5, tip circle 248 mm."""
    with pytest.raises(OutOfRange, match=r"profile from diameter .*rising, within 230 to 248 mm"):
        profile_of(EXTERNAL_SPUR, *ends)


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("ratio", 0.0, r"ratio is 0.*Give table turns for one cutter turn"),
        ("centre_distance", -1.0, "centre distance is -1"),
        ("cutter_teeth", 0, "cutter teeth is 0"),
        ("crossed_axes_angle", 70.0, "crossed axes angle is 70"),
        ("differential", math.nan, "differential is nan"),
        ("feed", 0.0, "feed is 0"),
    ],
)
def test_set_up_out_of_range_is_refused(name, value, words):
    with pytest.raises(OutOfRange, match=words):
        replace(skiving_setup(EXTERNAL_SPUR, 27, 20.0), **{name: value})


def test_same_cut_gives_the_same_numbers():
    setup = skiving_setup(EXTERNAL_RIGHT, 27, 0.0)
    assert simulate_skiving(EXTERNAL_RIGHT, setup) == simulate_skiving(EXTERNAL_RIGHT, setup)


def test_result_in_words():
    setup = skiving_setup(EXTERNAL_SPUR, 27, 20.0)
    cutter = right_cutter(EXTERNAL_SPUR, setup)
    lines = describe(simulate_skiving(EXTERNAL_SPUR, setup, cutter))
    assert lines == (
        "external spur gear z 60 mn 4, diameter 233.039 to 248 mm: largest deviation 0 um "
        "(positive: material stays, negative: cut too deep)",
        "left flank: 0 to 0 um, mean 0 um, form 0 um",
        "right flank: 0 to 0 um, mean 0 um, form 0 um",
    )
