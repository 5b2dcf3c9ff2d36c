"""Make or buy: break-even, flip price, curves, obstacles, drivers."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.costing import Choice, break_even
from sequencer.files import read_part_and_shop
from sequencer.part import Quote
from sequencer.plan import Plan, make_plan
from sequencer.shop import Shop

PARTS = Path(__file__).parents[3] / "parts"
money = st.floats(0.0, 10_000.0)


def _choice(plan: Plan, subject: str) -> Choice:
    return next(choice for choice in plan.costing.choices if choice.subject == subject)


def _with_quotes(plan: Plan, *quotes: Quote, lot: int = 4, series: int | None = None) -> Plan:
    paid = plan.part.money.model_copy(update={"series": series})
    part = plan.part.model_copy(update={"quotes": quotes, "lot": lot, "money": paid})
    return replace(plan, part=part, operations=replace(plan.operations, part=part))


def _quote(price: float, **more: object) -> Quote:
    values = {"work": "teeth", "of": "pinion", "source": "Q-1", "price": price, "lead_time": "10 d"} | more
    return Quote.model_validate(values)


@settings(deadline=None, derandomize=True)
@given(money, money, money, money)
def test_break_even_parts_the_lots(fm: float, vm: float, fb: float, vb: float) -> None:
    """On each side of Q* the cheaper one is the one that is said."""
    found = break_even(fm, vm, fb, vb)
    for lot in (1, 2, 7, 50, 1000):
        make, buy = fm + vm * lot, fb + vb * lot
        if abs(make - buy) < 1e-6 * max(make, buy, 1.0):
            continue
        if found.pieces is None:
            assert (make < buy) == found.above
        elif abs(found.pieces - lot) > 1e-6 * lot:
            assert (make < buy) == ((lot > found.pieces) == found.above)


def test_break_even_of_a_worked_example() -> None:
    """One-off 2400 here, 30 a piece; bought at 90 with 300 a lot: (2400 - 300)/(90 - 30) = 35 (made up)."""
    found = break_even(2400, 30, 300, 90)
    assert found.pieces == pytest.approx(35)
    assert found.words.endswith("making is cheaper from that lot")


def test_at_the_flip_price_both_cost_the_same(bridge: Plan) -> None:
    flip = _choice(_with_quotes(bridge, _quote(200.0)), "pinion").flip_price.value
    at = _choice(_with_quotes(bridge, _quote(flip)), "pinion")
    assert at.saved == pytest.approx(0.0, abs=1e-6)
    assert _choice(_with_quotes(bridge, _quote(flip * 1.01)), "pinion").verdict == "make"
    assert _choice(_with_quotes(bridge, _quote(flip * 0.99)), "pinion").verdict == "buy"


def test_a_lot_that_crosses_the_break_even_flips_the_answer(bridge: Plan) -> None:
    """Programming makes one piece dear here; many pieces carry it."""
    quote = _quote(220.0, freight=10.0)
    even = _choice(_with_quotes(bridge, quote, lot=1), "pinion").break_even
    assert even is not None
    below, above = int(even.value), int(even.value) + 2
    assert below >= 1
    assert _choice(_with_quotes(bridge, quote, lot=below), "pinion").verdict == "buy"
    assert _choice(_with_quotes(bridge, quote, lot=above), "pinion").verdict == "make"


def test_the_curve_holds_the_lot_with_its_cost(bridge: Plan) -> None:
    choice = _choice(bridge, "pinion")
    assert choice.buy is not None
    point = next(point for point in choice.curve if point[0] == 4)
    assert point[1] == pytest.approx(choice.make.per_piece)
    assert point[2] == pytest.approx(choice.buy.per_piece)


def test_a_quotation_that_is_late_lapsed_or_too_coarse_is_no_choice(bridge: Plan) -> None:
    late = _choice(_with_quotes(bridge, _quote(1.0, lead_time="400 d")), "pinion")
    assert late.verdict == "make"
    assert "the part is due after 109 d" in late.obstacles[0]
    lapsed = _choice(_with_quotes(bridge, _quote(1.0, valid_until=datetime.date(2026, 1, 1))), "pinion")
    assert "lapsed on 2026-01-01" in lapsed.obstacles[0]
    coarse = _choice(_with_quotes(bridge, _quote(1.0, flank_class=9)), "pinion")
    assert "class 9 is promised, the drawing asks for class 7" in coarse.obstacles[0]


def test_the_cheapest_quotation_counts_against_which_nothing_stands(bridge: Plan) -> None:
    lapsed = _quote(1.0, valid_until=datetime.date(2026, 1, 1), source="Q-old")
    plan = _with_quotes(bridge, lapsed, _quote(300.0, source="Q-dear"), _quote(290.0, source="Q-cheap"))
    chosen = _choice(plan, "pinion").quote
    assert chosen is not None
    assert chosen.source == "Q-cheap"


def test_a_lot_that_is_late_is_bought_or_told(bridge: Plan) -> None:
    """A thousand pieces take years here, the part is due after 109 days."""
    alone = _with_quotes(bridge, lot=1000)
    assert any("the part is due after 109 d" in finding.what for finding in alone.findings)
    quote = _quote(9000.0, work="whole part", of=None, lead_time="60 d")
    whole = _choice(_with_quotes(bridge, quote, lot=1000), "whole part")
    assert whole.saved > 0
    assert whole.verdict == "buy"
    assert "buy it, making takes" in whole.sentence


def test_what_must_follow_on_the_machine_costs_a_clamping(bridge: Plan) -> None:
    """The bolt circle is timed to the wheel: it can only be drilled once the wheel is back."""
    buy = _choice(bridge, "wheel").buy
    assert buy is not None
    extra = next(line for line in buy.lines if line.name == "one more clamping")
    assert "bolts/drill must follow" in extra.amount.formula
    assert extra.amount.value == pytest.approx(50 * 95 / 60)


def test_without_a_quotation_the_price_is_named_from_which_buying_pays(bridge: Plan) -> None:
    choice = _choice(bridge, "spline")
    assert choice.verdict == "not priced"
    assert choice.flip_price.value == pytest.approx(choice.make.per_piece)
    assert "not priced" in choice.sentence


def test_five_drivers_at_most_the_strongest_first(bridge: Plan) -> None:
    for tornado in bridge.costing.tornadoes:
        swings = [driver.swing for driver in tornado.drivers]
        assert 1 <= len(swings) <= 5
        assert swings == sorted(swings, reverse=True)


def test_a_driver_that_flips_the_answer_says_so(bridge: Plan) -> None:
    flip = _choice(_with_quotes(bridge, _quote(200.0)), "pinion").flip_price.value
    plan = _with_quotes(bridge, _quote(flip * 1.02))
    tornado = next(t for t in plan.costing.tornadoes if t.subject.endswith("pinion"))
    assert tornado.now > 0
    assert any(driver.flips for driver in tornado.drivers if driver.name == "prices from outside")


def test_the_advice_names_validity_and_what_money_does_not_say(bridge: Plan) -> None:
    advice = bridge.costing.advice
    assert "2027-02-28, when the first quotation lapses" in advice.validity
    matters = {line.matter for line in advice.beside if line.subject == "pinion"}
    assert "flank class, asked 7" in matters
    assert "time until the lot is ready" in matters


def _without(shop: Shop, tool: str, lead_time: str) -> Shop:
    """The shop as if it did not own a tool."""
    values = shop.model_dump(mode="json", exclude_unset=True, by_alias=True)
    values["tools"] = [
        each | {"owned": 0, "lead_time": lead_time} if each["name"] == tool else each
        for each in values["tools"]
    ]
    return Shop.model_validate(values)


def test_a_cutter_that_comes_late_gives_a_mixed_answer() -> None:
    """The hob is not owned: end-mill now, hob once it has come."""
    part, shop = read_part_and_shop(PARTS / "first_wheel.yaml", PARTS / "shop.yaml")
    series = part.model_copy(update={"money": part.money.model_copy(update={"series": 60})})
    plan = make_plan(series, _without(shop, "T47", "60 d"))
    (teeth,) = plan.costing.ways
    assert teeth.answer.startswith("teeth: end-mill milling now (")
    assert "hobbing with T47 is cheapest" in teeth.answer
    assert teeth.answer.endswith("its tools come after 60 d")
    assert any(line.name == "tool T47" for line in plan.costing.account.lines)


def test_a_cutter_that_comes_after_the_due_date_is_still_costed() -> None:
    part, shop = read_part_and_shop(PARTS / "telescope_ring.yaml", PARTS / "shop.yaml")
    plan = make_plan(part, _without(shop, "T48", "300 d"))
    teeth = next(ways for ways in plan.costing.ways if ways.feature == "outer_teeth")
    late = next(way for way in teeth.ways if way.method == "hobbing" and not way.in_time)
    assert late.days == pytest.approx(300)
    assert not late.chosen
    assert next(way for way in teeth.ways if way.chosen).method == "power skiving"


def test_a_clamping_in_which_only_the_teeth_are_cut_falls_away_with_them() -> None:
    """The wheel with nothing but its teeth cut in II: bought teeth save the whole clamping and its set-up."""
    plan = make_plan(*read_part_and_shop(PARTS / "first_wheel.yaml", PARTS / "shop.yaml"))
    visit = next(step.visit for step in plan.sequence.steps if step.operation.name == "teeth/finish")
    kept = tuple(
        step
        for step in plan.sequence.steps
        if step.visit != visit or not step.operation.cuts or step.operation.feature == "teeth"
    )
    kept = tuple(step for step in kept if step.visit != visit or "blank" not in step.operation.name)
    alone = replace(plan, sequence=replace(plan.sequence, steps=kept))
    before, after = _choice(plan, "teeth").make, _choice(alone, "teeth").make
    opening = sum(
        step.minutes
        for step in kept
        if step.visit == visit and not step.operation.cuts and step.operation.feature != "teeth"
    )
    assert opening > 0
    lines = {line.name: line.amount.value for line in after.lines}
    machine = {line.name: line.amount.value for line in before.lines}["machine"]
    assert lines["machine"] - machine == pytest.approx(opening * plan.shop.rates.marginal_machine_hour / 60)
    assert lines["setting up its clampings"] == pytest.approx(45 / 60 * 80)
    assert "setting up its clampings" not in {line.name for line in before.lines}
