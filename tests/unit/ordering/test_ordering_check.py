"""The checker's sums and its words, worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.errors import OutOfRange
from sequencer.ordering.check import check, evaluate
from sequencer.ordering.problem import LEXICOGRAPHIC, Alternative, Constraint, Problem

#: Face (tool 0), wait at the table, hob (tool 1, other clamping), probe (tool 2) at the place of the hob.
PART = Problem(
    operations=(
        (Alternative(0, 0, 0, 100, 0),),
        (Alternative(-1, 0, -1, 30, -1),),
        (Alternative(1, 1, 2, 200, 1),),
        (Alternative(2, 1, 1, 10, 1),),
    ),
    clamping_change=((0, 1000), (900, 0)),
    tool_change=(5, 7, 9),
    mode_change=((0, 2, 3), (2, 0, 4), (3, 4, 0)),
    positioning=((0, 11), (12, 0)),
    home_positioning=(20, 21),
)
ORDER, CHOICE = (0, 1, 2, 3), (0, 0, 0, 0)


def test_each_kind_of_cost_is_added_up() -> None:
    measures = evaluate(PART, ORDER, CHOICE)
    assert (measures.clampings, measures.visits, measures.tools, measures.modes) == (1, 2, 2, 2)
    assert measures.own == 100 + 30 + 200 + 10
    assert measures.clamping_time == 1000
    assert measures.tool_time == 7 + 9
    assert measures.mode_time == 3 + 4
    assert measures.positioning == (20 + 21) + (21 + 21)
    assert measures.time == 340 + 1000 + 16 + 7 + 83
    assert measures.starts == (0, 100, 130 + 1000 + 7 + 3 + 41, 1181 + 200 + 9 + 4 + 42)
    assert measures.values(LEXICOGRAPHIC) == (1, 2, 2, 1446)


def test_a_wait_is_served_by_other_work_first() -> None:
    waiting = replace(PART, minimum_wait=((0, 1, 50), (1, 2, 5000), (2, 3, 40)))
    measures = evaluate(waiting, ORDER, CHOICE)
    assert measures.waiting == 50 + (5000 - 1051)
    assert measures.starts[1] == 150


def test_the_first_tool_mode_and_place_are_set_up_before() -> None:
    measures = evaluate(PART, (1, 0, 2, 3), CHOICE)
    assert (measures.tools, measures.modes, measures.positioning) == (2, 2, 83)


def test_staying_with_tool_and_clamping_travels_directly() -> None:
    one = (Alternative(0, 0, 0, 1, 0),)
    other = (Alternative(0, 0, 0, 1, 1),)
    problem = replace(PART, operations=(one, other))
    assert evaluate(problem, (0, 1), (0, 0)).positioning == 11
    assert evaluate(problem, (1, 0), (0, 0)).positioning == 12


@pytest.mark.parametrize(
    ("changes", "order", "constraint", "words"),
    [
        ({"before": ((2, 0),)}, ORDER, Constraint("before", 0), "2 is done after 0"),
        ({"minimum_wait": ((2, 0, 1),)}, ORDER, Constraint("minimum_wait", 0), "2 is done after 0"),
        (
            {"immediately_after": ((0, 2),)},
            ORDER,
            Constraint("immediately_after", 0),
            "2 is not directly after 0",
        ),
        (
            {"forbidden_neighbours": ((0, 1),)},
            ORDER,
            Constraint("forbidden_neighbours", 0),
            "1 is directly after 0",
        ),
        ({"same_clamping": ((0, 2),)}, ORDER, Constraint("same_clamping", 0), "in two clamping visits"),
        (
            {"not_same_clamping": ((2, 3),)},
            ORDER,
            Constraint("not_same_clamping", 0),
            "in one clamping visit",
        ),
        ({"same_zero": ((1, 2),)}, ORDER, Constraint("same_zero", 0), "in two clamping visits"),
        ({"not_between": ((3, 0, 1),)}, ORDER, Constraint("not_between", 0), "1 is between 3 and 0"),
        ({"pinned": ((3, 0),)}, ORDER, Constraint("pinned", 0), "3 is at position 3, pinned to 0"),
        (
            {"capacity": 2},
            ORDER,
            Constraint("capacity", 0),
            r"tools \[0, 1, 2\] need 3 places, the magazine has 2",
        ),
        ({"either_or": ((2, 3),)}, ORDER, Constraint("either_or", 0), "2 of"),
        ({}, (0, 1, 2), Constraint("operations", 3), "operation 3 is left out"),
        (
            {"either_or": ((2,),), "only_with": ((3, 2),)},
            (0, 1, 2),
            Constraint("only_with", 0),
            "only one of 3 and 2",
        ),
        ({"opens": ((1, 3),)}, ORDER, Constraint("opens", 0), "2 is done in clamping 1 before 3"),
        ({"closes": ((1, 2),)}, ORDER, Constraint("closes", 0), "3 is done in clamping 1 after 2"),
        ({"opens_for": ((0, 2, 1),)}, ORDER, Constraint("opens_for", 0), "1 is done in clamping 0 before 2"),
        ({"closes_for": ((1, 0, 3),)}, ORDER, Constraint("closes_for", 0), "3 is done in clamping 1 after 0"),
        (
            {"single_visit": (0,)},
            (0, 2, 1, 3),
            Constraint("single_visit", 0),
            "clamping 0 is visited 2 times",
        ),
    ],
)
def test_a_broken_constraint_is_named(
    changes: dict[str, object], order: tuple[int, ...], constraint: Constraint, words: str
) -> None:
    import re

    broken = check(replace(PART, **changes), order, CHOICE)
    assert constraint in [violation.constraint for violation in broken]
    assert any(re.search(words, violation.what) for violation in broken)


def test_re_referencing_between_breaks_the_zero() -> None:
    part = replace(PART, operations=(*PART.operations[:1] * 3,), same_zero=((0, 2),), re_references=(1,))
    broken = check(part, (0, 1, 2), (0, 0, 0))
    assert [violation.operations for violation in broken] == [(0, 2, 1)]
    assert check(part, (1, 0, 2), (0, 0, 0)) == ()
    assert check(replace(part, re_references=(0, 2)), (1, 0, 2), (0, 0, 0)) == ()


def test_an_order_that_cannot_be_read_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"operations \[0\] are listed twice"):
        evaluate(PART, (0, 0), CHOICE)
    with pytest.raises(OutOfRange, match=r"operation 7 \(0 to 3\)"):
        check(PART, (7,), CHOICE)
    with pytest.raises(OutOfRange, match=r"alternative 3"):
        check(PART, (0,), (3, 0, 0, 0))
    with pytest.raises(OutOfRange, match=r"2 choices"):
        check(PART, (0,), (0, 0))


def test_an_operation_tied_to_one_left_out_may_be_left_out() -> None:
    part = replace(PART, either_or=((0, 1),), only_with=((3, 1),))
    assert check(part, (0, 2), CHOICE) == ()
    assert check(part, (1, 2, 3), CHOICE) == ()
