"""Spreads the mass of the tools so that no side of the magazine hangs heavier than it may."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from typing import Final

from sequencer.magazine.room import Loaded, Room
from sequencer.units import Kg

#: Exchanges of two pockets that are tried.
TRIALS: Final = 12_000


def imbalance(masses: Sequence[Kg], *, ring: bool) -> Kg:
    """Largest difference of mass between the two sides [kg].

    Source: derived; a chain or drum turns, so every line that halves it counts; a rack stands still and has
    a left and a right half.

    Parameters
    ----------
    masses
        Mass in each pocket [kg].
    ring
        True for a chain or drum.
    """
    return max(_differences(masses, ring=ring), default=0.0)


def _differences(masses: Sequence[Kg], *, ring: bool) -> list[Kg]:
    half = len(masses) // 2
    if not ring:
        return [abs(sum(masses[:half]) - sum(masses[len(masses) - half :]))]
    if len(masses) % 2 == 0:
        facing = [one - other for one, other in zip(masses[:half], masses[half:], strict=True)]
        whole = sum(facing)
        return [abs(whole - 2 * passed) for passed in accumulate(facing[:-1], initial=0.0)]
    double = [*masses, *masses]
    one, other = sum(double[:half]), sum(double[half : 2 * half])
    found = [abs(one - other)]
    for start in range(len(masses) - 1):
        one += double[start + half] - double[start]
        other += double[start + 2 * half] - double[start + half]
        found.append(abs(one - other))
    return found


def least_imbalance(masses: Sequence[Kg], pockets: int, *, ring: bool) -> Kg:
    """No arrangement of these tools has less imbalance than this [kg].

    Source: derived; when a ring of an even number of pockets moves on by one, the difference between its
    sides changes by twice the difference of two opposite tools, so it is at least that difference once; the
    largest of these is least when tools of neighbouring mass face each other.

    Parameters
    ----------
    masses
        Masses of the tools [kg].
    pockets
        Pockets of the magazine [-].
    ring
        True for a chain or drum.
    """
    if not ring:
        return max(0.0, 2 * max(masses, default=0.0) - sum(masses)) if pockets % 2 == 0 else 0.0
    if pockets % 2 or len(masses) > pockets:
        return 0.0
    filled = sorted((*masses, *([0.0] * (pockets - len(masses)))), reverse=True)
    return max((a - b for a, b in zip(filled[::2], filled[1::2], strict=True)), default=0.0)


def balanced(
    tools: Sequence[Loaded], places: Sequence[int], room: Room, *, fixed: frozenset[int], enough: Kg
) -> tuple[int, ...]:
    """Exchange the contents of pockets as long as that lowers the imbalance, without blocking more pockets.

    Source: derived

    Parameters
    ----------
    tools
        The tools.
    places
        Pocket of each, from 0.
    room
        The pockets.
    fixed
        Tools that stay where they are.
    enough
        An imbalance that is small enough [kg].
    """
    return _Exchanges(tools, places, room, fixed).run(enough)


class _Exchanges:
    """Exchanges of two pockets, one of which may be empty."""

    def __init__(
        self, tools: Sequence[Loaded], places: Sequence[int], room: Room, fixed: frozenset[int]
    ) -> None:
        self.tools, self.room = tools, room
        self.places = list(places)
        self.ring = room.magazine.form != "rack"
        self.masses = [0.0] * room.count
        self.holder: dict[int, int] = {}
        for index, pocket in enumerate(places):
            self.masses[pocket] = tools[index].mass
            self.holder[pocket] = index
        full = float(room.magazine.diameter_full)
        self.full = full
        self.wide = [index for index, tool in enumerate(tools) if tool.diameter > full]
        self.movable = sorted(
            (index for index in range(len(tools)) if index not in fixed and tools[index].name),
            key=lambda index: (-tools[index].mass, index),
        )
        self.fixed = fixed

    def _value(self) -> tuple[Kg, Kg]:
        differences = _differences(self.masses, ring=self.ring)
        return round(max(differences), 9), round(sum(each * each for each in differences), 6)

    def run(self, enough: Kg) -> tuple[int, ...]:
        best, trials, better = self._value(), 0, True
        while better and best[0] > enough + 1e-9 and trials < TRIALS:
            better = False
            for index in self.movable:
                for pocket in range(self.room.count):
                    if self.places[index] == pocket or not self._may(index, pocket):
                        continue
                    trials += 1
                    before = self.places[index]
                    self._exchange(before, pocket)
                    value = self._value()
                    if value < best:
                        best, better = value, True
                    else:
                        self._exchange(before, pocket)
                if best[0] <= enough + 1e-9 or trials >= TRIALS:
                    break
        return tuple(self.places)

    def _may(self, index: int, pocket: int) -> bool:
        """Whether a tool and what stands in another pocket may be exchanged."""
        other = self.holder.get(pocket)
        if other is not None and (other in self.fixed or not self.tools[other].name):
            return False
        mass = 0.0 if other is None else self.tools[other].mass
        if mass == self.tools[index].mass:
            return False
        return self._fits(index, pocket, other) and (
            other is None or self._fits(other, self.places[index], index)
        )

    def _fits(self, index: int, pocket: int, leaving: int | None) -> bool:
        """Whether a tool may take a pocket that another leaves; a wide one only in place of its like."""
        tool = self.tools[index]
        if not self.room.allowed(tool) >> pocket & 1:
            return False
        if tool.diameter > self.full:
            return leaving is not None and self.tools[leaving].diameter == tool.diameter
        if leaving is not None and self.tools[leaving].diameter > self.full:
            return False
        return not any(
            self.room.kept_from(self.places[other], self.tools[other].diameter, tool.diameter) >> pocket & 1
            for other in self.wide
        )

    def _exchange(self, first: int, second: int) -> None:
        a, b = self.holder.pop(first, None), self.holder.pop(second, None)
        self.masses[first], self.masses[second] = self.masses[second], self.masses[first]
        if a is not None:
            self.holder[second] = a
            self.places[a] = second
        if b is not None:
            self.holder[first] = b
            self.places[b] = first
