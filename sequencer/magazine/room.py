"""How far pockets are from each other, and which tools can stand in them at once."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from sequencer.shop import AnyTool, Magazine
from sequencer.units import Kg, Mm


@dataclass(frozen=True)
class Loaded:
    """One tool that takes a pocket; equal tools are several of these.

    Parameters
    ----------
    name
        Name of the tool; empty for a pocket kept empty.
    sister
        0 for the first of its kind, 1, 2 ... for sister tools.
    diameter, length
        Its largest diameter and its length [mm].
    mass
        Its mass [kg].
    """

    name: str
    sister: int
    diameter: Mm
    length: Mm
    mass: Kg


def loaded_tool(tool: AnyTool, sister: int = 0) -> Loaded:
    """Give what the magazine knows of a tool.

    Parameters
    ----------
    tool
        The tool.
    sister
        Which of the equal ones.
    """
    diameter, length = float(tool.body_diameter), float(tool.overall_length)
    return Loaded(tool.name, sister, diameter, length, float(tool.mass))


def ring_distance(steps: int, magazine: Magazine) -> Mm:
    """Least distance between two pockets some steps apart on a chain or drum, in any position of it [mm].

    Source: derived; on a drum, and on a chain where it goes round to its facing strand, pockets lie on a
    circle of diameter D and are D sin(k asin(P/D)) apart; tools on facing strands are D apart.

    Parameters
    ----------
    steps
        Pockets from one to the other, the shorter way round [-].
    magazine
        Magazine with pitch, form and strand gap.
    """
    pitch = float(magazine.pitch)
    if magazine.form == "drum":
        circle = pitch / math.sin(math.pi / max(magazine.pockets, 2))
    elif magazine.strand_gap is not None:
        circle = float(magazine.strand_gap)
    else:
        return steps * pitch
    half = math.asin(min(1.0, pitch / circle))
    return circle * math.sin(min(steps * half, math.pi / 2))


def pockets_apart(first: Mm, second: Mm, magazine: Magazine) -> int:
    """Least distance of two tools along the pockets: radius + radius + clearance <= distance.

    Source: common practice, no source. More than there are pockets if they never go together.

    Parameters
    ----------
    first, second
        Diameters of the two tools [mm].
    magazine
        Magazine with pitch, form and clearance.
    """
    room = first / 2 + second / 2 + float(magazine.clearance)
    straight = magazine.form == "rack" or (magazine.form == "chain" and magazine.strand_gap is None)
    if straight:
        apart = max(1, math.ceil(round(room / float(magazine.pitch), 9)))
    else:
        steps = range(1, magazine.pockets + 1)
        fitting = (each for each in steps if ring_distance(each, magazine) >= room - 1e-9)
        apart = next(fitting, magazine.pockets + 1)
    if apart == 1 and max(first, second) > magazine.diameter_full:
        return 2
    return apart


@dataclass(frozen=True)
class Room:
    """The pockets of a magazine, numbered from 0, with masks of those that a tool keeps from others.

    Parameters
    ----------
    magazine
        The magazine.
    """

    magazine: Magazine

    @property
    def count(self) -> int:
        """Number of pockets."""
        return self.magazine.pockets

    @property
    def everything(self) -> int:
        """Mask of all pockets."""
        return (1 << self.count) - 1

    @cached_property
    def _masks(self) -> dict[tuple[Mm, Mm], tuple[int, ...]]:
        return {}

    @cached_property
    def _allowed(self) -> dict[tuple[Mm, Mm], int]:
        return {}

    def touch(self, at: int, diameter: Mm, other: int, other_diameter: Mm) -> bool:
        """Whether tools of two diameters in two pockets are too close, in some position of the magazine.

        Parameters
        ----------
        at, other
            The two pockets.
        diameter, other_diameter
            Diameters of the tools in them [mm].
        """
        if at == other:
            return True
        magazine = self.magazine
        room = diameter / 2 + other_diameter / 2 + float(magazine.clearance)
        beside, distance = self._distance(at, other)
        if beside and max(diameter, other_diameter) > magazine.diameter_full:
            return True
        return distance < room - 1e-9

    def _distance(self, at: int, other: int) -> tuple[bool, Mm]:
        """Whether two pockets are neighbours, and their distance."""
        magazine, apart = self.magazine, abs(at - other)
        if magazine.form == "rack":
            columns = -(-self.count // magazine.rows)
            rows = abs(at // columns - other // columns)
            along = abs(at % columns - other % columns)
            height = rows * float(magazine.row_pitch or 0.0)
            return rows == 0 and along == 1, math.hypot(height, along * float(magazine.pitch))
        steps = min(apart, self.count - apart)
        return steps == 1, ring_distance(steps, magazine)

    def kept_from(self, at: int, diameter: Mm, other_diameter: Mm) -> int:
        """Mask of the pockets where a tool of the other diameter cannot stand beside one in this pocket.

        Parameters
        ----------
        at
            The pocket.
        diameter, other_diameter
            Diameters of the tool in it and of the other one [mm].
        """
        key = (diameter, other_diameter)
        if key not in self._masks:
            self._masks[key] = self._all_masks(diameter, other_diameter)
        return self._masks[key][at]

    def _all_masks(self, diameter: Mm, other_diameter: Mm) -> tuple[int, ...]:
        pockets = range(self.count)

        def mask(here: int) -> int:
            return sum(1 << other for other in pockets if self.touch(here, diameter, other, other_diameter))

        if self.magazine.form == "rack":
            return tuple(mask(here) for here in pockets)
        first, everything = mask(0), self.everything
        return tuple((first << here | first >> (self.count - here)) & everything for here in pockets)

    def allowed(self, tool: Loaded) -> int:
        """Mask of the pockets that take a tool at all: narrow ones may not.

        Parameters
        ----------
        tool
            The tool.
        """
        key = (tool.diameter, tool.length)
        if key not in self._allowed:
            mask = self.everything
            for narrow in self.magazine.narrow_pockets:
                long = narrow.length is not None and tool.length > narrow.length
                if narrow.pocket <= self.count and (tool.diameter > narrow.diameter or long):
                    mask &= ~(1 << (narrow.pocket - 1))
            self._allowed[key] = mask
        return self._allowed[key]
