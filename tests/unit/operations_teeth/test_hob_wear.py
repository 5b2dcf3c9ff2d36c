"""Facts of a hob: teeth in use, shift, gears until the regrind, facets, signs."""

from __future__ import annotations

import math

import pytest
from tooth_floor import HOB, double_wheel, fact, only, refusal, shop, spur, tool, tried

from sequencer.operations.operation import Alternative

SPUR_HOB = tool("H6", HOB, module="6 mm", outside_diameter="110 mm", length="150 mm", life_length="100 m")


def words(way: Alternative, name: str) -> str:
    """Formula of a fact."""
    return next(one.formula for one in way.facts if one.name == name)


def hobbed(**changes: object) -> Alternative:
    """The way of the spur hob with some keys changed."""
    made = spur(groove=100, shoulder=520)
    return only(tried(made, shop({**SPUR_HOB, **changes}), "pinion").alternatives)


def test_hob_teeth_in_use_are_those_of_the_shift_range() -> None:
    """Derived by counting: 150 - 2 (1.25*6/tan 20 + 6) = 96.8 mm hold 12 teeth for each 18.9 mm."""
    way = hobbed()
    free = 150 - 2 * (7.5 / math.tan(math.radians(20)) + 6)
    lead = math.asin(6 / (110 - 15))
    assert fact(way, "hob teeth in use") == pytest.approx(12 * free * math.cos(lead) / (6 * math.pi))
    metres = 80 * 70 / 1000
    assert fact(way, "gear teeth for each hob tooth") == pytest.approx(metres / fact(way, "hob teeth in use"))


def test_shift_spreads_the_gears_of_a_life_over_the_hob() -> None:
    """80 m at 80 % of 100 m, 5.6 m a gear: 14 gears, each 1/14.3 of the range further."""
    way = hobbed()
    assert fact(way, "gears until the hob is reground") == 14
    free = 150 - 2 * (7.5 / math.tan(math.radians(20)) + 6)
    assert fact(way, "shift after each gear") == pytest.approx(free * 5.6 / 80)
    assert fact(hobbed(uses=10), "length of teeth until the hob is scrap") == pytest.approx(800)


def test_a_short_hob_is_not_shifted() -> None:
    way = hobbed(length="48 mm")
    assert "too short to shift" in words(way, "hob teeth in use")
    assert not any(one.name == "shift after each gear" for one in way.facts)


def test_a_hob_without_a_life_says_its_teeth_only() -> None:
    way = hobbed(life_length=None)
    assert fact(way, "hob teeth in use") > 0
    assert not any("reground" in one.name for one in way.facts)


def test_facets_are_held_to_the_profile_form_tolerance() -> None:
    """1000 pi^2 z0^2 m sin(20)/(4 z i^2): 12 gashes 0.44; four starts of 6 gashes, 28.1 um, are refused."""
    way = hobbed()
    height = 1000 * math.pi**2 * 6 * math.sin(math.radians(20)) / (4 * 80 * 144)
    assert fact(way, "height of profile facets") == pytest.approx(height)
    assert "% of the profile form tolerance" in words(way, "height of profile facets")
    made = spur(groove=100, shoulder=520)
    coarse = shop({**SPUR_HOB, "starts": 4, "gashes": 6, "quality": "AAA"})
    failed = refusal(tried(made, coarse, "pinion"), "H6")
    assert "leaves facets of 28.1 um, the profile form tolerance is" in failed.sentence
    assert "gashes" in failed.remedy


def test_the_chip_at_the_hob_tip_says_how_far_it_is_trusted() -> None:
    way = hobbed()
    chip = next(one for one in way.facts if one.name == "head chip thickness, rough")
    assert chip.estimate
    assert "low confidence" in chip.formula
    assert 0.02 < chip.value < 0.6


@pytest.mark.parametrize(("half", "right"), [("upper", True), ("lower", False)])
def test_swivel_and_senses_are_said_for_both_hands(half: str, right: bool) -> None:
    """A right-hand hob on right-hand teeth has its left end up and turns the table clockwise.

    Derived by vectors: the feed downwards turns right-hand teeth anticlockwise, against the table.
    """
    hob = tool("H1", HOB, hand="right" if right else "left")
    way = only(tried(double_wheel(gap=150), shop(hob), "wheel", half).alternatives)
    assert ("left end up" if right else "right end up") in words(way, "swivel of the hob")
    climb, conventional = words(way, "senses of hob and table").split(";")
    assert f"the table turns {'clockwise' if right else 'anticlockwise'} from" in climb
    assert "makes it slower" in climb
    assert "makes it faster" in conventional
    assert fact(way, "senses of hob and table") == (-1 if right else 1)
