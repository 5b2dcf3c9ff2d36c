"""Inspection sizes against contact found numerically on flanks built from their definition.

The flanks here are made by unwinding a string from the base circle and turning it along the lead; none of
the formulas under test is used to build them. Source: derived.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq, minimize

from sequencer.gears import CylindricalGear, inspection_sizes


def flank(gear: CylindricalGear, roll: float, height: float, side: int, centre: float) -> np.ndarray:
    """Give a point of a flank: side +1 is the one at larger polar angle of a body centred at `centre` rad.

    The polar angle on the reference circle follows from the normal thickness of the body alone.
    """
    base = gear.base_diameter / 2
    reference = gear.reference_diameter / 2
    width = gear.normal_tooth_thickness / np.cos(np.radians(gear.helix_angle))
    body = 2 * np.pi / gear.teeth - width / reference if gear.internal else width / reference
    at_reference = np.sqrt(reference**2 - base**2) / base
    start = at_reference - np.arctan(at_reference)
    unwound = roll - np.arctan(roll) if roll >= 0 else 0.0
    turn = height * np.tan(np.radians(gear.helix_angle)) / reference
    polar = centre + side * (body / 2 + start - unwound) + turn
    radius = base * np.hypot(1.0, roll)
    return np.array([radius * np.cos(polar), radius * np.sin(polar), height])


def roll_at(gear: CylindricalGear, diameter: float) -> float:
    return float(np.sqrt(max(diameter**2 - gear.base_diameter**2, 0.0)) / gear.base_diameter)


def gap_to_ball(gear: CylindricalGear, radius: float) -> float:
    """Distance from a point on the middle line of a space to the flank beside it."""
    # external: the body is the tooth, its upper flank bounds the space one half pitch further up
    side, centre = (1, -np.pi / gear.teeth) if not gear.internal else (1, 0.0)
    point = np.array([radius, 0.0, 0.0])

    def distance(where: np.ndarray) -> float:
        return float(np.sum((flank(gear, abs(where[0]), where[1], side, centre) - point) ** 2))

    start = np.array([roll_at(gear, gear.shifted_diameter), 0.0])
    found = minimize(
        distance, start, method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-16, "maxiter": 4000}
    )
    return float(np.sqrt(found.fun))


GEARS = [
    {"normal_module": 3.0, "teeth": 24, "profile_shift": 0.4},
    {"normal_module": 3.0, "teeth": 25, "profile_shift": -0.3},
    {"normal_module": 8.0, "teeth": 104, "helix_angle": 20.0, "hand": "left"},
    {"normal_module": 2.0, "teeth": 17, "helix_angle": 35.0, "hand": "right", "profile_shift": 0.2},
    {"normal_module": 4.0, "teeth": 61, "pressure_angle": 25.0, "helix_angle": 10.0, "hand": "right"},
    {"normal_module": 4.0, "teeth": 60, "internal": True},
    {"normal_module": 6.0, "teeth": 83, "internal": True, "profile_shift": 0.3},
    {"normal_module": 5.0, "teeth": 70, "internal": True, "helix_angle": 18.0, "hand": "left"},
    {"normal_module": 5.0, "teeth": 45, "internal": True, "helix_angle": 30.0, "hand": "left"},
]


def made(values: dict[str, object]) -> CylindricalGear:
    return CylindricalGear(face_width=400.0, **values)  # type: ignore[arg-type]


@pytest.mark.parametrize("values", GEARS)
def test_ball_touches_both_flanks(values: dict[str, object]) -> None:
    """A ball set at the computed measurement is just as far from the flank as its radius."""
    gear = made(values)
    size = inspection_sizes(gear).over_balls
    assert size is not None
    middle = gear.shifted_diameter / 2
    centre = brentq(
        lambda radius: gap_to_ball(gear, radius) - size.ball_diameter / 2,
        middle - 0.6 * gear.normal_module,
        middle + 0.8 * gear.normal_module,
        xtol=1e-9,
    )
    across = 2 * centre * (1.0 if gear.teeth % 2 == 0 else np.cos(np.pi / (2 * gear.teeth)))
    measured = across - size.ball_diameter if gear.internal else across + size.ball_diameter
    assert size.nominal == pytest.approx(measured, abs=2e-6)


@pytest.mark.parametrize("values", GEARS)
def test_ball_touches_at_the_contact_diameter(values: dict[str, object]) -> None:
    """The nearest point of the flank lies at the contact diameter."""
    gear = made(values)
    size = inspection_sizes(gear).over_balls
    assert size is not None
    factor = 1.0 if gear.teeth % 2 == 0 else np.cos(np.pi / (2 * gear.teeth))
    sign = 1 if gear.internal else -1
    radius = (size.nominal + sign * size.ball_diameter) / factor / 2
    side, centre = (1, -np.pi / gear.teeth) if not gear.internal else (1, 0.0)
    point = np.array([radius, 0.0, 0.0])
    heights = np.linspace(-gear.normal_module, gear.normal_module, 801)
    rolls = roll_at(gear, size.contact_diameter) + np.linspace(-0.02, 0.02, 401)
    cloud = np.array([flank(gear, roll, 0.0, side, centre) for roll in rolls])
    turns = heights * np.tan(np.radians(gear.helix_angle)) / (gear.reference_diameter / 2)
    x = cloud[:, :1] * np.cos(turns) - cloud[:, 1:2] * np.sin(turns)
    y = cloud[:, :1] * np.sin(turns) + cloud[:, 1:2] * np.cos(turns)
    squares = (x - point[0]) ** 2 + (y - point[1]) ** 2 + heights**2
    row = int(np.unravel_index(np.argmin(squares), squares.shape)[0])
    assert abs(row - 200) <= 2


@pytest.mark.parametrize("values", [each for each in GEARS if not each.get("internal")])
def test_span_is_what_parallel_anvils_measure(values: dict[str, object]) -> None:
    """Two parallel planes rocked over the flanks come no closer than the computed span."""
    gear = made(values)
    size = inspection_sizes(gear).span
    assert size is not None
    half = np.pi * (size.teeth_spanned - 1) / gear.teeth
    roll = roll_at(gear, size.contact_diameter)
    rolls = np.linspace(0.6 * roll, 1.4 * roll, 1201)
    base = np.array([flank(gear, each, 0.0, 1, half) for each in rolls])
    heights = np.linspace(-0.75, 0.75, 1201) * max(size.least_face_width, gear.normal_module)
    turns = heights * np.tan(np.radians(gear.helix_angle)) / (gear.reference_diameter / 2)
    y = base[:, :1] * np.sin(turns) + base[:, 1:2] * np.cos(turns)

    def measured(tilt: float) -> float:
        # the lower flank is the upper one turned half a turn about the x axis: both halves are equal
        return float(2.0 * np.max(np.cos(tilt) * y - np.sin(tilt) * heights))

    tilt = np.radians(gear.base_helix_angle)
    assert measured(tilt) == pytest.approx(size.nominal, rel=2e-6)
    for rocked in (-0.01, 0.01):
        assert measured(tilt + rocked) > size.nominal


@pytest.mark.parametrize("values", GEARS)
@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_thickness_along_the_flank(values: dict[str, object], share: float) -> None:
    """The arc between the two flanks of one body equals the thickness (external) or the space (internal)."""
    gear = made(values)
    inner, outer = sorted((max(gear.root_form_diameter, gear.base_diameter), gear.tip_diameter))
    diameter = inner + share * (outer - inner)
    roll = roll_at(gear, diameter)
    upper, lower = (flank(gear, roll, 0.0, side, 0.0) for side in (1, -1))
    arc = (np.arctan2(upper[1], upper[0]) - np.arctan2(lower[1], lower[0])) * diameter / 2
    expected = gear.space_width_at(diameter) if gear.internal else gear.tooth_thickness_at(diameter)
    assert expected == pytest.approx(arc, abs=1e-9 * diameter)
