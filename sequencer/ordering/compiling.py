"""The one-time compilation, in a process of its own so that a search that waits for it can be stopped."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any, Final

import numpy as np

from sequencer.ordering.model import Model

#: Time between two looks at the clock [s].
PAUSE = 0.05

_COMMAND = "import sys; from sequencer.ordering.compiling import compile_here; compile_here(sys.argv[1])"

#: What can be compiled: modules, each with the function that is compiled last.
ENTRIES: Final = {
    "layers": (("expansion", "expand"),),
    "leaps": (("leaping", "leap"),),
    "chain": (
        ("descents", "anneal"),
        ("relaxation", "strike"),
        ("completion", "advance"),
        ("cuts", "least_cut"),
    ),
}

#: The compilations under way. They go on when a search is stopped, so that the next one finds them done.
_running: dict[str, subprocess.Popen[bytes]] = {}


def is_compiled(what: str) -> bool:
    """Tell whether code compiled from the present source is kept on this machine, or none can be kept.

    Parameters
    ----------
    what
        A key of `ENTRIES`.
    """
    if what in _running and _running[what].poll() is not None:
        del _running[what]
    return all(_is_kept(name, function) for name, function in ENTRIES[what])


def _is_kept(name: str, function: str) -> bool:
    module = import_module(f"sequencer.ordering.{name}")
    made: Any = getattr(module, function)
    if not hasattr(made, "stats") or made.signatures or not made.stats.cache_path:
        return True
    line = made.py_func.__code__.co_firstlineno
    return any(Path(made.stats.cache_path).glob(f"{name}.{function}-{line}.py*.nbc"))


def compile_here(what: str) -> None:
    """Compile by solving a small problem.

    Parameters
    ----------
    what
        A key of `ENTRIES`.
    """
    from sequencer.ordering.layered import Layers
    from sequencer.ordering.leaps import Leaps
    from sequencer.ordering.model import build_model
    from sequencer.ordering.problem import TOTAL_TIME, Alternative, Problem
    from sequencer.ordering.scale import scale_of
    from sequencer.ordering.search import Space

    problem = Problem(tuple((Alternative(0, 0, 0, 1),) for _ in range(3)))
    scale = scale_of(problem, TOTAL_TIME)
    space = Space(build_model(problem, scale, ((0,), (1,), (2,))), with_magazine=False)
    if what == "chain":
        _try_chain(space.model)
    elif what == "leaps":
        Leaps(space, 0).run(1, scale.largest + 1, lambda: False, lambda _: None)
    else:
        Layers(space, 0).run(1, scale.largest + 1, lambda: False, lambda _: None)


def begin_beside(what: str) -> None:
    """Begin the compilation in another process, unless it is under way.

    Parameters
    ----------
    what
        A key of `ENTRIES`.
    """
    if what in _running or not _can_run():
        return
    places = os.pathsep.join(place or os.getcwd() for place in sys.path)
    quiet = subprocess.DEVNULL
    _running[what] = subprocess.Popen(
        [sys.executable, "-c", _COMMAND, what],
        stdin=quiet,
        stdout=quiet,
        stderr=quiet,
        env={**os.environ, "PYTHONPATH": places},
        start_new_session=True,
    )


def _can_run() -> bool:
    return bool(sys.executable) and not getattr(sys, "frozen", False)


def _try_chain(model: Model) -> None:
    """Use everything that chains use once."""
    from sequencer.ordering.annealing import Annealing, first_order
    from sequencer.ordering.chain_layers import go_through
    from sequencer.ordering.cuts import least_cut
    from sequencer.ordering.prices import Walks
    from sequencer.ordering.sequence import chain_of

    chain = chain_of(model)
    order = first_order(chain)
    annealing = Annealing(chain, order, 1)
    sides = np.zeros((2, chain.size), np.int64)
    least_cut(np.zeros(chain.cost.shape), sides[0], 0, chain.size - 1, 1.0, sides[1])
    walks = Walks(chain, chain.total(order) + 2)
    walks.improve(2, lambda: False)
    go_through(walks, 10, lambda: False, lambda _: None)
    annealing.halt()


def compile_beside(what: str, stop: Callable[[], bool], tell: Callable[[], None]) -> bool:
    """Wait for the compilation in another process; gives up when told to stop.

    Parameters
    ----------
    what
        A key of `ENTRIES`.
    stop
        Asked while waiting.
    tell
        Called while waiting.

    Returns
    -------
    bool
        Whether to go on; a compilation that failed beside is left to the first use.
    """
    if not _can_run():
        return not stop()
    begin_beside(what)
    while _running[what].poll() is None:
        if stop():
            return False
        tell()
        time.sleep(PAUSE)
    del _running[what]
    return True
