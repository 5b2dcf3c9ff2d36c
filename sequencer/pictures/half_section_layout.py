"""Places of everything on the half-section picture, in millimetres of paper; draws nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from sequencer.part import Part
from sequencer.part.section import Section
from sequencer.pictures.anchors import Anchor, make_anchors
from sequencer.pictures.columns import spread
from sequencer.pictures.lettering import clauses, text_width, wrapped
from sequencer.pictures.wording import blank_words, size_words

#: Scales of ISO 5455 from the largest to the smallest, as paper over part.
SCALES: Final = tuple(
    step * 10.0**power for power in range(2, -5, -1) for step in (5.0, 2.0, 1.0) if step * 10.0**power <= 50
)
WIDTH: Final = 98.0
HEIGHT: Final = 140.0
#: Height of the drawing of a slender part.
TALLEST: Final = 230.0
#: Height of a drawing beside short names.
TALLER: Final = 165.0
COLUMN: Final = 66.0
BAND: Final = 15.0
MARGIN: Final = 3.0
GAP: Final = 1.3
#: Least distance between two leader lines that run side by side.
LEAST: Final = 0.9
#: Columns higher than this are set in smaller, run-in lettering.
TALL: Final = 160.0
#: Room round the drawing for the dimension lines.
AROUND: Final = 11.0
#: Height of scale and legend under the drawing, the width they need, and where their words begin.
FOOT: Final = 10.0
LEAST_WIDTH: Final = 165.0
FOOT_WORDS: Final = 62.0
FOOT_SIZE: Final = 2.6
#: Room of a datum letter before the words.
DATUM_ROOM: Final = 5.0

Point = tuple[float, float]


@dataclass(frozen=True)
class Lettering:
    """Sizes of a label [mm of paper].

    Parameters
    ----------
    name, size
        Height of the lettering of names and of sizes.
    run_in
        Whether the size stands in the line of the name.
    """

    name: float
    size: float
    run_in: bool


ROOMY: Final = Lettering(2.9, 2.6, run_in=False)
TIGHT: Final = Lettering(2.5, 2.4, run_in=True)


@dataclass(frozen=True)
class Label:
    """A label in its column, with its leader line.

    Parameters
    ----------
    feature
        Name of the feature.
    datum
        Datum letter that it carries, or empty.
    column
        Which column it stands in.
    x, y, width, height
        Its box: left upper corner and size.
    lines
        Each line: text, height of lettering, bold.
    leader
        Points of the line from the feature to the label.
    """

    feature: str
    datum: str
    column: Literal["left", "right"]
    x: float
    y: float
    width: float
    height: float
    lines: tuple[tuple[str, float, bool], ...]
    leader: tuple[Point, ...]


@dataclass(frozen=True)
class HalfSectionLayout:
    """Everything that the picture shows, placed.

    Parameters
    ----------
    scale
        Paper over part.
    x_axis, y_zero
        Where the axis and the height 0 of the part lie.
    width, height
        Size of the picture.
    labels
        Labels with their leader lines.
    body
        Box of part and blank: left, top, right, bottom.
    foot
        Top of the foot with scale and legend.
    foot_lines
        Words on the blank.
    """

    scale: float
    x_axis: float
    y_zero: float
    width: float
    height: float
    labels: tuple[Label, ...]
    body: tuple[float, float, float, float]
    foot: float
    foot_lines: tuple[str, ...]

    def point(self, z: float, r: float) -> Point:
        """Place of a point of the part on paper.

        Parameters
        ----------
        z, r
            Height and radius [mm of the part].
        """
        return (self.x_axis + r * self.scale, self.y_zero - z * self.scale)

    @property
    def scale_words(self) -> str:
        """Scale as a drawing states it."""
        if self.scale >= 1:
            return f"{self.scale:g} : 1"
        return f"1 : {1 / self.scale:g}"


@dataclass(frozen=True)
class _Draft:
    """A label before its column is solved: where it would like to stand."""

    anchor: Anchor
    wanted: float
    lines: tuple[tuple[str, float, bool], ...]
    datum: str

    @property
    def height(self) -> float:
        return sum(size * 1.2 for _, size, _ in self.lines)


def lay_out(part: Part, section: Section) -> HalfSectionLayout:
    """Place drawing, labels and leader lines.

    Parameters
    ----------
    part
        The part.
    section
        Its half-section.
    """
    scale = fitting_scale(section)
    larger = SCALES[max(SCALES.index(scale) - 1, 0)]
    columns = _lettered(part, section, larger)
    if larger > scale and _has_room(section, larger, columns):
        return _placed(section, larger, columns)
    return _placed(section, scale, _lettered(part, section, scale))


def _lettered(part: Part, section: Section, scale: float) -> tuple[tuple[_Draft, ...], tuple[_Draft, ...]]:
    """Labels of both columns, in the smaller lettering where they would be too high."""
    anchors = make_anchors(section, LEAST / scale)
    for lettering in (ROOMY, TIGHT):
        columns = _columns(part, section, anchors, scale, lettering)
        if max(_stacked(drafts) for drafts in columns) <= TALL:
            break
    return columns


def _has_room(section: Section, scale: float, columns: tuple[tuple[_Draft, ...], tuple[_Draft, ...]]) -> bool:
    """Whether short names leave so much of the paper that the drawing can be larger than its usual room."""
    low, outer, high = _bounds(section)
    wide = outer * scale + sum(_beside(drafts) for drafts in columns)
    return wide <= WIDTH + 2 * (COLUMN + BAND) and (high - low) * scale <= TALLER


def _beside(drafts: tuple[_Draft, ...]) -> float:
    """Room of a column and its lines: as wide as its widest label."""
    return max((_wide(draft) for draft in drafts), default=-BAND) + BAND


def _wide(draft: _Draft) -> float:
    width = max(text_width(text, size, bold=bold) for text, size, bold in draft.lines)
    return width + (DATUM_ROOM if draft.datum else 0.0)


def fitting_scale(section: Section) -> float:
    """Largest scale at which part and blank fit the drawing's room.

    Source: ISO 5455, series of scales

    Parameters
    ----------
    section
        Half-section of the part.
    """
    low, outer, high = _bounds(section)
    slender = (high - low) > 6 * outer
    fit = min(WIDTH / outer, (TALLEST if slender else HEIGHT) / (high - low))
    return next((scale for scale in SCALES if scale <= fit * (1 + 1e-9)), SCALES[-1])


def _bounds(section: Section) -> tuple[float, float, float]:
    """Lowest height, largest radius and highest height of part and blank."""
    points = [point for line in (*section.outline(), *section.stock_outline()) for point in line]
    heights = [z for z, _ in points]
    return min(heights), max(r for _, r in points), max(heights)


def _label_lines(part: Part, anchor: Anchor, lettering: Lettering) -> tuple[tuple[str, float, bool], ...]:
    feature = part.by_name[anchor.feature]
    room = COLUMN - (DATUM_ROOM if _datum(part, anchor.feature) else 0.0)
    name, sizes = feature.shown, size_words(feature)
    if lettering.run_in:
        line = clauses(f"{name}: {sizes}", lettering.size, room)
        return tuple((text, lettering.size, False) for text in line)
    names = tuple((text, lettering.name, True) for text in wrapped(name, lettering.name, room, bold=True))
    return names + tuple((text, lettering.size, False) for text in clauses(sizes, lettering.size, room))


def _datum(part: Part, feature: str) -> str:
    return ", ".join(letter for letter, name in part.datums.items() if name == feature)


def _columns(
    part: Part, section: Section, anchors: tuple[Anchor, ...], scale: float, lettering: Lettering
) -> tuple[tuple[_Draft, ...], tuple[_Draft, ...]]:
    """Labels of the left and the right column, from top to bottom."""
    low, _, high = _bounds(section)
    by_way: dict[str, list[_Draft]] = {"left": [], "right": [], "up": [], "down": []}
    for anchor in anchors:
        lines = _label_lines(part, anchor, lettering)
        by_way[anchor.way].append(_Draft(anchor, -anchor.line * scale, lines, _datum(part, anchor.feature)))
    for way in ("left", "right"):
        by_way[way].sort(key=lambda draft: -draft.anchor.line)
    for way in ("up", "down"):
        by_way[way].sort(key=lambda draft: draft.anchor.line)
    sides = {side: _stacked(tuple(by_way[side])) for side in ("left", "right")}
    if by_way["left"] or sum(map(len, by_way.values())) > 12:
        up_left, up_right = _shared(by_way["up"], sides)
        down_left, down_right = _shared(by_way["down"], sides)
    else:
        up_left, up_right, down_left, down_right = [], by_way["up"], [], by_way["down"]
    top, bottom = -high * scale - AROUND * 0.6, -low * scale + AROUND
    return (
        _column(by_way["left"], up_left[::-1], down_left, top, bottom),
        _column(by_way["right"], up_right, down_right[::-1], top, bottom),
    )


def _shared(drafts: list[_Draft], sides: dict[str, float]) -> tuple[list[_Draft], list[_Draft]]:
    """Split labels of a face into the inner ones (left column) and the outer ones, evening the columns."""
    heights = [draft.height + GAP for draft in drafts]

    def taller(count: int) -> float:
        return max(sides["left"] + sum(heights[:count]), sides["right"] + sum(heights[count:]))

    count = min(range(len(drafts) + 1), key=lambda each: (taller(each), each))
    sides["left"] += sum(heights[:count])
    sides["right"] += sum(heights[count:])
    return drafts[:count], drafts[count:]


def _column(
    beside: list[_Draft], above: list[_Draft], below: list[_Draft], top: float, bottom: float
) -> tuple[_Draft, ...]:
    """Join the labels of one column; those of faces want to stand clear above and below the drawing."""
    upper: list[_Draft] = []
    wanted = top
    for draft in reversed(above):
        wanted -= draft.height / 2
        upper.insert(0, _Draft(draft.anchor, wanted, draft.lines, draft.datum))
        wanted -= draft.height / 2 + GAP
    lower: list[_Draft] = []
    wanted = bottom
    for draft in below:
        wanted += draft.height / 2
        lower.append(_Draft(draft.anchor, wanted, draft.lines, draft.datum))
        wanted += draft.height / 2 + GAP
    return (*upper, *beside, *lower)


def _stacked(drafts: tuple[_Draft, ...]) -> float:
    return sum(draft.height + GAP for draft in drafts)


def _placed(
    section: Section, scale: float, columns: tuple[tuple[_Draft, ...], tuple[_Draft, ...]]
) -> HalfSectionLayout:
    low, outer, high = _bounds(section)
    places = [
        [
            *zip(
                drafts,
                spread(tuple(d.wanted for d in drafts), tuple(d.height for d in drafts), GAP),
                strict=True,
            )
        ]
        for drafts in columns
    ]
    every = [*places[0], *places[1]]
    top = min([-high * scale - AROUND * 0.6, *(middle - draft.height / 2 for draft, middle in every)])
    bottom = max([-low * scale + AROUND, *(middle + draft.height / 2 for draft, middle in every)])
    x_axis = MARGIN + AROUND + _beside(columns[0])
    frame = _Frame(scale, x_axis, MARGIN - top, x_axis + outer * scale + 2.0)
    labels = [_label(draft, middle, "left", frame) for draft, middle in places[0]]
    labels += [_label(draft, middle, "right", frame) for draft, middle in places[1]]
    body = (x_axis, frame.y_zero - high * scale, x_axis + outer * scale, frame.y_zero - low * scale)
    width = frame.edge + MARGIN + _beside(columns[1])
    foot = bottom + frame.y_zero + 3.0
    width = max(width, LEAST_WIDTH)
    words = f"Blank: {blank_words(section.part.blank)}. Height z counts up from the lower finished face."
    lines = wrapped(words, FOOT_SIZE, width - FOOT_WORDS - MARGIN)
    height = foot + FOOT + max(2, len(lines)) * FOOT_SIZE * 1.3
    return HalfSectionLayout(scale, x_axis, frame.y_zero, width, height, tuple(labels), body, foot, lines)


@dataclass(frozen=True)
class _Frame:
    """Where axis, height 0 and right edge of the drawing lie."""

    scale: float
    x_axis: float
    y_zero: float
    edge: float


def _label(draft: _Draft, middle: float, column: Literal["left", "right"], frame: _Frame) -> Label:
    width = _wide(draft)
    near = frame.x_axis - AROUND if column == "left" else frame.edge
    far = near - BAND if column == "left" else near + BAND
    y = middle + frame.y_zero
    return Label(
        feature=draft.anchor.feature,
        datum=draft.datum,
        column=column,
        x=far - width if column == "left" else far,
        y=y - draft.height / 2,
        width=width,
        height=draft.height,
        lines=draft.lines,
        leader=_leader(draft.anchor, column, (near, far, y), frame),
    )


def _leader(
    anchor: Anchor, column: Literal["left", "right"], to: tuple[float, float, float], frame: _Frame
) -> tuple[Point, ...]:
    near, far, y = to
    outward = 1.0 if column == "right" else -1.0
    start = (frame.x_axis + anchor.r * frame.scale, frame.y_zero - anchor.z * frame.scale)
    end = (far - outward * 0.8, y)
    if anchor.way in ("up", "down"):
        x = frame.x_axis + anchor.line * frame.scale
        away = start[1] + (-1.0 if anchor.way == "up" else 1.0)
        points = [start, *([(x, away)] if abs(x - start[0]) > 1e-6 else []), (x, y), end]
    else:
        line = frame.y_zero - anchor.line * frame.scale
        points = [start, (start[0], line), (near, line), end]
    return tuple(point for index, point in enumerate(points) if index == 0 or point != points[index - 1])
