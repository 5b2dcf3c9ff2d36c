"""Stiffness of boring bars, fine-boring heads, hollow drills and the thrust of the slide."""

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
    tool,
    way,
)
from test_hole_ways import GRIPS, SOLID, holes
from test_hole_ways import operations as hole_steps

from sequencer.cutting import bars
from sequencer.errors import OutOfRange
from sequencer.operations.centre_drilling import centre_drill_operations
from sequencer.operations.turning import turned_operations

THICK = next(each for each in TOOLS if each["name"] == "B2")


def with_bar(**changes):
    """The shop whose thick bar has some keys changed."""
    return shop_with(tools=[*(each for each in TOOLS if each["name"] != "B2"), {**THICK, **changes}])


def finished(shop):
    """Finishing of the bore of the ring."""
    made = part(LOWER, UPPER, bore(tolerance="H7"), outside("rim", 0, 200, 390))
    return named(turned_operations(context_of(made, shop), made.by_name["bore"]), "bore/finish")


def test_deflection_of_a_beam():
    """Strength of materials: F L^3/(3 E I) with I = pi 60^4/64 = 636 173 mm4; 500 N, 240 mm: 17.2 um."""
    inertia = math.pi * 60**4 / 64
    assert bars.bar_deflection(500, 240, 60) == pytest.approx(500 * 240**3 / (3 * 210_000 * inertia))
    assert 1000 * bars.bar_deflection(500, 240, 60) == pytest.approx(17.2, abs=0.1)
    assert bars.overhang_ratio(240, 60) == 4
    with pytest.raises(OutOfRange, match="diameter is 0"):
        bars.bar_deflection(500, 240, 0)


def test_a_slender_steel_bar_is_refused_and_a_damped_one_is_not():
    """300 mm at 50 mm are 6 diameters: steel 4, heavy metal 6, damped 10 (common practice, no source)."""
    text = sentence_of(finished(with_bar(bar_diameter="50 mm")), "B2")
    assert text.startswith("the steel bar hangs out 6 diameters (300 mm at 50 mm), 4 are allowed")
    assert "of at most 200 mm overhang" in text
    for kind in ("heavy metal", "carbide", "damped"):
        found = way(finished(with_bar(bar_diameter="50 mm", bar=kind)), "B2", "I")
        assert fact(found, "overhang of the bar") == 6
    stiff = shop_with(tools=[*TOOLS], limits={"bar_slenderness": 7})
    assert stiff.limits.bar_slenderness == 7


def test_a_bar_says_how_far_it_yields():
    """Half the cutting force lies across the bar; carbide yields a third of steel."""
    damped, carbide = (
        way(finished(with_bar(bar_diameter="50 mm", bar=kind)), "B2", "I") for kind in ("damped", "carbide")
    )
    force = fact(damped, "cutting force")
    assert fact(damped, "deflection of the bar") == pytest.approx(
        1000 * bars.bar_deflection(force / 2, 300, 50), rel=1e-6
    )
    assert fact(carbide, "deflection of the bar") == pytest.approx(
        fact(damped, "deflection of the bar") * 210 / 600
    )
    assert "the diameter changes by" in formula(damped, "deflection of the bar")


def test_a_bar_without_a_diameter_is_not_judged():
    assert not any("bar" in one.name for one in way(finished(shop_with()), "B2", "I").facts)


HEAD = tool(
    "BH", "boring head", "Fine-boring head", diameter_from="10 mm", diameter_to="60 mm", depth="90 mm",
    grade=6, body_diameter="50 mm",
)  # fmt: skip


def test_a_fine_boring_head_makes_what_no_reamer_does():
    """12 H6 is closer than the reamer; each hole is bored twice, the first one is measured in between."""
    made = plain_ring(holes(diameter="12 mm", ream="H6", depth="25 mm"))
    ream = named(hole_steps(made, shop_with(tools=[*TOOLS, HEAD])), "holes/ream")
    found = way(ream, "BH", "II")
    assert found.method == "fine boring"
    assert "holds IT6" in found.reason
    rpm, feed = fact(found, "revolutions"), fact(found, "feed")
    assert found.minutes > 6 * 4 * 27 / (feed * rpm)


def test_a_head_of_other_size_or_grade_is_refused():
    made = plain_ring(holes(diameter="12 mm", ream="H6", depth="25 mm"))
    for changes, words in (
        ({"diameter_from": "20 mm"}, "the head bores 20 mm to 60 mm, the hole is 12 mm"),
        ({"grade": 7}, "the head holds IT7, the hole wants IT6"),
    ):
        ream = named(hole_steps(made, shop_with(tools=[*TOOLS, {**HEAD, **changes}])), "holes/ream")
        assert words in sentence_of(ream, "BH")


HOLLOW = tool("TP", "trepanning", "Hollow drill 90", diameter="90 mm", width="15 mm", depth="250 mm")


def opened(upper_bore=None, **changes):
    """The opening of the solid blank with a hollow drill in the shop."""
    made = part(LOWER, UPPER, upper_bore or bore(), outside("rim", 0, 200, 390), blank=SOLID, clampings=GRIPS)
    context = context_of(made, shop_with(tools=[*TOOLS, {**HOLLOW, **changes}]))
    return centre_drill_operations(context, made.by_name["bore"])[0]


def test_a_hollow_drill_opens_a_large_bore_and_says_what_drops():
    """Core of 60 mm, 206 mm long: pi/4 36 cm2 20.6 cm 7.85 = 4.57 kg; n = 1000*80/(pi*90) = 282.9."""
    drill = opened()
    found = way(drill, "TP", "I")
    assert found.method == "trepanning"
    assert fact(found, "mass of the core") == pytest.approx(4.57, abs=0.01)
    assert "catch it before it drops" in found.reason
    assert found.minutes == pytest.approx(210 / (0.2 * 282.94), abs=0.002)
    # The drill of 60 mm would leave more for boring than the hollow one.
    assert "leaves more for boring than 90 mm" in sentence_of(drill, "D60")


def test_a_hollow_drill_asks_less_torque_than_a_full_one():
    """Ring of 15 mm against the solid: (90^2 - 60^2)/90^2 = 0.556 of the torque, by the text of the load."""
    found = way(opened(), "TP", "I")
    assert "power" in found.reason or "torque" in found.reason


def test_the_thrust_of_the_slide_limits_a_stroke_and_a_drill():
    """60 mm in the solid at 0.2: 0.5*1600*0.1^-0.25*0.2*30 = 8.5 kN; a slide of 6 kN slows it."""
    made = part(LOWER, UPPER, bore(), outside("rim", 0, 200, 390), blank=SOLID, clampings=GRIPS)
    weak = shop_with()
    spindle = weak.machine.spindle.model_copy(update={"thrust": 6000.0})
    weak = weak.model_copy(update={"machine": weak.machine.model_copy(update={"spindle": spindle})})
    found = way(centre_drill_operations(context_of(made, weak), made.by_name["bore"])[0], "D60", "I")
    assert fact(found, "feed") < 0.2
    assert "thrust" in formula(found, "feed")
