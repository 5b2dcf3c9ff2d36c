"""Interference of a pinion in an internal gear against outlines moved through each other. Source: derived."""

from __future__ import annotations

import numpy as np
import pytest

from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear
from sequencer.gears.interference import (
    involute_interference_margin,
    trimming_interference_margin,
    trochoid_interference_margin,
)
from sequencer.gears.involute import involute, pressure_angle_at_diameter
from sequencer.gears.pair import (
    reference_centre_distance,
    working_centre_distance,
    working_pressure_angle,
)


def pair(z1: int, z2: int, x1: float, x2: float, ha: float) -> tuple[CylindricalGear, CylindricalGear, float]:
    pinion = CylindricalGear(
        normal_module=2.0, teeth=z1, face_width=20.0, profile_shift=x1, addendum_factor=ha
    )
    ring = CylindricalGear(
        normal_module=2.0, teeth=z2, face_width=20.0, profile_shift=x2, addendum_factor=ha, internal=True
    )
    return pinion, ring, working_pressure_angle(z1, z2, x1, x2, internal=True)


def angle_in_space(gear: CylindricalGear, diameters: np.ndarray) -> np.ndarray:
    """Half the polar angle of a pinion tooth, or of a space of the ring, at each diameter."""
    reference = involute(gear.transverse_pressure_angle)
    here = np.array([involute(pressure_angle_at_diameter(each, gear.base_diameter)) for each in diameters])
    width = np.pi / 2 + 2 * gear.profile_shift * np.tan(np.radians(20.0))
    return width / gear.teeth + reference - here


def outline(gear: CylindricalGear) -> np.ndarray:
    """Points of all flanks of the pinion, thinned by a hair so that touching does not count."""
    start = max(gear.root_form_diameter, gear.base_diameter * (1 + 1e-9))
    diameters = np.linspace(start, gear.tip_diameter, 60)
    half = angle_in_space(gear, diameters) - 2e-4
    turns = np.arange(gear.teeth) * 2 * np.pi / gear.teeth
    angles = np.concatenate([(turns[:, None] + sign * half).ravel() for sign in (1, -1)])
    radii = np.tile(diameters / 2, 2 * gear.teeth)
    return np.stack([radii * np.cos(angles), radii * np.sin(angles)])


def overlaps(
    pinion_points: np.ndarray, ring: CylindricalGear, centre: float, turn: float, ring_turn: float
) -> bool:
    c, s = np.cos(turn), np.sin(turn)
    x = c * pinion_points[0] - s * pinion_points[1] + centre
    y = s * pinion_points[0] + c * pinion_points[1]
    diameters, angles = 2 * np.hypot(x, y), np.arctan2(y, x) - ring_turn
    pitch = 2 * np.pi / ring.teeth
    off = np.abs((angles + pitch / 2) % pitch - pitch / 2)
    inside = diameters > ring.tip_diameter + 1e-6
    grid = np.linspace(ring.tip_diameter, ring.root_diameter, 400)
    allowed = np.interp(diameters[inside], grid, angle_in_space(ring, grid))
    return bool(np.any(off[inside] > allowed))


PAIRS = [
    # pinion, ring, shifts, addendum: from far apart to nearly equal numbers of teeth
    (20, 60, 0.0, 0.0, 1.0),
    (30, 60, 0.0, 0.0, 1.0),
    (40, 50, 0.0, 0.0, 1.0),
    (54, 60, 0.0, 0.0, 1.0),
    (57, 60, 0.0, 0.0, 1.0),
    (57, 60, 0.0, 0.0, 0.5),
    (42, 60, 0.0, 0.0, 1.0),
    (48, 60, 0.0, 0.0, 0.8),
    (40, 46, 0.2, 0.5, 0.8),
]


def margins(z1: int, z2: int, x1: float, x2: float, ha: float) -> tuple[float, float, float]:
    pinion, ring, angle = pair(z1, z2, x1, x2, ha)
    centre = working_centre_distance(reference_centre_distance(2.0, z1, z2, internal=True), 20.0, angle)
    return (
        involute_interference_margin(z1, z2, ring.tip_diameter, ring.base_diameter, angle),
        trochoid_interference_margin(
            z1, z2, pinion.tip_diameter, pinion.base_diameter, ring.tip_diameter, centre, angle
        ),
        trimming_interference_margin(
            z1, z2, pinion.tip_diameter, pinion.base_diameter, ring.tip_diameter, angle
        ),
    )


@pytest.mark.parametrize("values", PAIRS)
def test_trochoid_margin_tells_whether_the_pair_turns(values: tuple[int, int, float, float, float]) -> None:
    """Rolled through one pitch, tips overlap just when the margin is negative."""
    pinion, ring, angle = pair(*values)
    z1, z2 = values[:2]
    centre = working_centre_distance(reference_centre_distance(2.0, z1, z2, internal=True), 20.0, angle)
    points = outline(pinion)
    clash = any(
        overlaps(points, ring, centre, roll * 2 * np.pi / z1, roll * 2 * np.pi / z2)
        for roll in np.linspace(0.0, 1.0, 61)
    )
    assert clash == (margins(*values)[1] < 0)


@pytest.mark.parametrize("values", PAIRS)
def test_trimming_margin_tells_whether_the_pinion_goes_in_radially(
    values: tuple[int, int, float, float, float],
) -> None:
    """Moved out from the middle of the ring, the pinion passes its tips just when the margin is positive."""
    pinion, ring, angle = pair(*values)
    z1, z2 = values[:2]
    centre = working_centre_distance(reference_centre_distance(2.0, z1, z2, internal=True), 20.0, angle)
    points = outline(pinion)
    clash = any(
        overlaps(points, ring, centre * path, roll * 2 * np.pi / z1, roll * 2 * np.pi / z2)
        for roll in np.linspace(0.0, 1.0, 13)
        for path in np.linspace(0.0, 1.0, 61)
    )
    assert clash == (margins(*values)[2] < 0)


def test_involute_margin_compares_tip_and_base_circle() -> None:
    """The limit is reached where the ring's tip passes the point of tangency on the pinion's base circle."""
    for z1, z2 in ((20, 60), (16, 80), (12, 90), (30, 60)):
        pinion, ring, angle = pair(z1, z2, 0.0, 0.0, 1.0)
        centre = working_centre_distance(reference_centre_distance(2.0, z1, z2, internal=True), 20.0, angle)
        # tangent of the ring's base circle at the pinion's tangency point: a sin aw
        at_tangency = np.hypot(ring.base_diameter / 2, centre * np.sin(np.radians(angle)))
        assert (ring.tip_diameter / 2 > at_tangency) == (
            involute_interference_margin(z1, z2, ring.tip_diameter, ring.base_diameter, angle) > 0
        )
        assert pinion.teeth == z1


def test_tip_below_the_base_circle_is_refused() -> None:
    """The pressure angle at the ring's tip does not exist there."""
    with pytest.raises(OutOfRange, match=r"diameter is 50 mm .*at least 56 mm"):
        involute_interference_margin(16, 30, 50.0, 56.0, 20.0)
