"""Gear cuts against the torque of table and spindle at their speed, and against what holds the part."""

from __future__ import annotations

import math

import pytest
from test_skiving_ways import SPUR_CUTTER
from tooth_floor import DISC, HOB, MILL, double_wheel, fact, fitted, only, refusal, shop, spur, tool, tried

from sequencer.operations.context import Context
from sequencer.operations.operation import FittedClamping
from sequencer.operations.teeth.holds import Hold, force_needed, left_at_speed, table_limit, table_torque
from sequencer.operations.teeth.share import Share
from sequencer.part.section import make_section
from sequencer.shop import ClampingMeans, Shop
from sequencer.shop.machine import Table

WHEEL_HOB = tool("H1", HOB)


def held(hold: str, force: str, **more: object) -> FittedClamping:
    """The wheel held with some force."""
    made = double_wheel(gap=150)
    means = {
        "name": "grip",
        "hold": hold,
        "diameter_from": "100 mm",
        "diameter_to": "1400 mm",
        "force": force,
        "mass": "150 kg",
    }
    base = fitted(made)
    how = base.clamping.model_copy(update={"hold": hold})
    grip = ClampingMeans.model_validate(means | more)
    return FittedClamping(how, grip, base.reach, False, 240, "table 240 rpm", 950.0)


def context(floor: Shop) -> Context:
    """The wheel on a shop."""
    made = double_wheel(gap=150)
    return Context(made, floor, make_section(made), (fitted(made),))


def test_torque_of_the_table_is_that_of_the_vectors() -> None:
    """Derived: 10 kN along teeth of 20 deg, 3 kN across, at radius 450: round the axis 6.24 kN, 2.81 kN m."""
    hold = Hold(held("bolts", "200 kN"), 900.0, 20.0, 100.0, 50.0, False)
    lean = math.radians(20)
    along = (math.sin(lean), math.cos(lean))
    across = (math.cos(lean), -math.sin(lean))
    round_axis = 10_000 * along[0] + 3_000 * across[0]
    assert table_torque(hold, 10_000) == pytest.approx(round_axis * 0.45)


def test_the_table_has_less_torque_at_speed() -> None:
    """55 kW at 80 % and 100 rpm give 4202 N m of the 9000; standing still it has all of it."""
    hold = Hold(held("bolts", "200 kN"), 900.0, 20.0, 100.0, 100.0, False)
    where = context(shop(WHEEL_HOB))
    assert table_limit(where, hold) == pytest.approx(44_000 * 60 / (2 * math.pi * 100))
    still = Hold(hold.clamping, 900.0, 20.0, 100.0, 0.0, False)
    assert table_limit(where, still) == 9000


def test_jaws_hold_by_friction_alone_and_bolts_are_relieved_by_lifting() -> None:
    """Derived, friction 0.15, safety 1.5, blank of 920 gripped, 10 kN at 900 mm leaning 20 deg."""
    where = context(shop(WHEEL_HOB))
    lean = math.radians(20)
    around = 10_000 * (math.sin(lean) + 0.3 * math.cos(lean)) * 900 / 920
    lift = 10_000 * math.cos(lean)
    jaws = Hold(held("outside jaws", "200 kN"), 900.0, 20.0, 100.0, 50.0, False)
    bolts = Hold(held("bolts", "200 kN"), 900.0, 20.0, 100.0, 50.0, False)
    assert force_needed(where, jaws, 10_000) == pytest.approx(1.5 * math.hypot(around, lift) / 0.15)
    assert force_needed(where, bolts, 10_000) == pytest.approx(1.5 * (around / 0.15 + lift))


def test_jaws_outside_lose_force_with_speed() -> None:
    """VDI 3106: 200 kN/1.5 less 26 kg m (pi 200/30)^2 = 11.4 kN; finishing holds with less."""
    where = context(shop(WHEEL_HOB))
    clamping = held("outside jaws", "200 kN", finishing_force="60 kN", jaw_moment="26 kg m")
    rough, finish = (Hold(clamping, 900.0, 20.0, 100.0, 200.0, lower) for lower in (False, True))
    opening = 26 * (math.pi * 200 / 30) ** 2
    assert left_at_speed(where, rough) == pytest.approx(200_000 / 1.5 - opening)
    assert left_at_speed(where, finish) == pytest.approx(60_000 / 1.5 - opening)


@pytest.mark.parametrize("name", ["H1", "S6", "D1", "M1"])
def test_every_gear_method_says_table_torque_and_clamping_force(name: str) -> None:
    tools = {
        "H1": (double_wheel(gap=150), "wheel", "upper", WHEEL_HOB),
        "S6": (spur(shoulder=492), "pinion", "", SPUR_CUTTER),
        "D1": (double_wheel(gap=200), "wheel", "upper", tool("D1", DISC, least_teeth=100)),
        "M1": (double_wheel(), "wheel", "upper", tool("M1", MILL)),
    }
    made, feature, half, cutter = tools[name]
    way = only(tried(made, shop(cutter), feature, half, Share.ROUGH).alternatives)
    assert 0 < fact(way, "table torque, rough") < 9000
    assert 0 < fact(way, "clamping force needed, rough") < 200


def test_a_weak_grip_lowers_the_feed_or_refuses() -> None:
    """Force grows with feed^0.75: 80 % of the friction needed leaves 74 % of the feed."""
    made = double_wheel(gap=150)
    full = only(tried(made, shop(WHEEL_HOB), "wheel", "upper").alternatives)
    assert not any(one.name == "feed kept, rough" for one in full.facts)
    lift = 0.96 * 1.5 * fact(full, "spindle torque, rough") / 1.5 / 70
    friction = 0.15 * (fact(full, "clamping force needed, rough") - lift) / (200 / 1.5 - lift)
    limits = {"jaw_friction": 0.8 * friction}
    kept = only(tried(made, shop(WHEEL_HOB, limits=limits), "wheel", "upper").alternatives)
    assert fact(kept, "feed kept, rough") == pytest.approx(100 * 0.8 ** (4 / 3), abs=4)
    text = next(one.formula for one in kept.facts if one.name == "feed kept, rough")
    assert "to stay within the 133.3 kN that risers has left at" in text
    weak = {"jaw_friction": 0.021}
    failed = refusal(tried(made, shop(WHEEL_HOB, limits=weak), "wheel", "upper"), "H1")
    assert "to stay within the 133.3 kN that risers has left at" in failed.sentence
    assert "hold the part with more force" in failed.remedy


def test_a_torque_curve_counts_at_the_speed_used() -> None:
    curve = [{"speed": "100 rpm", "torque": "1500 N m"}, {"speed": "300 rpm", "torque": "300 N m"}]
    floor = shop(WHEEL_HOB, spindle={"torque_at_speed": curve})
    spindle = floor.machine.spindle
    assert [spindle.torque_at(rpm) for rpm in (20, 100, 200, 300, 900)] == [1500, 1500, 900, 300, 300]
    table = floor.machine.table
    assert table.torque_at(50) == 9000


def test_a_torque_curve_must_rise_in_speed() -> None:
    curve = [{"speed": "300 rpm", "torque": "300 N m"}, {"speed": "100 rpm", "torque": "1500 N m"}]
    given = shop(WHEEL_HOB).machine.table.model_dump()
    with pytest.raises(ValueError, match="torque_at_speed must be in rising order of speed"):
        Table.model_validate({**given, "torque_at_speed": curve})
