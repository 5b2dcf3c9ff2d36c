"""Rules on holes, threads, keyways, internal and bevel teeth."""

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
    internal,
    listed,
    part,
    spoken,
    usual_operations,
    wheel,
    zone,
)

from sequencer.part import Part

THREAD = {"thread_pitch": "2.5 mm"}


def keyway(name: str, on: str, **keys: object) -> dict[str, object]:
    """Describe a keyway from 0 to 100 mm."""
    ends = {"z_from": "0 mm", "z_to": "100 mm", "width": "20 mm", "depth": "6 mm"}
    return {"name": name, "kind": "keyway", "on": on} | ends | keys


def radial(name: str, on: str, z: float, diameter: float, **keys: object) -> dict[str, object]:
    """Describe four radial holes."""
    return {
        "name": name, "kind": "bolt_circle", "direction": "radial", "on": on, "z": f"{z} mm", "count": 4,
        "diameter": f"{diameter} mm",
    } | keys  # fmt: skip


def test_drill_counterbore_and_thread_follow_each_other() -> None:
    sunk = {"counterbore": {"diameter": "30 mm", "depth": "10 mm"}}
    made = wheel(holes("bolts", "upper_face", 200, 20, **THREAD, **sunk))
    assert demands(spoken("R20", listed(made))) == {
        "bolts/drill > bolts/counterbore",
        "bolts/drill > bolts/tap",
        "bolts/counterbore > bolts/tap",
        "upper_face/finish > bolts/tap",
    }


def test_a_plain_hole_is_only_drilled() -> None:
    assert not demands(spoken("R20", listed(wheel(holes("bolts", "upper_face", 200, 20)))))


def test_reaming_follows_drilling() -> None:
    made = wheel(holes("dowels", "upper_face", 200, 12, ream="H7"))
    assert "dowels/drill > dowels/ream" in demands(spoken("R20", listed(made)))


def test_a_turned_thread_follows_its_cylinder_its_chamfer_and_its_groove() -> None:
    made = wheel(
        zone("neck", "turned_diameter", 100, 160, 200),
        zone("relief", "groove", 100, 106, 190),
        zone("thread", "thread", 106, 160, 200, pitch="2 mm"),
        {"name": "edge", "kind": "chamfer", "on": "thread", "edge": "upper", "size": "2 mm"},
    )
    said = demands(spoken("R20", listed(made)))
    assert {
        "neck/finish > thread/finish",
        "relief/finish > thread/finish",
        "edge/finish > thread/finish",
    } <= said


def test_a_thread_and_its_relief_groove_make_no_loop() -> None:
    """The groove waits for the turned neck, not for the thread that ends in it."""
    made = wheel(
        zone("neck", "turned_diameter", 100, 160, 200),
        zone("relief", "groove", 110, 116, 190),
        zone("thread", "thread", 116, 160, 200, pitch="2 mm", on="neck"),
        {"name": "edge", "kind": "chamfer", "on": "thread", "edge": "upper", "size": "2 mm"},
        face("top", "upper", 160),
    )
    graph = graph_of(made)
    assert graph.leads("neck/rough", "relief/rough")
    assert graph.leads("relief/finish", "thread/finish")
    assert graph.leads("neck/rough", "edge/finish")
    assert graph.leads("edge/finish", "thread/finish")


def test_the_face_is_finished_before_drilling_where_both_are_in_reach() -> None:
    made = wheel(holes("bolts", "upper_face", 200, 20))
    assert "upper_face/finish > bolts/drill?" in demands(spoken("R21", listed(made)))
    apart = usual_operations(made, {"bolts": "I II"})
    assert "upper_face/finish > bolts/drill?" not in demands(spoken("R21", listed(made, apart)))


def test_a_face_is_roughed_before_the_bores_under_it() -> None:
    assert "upper_face/rough > bore/rough?" in demands(spoken("R21", listed(wheel())))
    below = listed(wheel(), usual_operations(wheel(), {"bore": "I"}))
    assert demands(spoken("R21", below)) == {"lower_face/rough > bore/rough?"}


def test_a_bore_of_either_clamping_waits_for_the_face_of_the_one_that_comes_first() -> None:
    """II rests on the lower face (R40), so I is visited before it."""
    either = listed(wheel(), usual_operations(wheel(), {"bore": "I II"}))
    assert demands(spoken("R21", either, "R40")) == {"lower_face/rough > bore/rough?"}
    assert not demands(spoken("R21", either))


def test_a_groove_is_finished_after_its_surface() -> None:
    seal = {
        "name": "seal", "kind": "face_groove", "side": "upper", "on": "upper_face", "depth": "3 mm",
        "outer_diameter": "200 mm", "inner_diameter": "190 mm",
    }  # fmt: skip
    assert demands(spoken("R22", listed(wheel(seal)))) == {"upper_face/finish > seal/finish?"}
    ring = wheel(zone("ring", "groove", 40, 50, 100, place="inside"))
    assert demands(spoken("R22", listed(ring))) == {"bore/finish > ring/finish?"}


def test_a_run_out_groove_need_not_wait_for_its_surface() -> None:
    """It is needed before the teeth, which may be roughed before close surfaces are finished."""
    made = wheel(zone("ring", "run_out_groove", 40, 50, 100, place="inside", gear="teeth"))
    assert not demands(spoken("R22", listed(made)))


def test_lifting_holes_need_not_wait_for_their_face() -> None:
    made = wheel(holes("lift", "upper_face", 200, 20, use="lifting"))
    assert "upper_face/finish > lift/drill?" not in demands(spoken("R21", listed(made)))
    assert not demands(spoken("R22", listed(made)))


def test_a_keyway_comes_after_turning_its_bore() -> None:
    made = wheel(keyway("key", "bore"))
    assert demands(spoken("R22", listed(made))) == {"bore/finish > key/finish?"}
    assert not demands(spoken("R22", listed(wheel())))


def test_holes_that_open_a_clamping_come_before_their_surface_is_finished_there() -> None:
    """The raw upper face carries lifting threads made in I; it is finished in II, over the open holes."""
    made = wheel(
        holes("bolts", "upper_face", 300, 20, use="clamping"),
        clampings=[
            clamping("I", "lower"),
            clamping("II", "upper", hold="bolts", on="bolts", rests_on="lower_face", z_from=None, z_to=None),
        ],
    )
    operations = listed(made, usual_operations(made, {"bolts": "I"}))
    result = spoken("R23", operations, "R39")
    assert demands(result) == {"bolts/drill > upper_face/finish"}
    assert "turns over the open holes of bolts" in result.findings[0].what


def test_holes_made_in_the_clamping_of_their_face_are_no_exception() -> None:
    made = wheel(holes("bolts", "upper_face", 300, 20, use="balance"))
    assert not demands(spoken("R23", listed(made), "R39"))


def test_holes_into_a_bore_are_drilled_before_it_is_finished() -> None:
    made = wheel(zone("hub", "turned_diameter", 100, 140, 200), radial("oil", "hub", 50, 8))
    assert "oil/drill > bore/finish?" in demands(spoken("R24", listed(made)))


def test_holes_into_tooth_spaces_are_drilled_before_the_teeth_are_finished() -> None:
    made = wheel(radial("oil", "teeth", 50, 8, depth="30 mm"))
    assert demands(spoken("R24", listed(made))) == {"oil/drill > teeth/finish?"}


def test_holes_in_solid_material_break_into_nothing() -> None:
    made = wheel(holes("bolts", "upper_face", 200, 14, depth="20 mm"))
    result = spoken("R24", listed(made))
    assert not demands(result)
    assert not result.findings


def test_a_break_through_into_a_finished_bore_asks_for_deburring() -> None:
    """The holes are located from the finished bore (R2), so they cannot be drilled before it is finished."""
    place = {"characteristic": "position", "value": "0.1 mm", "to": ["A"]}
    made = wheel(radial("oil", "teeth", 50, 8, datums=["A"], geometric=[place]))
    found = spoken("R24", listed(made), "R2").findings
    assert "Deburr bore where oil breaks through" in [f.remedy for f in found]


def test_the_smaller_of_two_crossing_holes_is_drilled_first() -> None:
    made = wheel(
        holes("deep", "upper_face", 300, 20, start_angle="0 deg"),
        radial("oil", "teeth", 50, 8),
    )
    assert demands(spoken("R25", listed(made))) == {"oil/drill > deep/drill?"}


@pytest.mark.parametrize(
    "other",
    [{"diameter": "20 mm"}, {"start_angle": "22 deg"}, {"depth": "20 mm"}],
    ids=["equal", "between", "short"],
)
def test_holes_that_do_not_cross_or_are_equal_are_free(other: dict[str, str]) -> None:
    made = wheel(holes("deep", "upper_face", 300, 20), radial("oil", "teeth", 50, 8) | other)
    assert not demands(spoken("R25", listed(made)))


def test_holes_close_to_the_tooth_root_are_flagged_and_drilled_before_the_teeth() -> None:
    """Root of the teeth at 465 mm; a 20 mm hole on 441 mm leaves 2 mm of wall."""
    made = wheel(holes("bolts", "upper_face", 441, 20))
    result = spoken("R26", listed(made))
    assert demands(result) == {"bolts/drill > teeth/finish"}
    assert "only 2 mm of wall are left to teeth" in result.findings[0].what
    assert not spoken("R26", listed(wheel(holes("bolts", "upper_face", 430, 20)))).findings


def test_a_small_hole_needs_only_half_its_diameter_as_wall() -> None:
    """A hole of 3 mm needs 1.5 mm; on 458 mm it has 2 mm."""
    assert not spoken("R26", listed(wheel(holes("pins", "upper_face", 458, 3)))).findings


def test_holes_beside_thin_walls_are_drilled_before_hardening() -> None:
    made = wheel(
        holes("bolts", "upper_face", 441, 20),
        heat_treatment={"kind": "nitriding"},
    )
    assert "bolts/drill > part/heat_treat" in demands(spoken("R26", listed(made)))


def test_holes_at_an_angle_to_teeth_share_their_zero() -> None:
    made = wheel(holes("bolts", "upper_face", 200, 14, phase={"to": "teeth", "tolerance": "0.1 mm"}))
    assert demands(spoken("R27", listed(made))) == {"bolts/drill = teeth/finish"}
    assert not demands(spoken("R27", listed(wheel(holes("bolts", "upper_face", 200, 14)))))


def test_holes_at_an_angle_to_both_helices_share_their_zero(double_wheel: Part) -> None:
    bolts = holes("bolts", "upper_face", 200, 14, phase={"to": "wheel", "tolerance": "0.1 mm"})
    features = [f.model_dump(mode="json", exclude_unset=True) for f in double_wheel.features]
    made = part(*features, bolts, datums={"A": "bore", "B": "lower_face"})
    said = demands(spoken("R27", listed(made)))
    assert said == {"bolts/drill = wheel/finish_lower", "bolts/drill = wheel/finish_upper"}


def test_an_angle_across_clampings_becomes_a_warning_to_probe() -> None:
    made = wheel(holes("bolts", "lower_face", 200, 14, phase={"to": "teeth", "tolerance": "0.1 mm"}))
    graph = graph_of(made, usual_operations(made, {"bolts": "I"}))
    found = [f for f in graph.findings if f.subject == "rule R27"]
    assert "Find the angular zero again by probing teeth on both flanks" in found[0].remedy
    assert "about 10 um enter, 100 um are allowed" in found[0].what


def test_a_heavy_drill_timed_to_teeth_may_come_after_the_release() -> None:
    """One zero binds drill and teeth together after the release; roughing before it would contradict that."""
    made = wheel(holes("bolts", "upper_face", 200, 60, phase={"to": "teeth", "tolerance": "0.1 mm"}))
    operations = changed(usual_operations(made, steps="II/release"), "bolts/drill", heavy=True)
    graph = graph_of(made, operations)
    shorts = {in_short(each) for each in graph.dependencies}
    assert "bolts/drill = teeth/finish" in shorts
    assert "II: bolts/drill > II/release" not in shorts


def test_a_keyway_in_the_datum_bore_comes_after_the_teeth() -> None:
    made = wheel(keyway("key", "bore"))
    assert demands(spoken("R28", listed(made))) == {"teeth/finish > key/finish?"}


def test_a_keyway_that_cannot_wait_for_the_teeth_is_reported_with_pair_and_reasons() -> None:
    """The keyway is reached in I only, whose raw grip is turned away with the blank of the teeth."""
    made = wheel(keyway("key", "bore"))
    graph = graph_of(made, usual_operations(made, {"key": "I", "bore": "I"}))
    found = [f for f in graph.findings if f.subject == "rule R28"]
    assert [f.severity for f in found] == ["note"]
    assert found[0].what == "a should of R28 cannot be kept: teeth/finish before key/finish"
    assert "key/finish before teeth/blank_rough (R39)" in found[0].limit
    assert not [each for each in graph.shoulds if each.rule == "R28"]


def test_a_keyway_that_can_wait_for_the_teeth_is_not_reported() -> None:
    graph = graph_of(wheel(keyway("key", "bore")))
    assert not [f for f in graph.findings if f.subject == "rule R28"]
    assert [(each.first, each.second) for each in graph.shoulds if each.rule == "R28"] == [
        ("teeth/finish", "key/finish")
    ]


def test_a_keyway_elsewhere_is_free_of_the_teeth() -> None:
    made = wheel(zone("hub", "turned_diameter", 100, 140, 200), keyway("key", "hub"))
    assert not demands(spoken("R28", listed(made)))


def test_lifting_holes_are_made_before_the_part_is_turned_over() -> None:
    made = wheel(holes("lift", "lower_face", 300, 20, use="lifting"))
    operations = listed(made, usual_operations(made, {"lift": "I"}))
    said = demands(spoken("R47", operations, "R40"))
    assert "II: lift/drill > all" in said
    assert "lift/drill > teeth/measure" in said


def test_lifting_holes_of_the_last_clamping_open_nothing() -> None:
    made = wheel(holes("lift", "upper_face", 300, 20, use="lifting"))
    said = demands(spoken("R47", listed(made), "R40"))
    assert said == {"lift/drill > teeth/measure"}


def test_balance_holes_in_the_teeth_are_reported() -> None:
    made = wheel(holes("balance", "upper_face", 480, 20, use="balance"))
    found = spoken("R47", listed(made)).findings
    assert "lies in the tooth zone of teeth" in found[0].what
    assert not spoken("R47", listed(wheel(holes("balance", "upper_face", 300, 20, use="balance")))).findings


# -- internal and bevel teeth ----------------------------------------------------------------------


def ring(groove: bool = True) -> Part:
    """Make a ring with blind internal teeth above a lip."""
    grooves = [zone("relief", "run_out_groove", 30, 50, 411, gear="teeth", place="inside")] if groove else []
    return part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 100),
        zone("lip", "bore", 0, 30 if groove else 50, 360),
        *grooves,
        internal("teeth", 50, 100, 100, 4),
        radial("oil", "upper_face", 20, 8) | {"on": "lip"},
    )


def test_minor_diameter_and_groove_come_before_internal_teeth() -> None:
    said = demands(spoken("R29", listed(ring())))
    assert {"teeth/blank_rough > teeth/rough", "teeth/blank_finish > teeth/finish"} <= said
    assert "relief/finish > teeth/rough" in said
    assert not demands(spoken("R29", listed(wheel())))


def test_the_bore_below_blind_teeth_is_opened_first() -> None:
    assert "lip/rough > teeth/rough" in demands(spoken("R30", listed(ring())))
    assert not demands(spoken("R30", listed(wheel())))


def test_blind_teeth_without_a_groove_are_reported() -> None:
    assert not spoken("R30", listed(ring())).findings
    found = spoken("R30", listed(ring(groove=False))).findings
    assert "its teeth are blind and end in no groove" in found[0].what


def test_chips_of_grooves_and_holes_come_before_internal_teeth_are_finished() -> None:
    said = demands(spoken("R51", listed(ring())))
    assert "oil/drill > teeth/finish?" in said
    assert not demands(spoken("R51", listed(wheel())))


def bevel_part(mounting: str = "upper_face") -> Part:
    """Make bevel teeth on a hub."""
    return part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 120),
        zone("bore", "bore", 0, 120, 60),
        {
            "name": "bevel", "kind": "bevel_gear", "apex": "upper", "teeth": 40, "module": "6 mm",
            "mate_teeth": 40, "face_width": "40 mm", "z_from": "60 mm", "z_to": "100 mm",
            "mounting_distance": "200 mm", "mounting_face": mounting,
        },
    )  # fmt: skip


def test_cones_and_mounting_face_come_before_bevel_teeth() -> None:
    assert demands(spoken("R31", listed(bevel_part()))) == {
        "bevel/blank_finish > bevel/rough",
        "bevel/blank_finish > bevel/finish",
        "upper_face/finish > bevel/finish",
        "upper_face/finish ~ bevel/finish",
    }
    assert not demands(spoken("R31", listed(wheel())))


def test_bevel_teeth_may_stand_on_their_mounting_face() -> None:
    result = spoken("R31", listed(bevel_part("lower_face")))
    assert "lower_face/finish > bevel/finish" in demands(result)
    assert "lower_face/finish ~ bevel/finish" not in demands(result)
    assert "stands on its mounting face" in result.findings[0].what


def test_a_gear_is_not_a_bevel_gear() -> None:
    assert not demands(spoken("R31", listed(part(gear("teeth", 0, 100, 80, 6)))))
