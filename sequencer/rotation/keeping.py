"""For an order of parts: which tools stay in the magazine and which are exchanged, tools of all sizes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

#: A tool of the week: its name and which of the equal ones.
Unit = tuple[str, int]
Fits = Callable[[frozenset[Unit]], bool]


@dataclass(frozen=True)
class Kept:
    """What the magazine holds at each part of an order, residents left out.

    Parameters
    ----------
    held
        Tools in the magazine while each part is made.
    loads
        Tools put in before each part; before the first one, the first filling.
    """

    held: tuple[frozenset[Unit], ...]
    loads: tuple[frozenset[Unit], ...]

    @property
    def exchanges(self) -> int:
        """Tools put in after the first filling."""
        return sum(len(loaded) for loaded in self.loads[1:])


def keep_soonest(
    needs: Sequence[frozenset[Unit]], order: Sequence[int], start: frozenset[Unit], fits: Fits
) -> Kept:
    """Fill the magazine for each part of an order: keep the tools needed soonest, as far as they fit.

    Source: Tang and Denardo, Operations Research 36(5), 1988, policy "keep tool needed soonest"; optimal for
    tools of equal size. What is missing later is put in as early as there is room, best in the first filling.

    Parameters
    ----------
    needs
        Tools of each part.
    order
        The parts in their order.
    start
        Tools in the magazine at the start.
    fits
        Whether the magazine holds a set of tools.
    """
    held: list[frozenset[Unit]] = []
    before = start
    for position, part in enumerate(order):
        following = [needs[later] for later in order[position:]]
        now = set(needs[part])
        for unit in sorted(before - needs[part], key=lambda each: (_next_use(each, following), each)):
            if fits(frozenset(now | {unit})):
                now.add(unit)
        held.append(frozenset(now))
        before = held[-1]
    held = _early(needs, order, held, fits)
    loads, before = [], start
    for now_held in held:
        loads.append(now_held - before)
        before = now_held
    return Kept(tuple(held), tuple(loads))


def _next_use(unit: Unit, following: Sequence[frozenset[Unit]]) -> int:
    return next((at for at, tools in enumerate(following) if unit in tools), len(following))


def _early(
    needs: Sequence[frozenset[Unit]], order: Sequence[int], held: list[frozenset[Unit]], fits: Fits
) -> list[frozenset[Unit]]:
    """Put tools into the first filling that have room from there to their first use."""
    made = list(held)
    for position in range(1, len(order)):
        for unit in sorted(needs[order[position]] - made[position - 1]):
            if any(unit in made[earlier] for earlier in range(position)):
                continue
            if all(fits(made[earlier] | {unit}) for earlier in range(position)):
                for earlier in range(position):
                    made[earlier] |= {unit}
    return made


def fewest_of_equal_size(
    needs: Sequence[frozenset[Unit]], order: Sequence[int], start: frozenset[Unit], places: int
) -> int:
    """Fewest tools put in for an order, were each tool one pocket: a bound for tools of any size.

    Source: Tang and Denardo, Operations Research 36(5), 1988

    Parameters
    ----------
    needs
        Tools of each part.
    order
        The parts in their order, or the first ones of it.
    start
        Tools in the magazine at the start.
    places
        Pockets for the tools [-].
    """
    before, loads = start, 0
    for position, part in enumerate(order):
        following = [needs[later] for later in order[position:]]
        spare = sorted(before - needs[part], key=lambda each: (_next_use(each, following), each))
        loads += len(needs[part] - before)
        before = needs[part] | frozenset(spare[: max(0, places - len(needs[part]))])
    return loads
