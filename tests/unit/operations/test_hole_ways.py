"""Holes: drill, tap, ream, counterbore, mill; the opening of a solid blank."""

from __future__ import annotations

import pytest
from small_parts import (
    FROM_ABOVE,
    FROM_BELOW,
    LOWER,
    TOOLS,
    UPPER,
    bore,
    context_of,
    fact,
    formula,
    named,
    outside,
    part,
    plain_ring,
    sentence_of,
    shop_with,
    small_shop,
    way,
)

from sequencer.errors import Severity
from sequencer.operations import Stage, make_operations
from sequencer.operations.centre_drilling import centre_drill_operations
from sequencer.operations.holes import drilled_diameter, hole_operations
from sequencer.operations.turning import turned_operations


def holes(**keys):
    """Write six holes of 14 mm, 30 mm deep, in the upper face."""
    return {
        "name": "holes", "kind": "bolt_circle", "on": "upper_face", "circle_diameter": "300 mm", "count": 6,
        "diameter": "14 mm", "depth": "30 mm", **keys,
    }  # fmt: skip


def operations(made, shop=None):
    """Give the operations of the bolt circle."""
    return hole_operations(context_of(made, shop), made.by_name["holes"])


#: The drill of 14 mm, but 260 mm long.
LONG = {**next(tool for tool in TOOLS if tool["name"] == "D14"), "name": "D14L", "depth": "260 mm"}


def test_time_of_drilling_by_hand():
    """N = 1000*80/(pi*14) = 1818.9 rpm; point 7*tan(20) = 2.548; path 30 + 2.548 + 2 = 34.548 mm.

    t = 6 (34.548/(0.2*1818.9) + 0.05) = 0.870 min.
    """
    (drill,) = operations(plain_ring(holes()))
    found = way(drill, "D14", "II")
    assert found.minutes == pytest.approx(0.870, abs=0.001)
    assert drill.stage is Stage.FINISH
    assert drill.title == "Drill holes (6 x 14 mm)"
    assert sentence_of(drill, "D17", "II") == (
        "drill 17.5 mm, the hole wants 13.95 mm to 14.2 mm -> A drill 14 mm"
    )


def test_a_tapped_hole_is_drilled_to_nominal_less_pitch():
    """M20: 20 - 2.5 = 17.5 mm; drilled first, tapped last, 10 spare for 3 threads of lead."""
    made = plain_ring(holes(diameter="20 mm", thread_pitch="2.5 mm", depth="50 mm", thread_depth="40 mm"))
    drill, tap = operations(made)
    assert drilled_diameter(made.by_name["holes"]) == 17.5
    assert (drill.name, tap.name) == ("holes/drill", "holes/tap")
    assert (drill.stage, tap.stage) == (Stage.ROUGH, Stage.FINISH)
    assert way(drill, "D17", "II")
    found = way(tap, "M20", "II")
    # n = 1000*12/(pi*20) = 190.99 rpm; 6 (2 (40 + 7.5)/(2.5*190.99) + 0.05) = 1.494 min.
    assert found.minutes == pytest.approx(1.494, abs=0.001)
    assert way(tap, "E10", "II").method == "thread milling"


def test_a_blind_hole_needs_room_for_the_lead_of_the_tap():
    """40 mm of thread and 3 threads of 2.5 mm need 47.5 mm; the hole has 45 mm. It is thread milled."""
    made = plain_ring(holes(diameter="20 mm", thread_pitch="2.5 mm", depth="45 mm", thread_depth="40 mm"))
    tap = named(operations(made), "holes/tap")
    assert sentence_of(tap, "M20").startswith(
        "blind hole 45 mm deep, thread 40 mm and 3 threads of lead need 47.5 mm"
    )
    assert {each.method for each in tap.alternatives} == {"thread milling"}


def test_a_tap_of_another_pitch_does_not_fit():
    """M20 x 1.5 is no M20."""
    made = plain_ring(holes(diameter="20 mm", thread_pitch="1.5 mm", depth="50 mm", thread_depth="40 mm"))
    tap = named(operations(made), "holes/tap")
    assert sentence_of(tap, "M20").startswith("tap 20 mm x 2.5 mm, the thread is 20 mm x 1.5 mm")


def test_a_wish_for_thread_milling_is_for_the_thread():
    """The drilling stays drilling."""
    keys = {"diameter": "20 mm", "thread_pitch": "2.5 mm", "depth": "50 mm", "thread_depth": "40 mm"}
    drill, tap = operations(plain_ring(holes(**keys, method="thread milling")))
    assert {each.method for each in tap.alternatives} == {"thread milling"}
    assert "drilling" in {each.method for each in drill.alternatives}


def test_without_a_drill_of_the_size_an_end_mill_opens_the_hole():
    """12 H7 wants 11.5 to 11.9 mm; no drill has it, end mills of 4.7 to 10 mm mill it on a helix."""
    drill, ream = operations(plain_ring(holes(diameter="12 mm", ream="H7", depth="25 mm")))
    assert {(each.method, each.tool) for each in drill.alternatives} == {("milling", "E6")}
    assert sentence_of(drill, "E10", "II") == (
        "end mill 10 mm, a helix in 11.75 mm wants 4.7 mm to 9.99 mm -> An end mill of 4.7 mm to 9.99 mm"
    )
    assert way(ream, "A12", "II").method == "reaming"


def test_a_reamer_of_a_coarser_grade_does_not_hold():
    """H6 is closer than the IT7 of the reamer."""
    ream = named(operations(plain_ring(holes(diameter="12 mm", ream="H6", depth="25 mm"))), "holes/ream")
    assert sentence_of(ream, "A12") == "the reamer holds IT7, the hole wants IT6 -> A reamer for IT6"


def test_a_counterbore_is_cut_after_drilling():
    """Counterbore 26 by its tool, or on a helix by an end mill."""
    made = plain_ring(holes(counterbore={"diameter": "26 mm", "depth": "10 mm"}))
    drill, sink = operations(made)
    assert [op.name for op in (drill, sink)] == ["holes/drill", "holes/counterbore"]
    # 6 ((10 + 2)/(0.15*1000*100/(pi*26)) + 0.05) = 6*(12/183.6 + 0.05) = 0.692 min.
    assert way(sink, "K26", "II").minutes == pytest.approx(0.692, abs=0.001)
    assert way(sink, "E20", "II").method == "milling"


def test_a_through_hole_needs_air_below():
    """From the upper face through 200 mm the drill is too short; a longer one needs 2.5 + 2 mm of riser."""
    tools = [*TOOLS, LONG]
    flat = {**FROM_ABOVE, "riser": "0 mm"}
    through = {key: value for key, value in holes().items() if key != "depth"}
    drill = named(operations(plain_ring(through, clampings=[FROM_BELOW, flat]), shop_with(tools=tools)),
                  "holes/drill")  # fmt: skip
    assert sentence_of(drill, "D14L", "II") == (
        "breaks through 4.55 mm below the part, there are 0 mm of air -> A riser of at least 4.55 mm"
    )
    assert "needs 204.55 mm: 204.55 mm in the hole; the tool reaches 100 mm" in sentence_of(
        drill, "D14", "II"
    )


def test_on_a_raw_face_a_through_hole_ends_in_the_stock():
    """In I the 3 mm below the upper face are cut off later: point 2.548 and 0.5 mm of drill need 3.05 mm.

    Stock is 3 mm, so the hole does not fit by 0.05 mm; with 4 mm of stock it does.
    """
    through = {**holes(on="lower_face"), "depth": None}
    tools = [*TOOLS, LONG]
    shop = shop_with(tools=tools)
    drill = named(operations(plain_ring(through), shop), "holes/drill")
    assert "breaks through 3.05 mm below the part, there are 3 mm of air" in sentence_of(drill, "D14L", "I")
    blank = {"form": "ring", "diameter": "400 mm", "bore": "100 mm", "z_from": "-3 mm", "z_to": "204 mm"}
    drill = named(operations(plain_ring(through, blank=blank), shop), "holes/drill")
    assert way(drill, "D14L", "I")


def test_holes_in_the_air_say_so():
    """A circle of 90 mm lies in the bore of 120 mm."""
    through = {**holes(circle_diameter="90 mm"), "depth": None}
    drill = named(operations(plain_ring(through)), "holes/drill")
    assert "there is no material at circle diameter 90 mm" in sentence_of(drill, "D14")


def test_a_wall_beside_the_hole_costs_length():
    """Holes 15 mm beside a hub of 80 mm height: the body of 50 mm does not pass, 80 mm more are needed."""
    shelf = {"name": "shelf", "kind": "face", "side": "upper", "z": "120 mm"}
    made = part(LOWER, UPPER, shelf, bore(), outside("rim", 0, 120, 390), outside("hub", 120, 200, 260),
                holes(on="shelf", circle_diameter="290 mm"))  # fmt: skip
    drill = named(operations(made), "holes/drill")
    assert sentence_of(drill, "D14", "II").startswith(
        "needs 112.55 mm: 32.55 mm in the hole and a wall of 80 mm beside it; the tool reaches 100 mm"
    )


def radial(**keys):
    """Write two radial holes in the rim."""
    return {
        "name": "holes", "kind": "bolt_circle", "direction": "radial", "on": "rim", "z": "150 mm", "count": 2,
        "diameter": "14 mm", "depth": "20 mm", **keys,
    }  # fmt: skip


def test_radial_holes_need_the_head_level_above_the_table():
    """Z 150 on a riser of 60 mm lies 210 mm above the table, 150 mm are needed; in I it lies 50 mm above."""
    drill = named(operations(plain_ring(radial(z="60 mm"))), "holes/drill")
    assert (
        "the level head of 300 mm needs 150 mm above the table, z 60 mm lies 120 mm above it"
        in sentence_of(drill, "D14", "II")
    )
    drill = named(operations(plain_ring(radial())), "holes/drill")
    assert way(drill, "D14", "II")


def test_radial_holes_inside_want_the_head_in_the_bore():
    """A bore of 120 mm does not take the head of 300 mm and the drill of 200 mm."""
    drill = named(operations(plain_ring(radial(on="bore"))), "holes/drill")
    assert "the level head of 300 mm with D14 needs a bore of 500 mm, it has 120 mm" in sentence_of(
        drill, "D14"
    )


def test_a_weak_spindle_reduces_the_feed_of_a_large_drill():
    """Torque M = kc f D^2/8000 with kc from f/2: 60 mm at 0.2 mm needs 256.1 N m.

    kc = 1600*0.1^-0.25 = 2845; M = 2845*0.2*3600/8000 = 256.1 N m. With 200 N m the feed falls to
    0.2*(200/256.1)^(1/0.75) = 0.1438 mm.
    """
    made = part(LOWER, UPPER, bore(), outside("rim", 0, 200, 390), blank=SOLID, clampings=GRIPS)
    shop = shop_with(machine__spindle__torque="200 N m")
    (drill,) = centre_drill_operations(context_of(made, shop), made.by_name["bore"])
    found = way(drill, "D60", "I")
    torque = 1600 * 0.1**-0.25 * 0.2 * 60**2 / 8000
    assert torque == pytest.approx(256.1, abs=0.1)
    assert fact(found, "feed") == pytest.approx(0.2 * (200 / torque) ** (1 / 0.75), rel=1e-6)
    assert "reduced from 0.2 mm" in formula(found, "feed")


SOLID = {"form": "bar", "diameter": "400 mm", "z_from": "-3 mm", "z_to": "203 mm"}
GRIPS = [FROM_BELOW, {**FROM_ABOVE, "hold": "outside jaws", "on": "blank", "z_to": "50 mm"}]


def test_a_solid_blank_is_drilled_open_for_its_narrowest_bore():
    """Drill 60 leaves 30 mm per side; boring starts from 60 mm, which only the thin bar enters."""
    made = part(LOWER, UPPER, bore(), outside("rim", 0, 200, 390), blank=SOLID, clampings=GRIPS)
    context = context_of(made)
    (drill,) = centre_drill_operations(context, made.by_name["bore"])
    assert drill.name == "bore/drill"
    assert drill.heavy
    # Length 206 mm and 2 mm approach, 2 mm overrun: n = 1000*80/(pi*60) = 424.4; 210/(0.2*424.4) = 2.474 min.
    assert way(drill, "D60", "I").minutes == pytest.approx(2.474, abs=0.001)
    rough = named(turned_operations(context, made.by_name["bore"]), "bore/rough")
    assert "enters bores from 90 mm, the opening is 60 mm" in sentence_of(rough, "B2")


def test_a_solid_blank_without_a_long_drill_says_so():
    """The drill of 250 mm does not go through 506 mm."""
    blank = {**SOLID, "z_to": "503 mm"}
    upper = {**UPPER, "z": "500 mm"}
    grips = [{**FROM_BELOW, "z_from": "460 mm", "z_to": "503 mm"}, GRIPS[1]]
    made = part(LOWER, upper, bore(z_to=500), outside("rim", 0, 500, 390), blank=blank, clampings=grips)
    context = context_of(made)
    (drill,) = centre_drill_operations(context, made.by_name["bore"])
    assert not drill.alternatives
    assert sentence_of(drill, "D60") == (
        "drills 250 mm deep, the blank needs 506 mm -> A drill with a usable length of 506 mm"
    )
    rough = named(turned_operations(context, made.by_name["bore"]), "bore/rough")
    assert "the blank is solid and no drill of the shop opens it" in sentence_of(rough, "B2")


def test_a_ring_blank_is_not_drilled_open():
    """A blank with a bore needs no drill."""
    made = plain_ring()
    assert centre_drill_operations(context_of(made), made.by_name["bore"]) == ()


def placed(value: str, **keys):
    """Holes with a position tolerance to the bore, which cannot be cut in the clamping of the holes."""
    position = [{"characteristic": "position", "value": value, "to": ["A"]}]
    return plain_ring(holes(geometric=position, **keys), datums={"A": "bore"})


def test_the_position_to_expect_stands_with_each_way():
    """R C = 150*5 arcsec = 3.6 um; 2 sqrt(5^2 + 3.6^2 + 10^2) = 23.5 um; a drill strays by 0.15 mm."""
    (drill,) = operations(placed("0.2 mm"))
    assert fact(way(drill, "D14", "II"), "position to expect") == pytest.approx(0.1735, abs=1e-4)
    assert formula(way(drill, "D14", "II"), "position to expect") == (
        "2 sqrt(linear^2 + (r C)^2 + re-clamping^2) + drilling = 2*sqrt(5^2 + 3.6^2 + 10^2)/1000 + 0.15 = "
        "0.174 mm"
    )


def test_holes_that_a_drill_does_not_place_are_milled():
    """An end mill on a helix strays by 0.02 mm: 0.044 mm."""
    (drill,) = operations(placed("0.1 mm"))
    assert {each.method for each in drill.alternatives} == {"milling"}
    assert sentence_of(drill, "D14", "II") == ("position 0.174 mm to expect, the drawing allows 0.1 mm -> ")


def test_a_position_that_no_way_holds_is_a_warning_with_figures():
    """The closest way stays, and the finding says what it holds."""
    listed = make_operations(placed("0.03 mm"), small_shop())
    assert {each.method for each in listed.by_name["holes/drill"].alternatives} == {"milling"}
    warning = next(each for each in listed.findings if each.where == "holes/drill")
    assert warning.severity is Severity.WARNING
    assert warning.what == (
        "position 0.044 mm to expect at best: 2 sqrt(linear^2 + (r C)^2 + re-clamping^2) + milling = "
        "2*sqrt(5^2 + 3.6^2 + 10^2)/1000 + 0.02 = 0.044 mm"
    )
    assert warning.limit == "position 0.03 mm"


def test_a_position_that_is_held_is_no_finding():
    """0.2 mm: a drill does."""
    listed = make_operations(placed("0.2 mm"), small_shop())
    assert [each for each in listed.findings if each.where == "holes/drill"] == []
