"""Cutters as solids of revolution: what of a hob, disc, skiving cutter or end mill can hit something."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sequencer.cutting._ranges import above_zero, finite, not_negative, within
from sequencer.errors import OutOfRange
from sequencer.units import Deg, Mm

Profile = tuple[tuple[Mm, Mm], ...]


@dataclass(frozen=True)
class CutterBody:
    """A rotating cutter with its arbor or holder, as the solid that it sweeps by turning.

    Parameters
    ----------
    kind
        What it is called in a sentence, such as "hob".
    diameter
        Cutting diameter: the diameter that stands in the tooth root at full depth [mm].
    profile
        Pairs of position along the cutter axis and radius, in rising order of position, joined by straight
        lines [mm]. Position 0 stands over the tooth root at the end of the teeth. Both ends are closed by
        flat faces.
    """

    kind: str
    diameter: Mm
    profile: Profile

    def __post_init__(self) -> None:
        where = f"{self.kind} body"
        above_zero(where, diameter=self.diameter)
        if len(self.profile) < 2:
            what = f"profile has {len(self.profile)} points"
            raise OutOfRange(what, where=where, limit="two or more", remedy="Give at least two points")
        for position, radius in self.profile:
            finite(where, position=position)
            not_negative(where, radius=radius)
        positions = [position for position, _ in self.profile]
        if positions != sorted(positions):
            raise OutOfRange(
                f"profile positions {positions} go back",
                where=where,
                limit="rising order",
                remedy="Order the points along the axis",
            )

    @property
    def radius(self) -> Mm:
        """Cutting radius [mm]."""
        return self.diameter / 2

    @property
    def length(self) -> Mm:
        """Length of the whole body along its axis [mm]."""
        return self.profile[-1][0] - self.profile[0][0]

    @property
    def greatest_diameter(self) -> Mm:
        """Greatest diameter of the whole body with arbor and holder [mm]."""
        return 2 * max(radius for _, radius in self.profile)


def hob_body(
    diameter: Mm,
    length: Mm,
    arbor_diameter: Mm = 0.0,
    arbor_length: Mm = 0.0,
    head_diameter: Mm = 0.0,
    head_length: Mm = 0.0,
    shift: Mm = 0.0,
) -> CutterBody:
    """Body of a hob on an arbor held at both ends.

    Source: derived; a hob turning in the cut sweeps a cylinder of its outside diameter.

    Parameters
    ----------
    diameter
        Outside diameter of the hob [mm].
    length
        Length of the toothed cylinder [mm].
    arbor_diameter
        Diameter of arbor and spacers; 0 leaves the arbor out [mm].
    arbor_length
        Free arbor between hob face and head, each side [mm].
    head_diameter
        Diameter of the bearing or spindle nose at both arbor ends; 0 leaves it out [mm].
    head_length
        Length of the bearing or spindle nose [mm].
    shift
        Position of the hob middle from the crossing point along the arbor [mm].

    Raises
    ------
    OutOfRange
        When a length is negative or diameter or length are not above 0.
    """
    where = "hob body"
    above_zero(where, diameter=diameter, length=length)
    finite(where, shift=shift)
    ends = _stepped_end(where, length / 2, arbor_diameter, arbor_length, head_diameter, head_length)
    return CutterBody("hob", diameter, _both_ends(((length / 2, diameter / 2), *ends), shift))


def disc_body(
    diameter: Mm,
    width: Mm,
    tip_width: Mm = 0.0,
    flank_depth: Mm = 0.0,
    arbor_diameter: Mm = 0.0,
    arbor_length: Mm = 0.0,
) -> CutterBody:
    """Body of a disc (form) milling cutter on its arbor.

    Source: derived; the disc sweeps a cylinder of its width, narrowed to the tip width over the flank depth.

    Parameters
    ----------
    diameter
        Outside diameter [mm].
    width
        Width of the disc behind the tooth flanks [mm].
    tip_width
        Width at the outside diameter; 0 takes the full width [mm].
    flank_depth
        Depth over which the disc widens from tip width to width [mm].
    arbor_diameter
        Diameter of arbor and spacers; 0 leaves the arbor out [mm].
    arbor_length
        Arbor each side of the disc [mm].

    Raises
    ------
    OutOfRange
        When a length is negative, the tip is wider than the disc or the flank deeper than the radius.
    """
    where = "disc body"
    above_zero(where, diameter=diameter, width=width)
    within(where, 0.0, width, tip_width=tip_width)
    within(where, 0.0, diameter / 2, flank_depth=flank_depth)
    tip = tip_width or width
    half: Profile = ((tip / 2, diameter / 2),)
    if tip < width or flank_depth:
        half = (*half, (width / 2, diameter / 2 - flank_depth))
    ends = _stepped_end(where, width / 2, arbor_diameter, arbor_length, 0.0, 0.0)
    return CutterBody("disc cutter", diameter, _both_ends((*half, *ends), 0.0))


def skiving_body(
    diameter: Mm,
    thickness: Mm,
    neck_diameter: Mm = 0.0,
    neck_length: Mm = 0.0,
    holder_diameter: Mm = 0.0,
    holder_length: Mm = 0.0,
    relief_angle: Deg = 0.0,
) -> CutterBody:
    """Body of a skiving cutter: edge plane at position 0, neck and holder towards the spindle.

    Source: derived; edge on the tip circle in the plane square to the cutter axis (no rake offset).

    Parameters
    ----------
    diameter
        Tip circle diameter of the edge [mm].
    thickness
        Thickness of the toothed wheel [mm].
    neck_diameter
        Diameter of the neck behind the wheel; 0 leaves the neck out [mm].
    neck_length
        Length of the neck [mm].
    holder_diameter
        Diameter of the holder or spindle nose behind the neck; 0 leaves it out [mm].
    holder_length
        Length of the holder [mm].
    relief_angle
        Angle by which the tips fall away behind the edge [deg].

    Raises
    ------
    OutOfRange
        When a length is negative or the relief angle is outside 0 to 30 deg.
    """
    where = "skiving cutter body"
    above_zero(where, diameter=diameter, thickness=thickness)
    within(where, 0.0, 30.0, relief_angle=relief_angle)
    back = max(0.0, diameter / 2 - thickness * math.tan(math.radians(relief_angle)))
    behind = _stepped_end(where, thickness, neck_diameter, neck_length, holder_diameter, holder_length)
    return CutterBody("skiving cutter", diameter, ((0.0, diameter / 2), (thickness, back), *behind))


def end_mill_body(
    diameter: Mm,
    length: Mm,
    holder_diameter: Mm = 0.0,
    holder_length: Mm = 0.0,
) -> CutterBody:
    """Body of an end mill: tip face at position 0, holder behind the free length.

    Source: derived; corner radius left out, which is on the safe side.

    Parameters
    ----------
    diameter
        Cutting diameter [mm].
    length
        Free length from tip to holder face [mm].
    holder_diameter
        Diameter of holder or spindle nose; 0 leaves it out [mm].
    holder_length
        Length of the holder [mm].

    Raises
    ------
    OutOfRange
        When a length is negative or diameter or length are not above 0.
    """
    where = "end mill body"
    above_zero(where, diameter=diameter, length=length)
    behind = _stepped_end(where, length, holder_diameter, holder_length, 0.0, 0.0)
    return CutterBody("end mill", diameter, ((0.0, diameter / 2), (length, diameter / 2), *behind))


def _stepped_end(
    where: str, start: Mm, diameter: Mm, length: Mm, next_diameter: Mm, next_length: Mm
) -> Profile:
    """Up to two cylinders that follow each other from a start position."""
    not_negative(where, arbor_diameter=diameter, arbor_length=length)
    not_negative(where, holder_diameter=next_diameter, holder_length=next_length)
    points: Profile = ()
    for step, size in ((length, diameter), (next_length, next_diameter)):
        if step > 0 and size > 0:
            points = (*points, (start, size / 2), (start + step, size / 2))
            start += step
    return points


def _both_ends(half: Profile, shift: Mm) -> Profile:
    """The half profile from the middle outwards, mirrored to the other side."""
    mirrored = tuple((-position, radius) for position, radius in reversed(half))
    return tuple((position + shift, radius) for position, radius in (*mirrored, *half))
