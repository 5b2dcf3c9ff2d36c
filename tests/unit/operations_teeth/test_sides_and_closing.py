"""Side of hardening on which teeth are cut and ground; measuring and deburring where no tool does it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from tooth_floor import (
    HOB,
    MILL,
    PROBE,
    context,
    double_wheel,
    fitted,
    only,
    operations,
    part,
    shop,
    spur,
    tool,
)

from sequencer.operations.operation import BENCH, Action, Operation
from sequencer.operations.teeth import tooth_operations
from sequencer.part import Part

HOB_6 = tool("H6", HOB, module="6 mm", outside_diameter="125 mm")
SCANNING, TOUCH = tool("P1", PROBE), tool("P2", PROBE, form="touch", ball_diameter="6 mm")
FINE = {"year": 2013, "class": 4}


def _treated(kind: str, **changes: Any) -> Part:
    treatment = {"kind": kind, "case_depth": "1 mm"} if kind != "stress relief" else {"kind": kind}
    return spur(shoulder=460, flank_class=FINE, heat_treatment=treatment, **changes)


@pytest.mark.parametrize(
    ("kind", "cut", "ground"),
    [
        ("nitriding", False, False),
        ("induction hardening", False, True),
        ("case hardening", False, True),
        ("stress relief", None, None),
    ],
)
def test_teeth_are_ground_on_the_right_side_of_hardening(
    kind: str, cut: bool | None, ground: bool | None
) -> None:
    """Thick layers are ground, a nitrided one is too thin: the flanks are ground before (common practice)."""
    found = operations(_treated(kind), shop(HOB_6, SCANNING), "pinion")
    assert list(found)[-4:] == ["finish", "deburr", "grind", "measure"]
    assert [found[word].hard for word in ("finish", "deburr", "grind")] == [cut, cut, ground]
    assert found["measure"].hard is (True if ground else None)


def test_a_wish_for_hard_finish_grinds_after_nitriding() -> None:
    found = operations(_treated("nitriding", hard_finish=True), shop(HOB_6, SCANNING), "pinion")
    assert found["grind"].hard is True
    assert "finished after hardening" in only(found["grind"].alternatives).reason


def test_what_is_sent_out_counts_as_a_cut() -> None:
    found = operations(_treated("nitriding"), shop(HOB_6, SCANNING), "pinion")
    assert found["grind"].cuts
    assert found["finish"].cuts
    assert not found["measure"].cuts


def test_ground_teeth_may_be_measured_when_they_come_back() -> None:
    found = operations(_treated("nitriding"), shop(HOB_6, SCANNING), "pinion")["measure"]
    assert {(way.method, way.clamping) for way in found.alternatives} == {
        ("measuring", "II"),
        ("incoming check", BENCH),
    }


def test_a_ball_that_is_too_large_leaves_pins_by_hand_with_a_warning() -> None:
    small = spur(module="1.5 mm", teeth=200, shoulder=500)
    found = operations(small, shop(SCANNING), "pinion")["measure"]
    way = only(found.alternatives)
    assert (way.method, way.tool, way.clamping) == ("over pins by hand", "", "II")
    assert "No probe of the shop measures these teeth in place: size over pins or balls by hand" in way.reason
    assert (
        "Warning: it says nothing about pitch, profile and helix, which ISO 1328-1:2013 class 7 asks for"
        in way.reason
    )
    assert "The ball of P1 has 3 mm" in found.rejected[0].sentence


def test_a_touch_probe_against_a_fine_class_leaves_pins_by_hand() -> None:
    found = operations(spur(), shop(TOUCH), "pinion")["measure"]
    assert only(found.alternatives).method == "over pins by hand"
    assert "which are scanned" in found.rejected[0].sentence


def test_an_apex_is_checked_by_hand_where_no_ball_goes_in() -> None:
    made = double_wheel(
        module="1.5 mm", teeth=104, lower={"z_from": "0 mm", "z_to": "120 mm", "hand": "left"}
    )
    way = only(operations(made, shop(TOUCH), "wheel")["apex_check"].alternatives)
    assert (way.method, way.clamping) == ("ball and indicator by hand", "II")
    assert way.minutes == 12
    assert "Warning: coarser than a probe" in way.reason


def _out_of_reach(made: Part, name: str) -> dict[str, Operation]:
    held = fitted(made)
    away = replace(held, reach=tuple(replace(one, reachable=False, reason="hidden") for one in held.reach))
    listed = tooth_operations(context(made, shop(HOB_6, SCANNING), away), made.by_name[name])  # type: ignore[arg-type]
    return {one.name.split("/")[1]: one for one in listed}


def test_teeth_out_of_reach_are_measured_and_deburred_on_the_bench() -> None:
    found = _out_of_reach(spur(), "pinion")
    deburr, measure = only(found["deburr"].alternatives), only(found["measure"].alternatives)
    assert (deburr.method, deburr.clamping) == ("deburring by hand", BENCH)
    assert "no clamping reaches these teeth" in deburr.reason
    assert (measure.method, measure.clamping) == ("over pins by hand", BENCH)
    apex = only(_out_of_reach(double_wheel(), "wheel")["apex_check"].alternatives)
    assert (apex.method, apex.clamping) == ("ball and indicator by hand", BENCH)


def test_teeth_shaped_outside_may_be_deburred_and_measured_on_the_bench() -> None:
    found = operations(spur(method="shaping"), shop(SCANNING), "pinion")
    deburr = [way for way in found["deburr"].alternatives if way.clamping == BENCH]
    measure = [way for way in found["measure"].alternatives if way.clamping == BENCH]
    assert "shaping is done outside" in only(tuple(deburr)).reason
    assert only(tuple(measure)).method == "incoming check"


def _bevel(**changes: Any) -> Part:
    gear = {
        "name": "bevel", "kind": "bevel_gear", "form": "straight", "apex": "upper", "teeth": 50,
        "module": "8 mm", "mate_teeth": 25, "face_width": "40 mm", "z_from": "61 mm", "z_to": "95 mm",
        "mounting_distance": "170 mm", "mounting_face": "lower_face",
    }  # fmt: skip
    body = (
        {"name": "rim", "kind": "turned_diameter", "diameter": "360 mm", "z_from": "0 mm", "z_to": "61 mm"},
        {"name": "top", "kind": "turned_diameter", "diameter": "200 mm", "z_from": "95 mm", "z_to": "100 mm"},
    )
    return part(*body, gear | changes, height=100, outside=420)


def test_bevel_teeth_that_nothing_roughs_with_stock_are_cut_in_one_operation() -> None:
    """A mill that passes the gap at the small end, but not once 0.3 mm stay on each flank."""
    mill = tool("E5", MILL, diameter="4.2 mm", reach="20.5 mm")
    found = operations(_bevel(), shop(mill, SCANNING), "bevel")
    assert [word for word, one in found.items() if one.action is Action.CUT_TEETH] == ["finish"]
    way = only(found["finish"].alternatives)
    assert way.reason.endswith("Roughed and finished in one operation: nothing roughs apart.")
    assert any(
        one.sentence.startswith("For roughing with its stock: End mill E5 has diameter 4.2 mm, the gap takes")
        for one in found["finish"].rejected
    )


def test_bevel_teeth_that_a_slender_mill_roughs_stay_in_two_operations() -> None:
    mill = tool("E4", MILL, diameter="3.5 mm", reach="20.5 mm")
    found = operations(_bevel(), shop(mill, SCANNING, limits={"end_mill_slenderness": 7}), "bevel")
    assert [word for word, one in found.items() if one.action is Action.CUT_TEETH] == ["rough", "finish"]
    assert [len(found[word].alternatives) for word in ("rough", "finish")] == [1, 1]


def test_coarse_teeth_that_nothing_roughs_with_stock_are_cut_in_one_operation() -> None:
    """Mn 8, coarse from mn 7: the mill fits the finished gap only."""
    made = spur(module="8 mm", teeth=60, shoulder=400)
    mill = tool("E5", MILL, diameter="6 mm", reach="24 mm")
    found = operations(made, shop(mill, SCANNING, limits={"coarse_module": "7 mm"}), "pinion")
    assert [word for word, one in found.items() if one.action is Action.CUT_TEETH] == ["finish"]
    assert "nothing roughs apart" in only(found["finish"].alternatives).reason


@pytest.mark.parametrize(("kind", "side"), [("nitriding", False), ("induction hardening", True)])
def test_bevel_teeth_are_ground_on_the_right_side_too(kind: str, side: bool) -> None:
    made = _bevel(method="grinding")
    treated = made.model_copy(update={"heat_treatment": _treated(kind).heat_treatment})
    found = operations(treated, shop(tool("E4", MILL, diameter="4.5 mm", reach="22 mm"), SCANNING), "bevel")
    assert found["grind"].hard is side
    assert found["finish"].hard is False
    assert found["deburr"].hard is False


def test_bevel_teeth_may_be_shaped_outside() -> None:
    found = operations(_bevel(method="shaping"), shop(SCANNING), "bevel")
    assert found["finish"].action is Action.SEND_OUT
    assert only(found["finish"].alternatives).clamping == BENCH
    assert BENCH in found["deburr"].clampings
    assert BENCH in found["measure"].clampings
