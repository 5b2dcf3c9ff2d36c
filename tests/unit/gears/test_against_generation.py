"""Undercut and root form diameter against a tooth space swept by a rack-shaped tool. Source: derived."""

from __future__ import annotations

import numpy as np
import pytest

from sequencer.gears import CylindricalGear
from sequencer.gears.involute import involute, pressure_angle_at_diameter


def swept_half_angle(gear: CylindricalGear, diameter: float) -> float:
    """Half the polar angle that a rolling rack clears at a diameter, in the transverse section of a gear."""
    m, alpha = gear.normal_module, np.radians(gear.pressure_angle)
    stretch = 1.0 / np.cos(np.radians(gear.helix_angle))
    reference, radius = gear.reference_diameter / 2, diameter / 2
    fillet = gear.used_root_fillet_factor * m
    depth = gear.dedendum_factor * m
    centre_depth = depth - fillet
    centre_across = (
        np.pi / 4 * m - (centre_depth + fillet * np.sin(alpha)) * np.tan(alpha) - fillet * np.cos(alpha)
    )

    def half_width(inward: np.ndarray) -> np.ndarray:
        """Half width of the tool tooth, normal section, by depth below its datum line; -1 below the tip."""
        straight = np.pi / 4 * m - inward * np.tan(alpha)
        below = np.clip(inward - centre_depth, 0.0, fillet)
        rounded = centre_across + np.sqrt(np.maximum(fillet**2 - below**2, 0.0))
        on_flank = inward <= centre_depth + fillet * np.sin(alpha)
        width = np.where(on_flank, straight, rounded)
        return np.where(inward > depth, -1.0, width)

    rolls = np.linspace(-0.9, 0.9, 36001)

    def cleared(angle: float) -> bool:
        turned = angle - rolls
        across = (radius * np.sin(turned) + reference * rolls) / stretch
        inward = reference - radius * np.cos(turned) + gear.profile_shift * m
        width = half_width(inward)
        # the addendum of the tool beyond the blank is not limited here
        return bool(np.any((width >= 0) & (np.abs(across) <= width)))

    low, high = 0.0, np.pi / gear.teeth
    for _ in range(40):
        middle = 0.5 * (low + high)
        if cleared(middle):
            low = middle
        else:
            high = middle
    return low


def flank_half_angle(gear: CylindricalGear, diameter: float) -> float:
    """Half the polar angle between the involutes that bound a space."""
    reference = involute(gear.transverse_pressure_angle)
    here = involute(pressure_angle_at_diameter(diameter, gear.base_diameter))
    thickness = gear.normal_tooth_thickness / (gear.teeth * gear.normal_module)
    return float(np.pi / gear.teeth - thickness - reference + here)


GEARS = [
    {"teeth": 10},
    {"teeth": 8, "profile_shift": 0.1},
    {"teeth": 12, "profile_shift": -0.3, "root_fillet_factor": 0.2},
    {"teeth": 14, "profile_shift": -0.4, "helix_angle": 25.0, "hand": "right"},
    {"teeth": 9, "pressure_angle": 25.0, "profile_shift": -0.2},
    {"teeth": 24},
    {"teeth": 40, "profile_shift": 0.5, "helix_angle": 20.0, "hand": "left"},
]


@pytest.mark.parametrize("values", GEARS)
def test_involute_begins_at_the_root_form_diameter(values: dict[str, object]) -> None:
    """Above the form diameter the swept space has the involute's width, below it is wider."""
    gear = CylindricalGear(normal_module=4.0, face_width=40.0, **values)  # type: ignore[arg-type]
    form = gear.root_form_diameter
    above = form + 0.02
    assert swept_half_angle(gear, above) == pytest.approx(flank_half_angle(gear, above), abs=3e-6)
    if gear.undercut:
        below = max(form - 0.08, gear.base_diameter)
        assert swept_half_angle(gear, below) > flank_half_angle(gear, below) + 2e-5


def test_undercut_begins_at_the_least_profile_shift() -> None:
    """Just above the limit the involute reaches almost to the base circle, just below it is cut away."""
    limit = CylindricalGear(normal_module=4.0, teeth=10, face_width=40.0).least_profile_shift
    clear, cut = (
        CylindricalGear(normal_module=4.0, teeth=10, face_width=40.0, profile_shift=limit + change)
        for change in (0.001, -0.05)
    )
    assert not clear.undercut
    assert cut.undercut
    assert clear.root_form_diameter == pytest.approx(clear.base_diameter, abs=1e-3)
    assert cut.root_form_diameter > cut.base_diameter + 0.002
