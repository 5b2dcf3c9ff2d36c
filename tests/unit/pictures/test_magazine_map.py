"""The magazine map: every pocket in its place, tools to scale, words clear of each other."""

from __future__ import annotations

import re
from dataclasses import replace
from math import hypot
from typing import Any

import pytest
from clear_words import check_words
from example_plan import example_plan

from sequencer.magazine import make_magazine
from sequencer.pictures.magazine_layout import lay_out_magazine
from sequencer.pictures.magazine_map import magazine_map
from sequencer.plan import Plan
from sequencer.units import parse


def _length(text: str) -> Any:
    return parse(text, "length")


def _plan(form: str, pockets: int, **more: Any) -> Plan:
    """The example plan on a magazine of another form and size."""
    plan = example_plan()
    magazine = plan.shop.magazine.model_copy(update={"form": form, "pockets": pockets, **more})
    shop = plan.shop.model_copy(update={"magazine": magazine})
    return replace(plan, shop=shop, magazine=make_magazine(plan.sequence, shop, plan.part.lot))


SHAPES: tuple[tuple[str, int, dict[str, Any]], ...] = (
    ("chain", 24, {}),
    ("chain", 60, {}),
    ("chain", 120, {}),
    ("drum", 24, {}),
    ("drum", 120, {}),
    ("rack", 24, {}),
    ("rack", 120, {"rows": 6, "row_pitch": _length("200 mm")}),
)


@pytest.mark.parametrize(("form", "pockets", "more"), SHAPES)
def test_words_are_clear_at_any_size(form: str, pockets: int, more: dict[str, Any]) -> None:
    plan = _plan(form, pockets, **more)
    words = {each.text for each in check_words(magazine_map(plan))}
    assert {str(number) for number in range(1, pockets + 1)} <= words
    for pocket in plan.magazine.pockets:
        if pocket.tool and not pocket.sister:
            assert any(pocket.tool in each for each in words)


@pytest.mark.parametrize("form", ["chain", "drum"])
def test_neighbours_stand_a_pitch_apart_and_tools_are_as_wide_as_in_the_shop_file(form: str) -> None:
    """Drum: the chord between neighbours is the pitch; chain: the way along it, so bends are shorter."""
    plan = _plan(form, 40)
    layout = lay_out_magazine(plan.magazine, plan.shop)
    pitch = float(plan.shop.magazine.pitch) * layout.scale
    apart = [hypot(b.x - a.x, b.y - a.y) for a, b in zip(layout.places, layout.places[1:], strict=False)]
    assert max(apart) == pytest.approx(pitch, rel=1e-6)
    if form == "drum":
        assert min(apart) == pytest.approx(pitch, rel=1e-6)
    drawn = [float(r) for r in re.findall(r'<circle [^>]*r="([\d.]+)"', magazine_map(plan))]
    for pocket in plan.magazine.pockets:
        if pocket.tool:
            diameter = float(plan.shop.tool_by_name[pocket.tool].body_diameter)
            assert any(abs(r - diameter / 2 * layout.scale) < 0.002 for r in drawn)


def test_a_tool_too_wide_for_a_full_pocket_blocks_hatched_neighbours() -> None:
    plan = _plan("chain", 40, diameter_full=_length("30 mm"), pitch=_length("60 mm"))
    blocked = [pocket for pocket in plan.magazine.pockets if pocket.blocked_by]
    assert blocked
    drawn = magazine_map(plan)
    legend = 1
    assert len(re.findall(r'<circle [^>]*fill="url', drawn)) == len(blocked) + legend


def test_long_names_stand_in_a_list_under_the_map() -> None:
    plan = _plan("chain", 24)
    name = plan.magazine.uses[0].tool
    long = f"{name}_{'x' * 50}"
    pockets = tuple(replace(each, tool=long) if each.tool == name else each for each in plan.magazine.pockets)
    tools = tuple(
        tool.model_copy(update={"name": long}) if tool.name == name else tool for tool in plan.shop.tools
    )
    shop = plan.shop.model_copy(update={"tools": tools})
    shop.__dict__.pop("tool_by_name", None)
    words = check_words(
        magazine_map(replace(plan, shop=shop, magazine=replace(plan.magazine, pockets=pockets)))
    )
    number = next(each.number for each in pockets if each.tool == long)
    assert f"{number}  {long}" in {each.text for each in words}


def test_mass_balance_and_openings_are_told() -> None:
    shop_words = {"door": {"diameter": "300 mm", "mass": "25 kg"}}
    plan = _plan("drum", 30)
    magazine = type(plan.shop.magazine).model_validate(plan.shop.magazine.model_dump() | shop_words)
    shop = plan.shop.model_copy(update={"magazine": magazine})
    words = " ".join(each.text for each in check_words(magazine_map(replace(plan, shop=shop))))
    assert "Mass of the tools" in words
    assert "any two halves" in words
    assert "Door to the spindle: takes tools up to diameter 300 mm, mass 25 kg" in words


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert magazine_map(_plan("chain", 40)) == magazine_map(_plan("chain", 40))
