"""Mass of the part as it is clamped: the blank less what earlier clampings have surely taken off."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from sequencer.cutting.mass import mass, ring_volume
from sequencer.part import AnyFeature, Part
from sequencer.part.section import Section
from sequencer.part.surfaces import place_of
from sequencer.part.turned import Face
from sequencer.units import Kg, Mm


def clamped_mass(part: Part, section: Section, density: float, done: Iterable[AnyFeature]) -> Kg:
    """Mass of the blank less the stock on finished features; an upper bound.

    Source: derived; sum of rings pi/4 (D^2 - d^2) L between all ends, scaled to the blank if it is weighed.

    Parameters
    ----------
    part
        The part with its blank.
    section
        Its half-section.
    density
        Density [kg/dm3].
    done
        Features that are finished by then.
    """
    finished = tuple(done)
    low, high = _body_ends(part, section, finished)
    zones = {
        place: [
            (e.z_from, e.z_to) for e in (section.extent(f.name) for f in finished if place_of(f) == place)
        ]
        for place in ("outside", "inside")
    }
    total = sum(
        _ring(part, section, start, end, zones["outside"], zones["inside"])
        for start, end in pairwise(_cuts(section, low, high, zones["outside"] + zones["inside"]))
    )
    weight = mass(total, density / 1e6)
    computed = section.stock_mass(density)
    return weight * float(part.blank.mass) / computed if part.blank.mass is not None else weight


def _body_ends(part: Part, section: Section, finished: tuple[AnyFeature, ...]) -> tuple[Mm, Mm]:
    faces = {feature.name for feature in finished if isinstance(feature, Face)}
    low = section.z_from if section.lower_face in faces else float(part.blank.z_from)
    high = section.z_to if section.upper_face in faces else float(part.blank.z_to)
    return low, high


def _cuts(section: Section, low: Mm, high: Mm, zones: list[tuple[Mm, Mm]]) -> list[Mm]:
    ends = {low, high, section.z_from, section.z_to}
    ends |= {end for zone in zones for end in zone}
    for piece in (*section.outside.pieces, *section.inside.pieces):
        ends |= {piece.z_from, piece.z_to}
    return sorted(end for end in ends if low <= end <= high)


def _ring(
    part: Part,
    section: Section,
    start: Mm,
    end: Mm,
    outside: list[tuple[Mm, Mm]],
    inside: list[tuple[Mm, Mm]],
) -> float:
    """Volume of one ring [mm3]."""
    middle = (start + end) / 2
    outer, inner = float(part.blank.diameter), float(part.blank.bore)
    if any(low < middle < high for low, high in outside):
        outer = section.outer_diameter(middle)
    if any(low < middle < high for low, high in inside):
        inner = max(inner, section.inner_diameter(middle))
    if end - start <= 0 or outer <= inner:
        return 0.0
    return ring_volume(outer, inner, end - start)
