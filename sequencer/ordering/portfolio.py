"""Beam and best-first search first; the compiled program for what they leave open."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sequencer.ordering.bound import WIDE_GROUPS
from sequencer.ordering.dives import Diver
from sequencer.ordering.plainness import is_chain
from sequencer.ordering.result import Progress
from sequencer.ordering.scale import Scale
from sequencer.ordering.search import BestFirst, Plan, Space, beam
from sequencer.ordering.tool_groups import NEVER

if TYPE_CHECKING:
    from sequencer.ordering.layered import Layers

#: States in memory up to which the interpreted search goes, and the width of the beam before each part of it.
STAGES = ((2_000, 4), (12_000, 12))

#: The interpreted search goes on up to here where the compiled program cannot be used.
ALONE = ((200_000, 60),)

#: First width of the compiled program, and how much wider each pass is than the one before.
FIRST_WIDTH, WIDER = 500, 8

#: Largest sum of costs of a chain that is searched as one, and the fewest operations.
LARGEST_CHAIN, SHORTEST_CHAIN = 1 << 45, 4

#: From this size on a chain is not searched by the beam first, which is slow there.
LONG_CHAIN = 30

#: States that the search for some order looks at in any case, and while there is time.
AT_ONCE, DIVES = 3_000, 100_000

#: Selections of either-or groups that the beam tries.
BEAMS = 8


@dataclass
class Run:
    """Clock, stop sign and progress of one call.

    Parameters
    ----------
    seconds
        Time limit [s].
    asked_to_stop
        The caller's stop sign.
    on_progress
        The caller's ear.
    scale
        How costs split into levels.
    """

    seconds: float | None
    asked_to_stop: Callable[[], bool] | None
    on_progress: Callable[[Progress], None] | None
    scale: Scale
    started: float = field(default_factory=time.monotonic)
    states: int = 0
    values: tuple[int, ...] = ()
    halted: bool = False

    def elapsed(self) -> float:
        """Time since the call [s]."""
        return time.monotonic() - self.started

    def remaining(self) -> float:
        """Time left [s], infinite without a limit."""
        return float("inf") if self.seconds is None else self.seconds - self.elapsed()

    def part(self, scale: Scale, share: float) -> Run:
        """Give a clock for one part of the search, with a share of the time left.

        Parameters
        ----------
        scale
            How the costs of the part split into levels.
        share
            Share of the time left, 0 to 1.
        """
        seconds = None if self.seconds is None else max(0.0, self.remaining() * share)
        return Run(seconds, self.asked_to_stop, self._heard, scale)

    def _heard(self, progress: Progress) -> None:
        self.tell(progress.phase + " of the upper levels", progress.done)

    def stop(self) -> bool:
        """Tell whether to end now."""
        if not self.halted:
            self.halted = self.remaining() <= 0 or bool(self.asked_to_stop and self.asked_to_stop())
        return self.halted

    def tell(self, phase: str, done: float = -1.0) -> None:
        """Report progress.

        Parameters
        ----------
        phase
            What is being done.
        done
            Part of it that is done, -1 if not known.
        """
        if self.on_progress:
            self.on_progress(Progress(phase, done, self.values, self.states, self.elapsed()))


@dataclass(frozen=True)
class Proof:
    """The best order and what no order can cost less than.

    Parameters
    ----------
    plan
        The best order found, if any.
    bound
        Lower bound; NEVER if there is no order at all.
    """

    plan: Plan | None
    bound: int


def prove(
    spaces: list[Space],
    run: Run,
    state_limit: int,
    hint: Callable[[], Proof | None] | None = None,
    start: Plan | None = None,
) -> Proof:
    """Search until proven, stopped or out of memory.

    Parameters
    ----------
    spaces
        The models, one for each set of operations that may be done.
    run
        Clock and progress.
    state_limit
        Most states kept at a time.
    hint
        Asked for a plan and a bound when a quick proof fails.
    start
        A plan already known.
    """
    search = BestFirst(spaces)
    if start is not None:
        search.lower_limit(start.cost)
    found, chained = start, len(spaces) == 1 and spaces[0].model.size > LONG_CHAIN
    for stage in STAGES[: 0 if chained else 1]:
        found = _interpreted(search, spaces, run, (stage,), state_limit, found)
        if search.finished or run.stop() or state_limit <= stage[0]:
            return _proof(found, search.bound, search.finished)
    proof = _chain(spaces, run, state_limit, found)
    if proof is not None:
        return proof
    for stage in STAGES[0 if chained else 1 :]:
        found = _interpreted(search, spaces, run, (stage,), state_limit, found)
        if search.finished or run.stop() or state_limit <= stage[0]:
            return _proof(found, search.bound, search.finished)
    bound = search.bound
    advice = hint() if hint else None
    if advice is not None:
        bound = max(bound, advice.bound)
        if advice.plan is not None and advice.plan.cost < search.limit:
            found = advice.plan
            search.lower_limit(found.cost)
            run.values = run.scale.split(found.cost)
        if bound >= search.limit or run.stop():
            return Proof(found, min(bound, search.limit))
    if _compiled_ready(spaces, run):
        return _compiled(spaces, run, state_limit, found, bound)
    if run.stop():
        return Proof(found, bound)
    found = _interpreted(search, spaces, run, ALONE, state_limit, found)
    return _proof(found, max(bound, search.bound), search.finished)


def _proof(plan: Plan | None, bound: int, finished: bool) -> Proof:
    return Proof(plan, NEVER if plan is None and finished else bound)


def _interpreted(
    search: BestFirst,
    spaces: list[Space],
    run: Run,
    stages: tuple[tuple[int, int], ...],
    state_limit: int,
    best: Plan | None,
) -> Plan | None:
    """Widen the beam and go on with the best-first search in turns, until one of them is done."""
    ranked = sorted(range(len(spaces)), key=lambda number: (spaces[number].root, number))
    for kept, width in stages:
        run.tell("improving")
        for rank, number in enumerate(ranked[:BEAMS]):
            at_once = best is None and rank == 0  # some order is worth a moment even when told to stop
            patience = (lambda: False) if at_once else run.stop
            found, seen, _ = beam(spaces[number], number, width, search.limit, patience)
            run.states += seen
            if found is not None:
                best = found
                search.lower_limit(found.cost)
                run.values = run.scale.split(found.cost)
        if best is None:
            best = _some_order(search, spaces, ranked[:BEAMS], run)
        run.tell("proving")
        before = search.states
        search.run(min(kept, state_limit), run.stop)
        run.states += search.states - before
        if search.best is not None and search.best.cost <= search.limit:
            best = search.best
            run.values = run.scale.split(best.cost)
        if search.finished or run.stop():
            break
    return best


def _some_order(search: BestFirst, spaces: list[Space], ranked: list[int], run: Run) -> Plan | None:
    """Some order where the beam found none, at whatever cost; worth a moment even when told to stop."""
    run.tell("looking for some order")
    for number in ranked:
        if spaces[number].root >= search.limit:
            continue
        diver = Diver(spaces[number], number)
        found = diver.find(AT_ONCE, lambda: False)
        if found is None and not diver.exhausted:
            found = diver.find(DIVES, run.stop)
        run.states += diver.states
        if found is not None and found.cost < search.limit:
            search.lower_limit(found.cost)
            run.values = run.scale.split(found.cost)
            return found
    return None


def _chain(spaces: list[Space], run: Run, state_limit: int, start: Plan | None) -> Proof | None:
    """Search of a plain chain; None if the problem is none or cannot be searched so."""
    if len(spaces) != 1 or not is_chain(spaces[0].model):
        return None
    if run.scale.largest >= LARGEST_CHAIN or spaces[0].model.size < SHORTEST_CHAIN:
        return None
    try:
        from sequencer.ordering.chain import prove_chain
        from sequencer.ordering.compiling import compile_beside, is_compiled
        from sequencer.ordering.sequence import chain_of
    except (ImportError, RuntimeError):
        return None
    if not is_compiled("chain") and not compile_beside("chain", run.stop, lambda: run.tell("compiling")):
        return None
    return prove_chain(chain_of(spaces[0].model), run, state_limit, start)


def _compiled_ready(spaces: list[Space], run: Run) -> bool:
    """Load the compiled program, if it can hold the models."""
    try:
        from sequencer.ordering.arrays import fits
        from sequencer.ordering.compiling import compile_beside, is_compiled
    except (ImportError, RuntimeError):
        return False
    if not all(fits(space.model, space.moves, space.bound) for space in spaces):
        return False
    return is_compiled("layers") or compile_beside("layers", run.stop, lambda: run.tell("compiling"))


def _compiled(spaces: list[Space], run: Run, state_limit: int, best: Plan | None, bound: int) -> Proof:
    """Pass after pass with wider layers; each pass gives a bound from the states that it dropped."""
    from sequencer.ordering.layered import Layers

    limit = NEVER if best is None else best.cost
    left = [number for number, space in enumerate(spaces) if space.root < limit]
    layers: dict[int, Layers] = {}
    bounds = {number: spaces[number].root for number in left}
    width, spent = min(FIRST_WIDTH, state_limit), 0.0
    while left:
        began = run.elapsed()
        for number in sorted(left, key=lambda one: (bounds[one], one)):
            if number not in layers:
                layers[number] = Layers(_widened(spaces[number]), number)
            ceiling = min(limit, _largest(run.scale))
            outcome = layers[number].run(width, ceiling, run.stop, _teller(run, width))
            run.states += outcome.states
            if outcome.plan is not None:
                best, limit = outcome.plan, outcome.plan.cost
                run.values = run.scale.split(limit)
            exhausted = outcome.plan is None and outcome.bound >= ceiling
            bounds[number] = NEVER if exhausted else max(bounds[number], outcome.bound)
        left = [number for number in left if bounds[number] < limit]
        spent = run.elapsed() - began
        if width >= state_limit or run.stop():
            break
        width = _next_width(width, spent, run.remaining(), state_limit)
    lowest = min((bounds[number] for number in left), default=limit)
    return Proof(best, min(limit, max(bound, lowest)))


def _largest(scale: Scale) -> int:
    return scale.largest + 1


def _widened(space: Space) -> Space:
    """The same model with larger tool groups: a slower start, a better bound."""
    return Space(space.model, with_magazine=space.moves.with_magazine, group_size=WIDE_GROUPS)


def _teller(run: Run, width: int) -> Callable[[float], None]:
    return lambda done: run.tell(f"proving, up to {width} states a layer", done)


def _next_width(width: int, spent: float, remaining: float, state_limit: int) -> int:
    """Eight times wider, or less if the time left is too short for that."""
    factor = float(WIDER)
    if remaining < factor * spent:
        factor = max(1.5, remaining / max(spent, 1e-3))
    return min(state_limit, int(width * factor))
