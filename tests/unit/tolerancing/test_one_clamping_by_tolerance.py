"""Tolerances that bind two surfaces to one clamping, and so decide the number of clampings."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from turned_rings import example_shop, guide_ring

from sequencer.errors import NoPlan
from sequencer.operations import make_operations
from sequencer.plan import make_plan
from sequencer.precedence import Relation
from sequencer.precedence.make import make_graph
from sequencer.shop import Shop


def bound(graph_rule: str, part: object, shop: Shop) -> list[tuple[str, str]]:
    """Pairs that a rule binds to one clamping."""
    graph = make_graph(make_operations(part, shop))  # type: ignore[arg-type]
    return [(each.first, each.second) for each in graph.dependencies if each.rule == graph_rule]


def test_a_wide_tolerance_leaves_two_clampings() -> None:
    plan = make_plan(guide_ring(0.05), example_shop(), seconds=30)
    assert plan.sequence.clampings == 2
    assert not [each for each in plan.graph.dependencies if each.rule == "R53"]


def test_a_close_tolerance_forces_one_clamping_and_thereby_three() -> None:
    """12 um of runout do not hold over 20 um that one re-clamping leaves."""
    plan = make_plan(guide_ring(0.012), example_shop(), seconds=30)
    assert plan.sequence.clampings == 3
    assert plan.sequence.proven
    by_operation = plan.sequence.by_operation
    seats = {by_operation[f"{name}/finish"].alternative.clamping for name in ("lower_seat", "upper_seat")}
    assert seats == {"III"}
    demand = next(each for each in plan.graph.dependencies if each.rule == "R53")
    assert demand.relation is Relation.SAME_CLAMPING
    assert "12 um allowed" in demand.reason
    assert "20 um eccentricity" in demand.reason
    assert "in one clamping it holds" in demand.reason


def test_without_a_clamping_that_reaches_both_the_conflict_is_told() -> None:
    with pytest.raises(
        NoPlan, match="upper_seat/finish and lower_seat/finish must share a clamping"
    ) as caught:
        make_plan(guide_ring(0.012, third=False), example_shop())
    rule, upper, lower = caught.value.conflicts
    assert rule.startswith("R53: upper_seat: runout to lower_seat does not hold if lower_seat is made in an")
    assert upper.startswith(
        "upper_seat/finish can be done in II; not in I (partly covered by the outside jaws"
    )
    assert lower.startswith("lower_seat/finish can be done in I")


def test_the_house_may_switch_the_rule_off() -> None:
    signed = {"owner": "R. Vogel", "date": "2027-02-01", "reason": "trued by hand afterwards"}
    written = example_shop().model_dump(mode="json", exclude_unset=True, by_alias=True)
    written["rules"] = {"changes": [{"rule": "R53", "action": "off"} | signed]}
    plan = make_plan(guide_ring(0.012), Shop.model_validate(written), seconds=30)
    assert plan.sequence.clampings == 2


def test_better_clamping_means_lift_the_demand() -> None:
    written = example_shop().model_dump(mode="json", exclude_unset=True, by_alias=True)
    for means in written["clamping_means"]:
        means["reclamping"] = "3 um"
    assert not bound("R53", guide_ring(0.012), Shop.model_validate(written))


def test_what_no_clamping_holds_gives_no_demand() -> None:
    assert not bound("R53", guide_ring(0.003), example_shop())


def test_surfaces_that_one_clamping_alone_reaches_gain_no_demand() -> None:
    """Both faces of the pocket side are reached only in II."""
    part = guide_ring(0.05)
    features = [
        each.model_copy(update={"geometric": part.by_name["upper_seat"].geometric})
        if each.name == "pocket"
        else each
        for each in part.features
    ]
    narrow = part.by_name["upper_seat"].geometric[0].model_copy(update={"to": ("B",)})
    close = narrow.model_copy(update={"value": narrow.value})
    made = part.model_copy(
        update={
            "datums": {"A": "lower_seat", "B": "upper_face"},
            "features": tuple(
                each.model_copy(update={"geometric": (close,)}) if each.name == "pocket" else each
                for each in features
            ),
            "clampings": part.clampings[:2],
        }
    )
    assert not bound("R53", made, example_shop())
