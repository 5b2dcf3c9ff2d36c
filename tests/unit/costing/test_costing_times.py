"""Where the time goes: every minute of every step is in exactly one share."""

from __future__ import annotations

import pytest

from sequencer.costing import TimeKind
from sequencer.costing.times import batch_minutes
from sequencer.plan import Plan


def test_shares_of_each_step_add_up_to_its_minutes(bridge: Plan, sleeve: Plan) -> None:
    for plan in (bridge, sleeve):
        for time in plan.costing.times.steps:
            assert time.minutes == pytest.approx(time.step.minutes, abs=1e-9), time.step.operation.name


def test_machine_and_bench_add_up_to_the_plan(bridge: Plan) -> None:
    times = bridge.costing.times
    assert times.machine_minutes + times.bench_minutes == pytest.approx(bridge.sequence.minutes)
    assert sum(fact.value for _, fact in times.totals) == pytest.approx(bridge.sequence.minutes)


def test_turning_over_is_told_apart_from_clamping(bridge: Plan) -> None:
    """The shop: clamp 35 min, turn over 45 min, two clampings and one turn."""
    times = bridge.costing.times
    assert times.of(TimeKind.CLAMPING) == pytest.approx(70)
    assert times.of(TimeKind.TURN_OVER) == pytest.approx(45)
    assert times.of(TimeKind.INDICATING) == pytest.approx(30)
    assert times.of(TimeKind.SOAK) == pytest.approx(60)


def test_tool_changes_are_those_of_the_sequence(bridge: Plan) -> None:
    changes = [c.minutes for step in bridge.sequence.steps for c in step.changes if c.name == "tool change"]
    assert bridge.costing.times.of(TimeKind.TOOL_CHANGE) == pytest.approx(sum(changes))


def test_set_up_first_and_lot(bridge: Plan) -> None:
    """Two clampings of 45 min; the first piece takes 40 % more; four pieces."""
    times, shop = bridge.costing.times, bridge.shop
    residents = set(shop.magazine.residents)
    tools = sum(use.loaded for use in bridge.magazine.uses if use.tool not in residents)
    assert times.set_up_minutes.value == pytest.approx(2 * 45 + 3 * tools)
    assert times.first.value == pytest.approx(1.4 * times.machine_minutes)
    expected = times.set_up_minutes.value + 4.4 * times.machine_minutes
    assert times.lot_minutes.value == pytest.approx(expected)
    assert times.utilisation.value == pytest.approx(4 * times.of(TimeKind.CUTTING) / expected)


def test_a_repeat_order_proves_nothing(bridge: Plan) -> None:
    from dataclasses import replace

    money = bridge.part.money.model_copy(update={"programmed": True})
    part = bridge.part.model_copy(update={"money": money})
    repeat = replace(bridge, part=part, operations=replace(bridge.operations, part=part))
    assert repeat.costing.times.first_extra.value == 0
    assert not any(line.name == "programming" for line in repeat.costing.account.lines)


def test_what_the_shop_file_does_not_say_is_an_estimate(bridge: Plan) -> None:
    from dataclasses import replace

    from sequencer.shop import Effort

    assert not bridge.costing.times.set_up_minutes.estimate
    shop = bridge.shop.model_copy(update={"effort": Effort()})
    guessed = replace(bridge, shop=shop, operations=replace(bridge.operations, shop=shop))
    assert guessed.costing.times.set_up_minutes.estimate


def test_batch_time_against_the_handbook() -> None:
    """Tb = Tsu + Q Tc; Groover's batch model, numbers made up here: 3 h set-up, 50 pieces of 9.22 min."""
    assert batch_minutes(180.0, 50, 9.22) == pytest.approx(641.0)


def test_the_approach_of_a_face_is_its_run_in_and_overrun(bridge: Plan) -> None:
    """Facing at constant cutting speed: less than a quarter, and both make up the time of the step."""
    step = next(
        each for each in bridge.costing.times.steps if each.step.operation.name == "lower_face/finish"
    )
    approach, cutting = step.of(TimeKind.APPROACH), step.of(TimeKind.CUTTING)
    assert 0 < approach < 0.25 * cutting
    assert approach + cutting == pytest.approx(step.step.alternative.minutes)


def test_every_kind_of_cut_with_a_way_beside_the_work_tells_it_apart(bridge: Plan) -> None:
    """Facing, chamfering, drilling, teeth, engraving between letters."""
    told = {
        step.step.alternative.method: step.of(TimeKind.APPROACH)
        for step in bridge.costing.times.steps
        if step.of(TimeKind.CUTTING) > 0 and step.of(TimeKind.APPROACH) > 0
    }
    assert {"turning", "boring", "drilling", "engraving", "hobbing", "power skiving"} <= set(told)
