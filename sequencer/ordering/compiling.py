"""The one-time compilation, in a process of its own so that a search that waits for it can be stopped."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

#: Time between two looks at the clock [s].
PAUSE = 0.05

_COMMAND = "from sequencer.ordering.compiling import compile_here; compile_here()"

#: The compilation under way. It goes on when a search is stopped, so that the next one finds it done.
_running: list[subprocess.Popen[bytes]] = []


def is_compiled() -> bool:
    """Tell whether code compiled from the present source is kept on this machine, or none can be kept."""
    from sequencer.ordering import expansion, kernels

    made: Any = expansion.expand
    if not hasattr(made, "stats") or made.signatures or not made.stats.cache_path:
        return True
    line = made.py_func.__code__.co_firstlineno
    newest = max(Path(str(module.__file__)).stat().st_mtime for module in (expansion, kernels))
    kept = Path(made.stats.cache_path).glob(f"expansion.expand-{line}.py*.nbc")
    return any(file.stat().st_mtime >= newest for file in kept)


def compile_here() -> None:
    """Compile by solving the smallest problem."""
    from sequencer.ordering.layered import Layers
    from sequencer.ordering.model import build_model
    from sequencer.ordering.problem import TOTAL_TIME, Alternative, Problem
    from sequencer.ordering.scale import scale_of
    from sequencer.ordering.search import Space

    problem = Problem(((Alternative(0, 0, 0, 1),),))
    scale = scale_of(problem, TOTAL_TIME)
    space = Space(build_model(problem, scale, ((0,),)), with_magazine=False)
    Layers(space, 0).run(1, scale.largest + 1, lambda: False, lambda _: None)


def compile_beside(stop: Callable[[], bool], tell: Callable[[], None]) -> bool:
    """Wait for the compilation in another process; gives up when told to stop.

    Parameters
    ----------
    stop
        Asked while waiting.
    tell
        Called while waiting.

    Returns
    -------
    bool
        Whether to go on; a compilation that failed beside is left to the first use.
    """
    if not sys.executable or getattr(sys, "frozen", False):
        return not stop()
    if not _running:
        places = os.pathsep.join(place or os.getcwd() for place in sys.path)
        quiet = subprocess.DEVNULL
        _running.append(
            subprocess.Popen(
                [sys.executable, "-c", _COMMAND],
                stdin=quiet,
                stdout=quiet,
                stderr=quiet,
                env={**os.environ, "PYTHONPATH": places},
                start_new_session=True,
            )
        )
    while _running[0].poll() is None:
        if stop():
            return False
        tell()
        time.sleep(PAUSE)
    _running.clear()
    return True
