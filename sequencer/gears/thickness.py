"""Tooth thickness at any diameter, undercut and the limits of the profile shift."""

from __future__ import annotations

from math import cos, inf, pi, radians, sin, tan

from sequencer.errors import OutOfRange
from sequencer.gears._ranges import check_range
from sequencer.gears.diameters import base_diameter, reference_diameter, tip_diameter
from sequencer.gears.involute import inverse_involute, involute, pressure_angle_at_diameter
from sequencer.gears.rack import transverse_pressure_angle
from sequencer.units import Deg, Mm


def normal_tooth_thickness(
    normal_module: Mm, profile_shift: float = 0.0, pressure_angle: Deg = 20.0, *, internal: bool = False
) -> Mm:
    """Give the arc thickness of a tooth on the reference circle in the normal section, without allowance.

    Source: Elements of Metric Gear Technology, section 10; ISO 21771:2007 (from memory)

    sn = mn (pi/2 + 2 x tan an); internal: sn = mn (pi/2 - 2 x tan an)

    Parameters
    ----------
    normal_module
        Normal module [mm].
    profile_shift
        Profile shift factor; positive enlarges external and internal gears [-].
    pressure_angle
        Normal pressure angle [deg].
    internal
        Whether the teeth point inwards.
    """
    widening = 2.0 * profile_shift * tan(radians(pressure_angle))
    return normal_module * (pi / 2.0 + (-widening if internal else widening))


def profile_shift_from_thickness(
    normal_module: Mm, normal_tooth_thickness: Mm, pressure_angle: Deg = 20.0, *, internal: bool = False
) -> float:
    """Give the profile shift factor that makes a tooth of a given thickness.

    Source: derived (inverse of the tooth thickness on the reference circle)

    x = (sn/mn - pi/2) / (2 tan an); internal: the negative

    Parameters
    ----------
    normal_module
        Normal module [mm].
    normal_tooth_thickness
        Arc thickness on the reference circle in the normal section [mm].
    pressure_angle
        Normal pressure angle [deg].
    internal
        Whether the teeth point inwards.
    """
    shift = (normal_tooth_thickness / normal_module - pi / 2.0) / (2.0 * tan(radians(pressure_angle)))
    return -shift if internal else shift


def transverse_tooth_thickness(
    diameter: Mm,
    reference_diameter: Mm,
    base_diameter: Mm,
    reference_thickness: Mm,
    *,
    internal: bool = False,
) -> Mm:
    """Give the arc thickness of a tooth in the transverse section at any diameter.

    Source: ISO 21771:2007 (from memory); Elements of Metric Gear Technology, crest width

    sy = dy (st/d + inv at - inv ay); internal: sy = dy (st/d - inv at + inv ay)

    Parameters
    ----------
    diameter
        Diameter at which the thickness is wanted [mm].
    reference_diameter
        Reference diameter [mm].
    base_diameter
        Base diameter [mm].
    reference_thickness
        Arc thickness on the reference circle in the transverse section [mm].
    internal
        Whether the teeth point inwards.

    Raises
    ------
    OutOfRange
        When the diameter or the reference diameter is below the base diameter.
    """
    at_reference = involute(pressure_angle_at_diameter(reference_diameter, base_diameter))
    at_diameter = involute(pressure_angle_at_diameter(diameter, base_diameter))
    change = at_diameter - at_reference if internal else at_reference - at_diameter
    return diameter * (reference_thickness / reference_diameter + change)


def least_teeth_without_undercut(pressure_angle: Deg = 20.0, straight_dedendum_factor: float = 1.0) -> float:
    """Give the number of teeth below which an unshifted spur gear cut by a rack is undercut.

    Source: Elements of Metric Gear Technology, section 4 (undercut)

    zmin = 2 ha* / sin^2 a

    Parameters
    ----------
    pressure_angle
        Pressure angle [deg].
    straight_dedendum_factor
        Depth of the straight flank of the rack over module [-].
    """
    return 2.0 * straight_dedendum_factor / sin(radians(pressure_angle)) ** 2


def least_profile_shift(
    teeth: int,
    pressure_angle: Deg = 20.0,
    helix_angle: Deg = 0.0,
    straight_dedendum_factor: float = 1.0,
) -> float:
    """Give the profile shift factor below which a gear cut by a rack is undercut.

    Source: Elements of Metric Gear Technology, section 4 (undercut); helical by the transverse section

    xmin = hFfP* - z sin^2 at / (2 cos b)

    Parameters
    ----------
    teeth
        Number of teeth [-].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    straight_dedendum_factor
        Depth of the straight flank of the rack over module [-].
    """
    sine = sin(radians(transverse_pressure_angle(pressure_angle, helix_angle)))
    return float(straight_dedendum_factor - teeth * sine**2 / (2.0 * cos(radians(helix_angle))))


def tip_thickness_factor(
    teeth: int,
    profile_shift: float,
    pressure_angle: Deg = 20.0,
    helix_angle: Deg = 0.0,
    addendum_factor: float = 1.0,
) -> float:
    """Give the tip thickness of an external gear in modules, transverse; below 0 the tooth is pointed.

    Source: Elements of Metric Gear Technology, crest width

    sat/mn = da/mn ( sn/(z mn) + inv at - inv aat )

    Parameters
    ----------
    teeth
        Number of teeth [-].
    profile_shift
        Profile shift factor [-].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    addendum_factor
        Addendum over module [-].
    """
    alpha_t = transverse_pressure_angle(pressure_angle, helix_angle)
    reference = reference_diameter(1.0, teeth, helix_angle)
    thickness = normal_tooth_thickness(1.0, profile_shift, pressure_angle) / cos(radians(helix_angle))
    return transverse_tooth_thickness(
        tip_diameter(reference, 1.0, profile_shift, addendum_factor),
        reference,
        base_diameter(reference, alpha_t),
        thickness,
    )


def largest_profile_shift(
    teeth: int,
    pressure_angle: Deg = 20.0,
    helix_angle: Deg = 0.0,
    addendum_factor: float = 1.0,
    tip_thickness_factor_needed: float = 0.2,
) -> float:
    """Give the profile shift factor at which the tip of an external gear becomes too thin.

    Source: derived (bisection of the tip thickness); 0.2 modules is common practice, no source

    Parameters
    ----------
    teeth
        Number of teeth [-].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    addendum_factor
        Addendum over module [-].
    tip_thickness_factor_needed
        Tip thickness wanted over module, 0 for a pointed tooth [-].

    Raises
    ------
    OutOfRange
        When the tip is too thin at every profile shift.
    """
    check_range("tip thickness over module", tip_thickness_factor_needed, 0.0, inf)
    reference = reference_diameter(1.0, teeth, helix_angle)
    base = base_diameter(reference, transverse_pressure_angle(pressure_angle, helix_angle))
    thin, thick = 0.5 * teeth + 10.0, 0.5 * (base - reference) - addendum_factor

    def tip(shift: float) -> float:
        return tip_thickness_factor(teeth, shift, pressure_angle, helix_angle, addendum_factor)

    # the tip is thickest somewhere between; walk from the base circle outwards to a wide enough tip
    steps = [thick + (thin - thick) * index / 400.0 for index in range(1, 401)]
    wide = [shift for shift in steps if tip(shift) >= tip_thickness_factor_needed]
    if not wide:
        raise OutOfRange(
            f"no profile shift leaves a tip of {tip_thickness_factor_needed:g} modules on {teeth} teeth",
            limit=f"thickest tip {max(tip(shift) for shift in steps):.3g} modules",
            remedy="Use a smaller addendum",
        )
    thick = wide[-1]
    for _ in range(60):
        middle = 0.5 * (thick + thin)
        if tip(middle) >= tip_thickness_factor_needed:
            thick = middle
        else:
            thin = middle
    return thick


def tip_diameter_of_pointed_tooth(reference_diameter: Mm, base_diameter: Mm, reference_thickness: Mm) -> Mm:
    """Give the diameter at which the two flanks of an external tooth meet.

    Source: derived (tooth thickness at any diameter set to zero)

    inv ay = st/d + inv at, dy = db / cos ay

    Parameters
    ----------
    reference_diameter
        Reference diameter [mm].
    base_diameter
        Base diameter [mm].
    reference_thickness
        Arc thickness on the reference circle in the transverse section [mm].
    """
    at_reference = involute(pressure_angle_at_diameter(reference_diameter, base_diameter))
    angle = inverse_involute(reference_thickness / reference_diameter + at_reference)
    return base_diameter / cos(radians(angle))
