"""The shipped parts, planned from file to papers, with the key figures that a planner would expect."""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path

import pytest

from sequencer.errors import Severity
from sequencer.files import read_part_and_shop
from sequencer.operations import BENCH, Action
from sequencer.papers.write import write_papers
from sequencer.plan import Plan, make_plan
from sequencer.precedence import Relation, Strength

PARTS = Path(__file__).parents[2] / "parts"

#: Clampings in order; method of each tooth system (by operation); pairs that a gear shop does in this order.
EXPECTED = {
    "first_wheel": (
        ("I", "II"),
        {"teeth/finish": "hobbing"},
        [("lower_face/finish", "teeth/finish"), ("bore/finish", "keyway/finish")],
    ),
    "bridge_wheel": (
        ("I", "II"),
        {
            "wheel/finish_lower": "hobbing",
            "wheel/finish_upper": "hobbing",
            "pinion/finish": "power skiving",
            "spline/finish": "power skiving",
        },
        [
            ("apex/finish", "wheel/finish_lower"),
            ("wheel/finish_upper", "wheel/apex_check"),
            ("wheel/finish_upper", "bolts/drill"),
            ("spline_groove/finish", "spline/finish"),
            ("pinion_groove/finish", "pinion/finish"),
            ("bolts/drill", "bolts/tap"),
            ("pinion/deburr", "pinion/measure"),
            ("II/soak", "bore/finish"),
            ("lower_bolts/tap", "bore/finish"),
        ],
    ),
    "telescope_ring": (
        ("I", "II"),
        {"outer_teeth/finish": "hobbing", "inner_teeth/finish": "power skiving"},
        [("seat/finish", "outer_teeth/finish"), ("inner_groove/finish", "inner_teeth/finish")],
    ),
    "press_sleeve": (
        ("I", "II", "III"),
        {
            "low_gear/finish": "power skiving",
            "high_gear/finish": "power skiving",
            "spline/finish": "power skiving",
        },
        [
            ("low_gear/deburr", "part/heat_treat"),
            ("spline/finish", "part/heat_treat"),
            ("part/heat_treat", "bore/hard"),
            ("bore/hard", "low_gear/grind"),
        ],
    ),
    "mill_ring_inch": (
        ("I", "II"),
        {"outer_teeth/finish": "hobbing", "inner_teeth/finish": "power skiving"},
        [("dowels/drill", "dowels/ream"), ("pilot/finish", "outer_teeth/finish")],
    ),
}


@cache
def plan_of(name: str) -> Plan:
    """Plan a shipped part once."""
    return make_plan(*read_part_and_shop(PARTS / f"{name}.yaml", PARTS / "shop.yaml"), seconds=60)


@pytest.fixture(params=EXPECTED)
def name(request) -> str:
    """Name of a shipped part."""
    return request.param


def test_every_shipped_part_is_listed_here():
    """A new part gets its key figures."""
    assert {path.stem for path in PARTS.glob("*.yaml")} - {"shop"} == set(EXPECTED)


def test_the_order_is_proven_and_has_no_error(name):
    """Nothing is left unproven, and no finding is an error."""
    plan = plan_of(name)
    assert plan.sequence.proven
    assert [finding for finding in plan.findings if finding.severity is Severity.ERROR] == []


def test_clampings_are_as_few_as_the_part_needs(name):
    """The clampings, in the order of their visits."""
    visited = tuple(clamping for clamping, _ in plan_of(name).sequence.visits if clamping != BENCH)
    assert visited == EXPECTED[name][0]


def test_each_tooth_system_gets_the_method_of_the_trade(name):
    """Coarse with free ends: hob; near a shoulder or inside: skive. Common practice, no source."""
    steps = plan_of(name).sequence.by_operation
    assert {each: steps[each].alternative.method for each in EXPECTED[name][1]} == EXPECTED[name][1]


def test_what_a_gear_shop_does_first_stands_first(name):
    """A few pairs by hand, apart from the rules of the program."""
    steps = plan_of(name).sequence.by_operation
    for first, second in EXPECTED[name][2]:
        assert steps[first].number < steps[second].number, f"{first} before {second}"


def test_every_operation_is_done_once_and_every_must_holds(name):
    """Replayed on the steps and the dependencies, without the engine."""
    plan = plan_of(name)
    placed = [step.operation.name for step in plan.sequence.steps if not step.operation.opening]
    assert sorted(placed) == sorted(each.name for each in plan.operations.operations if not each.opening)
    place = {each: index for index, each in enumerate(placed)}
    clamping = {step.operation.name: step.alternative.clamping for step in plan.sequence.steps}
    for each in plan.graph.dependencies:
        if each.strength is Strength.SHOULD or each.first not in place:
            continue
        if each.relation is Relation.BEFORE and each.second in place:
            assert place[each.first] < place[each.second], each
        elif each.relation in (Relation.OPENS, Relation.CLOSES):
            others = [each.second] if each.second else [other for other in placed if other != each.first]
            for other in others:
                if clamping.get(other) == each.clamping and other in place:
                    later = place[other] > place[each.first]
                    assert later is (each.relation is Relation.OPENS), each


def test_each_clamping_begins_with_clamping_and_indicating(name):
    """R18: unknown shift otherwise."""
    for clamping, steps in plan_of(name).sequence.visits:
        if clamping != BENCH:
            assert [step.operation.action for step in steps[:2]] == [Action.CLAMP, Action.INDICATE]


def test_times_add_up(name):
    """Each step starts at the end of the one before; the last level is the sum without the first set-up."""
    plan = plan_of(name)
    clock = 0.0
    for step in plan.sequence.steps:
        assert step.start == pytest.approx(clock, abs=1e-6)
        clock = step.end
    first = next(steps for clamping, steps in plan.sequence.visits if clamping != BENCH)
    opening = sum(step.minutes for step in first if step.operation.opening)
    penalties = sum(each.penalty for each in plan.sequence.broken)
    starts_on_machine = plan.sequence.steps[0].operation.opening
    value = plan.sequence.levels[-1].value
    assert value == pytest.approx(clock + penalties - (opening if starts_on_machine else 0.0), abs=0.02)


def test_two_runs_give_the_same_bytes(name, tmp_path):
    """Papers and pictures of two separate plannings are equal byte by byte."""
    digests = []
    for run in ("one", "two"):
        plan = make_plan(*read_part_and_shop(PARTS / f"{name}.yaml", PARTS / "shop.yaml"), seconds=60)
        written = write_papers(plan, tmp_path / run)
        digests.append({path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in written})
    assert digests[0] == digests[1]


@pytest.mark.parametrize("aim", ["changes", "minutes"])
def test_other_aims_are_kept(aim):
    """Counting changes first gives no more tool changes; counting minutes gives no more minutes."""
    read = read_part_and_shop(PARTS / "first_wheel.yaml", PARTS / "shop.yaml")
    plan, usual = make_plan(*read, aim=aim), plan_of("first_wheel")
    assert plan.sequence.proven
    if aim == "changes":
        assert plan.sequence.count("tool change") <= usual.sequence.count("tool change")
    else:
        assert plan.sequence.levels[-1].value <= usual.sequence.levels[-1].value
