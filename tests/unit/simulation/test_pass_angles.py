"""Rake and clearance of skiving edges, by the motion in space.

Everything here is derived; where the pitch cylinders roll, the helix of the cutter must run along the tooth.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from sequencer.cutting.simulation import (
    cutter_turns_anticlockwise,
    finishing_angles,
    ideal_cutter,
    pass_angles,
    profile_of,
    skiving_setup,
)
from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear


def gear(**values: object) -> CylindricalGear:
    """A gear of module 4 with some values changed."""
    return CylindricalGear(**{"normal_module": 4.0, "teeth": 60, "face_width": 40.0, **values})  # type: ignore[arg-type]


EXTERNAL = gear()
INTERNAL = gear(teeth=80, internal=True)
EXTERNAL_RIGHT = gear(helix_angle=20.0, hand="right")
INTERNAL_LEFT = gear(teeth=75, internal=True, helix_angle=20.0, hand="left")

CASES = [
    (EXTERNAL, 27, 20.0),
    (EXTERNAL, 27, -20.0),
    (INTERNAL, 31, 20.0),
    (INTERNAL, 31, -20.0),
    (EXTERNAL_RIGHT, 27, -35.0),
    (EXTERNAL_RIGHT, 27, 5.0),
    (INTERNAL_LEFT, 29, 5.0),
    (INTERNAL_LEFT, 29, -38.0),
]


@pytest.mark.parametrize(("wanted", "teeth", "helix"), CASES)
def test_cutter_helix_of_the_formula_runs_along_the_tooth(wanted, teeth, helix):
    """Without relief the body follows the finished flank: clearance 0 on both, whatever hand and sign.

    This proves the crossed-axes angle of spur teeth too, whose profile does not know its sign.
    """
    for flank in finishing_angles(wanted, skiving_setup(wanted, teeth, helix)):
        assert len(flank) > 100
        assert all(abs(point.clearance) < 0.3 for point in flank)


@pytest.mark.parametrize(("wanted", "teeth", "helix"), CASES)
def test_cutter_of_the_other_hand_rubs_on_one_flank(wanted, teeth, helix):
    """The body leaves one flank and runs into the other, by nearly twice the helix angle."""
    setup = skiving_setup(wanted, teeth, helix)
    wrong = replace(setup, cutter_helix=-helix)
    means = sorted(
        sum(point.clearance for point in flank) / len(flank)
        for flank in finishing_angles(wanted, wrong, cutter=ideal_cutter(profile_of(wanted), setup))
    )
    assert means[0] == pytest.approx(-means[1], abs=0.5)
    assert 1.7 * abs(helix) < means[1] < 2 * abs(helix)


def test_relief_of_the_cutter_adds_to_the_clearance():
    setup = skiving_setup(EXTERNAL, 27, 20.0)
    plain, relieved = finishing_angles(EXTERNAL, setup), finishing_angles(EXTERNAL, setup, relief=6.0)
    for before, after in zip(plain[0], relieved[0], strict=True):
        assert after.clearance == pytest.approx(before.clearance + 6)
        assert after.rake == before.rake


@pytest.mark.parametrize(("wanted", "teeth", "helix"), CASES)
def test_flat_rake_face_gives_one_flank_the_rake_that_the_other_lacks(wanted, teeth, helix):
    """At the pitch circle the edge leans by the cutter helix: tan(rake) = +- tan(beta_t) cos(alpha_t).

    Derived for a face square to the cutter axis: the body direction seen square to the edge, which stands
    off the radius by the transverse pressure angle.
    """
    setup = skiving_setup(wanted, teeth, helix)
    expected = math.degrees(
        math.atan(
            math.tan(math.radians(helix))
            * math.cos(math.atan(math.tan(math.radians(20)) / math.cos(math.radians(helix))))
        )
    )
    found = []
    for flank in finishing_angles(wanted, setup):
        nearest = min(flank, key=lambda point: abs(point.diameter - wanted.reference_diameter))
        found.append(nearest.rake)
    assert sorted(found) == pytest.approx([-abs(expected), abs(expected)], abs=0.3)


@pytest.mark.parametrize(
    ("wanted", "helix", "anticlockwise"),
    [(EXTERNAL, 20.0, False), (EXTERNAL, -20.0, True), (INTERNAL, 20.0, False), (INTERNAL, -20.0, True)],
)
def test_sense_in_which_the_lower_face_cuts(wanted, helix, anticlockwise):
    """A right-hand cutter on spur work turns clockwise from above; its mirror image anticlockwise.

    The edge of a right-hand thread that turns clockwise moves down along the work: a screw going in.
    """
    assert cutter_turns_anticlockwise(wanted, skiving_setup(wanted, 27, helix)) is anticlockwise


@pytest.mark.parametrize(("wanted", "teeth", "helix"), CASES)
def test_rake_falls_far_below_its_nominal_value_ahead_of_the_flank(wanted, teeth, helix):
    """Where the edge enters the chip the rake is far more negative than where it finishes the flank."""
    setup = skiving_setup(wanted, teeth, helix)
    passes = pass_angles(wanted, setup, (3.0, 2.5, 2.0, 1.0))
    finished = min(point.rake for flank in finishing_angles(wanted, setup) for point in flank)
    assert [each.number for each in passes] == [1, 2, 3, 4][-len(passes) :]
    assert passes[-1].centre_distance == pytest.approx(setup.centre_distance)
    back = passes[-2].centre_distance - setup.centre_distance
    assert back == pytest.approx(-1.0 if wanted.internal else 1.0)
    for each in passes:
        assert each.least_rake < finished - 5
        assert each.least_rake < each.greatest_rake
        assert each.least_clearance < each.greatest_clearance


def test_thin_last_pass_cuts_with_less_spread_than_a_deep_one():
    """The less is left by the pass before, the closer to the finished flank the edge enters."""
    setup = skiving_setup(EXTERNAL, 27, 20.0)
    thin, deep = (pass_angles(EXTERNAL, setup, (9.0 - last, last))[-1] for last in (0.2, 3.0))
    assert thin.least_rake > deep.least_rake + 3
    assert thin.greatest_clearance < deep.greatest_clearance - 3


def test_last_pass_never_rubs_with_a_little_relief():
    for each in pass_angles(
        EXTERNAL_RIGHT, skiving_setup(EXTERNAL_RIGHT, 27, 5.0), (4.0, 3.0, 2.0), relief=2.0
    ):
        assert each.least_clearance > 0


@pytest.mark.parametrize(
    ("infeeds", "relief", "words"),
    [((), 0.0, "passes is 0"), ((1.0, -0.2), 0.0, "infeed is -0.2"), ((1.0,), 40.0, "relief is 40")],
)
def test_passes_out_of_range_are_refused(infeeds, relief, words):
    with pytest.raises(OutOfRange, match=words):
        pass_angles(EXTERNAL, skiving_setup(EXTERNAL, 27, 20.0), infeeds, relief)
