"""Keeping tools, the order of the parts and its bound: against all orders and all ways of keeping."""

from __future__ import annotations

from itertools import combinations, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.rotation.keeping import fewest_of_equal_size, keep_soonest
from sequencer.rotation.ordering import Wanted, best_order, late_days, listed_order


def units(*names):
    return frozenset((name, 0) for name in names)


def wanted(needs, places, *, days=None, minutes=None, sizes=None, start=()):
    """Needs as words of letters; each letter is a tool, `sizes` the pockets it takes."""

    def fits(held):
        return sum((sizes or {}).get(name, 1) for name, _ in held) <= places

    return Wanted(
        tuple(units(*each) for each in needs),
        tuple(days or [()] * len(needs)),
        tuple(minutes or [60.0] * len(needs)),
        units(*start),
        places,
        fits,
    )


def fewest_by_trying(needs, start, fits):
    """Fewest tools put in for an order: all sets that the magazine could hold at each part."""
    everything = sorted(frozenset().union(*needs, start))
    sets = [
        frozenset(chosen)
        for size in range(len(everything) + 1)
        for chosen in combinations(everything, size)
        if fits(frozenset(chosen))
    ]
    best = {frozenset(start): 0}
    for need in needs:
        after = {}
        for held in sets:
            if need <= held:
                after[held] = min(cost + len(held - before) for before, cost in best.items())
        best = after
    return min(best.values())


@given(
    st.lists(st.sets(st.sampled_from("ABCDEF"), min_size=1, max_size=3), min_size=2, max_size=5),
    st.integers(3, 4),
)
@settings(deadline=None, derandomize=True, max_examples=60)
def test_keeping_the_soonest_is_optimal_for_equal_sizes(needs, places):
    """Tang and Denardo (1988): against all ways of filling the magazine."""
    task = wanted([sorted(each) for each in needs], places)
    order = range(len(needs))
    kept = keep_soonest(task.needs, order, task.start, task.fits)
    least = fewest_by_trying(task.needs, task.start, task.fits)
    assert sum(len(each) for each in kept.loads) == least
    assert fewest_of_equal_size(task.needs, order, task.start, places) == least
    assert all(need <= held and task.fits(held) for need, held in zip(task.needs, kept.held, strict=True))


@given(st.lists(st.sets(st.sampled_from("ABCDEFG"), min_size=1, max_size=3), min_size=2, max_size=5))
@settings(deadline=None, derandomize=True, max_examples=25)
def test_the_order_is_the_best_of_all_orders(needs):
    """Against all orders, each with all ways of filling three places."""
    task = wanted([sorted(each) for each in needs], 3)
    found = best_order(task)
    least = min(
        fewest_by_trying([task.needs[part] for part in order], task.start, task.fits)
        for order in permutations(range(len(needs)))
    )
    assert (found.loads, found.bound, found.proven) == (least, least, True)


def test_wide_tools_keep_the_bound_honest():
    """W takes three of four places: with equal sizes 4 loads would do, so the bound may stay below."""
    task = wanted(["WA", "BC", "WA"], 4, sizes={"W": 3})
    found = best_order(task)
    assert found.bound <= found.loads
    assert all(task.fits(held) for held in found.kept.held)


def test_due_dates_come_before_exchanges():
    """A, C, B would exchange least; B is due first and comes first."""
    task = wanted(["AB", "CD", "AB"], 2, days=[(), (), (60.0,)])
    assert best_order(task).order[0] == 2
    urgent = wanted(["AB", "CD", "AB"], 2, days=[(), (60.0,), ()])
    assert best_order(urgent).order[0] == 1
    assert late_days(urgent, (0, 1, 2)) == 1


def test_listed_order_is_kept():
    """The planner may fix the order."""
    assert listed_order(wanted(["AB", "CD", "AB"], 2)).order == (0, 1, 2)
    assert listed_order(wanted(["AB", "CD", "AB"], 2)).loads == 6
    assert best_order(wanted(["AB", "CD", "AB"], 2)).loads == 4


def test_tools_in_the_magazine_at_the_start_are_not_loaded_again():
    """A and B are there; the part that needs them goes first."""
    found = best_order(wanted(["CD", "AB"], 2, start="AB"))
    assert (found.order, found.loads, found.bound) == ((1, 0), 2, 2)


def test_what_has_room_is_loaded_in_the_first_filling():
    """Four tools and four places: all are put in at once, nothing is exchanged."""
    kept = keep_soonest(wanted(["AB", "CD"], 4).needs, (0, 1), frozenset(), lambda held: len(held) <= 4)
    assert [len(each) for each in kept.loads] == [4, 0]
    assert kept.exchanges == 0


def test_ten_parts_come_with_a_bound():
    """Too many for all orders: the answer says what no order goes below."""
    needs = ["".join("ABCDEFGHIJ"[(3 * part + step * step) % 10] for step in range(4)) for part in range(10)]
    found = best_order(wanted([sorted(set(each)) for each in needs], 5))
    assert sorted(found.order) == list(range(10))
    assert 0 < found.bound <= found.loads


@pytest.mark.parametrize("count", [1, 2])
def test_few_parts(count):
    """One part, and two with the same tools."""
    found = best_order(wanted(["AB"] * count, 3))
    assert (found.loads, found.proven) == (2, True)
