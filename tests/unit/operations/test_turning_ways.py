"""Turning: stages, stock, speeds, force, time and what does not fit."""

from __future__ import annotations

import math

import pytest
from small_parts import (
    CONDITIONS,
    FROM_ABOVE,
    FROM_BELOW,
    LOWER,
    MEANS,
    RING,
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
    way,
)

from sequencer.operations import BENCH, Stage
from sequencer.operations.turning import turned_operations
from sequencer.part import Clamping


def operations(made, feature, shop=None):
    """Give the operations of one turned feature."""
    context = context_of(made, shop)
    return turned_operations(context, made.by_name[feature])


def test_time_of_roughing_a_rim_by_hand():
    """Rim 400 -> 390 over 200 mm: 4.5 mm roughed, 0.5 mm left.

    Mean diameter (400 + 391)/2 = 395.5; n = 1000*200/(pi*395.5) = 160.97 rpm; 4.5/4 -> 2 cuts;
    t = 2 (200 + 2 + 2)/(0.4*160.97) + 2*204/20000 = 6.337 + 0.020 = 6.357 min.
    """
    rough = named(operations(plain_ring(), "rim"), "rim/rough")
    # Only in II: the jaws of I cover the upper end.
    found = way(rough, "R1", "II")
    assert found.minutes == pytest.approx(6.357, abs=0.001)
    assert fact(found, "revolutions") == pytest.approx(160.97, abs=0.01)
    assert formula(found, "revolutions") == "n = 1000 vc/(pi d) = 1000*200/(pi*395.5) = 161 rpm"
    assert formula(found, "depth of cut") == "ap = stock/cuts = 4.5 mm/2 = 2.25 mm"
    assert formula(found, "time").startswith(
        "t = i (L + la + lu)/(f n) + i L/rapid = 2*(200 + 2 + 2)/(0.4*161)"
    )
    assert rough.heavy
    assert rough.stage is Stage.ROUGH


def test_force_of_roughing_by_hand():
    """Kienzle at the real depth: F = 1600 * 0.4^0.75 * 2.25 = 1810.7 N; P = F*200/(60000*0.8) = 7.54 kW."""
    found = way(named(operations(plain_ring(), "rim"), "rim/rough"), "R1", "II")
    assert fact(found, "cutting force") == pytest.approx(1600 * 0.4**0.75 * 2.25, rel=1e-9)
    assert fact(found, "power") == pytest.approx(1600 * 0.4**0.75 * 2.25 * 200 / 48000, rel=1e-9)


def test_time_of_facing_by_hand():
    """Lower face, 3 mm of stock: 2.7 mm roughed in one cut of the ring 400 - 100, 2 mm beyond both edges.

    n at the outside 1000*200/(pi*404) = 157.6 rpm < 400; the knee is at D = 1000*200/(pi*400) = 159.2 mm.
    t = pi (404^2 - 159.2^2)/(4000*200*0.4) + (159.2 - 96)/(2*0.4*400) = 1.3537 + 0.1974 = 1.551 min.
    """
    rough = named(operations(plain_ring(), "lower_face"), "lower_face/rough")
    found = way(rough, "R1", "I")
    assert found.minutes == pytest.approx(1.551, abs=0.001)
    assert [each.clamping for each in rough.alternatives] == ["I"]
    assert "the part stands on it in clamping II" in {each.sentence for each in rough.rejected}


def test_little_stock_is_finished_without_roughing():
    """1 mm per side is below 1.5 mm: two finishing cuts of 0.5 mm, no roughing."""
    made = plain_ring(blank={**RING, "diameter": "392 mm"})
    (finish,) = operations(made, "rim")
    assert finish.name == "rim/finish"
    assert formula(way(finish, "F1", "II"), "depth of cut") == "ap = stock/cuts = 1 mm/2 = 0.5 mm"


@pytest.mark.parametrize("form", ["forging", "casting"])
def test_black_skin_is_roughed_whatever_the_stock(form):
    """A black blank is roughed even with 1 mm per side."""
    made = plain_ring(blank={**RING, "form": form, "diameter": "392 mm"})
    assert [op.name for op in operations(made, "rim")] == ["rim/rough", "rim/finish"]


def test_a_shoulder_face_has_only_finishing_stock():
    """What lies above a shoulder is turned off with the diameter beside it."""
    shelf = {"name": "shelf", "kind": "face", "side": "upper", "z": "120 mm"}
    made = part(LOWER, UPPER, shelf, bore(), outside("rim", 0, 120, 390), outside("hub", 120, 200, 260))
    assert [op.name for op in operations(made, "shelf")] == ["shelf/finish"]


def test_roughness_holds_the_feed_down():
    """Ra 0.8 um with a corner of 0.8 mm: f = sqrt(32*0.8*0.8/1000) = 0.143 mm instead of 0.2."""
    made = plain_ring(outside("seat", 0, 200, 390, roughness="0.8 um"))
    found = way(named(operations(made, "seat"), "seat/finish"), "F1", "II")
    assert fact(found, "feed") == pytest.approx(math.sqrt(32 * 0.8 * 0.8 / 1000), rel=1e-9)
    assert "instead of 0.2" in formula(found, "feed")


def test_conditions_of_the_planner_win():
    """Cutting speed and feed of the part file are taken for the finish, and are no estimate."""
    wish = {"cutting_speed": "180 m/min", "feed": "0.3 mm"}
    made = plain_ring(outside("seat", 0, 200, 390, roughness="0.8 um", conditions=wish))
    rough, finish = operations(made, "seat")
    found = way(finish, "F1", "II")
    assert fact(found, "cutting speed") == 180
    assert fact(found, "feed") == 0.3
    assert not any(each.estimate for each in found.facts if each.name in ("cutting speed", "feed", "time"))
    assert fact(way(rough, "R1", "II"), "cutting speed") == 200


def test_weak_table_power_reduces_the_depth():
    """2 kW carry 0.8*2*60000/200 = 480 N: 4 mm would need 3219 N, so depth falls to 1 mm and the feed too.

    Force at 1 mm: 1600*0.4^0.75 = 804.8 N; the feed falls to 0.4*(480/804.8)^(1/0.75) = 0.2008 mm.
    """
    shop = shop_with(machine__table__power="2 kW")
    found = way(named(operations(plain_ring(), "rim", shop), "rim/rough"), "R1", "II")
    assert fact(found, "feed") == pytest.approx(0.4 * (480 / (1600 * 0.4**0.75)) ** (1 / 0.75), rel=1e-6)
    assert fact(found, "cutting force") <= 480
    assert "depth reduced from 4 mm to 1 mm, feed reduced from 0.4 mm" in formula(found, "cutting force")


def test_far_too_weak_a_table_rejects_the_cut():
    """0.5 kW carry 120 N: even 1 mm at 0.12 mm feed needs more."""
    shop = shop_with(machine__table__power="0.5 kW")
    rough = named(operations(plain_ring(), "rim", shop), "rim/rough")
    assert not rough.alternatives
    text = sentence_of(rough, "R1")
    assert "the least sensible cut (depth 1 mm, feed 0.12 mm) needs 0.33 kN, carried are 0.12 kN" in text
    assert "table power 0.5 kW at 0.8 efficiency" in text


def test_a_weak_grip_reduces_the_cut():
    """Inside jaws of 12 kN hold 12000/1.5*0.15*120/2000/1.5 = 48 N m, 240 N at diameter 400."""
    means = [*MEANS[:2], {**MEANS[2], "force": "12 kN"}]
    rough = named(operations(plain_ring(), "rim", shop_with(clamping_means=means)), "rim/rough")
    assert "carried are 0.24 kN (grip of inside_jaws: 8 kN left" in sentence_of(rough, "R1")


def test_finishing_force_caps_the_speed_of_outside_jaws():
    """At 60 kN: 60/1.5 kN less 1.5 times the cut, over 20 kg m, gives 30/pi*sqrt(...) = 420 rpm or less."""
    means = [{**MEANS[0], "jaw_moment": "100 kg m"}, *MEANS[1:]]
    finish = named(operations(plain_ring(), "bore", shop_with(clamping_means=means)), "bore/finish")
    found = way(finish, "B2", "I")
    # Cut: 1600*0.15^0.75*0.4 = 154.3 N at 120, gripped at 400: 154.3*120/(0.15*400) = 308.6 N of jaw force.
    cut = 1600 * 0.15**0.75 * 0.4 * 120 / (0.15 * 400)
    expected = 30 / math.pi * math.sqrt((60000 / 1.5 - 1.5 * cut) / 100)
    assert fact(found, "revolutions") == pytest.approx(expected, rel=1e-6)
    assert "hard_jaws at its force for finishing" in formula(found, "revolutions")


BARS = [
    (bore(diameter=80), {**RING, "bore": "70 mm"}, "bore/rough", "B2",
     "enters bores from 90 mm, the opening is 70 mm -> A bar for bores from 70 mm or below, or a "
     "larger bore in the blank"),
    (bore(), RING, "bore/rough", "B1",
     "its far end lies 200 mm below the top, the bar reaches 150 mm -> A bar with a usable length of 200 mm, "
     "or two features, each for the half of the length that is bored from its own side"),
]  # fmt: skip


@pytest.mark.parametrize(("feature", "blank", "name", "tool", "words"), BARS)
def test_bars_that_do_not_fit_say_why(feature, blank, name, tool, words):
    """Too thick for the bore, or too short for its depth."""
    made = part(LOWER, UPPER, feature, outside("rim", 0, 200, 390), blank=blank)
    assert sentence_of(named(operations(made, "bore"), name), tool) == words


def test_the_head_follows_a_bar_into_a_wide_bore():
    """A bore of 320 mm lets the head of 300 mm in: the bar of 150 mm reaches 450 mm."""
    blank = {**RING, "diameter": "600 mm", "bore": "310 mm"}
    made = part(LOWER, UPPER, bore(diameter=320), outside("rim", 0, 200, 590), blank=blank)
    assert way(named(operations(made, "bore"), "bore/rough"), "B1", "I")


def test_missing_conditions_are_said():
    """A shop without a row for rough turning of steel says which row is missing."""
    rows = [row for row in CONDITIONS if (row["method"], row["stage"]) != ("turning", "rough")]
    rough = named(operations(plain_ring(), "rim", shop_with(conditions=rows)), "rim/rough")
    assert sentence_of(rough, "R1") == (
        "no cutting conditions for turning, carbide, steel, rough -> Add a row to the conditions of the shop "
        "file, or give conditions for the feature"
    )


def test_a_grade_beyond_the_machine_is_sent_out():
    """IT5 is closer than the IT6 that the machine turns: grinding outside stays as the way."""
    made = part(LOWER, UPPER, bore(tolerance="H5"), outside("rim", 0, 200, 390))
    finish = named(operations(made, "bore"), "bore/finish")
    assert [(each.method, each.clamping) for each in finish.alternatives] == [("grinding", BENCH)]
    assert sentence_of(finish, "B2").startswith("grade IT5 is closer than the machine turns: IT6 at best")


def hardened(**keys):
    """Make a case hardened ring with a datum bore."""
    return part(
        LOWER,
        UPPER,
        bore(**keys),
        outside("rim", 0, 200, 390),
        material="18CrNiMo7-6",
        heat_treatment={"kind": "case hardening", "duration": "5 d"},
        datums={"A": "bore", "P1": "rim"},
    )


def test_stages_of_a_case_hardened_datum():
    """Rough and semi before hardening with 0.25 mm left, hard afterwards with CBN or ground outside."""
    again = {
        **FROM_BELOW, "name": "III", "on": "rim", "rests_on": "upper_face", "z_from": "160 mm",
        "z_to": "200 mm",
    }  # fmt: skip
    made = hardened().model_copy(
        update={"clampings": tuple(map(Clamping.model_validate, (FROM_BELOW, FROM_ABOVE, again)))}
    )
    rough, semi, hard = operations(made, "bore")
    assert [op.name for op in (rough, semi, hard)] == ["bore/rough", "bore/semi", "bore/hard"]
    assert [op.stage for op in (rough, semi, hard)] == [Stage.ROUGH, Stage.SEMI, Stage.HARD]
    assert [op.hard for op in (rough, semi, hard)] == [False, False, True]
    # Stock: (120 - 100)/2 = 10; rough leaves 0.65, semi takes 0.4 and leaves 0.25.
    assert fact(way(semi, "B2", "I"), "depth of cut") == pytest.approx(0.4)
    assert fact(way(hard, "C2", "III"), "depth of cut") == pytest.approx(0.25)
    assert ("grinding", BENCH) in {(each.method, each.clamping) for each in hard.alternatives}
    assert not any(each.tool == "B2" for each in hard.alternatives)


def test_other_surfaces_of_a_case_hardened_part_are_finished_soft():
    """A rim that is only a process datum keeps its soft finish."""
    assert [op.name for op in operations(hardened(), "rim")] == ["rim/rough", "rim/finish"]
    assert [op.hard for op in operations(hardened(), "rim")] == [False, False]


def test_cbn_does_not_cut_soft():
    """CBN is kept for hard surfaces."""
    finish = named(operations(plain_ring(), "rim"), "rim/finish")
    assert {each.tool for each in finish.alternatives} == {"F1"}


def test_at_most_three_ways_for_each_clamping():
    """Of five equal tools the three quickest stay."""
    more = [{**TOOLS[0], "name": f"R{number}", "cutting_speed": f"{200 + number} m/min", "feed": "0.4 mm"}
            for number in range(2, 6)]  # fmt: skip
    rough = named(operations(plain_ring(), "rim", shop_with(tools=[*TOOLS, *more])), "rim/rough")
    assert [each.tool for each in rough.alternatives] == ["R5", "R4", "R3"]


def test_an_impossible_tool_is_an_operation_without_a_way():
    """The planner asks for a drill: nothing is left, and every way says so."""
    made = plain_ring(outside("seat", 0, 200, 390, tool="D14"))
    rough, finish = operations(made, "seat")
    assert rough.alternatives
    assert not finish.alternatives
    assert "works, but the planner asks for tool D14" in {each.sentence for each in finish.rejected}


def test_a_wish_for_a_clamping_holds_for_the_finish_only():
    """Roughing stays free, the finish goes where the planner wants it."""
    grips = [_outside_grip("I", "lower", 160, 203), _outside_grip("II", "upper", 0, 40)]
    made = part(LOWER, UPPER, bore(clamping="II"), outside("rim", 0, 200, 390), clampings=grips)
    rough, finish = operations(made, "bore")
    assert {each.clamping for each in rough.alternatives} == {"I", "II"}
    assert {each.clamping for each in finish.alternatives} == {"II"}
    assert "the planner asks for clamping II" in {each.sentence for each in finish.rejected}


def _outside_grip(name, up, z_from, z_to):
    return {
        "name": name, "up": up, "hold": "outside jaws", "on": "blank", "rests_on": "blank",
        "z_from": f"{z_from} mm", "z_to": f"{z_to} mm",
    }  # fmt: skip


def test_a_neck_between_two_flanges_is_plunged():
    """30 mm proud on both sides: the blade of 40 mm does it from the side, the one of 10 mm does not."""
    made = part(LOWER, UPPER, bore(), outside("foot", 0, 40, 390), outside("neck", 40, 80, 330),
                outside("flange", 80, 200, 390))  # fmt: skip
    rough = named(operations(made, "neck"), "neck/rough")
    assert {(each.method, each.tool) for each in rough.alternatives} == {("grooving", "G8")}
    assert sentence_of(rough, "G3", "II") == (
        "flange above it stands 30 mm proud, the blade reaches 10 mm -> A blade 30 mm deep, or cut it from "
        "the other side"
    )


def test_a_neck_that_is_open_in_another_clamping_is_turned_there():
    """From below the neck is open: nobody plunges it behind the flange."""
    made = part(LOWER, UPPER, bore(), outside("neck", 0, 80, 330), outside("flange", 80, 200, 390))
    rough = named(operations(made, "neck"), "neck/rough")
    assert {(each.method, each.clamping) for each in rough.alternatives} == {("turning", "I")}
    assert "flange above it stands 30 mm proud; it is turned openly in I" in {
        each.sentence for each in rough.rejected
    }


def test_a_tool_that_comes_too_late_is_rejected():
    """Not owned, 90 days to buy, due in 30 days."""
    tools = [{**each, "owned": 0, "lead_time": "90 d"} if each["name"] == "R1" else each for each in TOOLS]
    made = plain_ring(order_date="2027-03-01", due="2027-03-31")
    rough = named(operations(made, "rim", shop_with(tools=tools)), "rim/rough")
    assert sentence_of(rough, "R1") == (
        "not in the shop; it comes 90 d after the order, the part is due after 30 d -> Order it at once, or "
        "move the due date"
    )
    in_time = plain_ring(order_date="2027-03-01", due="2027-07-31")
    assert way(named(operations(in_time, "rim", shop_with(tools=tools)), "rim/rough"), "R1", "II")
