"""Plain chains: orders keep every arrow, bounds stay below the best of all orders, proofs meet it."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import ProofBroken
from sequencer.ordering.annealing import Annealing, first_order
from sequencer.ordering.chain import Search
from sequencer.ordering.chain_layers import go_through
from sequencer.ordering.check import check, evaluate
from sequencer.ordering.circuit import settle_rest
from sequencer.ordering.cuts import Cuts
from sequencer.ordering.exchanges import best_exchange, exchange
from sequencer.ordering.kernels import Ints
from sequencer.ordering.model import build_model
from sequencer.ordering.plainness import is_chain
from sequencer.ordering.portfolio import Run
from sequencer.ordering.prices import MANY, Walks
from sequencer.ordering.problem import LEXICOGRAPHIC, TOTAL_TIME, Alternative, Problem
from sequencer.ordering.result import Progress
from sequencer.ordering.scale import scale_of
from sequencer.ordering.search import Space
from sequencer.ordering.sequence import Chain, chain_of
from sequencer.ordering.solve import solve


def _chain(seed: int, size: int, density: float) -> Problem:
    rnd = random.Random(seed)
    order = rnd.sample(range(size), size)
    tools, clampings = rnd.randint(1, 3), rnd.randint(1, 2)
    return Problem(
        operations=tuple(
            (Alternative(rnd.randrange(tools), rnd.randrange(clampings), 0, rnd.randint(0, 5), op),)
            for op in range(size)
        ),
        before=tuple((a, b) for at, a in enumerate(order) for b in order[at + 1 :] if rnd.random() < density),
        tool_change=tuple(rnd.randint(0, 30) for _ in range(tools)),
        clamping_change=tuple(tuple(40 * (a != b) for b in range(clampings)) for a in range(clampings)),
        positioning=tuple(tuple(rnd.randint(0, 99) * (a != b) for b in range(size)) for a in range(size)),
        home_positioning=tuple(rnd.randint(0, 20) for _ in range(size)),
    )


def _space(problem: Problem) -> Space:
    slots = tuple((op,) for op in range(problem.size))
    return Space(build_model(problem, scale_of(problem, TOTAL_TIME), slots), with_magazine=False)


def _never() -> bool:
    return False


def _ignore(_: float) -> None:
    """Nobody listens."""


def _small(seed: int, size: int, density: float) -> tuple[Problem, Chain, int]:
    """A chain with the cost of its best order, by trying every order of every set of operations."""
    problem = _chain(seed, size, density)
    chain = chain_of(_space(problem).model)
    count = chain.size
    needs = [sum(1 << a for a in range(count) if chain.earlier[a, b]) for b in range(count)]
    least = {(1, 0): 0}
    for _ in range(count - 1):
        grown: dict[tuple[int, int], int] = {}
        for (done, last), cost in least.items():
            for then in range(count):
                if not done >> then & 1 and not needs[then] & ~done:
                    key = (done | 1 << then, then)
                    grown[key] = min(grown.get(key, 1 << 60), cost + int(chain.cost[last, then]))
        least = grown
    return problem, chain, min(least.values())


SMALL = given(
    seed=st.integers(0, 10**9), size=st.integers(4, 9), density=st.sampled_from([0.0, 0.1, 0.2, 0.4])
)


@SMALL
@settings(deadline=None, derandomize=True, max_examples=25)
def test_exchanges_keep_the_arrows_and_cost_what_the_checker_says(
    seed: int, size: int, density: float
) -> None:
    problem, chain, best = _small(seed, size, density)
    annealing = Annealing(chain, first_order(chain), 1)
    annealing.halt()
    cost, order = annealing.latest
    plan = chain.plan(order)
    ops = [op for op, _ in plan.steps]
    assert check(problem, ops, [0] * size) == ()
    assert evaluate(problem, ops, [0] * size).time == plan.cost == cost + chain.own
    assert cost >= best
    assert chain.order(plan).tolist() == order.tolist()


@SMALL
@settings(deadline=None, derandomize=True, max_examples=40)
def test_an_exchange_is_found_exactly_where_one_helps(seed: int, size: int, density: float) -> None:
    """Held against all pairs of neighbouring runs, each tried on the whole order."""
    _, chain, _ = _small(seed, size, density)
    count, order = chain.size, first_order(chain)
    near = np.argsort(chain.cost, axis=1, kind="stable").astype(np.int64)
    place, spare, runs = np.argsort(order).astype(np.int64), np.zeros(count, np.int64), np.zeros(3, np.int64)
    for _ in range(100):
        gains = [best_exchange(chain.cost, chain.arrows, near, order, place, op, runs) for op in range(count)]
        assert (min(gains) < 0) == _some_exchange_helps(chain, order)
        if min(gains) == 0:
            return
        before = chain.total(order)
        op = int(np.argmin(gains))
        assert best_exchange(chain.cost, chain.arrows, near, order, place, op, runs) == min(gains)
        exchange(order, place, spare, int(runs[0]), int(runs[1]), int(runs[2]))
        assert chain.total(order) == before + min(gains)
        assert _keeps_arrows(chain, order)
        assert place[order].tolist() == list(range(count))
    pytest.fail("the descent does not end")


def _keeps_arrows(chain: Chain, order: Ints) -> bool:
    return not np.tril(chain.earlier[np.ix_(order, order)]).any()


def _some_exchange_helps(chain: Chain, order: Ints) -> bool:
    for start in range(1, chain.size - 2):
        for middle in range(start + 1, chain.size - 1):
            for end in range(middle + 1, chain.size):
                changed = np.concatenate((order[:start], order[middle:end], order[start:middle], order[end:]))
                if chain.total(changed) < chain.total(order) and _keeps_arrows(chain, changed):
                    return True
    return False


@SMALL
@settings(deadline=None, derandomize=True, max_examples=25)
def test_walks_bound_the_best_order_and_lose_none(seed: int, size: int, density: float) -> None:
    """With a limit of one more the best order must survive; with its own cost nothing better may be found."""
    _, chain, best = _small(seed, size, density)
    loose = Walks(chain, best + 1)
    loose.improve(80, _never)
    assert loose.bound <= best
    found = go_through(loose, 10_000, _never, _ignore)
    assert found.order is not None
    assert chain.total(found.order) == best == found.bound
    tight = Walks(chain, best)
    tight.improve(5, _never)
    assert tight.bound <= best
    if tight.bound < best:
        assert go_through(tight, 10_000, _never, _ignore).order is None


@SMALL
@settings(deadline=None, derandomize=True, max_examples=25)
def test_a_cut_pass_bounds_from_below(seed: int, size: int, density: float) -> None:
    _, chain, best = _small(seed, size, density)
    walks = Walks(chain, best + 50)
    walks.improve(1, _never)
    found = go_through(walks, 2, _never, _ignore)
    assert found.bound <= best
    assert found.order is None or chain.total(found.order) >= best


@SMALL
@settings(deadline=None, derandomize=True, max_examples=25)
def test_cuts_and_what_is_left_meet_the_best_order(seed: int, size: int, density: float) -> None:
    pytest.importorskip("scipy")
    _, chain, best = _small(seed, size, density)
    walks = Walks(chain, best + 1)
    cuts = Cuts(walks)
    cuts.improve(lambda: float("inf"), _never, _ignore)
    assert walks.bound <= best
    walks.improve(20, _never)
    assert walks.bound <= best
    found = go_through(walks, 10_000, _never, _ignore)
    assert found.order is not None
    assert chain.total(found.order) == best
    pytest.importorskip("ortools")
    rest = settle_rest(walks, cuts.kept, 20.0, _never)
    assert rest is not None
    assert rest[0] is not None
    assert chain.total(rest[0]) == best == rest[1]
    below = Walks(chain, best)
    Cuts(below).improve(lambda: float("inf"), _never, _ignore)
    if below.bound < best:
        assert settle_rest(below, [], 20.0, _never) == (None, best)


@SMALL
@settings(deadline=None, derandomize=True, max_examples=15)
def test_the_whole_search_proves_small_chains(seed: int, size: int, density: float) -> None:
    problem, chain, best = _small(seed, size, density)
    run = Run(None, None, None, scale_of(problem, TOTAL_TIME))
    plan, bound = Search(chain, run, 1000, None).prove()
    assert plan.cost == bound == best + chain.own


def test_a_bound_above_an_order_stops_the_run() -> None:
    problem, chain, best = _small(5, 7, 0.1)
    search = Search(chain, Run(None, None, None, scale_of(problem, TOTAL_TIME)), 1000, None)
    search._annealing.halt()
    with pytest.raises(ProofBroken, match="a bound says"):
        search._raise(best + 10**6)
    search._raise(best)
    with pytest.raises(ProofBroken, match="an order costs"):
        search._take(best - 1, first_order(chain))


def test_the_same_chain_gives_the_same_order_whatever_the_speed() -> None:
    """Proven by the compiled programs; the exchanges run beside."""
    problem = _chain(3, 34, 0.3)
    first, again = (solve(problem, objective=TOTAL_TIME) for _ in range(2))
    assert first.order == again.order
    assert first.levels == again.levels
    assert first.proven


def test_levels_of_a_chain_are_proven_one_by_one() -> None:
    problem = _chain(4, 34, 0.3)
    heard: list[Progress] = []
    result = solve(problem, objective=LEXICOGRAPHIC, on_progress=heard.append, seconds=20)
    assert check(problem, result.order, result.choice) == ()
    assert evaluate(problem, result.order, result.choice).values(LEXICOGRAPHIC) == tuple(
        level.value for level in result.levels
    )
    assert {"improving by exchanges", "proving by walks"} & {one.phase for one in heard}


def test_a_chain_stops_when_told() -> None:
    problem = _chain(1, 60, 0.02)
    calls: list[int] = []

    def stop() -> bool:
        calls.append(1)
        return len(calls) > 20

    result = solve(problem, objective=TOTAL_TIME, stop=stop)
    assert not result.proven
    assert check(problem, result.order, result.choice) == ()
    assert result.levels[0].bound < result.levels[0].value


@pytest.mark.parametrize(
    "changes",
    [
        {"immediately_after": ((0, 1),)},
        {"soft_before": ((0, 1, 5),)},
        {"same_clamping": ((0, 1),)},
        {"not_same_clamping": ((0, 1),)},
        {"pinned": ((0, 1),)},
        {"single_visit": (0,)},
        {"minimum_wait": ((0, 1, 5),)},
        {"not_between": ((0, 1, 2),)},
        {"forbidden_neighbours": ((0, 1),)},
        {"operations": ((Alternative(-1, 0, 0, 1, 0),),) + ((Alternative(0, 0, 0, 1, 0),),) * 4},
        {"operations": ((Alternative(0, 0, 0, 1, 0), Alternative(1, 0, 0, 9, 0)),) * 5},
    ],
    ids=lambda changes: next(iter(changes)),
)
def test_what_else_matters_makes_it_no_chain(changes: dict[str, object]) -> None:
    operations = tuple((Alternative(op % 2, 0, 0, 1, op),) for op in range(5))
    table = tuple(tuple(abs(a - b) for b in range(5)) for a in range(5))
    problem = Problem(operations, tool_change=(3, 3), positioning=table)
    assert is_chain(_space(problem).model)
    changed = replace(problem, **changes)  # type: ignore[arg-type]
    assert not is_chain(_space(changed).model)


@SMALL
@settings(deadline=None, derandomize=True, max_examples=10)
def test_neighbourhoods_stay_within_their_room_however_often_the_walks_begin_anew(
    seed: int, size: int, density: float
) -> None:
    pytest.importorskip("scipy")
    _, chain, best = _small(seed, size, density)
    walks = Walks(chain, best + 50)
    for _ in range(4):
        Cuts(walks).improve(lambda: float("inf"), _never, _ignore)
        walks.improve(60, _never)
    members, count, _ = walks.memory
    assert count.max() <= MANY
    for op in range(chain.size):
        known = members[op, : count[op]].tolist()
        assert len(known) == len(set(known))
