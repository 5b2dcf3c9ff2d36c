"""A shipped part on a magazine that is one pocket too small: the plan says so, and what each remedy costs."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from sequencer.errors import Severity
from sequencer.files import read_part_and_shop
from sequencer.magazine import other_tools, tool_places
from sequencer.plan import Plan, make_plan

PARTS = Path(__file__).parents[3] / "parts"


@cache
def planned(pockets: int | None = None) -> Plan:
    part, shop = read_part_and_shop(PARTS / "first_wheel.yaml", PARTS / "shop.yaml")
    if pockets is not None:
        shop = shop.model_copy(update={"magazine": shop.magazine.resized(pockets)})
    return make_plan(part, shop)


def test_a_magazine_one_pocket_too_small():
    """The order stays the best one; the finding names pocket, proof and remedies with their price."""
    whole = planned()
    small = planned(whole.magazine.needed - 1)
    table = small.magazine
    assert (table.needed, table.over, table.proven) == (whole.magazine.needed, 1, True)
    errors = [each for each in small.findings if each.severity is Severity.ERROR]
    assert [each.subject for each in errors] == ["magazine"]
    assert "1 more than there are; no arrangement needs fewer" in errors[0].what
    assert table.remedies
    assert all(each.needed <= each.available and each.minutes >= 0 for each in table.remedies)
    assert [each.money for each in table.remedies] == sorted(each.money for each in table.remedies)
    assert all(each.words in errors[0].remedy for each in table.remedies)


def test_a_magazine_of_just_the_right_size():
    """One pocket more, and nothing is to be said."""
    whole = planned()
    just = planned(whole.magazine.needed)
    assert just.magazine.fits
    assert just.magazine.remedies == ()
    assert not any(each.severity is Severity.ERROR for each in just.findings)


def test_a_remedy_with_other_tools_costs_the_difference_of_the_orders():
    """The same order costs nothing; pockets for the search leave out residents."""
    plan = planned()
    same = other_tools(plan.sequence, plan.sequence, plan.magazine, plan.shop, 4)
    assert (same.minutes, same.money) == (0.0, 0.0)
    places = tool_places(plan.magazine, plan.shop)
    assert places.capacity == plan.shop.magazine.pockets - len(plan.shop.magazine.residents)
    resident = plan.shop.magazine.residents[0]
    loaded = next(use.loaded for use in plan.magazine.uses if use.tool == resident)
    assert places.weights[resident] == loaded - 1


@pytest.mark.parametrize("pockets", [6, 8])
def test_a_magazine_far_too_small_still_has_a_plan(pockets):
    """Whatever is offered fits; if nothing does, the finding still says by how much."""
    table = planned(pockets).magazine
    assert table.over == table.needed - pockets
    assert all(each.needed <= each.available for each in table.remedies)
