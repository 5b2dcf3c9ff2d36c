"""Disc and end-mill milling of teeth: gap, reach, lean, life, room, load, time."""

from __future__ import annotations

import math

import pytest
from tooth_floor import DISC, MILL, double_wheel, fact, only, refusal, ring, shop, spur, teeth, tool, tried

from sequencer.operations.operation import Mode
from sequencer.operations.teeth.share import Share

DISC_8 = tool("D1", DISC)
DISC_6 = tool("D6", DISC, module="6 mm")
MILL_4 = tool("E4", MILL)


def test_a_disc_roughs_a_coarse_half_across_a_wide_gap() -> None:
    """A thin disc stands between the chord sqrt(h (D - h)) and the endless cylinder of the handbooks."""
    made = double_wheel(gap=90)
    way = only(tried(made, shop(DISC_8), "wheel", "upper", share=Share.ROUGH, riser=200).alternatives)
    eta = math.radians(20)
    chord = math.sqrt(18 * (200 - 18)) * math.cos(eta)
    endless = math.sqrt(18 * (200 - 18 + 901.4 * math.sin(eta) ** 2)) / math.cos(eta)
    assert chord + 2 < fact(way, "run-out needed below") < endless + 2
    assert way.mode is Mode.MILLING


def test_a_disc_too_large_for_the_gap_names_the_largest_that_passes() -> None:
    failed = refusal(tried(double_wheel(gap=60), shop(DISC_8), "wheel", "upper", share=Share.ROUGH), "D1")
    assert "has 60 mm against the lower half of wheel" in failed.sentence
    assert "The largest disc that passes has diameter" in failed.remedy


def test_a_disc_does_not_finish_class_7() -> None:
    failed = refusal(tried(spur(shoulder=460), shop(DISC_6), "pinion", riser=200), "D6")
    assert "disc milling reaches flank class 8" in failed.sentence.lower()


def test_the_form_of_a_disc_is_for_virtual_teeth() -> None:
    """104 teeth at 20 deg are about 104/cos^3(20) = 125 in the normal section."""
    disc = tool("D2", DISC, least_teeth=100, most_teeth=110)
    failed = refusal(tried(double_wheel(), shop(disc), "wheel", "upper", share=Share.ROUGH), "D2")
    assert "form for 100 to 110 teeth" in failed.sentence
    assert "virtual teeth (104 on the helix)" in failed.sentence


def test_discs_do_not_reach_inside_teeth() -> None:
    disc = tool("D4", DISC, module="4 mm")
    failed = refusal(tried(ring(floor=380), shop(disc), "ring"), "D4")
    assert "need an angle head" in failed.sentence


def test_a_weak_spindle_lowers_the_feed_of_a_disc_or_refuses_it() -> None:
    made = double_wheel()
    weak = shop(tool("D1", DISC, feed="0.4 mm", cutting_speed="130 m/min"), spindle={"torque": "90 N m"})
    failed = refusal(tried(made, weak, "wheel", "upper", share=Share.ROUGH, riser=200), "D1")
    assert "would have to feed at" in failed.sentence
    assert "90 N m; below 60 % it rubs" in failed.sentence
    middling = shop(tool("D1", DISC, feed="0.4 mm", cutting_speed="130 m/min"), spindle={"torque": "900 N m"})
    way = only(tried(made, middling, "wheel", "upper", share=Share.ROUGH, riser=200).alternatives)
    assert 60 <= fact(way, "feed kept, rough") < 100


def test_a_finishing_disc_must_do_with_one_edge() -> None:
    disc = tool("D6", DISC, module="6 mm", life="5 min")
    made = spur(shoulder=460, flank_class={"year": 2013, "class": 9})
    failed = refusal(tried(made, shop(disc), "pinion", riser=200), "D6")
    assert "an edge lasts 4 min; a form cutter finishes a tooth system with one edge" in failed.sentence


def test_the_time_of_a_disc_is_gap_by_gap() -> None:
    """T = z (L/vf + L/rapid + index) with L = b + sqrt(h (D - h)) + 2 for a spur gear."""
    made = spur(shoulder=460)
    way = only(tried(made, shop(DISC_6), "pinion", share=Share.ROUGH, riser=200).alternatives)
    rate = 0.1 * 14 * 1000 * 130 / (math.pi * 200)
    travel = 70 + math.sqrt(13.5 * (200 - 13.5)) + 2
    assert way.minutes == pytest.approx(80 * (travel / rate + travel / 24000 + 0.05), rel=1e-6)


def test_an_end_mill_makes_a_narrow_gap_that_no_hob_passes() -> None:
    way = only(tried(double_wheel(gap=40), shop(MILL_4), "wheel", "upper").alternatives)
    assert fact(way, "run-out needed below") < 40
    assert way.minutes > 200


def test_an_end_mill_wider_than_the_gap_at_the_root_is_refused() -> None:
    """The gap is the involute gap one corner radius above the root, less 0.1 mm of play."""
    made = double_wheel()
    mill = tool("E16", MILL, diameter="16 mm", reach="60 mm")
    failed = refusal(tried(made, shop(mill), "wheel", "upper"), "E16")
    takes = teeth(made, "wheel", "upper").gap_above_root(0.4) - 0.1
    assert fact(failed, "largest end mill in the gap") == pytest.approx(takes)
    assert f"diameter 16 mm, the gap takes {takes:.2f}".rstrip("0") in failed.sentence


def test_thinner_teeth_leave_a_wider_gap() -> None:
    plain = teeth(spur(), "pinion").gap_at_root
    thinned = teeth(spur(thickness_upper="-0.1 mm", thickness_lower="-0.2 mm"), "pinion").gap_at_root
    assert thinned == pytest.approx(plain + 0.15)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"reach": "15 mm"}, "usable length of 15 mm, the teeth need 20 mm"),
        ({"reach": "24 mm"}, "6 diameters long, 5 are allowed"),
        ({"use": ["milling"]}, "is for milling, not for teeth"),
    ],
)
def test_an_unfit_end_mill_says_why(changes: dict[str, object], words: str) -> None:
    mill = tool("E4", MILL) | changes
    assert words in refusal(tried(double_wheel(), shop(mill), "wheel", "upper"), "E4").sentence


def test_a_mill_leans_away_from_a_high_shoulder() -> None:
    """A holder of radius 20 needs 21 mm beside the rim; leaning up it does with the groove of 18 mm."""
    made = spur(module="8 mm", teeth=60, groove=18, shoulder=650)
    mill = tool("E5", MILL, diameter="5 mm", reach="25 mm", body_diameter="40 mm")
    way = only(tried(made, shop(mill), "pinion").alternatives)
    lean = 90 - fact(way, "head tilt")
    assert lean >= 15
    assert f"leaning {lean:.0f} deg" in way.reason


def test_a_wide_holder_fits_at_no_lean() -> None:
    """A holder of radius 40 stands in the rim when level and in the teeth when it leans."""
    mill = tool("E4", MILL, body_diameter="80 mm", functional_length="150 mm")
    failed = refusal(tried(spur(module="8 mm", teeth=60, shoulder=650), shop(mill), "pinion"), "E4")
    assert "leaning 0 deg needs 41 mm below the teeth, has 25 mm against rim" in failed.sentence


def test_a_stubby_mill_does_not_reach_inside_teeth() -> None:
    failed = refusal(tried(ring(module="8 mm", teeth=50, floor=380), shop(MILL_4), "ring"), "E4")
    assert "would stand" in failed.sentence
    assert "whatever its lean from 0 to 70 deg" in failed.sentence


def test_worn_end_mills_are_counted_and_must_be_there_in_time() -> None:
    made = spur(module="8 mm", teeth=60, shoulder=460, order_date="2027-01-01", due="2027-01-11")
    many = tool("E4", MILL, owned=1, lead_time="30 d")
    failed = refusal(tried(made, shop(many), "pinion"), "E4")
    assert "the shop owns 1 and more take 30 d, the part is due in 10 d" in failed.sentence
    stocked = tool("E4", MILL, owned=20, lead_time="30 d")
    way = only(tried(made, shop(stocked), "pinion").alternatives)
    assert fact(way, "edges or sister tools for one part") == math.ceil(way.minutes / 48)


def test_finer_classes_take_more_lines() -> None:
    """Ridges of a quarter of the profile form tolerance: a finer class needs closer lines."""
    fine, coarse = (
        only(
            tried(
                spur(module="8 mm", teeth=60, shoulder=460, flank_class={"year": 2013, "class": number}),
                shop(MILL_4),
                "pinion",
            ).alternatives
        )
        for number in (7, 10)
    )
    assert fact(fine, "lines in a gap, finish") > fact(coarse, "lines in a gap, finish")
    assert fine.minutes > coarse.minutes
