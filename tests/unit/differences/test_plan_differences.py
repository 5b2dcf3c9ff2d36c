"""Differences of two plans in words."""

from __future__ import annotations

import json
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.differences import (
    Outline,
    OutlineStep,
    differences,
    outline_from_dict,
    outline_of,
    outline_of_json,
)
from sequencer.differences.words import longest_rising

STEPS = (
    OutlineStep("face/finish", "turning", "T02", "I", 5.0, 0.1),
    OutlineStep("bore/finish", "boring", "T04", "I", 9.0, 0.5),
    OutlineStep("teeth/finish", "hobbing", "T47", "I", 28.5, 0.8),
    OutlineStep("keyway/finish", "slotting", "T43", "I", 3.0, 0.9),
)
BASE = Outline(STEPS, ("I",), 3, 2, 8, 900.0, "EUR")


def _words(after: Outline) -> list[str]:
    return [str(each) for each in differences(BASE, after)]


def test_a_plan_does_not_differ_from_itself() -> None:
    assert differences(BASE, BASE) == ()


def test_another_method_is_told_with_its_tools_and_times() -> None:
    milled = replace(STEPS[2], method="end-mill milling", tool="T33", minutes=208.5)
    words = _words(replace(BASE, steps=(*STEPS[:2], milled, STEPS[3])))
    assert words == [
        "teeth/finish: end-mill milling with T33 instead of hobbing with T47",
        "tools that come in: T33",
        "tools that go: T47",
        "teeth/finish: 208.5 min instead of 28.5",
        "time: 227.8 min instead of 47.8 (+180)",
    ]


def test_one_step_that_moves_is_told_once() -> None:
    words = _words(replace(BASE, steps=(STEPS[3], *STEPS[:3])))
    assert words == ["keyway/finish: first of all, was after teeth/finish"]


def test_another_clamping_and_a_new_operation() -> None:
    second = replace(STEPS[3], clamping="II")
    check = OutlineStep("teeth/measure", "measuring", "T65", "II", 12.0, 0.2)
    words = _words(replace(BASE, steps=(*STEPS[:3], second, check), clampings=("I", "II"), cost=950.0))
    assert words[:3] == [
        "clampings I, II instead of I",
        "new: teeth/measure",
        "keyway/finish: in II instead of I",
    ]
    assert "cost of a piece: 950 EUR instead of 900 (+50)" in words


@settings(deadline=None, derandomize=True)
@given(st.permutations(range(9)))
def test_fewest_moves(order: list[int]) -> None:
    """The kept ones rise, and no longer rising choice exists (compared with a quadratic search)."""
    kept = longest_rising(order)
    assert kept == sorted(kept)
    best = [1] * len(order)
    for at, value in enumerate(order):
        best[at] += max((best[before] for before in range(at) if order[before] < value), default=0)
    assert len(kept) == max(best)
    places = [order.index(value) for value in kept]
    assert places == sorted(places)


def test_an_outline_comes_back_from_its_values_and_from_plan_json() -> None:
    from pathlib import Path

    from sequencer.files import read_part_and_shop
    from sequencer.papers.plan_json import plan_text, read_plan
    from sequencer.plan import make_plan

    parts = Path(__file__).parents[3] / "parts"
    plan = make_plan(*read_part_and_shop(parts / "first_wheel.yaml", parts / "shop.yaml"))
    outline = outline_of(plan)
    back = outline_from_dict(json.loads(json.dumps(outline.as_dict())))
    assert differences(outline, back) == ()
    assert differences(outline, outline_of_json(read_plan(plan_text(plan)))) == ()
    assert back.clampings == ("I", "II")
