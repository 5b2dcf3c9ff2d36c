"""Cutters that fail for the same plain reason share one rejection; the telling ones stay single."""

from __future__ import annotations

from pathlib import Path

from tooth_floor import (
    HOB,
    MILL,
    SKIVER,
    double_wheel,
    operations,
    part,
    refusal,
    ring,
    shop,
    spur,
    tool,
    tried,
)

from sequencer.files import read_part_and_shop
from sequencer.operations.make import make_operations
from sequencer.operations.teeth import method_table
from sequencer.operations.teeth.plain import tool_words

PARTS = Path(__file__).parents[3] / "parts"


def test_hobs_of_other_modules_share_one_row_of_the_shipped_ring() -> None:
    """Ten hobs of the shop, two of which fit the diametral pitch 5."""
    listed = make_operations(*read_part_and_shop(PARTS / "mill_ring_inch.yaml", PARTS / "shop.yaml"))
    rows = method_table(listed, "outer_teeth").rows
    (row,) = (row for row in rows if row.method == "hobbing" and "module" in row.sentence)
    assert row.tool == "T45 to T52"
    assert row.sentence == "T45 to T52: module 7, 6, 5, 4, 3 mm; the teeth have 5.08 mm."
    (inside,) = (row for row in method_table(listed, "inner_teeth").rows if row.tool == "T55 to T60")
    assert inside.sentence == "T55 to T60: module 5, 4, 3 mm; the teeth have 4.2333 mm."


def test_a_pitch_and_modules_stand_in_one_sentence() -> None:
    floor = shop(tool("A", HOB, module="7 mm"), tool("B", HOB, module="6 mm"), tool("C", HOB, module="NDP 5"))
    failed = refusal(tried(double_wheel(), floor, "wheel", "upper"), "A to C")
    assert failed.sentence == "A to C: module 7, 6 mm and NDP 5; the teeth have 8 mm."
    assert failed.clamping == ""


def test_each_reason_gets_its_own_sentence_in_the_same_rejection() -> None:
    floor = shop(
        tool("S1", SKIVER, module="6 mm"),
        tool("S2", SKIVER, pressure_angle="25 deg"),
        tool("S3", SKIVER, made_for="internal"),
    )
    failed = refusal(tried(double_wheel(), floor, "wheel", "upper"), "S1 to S3")
    assert failed.sentence == (
        "S1: module 6 mm; the teeth have 8 mm. S2: pressure angle 25 deg; the teeth have 20 deg. "
        "S3: made for internal teeth; these are external."
    )


def test_a_single_one_keeps_its_sentence() -> None:
    floor = shop(tool("H1", HOB), tool("H6", HOB, module="6 mm"))
    failed = refusal(tried(double_wheel(), floor, "wheel", "upper", riser=200), "H6")
    assert failed.sentence == "Hob H6 has module 6 mm, the teeth have 8 mm."


def test_the_tool_that_the_planner_wishes_keeps_its_sentence() -> None:
    floor = shop(
        *(tool(name, HOB, module=size) for name, size in (("A", "7 mm"), ("B", "6 mm"), ("C", "5 mm")))
    )
    verdicts = tried(double_wheel(tool="B"), floor, "wheel", "upper")
    assert refusal(verdicts, "B").sentence == "Hob B has module 6 mm, the teeth have 8 mm."
    assert "module 7, 5 mm" in refusal(verdicts, "A, C").sentence


def test_the_end_mill_that_just_does_not_fit_stays_apart_from_the_thick_ones() -> None:
    mills = [tool(f"E{size}", MILL, diameter=f"{size} mm") for size in (5, 8, 12, 16)]
    floor = shop(*mills, tool("E40", MILL, diameter="40 mm", use=["milling"]))
    verdicts = tried(spur(shoulder=400), floor, "pinion")
    assert "the gap takes" in refusal(verdicts, "E5").sentence
    thick = refusal(verdicts, "E8 to E40")
    assert thick.sentence == (
        "E8 to E16: diameter 8, 12, 16 mm; far too thick for the gap. E40: for milling; not for teeth."
    )
    assert thick.remedy.startswith("An end mill of at most")


def test_bevel_teeth_put_their_mills_together_over_all_clampings() -> None:
    bevel = {
        "name": "bevel", "kind": "bevel_gear", "form": "straight", "apex": "upper", "teeth": 40,
        "module": "5 mm", "mate_teeth": 20, "face_width": "30 mm", "z_from": "40 mm", "z_to": "66 mm",
        "mounting_distance": "120 mm", "mounting_face": "lower_face",
    }  # fmt: skip
    floor = shop(*(tool(name, MILL, use=["milling"]) for name in ("E1", "E2", "E3")))
    found = operations(part(bevel, height=80, outside=260), floor, "bevel")["finish"]
    (failed,) = (one for one in found.rejected if one.method == "end-mill milling")
    assert (failed.tool, failed.sentence) == ("E1 to E3", "E1 to E3: for milling; not for teeth.")


def test_two_neighbours_are_named_and_three_become_a_range() -> None:
    order = ("A", "B", "C", "D", "E", "F")
    assert tool_words(["F", "A", "B"], order) == "A, B, F"
    assert tool_words(["C", "A", "B", "E"], order) == "A to C, E"


def test_inside_teeth_count_outside_cutters_together() -> None:
    floor = shop(*(tool(name, SKIVER, module="4 mm", pressure_angle="20 deg") for name in ("S1", "S2")))
    failed = refusal(tried(ring(floor=380), floor, "ring"), "S1, S2")
    assert failed.sentence == "S1, S2: made for external teeth; these are internal."
