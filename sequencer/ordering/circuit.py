"""What is left of a chain after cuts, as a constraint program; needs the optional solver ortools."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

import numpy as np

from sequencer.ordering.kernels import Ints
from sequencer.ordering.prices import Bools, Walks

#: Steps up to which the constraint program is worth a try.
MOST_STEPS: Final = 1500


def settle_rest(
    walks: Walks, cuts: list[tuple[Bools, Bools]], seconds: float, stop: Callable[[], bool]
) -> tuple[Ints | None, int] | None:
    """Look for an order below the limit among the steps left; gives it (None if there is none) and the bound.

    Parameters
    ----------
    walks
        The bound with the steps left.
    cuts
        Sets that every order steps between.
    seconds
        Time limit [s].
    stop
        Asked now and then.
    """
    try:
        from ortools.sat.python import cp_model
    except ImportError:
        return None
    start, end, cost = walks.listed()
    size = walks.chain.size
    model = cp_model.CpModel()
    taken = [model.new_bool_var("") for _ in cost]
    arcs = [(a, b, one) for a, b, one in zip(start.tolist(), end.tolist(), taken, strict=True)]
    model.add_circuit([*arcs, (size - 1, 0, model.new_constant(1))])
    low, high = walks.steps.low.tolist(), walks.steps.high.tolist()
    place = [model.new_int_var(a, b, "") for a, b in zip(low, high, strict=True)]
    for a, b, one in arcs:
        model.add(place[b] == place[a] + 1).only_enforce_if(one)
    for a, b in np.argwhere(walks.chain.direct).tolist():
        model.add(place[a] + 1 <= place[b])
    for s, t in cuts:
        model.add_bool_or([one for a, b, one in arcs if s[a] and t[b]])
    total = sum(int(price) * one for price, one in zip(cost.tolist(), taken, strict=True))
    model.add(total <= walks.limit - 1)
    model.add(total >= walks.bound)
    model.minimize(total)
    return _solved(model, walks, arcs, seconds, stop)


def _solved(
    model: object,
    walks: Walks,
    arcs: Sequence[tuple[int, int, object]],
    seconds: float,
    stop: Callable[[], bool],
) -> tuple[Ints | None, int]:
    import threading

    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1  # one worker gives the same answer each time
    solver.parameters.random_seed = 1
    if np.isfinite(seconds):
        solver.parameters.max_time_in_seconds = max(0.0, seconds)
    over = threading.Event()

    def watch() -> None:
        while not over.wait(0.1):
            if stop():
                solver.stop_search()

    watcher = threading.Thread(target=watch, daemon=True)
    watcher.start()
    status = solver.solve(model)  # type: ignore[arg-type]
    over.set()
    watcher.join()
    if status == cp_model.INFEASIBLE:
        return None, walks.limit
    bound = walks.bound
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, bound
    follower = {a: b for a, b, one in arcs if solver.boolean_value(one)}  # type: ignore[arg-type]
    order = [0]
    while order[-1] != walks.chain.size - 1:
        order.append(follower[order[-1]])
    found = np.array(order, np.int64)
    return found, walks.chain.total(found) if status == cp_model.OPTIMAL else bound
