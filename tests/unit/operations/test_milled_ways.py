"""Keyways, flats, pockets, text, edges and threads: times by hand and what does not fit."""

from __future__ import annotations

import math

import pytest
from small_parts import (
    LOWER,
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
    way,
    zone,
)

from sequencer.operations import Action, Mode, Stage
from sequencer.operations.edges import edge_operations
from sequencer.operations.milled import milled_operations
from sequencer.operations.threads import thread_operations


def milled(made, feature="slot"):
    """Give the operation of a milled feature."""
    (operation,) = milled_operations(context_of(made), made.by_name[feature])
    return operation


def keyway(**keys):
    """Write a keyway 20 x 5 in the bore, over its whole length."""
    return zone("slot", "keyway", 0, 200, **{"on": "bore", "width": "20 mm", "depth": "5 mm", **keys})


def test_time_of_slotting_a_keyway_by_hand():
    """5/0.1 = 50 strokes and 2 without infeed: 52 (200 + 10)/1000 (1/12 + 1/20) = 1.456 min."""
    operation = milled(plain_ring(keyway()))
    found = way(operation, "S20", "I")
    assert (found.method, found.mode) == ("slotting", Mode.MILLING)
    assert found.minutes == pytest.approx(1.456, abs=0.001)
    assert operation.name == "slot/finish"
    # Along the stroke: 1600*0.1^0.75*20 = 5690 N.
    assert fact(found, "cutting force") == pytest.approx(1600 * 0.1**0.75 * 20, rel=1e-9)


SLOTS = [
    (keyway(width="16 mm"), "S20", "blade 20 mm is wider than the keyway 16 mm -> A blade of at most 16 mm"),
    (keyway(width="70 mm"), "S20", "blade 20 mm is too narrow for the keyway 70 mm -> A blade 70 mm"),
    (keyway(), "E20", "the level head of 300 mm with E20 needs a bore of 500 mm, it has 120 mm -> Cut it "
     "from outside or with a tool on a bar"),
    (keyway(), "E40", "end mill 40 mm is wider than the width 20 mm -> An end mill of at most 20 mm"),
]  # fmt: skip


@pytest.mark.parametrize(("feature", "tool", "words"), SLOTS)
def test_tools_that_do_not_fit_a_keyway_say_why(feature, tool, words):
    """Width, bore and head."""
    assert sentence_of(milled(plain_ring(feature)), tool) == words


def test_a_keyway_closed_above_has_no_room_for_the_blade():
    """From either side the keyway begins 60 mm below the face, in a bore narrower than its floor."""
    made = plain_ring(zone("slot", "keyway", 60, 140, on="bore", width="20 mm", depth="5 mm"))
    assert sentence_of(milled(made), "S20") == (
        "the blade needs 5 mm of room above the keyway at diameter 130 mm, it has 0 mm -> Cut it from the "
        "other side, or turn a groove above it"
    )


def test_a_keyway_that_ends_blind_runs_out_on_a_ramp():
    """From the lower face to z 140 the stroke ends blind: a ramp of three depths, marked as an estimate."""
    made = plain_ring(zone("slot", "keyway", 0, 140, on="bore", width="20 mm", depth="5 mm"))
    found = way(milled(made), "S20", "I")
    assert fact(found, "run-out ramp") == 15
    assert "the lower end is blind, strokes run out on a ramp of 15 mm" in found.reason


def test_a_groove_above_a_keyway_lets_the_blade_in():
    """A groove of 132 mm, 8 mm high, beside the keyway gives the blade its room."""
    made = plain_ring(
        zone("slot", "keyway", 60, 140, on="bore", width="20 mm", depth="5 mm"),
        zone("relief", "groove", 52, 60, place="inside", diameter="132 mm", on="bore"),
    )
    assert way(milled(made), "S20", "I")


def test_time_of_milling_a_pocket_by_hand():
    """Pocket 60 x 30 x 10 with corners of 10: end mill 20, 10/2 -> 5 layers, 1 + ceil(10/12) = 2 tracks.

    n = 1000*150/(pi*20) = 2387.3; vf = 0.1*4*2387.3 = 954.9; path 5*2*60 + 2*90 = 780;
    t = 780/954.9 + 10/(0.3*954.9) = 0.8168 + 0.0349 = 0.852 min.
    """
    pocket = {
        "name": "slot", "kind": "pocket", "on": "upper_face", "width": "30 mm", "length": "60 mm",
        "depth": "10 mm", "corner_radius": "10 mm", "circle_diameter": "300 mm",
    }  # fmt: skip
    operation = milled(plain_ring(pocket))
    assert way(operation, "E20", "II").minutes == pytest.approx(0.852, abs=0.001)
    assert sentence_of(operation, "E40") == (
        "end mill 40 mm leaves corners of 20 mm, allowed are 10 mm -> An end mill of at most 20 mm"
    )


def test_a_deep_pocket_wants_a_stout_end_mill():
    """40 mm deep: 6 mm does not reach, 10 mm would do it 4 times its diameter."""
    pocket = {
        "name": "slot", "kind": "pocket", "on": "upper_face", "width": "12 mm", "length": "60 mm",
        "depth": "40 mm", "corner_radius": "6 mm", "circle_diameter": "300 mm",
    }  # fmt: skip
    operation = milled(plain_ring(pocket))
    assert sentence_of(operation, "E6").startswith("40 mm deep, the end mill reaches 25 mm")
    assert {each.tool for each in operation.alternatives} == {"E10"}


def test_flats_are_milled_with_the_level_head():
    """Flats at 185 mm from the axis of a rim of 390 are 10 mm deep in the middle."""
    flats = zone("slot", "flat", 90, 120, on="rim", distance="185 mm", count=4)
    operation = milled(plain_ring(flats))
    found = way(operation, "E40", "II")
    # Chord 2 sqrt(195^2 - 185^2) = 123.3: 1 + ceil(83.3/24) = 5 tracks; 10/2 = 5 layers.
    assert (fact(found, "tracks"), fact(found, "layers")) == (5, 5)


def test_text_is_engraved_letter_by_letter():
    """Three letters of 6 mm: 3*3.5*6 = 63 mm at 0.03*8000 = 240 mm/min and 3*0.1 min between."""
    made = plain_ring({"name": "slot", "kind": "marking", "on": "upper_face", "text": "A 12"})
    operation = milled(made)
    assert operation.name == "slot/engrave"
    assert operation.action is Action.ENGRAVE
    assert way(operation, "N1", "II").minutes == pytest.approx(63 / 240 + 0.3, abs=1e-6)


def edges(made, feature="edge"):
    """Give the operations of a chamfer or radius."""
    return edge_operations(context_of(made), made.by_name[feature])


def test_time_of_a_chamfer_by_hand():
    """2 mm at diameter 390: n = 1000*150/(pi*390) = 122.4; (1.414*2 + 1)/(0.1*122.4) = 0.313 min."""
    made = plain_ring({"name": "edge", "kind": "chamfer", "on": "rim", "edge": "upper", "size": "2 mm"})
    (operation,) = edges(made)
    assert operation.name == "edge/finish"
    assert way(operation, "F1", "II").minutes == pytest.approx(0.313, abs=0.001)
    # Milled round: pi*390/(0.1*4*1000*150/(pi*16)) = 1.026 min.
    assert way(operation, "CM", "II").minutes == pytest.approx(1.026, abs=0.001)


def test_both_edges_become_two_operations():
    """Each edge of a bore looks up in another clamping."""
    made = plain_ring({"name": "edge", "kind": "chamfer", "on": "bore", "edge": "both", "size": "2 mm"})
    lower, upper = edges(made)
    assert (lower.name, upper.name) == ("edge/finish_lower", "edge/finish_upper")
    assert (lower.half, upper.half) == ("lower", "upper")
    assert lower.clampings == ("I",)
    assert upper.clampings == ("II",)


def test_a_chamfer_of_another_angle_is_turned():
    """The chamfer mill cuts 45 deg only."""
    made = plain_ring(
        {"name": "edge", "kind": "chamfer", "on": "rim", "edge": "upper", "size": "2 mm", "angle": "30 deg"}
    )
    assert "mills 45 deg, the chamfer has 30 deg" in sentence_of(edges(made)[0], "CM")


def test_an_insert_with_too_large_a_corner_does_not_cut_a_fillet():
    """Radius 0.5 mm in the corner below a hub; the insert has 0.8 mm."""
    made = part(
        LOWER, UPPER, bore(), outside("rim", 0, 120, 390), outside("hub", 120, 200, 260),
        {"name": "edge", "kind": "radius", "on": "hub", "edge": "lower", "size": "0.5 mm"},
    )  # fmt: skip
    assert sentence_of(edges(made)[0], "F1") == (
        "corner radius 0.8 mm is larger than 0.5 mm in the corner -> An insert with a corner radius of at "
        "most 0.5 mm"
    )


def thread(z_from=170, **keys):
    """Write a thread M390x3 at the upper end."""
    return zone("thread", "thread", z_from, 200, **{"diameter": "390 mm", "pitch": "3 mm", **keys})


def test_time_of_a_thread_by_hand():
    """Depth 0.61343*3 = 1.840 in steps of 0.2: 10 passes and 2 without infeed.

    n = 1000*120/(pi*390) = 97.94; 12 (30 + 9)/(3*97.94) + 12*39/20000 = 1.593 + 0.023 = 1.616 min.
    """
    made = plain_ring(thread(on="rim"))
    (operation,) = thread_operations(context_of(made), made.by_name["thread"])
    found = way(operation, "TH", "II")
    assert found.minutes == pytest.approx(1.616, abs=0.001)
    assert fact(found, "passes") == 12
    assert operation.action is Action.THREAD
    assert formula(found, "feed") == "feed = pitch"


def test_a_thread_without_a_turned_carrier_gets_its_cylinder():
    """Rough and finish of the crest come before the thread."""
    made = part(LOWER, UPPER, bore(), outside("rim", 0, 170, 390), thread(diameter="380 mm"))
    found = thread_operations(context_of(made), made.by_name["thread"])
    assert [op.name for op in found] == ["thread/blank_rough", "thread/blank_finish", "thread/finish"]
    assert found[1].stage is Stage.FINISH


def test_a_coarse_thread_is_beyond_the_tool():
    """Pitch 6 mm, the holder cuts 1 to 4 mm."""
    made = plain_ring(thread(on="rim", pitch="6 mm"))
    operation = named(thread_operations(context_of(made), made.by_name["thread"]), "thread/finish")
    assert sentence_of(operation, "TH") == ("pitch 6 mm, the tool cuts 1 mm to 4 mm -> A tool for pitch 6 mm")


def test_an_inside_thread_starts_from_its_core():
    """M120x2 inside: core 120 - 1.08253*2 = 117.83 mm, turned first unless it lies on a bore."""
    made = part(LOWER, UPPER, bore(0, 160, 110), outside("rim", 0, 200, 390),
                thread(160, diameter="120 mm", pitch="2 mm", place="inside"))  # fmt: skip
    found = thread_operations(context_of(made), made.by_name["thread"])
    finish = named(found, "thread/blank_finish")
    reason = finish.alternatives[0].reason
    assert f"to {120 - 1.08253 * 2:.2f} mm" in reason
    assert way(named(found, "thread/finish"), "TI", "II")
    assert math.isclose(way(named(found, "thread/finish"), "E10", "II").minutes,
                        (40 / 2 + 1) * math.pi * 120 / (0.08 * 4 * 1000 * 120 / (math.pi * 10)),
                        rel_tol=1e-9)  # fmt: skip
