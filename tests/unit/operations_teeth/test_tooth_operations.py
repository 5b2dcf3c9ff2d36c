"""Operations of tooth systems: order, stages, names, finish after hardening, sent-out work, table."""

from __future__ import annotations

from typing import Any

import pytest
from tooth_floor import (
    CHAMFER_MILL,
    DISC,
    HOB,
    MILL,
    PROBE,
    SKIVER,
    context,
    double_wheel,
    fact,
    fitted,
    only,
    operations,
    part,
    refusal,
    ring,
    shop,
    spur,
    teeth,
    tool,
    tried,
)

from sequencer.operations.operation import BENCH, Action, OperationList, Stage
from sequencer.operations.teeth import method_table, tooth_operations
from sequencer.operations.teeth.closing import apex_shift
from sequencer.part import Part

RIGHT = tool("H1", HOB)
LEFT = tool("H2", HOB, hand="left")
MILL_4 = tool("E4", MILL)
PROBES = (tool("P1", PROBE), tool("P2", PROBE, form="touch", ball_diameter="6 mm"))
CHAMFER = tool("C1", CHAMFER_MILL)
TURNING = [
    {
        "name": f"T{number}",
        "kind": "turning",
        "title": "turning tool",
        "use": ["outside", "face", "inside"],
        "stage": [stage],
        "corner_radius": "0.8 mm",
        "depth": "5 mm",
        "least_bore": "80 mm",
        "reach": "400 mm",
        "body_diameter": "70 mm",
        "functional_length": "180 mm",
        "overall_length": "260 mm",
        "mass": "6 kg",
    }
    for number, stage in ((1, "rough"), (2, "finish"))
]


def test_a_coarse_double_helical_gear_is_roughed_on_both_halves_before_either_is_finished() -> None:
    found = operations(double_wheel(), shop(RIGHT, LEFT, CHAMFER, *PROBES), "wheel", riser=200)
    cuts = [word for word, one in found.items() if one.action is Action.CUT_TEETH]
    assert cuts == ["rough_lower", "rough_upper", "finish_lower", "finish_upper"]
    assert list(found)[-3:] == ["apex_check", "deburr", "measure"]
    assert found["rough_lower"].heavy
    assert found["rough_lower"].stage is Stage.ROUGH
    assert found["finish_upper"].half == "upper"
    assert {one.hard for one in found.values()} == {None}


def test_the_quickest_way_stands_first() -> None:
    found = operations(double_wheel(), shop(RIGHT, LEFT, MILL_4), "wheel", riser=200)
    minutes = [way.minutes for way in found["finish_upper"].alternatives]
    assert minutes == sorted(minutes)
    assert found["finish_upper"].alternatives[0].tool == "H1"


def test_fine_teeth_are_cut_in_one_operation() -> None:
    floor = shop(tool("H6", HOB, module="6 mm", outside_diameter="125 mm"), *PROBES)
    found = operations(spur(shoulder=460), floor, "pinion")
    assert [word for word, one in found.items() if one.action is Action.CUT_TEETH] == ["finish"]
    assert not found["finish"].heavy


@pytest.mark.parametrize(("module", "cuts"), [("4 mm", 1), ("6 mm", 2)])
def test_the_number_of_hobbing_cuts_follows_the_module(module: str, cuts: int) -> None:
    """One cut up to mn 5, two up to mn 12 (common practice, no source)."""
    floor = shop(tool("H6", HOB, module=module, outside_diameter="110 mm"))
    found = operations(spur(module=module, shoulder=250), floor, "pinion")
    assert fact(only(found["finish"].alternatives), "number of cuts") == cuts


def test_the_tip_cylinder_is_turned_unless_a_feature_makes_it() -> None:
    made = double_wheel()
    assert "blank_finish" in operations(made, shop(RIGHT, *TURNING), "wheel", riser=200)
    cylinder = {
        "name": "cylinder",
        "kind": "turned_diameter",
        "diameter": "492 mm",
        "z_from": "125 mm",
        "z_to": "195 mm",
    }
    gear = {
        "name": "pinion",
        "kind": "external_gear",
        "teeth": 80,
        "module": "6 mm",
        "z_from": "125 mm",
        "z_to": "195 mm",
        "flank_class": {"year": 2013, "class": 8},
    }
    carried = part(cylinder, gear, height=195)
    assert not [word for word in operations(carried, shop(*TURNING), "pinion") if word.startswith("blank")]


def test_a_class_too_fine_is_cut_with_stock_and_ground_outside() -> None:
    """Class 4 is out of reach of every soft method: the teeth leave with 0.25 mm on a flank."""
    floor = shop(tool("H6", HOB, module="6 mm", outside_diameter="125 mm", quality="AAA"))
    found = operations(spur(shoulder=460, flank_class={"year": 2013, "class": 4}), floor, "pinion")
    cut, grind = only(found["finish"].alternatives), only(found["grind"].alternatives)
    assert fact(cut, "stock left on each flank") == 0.25
    assert grind.clamping == BENCH
    assert found["grind"].action is Action.SEND_OUT
    assert found["grind"].hard is None
    assert "no method here reaches ISO 1328-1:2013 class 4" in grind.reason


def test_a_case_hardened_gear_is_ground_when_no_cutter_stands_hard_flanks() -> None:
    made = spur(
        shoulder=460, material="18CrNiMo7-6", heat_treatment={"kind": "case hardening", "case_depth": "1 mm"}
    )
    soft = tool("S6", SKIVER, module="6 mm", helix_angle="20 deg", hand="right", material="HSS-PM")
    floor = shop(tool("H6", HOB, module="6 mm", outside_diameter="125 mm"), soft, *PROBES)
    found = operations(made, floor, "pinion")
    assert list(found)[-4:] == ["finish", "deburr", "grind", "measure"]
    assert [found[word].hard for word in ("finish", "deburr", "grind", "measure")] == [
        False,
        False,
        True,
        True,
    ]
    assert "hardened flanks need carbide or CBN" in found["grind"].rejected[0].sentence
    assert "leave 0.25 mm on each flank" in found["finish"].title


def test_a_case_hardened_gear_is_skived_hard_where_a_cutter_passes() -> None:
    made = spur(
        shoulder=460, material="18CrNiMo7-6", heat_treatment={"kind": "case hardening", "case_depth": "1 mm"}
    )
    hard = tool("S6", SKIVER, module="6 mm", helix_angle="20 deg", hand="right", material="CBN")
    floor = shop(tool("H6", HOB, module="6 mm", outside_diameter="125 mm"), hard, *PROBES)
    found = operations(made, floor, "pinion")
    way = only(found["hard"].alternatives)
    assert (way.tool, way.method) == ("S6", "power skiving")
    assert found["hard"].hard is True
    assert found["hard"].stage is Stage.HARD
    assert fact(way, "flank class reachable") == 5
    assert fact(way, "number of passes") == 15  # 0.25/sin(20) = 0.73 mm in steps of 0.05 mm
    assert "grind" not in found


def test_soft_flanks_stay_as_cut_when_the_drawing_says_so() -> None:
    made = spur(
        shoulder=460,
        hard_finish=False,
        material="18CrNiMo7-6",
        heat_treatment={"kind": "case hardening", "case_depth": "1 mm"},
    )
    floor = shop(tool("H6", HOB, module="6 mm", outside_diameter="125 mm"), *PROBES)
    found = operations(made, floor, "pinion")
    assert "grind" not in found
    assert "hard" not in found
    assert found["finish"].hard is False


def test_the_planner_can_send_teeth_out_for_shaping() -> None:
    found = operations(spur(method="shaping"), shop(MILL_4), "pinion")
    way = only(found["finish"].alternatives)
    assert (way.method, way.clamping) == ("shaping", BENCH)
    assert found["finish"].action is Action.SEND_OUT
    assert any("asks for shaping" in one.sentence for one in found["finish"].rejected)


def test_a_wish_for_grinding_keeps_the_soft_methods() -> None:
    floor = shop(tool("H6", HOB, module="6 mm", outside_diameter="125 mm"))
    found = operations(spur(shoulder=460, method="grinding"), floor, "pinion")
    assert only(found["finish"].alternatives).method == "hobbing"
    assert "the part file asks for it" in only(found["grind"].alternatives).reason


@pytest.mark.parametrize(
    ("made", "name", "method", "words"),
    [
        (spur(groove=25), "pinion", "shaping", "runs out in 7 mm, one end is open: it can be sent out"),
        (spur(), "pinion", "broaching", "A broach cuts inside teeth; these point outwards."),
        (ring(floor=380), "ring", "broaching", "A broach is pulled through; material beside"),
        (spur(), "pinion", "grinding", "reaches class 3 (common practice, no source)"),
    ],
)
def test_sent_out_methods_are_remarked(made: object, name: str, method: str, words: str) -> None:
    found = operations(made, shop(MILL_4), name)["finish"].rejected  # type: ignore[arg-type]
    assert any(words in one.sentence for one in found if one.method == method)


def test_a_closed_gap_cannot_be_shaped_either() -> None:
    """Between two halves 6 mm apart no shaper cutter for mn 8 runs out; the outer end is open, though."""
    found = operations(double_wheel(gap=6), shop(RIGHT, *PROBES), "wheel")
    shaping = next(one for one in found["finish_lower"].rejected if one.method == "shaping")
    assert "one end is open" in shaping.sentence


def test_deburring_comes_by_mill_or_by_hand() -> None:
    found = operations(spur(shoulder=460), shop(CHAMFER, *PROBES), "pinion")
    ways = {way.method: way for way in found["deburr"].alternatives}
    assert set(ways) == {"chamfering", "deburring by hand"}
    assert ways["chamfering"].minutes < ways["deburring by hand"].minutes


def test_a_chamfer_mill_needs_room_beside_the_teeth() -> None:
    found = operations(spur(groove=5), shop(CHAMFER, *PROBES), "pinion")
    assert "needs 9 mm beside the tooth ends, has 5 mm against rim" in found["deburr"].rejected[0].sentence


def test_a_fine_class_is_scanned_and_a_coarse_one_may_be_touched() -> None:
    fine = operations(spur(), shop(*PROBES), "pinion")["measure"]
    assert [way.tool for way in fine.alternatives] == ["P1"]
    assert "profile and helix form, which are scanned" in refusal_of(fine, "P2")
    coarse = operations(spur(flank_class={"year": 2013, "class": 9}), shop(*PROBES), "pinion")["measure"]
    assert {way.tool for way in coarse.alternatives} == {"P1", "P2"}
    assert fact(coarse.alternatives[0], "pitch, gaps measured") == 80
    assert fact(coarse.alternatives[0], "profile and helix, teeth traced") == 4


def refusal_of(operation: object, tool_name: str) -> str:
    """Give the sentence that rejects a tool in an operation."""
    return next(one.sentence for one in operation.rejected if one.tool == tool_name)  # type: ignore[attr-defined]


def test_a_ball_that_does_not_enter_the_gap_is_refused() -> None:
    small = spur(module="1.5 mm", teeth=200, shoulder=500)
    found = operations(small, shop(*PROBES), "pinion")["measure"]
    assert "The ball of P1 has 3 mm, the gap at mid-depth" in refusal_of(found, "P1")


def test_the_apex_is_checked_at_four_places_with_its_error() -> None:
    """R 300, 10 arcsec at 20 deg: 20 um (derived; also quoted as an example for double-helical gears)."""
    assert apex_shift(600, 10 / 3600, 20) == pytest.approx(0.020, abs=0.0005)
    way = operations(double_wheel(), shop(RIGHT, *PROBES), "wheel")["apex_check"].alternatives[0]
    assert fact(way, "places checked") == 4
    assert fact(way, "apex shift allowed") == 0.05
    assert fact(way, "apex shift by the angular error of the table") == pytest.approx(0.0295, abs=0.0005)


def test_short_spline_teeth_need_less_room_than_full_depth() -> None:
    """Spline mn 4 z 60 to DIN 5480, cutter d0 120: about 13 mm of run-out; full-depth teeth 17 to 19.

    First-order rule y sin(Sigma) + 2 with short teeth of 4 and full teeth of 9 mm.
    """
    cutter = tool(
        "S4",
        SKIVER,
        module="4 mm",
        teeth=28,
        helix_angle="20 deg",
        hand="left",
        pressure_angle="30 deg",
        outside_diameter="124 mm",
        neck_diameter="70 mm",
        neck_length="140 mm",
        holder_diameter="70 mm",
        made_for="internal",
        functional_length="300 mm",
        thickness="20 mm",
    )
    spline = {
        "name": "spline",
        "kind": "spline",
        "place": "inside",
        "standard": "DIN 5480",
        "teeth": 60,
        "module": "4 mm",
        "reference_diameter": "248 mm",
        "z_from": "120 mm",
        "z_to": "180 mm",
    }
    groove = {
        "name": "groove",
        "kind": "run_out_groove",
        "gear": "spline",
        "place": "inside",
        "z_from": "106 mm",
        "z_to": "120 mm",
        "diameter": "252 mm",
    }
    bore = {
        "name": "bore",
        "kind": "bore",
        "diameter": "238 mm",
        "z_from": "0 mm",
        "z_to": "106 mm",
    }
    made = part(bore, spline, groove, height=180)
    assert teeth(made, "spline").depth == pytest.approx(4.2, abs=0.3)
    way = only(tried(made, shop(cutter), "spline").alternatives)
    short = fact(way, "run-out needed below")
    assert 11 < short < 14
    full = {**cutter, "pressure_angle": "20 deg", "outside_diameter": "124 mm"}
    deep = ring(teeth=60, groove=14, floor=230)
    failed = refusal(tried(deep, shop(full), "ring"), "S4")
    assert 16 < fact(failed, "run-out needed below") < 21
    assert short < fact(failed, "run-out needed below") - 3


def test_a_bevel_gear_is_milled_and_its_taper_is_respected() -> None:
    made = bevel()
    found = operations(
        made, shop(tool("E3", MILL, diameter="3.1 mm", reach="15.5 mm"), CHAMFER, *PROBES), "bevel"
    )
    way = only(found["finish"].alternatives)
    assert way.method == "end-mill milling"
    assert fact(way, "head tilt") == pytest.approx(90 - 71.565, abs=0.01)  # z 60/20 at 90 deg
    assert [one.method for one in found["finish"].rejected if one.tool == ""][:2]
    wide = operations(made, shop(tool("E6", MILL, diameter="6 mm", reach="25 mm")), "bevel")["finish"]
    assert "at the root of the small end" in refusal_of(wide, "E6")


def test_hobs_and_skiving_cutters_cut_no_bevel_teeth() -> None:
    found = operations(bevel(), shop(RIGHT, MILL_4), "bevel")["finish"].rejected
    methods = {one.method: one.sentence for one in found if not one.tool}
    assert "taper towards the cone apex" in methods["hobbing"]
    assert "taper towards the cone apex" in methods["power skiving"]
    assert "can be sent out" in methods["bevel gear cutting machine"]


def bevel(rim: float = 360, hub_top: float = 130, **changes: Any) -> Part:
    """Make a straight bevel gear m 6, z 60 to 20, that looks up, on a body of a given diameter."""
    body = {
        "name": "body",
        "kind": "turned_diameter",
        "diameter": f"{rim} mm",
        "z_from": "0 mm",
        "z_to": "100 mm",
    }
    hub = {
        "name": "hub",
        "kind": "turned_diameter",
        "diameter": "200 mm",
        "z_from": "109.5 mm",
        "z_to": f"{hub_top} mm",
    }
    gear = {
        "name": "bevel",
        "kind": "bevel_gear",
        "apex": "upper",
        "teeth": 60,
        "module": "6 mm",
        "mate_teeth": 20,
        "face_width": "30 mm",
        "z_from": "100 mm",
        "z_to": "109.5 mm",
        "mounting_distance": "140 mm",
        "mounting_face": "lower_face",
    }
    return part(body, hub, gear | changes, height=hub_top, outside=420)


def test_a_rim_behind_a_bevel_gear_stands_in_the_way() -> None:
    mill = tool("E3", MILL, diameter="3.1 mm", reach="15.5 mm")
    found = operations(bevel(rim=400), shop(mill), "bevel")["finish"]
    assert "at the large end, has 0 mm against body, diameter 400 mm" in refusal_of(found, "E3")


def test_the_head_behind_a_bevel_mill_must_clear_the_body() -> None:
    """Square to the cone of 71.6 deg the axis stands steep; a wide holder hits a tall hub."""
    mill = tool("E3", MILL, diameter="3.1 mm", reach="15.5 mm", body_diameter="30 mm")
    way = only(operations(bevel(), shop(mill), "bevel")["finish"].alternatives)
    assert fact(way, "holder and head in the way") == 0
    assert fact(way, "flank class reachable") == 7
    assert next(one for one in way.facts if one.name == "flank class reachable").estimate
    wide = {**mill, "body_diameter": "160 mm"}
    assert only(operations(bevel(), shop(wide), "bevel")["finish"].alternatives).tool == "E3"
    failed = refusal_of(operations(bevel(hub_top=170), shop(wide), "bevel")["finish"], "E3")
    assert "of E3 would stand" in failed
    assert "mm in hub, diameter 200 mm with its axis square to the cone" in failed


def test_bevel_teeth_that_look_down_need_a_head_that_points_up() -> None:
    """The tilt is 90 + 71.6 deg, beyond every head of this shop."""
    mill = tool("E3", MILL, diameter="3.1 mm", reach="15.5 mm")
    found = operations(bevel(), shop(mill), "bevel", up="lower")["finish"]
    assert "The head would tilt to 161.6 deg" in refusal_of(found, "E3")


def test_a_disc_only_roughs_straight_bevel_teeth() -> None:
    """The gap of the small end decides: module 6 at the large end is 5.05 at the small one."""
    disc = tool("D6", DISC, module="6 mm")
    whole = operations(bevel(), shop(disc), "bevel")["finish"]
    assert "taper from module 6 to 5.05 mm: it can only rough them" in refusal_of(whole, "D6")
    spiral = bevel(form="spiral", spiral_angle="30 deg", hand="right")
    assert "these teeth are spiral" in refusal_of(operations(spiral, shop(disc), "bevel")["finish"], "D6")
    coarse = bevel(module="8 mm", teeth=45, mate_teeth=15)
    floor = shop(tool("D4", DISC, module="5.5 mm"), limits={"coarse_module": "8 mm"})
    rough = operations(coarse, floor, "bevel")["rough"]
    assert only(rough.alternatives).tool == "D4"
    assert fact(only(rough.alternatives), "head tilt") == 90
    assert fact(only(rough.alternatives), "spindle torque, rough") > 0


def test_the_method_table_holds_every_way_with_its_numbers() -> None:
    made, floor = double_wheel(), shop(RIGHT, LEFT, MILL_4)
    here = context(made, floor, fitted(made, riser=200))
    listed = OperationList(made, floor, here.clampings, tooth_operations(here, made.by_name["wheel"]))  # type: ignore[arg-type]
    table = method_table(listed, "wheel")
    passing = {(row.operation.split("/")[1], row.tool) for row in table.passing}
    assert ("finish_upper", "H1") in passing
    assert ("finish_upper", "H2") not in passing
    row = next(row for row in table.rows if row.operation.endswith("finish_upper") and row.tool == "H2")
    assert row.verdict == "fails"
    assert row.minutes is None
    assert row.needs is not None
    assert row.has == 90
    assert row.needs > row.has
    best = next(row for row in table.passing if row.operation.endswith("finish_upper"))
    assert best.flank_class == 7
    assert best.needs is not None
    assert best.has is not None
    assert best.needs <= best.has
    order = [row.verdict for row in table.rows]
    assert order == sorted(order, key=["passes", "outside", "fails"].index)


def test_the_same_part_and_shop_give_the_same_operations() -> None:
    made, floor = double_wheel(), shop(RIGHT, LEFT, MILL_4, CHAMFER, *PROBES)
    assert operations(made, floor, "wheel") == operations(made, floor, "wheel")
