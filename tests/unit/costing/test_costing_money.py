"""The account of a plan against sums made by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.costing import cost_words
from sequencer.part import Quote
from sequencer.plan import Plan
from sequencer.shop import Shop


def _line(plan: Plan, name: str) -> float:
    return next(line.amount.value for line in plan.costing.account.lines if line.name == name)


def test_machine_and_bench_by_their_rates(bridge: Plan) -> None:
    times = bridge.costing.times
    assert _line(bridge, "machine") == pytest.approx(times.machine_minutes * 135 / 60)
    assert _line(bridge, "bench and measuring room") == pytest.approx(110 * 75 / 60)


def test_programming_counts_cutting_steps_and_teeth(bridge: Plan) -> None:
    """6 steps cut teeth at 60 min, 35 others cut at 8 min, at 85 an hour."""
    assert _line(bridge, "programming") == pytest.approx((35 * 8 + 6 * 60) * 85 / 60)


def test_cost_of_a_piece_spreads_lot_and_series(bridge: Plan) -> None:
    account = bridge.costing.account
    expected = account.sum("piece") + account.sum("lot") / 4 + account.sum("series") / 16
    assert account.per_piece == pytest.approx(expected)
    assert account.total.formula.endswith("EUR")


def test_wear_of_the_hob_by_length_of_teeth(bridge: Plan) -> None:
    """Two cuts of 8.607 m on a hob of 70 m planned to 80 %: (1650 + 11*110)/12 a life."""
    hob = next(tool for tool in bridge.costing.tools if tool.tool == "T45")
    assert hob.lives.value == pytest.approx(2 * 8.606707 / (0.8 * 70), rel=1e-6)
    assert hob.life.value == pytest.approx((1650 + 11 * 110) / 12)


def test_value_at_risk_never_falls_and_adds_up(bridge: Plan) -> None:
    curve = bridge.costing.risk
    values = [point.value.value for point in curve]
    assert values == sorted(values)
    assert _line(bridge, "scrap risk") == pytest.approx(sum(point.loss.value for point in curve))
    assert values[0] > _line(bridge, "blank")


def test_most_at_risk_is_a_late_tooth_cut(bridge: Plan) -> None:
    riskiest = bridge.costing.riskiest
    assert riskiest is not None
    assert riskiest.operation == "pinion/finish"


def test_a_blank_without_a_price_is_said_not_invented(bridge: Plan) -> None:
    materials = tuple(m.model_copy(update={"price_per_kg": None}) for m in bridge.shop.materials)
    shop = bridge.shop.model_copy(update={"materials": materials})
    poor = replace(bridge, shop=shop, operations=replace(bridge.operations, shop=shop))
    assert not any(line.name == "blank" for line in poor.costing.account.lines)
    assert "without blank (not priced)" in cost_words(poor.costing)
    assert any("the blank is not priced" in finding.what for finding in poor.findings)


def test_work_sent_out_without_a_quotation_is_said(sleeve: Plan) -> None:
    said = [finding.where for finding in sleeve.findings if "not priced" in finding.what]
    assert {"part/heat_treat", "low_gear/grind", "high_gear/grind"} <= set(said)


def test_a_bottleneck_costs_its_lost_contribution(bridge: Plan) -> None:
    rates = bridge.shop.rates.model_copy(update={"lost_hour": 60.0})
    shop = bridge.shop.model_copy(update={"rates": rates})
    busy = replace(bridge, shop=shop, operations=replace(bridge.operations, shop=shop))
    hours = bridge.costing.times.machine_minutes / 60
    assert _line(busy, "lost contribution") == pytest.approx(60 * hours)


def test_a_tool_that_is_not_owned_is_bought_once(bridge: Plan) -> None:
    values = bridge.shop.model_dump(mode="json", exclude_unset=True, by_alias=True)
    tools = [each | {"owned": 0} if each["name"] == "T55" else each for each in values["tools"]]
    shop = Shop.model_validate(values | {"tools": tools})
    plan = replace(bridge, shop=shop, operations=replace(bridge.operations, shop=shop))
    assert _line(plan, "tool T55") == pytest.approx(shop.tool_by_name["T55"].price)


def test_quoted_work_outside_counts_with_price_loss_and_days(sleeve: Plan) -> None:
    """The heat treatment is quoted: 48 a piece, 120 a lot, 4 d there and 2 d on the road instead of 7 d."""
    quote = Quote.model_validate(
        {
            "work": "heat treatment",
            "source": "Q-7",
            "price": 48,
            "per_lot": 120,
            "freight": 60,
            "transit": "2 d",
            "lead_time": "4 d",
            "loss": 0.02,
        }
    )
    part = sleeve.part.model_copy(update={"quotes": (quote,)})
    plan = replace(sleeve, part=part, operations=replace(sleeve.operations, part=part))
    assert _line(plan, "work outside") == pytest.approx(48)
    assert _line(plan, "set-up and freight of heat treatment outside") == pytest.approx(180)
    point = next(point for point in plan.costing.risk if point.operation == "part/heat_treat")
    assert point.chance == pytest.approx(0.02)
    assert not any(finding.where == "part/heat_treat" for finding in plan.costing.findings)
    assert part.heat_treatment is not None
    saved = float(part.heat_treatment.duration) / 1440 - 6
    assert sleeve.costing.lead_days - plan.costing.lead_days == pytest.approx(saved)
