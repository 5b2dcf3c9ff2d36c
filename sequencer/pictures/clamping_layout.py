"""Places of everything on the picture of a clamping, in millimetres of paper; draws nothing."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal

from sequencer.part import AnyFeature, Part
from sequencer.part.milled import BoltCircle
from sequencer.part.section import Section
from sequencer.part.surfaces import TOOTHED, place_of
from sequencer.part.turned import ApexGroove, FaceGroove, Groove, RunOutGroove
from sequencer.pictures.columns import spread
from sequencer.pictures.half_section_layout import SCALES
from sequencer.pictures.lettering import text_width, wrapped
from sequencer.setups import SetUp

#: Sizes on paper [mm].
COLUMN: Final = 37.0
BAND: Final = 9.0
MARGIN: Final = 4.0
GAP: Final = 1.4
NAME: Final = 2.7
HEAD: Final = 9.0
FOOT: Final = 14.0

Point = tuple[float, float]
Zone = tuple[float, float, float, float]
Side = Literal["left", "right"]


@dataclass(frozen=True)
class Mark:
    """A feature that is finished here: where it lies as the part stands, and its name.

    Parameters
    ----------
    feature
        Name of the feature.
    lines
        Words beside it.
    side
        Column of the words; "left" for what lies inside.
    zones
        Each with lower and upper height, inner and outer radius [mm of the part].
    teeth
        True if the zones are teeth; others are cut away or are a single line.
    mouth
        Side at which a groove or a hole is open: "inner", "outer", "top", "bottom"; empty for none.
    y
        Middle of the words on paper; 0 without words [mm].
    """

    feature: str
    lines: tuple[str, ...]
    side: Side
    zones: tuple[Zone, ...]
    teeth: bool
    mouth: str
    y: float

    @property
    def anchor(self) -> Point:
        """Point that the line to the words starts from: radius and height [mm of the part]."""
        low, high, inner, outer = self.zones[-1]
        return (inner if self.side == "left" else outer), (low + high) / 2


@dataclass(frozen=True)
class ClampingLayout:
    """Everything that the picture shows, placed.

    Parameters
    ----------
    scale
        Paper over part.
    x_axis, y_table
        Where the axis and the top of the table lie on paper.
    width, height
        Size of the picture.
    edge
        Right end of the drawing, where the band of lines to the right column begins.
    marks
        Features finished here.
    """

    scale: float
    x_axis: float
    y_table: float
    width: float
    height: float
    edge: float
    marks: tuple[Mark, ...]

    def point(self, z: float, r: float) -> Point:
        """Place a point of the part or of a thing on the table.

        Parameters
        ----------
        z, r
            Height above the table and radius [mm].
        """
        return round(self.x_axis + r * self.scale, 3), round(self.y_table - z * self.scale, 3)


def lay_out_clamping(
    set_up: SetUp, part: Part, section: Section, room: tuple[float, float], *, words: bool = True
) -> ClampingLayout:
    """Place drawing and words of one clamping visit.

    Parameters
    ----------
    set_up
        The visit.
    part, section
        The part and its half-section.
    room
        Widest and tallest that the drawing itself may be on paper [mm].
    words
        False for a picture without words beside it.
    """
    low, high, outer = _bounds(set_up)
    fit = min(room[0] / outer, room[1] / (high - low))
    scale = next((each for each in SCALES if each <= fit * (1 + 1e-9)), SCALES[-1])
    if not words:
        scale = fit
    marks = [_mark(set_up, part, section, name) for name in set_up.finished]
    left = [mark for mark in marks if mark.side == "left"] if words else []
    right = [mark for mark in marks if mark.side == "right"] if words else []
    columns = (_spread(left, scale), _spread(right, scale))
    top, bottom = -high * scale, -low * scale
    for placed in columns:
        for mark in placed:
            half = len(mark.lines) * NAME * 0.6
            top, bottom = min(top, mark.y - half), max(bottom, mark.y + half)
    y_table = HEAD - top
    x_axis = MARGIN + (COLUMN + BAND if left else 2.0)
    edge = x_axis + outer * scale + 2.0
    width = edge + MARGIN + (COLUMN + BAND if right else 0.0)
    shifted = tuple(replace(mark, y=mark.y + y_table) for placed in columns for mark in placed)
    unplaced = () if words else tuple(marks)
    return ClampingLayout(scale, x_axis, y_table, width, bottom + y_table + 3.0, edge, (*shifted, *unplaced))


def _bounds(set_up: SetUp) -> tuple[float, float, float]:
    """Lowest and highest height and largest radius of part and things; the table is cut off beside them."""
    points = [point for state in (set_up.before, set_up.after) for line in state.standing for point in line]
    things = [thing for thing in set_up.things if thing.name != "table"]
    outer = max([r for _, r in points] + [thing.r_to for thing in things])
    high = max([z for z, _ in points] + [thing.z_to for thing in things])
    low = min([thing.z_from for thing in set_up.things] + [0.0])
    return low, high, outer * 1.06


def _mark(set_up: SetUp, part: Part, section: Section, name: str) -> Mark:
    feature, extent = part.by_name[name], section.extent(name)
    place = place_of(feature)
    widest = max(max(piece.lower, piece.upper) for piece in section.outside.pieces)
    inside = place == "inside" or (place is None and extent.outer < widest / 2)
    lines = wrapped(feature.shown, NAME, COLUMN)
    teeth = isinstance(feature, TOOTHED)
    drawn = [
        (piece.z_from, piece.z_to, piece.upper, piece.root_upper)
        for profile in (section.outside, section.inside)
        for piece in profile.pieces
        if teeth and piece.feature == name
    ] or [(extent.z_from, extent.z_to, extent.inner, extent.outer)]
    zones = tuple(_stood(set_up, zone) for zone in drawn)
    mouth = _mouth(set_up, feature)
    return Mark(name, lines, "left" if inside else "right", zones, teeth, mouth, 0.0)


def _stood(set_up: SetUp, zone: Zone) -> Zone:
    low, high = sorted(standing_height(set_up, z) for z in zone[:2])
    inner, outer = sorted(diameter / 2 for diameter in zone[2:])
    return low, high, inner, outer


def _mouth(set_up: SetUp, feature: AnyFeature) -> str:
    if isinstance(feature, FaceGroove | BoltCircle):
        side = getattr(feature, "side", None)
        if side is None:
            return ""
        return "top" if side == set_up.clamping.clamping.up else "bottom"
    if isinstance(feature, Groove | ApexGroove | RunOutGroove):
        return "inner" if place_of(feature) == "inside" else "outer"
    return ""


def standing_height(set_up: SetUp, z: float) -> float:
    """Height above the table of a height in the drawing, as the part stands in this visit [mm].

    Parameters
    ----------
    set_up
        The visit.
    z
        Height in the drawing [mm].
    """
    pairs = [
        (drawn[0], stood[0])
        for drawing, standing in zip(set_up.before.drawing, set_up.before.standing, strict=True)
        for drawn, stood in zip(drawing, standing, strict=True)
    ]
    sign = 1.0 if set_up.clamping.clamping.up == "upper" else -1.0
    drawn, stood = pairs[0]
    return stood + sign * (z - drawn)


def _spread(marks: list[Mark], scale: float) -> tuple[Mark, ...]:
    """Move the words of one column so far that none overlaps."""
    ordered = sorted(marks, key=lambda mark: (-mark.anchor[1], mark.feature))
    middles = spread(
        tuple(-mark.anchor[1] * scale for mark in ordered),
        tuple(len(mark.lines) * NAME * 1.2 for mark in ordered),
        GAP,
    )
    return tuple(replace(mark, y=y) for mark, y in zip(ordered, middles, strict=True))


def words_width(mark: Mark) -> float:
    """Width of the words of a mark on paper [mm].

    Parameters
    ----------
    mark
        The mark.
    """
    return max(text_width(line, NAME) for line in mark.lines)
