"""Inspection plan: when, where, with what, how decided. Practice of shops: common practice, no source."""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from turned_rings import PARTS, example_shop, guide_ring

from sequencer.files import read_part_and_shop
from sequencer.inspection import Check
from sequencer.inspection.traces import spread
from sequencer.operations import Action
from sequencer.plan import Plan, make_plan
from sequencer.shop import Shop


@cache
def shipped_plan(name: str) -> Plan:
    """Plan a shipped part."""
    return make_plan(*read_part_and_shop(PARTS / f"{name}.yaml", PARTS / "shop.yaml"), seconds=60)


def checks(plan: Plan, characteristic: str) -> list[Check]:
    """Checks of one characteristic, in the order of the route."""
    return [each for each in plan.inspection.checks if each.characteristic == characteristic]


def test_a_close_bore_is_measured_before_unclamping_with_a_guard_band() -> None:
    """H7 of 160 mm: 20 um to either side; probing U = 4 + 8*0.16 = 5.28 um; accepted within 14.72 um."""
    first = checks(shipped_plan("bridge_wheel"), "bore: size")[0]
    assert first.when.startswith("before unclamping")
    assert first.correctable
    assert first.tool in ("T64", "T65")
    assert first.uncertainty.value == pytest.approx(5.28)
    assert first.accept.value == pytest.approx(14.72)
    assert first.specification == "size H7: 20 um to either side"
    assert first.reaction.startswith("correct bore/finish in the same clamping")


@pytest.mark.parametrize(
    ("measured", "decision"),
    [(14.7, "accept"), (-14.7, "accept"), (14.8, "measure again"), (25.2, "measure again"), (25.3, "reject")],
)
def test_the_decision_rule_keeps_the_uncertainty_out(measured: float, decision: str) -> None:
    """ISO 14253-1, from memory: proven inside T - U, proven wrong outside T + U, in between neither."""
    assert checks(shipped_plan("bridge_wheel"), "bore: size")[0].decide(measured) == decision


def test_temperature_of_measuring_by_hand() -> None:
    """Allowed: 40 um/(4*11.5e-6*160 mm) = 5.4 K."""
    temperature = checks(shipped_plan("bridge_wheel"), "bore: size")[0].temperature
    assert temperature is not None
    assert temperature.value == pytest.approx(0.040 / (4 * 11.5e-6 * 160))


def test_teeth_are_traced_on_the_machine_and_again_independently() -> None:
    plan = shipped_plan("bridge_wheel")
    pitch = checks(plan, "lower half of wheel: total cumulative pitch to bore and lower_face")
    assert [each.operation for each in pitch] == ["wheel/measure", "part/inspect"]
    on_machine, independent = pitch
    assert on_machine.traces is not None
    assert on_machine.traces.teeth == 84
    assert on_machine.traces.flanks == "both"
    assert on_machine.traces.standard == "ISO 1328-1:2013 class 7"
    assert independent.uncertainty.value < on_machine.uncertainty.value
    assert "independent instrument" in independent.when
    assert not independent.correctable
    profile = checks(plan, "upper half of wheel: total profile")
    assert profile[0].traces is not None
    assert profile[0].traces.numbers == (1, 22, 43, 64)
    assert profile[0].traces.place == "mid-face"
    assert profile[0].process == "form and setting of the cutter"


def test_the_apex_is_checked_at_four_places_while_it_can_be_corrected() -> None:
    apex = checks(shipped_plan("bridge_wheel"), "wheel: apex")[0]
    assert apex.operation == "wheel/apex_check"
    assert apex.sample == "4 places round the gear"
    assert apex.traces is not None
    assert apex.traces.numbers == (1, 22, 43, 64)
    assert apex.correctable
    assert apex.frequency == "every piece"


@pytest.mark.parametrize("name", ["first_wheel", "bridge_wheel", "telescope_ring", "press_sleeve"])
def test_every_relation_is_measured_and_every_check_has_its_step(name: str) -> None:
    plan = shipped_plan(name)
    steps = {step.number: step for step in plan.sequence.steps}
    measured = {each.characteristic for each in plan.inspection.checks}
    assert {each.name for each in plan.ledger.entries} <= measured
    for check in plan.inspection.checks:
        step = steps[check.step]
        assert step.operation.name == check.operation
        assert step.operation.action in (Action.MEASURE, Action.APEX_CHECK, Action.INSPECT)
        made = next(s for s in plan.sequence.steps if s.operation.name == check.made_by)
        assert made.number < check.step
        assert check.correctable is (step.visit == made.visit and step.visit > 0)
        assert check.accept.value == pytest.approx(max(check.allowance - check.uncertainty.value, 0))
        assert all((check.specification, check.when, check.technique, check.sample, check.frequency))
        assert all((check.control, check.reaction, check.machine))


def test_the_work_stops_before_the_first_tooth_finish_and_before_each_release() -> None:
    plan = shipped_plan("bridge_wheel")
    stops = {stop.operation: stop for stop in plan.inspection.stops}
    assert "last chance before wheel is finished" in stops["wheel/finish_upper"].reason
    assert "wheel/finish_lower" not in stops
    release = stops["II/clamp"]
    assert release.clamping == "I"
    assert release.checks
    numbers = {check.number for check in plan.inspection.checks}
    assert all(set(stop.checks) <= numbers for stop in plan.inspection.stops)


def test_ground_teeth_are_measured_when_they_come_back() -> None:
    made = checks(shipped_plan("press_sleeve"), "low_gear: runout to bore")
    assert made[0].when == "when it comes back, on the bench"
    assert made[0].machine == "outside"
    assert made[0].reaction.startswith("hold the piece, mark it")


def test_what_crosses_clampings_is_measured_again_free() -> None:
    plan = make_plan(guide_ring(0.03), example_shop(), seconds=30)
    operations = [each.operation for each in checks(plan, "upper_seat: runout to lower_seat")]
    assert operations == ["upper_seat/measure", "part/inspect"]


def test_what_no_instrument_proves_is_told() -> None:
    written = example_shop().model_dump(mode="json", exclude_unset=True, by_alias=True)
    written["accuracy"] = {"measuring": {"indicator": "40 um", "independent": "40 um"}}
    plan = make_plan(guide_ring(0.03), Shop.model_validate(written), seconds=30)
    told = [f for f in plan.findings if f.subject == "inspection" and f.where == "upper_seat"]
    assert "runout cannot be proven: U = 40 um" in told[0].what
    assert told[0].limit == "30 um allowed"


def test_a_large_lot_is_sampled_where_the_ledger_holds() -> None:
    part = guide_ring(0.05).model_copy(update={"lot": 50})
    plan = make_plan(part, example_shop(), seconds=30)
    assert checks(plan, "lower_seat: size")[0].frequency == "first piece, then every fifth"


def test_teeth_are_spread_evenly() -> None:
    assert spread(10, 4) == (1, 3, 6, 8)
    assert spread(3, 4) == (1, 2, 3)
