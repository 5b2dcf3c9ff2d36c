"""Parts on a magazine smaller than all their tools together: the order that loads the fewest tools.

Every part needs its tools in the magazine at once. For a given order it is best to throw out the tool needed
latest (Tang and Denardo, Operations Research 36(5), 1988). Counted the other way round: every need of a tool
is a load, but for tools kept from one need to the next, each of which takes a place at every part between.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from sequencer.errors import OutOfRange

#: Rounds of annealing, and exchanges tried in each.
ROUNDS: Final = 12
EXCHANGES: Final = 120_000

#: Parts for which the proof comes after one round: it is quicker than annealing.
FEW: Final = 18

#: Rounds that go on until the time is up where the proof fails.
MORE_ROUNDS: Final = 100_000

#: Part of the time that the order is improved before the proof, and the end of the proof.
SHARE_BEFORE: Final = 0.3
SHARE_OF_PROOF: Final = 0.7

#: Exchanges between two looks at the clock.
CHUNK: Final = 20_000


@dataclass(frozen=True)
class Switching:
    """An order of the parts and what it loads.

    Parameters
    ----------
    order
        The parts in their order.
    magazines
        The tools in the magazine at each part of the order.
    loads
        Tools loaded, the first filling counted.
    bound
        No order loads fewer.
    """

    order: tuple[int, ...]
    magazines: tuple[frozenset[int], ...]
    loads: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether no order loads fewer."""
        return self.loads == self.bound


def magazines_of(
    needs: Sequence[frozenset[int]], places: int, order: Sequence[int]
) -> tuple[frozenset[int], ...]:
    """Fill the magazine for each part of an order: keep the tools needed soonest.

    Source: Tang and Denardo, Operations Research 36(5), 1988, policy "keep tool needed soonest".

    Parameters
    ----------
    needs
        Tools of each part.
    places
        Places of the magazine.
    order
        The parts in their order.
    """
    held: frozenset[int] = frozenset()
    filled = []
    for position, part in enumerate(order):
        following = [needs[later] for later in order[position:]]

        def next_use(tool: int, following: Sequence[frozenset[int]] = following) -> tuple[int, int]:
            uses = (at for at, tools in enumerate(following) if tool in tools)
            return next(uses, len(following)), tool

        spare = sorted(held - needs[part], key=next_use)[: places - len(needs[part])]
        held = needs[part] | frozenset(spare)
        filled.append(held)
    return tuple(filled)


def loads_of(magazines: Sequence[frozenset[int]]) -> int:
    """Count the tools loaded, the first filling included.

    Parameters
    ----------
    magazines
        The tools in the magazine at each part.
    """
    before: frozenset[int] = frozenset()
    loads = 0
    for held in magazines:
        loads += len(held - before)
        before = held
    return loads


def fewest_loads(
    needs: Sequence[frozenset[int]],
    places: int,
    *,
    seconds: float | None = None,
    rounds: int = ROUNDS,
    stop: Callable[[], bool] | None = None,
) -> Switching:
    """Find the order of parts that loads the fewest tools, with a bound.

    The answer depends on the needs and the rounds alone, unless `stop` or a time limit ends the search; with
    a time limit, orders that are not proven are improved until it ends.

    Parameters
    ----------
    needs
        Tools of each part, numbered from 0.
    places
        Places of the magazine.
    seconds
        Time limit [s].
    rounds
        Rounds of annealing.
    stop
        Asked now and then; the search ends when it says yes.

    Raises
    ------
    OutOfRange
        When a part needs more tools than the magazine holds, or a tool has a negative number.
    """
    for part, tools in enumerate(needs):
        if len(tools) > places:
            raise OutOfRange(f"{len(tools)} tools", where=f"part {part}", limit=f"{places} places")
        if min(tools, default=0) < 0:
            raise OutOfRange(f"tool {min(tools)}", where=f"part {part}", limit="0 or more")
    began = time.monotonic()

    def ended_at(share: float) -> Callable[[], bool]:
        end = None if seconds is None else began + share * seconds
        return lambda: (end is not None and time.monotonic() >= end) or bool(stop and stop())

    if len(needs) < 2:
        filled = magazines_of(needs, places, range(len(needs)))
        return Switching(tuple(range(len(needs))), filled, loads_of(filled), loads_of(filled))
    from sequencer.ordering.switching_search import Search

    search = Search(needs, places)
    bound = search.root_bound()
    few = len(needs) <= FEW
    order = search.improve(bound, 1 if few else rounds, EXCHANGES, CHUNK, ended_at(SHARE_BEFORE))
    loads = loads_of(magazines_of(needs, places, order))
    order, bound = search.prove(order, loads, bound, ended_at(1.0 if few else SHARE_OF_PROOF))
    ended = ended_at(1.0)
    if seconds is not None and not ended():
        order = search.improve(bound, MORE_ROUNDS, EXCHANGES, CHUNK, ended, order)
    filled = magazines_of(needs, places, order)
    return Switching(order, filled, loads_of(filled), bound)
