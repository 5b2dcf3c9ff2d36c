"""Rake and clearance of skiving passes as facts, and cutters refused for too little clearance."""

from __future__ import annotations

import math

import pytest
from test_skiving_ways import RING_CUTTER, SPUR_CUTTER
from tooth_floor import fact, only, refusal, ring, shop, spur, tried

from sequencer.cutting.simulation import COARSE, ideal_cutter, pass_angles, profile_of, skiving_setup
from sequencer.gears import CylindricalGear
from sequencer.operations.operation import Alternative
from sequencer.operations.teeth.skiving_angles import Cut, angles_without_relief, flank_relief


def words(way: Alternative, name: str) -> str:
    """Formula of a fact."""
    return next(one.formula for one in way.facts if one.name == name)


def test_tip_relief_leaves_little_on_the_flanks() -> None:
    """Derived, tan = tan(8) sin(20): 2.75 deg; measured on a cone: 10 mm behind the edge it is 0.48 mm in."""
    assert flank_relief(8.0, 20.0) == pytest.approx(2.752, abs=0.001)
    inwards = 10 * math.tan(math.radians(8)) * math.sin(math.radians(20))
    assert math.tan(math.radians(flank_relief(8.0, 20.0))) == pytest.approx(inwards / 10)


@pytest.mark.parametrize(
    ("made", "cutter", "name"),
    [(spur(shoulder=492), SPUR_CUTTER, "pinion"), (ring(floor=360), RING_CUTTER, "ring")],
)
def test_every_skived_way_says_its_angles(made: object, cutter: dict[str, object], name: str) -> None:
    """With relief only the clearance grows; the last, fine pass has the narrowest range."""
    way = only(tried(made, shop(cutter), name).alternatives)
    assert 0 < fact(way, "least effective clearance") < flank_relief(8.0, 20.0) + 0.5
    assert -45 < fact(way, "least effective rake") < 0
    last = f"pass {fact(way, 'number of passes'):.0f} "
    assert last in words(way, "least effective clearance")
    assert "2.8 deg (from 8 deg at the tips)" in words(way, "least effective clearance")
    more = only(tried(made, shop({**cutter, "flank_relief": "6 deg"}), name).alternatives)
    gained = fact(more, "least effective clearance") - fact(way, "least effective clearance")
    assert gained == pytest.approx(6 - flank_relief(8.0, 20.0))
    assert fact(more, "least effective rake") == fact(way, "least effective rake")


def test_a_flat_face_has_the_rake_of_the_cutter_helix_on_one_flank() -> None:
    """Steps square to the teeth take away the 18.9 deg that one plane face lacks on one flank."""
    stepped, flat = (
        only(tried(spur(shoulder=492), shop({**SPUR_CUTTER, "face": face}), "pinion").alternatives)
        for face in ("square to teeth", "square to axis")
    )
    lost = fact(stepped, "least effective rake") - fact(flat, "least effective rake")
    assert lost == pytest.approx(18.8, abs=3)


def test_a_cutter_without_flank_relief_rubs() -> None:
    failed = refusal(
        tried(spur(shoulder=492), shop({**SPUR_CUTTER, "flank_relief": "0.2 deg"}), "pinion"), "S6"
    )
    assert "deg of clearance in pass" in failed.sentence
    assert "1 deg are wanted" in failed.sentence
    wanted = float(failed.remedy.split("with ")[1].split(" deg")[0])
    better = {**SPUR_CUTTER, "flank_relief": f"{wanted} deg"}
    assert only(tried(spur(shoulder=492), shop(better), "pinion").alternatives).tool == "S6"


def test_an_assumed_relief_warns_only() -> None:
    floor = shop({**SPUR_CUTTER, "relief_angle": "1 deg"})
    way = only(tried(spur(shoulder=492), floor, "pinion").alternatives)
    assert "TOO LITTLE" in words(way, "least effective clearance")


def test_a_house_may_ask_for_more_clearance() -> None:
    floor = shop({**SPUR_CUTTER, "flank_relief": "3 deg"}, limits={"skiving_clearance": "5 deg"})
    assert "5 deg are wanted" in refusal(tried(spur(shoulder=492), floor, "pinion"), "S6").sentence


@pytest.mark.parametrize(
    ("internal", "teeth", "helix", "hand", "cutter_helix"),
    [(False, 60, 0.0, None, 20.0), (True, 80, 0.0, None, -20.0), (False, 60, 20.0, "right", -35.0)],
)
def test_coarse_angles_agree_with_fine_ones(internal, teeth, helix, hand, cutter_helix) -> None:
    """Behind the first pass, which may cut a sliver only, within two degrees."""
    gear = CylindricalGear(
        normal_module=4.0, teeth=teeth, face_width=40.0, internal=internal, helix_angle=helix, hand=hand
    )
    setup, infeeds = skiving_setup(gear, 29, cutter_helix), (3.0, 2.5, 2.0, 1.0, 0.4)
    edge = ideal_cutter(profile_of(gear), setup)
    fine = {one.number: one for one in pass_angles(gear, setup, infeeds, cutter=edge)}
    coarse = pass_angles(gear, setup, infeeds, grain=COARSE)
    assert len(coarse) >= 4
    for one in coarse:
        if one.number == 1:
            continue
        other = fine[one.number]
        assert one.least_clearance == pytest.approx(other.least_clearance, abs=2)
        assert one.greatest_clearance == pytest.approx(other.greatest_clearance, abs=2)
        assert one.least_rake == pytest.approx(other.least_rake, abs=2)


def test_a_finish_after_roughing_counts_its_own_passes() -> None:
    """What is cut before meets no edge: the finishing passes are numbered from 1 and enter less steeply."""
    gear = CylindricalGear(normal_module=4.0, teeth=60, face_width=40.0)
    whole = angles_without_relief(Cut(gear, 27, 20.0, 0.1, 0.0, (5.0, 3.6, 0.2, 0.2), 0.0))
    finish = angles_without_relief(Cut(gear, 27, 20.0, 0.1, 8.6, (0.2, 0.2), 0.0))
    assert [one.number for one in finish] == [1, 2]
    assert finish[-1].greatest_clearance == pytest.approx(whole[-1].greatest_clearance, abs=0.1)
    assert finish[0].least_rake > whole[0].least_rake


def test_roughing_stays_away_from_the_flank() -> None:
    """With stock left the last pass stands off by it."""
    gear = CylindricalGear(normal_module=4.0, teeth=60, face_width=40.0)
    setup = skiving_setup(gear, 27, 20.0)
    rough = angles_without_relief(Cut(gear, 27, 20.0, 0.1, 0.0, (5.0, 3.0), 1.0))
    assert rough[-1].centre_distance == pytest.approx(setup.centre_distance + 1.0)
