"""Rules on stages, blanks and datums: each with a part that wakes it and one that does not.

Strength and content of the rules: common practice, no source, unless the register names one.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from gear_shop_floor import (
    changed,
    clamping,
    demands,
    face,
    gear,
    graph_of,
    holes,
    in_short,
    listed,
    op,
    part,
    spoken,
    usual_operations,
    wheel,
    without,
    zone,
)

from sequencer.operations import BENCH, Action, Stage
from sequencer.part import Part

STEPPED = part(
    face("lower_face", "lower", 0),
    face("upper_face", "upper", 160),
    zone("bore", "bore", 0, 160, 90, tolerance="H7"),
    gear("wheel", 0, 60, 80, 6, datums=["A"]),
    zone("hub", "turned_diameter", 60, 100, 300),
    gear("pinion", 100, 160, 40, 5, datums=["A"]),
    datums={"A": "bore"},
)


def test_roughing_comes_before_finishing_of_a_feature() -> None:
    said = demands(spoken("R0", listed(wheel())))
    assert "bore/rough > bore/finish" in said
    assert "teeth/rough > teeth/finish" in said
    assert "teeth/blank_rough > teeth/blank_finish" in said


def test_halves_of_a_gear_have_stages_of_their_own(double_wheel: Part) -> None:
    said = demands(spoken("R0", listed(double_wheel)))
    assert "wheel/rough_lower > wheel/finish_lower" in said
    assert "wheel/rough_lower > wheel/finish_upper" not in said


def test_the_blank_is_received_before_anything_else() -> None:
    said = demands(spoken("R0", listed(wheel())))
    assert {"I: part/receive > all", "II: part/receive > all", "part/receive > part/inspect"} <= said


def test_a_feature_with_one_stage_has_no_arrow_of_stages() -> None:
    made = wheel()
    operations = without(usual_operations(made), "bore/rough")
    assert not any("bore" in each for each in demands(spoken("R0", listed(made, operations))))


def test_holes_wait_for_the_first_cut_of_their_face() -> None:
    made = wheel(holes("bolts", "upper_face", 200, 14))
    assert "upper_face/rough > bolts/drill" in demands(spoken("R0", listed(made)))


def test_holes_wait_for_their_face_only_where_it_is_in_reach() -> None:
    """Holes that can be drilled in I or II wait for a face of II only if they are drilled in II."""
    made = wheel(holes("bolts", "upper_face", 200, 14))
    both = listed(made, usual_operations(made, {"bolts": "I II"}))
    said = demands(spoken("R0", both))
    assert "II: upper_face/rough > bolts/drill" in said
    assert "upper_face/rough > bolts/drill" not in said


def test_a_groove_waits_for_the_cylinder_it_lies_in() -> None:
    made = wheel(
        zone("hub", "turned_diameter", 100, 140, 300),
        zone("seal", "groove", 110, 120, 290),
    )
    assert "hub/rough > seal/rough" in demands(spoken("R0", listed(made)))


def test_a_chamfer_is_measured_from_the_finished_cylinder() -> None:
    made = wheel({"name": "edge", "kind": "chamfer", "on": "bore", "edge": "upper", "size": "2 mm"})
    assert "bore/finish > edge/finish" in demands(spoken("R0", listed(made)))
    apart = listed(made, usual_operations(made, {"edge": "I"}))
    assert not any("edge" in each for each in demands(spoken("R0", apart)))


def test_a_chamfer_does_not_hold_its_bore_in_its_own_clamping() -> None:
    """The edge is reached only in I, the bore also in II: it comes second only if both are done in I."""
    made = wheel({"name": "edge", "kind": "chamfer", "on": "bore", "edge": "lower", "size": "2 mm"})
    said = demands(spoken("R0", listed(made, usual_operations(made, {"edge": "I", "bore": "I II"}))))
    assert "I: bore/finish > edge/finish" in said
    assert "bore/finish > edge/finish" not in said
    other = demands(spoken("R0", listed(made, usual_operations(made, {"edge": "I II", "bore": "II"}))))
    assert "II: bore/finish > edge/finish" in other


def test_a_marking_waits_for_its_finished_surface() -> None:
    made = wheel({"name": "mark", "kind": "marking", "on": "upper_face", "text": "T-1"})
    assert "upper_face/finish > mark/engrave" in demands(spoken("R0", listed(made)))


def test_teeth_are_roughed_on_a_turned_blank_and_finished_on_a_finished_one() -> None:
    said = demands(spoken("R1", listed(wheel())))
    assert "teeth/blank_rough > teeth/rough" in said
    assert "teeth/blank_finish > teeth/finish" in said
    assert "upper_face/finish > teeth/finish" in said


def test_the_tip_cylinder_is_finished_in_the_clamping_of_the_teeth() -> None:
    """Tip in I or II, teeth in II: II; with the tip in I alone nothing is asked."""
    made = wheel()
    both = demands(spoken("R1", listed(made, usual_operations(made, {"teeth/blank_finish": "I II"}))))
    assert "teeth/blank_finish ~ teeth/finish" in both
    apart = demands(spoken("R1", listed(made, usual_operations(made, {"teeth/blank_finish": "I"}))))
    assert "teeth/blank_finish ~ teeth/finish" not in apart


def test_a_face_out_of_reach_does_not_hold_up_teeth() -> None:
    """The lower face is made in I, the teeth in II: only the face in reach counts."""
    assert not any("lower_face" in each for each in demands(spoken("R1", listed(wheel()))))


def test_a_carrier_stands_for_the_tip_cylinder() -> None:
    made = wheel(
        zone("rim", "turned_diameter", 100, 150, 300),
        gear("small", 110, 150, 58, 5, on="rim"),
    )
    said = demands(spoken("R1", listed(made)))
    assert {"rim/rough > small/rough", "rim/finish > small/finish"} <= said


def test_teeth_without_a_turned_blank_are_reported() -> None:
    made = wheel()
    bare = without(usual_operations(made), "teeth/blank_rough", "teeth/blank_finish")
    findings = spoken("R1", listed(made, bare)).findings
    assert [f"{f.where}: {f.what}" for f in findings] == ["teeth: no operation turns its tip cylinder"]
    assert not spoken("R1", listed(made)).findings


def test_internal_teeth_are_left_to_their_own_rule() -> None:
    made = part(
        face("lower_face", "lower", 0),
        zone("ring", "bore", 0, 100, 400),
        gear("teeth", 0, 100, 80, 5, on="ring") | {"kind": "internal_gear"},
    )
    assert not demands(spoken("R1", listed(made)))


def test_a_close_feature_follows_its_finished_datum() -> None:
    made = wheel(
        holes(
            "bolts",
            "upper_face",
            200,
            14,
            datums=["A"],
            geometric=[{"characteristic": "position", "value": "0.1 mm", "to": ["A"]}],
        )
    )
    said = demands(spoken("R2", listed(made)))
    assert {"bore/finish > bolts/drill", "bore/finish > teeth/finish"} <= said


def test_a_loose_feature_follows_its_trued_datum_and_wishes_for_its_finish() -> None:
    made = wheel(holes("bolts", "upper_face", 200, 14, datums=["A"]))
    said = demands(spoken("R2", listed(made)))
    assert {"bore/rough > bolts/drill", "bore/finish > bolts/drill?"} <= said
    assert "bore/finish > bolts/drill" not in said


def test_datums_that_refer_to_each_other_leave_a_wish() -> None:
    made = part(
        face(
            "seat",
            "lower",
            0,
            geometric=[{"characteristic": "perpendicularity", "value": "0.02 mm", "to": ["A"]}],
        ),
        zone("bore", "bore", 0, 100, 90, tolerance="H7"),
        datums={"A": "bore", "B": "seat"},
    )
    assert demands(spoken("R2", listed(made))) == {"bore/finish > seat/finish?"}


def test_a_feature_without_references_has_no_datum_arrow() -> None:
    made = wheel(zone("hub", "turned_diameter", 100, 130, 200))
    assert not any("hub" in each for each in demands(spoken("R2", listed(made))))


def test_a_datum_may_be_a_gear() -> None:
    made = wheel(
        holes("bolts", "upper_face", 200, 14, datums=["C"], phase={"to": "teeth", "tolerance": "0.1 mm"}),
        datums={"A": "bore", "B": "lower_face", "C": "teeth"},
    )
    assert "teeth/finish > bolts/drill" in demands(spoken("R2", listed(made)))


def test_datums_in_a_ring_are_a_loop_in_words() -> None:
    """Two close features that are located from each other: no order exists, and both reasons are named."""
    from sequencer.errors import NoPlan

    made = part(
        zone("one", "bore", 0, 50, 90, tolerance="H7", datums=["two"]),
        zone("two", "bore", 50, 100, 80, tolerance="H7", datums=["one"]),
    )
    with pytest.raises(NoPlan, match="one/finish -> two/finish -> one/finish is a loop") as caught:
        graph_of(made)
    assert len(caught.value.conflicts) == 2
    assert all("R2: the place of" in line for line in caught.value.conflicts)


def test_a_datum_made_only_in_a_later_clamping_becomes_a_warning() -> None:
    """Teeth in I are located from a face of II, and II stands on what I makes: the part cannot go round."""
    made = part(
        face("seat", "upper", 100),
        face("far", "lower", 0),
        gear("teeth", 0, 100, 80, 6, datums=["B"]),
        datums={"B": "far"},
        clampings=[
            {"name": "I", "up": "upper", "hold": "outside jaws", "on": "blank", "rests_on": "blank",
             "z_from": "-3 mm", "z_to": "-1 mm"},
            {"name": "II", "up": "lower", "hold": "face plate", "on": "seat", "rests_on": "seat"},
        ],
    )  # fmt: skip
    graph = graph_of(made, usual_operations(made, {"seat": "I", "far": "II", "teeth": "I"}))
    assert "far/finish > teeth/finish" not in {in_short(each) for each in graph.dependencies}
    found = [f for f in graph.findings if f.subject == "rule R2"]
    assert len(found) == 1
    assert "far is made later" in found[0].what
    assert "teeth/finish before far/rough (R39)" in found[0].limit


def test_datum_bore_and_teeth_share_a_clamping_on_the_datum_face() -> None:
    """The lower face is the seat of II: it must come first, so the bore belongs to the teeth."""
    result = spoken("R3", listed(wheel(), usual_operations(wheel(), {"bore": "I II"})))
    assert demands(result) == {"bore/finish ~ teeth/finish"}
    assert "lower_face is the seat of clamping II" in result.findings[0].what


def test_datum_bore_and_datum_face_share_a_clamping() -> None:
    made = wheel(datums={"A": "bore", "B": "upper_face"})
    assert demands(spoken("R3", listed(made))) == {
        "bore/finish ~ upper_face/finish",
        "bore/finish ~ teeth/finish",
    }


def test_a_bore_out_of_reach_of_the_teeth_becomes_a_warning_with_numbers() -> None:
    """Source: F_r = 2 e and F_p = 2 e / cos(alpha), handbook relations, from memory; e = 10 um."""
    made = wheel()
    graph = graph_of(made, usual_operations(made, {"bore": "I"}))
    assert "bore/finish ~ lower_face/finish" in {in_short(each) for each in graph.dependencies}
    found = [f for f in graph.findings if f.subject == "rule R3"]
    assert "10 um of eccentricity come about 20 um of runout and 21 um of total pitch" in found[0].what


def test_a_gear_without_datums_binds_nothing() -> None:
    made = part(face("lower_face", "lower", 0), gear("teeth", 0, 100, 80, 6))
    assert not demands(spoken("R3", listed(made)))


@pytest.mark.parametrize(
    ("tolerance", "bound"), [("0.03 mm", True), ("0.2 mm", False)], ids=["close", "wide"]
)
def test_gears_with_a_close_mutual_runout_share_a_clamping(tolerance: str, bound: bool) -> None:
    """Re-clamping leaves 2 x 10 um; a tolerance below three times that does not hold across clampings."""
    made = wheel(
        gear(
            "pinion",
            100,
            140,
            40,
            5,
            geometric=[{"characteristic": "runout", "value": tolerance, "to": ["teeth"]}],
        )
    )
    result = spoken("R4", listed(made))
    assert ("pinion/finish ~ teeth/finish" in demands(result)) is bound
    assert bool(result.findings) is not bound


def test_gears_with_an_angular_relation_share_a_zero() -> None:
    made = wheel(gear("pinion", 100, 140, 40, 5, phase={"to": "teeth", "tolerance": "0.02 mm"}))
    assert demands(spoken("R4", listed(made))) == {"pinion/finish = teeth/finish"}
    assert not demands(spoken("R4", listed(wheel())))


def test_teeth_in_a_later_clamping_are_indicated_first() -> None:
    made = wheel()
    operations = listed(made, usual_operations(made, {"bore": "I"}))
    assert demands(spoken("R5", operations)) == {"II: II/indicate > teeth/finish"}


def test_a_band_made_with_the_bore_shows_its_axis_where_the_bore_is_hidden() -> None:
    made = wheel(zone("band", "turned_diameter", 100, 120, 200))
    operations = usual_operations(made, {"bore": "I", "band": "I"})
    result = spoken("R5", listed(made, operations, hidden="II/bore"))
    assert "bore/finish ~ band/finish" in demands(result)
    assert not result.findings


def test_teeth_without_any_proof_surface_are_reported() -> None:
    made = wheel()
    operations = usual_operations(made, {"bore": "I"})
    hidden = "II/bore II/upper_face II/lower_face"
    findings = spoken("R5", listed(made, operations, hidden=hidden)).findings
    assert "neither bore nor a surface made together with it can be indicated" in findings[0].what


def test_teeth_bound_to_their_bore_need_no_proof_surface() -> None:
    assert not demands(spoken("R5", listed(wheel()), "R3"))


def test_a_turned_tip_chamfer_is_wished_before_the_teeth() -> None:
    made = wheel({"name": "edge", "kind": "chamfer", "on": "teeth", "edge": "upper", "size": "2 mm"})
    assert demands(spoken("R34", listed(made))) == {"edge/finish > teeth/rough?"}
    other = wheel({"name": "edge", "kind": "chamfer", "on": "bore", "edge": "upper", "size": "2 mm"})
    assert not demands(spoken("R34", listed(other)))


def test_a_wish_that_the_clampings_cannot_keep_is_noted_and_left_out() -> None:
    """The face of II would be turned before a hole of I: the part would go back to I."""
    made = wheel(holes("bolts", "upper_face", 200, 14))
    graph = graph_of(made, usual_operations(made, {"bolts": "I"}))
    assert "upper_face/finish > bolts/drill?" not in {in_short(each) for each in graph.dependencies}
    found = [f.what for f in graph.findings if f.subject == "rule R22"]
    assert found == ["a should of R22 cannot be kept: upper_face/finish before bolts/drill"]


def test_holes_from_the_other_side_still_interrupt_their_face() -> None:
    """Drilled in I or II, holes are wished after the face of II: turning over them interrupts the cut."""
    made = wheel(holes("bolts", "upper_face", 200, 14))
    graph = graph_of(made, usual_operations(made, {"bolts": "I II"}))
    assert "upper_face/finish > bolts/drill?" in {in_short(each) for each in graph.dependencies}


def test_both_gears_of_a_stepped_part_follow_the_bore() -> None:
    said = demands(spoken("R2", listed(STEPPED)))
    assert {"bore/finish > wheel/finish", "bore/finish > pinion/finish"} <= said


def test_bench_work_follows_receiving() -> None:
    made = wheel()
    sent = op("teeth/coat", Action.SEND_OUT, Stage.FINISH, BENCH)
    operations = [*usual_operations(made), sent]
    assert "part/receive > teeth/coat" in demands(spoken("R0", listed(made, operations)))


def test_changed_finds_its_operation() -> None:
    """The builder of these tests refuses a wrong name, so that no test passes by a slip."""
    with pytest.raises(AssertionError, match="no operation bore/hone"):
        changed(usual_operations(wheel()), "bore/hone", heavy=True)


def test_a_shoulder_face_waits_for_what_stands_over_it() -> None:
    """The web face at 60 mm lies under the stock of the hub until that is roughed."""
    web = face("web", "upper", 60)
    made = part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 160),
        zone("rim", "turned_diameter", 0, 60, 400),
        zone("relief", "groove", 60, 70, 290),
        zone("hub", "turned_diameter", 70, 160, 300),
        web,
    )
    said = demands(spoken("R0", listed(made)))
    assert "hub/rough > web/rough" in said
    assert not any(each.endswith("> upper_face/rough") for each in said)


def test_a_groove_waits_for_what_lies_on_both_its_sides(double_wheel: Part) -> None:
    said = demands(spoken("R0", listed(double_wheel)))
    assert "wheel/blank_rough > gap/rough" in said


def test_a_groove_is_not_cut_where_its_neighbour_still_carries_stock(double_wheel: Part) -> None:
    """The gap could be cut in I, but the wheel around it is turned only in II."""
    graph = graph_of(double_wheel, usual_operations(double_wheel, {"gap": "I II"}))
    assert graph.leads("wheel/blank_rough", "gap/rough")
    apart = graph_of(double_wheel, usual_operations(double_wheel, {"gap": "I"}))
    assert not apart.leads("wheel/blank_rough", "gap/rough")
    assert any("cuts deeper and longer than reckoned" in f.what for f in apart.findings)


def test_the_way_down_to_an_inside_groove_is_opened_first() -> None:
    """From above the tool passes the entry, from below the long bore."""
    made = part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 200),
        zone("long", "bore", 0, 120, 160),
        zone("relief", "run_out_groove", 120, 130, 200, gear="teeth", place="inside"),
        gear("teeth", 130, 170, 60, 3) | {"kind": "internal_gear"},
        zone("entry", "bore", 170, 200, 190),
    )
    said = demands(spoken("R0", listed(made, usual_operations(made, {"relief": "I II"}))))
    assert "II: entry/rough > relief/rough" in said
    assert "I: entry/rough > relief/rough" not in said
    assert "long/rough > relief/rough" in said or "II: long/rough > relief/rough" in said


def test_clampings_that_hold_alike_are_used_in_the_order_of_the_part_file() -> None:
    plate = {"hold": "face plate", "on": "lower_face", "rests_on": "lower_face", "z_from": None, "z_to": None}
    twice = [clamping("I", "lower"), clamping("II", "upper", **plate), clamping("III", "upper", **plate)]
    made = wheel(clampings=twice)
    assert "III: II/wash > all" in demands(
        spoken("R0", listed(made, usual_operations(made, steps="II/wash")))
    )
    riser = [*twice[:2], twice[2] | {"riser": "50 mm"}]
    other = wheel(clampings=riser)
    assert not [
        each
        for each in demands(spoken("R0", listed(other, usual_operations(other, steps="II/wash"))))
        if each.startswith("III: II/")
    ]


def test_a_solid_blank_is_drilled_open_before_anything_is_cut_inside_it() -> None:
    """With a raw bore there is nothing to wait for."""
    more = zone("upper_bore", "bore", 60, 100, 120)
    blank = {"form": "bar", "diameter": "700 mm", "z_from": "-3 mm", "z_to": "103 mm"}
    for raw, waits in (({}, True), ({"bore": "40 mm"}, False)):
        made = wheel(more, blank={**blank, **raw})
        drill = op("bore/drill", Action.DRILL, Stage.PREPARE)
        said = demands(spoken("R0", listed(made, [*usual_operations(made), drill])))
        assert ("bore/drill > upper_bore/rough" in said) is waits
