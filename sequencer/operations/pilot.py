"""Opening a solid blank: which bore is drilled first, by which drill, and how wide it then is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.part import BLANK
from sequencer.part.feature import Side
from sequencer.part.profile import SAME, Piece
from sequencer.part.section import Section
from sequencer.shop import Shop
from sequencer.shop.tools import Drill, TrepanningTool
from sequencer.units import Mm

if TYPE_CHECKING:
    from sequencer.operations.context import Context


@dataclass(frozen=True)
class Pilot:
    """A hole drilled on the axis of a solid blank before it is bored.

    Parameters
    ----------
    feature
        Narrowest feature of the bore, which the drilling belongs to.
    z_from, z_to
        Ends of the bore that it opens [mm].
    through
        True if the bore opens at both ends of the part.
    widest
        Widest drill that leaves stock for boring [mm].
    diameter
        Diameter of the drill taken; 0 if the shop has none for it [mm].
    """

    feature: str
    z_from: Mm
    z_to: Mm
    through: bool
    widest: Mm
    diameter: Mm

    @property
    def length(self) -> Mm:
        """Length of the hole in the finished part [mm]."""
        return self.z_to - self.z_from

    def opens_to(self, section: Section, side: Side) -> bool:
        """Whether the hole opens to a side of the part.

        Parameters
        ----------
        section
            Half-section of the part.
        side
            "lower" or "upper".
        """
        if side == "upper":
            return abs(self.z_to - section.z_to) <= SAME
        return abs(self.z_from - section.z_from) <= SAME


def pilots(shop: Shop, section: Section) -> tuple[Pilot, ...]:
    """Give the holes that are drilled on the axis; none if the blank has a bore.

    Source: common practice, no source: the largest drill that leaves stock for boring all round, or a hollow
    one where the bore goes through.

    Parameters
    ----------
    shop
        The shop with its drills.
    section
        Half-section of the part.
    """
    if section.part.blank.bore > 0:
        return ()
    return tuple(_pilot(shop, section, run) for run in _open_runs(section))


def _open_runs(section: Section) -> list[list[Piece]]:
    runs: list[list[Piece]] = []
    touching = False
    for piece in section.inside.pieces:
        is_open = piece.feature != BLANK and min(piece.lower, piece.upper) > 0
        if is_open and touching:
            runs[-1].append(piece)
        elif is_open:
            runs.append([piece])
        touching = is_open
    return runs


def _pilot(shop: Shop, section: Section, run: list[Piece]) -> Pilot:
    narrowest = min(run, key=lambda piece: min(piece.lower, piece.upper))
    low, high = run[0].z_from, run[-1].z_to
    through = abs(low - section.z_from) <= SAME and abs(high - section.z_to) <= SAME
    widest = min(narrowest.lower, narrowest.upper) - 2 * float(shop.stock.bore)
    length = drilled_length(section, low, high)
    fitting = [
        float(tool.diameter)
        for tool in shop.tools
        if (isinstance(tool, Drill) or (through and isinstance(tool, TrepanningTool)))
        and tool.diameter <= widest
        and tool.depth >= length
    ]
    return Pilot(narrowest.feature, low, high, through, widest, max(fitting, default=0.0))


def drilled_length(section: Section, z_from: Mm, z_to: Mm) -> Mm:
    """Length that is drilled for a bore: with the stock on the end faces that it opens to [mm].

    Parameters
    ----------
    section
        Half-section of the part.
    z_from, z_to
        Ends of the bore [mm].
    """
    blank = section.part.blank
    low = float(blank.z_from) if abs(z_from - section.z_from) <= SAME else z_from
    high = float(blank.z_to) if abs(z_to - section.z_to) <= SAME else z_to
    return high - low


def raw_bore(context: Context, z_from: Mm, z_to: Mm) -> Mm:
    """Diameter of the hole that is there before boring begins: the raw bore, or the drilled hole [mm].

    Parameters
    ----------
    context
        Part and shop.
    z_from, z_to
        Ends of the zone on the axis [mm].
    """
    blank = context.part.blank
    if blank.bore > 0:
        return float(blank.bore)
    middle = (z_from + z_to) / 2
    for pilot in pilots(context.shop, context.section):
        if pilot.z_from - SAME <= middle <= pilot.z_to + SAME:
            return pilot.diameter
    return 0.0
