"""Fewest loads of a magazine against every order tried, and the two ways to count against each other."""

from __future__ import annotations

import random
from itertools import permutations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import OutOfRange
from sequencer.ordering.tool_switching import Switching, fewest_loads, loads_of, magazines_of


def _drawn(seed: int, most_parts: int) -> tuple[tuple[frozenset[int], ...], int]:
    rnd = random.Random(seed)
    tools, places = rnd.randint(1, 9), rnd.randint(1, 5)
    most = min(tools, places)
    parts = rnd.randint(1, most_parts)
    needs = (frozenset(rnd.sample(range(tools), rnd.randint(0, most))) for _ in range(parts))
    return tuple(needs), places


def _least_for(needs: tuple[frozenset[int], ...], places: int) -> int:
    """Fewest loads of the parts in their order, by trying every magazine that serves each part."""
    tools = sorted(frozenset().union(*needs))
    costs = {frozenset[int](): 0}
    for need in needs:
        grown: dict[frozenset[int], int] = {}
        for kept in product((False, True), repeat=len(tools)):
            held = frozenset(tool for tool, keep in zip(tools, kept, strict=True) if keep)
            if need <= held and len(held) <= places:
                grown[held] = min(cost + len(held - before) for before, cost in costs.items())
        costs = grown
    return min(costs.values())


@given(seed=st.integers(0, 10**9))
@settings(deadline=None, derandomize=True, max_examples=40)
def test_keeping_the_tool_needed_soonest_loads_the_fewest(seed: int) -> None:
    rnd = random.Random(seed)
    needs = tuple(frozenset(rnd.sample(range(5), rnd.randint(0, 3))) for _ in range(rnd.randint(1, 6)))
    magazines = magazines_of(needs, 3, range(len(needs)))
    assert all(need <= held and len(held) <= 3 for need, held in zip(needs, magazines, strict=True))
    assert loads_of(magazines) == _least_for(needs, 3)


@given(seed=st.integers(0, 10**9))
@settings(deadline=None, derandomize=True, max_examples=200)
def test_tools_kept_and_tools_loaded_count_the_same(seed: int) -> None:
    from sequencer.ordering.switching_search import Search

    needs, places = _drawn(seed, 12)
    order = random.Random(seed + 1).sample(range(len(needs)), len(needs))
    assert Search(needs, places)._loads(np.array(order)) == loads_of(magazines_of(needs, places, order))


@given(seed=st.integers(0, 10**9))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_every_order_tried_gives_the_same_loads(seed: int) -> None:
    needs, places = _drawn(seed, 6)
    found = fewest_loads(needs, places, rounds=1)
    best = min(loads_of(magazines_of(needs, places, order)) for order in permutations(range(len(needs))))
    assert (found.loads, found.bound, found.proven) == (best, best, True)
    assert sorted(found.order) == list(range(len(needs)))
    assert found.loads == loads_of(found.magazines)


@given(seed=st.integers(0, 10**9))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_the_proof_alone_finds_the_fewest_loads_and_its_first_bound_is_none_too_high(seed: int) -> None:
    from sequencer.ordering.switching_search import Search

    needs, places = _drawn(seed, 6)
    needs = needs if len(needs) > 1 else 2 * needs
    search = Search(needs, places)
    best = min(loads_of(magazines_of(needs, places, order)) for order in permutations(range(len(needs))))
    bound = search.root_bound()
    assert bound <= best
    order, proven = search.prove((), 10**6, bound, lambda: False)
    assert proven == best
    assert loads_of(magazines_of(needs, places, order)) == best


def test_the_same_needs_give_the_same_order() -> None:
    rnd = random.Random(5)
    needs = tuple(frozenset(rnd.sample(range(12), 5)) for _ in range(8))
    first, second = (fewest_loads(needs, 8, rounds=2, stop=None) for _ in range(2))
    assert first == second
    assert first.bound <= first.loads


def test_a_search_told_to_stop_gives_an_order_and_an_honest_bound() -> None:
    needs = tuple(frozenset({part, part + 1, (part * 7) % 20}) for part in range(20))
    found = fewest_loads(needs, 5, stop=lambda: True)
    assert sorted(found.order) == list(range(20))
    assert len(frozenset().union(*needs)) <= found.bound <= found.loads


def test_parts_that_do_not_fit_are_refused() -> None:
    with pytest.raises(OutOfRange, match=r"part 1: 3 tools \(2 places\)"):
        fewest_loads((frozenset({0}), frozenset({0, 1, 2})), 2)
    with pytest.raises(OutOfRange, match="tool -1"):
        fewest_loads((frozenset({-1}),), 2)
    assert fewest_loads((), 2) == Switching((), (), 0, 0)
