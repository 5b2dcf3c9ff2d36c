"""Problems that do not fit together are refused in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.errors import OutOfRange
from sequencer.ordering.problem import Alternative, Constraint, Level, Problem
from sequencer.ordering.slots import choices, settlements
from sequencer.ordering.solve import solve

TWO = Problem(operations=((Alternative(0, 0, 0, 5),), (Alternative(-1, 0, -1, 3, -1),)), before=((0, 1),))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"operations": ((),)}, r"operations\[0\]: no alternative"),
        ({"operations": ((Alternative(1, 0, 0, 5),),) * 2}, r"operations\[0\]\[0\].tool: 1 \(-1 to 0\)"),
        ({"operations": ((Alternative(0, -1, 0, 5),),) * 2}, r"clamping: -1 \(0 to 0\)"),
        ({"operations": ((Alternative(0, 0, 0, 2.5),),) * 2}, r"minutes: 2.5 is no integer"),
        ({"operations": ((Alternative(0, 0, 0, True),),) * 2}, r"minutes: True is no integer"),
        ({"operations": ((Alternative(0, 0, 0, 2**41),),) * 2}, r"\(0 to 2\^40\)"),
        ({"operations": ((Alternative(0, 0, 0, 1, -2),),) * 2}, r"place: -2"),
        ({"operations": ((Alternative(0, 0, 0, 1),),) * 5000}, r"5000 operations \(at most 500\)"),
        ({"before": ((0, 2),)}, r"before\[0\]: 2 \(0 to 1\)"),
        ({"before": ((1, 1),)}, r"before\[0\]: \(1, 1\) \(different operations\)"),
        ({"before": ((0, 1, 1),)}, r"before\[0\]: 3 numbers \(2 needed\)"),
        ({"clamping_change": ((0, 1),)}, r"row 0 has 2 entries"),
        ({"clamping_change": ((4,),)}, r"clamping_change\[0\]\[0\]: 4 \(staying costs 0\)"),
        ({"tool_change": (-3,)}, r"tool_change\[0\]: -3 \(0 to 2\^40\)"),
        ({"positioning": ((0,),), "home_positioning": (1, 2)}, r"home_positioning: 2 places"),
        ({"minimum_wait": ((0, 1, -1),)}, r"minimum_wait\[0\]\[2\]: -1"),
        ({"pinned": ((0, 2),)}, r"pinned\[0\]\[1\]: 2 \(0 to 1\)"),
        ({"not_between": ((0, 1, 1),)}, r"not_between\[0\]"),
        ({"either_or": ((),)}, r"either_or\[0\]: no operation"),
        ({"either_or": ((0, 1), (1,))}, r"operation 1 is in groups 0 and 1 \(one group each\)"),
        ({"opens": ((1, 0),)}, r"opens\[0\]\[0\]: 1 \(0 to 0\)"),
        ({"closes_for": ((0, 1, 1),)}, r"closes_for\[0\]: \(1, 1\)"),
        ({"single_visit": (3,)}, r"single_visit\[0\]: 3"),
        ({"tool_weight": (1, 2)}, r"tool_weight: 2 weights \(1 tools\)"),
        ({"capacity": -2}, r"capacity: -2"),
        ({"capacity": 1.5}, r"capacity: 1.5 is no integer"),
    ],
)
def test_a_bad_number_is_refused_where_it_stands(changes: dict[str, object], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        replace(TWO, **changes)


def test_an_objective_needs_known_measures() -> None:
    with pytest.raises(OutOfRange, match=r"unknown measure 'speed'. Use clampings, tools"):
        Level("fast", (("speed", 1),))
    with pytest.raises(OutOfRange, match="weight 0 of time"):
        Level("time", (("time", 0),))
    with pytest.raises(OutOfRange, match="none or named twice"):
        Level("time", (("time", 1), ("time", 1)))
    with pytest.raises(OutOfRange, match="objective: no level"):
        solve(TWO, objective=())


def test_constraints_are_named_by_field_and_index() -> None:
    problem = replace(TWO, capacity=3, pinned=((0, 0),))
    assert list(problem.constraints()) == [
        Constraint("before", 0),
        Constraint("pinned", 0),
        Constraint("capacity", 0),
    ]


def test_too_many_groups_to_decide_beforehand_are_refused() -> None:
    ways = (Alternative(0, 0, 0, 1),)
    groups = tuple((2 * k, 2 * k + 1) for k in range(12))
    problem = Problem((ways,) * 24, either_or=groups)
    assert len(solve(problem).order) == 12
    pinned = Problem((ways,) * 24, either_or=groups, pinned=tuple((2 * k, k) for k in range(12)))
    with pytest.raises(OutOfRange, match="4096 ways to decide groups"):
        solve(pinned)


def test_groups_are_left_to_the_search_unless_a_constraint_tells_members_apart() -> None:
    """Six operations in three groups: whole groups in order need no decision, single members do."""
    ways = (Alternative(0, 0, 0, 1),)
    whole = tuple((a, b) for a in (0, 1) for b in (2, 3))
    problem = Problem((ways,) * 7, either_or=((0, 1), (2, 3), (4, 5)), before=(*whole, (4, 6), (6, 2)))
    assert list(settlements(problem)) == [((0, 1), (2, 3), (4, 5), (6,))]
    single = replace(problem, before=whole[:3])
    assert list(settlements(single)) == [((0,), (2, 3), (4, 5), (6,)), ((1,), (2, 3), (4, 5), (6,))]
    assert [choices(each) for each in (problem, single, replace(single, same_zero=((5, 6),)))] == [1, 2, 4]
