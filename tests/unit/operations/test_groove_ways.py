"""Grooves: blades, several plunges, turn-milling, and what does not fit."""

from __future__ import annotations

import math

import pytest
from small_parts import (
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
    way,
    zone,
)

from sequencer.operations import Mode
from sequencer.operations.grooves import groove_operations


def operations(made, feature, shop=None):
    """Give the operations of one groove."""
    return groove_operations(context_of(made, shop), made.by_name[feature])


def groove(width, depth, **keys):
    """Write a groove in the rim of 390, from z 60 up."""
    return zone("slot", "groove", 60, 60 + width, diameter=f"{390 - 2 * depth} mm", on="rim", **keys)


def test_a_small_groove_is_cut_in_one_operation():
    """8 x 10 = 80 mm2 is below 100 times 1.5 mm."""
    assert [op.name for op in operations(plain_ring(groove(8, 10)), "slot")] == ["slot/finish"]


def test_a_large_groove_is_roughed_first():
    """40 x 20 = 800 mm2; roughing heats the part and counts as heavy."""
    rough, finish = operations(plain_ring(groove(40, 20)), "slot")
    assert (rough.name, finish.name) == ("slot/rough", "slot/finish")
    assert rough.heavy
    assert not finish.heavy


def test_time_of_several_plunges_by_hand():
    """Width 40 less 2*0.5, blade 8, overlap 0.8: 1 + ceil((39 - 8)/7.2) = 6 plunges from 390 to 350.

    Constant speed 120 m/min: pi (390^2 - 350^2)/(4000*120*0.2) = 0.9687 min; dwell 2 turns at
    1000*120/(pi*390) = 97.94 rpm: 0.0204 min; 6*(0.9687 + 0.0204) = 5.935 min. Held in I by hard jaws.
    """
    found = way(named(operations(plain_ring(groove(40, 20)), "slot"), "slot/rough"), "G8", "I")
    one = math.pi * (390**2 - 350**2) / (4000 * 120 * 0.2) + 2 / (1000 * 120 / (math.pi * 390))
    assert found.minutes == pytest.approx(6 * one, rel=1e-9)
    assert found.minutes == pytest.approx(5.935, abs=0.002)
    assert formula(found, "plunges") == "1 + ceil((W - w)/(w - overlap)) = 1 + ceil((39 - 8)/(8 - 0.8)) = 6"


BLADES = [
    (groove(6, 5), "G8", "blade 8 mm is wider than the groove 6 mm -> A blade of at most 6 mm"),
    (groove(20, 20), "G3", "groove 20 mm deep, the blade reaches 10 mm and its body of 60 mm does not enter "
     "the width 20 mm -> A blade 20 mm deep"),
]  # fmt: skip


@pytest.mark.parametrize(("feature", "tool", "words"), BLADES)
def test_blades_that_do_not_fit_say_why(feature, tool, words):
    """Too wide, or too short."""
    finish = operations(plain_ring(feature), "slot")[-1]
    assert sentence_of(finish, tool) == words


def test_a_short_blade_follows_its_body_into_a_wide_groove():
    """The body of 60 mm enters a groove of 70 mm: a blade of 10 mm cuts it 20 mm deep."""
    rough = operations(plain_ring(groove(70, 20)), "slot")[0]
    assert way(rough, "G3", "II")


def test_turn_milling_is_an_alternative_in_a_wide_groove():
    """End mill 40 in a groove of 70 roughed to 69: 1 + ceil(29/28) = 3 tracks, 19.5/3 -> 7 layers.

    n = 1000*160/(pi*40) = 1273.2 rpm, vf = 0.15*4*1273.2 = 763.9 mm/min; t = 21*pi*370/763.9 = 31.95 min.
    """
    rough = operations(plain_ring(groove(70, 20)), "slot")[0]
    found = way(rough, "E40", "II")
    assert (found.method, found.mode) == ("turn-milling", Mode.MILLING)
    assert found.minutes == pytest.approx(
        21 * math.pi * 370 / (0.15 * 4 * 1000 * 160 / (math.pi * 40)), rel=1e-9
    )
    assert fact(found, "tracks") == 3
    assert fact(found, "layers") == 7


def test_turn_milling_needs_the_head_level_above_the_table():
    """In I z 95 lies 203 - 95 mm above the table, raw stock counts; the level head of 300 mm needs 150."""
    rough = operations(plain_ring(groove(70, 20)), "slot")[0]
    assert sentence_of(rough, "E40", "I") == (
        "the level head of 300 mm needs 150 mm above the table, z 95 mm lies 108 mm above it -> A riser "
        "higher by 42 mm"
    )


def test_a_head_that_does_not_tilt_level_cannot_turn_mill():
    """A head that tilts to 60 deg only."""
    shop = shop_with(machine__spindle__tilt_to="60 deg")
    rough = operations(plain_ring(groove(70, 20)), "slot", shop)[0]
    assert "needs the head level (90 deg), it tilts from -30 to 60 deg" in sentence_of(rough, "E40")


def test_a_wish_for_turn_milling_holds_for_both_stages():
    """Who asks for turn-milling does not get blades."""
    rough, finish = operations(plain_ring(groove(70, 20, method="turn-milling")), "slot")
    assert {each.method for each in rough.alternatives} == {"turn-milling"}
    assert {each.method for each in finish.alternatives} == {"turn-milling"}


def test_an_inside_groove_counts_from_the_opening_above():
    """Floor 150 below an opening of 120: the blade must reach 15 mm; the next deeper one is not cut."""
    fits = plain_ring(zone("slot", "groove", 100, 105, place="inside", diameter="150 mm", on="bore"))
    assert way(operations(fits, "slot")[-1], "GI", "II")
    deep = plain_ring(zone("slot", "groove", 100, 105, place="inside", diameter="152 mm", on="bore"))
    assert "groove 16 mm deep, the blade reaches 15 mm" in sentence_of(operations(deep, "slot")[-1], "GI")


def face_groove(inner, outer, depth):
    """Write a groove in the upper face."""
    return {
        "name": "slot", "kind": "face_groove", "on": "upper_face", "side": "upper", "depth": f"{depth} mm",
        "inner_diameter": f"{inner} mm", "outer_diameter": f"{outer} mm",
    }  # fmt: skip


FACE_BLADES = [
    (face_groove(300, 340, 35), "groove 35 mm deep, the blade reaches 30 mm"),
    (face_groove(300, 308, 10), "blade 6 mm is wider than the groove 4 mm"),
]


@pytest.mark.parametrize(("feature", "words"), FACE_BLADES)
def test_face_blades_that_do_not_fit_say_why(feature, words):
    """Too shallow or too wide."""
    assert words in sentence_of(operations(plain_ring(feature), "slot")[-1], "GF", "II")


def test_a_curved_face_blade_has_its_range():
    """The first plunge may lie anywhere between the walls; beyond 400 mm this blade does not go."""
    blank = {"form": "ring", "diameter": "700 mm", "bore": "100 mm", "z_from": "-3 mm", "z_to": "203 mm"}
    fits = part(LOWER, UPPER, bore(), outside("rim", 0, 200, 690), face_groove(380, 460, 20), blank=blank)
    assert way(operations(fits, "slot")[0], "GF", "II")
    wide = part(LOWER, UPPER, bore(), outside("rim", 0, 200, 690), face_groove(500, 560, 20), blank=blank)
    text = sentence_of(operations(wide, "slot")[0], "GF", "II")
    assert text.startswith("its curved blade cuts up to diameter 400 mm, the groove begins at 500 mm")


def test_a_heavy_blade_on_a_weak_grip_is_fed_less():
    """8 mm at 0.2 mm need 3828 N; inside jaws hold 120/1.5*0.15*120/2/1.5 = 480 N m, 2462 N at 390."""
    rough = operations(plain_ring(groove(40, 20)), "slot")[0]
    found = way(rough, "G8", "II")
    limit = 120000 / 1.5 * 0.15 * 120 / 1.5 / 390
    assert fact(found, "cutting force") == pytest.approx(limit, rel=1e-6)
    assert "feed reduced from 0.2 mm" in formula(found, "cutting force")


def test_a_shop_without_blades_has_no_way():
    """Without blade and turn-milling cutter the operation stays without alternatives."""
    tools = [tool for tool in TOOLS if tool["kind"] != "grooving"]
    finish = operations(plain_ring(groove(8, 10)), "slot", shop_with(tools=tools))[-1]
    assert not finish.alternatives
