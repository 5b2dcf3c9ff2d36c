"""Puts tools into the pockets of a given magazine, or proves that they do not go in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from sequencer.magazine.room import Loaded, Room

#: Places tried for wide tools before the search is given up.
TRIALS: Final = 500


@dataclass(frozen=True)
class Placing:
    """Where tools stand.

    Parameters
    ----------
    pockets
        Pocket of each tool, from 0, in the order of the tools; None if none was found.
    complete
        True if every arrangement was looked at, so that none found means none there.
    """

    pockets: tuple[int, ...] | None
    complete: bool


def place(
    tools: Sequence[Loaded], room: Room, fixed: Mapping[int, int] | None = None, *, trials: int = TRIALS
) -> Placing:
    """Put tools into pockets so that none touches another; wide ones close together, so that they share gaps.

    Parameters
    ----------
    tools
        The tools.
    room
        The pockets.
    fixed
        Pockets of tools that stay where they are: index of the tool to pocket.
    trials
        Places tried for wide tools before the search is given up.
    """
    search = _Search(tools, room, dict(fixed or {}), trials)
    found = search.run()
    return Placing(found, complete=found is not None or search.trials < trials)


class _Search:
    """Depth-first search over the pockets of wide tools; the others fill what is left."""

    def __init__(self, tools: Sequence[Loaded], room: Room, fixed: dict[int, int], most: int) -> None:
        self.tools, self.room, self.most = tools, room, most
        self.at = dict(fixed)
        self.trials = 0
        full = float(room.magazine.diameter_full)
        free = [index for index in range(len(tools)) if index not in fixed]
        self.wide = sorted((i for i in free if tools[i].diameter > full), key=self._widest_first)
        self.slim = sorted((i for i in free if tools[i].diameter <= full), key=self._widest_first)
        self.slimmest = min((tools[index].diameter for index in self.slim), default=0.0)
        self.ring = room.magazine.form != "rack" and not room.magazine.narrow_pockets and not fixed

    def _widest_first(self, index: int) -> tuple[float, float, str, int]:
        tool = self.tools[index]
        return -tool.diameter, -tool.length, tool.name, tool.sister

    def run(self) -> tuple[int, ...] | None:
        free = self.room.everything
        for index, pocket in self.at.items():
            if not free >> pocket & 1 or self._taken(index, pocket, exclude=index):
                return None
            free &= ~(1 << pocket)
        if len(self.wide) + len(self.slim) > free.bit_count():
            return None
        return self._wide(0, self._open_to_slim())

    def _open_to_slim(self) -> int:
        """Pockets in which the slimmest tool could stand beside those placed."""
        mask = 0 if self.slim else self.room.everything
        for index in self.slim:
            mask |= self.room.allowed(self.tools[index])
        for index, pocket in self.at.items():
            mask &= ~self.room.kept_from(pocket, self.tools[index].diameter, self.slimmest)
        return mask

    def _taken(self, index: int, pocket: int, exclude: int) -> bool:
        diameter = self.tools[index].diameter
        return any(
            self.room.kept_from(other_pocket, self.tools[other].diameter, diameter) >> pocket & 1
            for other, other_pocket in self.at.items()
            if other != exclude
        )

    def _wide(self, position: int, slim_mask: int) -> tuple[int, ...] | None:
        if slim_mask.bit_count() < len(self.slim):
            return None
        if position == len(self.wide):
            return self._fill()
        index = self.wide[position]
        tool = self.tools[index]
        for pocket in self._candidates(index, position, slim_mask):
            self.trials += 1
            if self.trials >= self.most:
                return None
            self.at[index] = pocket
            kept = self.room.kept_from(pocket, tool.diameter, self.slimmest)
            found = self._wide(position + 1, slim_mask & ~kept)
            if found is not None:
                return found
            del self.at[index]
        return None

    def _candidates(self, index: int, position: int, slim_mask: int) -> list[int]:
        """Pockets for a wide tool, those first that keep the fewest pockets from others."""
        tool = self.tools[index]
        mask = self.room.allowed(tool)
        for other, pocket in self.at.items():
            mask &= ~self.room.kept_from(pocket, self.tools[other].diameter, tool.diameter)
        if self.ring and position == 0:
            mask &= 1
        before = self.wide[position - 1] if position else -1
        same = position and self._widest_first(index)[:2] == self._widest_first(before)[:2]
        least = self.at[before] if same else -1
        pockets = [pocket for pocket in range(self.room.count) if mask >> pocket & 1 and pocket > least]
        kept = {p: self.room.kept_from(p, tool.diameter, self.slimmest) & slim_mask for p in pockets}
        return sorted(pockets, key=lambda pocket: (kept[pocket].bit_count(), pocket))

    def _fill(self) -> tuple[int, ...] | None:
        """Give slim tools their pockets: each looks for a free one and may push another on."""
        mask = {index: self._slim_mask(index) for index in self.slim}
        holder: dict[int, int] = {}
        for index in self.slim:
            free = next((p for p in _pockets(mask[index]) if p not in holder), None)
            if free is not None:
                holder[free] = index
            elif not self._push(index, mask, holder, set()):
                return None
        places = dict(self.at) | {index: pocket for pocket, index in holder.items()}
        return tuple(places[index] for index in range(len(self.tools)))

    def _push(self, index: int, mask: dict[int, int], holder: dict[int, int], tried: set[int]) -> bool:
        for pocket in _pockets(mask[index]):
            if pocket in tried:
                continue
            tried.add(pocket)
            if pocket not in holder or self._push(holder[pocket], mask, holder, tried):
                holder[pocket] = index
                return True
        return False

    def _slim_mask(self, index: int) -> int:
        tool = self.tools[index]
        mask = self.room.allowed(tool)
        for other, pocket in self.at.items():
            mask &= ~self.room.kept_from(pocket, self.tools[other].diameter, tool.diameter)
        return mask


def _pockets(mask: int) -> list[int]:
    return [pocket for pocket in range(mask.bit_length()) if mask >> pocket & 1]
