"""The allowances of the tooth thickness that a drawing gives: themselves, by a class, or by a backlash."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.errors import OutOfRange
from sequencer.gears import thickness_limits
from sequencer.part.teeth import Cylindrical, cylindrical_gear, gear_mesh
from sequencer.units import Deg, Mm


@dataclass(frozen=True, kw_only=True)
class ThicknessAllowances:
    """Allowances of the normal tooth thickness, and what they follow from.

    Parameters
    ----------
    upper, lower
        Allowances of the normal tooth thickness; below 0 the tooth is thinner [mm].
    normal_backlash
        Least normal backlash of the pair; None where the drawing does not give it [mm].
    backlash_angle
        Transverse pressure angle at the circle of a circumferential backlash; None without one [deg].
    centre_distance
        Centre distance of a recommended backlash; None for a given one [mm].
    """

    upper: Mm
    lower: Mm
    normal_backlash: Mm | None = None
    backlash_angle: Deg | None = None
    centre_distance: Mm | None = None


def thickness_allowances(gear: Cylindrical) -> ThicknessAllowances | None:
    """Give the allowances of the tooth thickness of a gear; None if the drawing gives none.

    Source: the functions of `sequencer.gears.thickness_limits`

    Parameters
    ----------
    gear
        External, internal or double-helical gear.

    Raises
    ------
    OutOfRange
        When the class does not reach to this diameter, or a recommended backlash has no centre distance.
    """
    if gear.thickness_upper is not None and gear.thickness_lower is not None:
        return ThicknessAllowances(upper=float(gear.thickness_upper), lower=float(gear.thickness_lower))
    if gear.thickness_class is not None:
        diameter = cylindrical_gear(gear).reference_diameter
        upper = thickness_limits.din_3967_allowance(gear.thickness_class.allowance, diameter)
        width = thickness_limits.din_3967_tolerance(gear.thickness_class.tolerance, diameter)
        return ThicknessAllowances(upper=upper, lower=upper - width)
    if gear.thickness_tolerance is None:
        return None
    return _by_backlash(gear, float(gear.thickness_tolerance))


def _by_backlash(gear: Cylindrical, width: Mm) -> ThicknessAllowances:
    teeth, mesh = cylindrical_gear(gear), gear_mesh(gear)
    angle = distance = None
    if gear.backlash is None:
        if mesh is None:
            raise OutOfRange("a recommended backlash without a mate", remedy="Give mate_teeth")
        distance = mesh.centre_distance
        backlash = thickness_limits.recommended_least_backlash(distance, teeth.normal_module)
    elif gear.backlash_kind == "circumferential":
        angle = teeth.transverse_pressure_angle if mesh is None else mesh.working_pressure_angle
        backlash = thickness_limits.normal_backlash_from_circumferential(
            float(gear.backlash), angle, teeth.base_helix_angle
        )
    else:
        backlash = float(gear.backlash)
    upper = thickness_limits.allowance_from_backlash(backlash, gear.backlash_share, teeth.pressure_angle)
    return ThicknessAllowances(
        upper=upper,
        lower=upper - width,
        normal_backlash=backlash,
        backlash_angle=angle,
        centre_distance=distance,
    )
