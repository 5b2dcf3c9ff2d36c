"""The proof by halves against every order tried, and what it says of parts that are some of all."""

from __future__ import annotations

import random
from itertools import permutations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.ordering.switching_proof import by_halves
from sequencer.ordering.switching_search import Search
from sequencer.ordering.tool_switching import fewest_loads, loads_of, magazines_of


def _drawn(seed: int, parts: int) -> tuple[tuple[frozenset[int], ...], int]:
    rnd = random.Random(seed)
    tools, places = rnd.randint(3, 9), rnd.randint(2, 5)
    most = min(tools, places)
    needs = (frozenset(rnd.sample(range(tools), rnd.randint(0, most))) for _ in range(parts))
    return tuple(needs), places


def _least(needs: tuple[frozenset[int], ...], places: int) -> int:
    return min(loads_of(magazines_of(needs, places, order)) for order in permutations(range(len(needs))))


@given(seed=st.integers(0, 10**9))
@settings(deadline=None, derandomize=True, max_examples=80)
def test_halves_find_the_fewest_loads_and_nothing_below_them(seed: int) -> None:
    needs, places = _drawn(seed, random.Random(seed).randint(2, 6))
    masks = np.array([sum(1 << tool for tool in tools) for tools in needs], np.int64)
    apart = np.array([[max(0, len(a | b) - places) for b in needs] for a in needs], np.int64)
    fewest = _least(needs, places)
    found = by_halves(masks, apart, places, 1000, lambda: False)
    assert found is not None
    assert found.loads == fewest == loads_of(magazines_of(needs, places, found.order))
    below = by_halves(masks, apart, places, fewest, lambda: False)
    assert below is not None
    assert (below.order, below.loads) == ((), fewest)


@given(seed=st.integers(0, 10**9))
@settings(deadline=None, derandomize=True, max_examples=15)
def test_some_of_the_parts_bound_all(seed: int) -> None:
    needs, places = _drawn(seed, 6)
    search = Search(needs, places)
    fewest = _least(needs, places)
    for chosen in search._harder_and_harder(range(6)) or [[0, 1, 2, 3]]:
        some = Search([needs[part] for part in chosen], places)
        proof = some._exactly(1000, lambda: False)
        assert proof is not None
        assert proof.loads + search._wanted - some._wanted <= fewest


def test_forty_parts_with_many_tools_have_a_bound_above_the_tools() -> None:
    rnd = random.Random(7)
    needs = [frozenset(rnd.sample(range(60), 15)) for _ in range(40)]
    found = fewest_loads(needs, 20, rounds=1)
    assert 60 < found.bound <= found.loads
