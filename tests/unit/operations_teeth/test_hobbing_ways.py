"""Hobbing: hands, run-out at both ends, shift, feed marks, class, tilt."""

from __future__ import annotations

import math

import pytest
from tooth_floor import (
    HOB,
    double_wheel,
    fact,
    only,
    refusal,
    ring,
    shop,
    spur,
    teeth,
    tool,
    tried,
)

RIGHT = tool("H1", HOB)
LEFT = tool("H2", HOB, hand="left")
SPUR_HOB = tool("H6", HOB, module="6 mm", outside_diameter="125 mm", length="140 mm", body_diameter="125 mm")


def test_a_hob_of_the_same_hand_passes_the_gap() -> None:
    """Mn 8, z 104, 20 deg, gap 90, hob 140: eta 16.2, handbook 61 mm and up to 2 %, overrun 8, margin 2.

    The handbook formula of the approach is from memory; the body itself needs 1 to 2 % more.
    """
    way = only(tried(double_wheel(), shop(RIGHT), "wheel", "upper").alternatives)
    assert fact(way, "lead angle of the hob") == pytest.approx(3.823, abs=0.01)
    assert fact(way, "swivel of the hob") == pytest.approx(16.18, abs=0.01)
    by_handbook = fact(way, "approach of the hob")
    assert by_handbook == pytest.approx(61, abs=0.5)
    needed = fact(way, "run-out needed below")
    assert needed == pytest.approx(1.02 * by_handbook + fact(way, "overrun for generating") + 2, abs=1.0)
    assert 70 < needed < 75
    assert fact(way, "run-out room below") == 90


def test_the_hob_of_the_other_hand_fails_in_the_same_gap() -> None:
    """The same hob on the other half swivels 23.8 deg and needs about 91 mm of 90."""
    verdicts = tried(double_wheel(), shop(LEFT), "wheel", "upper")
    failed = refusal(verdicts, "H2")
    assert fact(failed, "swivel of the hob") == pytest.approx(23.82, abs=0.01)
    assert fact(failed, "run-out needed below") == pytest.approx(91, abs=1.0)
    assert "left hand on right-hand teeth" in failed.sentence
    assert "against the lower half of wheel" in failed.sentence
    assert "has 90 mm" in failed.sentence
    assert "A right-hand hob of this size swivels 16.2 deg" in failed.remedy
    assert "passes" in failed.remedy


def test_the_largest_hob_named_in_the_remedy_passes_and_a_larger_one_does_not() -> None:
    """The remedy is computed, not guessed: try the hob that it names."""
    failed = refusal(tried(double_wheel(), shop(LEFT), "wheel", "upper"), "H2")
    largest = float(failed.remedy.split("diameter ")[1].split(" ")[0])
    assert 112 < largest < 140
    for diameter, passes in ((largest, True), (largest + 0.5, False)):
        hob = tool("H3", HOB, hand="left", outside_diameter=f"{diameter} mm")
        verdicts = tried(double_wheel(), shop(hob), "wheel", "upper")
        assert bool(verdicts.alternatives) is passes


def test_no_hob_passes_a_gap_of_40() -> None:
    """Handbook table and geometry agree: gap 40 is no gap for hobbing mn 8."""
    failed = refusal(tried(double_wheel(gap=40), shop(RIGHT), "wheel", "upper"), "H1")
    assert "has 40 mm against the lower half" in failed.sentence
    assert "no hob from 112 mm passes: skive or end-mill" in failed.remedy.lower()


def test_a_spur_gear_near_a_larger_shoulder_cannot_be_hobbed() -> None:
    """Mn 6, hob 125: sqrt(h (da0 - h)) = sqrt(13.5 * 111.5) = 38.8 against its own tip; the groove is 25."""
    made = spur(shoulder=492)
    failed = refusal(tried(made, shop(SPUR_HOB), "pinion"), "H6")
    needed = fact(failed, "run-out needed below")
    assert fact(failed, "approach of the hob") == pytest.approx(math.sqrt(13.5 * 111.5), rel=0.03)
    assert 41 < needed < 46
    assert "has 25 mm against rim, diameter 492 mm" in failed.sentence


def test_a_higher_shoulder_needs_more_room_than_one_of_the_tip_diameter() -> None:
    """The cutter body counts, not a rule of thumb: against dia 600 the whole hob radius stands in the way."""
    low, high = (
        fact(refusal(tried(spur(shoulder=s), shop(SPUR_HOB), "pinion"), "H6"), "run-out needed below")
        for s in (492.0, 650.0)
    )
    assert high > low + 15


def test_a_neighbour_below_the_root_leaves_the_hob_free() -> None:
    """A shoulder smaller than the root circle is no limit; only the table is."""
    way = only(tried(spur(shoulder=460), shop(SPUR_HOB), "pinion").alternatives)
    assert fact(way, "run-out room below") == pytest.approx(100 + 25 + 120)


def test_the_table_limits_the_lowest_teeth_and_the_riser_that_helps_is_named() -> None:
    """A hob of radius 70 cannot run out over a table 60 mm below the teeth."""
    failed = refusal(tried(double_wheel(), shop(LEFT), "wheel", "lower", riser=60), "H2")
    assert "against the table under riser 60 mm" in failed.sentence
    assert failed.remedy == "Use the 90 mm risers of risers."


def test_a_long_hob_is_shifted_up_to_clear_the_table() -> None:
    """With riser 90 the middle of the hob would not clear: the hob stays shifted, and a fact says so."""
    made, floor = double_wheel(), shop(LEFT)
    shifted = only(tried(made, floor, "wheel", "lower", riser=90).alternatives)
    free = only(tried(made, floor, "wheel", "lower", riser=200).alternatives)
    assert fact(shifted, "hob shift to keep") > 20
    assert "hob shift to keep" not in {one.name for one in free.facts}


def test_jaws_stand_in_the_way() -> None:
    """Jaws that end 30 mm below the teeth leave 30 mm."""
    held = {"hold": "outside jaws", "on": "rim", "z_from": "20 mm", "z_to": "95 mm"}
    failed = refusal(tried(spur(shoulder=460), shop(SPUR_HOB), "pinion", **held), "H6")
    assert "has 30 mm against the jaws on rim" in failed.sentence
    assert "mm stay free below the teeth" in failed.remedy


def test_turned_over_the_other_end_is_below() -> None:
    """With the lower side up the shoulder stands above the teeth."""
    failed = refusal(tried(spur(shoulder=492), shop(SPUR_HOB), "pinion", up="lower"), "H6")
    assert "above the teeth, has 25 mm against rim" in failed.sentence


def test_hobs_cut_no_inside_teeth() -> None:
    verdicts = tried(ring(floor=300), shop(tool("H4", HOB, module="4 mm")), "ring")
    assert verdicts.rejected[0].method == "hobbing"
    assert "outside teeth only" in verdicts.rejected[0].sentence


def test_another_module_is_told_once_with_both_numbers() -> None:
    verdicts = tried(double_wheel(), shop(tool("H7", HOB, module="NDP 3.5")), "wheel", "upper")
    failed = refusal(verdicts, "H7")
    assert failed.clamping == ""
    assert "module NDP 3.5 (7.2571 mm), the teeth have 8 mm" in failed.sentence


def test_a_transverse_module_of_the_drawing_is_turned_into_a_normal_one() -> None:
    """Mt 8 at 20 deg is mn 7.5175."""
    made = double_wheel(module=f"TDP {25.4 / 8}")
    assert teeth(made, "wheel", "upper").module == pytest.approx(8 * math.cos(math.radians(20)))
    assert "the teeth have 7.5175 mm" in refusal(tried(made, shop(RIGHT), "wheel", "upper"), "H1").sentence


def test_another_pressure_angle_is_refused() -> None:
    hob = tool("H8", HOB, pressure_angle="14.5 deg")
    failed = refusal(tried(double_wheel(), shop(hob), "wheel", "upper"), "H8")
    assert "pressure angle of 14.5 deg, the teeth have 20 deg" in failed.sentence


def test_a_head_that_tilts_too_little_is_refused() -> None:
    """The hob axis stands 16.2 deg out of level: the head tilts to 73.8 or 106.2 deg."""
    floor = shop(RIGHT, spindle={"tilt_from": "-30 deg", "tilt_to": "60 deg"})
    failed = refusal(tried(double_wheel(), floor, "wheel", "upper"), "H1")
    assert "tilt to 73.8 deg or -73.8 deg, its range is -30 to 60 deg" in failed.sentence


def test_a_poor_hob_does_not_reach_the_class() -> None:
    hob = tool("H9", HOB, quality="B")
    verdicts = tried(double_wheel(), shop(hob), "wheel", "upper")
    failed = refusal(verdicts, "H9")
    assert "hob quality B reaches flank class 9 (common practice, no source)" in failed.sentence
    assert "the drawing asks for ISO 1328-1:2013 class 7" in failed.sentence
    assert verdicts.only_by_class


def test_several_starts_cost_a_class() -> None:
    hob = tool("H10", HOB, starts=2)
    failed = refusal(tried(double_wheel(gap=200), shop(hob), "wheel", "upper"), "H10")
    assert "2 starts reaches flank class 8" in failed.sentence


def test_the_finishing_feed_is_lowered_to_the_feed_marks_of_the_class() -> None:
    """A quarter of the helix form tolerance is allowed (common practice, no source)."""
    coarse = tool("H1", HOB, cutting_speed="90 m/min", feed="6 mm")
    way = only(tried(double_wheel(), shop(coarse), "wheel", "upper").alternatives)
    run = teeth(double_wheel(), "wheel", "upper")
    assert run.tolerances is not None
    limit = run.tolerances.unrounded.helix_form / 4
    assert fact(way, "depth of feed marks") == pytest.approx(limit, rel=1e-6)
    assert fact(way, "axial feed, finish") < 6
    assert fact(way, "axial feed, rough") == 6


def test_the_planners_feed_stays_even_if_its_marks_are_deep() -> None:
    made = double_wheel(conditions={"cutting_speed": "80 m/min", "feed": "5 mm"})
    way = only(tried(made, shop(RIGHT), "wheel", "upper").alternatives)
    assert fact(way, "axial feed, finish") == 5
    assert fact(way, "cutting speed, finish") == 80


def test_the_time_of_a_hobbed_half_is_that_of_the_formula() -> None:
    """T = z L/(n0 z0 fa) for each of two cuts (R. Endoy, 1989), and one minute of coupling."""
    way = only(tried(double_wheel(), shop(RIGHT), "wheel", "upper").alternatives)
    assert fact(way, "number of cuts") == 2
    travel = 120 + fact(way, "approach of the hob") + 2 + fact(way, "overrun for generating")
    rpm = 1000 * 90 / (math.pi * 140)
    cuts = sum(104 * travel / (rpm * fact(way, f"axial feed, {stage}")) for stage in ("rough", "finish"))
    assert way.minutes == pytest.approx(cuts + 1 + travel / 24000, rel=1e-6)
    assert fact(way, "table revolutions, rough") == pytest.approx(rpm / 104)


def test_every_computed_fact_carries_its_numbers_and_a_source() -> None:
    way = only(tried(double_wheel(), shop(RIGHT), "wheel", "upper").alternatives)
    for one in way.facts:
        assert one.source, one.name
    assert sum("=" in one.formula for one in way.facts) >= 12


def test_a_hob_that_wears_out_within_the_gear_is_refused() -> None:
    """104 teeth of 120 mm at 20 deg are 13.3 m; a life of 10 m is used to 80 %."""
    hob = tool("H11", HOB, life_length="10 m")
    failed = refusal(tried(double_wheel(), shop(hob), "wheel", "upper"), "H11")
    assert "cuts 8 m of teeth (80 % of its life of 10 m), this tooth system has 13.3" in failed.sentence


def test_a_wish_for_a_tool_shuts_the_others_out() -> None:
    verdicts = tried(double_wheel(tool="H1"), shop(RIGHT, tool("H5", HOB)), "wheel", "upper")
    assert only(verdicts.alternatives).tool == "H1"
    assert "asks for tool H1" in refusal(verdicts, "H5").sentence


def test_a_wish_for_a_method_shuts_the_others_out() -> None:
    verdicts = tried(double_wheel(method="power skiving"), shop(RIGHT), "wheel", "upper")
    assert not verdicts.alternatives
    assert "asks for power skiving" in verdicts.rejected[0].sentence


def test_a_machine_without_hobbing_says_what_it_has() -> None:
    floor = shop(RIGHT, machine={"gear_methods": ["disc milling"]})
    verdicts = tried(double_wheel(), floor, "wheel", "upper")
    assert "Turn-mill 1 has no hobbing; its gear methods are disc milling" in verdicts.rejected[0].sentence


def test_too_heavy_a_part_is_not_cut_synchronised() -> None:
    floor = shop(RIGHT, machine={"gear_machining_mass": "500 kg"})
    failed = refusal(tried(double_wheel(), floor, "wheel", "upper"), "H1")
    assert "950 kg, gear-synchronised work is limited to 500 kg" in failed.sentence


def test_missing_conditions_are_named() -> None:
    made = spur(shoulder=460, material="CuSn12")
    failed = refusal(tried(made, shop(SPUR_HOB), "pinion"), "H6")
    assert (
        "no conditions for hobbing with HSS-PM in bronze, finish" in failed.sentence
        or "rough" in failed.sentence
    )


@pytest.mark.parametrize(("owned", "passes"), [(1, True), (0, False)])
def test_a_hob_that_comes_after_the_due_date_is_refused(owned: int, passes: bool) -> None:
    hob = tool("H6", HOB, module="6 mm", lead_time="60 d", owned=owned)
    made = spur(shoulder=460, order_date="2027-01-01", due="2027-02-10")
    verdicts = tried(made, shop(hob), "pinion")
    assert bool(verdicts.alternatives) is passes
    if not passes:
        failed = refusal(verdicts, "H6")
        assert "takes 60 d, the part is due in 40 d (2027-02-10)" in failed.sentence
        assert "20 d earlier" in failed.remedy
