"""Where the leader line of each feature starts on the half-section, and which way it leaves."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import inf
from typing import Literal

from sequencer.part import AnyFeature
from sequencer.part.feature import Side
from sequencer.part.milled import BoltCircle, Flat, Keyway, Marking, Pocket
from sequencer.part.profile import Profile
from sequencer.part.section import Section
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, InternalGear
from sequencer.part.turned import Bore, Chamfer, Face, FaceGroove, Radius
from sequencer.pictures.columns import spread
from sequencer.units import Mm

Way = Literal["left", "right", "up", "down"]

_STEPS = 41
_NEAR = 1e-6


@dataclass(frozen=True)
class Anchor:
    """Start of a leader line, in millimetres of the part.

    Parameters
    ----------
    feature
        Name of the feature.
    way
        Which way the line leaves the drawing.
    z, r
        Point of the feature that the line touches [mm].
    line
        Height (ways left and right) or radius (ways up and down) along which the line leaves [mm].
    """

    feature: str
    way: Way
    z: Mm
    r: Mm
    line: Mm


@dataclass
class _Lines:
    """Leader lines placed so far; grows feature by feature."""

    least: Mm
    taken: dict[Way, list[Mm]] = field(
        default_factory=lambda: {"left": [], "right": [], "up": [], "down": []}
    )
    blocked: dict[Way, list[tuple[Mm, Mm]]] = field(default_factory=lambda: {"left": [], "right": []})

    def free(self, way: Way, wanted: Mm, choices: tuple[Mm, ...], rooms: tuple[float, ...] = (1.0,)) -> Mm:
        """Take the choice nearest to the wanted place that keeps its distance, else the freest one.

        Parameters
        ----------
        way
            Which way the line leaves.
        wanted
            Place that would be best.
        choices
            Places that are possible.
        rooms
            Distances to try, in least distances, the best first.
        """
        for room in rooms:
            least = room * self.least - _NEAR
            clear = [each for each in choices if self._open(way, each) and self._distance(way, each) >= least]
            if clear:
                return self._take(way, min(clear, key=lambda each: (abs(each - wanted), each)))
        return self._take(
            way,
            max(
                choices,
                key=lambda each: (
                    self._open(way, each),
                    self._distance(way, each),
                    -abs(each - wanted),
                    each,
                ),
            ),
        )

    def _take(self, way: Way, place: Mm) -> Mm:
        self.taken[way].append(place)
        return place

    def _distance(self, way: Way, place: Mm) -> Mm:
        return min((abs(place - other) for other in self.taken[way]), default=inf)

    def _open(self, way: Way, place: Mm) -> bool:
        return not any(low < place < high for low, high in self.blocked.get(way, ()))


def make_anchors(section: Section, least: Mm) -> tuple[Anchor, ...]:
    """Place the leader lines of all features so that no two run along each other.

    Parameters
    ----------
    section
        Half-section of the part.
    least
        Least distance between two parallel lines [mm of the part].
    """
    lines = _Lines(least)
    features = section.part.features
    facing = [_standing(section, each) for each in features if _side(section, each) is not None]
    around = [each for each in features if _side(section, each) is None]
    made = {anchor.feature: anchor for way in ("up", "down") for anchor in _straight(facing, way, lines)}
    made |= {anchor.feature: anchor for anchor in _shoulders(section, facing, lines)}
    for feature in sorted(around, key=lambda each: _freedom(section, each)):
        made[feature.name] = _around_anchor(section, feature, lines)
    return tuple(made[feature.name] for feature in features)


def is_inside(section: Section, feature: AnyFeature) -> bool:
    """Whether a feature is reached from the axis.

    Parameters
    ----------
    section
        Half-section of the part.
    feature
        The feature.
    """
    if isinstance(feature, Bore | InternalGear):
        return True
    place = getattr(feature, "place", None)
    if place is not None:
        return bool(place == "inside")
    if isinstance(feature, Chamfer | Radius | Keyway | Flat | Marking | Pocket | BoltCircle):
        carrier = section.part.by_name.get(feature.on)
        return carrier is not None and carrier is not feature and is_inside(section, carrier)
    return False


def _side(section: Section, feature: AnyFeature) -> Side | None:
    """Side that the feature looks to, if it lies in a face."""
    if isinstance(feature, Face | FaceGroove):
        return feature.side
    if isinstance(feature, BoltCircle) and feature.direction == "radial":
        return None
    if isinstance(feature, BoltCircle) and feature.side is not None:
        return feature.side
    if isinstance(feature, BoltCircle | Marking | Pocket):
        carrier = section.part.by_name.get(feature.on)
        return carrier.side if isinstance(carrier, Face | FaceGroove) else None
    return None


def _freedom(section: Section, feature: AnyFeature) -> Mm:
    extent = section.extent(feature.name)
    return extent.z_to - extent.z_from


@dataclass(frozen=True)
class _Standing:
    """A feature in a face: its height, the height of its face, its radii and the way out."""

    feature: str
    is_face: bool
    fixed: bool
    upper: bool
    z: Mm
    face: Mm
    inner: Mm
    outer: Mm
    way: Way

    @property
    def touch(self) -> Mm:
        """Radius that a line sideways starts from: near the edge of a face, else in the middle."""
        if not self.is_face:
            return (self.inner + self.outer) / 2
        share = 0.06 if self.way == "left" else 0.94
        return self.inner + (self.outer - self.inner) * share


def _standing(section: Section, feature: AnyFeature) -> _Standing:
    extent = section.extent(feature.name)
    upper = _side(section, feature) == "upper"
    face = extent.z_to if upper else extent.z_from
    floor = extent.z_from if upper else extent.z_to
    z = floor if isinstance(feature, FaceGroove) else face
    inner, outer = extent.inner / 2, extent.outer / 2
    fixed = isinstance(feature, BoltCircle)
    way = _leaving(section, upper, face, (inner + outer) / 2)
    return _Standing(feature.name, isinstance(feature, Face), fixed, upper, z, face, inner, outer, way)


def _straight(facing: list[_Standing], way: str, lines: _Lines) -> list[Anchor]:
    """Leave faces straight on: holes where they are, other features where room is, lines moved apart."""
    places = sorted((p for p in facing if p.way == way), key=lambda p: p.is_face)
    points = {place.feature: _free_radius(place, lines) for place in places}
    places.sort(key=lambda place: (points[place.feature], place.feature))
    wanted = tuple(points[place.feature] for place in places)
    apart = spread(wanted, (0.0,) * len(places), lines.least)
    return [
        Anchor(place.feature, place.way, place.z, point, line)
        for place, point, line in zip(places, wanted, apart, strict=True)
    ]


def _free_radius(place: _Standing, lines: _Lines) -> Mm:
    middle, width = (place.inner + place.outer) / 2, place.outer - place.inner
    if place.fixed or width < lines.least:
        return lines.free(place.way, middle, (middle,))
    choices = tuple(place.inner + width * step / (_STEPS - 1) for step in range(3, _STEPS - 3))
    return lines.free(place.way, middle, choices, (4.0, 2.0, 1.0))


def _shoulders(section: Section, facing: list[_Standing], lines: _Lines) -> list[Anchor]:
    """Leave shoulders sideways, just beyond their face and below the lines of what stands behind."""
    groups: dict[tuple[Way, bool, Mm], list[_Standing]] = {}
    for place in facing:
        if place.way in ("left", "right"):
            groups.setdefault((place.way, place.upper, place.face), []).append(place)
    made = []
    for (way, upper, face), places in groups.items():
        # Nearest to the exit first: its line stays lowest, so those from behind pass over it.
        places.sort(key=lambda place: (-place.touch if place.way == "right" else place.touch, place.feature))
        step = min(lines.least, 0.7 * _room_beyond(section, way, face, upper=upper) / len(places))
        step = step if upper else -step
        for count, place in enumerate(places, start=1):
            line = lines.free(way, face + step * count, (face + step * count,))
            made.append(Anchor(place.feature, way, place.z, place.touch, line))
        low, high = sorted((face, face + step * len(places)))
        lines.blocked[way].append((low, high))
    return made


def _room_beyond(section: Section, way: Way, face: Mm, *, upper: bool) -> Mm:
    """Height of the surface that rises from a shoulder, up to where the next feature begins."""
    profile = section.outside if way == "right" else section.inside
    if upper:
        beyond = profile.between(face, section.z_to)
        return beyond[0].length if beyond else inf
    beyond = profile.between(section.z_from, face)
    return beyond[-1].length if beyond else inf


def _leaving(section: Section, upper: bool, z: Mm, r: Mm) -> Way:
    """Way out for a line from a face: straight on, or sideways where lines of other features would cross."""
    end = section.z_to if upper else section.z_from
    way: Way = "up" if upper else "down"
    for step in range(1, _STEPS):
        height = z + (end - z) * step / _STEPS
        if section.outer_diameter(height) / 2 < r - _NEAR:
            return "right"
        if section.inner_diameter(height) / 2 > r + _NEAR:
            return "left"
    return way


def _around_anchor(section: Section, feature: AnyFeature, lines: _Lines) -> Anchor:
    inside = is_inside(section, feature)
    way: Way = "left" if inside else "right"
    z_from, z_to = _ends(section, feature)
    middle = (z_from + z_to) / 2
    even = tuple(z_from + (z_to - z_from) * step / (_STEPS - 1) for step in range(2, _STEPS - 2))
    profile = section.inside if inside else section.outside
    owned = tuple(z for z in even if _owns(profile, feature, z))
    line = lines.free(way, middle, owned or even, (4.0, 2.0, 1.0))
    surface = section.inner_diameter(line) if inside else section.outer_diameter(line)
    return Anchor(feature.name, way, line, surface / 2, line)


def _ends(section: Section, feature: AnyFeature) -> tuple[Mm, Mm]:
    if isinstance(feature, DoubleHelicalGear):
        return float(feature.upper.z_from), float(feature.upper.z_to)
    if isinstance(feature, Chamfer | Radius):
        return _edge_ends(section, feature)
    extent = section.extent(feature.name)
    if isinstance(feature, BevelGear):
        third = (extent.z_to - extent.z_from) / 3
        return extent.z_from + third, extent.z_to - third
    return extent.z_from, extent.z_to


def _edge_ends(section: Section, feature: Chamfer | Radius) -> tuple[Mm, Mm]:
    carrier = section.extent(feature.on)
    size = float(feature.size)
    if feature.edge == "lower":
        return carrier.z_from, min(carrier.z_from + size, carrier.z_to)
    return max(carrier.z_to - size, carrier.z_from), carrier.z_to


def _owns(profile: Profile, feature: AnyFeature, z: Mm) -> bool:
    names = {feature.name}
    if isinstance(feature, Keyway | Flat | Marking | Pocket | BoltCircle | Chamfer | Radius):
        names.add(feature.on)
    return all(piece.feature in names for piece in profile.at(z))
