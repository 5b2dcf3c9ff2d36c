"""Measurement over balls and pins of external gears and between them of internal gears."""

from __future__ import annotations

from math import acos, cos, degrees, hypot, pi, radians, tan
from typing import Final

from sequencer.errors import OutOfRange
from sequencer.gears._ranges import check_range
from sequencer.gears.diameters import virtual_teeth
from sequencer.gears.involute import involute, tangent_of_involute
from sequencer.gears.rack import transverse_pressure_angle
from sequencer.units import Deg, Mm

#: Diameters of measuring balls and pins that gauge makers stock (from memory, after DIN 3977), mm.
BALL_DIAMETERS: Final[tuple[Mm, ...]] = (
    *(0.1, 0.12, 0.15, 0.17, 0.195, 0.22, 0.25, 0.29, 0.335, 0.39, 0.455, 0.53, 0.62, 0.725, 0.895),
    *(1.0, 1.1, 1.25, 1.35, 1.5, 1.65, 1.75, 2.0, 2.25, 2.5, 2.75, 3.0, 3.25, 3.5, 3.75, 4.0, 4.25),
    *(4.5, 5.0, 5.25, 5.5, 6.0, 6.5, 7.0, 7.5, 8.0, 9.0, 10.0, 10.5, 11.0, 12.0, 14.0, 15.0, 16.0),
    *(18.0, 20.0, 22.0, 25.0, 28.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0, 65.0, 70.0, 75.0, 80.0),
    *(85.0, 90.0, 100.0, 110.0, 125.0, 140.0, 160.0, 180.0, 200.0),
)


def ball_centre_involute(
    normal_module: Mm,
    teeth: int,
    ball_diameter: Mm,
    normal_tooth_thickness: Mm,
    pressure_angle: Deg = 20.0,
    helix_angle: Deg = 0.0,
    *,
    internal: bool = False,
) -> float:
    """Give the involute function at the centre of a ball that touches both flanks of a space.

    Source: ISO 21771:2007 (from memory); Elements of Metric Gear Technology, tables 10-12 to 10-16

    inv aK = inv at + sn/(z mn) - pi/z + DM/(z mn cos an); internal: with en = pi mn - sn the space,
    inv aK = inv at + en/(z mn) - DM/(z mn cos an)

    Parameters
    ----------
    normal_module
        Normal module [mm].
    teeth
        Number of teeth [-].
    ball_diameter
        Diameter of the ball [mm].
    normal_tooth_thickness
        Arc thickness on the reference circle in the normal section [mm].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    internal
        Whether the teeth point inwards.

    Raises
    ------
    OutOfRange
        When the ball is so small, or in an internal gear so large, that it cannot touch both flanks.
    """
    at_reference = involute(transverse_pressure_angle(pressure_angle, helix_angle))
    ball = ball_diameter / (teeth * normal_module * cos(radians(pressure_angle)))
    thickness = normal_tooth_thickness / (teeth * normal_module)
    if internal:
        value = at_reference + pi / teeth - thickness - ball
    else:
        value = at_reference + thickness - pi / teeth + ball
    if not value > 0.0:
        raise OutOfRange(
            f"a ball of {ball_diameter:g} mm does not touch both flanks above the base circle",
            limit=f"involute function at its centre {value:.6f}, must be above 0",
            remedy=f"Use a {'smaller' if internal else 'larger'} ball",
        )
    return value


def ball_centre_diameter(base_diameter: Mm, centre_involute: float) -> Mm:
    """Give the diameter on which the centre of the ball lies.

    Source: ISO 21771:2007 (from memory)

    dK = db / cos aK

    Parameters
    ----------
    base_diameter
        Base diameter [mm].
    centre_involute
        Involute function at the centre of the ball [rad].
    """
    return base_diameter * hypot(1.0, tangent_of_involute(centre_involute))


def ball_contact_diameter(
    base_diameter: Mm,
    centre_involute: float,
    ball_diameter: Mm,
    base_helix_angle: Deg = 0.0,
    *,
    internal: bool = False,
) -> Mm:
    """Give the diameter at which the ball touches the flanks.

    Source: derived (the normal of an involute helicoid is tangent to its base cylinder)

    tan aM = tan aK - DM cos bb / db; internal: plus; dM = db / cos aM

    Parameters
    ----------
    base_diameter
        Base diameter [mm].
    centre_involute
        Involute function at the centre of the ball [rad].
    ball_diameter
        Diameter of the ball [mm].
    base_helix_angle
        Helix angle on the base cylinder [deg].
    internal
        Whether the teeth point inwards.

    Raises
    ------
    OutOfRange
        When the ball would touch inside the base circle.
    """
    offset = ball_diameter * cos(radians(base_helix_angle)) / base_diameter
    tangent = tangent_of_involute(centre_involute) + (offset if internal else -offset)
    if tangent < 0.0:
        raise OutOfRange(
            f"a ball of {ball_diameter:g} mm touches inside the base circle",
            limit=f"base diameter {base_diameter:.6g} mm",
            remedy="Use a larger ball",
        )
    return base_diameter * hypot(1.0, tangent)


def measurement_over_balls(
    centre_diameter: Mm, ball_diameter: Mm, teeth: int, *, internal: bool = False
) -> Mm:
    """Give the measurement over two balls, or between them, in one transverse plane.

    Source: ISO 21771:2007 (from memory); Elements of Metric Gear Technology, tables 10-13 and 10-15

    M = dK + DM, odd teeth M = dK cos(90/z) + DM; internal: minus DM

    Parameters
    ----------
    centre_diameter
        Diameter on which the centres of the balls lie [mm].
    ball_diameter
        Diameter of the balls [mm].
    teeth
        Number of teeth [-].
    internal
        Whether the teeth point inwards.
    """
    across = centre_diameter if teeth % 2 == 0 else centre_diameter * cos(pi / (2 * teeth))
    return across - ball_diameter if internal else across + ball_diameter


def measurement_over_pins(
    centre_diameter: Mm, pin_diameter: Mm, teeth: int, helix_angle: Deg = 0.0, *, internal: bool = False
) -> Mm:
    """Give the measurement over two pins with parallel anvils.

    Source: ISO 21771:2007 (from memory)

    M = dK + DM for even teeth and for helical gears; dK cos(90/z) + DM for spur gears with odd teeth

    Parameters
    ----------
    centre_diameter
        Diameter on which the centres of the pins lie [mm].
    pin_diameter
        Diameter of the pins [mm].
    teeth
        Number of teeth [-].
    helix_angle
        Helix angle at the reference circle [deg].
    internal
        Whether the teeth point inwards.

    Raises
    ------
    OutOfRange
        When the gear is internal and helical: a straight pin does not fit its spaces.
    """
    if helix_angle and internal:
        raise OutOfRange(
            f"an internal gear of helix angle {helix_angle:g} deg is not measured with pins",
            limit="straight pins fit internal spur gears only",
            remedy="Measure between balls",
        )
    if helix_angle:
        return centre_diameter + pin_diameter
    return measurement_over_balls(centre_diameter, pin_diameter, teeth, internal=internal)


def ideal_ball_diameter(
    normal_module: Mm,
    teeth: int,
    pressure_angle: Deg = 20.0,
    helix_angle: Deg = 0.0,
    profile_shift: float = 0.0,
    *,
    internal: bool = False,
) -> Mm:
    """Give the ball that touches at the shifted diameter; for helical gears by the virtual spur gear.

    Source: Elements of Metric Gear Technology, tables 10-12, 10-14 and 10-16

    eta = pi/(2 zv) - inv an - 2 x tan an / zv, cos av = zv cos an / (zv + 2x), phi = tan av + eta,
    DM = zv mn cos an (inv phi + eta); internal: eta = pi/(2 zv) + inv an + 2 x tan an / zv,
    phi = tan av - eta, DM = zv mn cos an (eta - inv phi)

    Parameters
    ----------
    normal_module
        Normal module [mm].
    teeth
        Number of teeth [-].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    profile_shift
        Profile shift factor; positive enlarges external and internal gears [-].
    internal
        Whether the teeth point inwards.

    Raises
    ------
    OutOfRange
        When no ball touches at the shifted diameter.
    """
    angle, virtual = radians(pressure_angle), virtual_teeth(teeth, helix_angle)
    cosine = cos(angle)
    check_range(
        "shifted diameter",
        normal_module * (virtual + 2.0 * profile_shift),
        normal_module * virtual * cosine,
        float("inf"),
        unit="mm",
        remedy="No involute exists inside the base circle; choose a ball that touches higher up",
    )
    sign = -1.0 if internal else 1.0
    shift = 2.0 * profile_shift * tan(angle) / virtual
    eta = pi / (2.0 * virtual) - sign * (involute(pressure_angle) + shift)
    phi = tan(acos(virtual * cosine / (virtual + 2.0 * profile_shift))) + sign * eta
    check_range(
        "pressure angle at the centre of the ball",
        degrees(phi),
        0.0,
        90.0,
        unit="deg",
        open_high=True,
        remedy="No ball touches both flanks at the shifted diameter",
    )
    return virtual * normal_module * cosine * (involute(degrees(phi)) + sign * eta) * sign
