"""Power skiving: table speed, crossed axes, way into the bore, neck and holder, run-out, passes."""

from __future__ import annotations

import math

import pytest
from tooth_floor import SKIVER, double_wheel, fact, only, refusal, ring, shop, spur, teeth, tool, tried

from sequencer.cutting.skiving import engagement_reach
from sequencer.operations.operation import Mode
from sequencer.operations.teeth.share import Share

WHEEL_CUTTER = tool("S1", SKIVER)
SPUR_CUTTER = tool(
    "S6",
    SKIVER,
    module="6 mm",
    teeth=27,
    helix_angle="20 deg",
    hand="right",
    outside_diameter="187 mm",
    neck_diameter="110 mm",
    holder_diameter="80 mm",
    body_diameter="187 mm",
)
RING_CUTTER = tool(
    "S4",
    SKIVER,
    module="4 mm",
    teeth=40,
    helix_angle="20 deg",
    hand="left",
    outside_diameter="180 mm",
    made_for="internal",
    neck_diameter="110 mm",
    neck_length="140 mm",
    holder_diameter="110 mm",
    body_diameter="180 mm",
    functional_length="260 mm",
)


def test_the_table_turns_105_rpm_for_a_coarse_half() -> None:
    """d0 216, z0 27, Sigma 20, vc 100: n0 = 1000*100*cos(20)/(pi*216*sin(20)) = 405, table 405*27/104 = 105.

    Derived from the skiving speed formula as quoted in Gear Technology 2021.
    """
    made = double_wheel(gap=40)
    way = only(tried(made, shop(WHEEL_CUTTER), "wheel", "upper").alternatives)
    by_hand = 1000 * 100 * math.cos(math.radians(20)) / (math.pi * 216 * math.sin(math.radians(20)))
    assert fact(way, "cutter revolutions, rough") == pytest.approx(by_hand, rel=1e-9)
    assert fact(way, "table revolutions, rough") == pytest.approx(105, abs=0.5)
    assert way.mode is Mode.GEAR
    assert "opposite ways" in next(one.formula for one in way.facts if one.name == "speed ratio")
    assert fact(way, "common divisor of the teeth") == math.gcd(27, 104) == 1


def test_a_straight_cutter_makes_both_halves_of_a_double_helical_gear() -> None:
    """Crossed axes of +20 and -20 deg; a gap of 40 that no hob passes is enough for a thin cutter."""
    made, cutter = double_wheel(gap=40), tool("S1", SKIVER, thickness="18 mm")
    for half in ("lower", "upper"):
        way = only(tried(made, shop(cutter), "wheel", half).alternatives)
        assert fact(way, "crossed-axes angle") == pytest.approx(20)
        assert 20 < fact(way, "run-out needed above") < 40


def test_a_thick_cutter_does_not_start_under_the_other_half() -> None:
    """Above the lower half the whole wheel of the cutter, 30 mm thick, has to stand in the gap."""
    failed = refusal(tried(double_wheel(gap=40), shop(WHEEL_CUTTER), "wheel", "lower"), "S1")
    assert "above the teeth, has 40 mm against the upper half of wheel" in failed.sentence


def test_a_straight_cutter_must_last_both_halves() -> None:
    """Each half has 13.28 m of teeth; a life of 25 m at 80 % is enough for one only."""
    cutter = tool("S2", SKIVER, life_length="25 m")
    failed = refusal(tried(double_wheel(), shop(cutter), "wheel", "upper"), "S2")
    assert "this tooth system has 26.6 m" in failed.sentence
    assert "finished with one edge" in failed.sentence


def test_external_skiving_needs_a_third_of_the_hobs_room() -> None:
    """Mn 6 against its own tip circle: about 14 to 17 mm, as the first-order rule y sin(Sigma) + 2 says."""
    way = only(tried(spur(shoulder=492), shop(SPUR_CUTTER), "pinion").alternatives)
    radius = 187 / 2
    rolled = radius * 246 / (radius + 246)
    rule = math.sqrt(2 * 13.5 * rolled) * math.sin(math.radians(20)) + 2
    assert fact(way, "run-out needed below") == pytest.approx(rule, rel=0.12)
    assert 13 < fact(way, "run-out needed below") < 18


def test_a_much_larger_shoulder_needs_more() -> None:
    """Beside a rim of 650 the cutter's tip circle reaches r sin(Sigma) = 32 mm down; the groove is 25."""
    failed = refusal(tried(spur(shoulder=650), shop(SPUR_CUTTER), "pinion"), "S6")
    assert fact(failed, "run-out needed below") == pytest.approx(93.5 * math.sin(math.radians(20)) + 2, abs=1)
    assert "has 25 mm against rim, diameter 650 mm" in failed.sentence
    largest = float(failed.remedy.rstrip(".").split("diameter ")[1].split(" ")[0])
    smaller = {**SPUR_CUTTER, "outside_diameter": f"{largest} mm", "neck_diameter": "60 mm"}
    assert only(tried(spur(shoulder=650), shop(smaller), "pinion").alternatives).tool == "S6"


def test_the_cutting_speed_is_lowered_to_what_the_table_allows() -> None:
    """100 m/min wants 105.1 rpm; 80 rpm leave 76 m/min, above the least share of 60 %."""
    way = only(tried(double_wheel(), shop(WHEEL_CUTTER), "wheel", "upper", speed=80).alternatives)
    assert fact(way, "table revolutions, rough") == pytest.approx(80)
    assert fact(way, "cutting speed lowered, rough") == pytest.approx(100 * 80 / 105.1, abs=0.2)


def test_too_slow_a_table_is_refused_with_both_figures() -> None:
    failed = refusal(tried(double_wheel(), shop(WHEEL_CUTTER), "wheel", "upper", speed=40), "S1")
    assert (
        "S1 at 100 m/min needs 105.1 rpm of the table, 40 rpm are allowed (table 40 rpm)" in failed.sentence
    )
    assert "38.1 m/min are left, below 60 % of the condition" in failed.sentence


def test_the_coupling_limits_the_table_too() -> None:
    floor = shop(WHEEL_CUTTER, table={"synchronous_speed": "50 rpm"})
    failed = refusal(tried(double_wheel(), floor, "wheel", "upper"), "S1")
    assert "synchronous speed of the table 50 rpm" in failed.sentence


def test_a_cutting_speed_of_the_planner_is_not_lowered() -> None:
    made = double_wheel(conditions={"cutting_speed": "120 m/min", "feed": "0.1 mm"})
    failed = refusal(tried(made, shop(WHEEL_CUTTER), "wheel", "upper", speed=100), "S1")
    assert "the part file fixes the cutting speed" in failed.sentence
    assert "a cutting speed of at most 95." in failed.remedy


def test_the_spindle_limits_the_cutter() -> None:
    cutter = {**WHEEL_CUTTER, "highest_speed": "200 rpm"}
    failed = refusal(tried(double_wheel(), shop(cutter), "wheel", "upper"), "S1")
    assert "rpm of the spindle, 200 rpm are allowed (tool S1 200 rpm)" in failed.sentence


def test_parallel_axes_do_not_cut() -> None:
    """A straight cutter on a spur gear has no crossed-axes angle."""
    cutter = tool("S3", SKIVER, module="6 mm")
    failed = refusal(tried(spur(), shop(cutter), "pinion"), "S3")
    assert "crossed axes of 0 deg, 10 to 30 deg are allowed" in failed.sentence
    assert "helix angle of about 20 deg" in failed.remedy


def test_a_cutter_for_inside_teeth_is_not_for_outside() -> None:
    cutter = tool("S5", SKIVER, made_for="internal")
    failed = refusal(tried(double_wheel(), shop(cutter), "wheel", "upper"), "S5")
    assert "made for internal teeth, these are external" in failed.sentence


def test_a_form_for_other_tooth_numbers_is_refused() -> None:
    cutter = tool("S7", SKIVER, least_teeth=30, most_teeth=60)
    failed = refusal(tried(double_wheel(), shop(cutter), "wheel", "upper"), "S7")
    assert "form for 30 to 60 teeth, this gear has 104 teeth" in failed.sentence


def test_inside_teeth_are_skived_in_the_same_sense() -> None:
    way = only(tried(ring(floor=380), shop(RING_CUTTER), "ring").alternatives)
    assert "the same way" in next(one.formula for one in way.facts if one.name == "speed ratio")
    assert fact(way, "tooth relation of skiving") == pytest.approx(0.4)
    assert fact(way, "largest cutter that enters") == pytest.approx(390)


def test_inside_run_out_follows_the_first_order_rule() -> None:
    """Y sin(Sigma) + 2, y = sqrt(2 h R), R = r0 ra2/(ra2 - r0), against a bore of the tip diameter."""
    made = ring(floor=392)
    way = only(tried(made, shop(RING_CUTTER), "ring").alternatives)
    run = teeth(made, "ring")
    tip = run.gear.tip_diameter / 2
    rolled = 90 * tip / (tip - 90)
    rule = math.sqrt(2 * run.depth * rolled) * math.sin(math.radians(20)) + 2
    assert fact(way, "run-out needed below") == pytest.approx(rule, rel=0.12)


def test_a_blind_end_that_is_too_short_names_the_floor() -> None:
    failed = refusal(tried(ring(groove=10, floor=380), shop(RING_CUTTER), "ring"), "S4")
    assert "has 10 mm against lower_bore, diameter 380 mm" in failed.sentence
    assert (
        "largest skiving cutter that passes" in failed.remedy or "a gap of at least" in failed.remedy.lower()
    )


def test_too_many_cutter_teeth_leave_no_way_out_of_the_gap() -> None:
    cutter = {**RING_CUTTER, "teeth": 80, "outside_diameter": "345 mm"}
    failed = refusal(tried(ring(floor=380), shop(cutter), "ring"), "S4")
    assert "80 teeth for 100 inside teeth, 0.8 of them; 0.7 are allowed" in failed.sentence
    assert "at most 70 teeth" in failed.remedy


def test_a_cutter_that_does_not_enter_the_bore_is_refused() -> None:
    cutter = {**RING_CUTTER, "outside_diameter": "391 mm"}
    failed = refusal(tried(ring(floor=380), shop(cutter), "ring"), "S4")
    assert "diameter 391 mm, the way in is 392 mm wide and takes 390 mm" in failed.sentence


def test_a_short_neck_brings_the_holder_into_the_teeth() -> None:
    cutter = {**RING_CUTTER, "neck_length": "5 mm", "holder_diameter": "200 mm", "neck_diameter": "100 mm"}
    failed = refusal(tried(ring(floor=380), shop(cutter), "ring"), "S4")
    assert "holder (200 mm)" in failed.sentence
    assert "would stand" in failed.sentence
    assert "in the teeth" in failed.sentence


def test_a_large_head_brings_a_short_tool_into_trouble() -> None:
    """The head of 380 mm stands over the face when the tool is only 90 mm long."""
    cutter = {**RING_CUTTER, "neck_length": "40 mm", "functional_length": "90 mm"}
    floor = shop(cutter, spindle={"head_diameter": "380 mm", "nose_length": "20 mm"})
    failed = refusal(tried(ring(floor=380), floor, "ring"), "S4")
    assert "head (380 mm, its nose 130 mm)" in failed.sentence


def test_teeth_deeper_than_the_head_reaches_are_refused() -> None:
    floor = shop(RING_CUTTER, spindle={"reach_inside": "50 mm"})
    failed = refusal(tried(ring(floor=380), floor, "ring"), "S4")
    assert "62 mm below the top of the part, the head reaches 50 mm" in failed.sentence


def test_passes_decrease_and_add_up_to_the_depth() -> None:
    way = only(tried(ring(floor=380), shop(RING_CUTTER), "ring").alternatives)
    words = next(one.formula for one in way.facts if one.name == "number of passes")
    infeeds = [float(word) for word in words.split("infeeds ")[1].split(" mm of")[0].split(", ")]
    assert sum(infeeds) == pytest.approx(9, abs=0.1)
    assert infeeds[0] == max(infeeds)
    assert 8 <= len(infeeds) <= 16  # mn 4: 8 to 14 passes are usual (common practice, no source)


def test_roughing_leaves_its_stock_and_finishing_takes_it() -> None:
    """Stock 0.3 on a flank is 0.3/sin(20) = 0.88 mm of infeed."""
    made, floor = double_wheel(), shop(WHEEL_CUTTER)
    whole = only(tried(made, floor, "wheel", "upper").alternatives)
    rough = only(tried(made, floor, "wheel", "upper", share=Share.ROUGH).alternatives)
    assert fact(rough, "number of passes") < fact(whole, "number of passes")
    assert rough.minutes < whole.minutes
    assert fact(rough, "stock left on each flank") == 0.3


def test_a_soft_gear_is_not_cut_with_cbn() -> None:
    cutter = tool("S8", SKIVER, material="CBN")
    failed = refusal(tried(double_wheel(), shop(cutter), "wheel", "upper"), "S8")
    assert "of CBN, which is for hardened flanks" in failed.sentence


def test_the_time_of_skiving_is_the_sum_of_its_passes() -> None:
    """T = sum (b + way in + way out)/(fa n2) as quoted in Gear Technology 2021, ways back and coupling."""
    made = spur(shoulder=460)
    way = only(tried(made, shop(SPUR_CUTTER), "pinion").alternatives)
    gear = teeth(made, "pinion").gear
    run = engagement_reach(gear.tip_diameter, gear.root_diameter, 187, 20, False) + 2
    passes = fact(way, "number of passes")
    rough = (passes - 1) * (70 + 2 * run) / (0.3 * fact(way, "table revolutions, rough"))
    finish = (70 + 2 * run) / (0.3 * fact(way, "table revolutions, finish"))
    back = passes * (70 + 2 * run) / 24000
    assert way.minutes == pytest.approx(rough + finish + back + 1, rel=1e-6)


def test_teeth_with_a_common_divisor_meet_the_same_spaces() -> None:
    """40 cutter teeth on 100: each meets 100/gcd(40, 100) = 5 spaces only (derived)."""
    way = only(tried(ring(floor=380), shop(RING_CUTTER), "ring").alternatives)
    words = next(one.formula for one in way.facts if one.name == "common divisor of the teeth")
    assert "meets 5 spaces only" in words
