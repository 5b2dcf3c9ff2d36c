"""Two cylindrical gears in mesh: working pressure angle, centre distance, contact ratios."""

from __future__ import annotations

from math import acos, cos, degrees, inf, pi, radians, sin, sqrt, tan

from sequencer.errors import OutOfRange
from sequencer.gears._ranges import check_range
from sequencer.gears.involute import inverse_involute, involute
from sequencer.gears.rack import transverse_pressure_angle
from sequencer.units import Deg, Mm


def _teeth_and_shift(
    teeth_1: int, teeth_2: int, profile_shift_1: float, profile_shift_2: float, internal: bool
) -> tuple[int, float]:
    """Give sums for two external gears, differences for a pinion in an internal gear."""
    if not internal:
        return teeth_1 + teeth_2, profile_shift_1 + profile_shift_2
    if teeth_2 <= teeth_1:
        raise OutOfRange(
            f"internal gear has {teeth_2} teeth, its pinion {teeth_1}",
            limit=f"above {teeth_1} teeth",
            remedy="Give the pinion first and the internal gear second",
        )
    return teeth_2 - teeth_1, profile_shift_2 - profile_shift_1


def working_pressure_angle(
    teeth_1: int,
    teeth_2: int,
    profile_shift_1: float = 0.0,
    profile_shift_2: float = 0.0,
    pressure_angle: Deg = 20.0,
    helix_angle: Deg = 0.0,
    *,
    internal: bool = False,
) -> Deg:
    """Give the transverse working pressure angle of a pair without backlash.

    Source: ISO 21771:2007, equation 62 (inverted); Elements of Metric Gear Technology, tables 4-4 and 5-1

    inv awt = inv at + 2 tan an (x1 + x2)/(z1 + z2); internal: (x2 - x1)/(z2 - z1)

    Parameters
    ----------
    teeth_1
        Number of teeth of the pinion [-].
    teeth_2
        Number of teeth of the mating gear [-].
    profile_shift_1
        Profile shift factor of the pinion [-].
    profile_shift_2
        Profile shift factor of the mating gear; positive enlarges it [-].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    internal
        Whether the mating gear is internal.

    Raises
    ------
    OutOfRange
        When the shifts bring the gears so close that no working pressure angle exists.
    """
    teeth, shift = _teeth_and_shift(teeth_1, teeth_2, profile_shift_1, profile_shift_2, internal)
    value = involute(transverse_pressure_angle(pressure_angle, helix_angle))
    value += 2.0 * tan(radians(pressure_angle)) * shift / teeth
    check_range(
        "involute of the working pressure angle",
        value,
        0.0,
        inf,
        remedy="Use a larger sum of the profile shifts"
        if not internal
        else "Use a larger profile shift on the internal gear or a smaller one on the pinion",
    )
    return inverse_involute(value)


def reference_centre_distance(
    normal_module: Mm, teeth_1: int, teeth_2: int, helix_angle: Deg = 0.0, *, internal: bool = False
) -> Mm:
    """Give the centre distance of a pair without profile shift.

    Source: ISO 21771:2007 (from memory)

    ad = mn (z1 + z2)/(2 cos b); internal: z2 - z1

    Parameters
    ----------
    normal_module
        Normal module [mm].
    teeth_1
        Number of teeth of the pinion [-].
    teeth_2
        Number of teeth of the mating gear [-].
    helix_angle
        Helix angle at the reference circle [deg].
    internal
        Whether the mating gear is internal.

    Raises
    ------
    OutOfRange
        When an internal gear has no more teeth than its pinion.
    """
    teeth, _ = _teeth_and_shift(teeth_1, teeth_2, 0.0, 0.0, internal)
    return normal_module * teeth / (2.0 * cos(radians(helix_angle)))


def working_centre_distance(
    reference_centre_distance: Mm, transverse_pressure_angle: Deg, working_pressure_angle: Deg
) -> Mm:
    """Give the centre distance at a working pressure angle.

    Source: ISO 21771:2007 (from memory); Elements of Metric Gear Technology, table 4-3

    a = ad cos at / cos awt

    Parameters
    ----------
    reference_centre_distance
        Centre distance without profile shift [mm].
    transverse_pressure_angle
        Transverse pressure angle [deg].
    working_pressure_angle
        Transverse working pressure angle [deg].
    """
    ratio = cos(radians(transverse_pressure_angle)) / cos(radians(working_pressure_angle))
    return reference_centre_distance * ratio


def working_pressure_angle_from_centre_distance(
    reference_centre_distance: Mm, transverse_pressure_angle: Deg, centre_distance: Mm
) -> Deg:
    """Give the transverse working pressure angle at a given centre distance.

    Source: ISO 21771:2007 (from memory); Elements of Metric Gear Technology, table 4-4

    cos awt = ad cos at / a

    Parameters
    ----------
    reference_centre_distance
        Centre distance without profile shift [mm].
    transverse_pressure_angle
        Transverse pressure angle [deg].
    centre_distance
        Working centre distance [mm].

    Raises
    ------
    OutOfRange
        When the base circles would overlap.
    """
    least = reference_centre_distance * cos(radians(transverse_pressure_angle))
    check_range(
        "centre distance", centre_distance, least, inf, unit="mm", remedy="Increase the centre distance"
    )
    return degrees(acos(least / centre_distance))


def profile_shift_sum(
    teeth_1: int,
    teeth_2: int,
    working_pressure_angle: Deg,
    pressure_angle: Deg = 20.0,
    helix_angle: Deg = 0.0,
    *,
    internal: bool = False,
) -> float:
    """Give the sum of the profile shifts (internal: gear less pinion) for a working pressure angle.

    Source: ISO 21771:2007, equation 62

    x1 + x2 = (z1 + z2)(inv awt - inv at)/(2 tan an); internal: x2 - x1 with z2 - z1

    Parameters
    ----------
    teeth_1
        Number of teeth of the pinion [-].
    teeth_2
        Number of teeth of the mating gear [-].
    working_pressure_angle
        Transverse working pressure angle [deg].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    internal
        Whether the mating gear is internal.

    Raises
    ------
    OutOfRange
        When an internal gear has no more teeth than its pinion.
    """
    teeth, _ = _teeth_and_shift(teeth_1, teeth_2, 0.0, 0.0, internal)
    difference = involute(working_pressure_angle)
    difference -= involute(transverse_pressure_angle(pressure_angle, helix_angle))
    return teeth * difference / (2.0 * tan(radians(pressure_angle)))


def centre_distance_factor(centre_distance: Mm, reference_centre_distance: Mm, normal_module: Mm) -> float:
    """Give the centre distance modification in modules.

    Source: Elements of Metric Gear Technology, tables 4-3 and 6-1

    y = (a - ad) / mn

    Parameters
    ----------
    centre_distance
        Working centre distance [mm].
    reference_centre_distance
        Centre distance without profile shift [mm].
    normal_module
        Normal module [mm].
    """
    return (centre_distance - reference_centre_distance) / normal_module


def shortened_addendum(
    normal_module: Mm,
    centre_distance_factor: float,
    mating_profile_shift: float,
    addendum_factor: float = 1.0,
) -> Mm:
    """Give the addendum of an external gear shortened to keep the clearance of its pair.

    Source: Elements of Metric Gear Technology, tables 4-3 and 6-1

    ha1 = (ha* + y - x2) mn

    Parameters
    ----------
    normal_module
        Normal module [mm].
    centre_distance_factor
        Centre distance modification over module [-].
    mating_profile_shift
        Profile shift factor of the mating gear [-].
    addendum_factor
        Addendum over module [-].
    """
    return (addendum_factor + centre_distance_factor - mating_profile_shift) * normal_module


def working_pitch_diameter(base_diameter: Mm, working_pressure_angle: Deg) -> Mm:
    """Give the working pitch diameter.

    Source: ISO 21771:2007 (from memory)

    dw = db / cos awt

    Parameters
    ----------
    base_diameter
        Base diameter [mm].
    working_pressure_angle
        Transverse working pressure angle [deg].
    """
    return base_diameter / cos(radians(working_pressure_angle))


def transverse_contact_ratio(
    tip_diameter_1: Mm,
    base_diameter_1: Mm,
    tip_diameter_2: Mm,
    base_diameter_2: Mm,
    centre_distance: Mm,
    working_pressure_angle: Deg,
    transverse_base_pitch: Mm,
    *,
    internal: bool = False,
) -> float:
    """Give the transverse contact ratio with full flanks.

    Source: ISO 21771:2007 (from memory); Elements of Metric Gear Technology, contact ratio

    ea = [ sqrt(ra1^2 - rb1^2) + sqrt(ra2^2 - rb2^2) - a sin awt ] / pbt; internal:
    [ sqrt(ra1^2 - rb1^2) - sqrt(ra2^2 - rb2^2) + a sin awt ] / pbt

    Parameters
    ----------
    tip_diameter_1
        Tip diameter of the pinion [mm].
    base_diameter_1
        Base diameter of the pinion [mm].
    tip_diameter_2
        Tip diameter of the mating gear [mm].
    base_diameter_2
        Base diameter of the mating gear [mm].
    centre_distance
        Working centre distance [mm].
    working_pressure_angle
        Transverse working pressure angle [deg].
    transverse_base_pitch
        Transverse base pitch [mm].
    internal
        Whether the mating gear is internal.

    Raises
    ------
    OutOfRange
        When a tip diameter is below its base diameter.
    """
    for which, tip, base in (
        ("pinion", tip_diameter_1, base_diameter_1),
        ("mating gear", tip_diameter_2, base_diameter_2),
    ):
        check_range(f"tip diameter of the {which}", tip, base, inf, unit="mm")
    first = sqrt(tip_diameter_1**2 - base_diameter_1**2) / 2.0
    second = sqrt(tip_diameter_2**2 - base_diameter_2**2) / 2.0
    across = centre_distance * sin(radians(working_pressure_angle))
    path = first - second + across if internal else first + second - across
    return path / transverse_base_pitch


def overlap_ratio(face_width: Mm, helix_angle: Deg, normal_module: Mm) -> float:
    """Give the overlap ratio of a helical pair.

    Source: ISO 21771:2007 (from memory); Elements of Metric Gear Technology, contact ratio

    eb = b sin b / (pi mn)

    Parameters
    ----------
    face_width
        Face width in mesh [mm].
    helix_angle
        Helix angle at the reference circle [deg].
    normal_module
        Normal module [mm].
    """
    return face_width * sin(radians(helix_angle)) / (pi * normal_module)


def rack_mounting_distance(
    normal_module: Mm, teeth: int, profile_shift: float, pitch_line_height: Mm, helix_angle: Deg = 0.0
) -> Mm:
    """Give the distance from the back of a rack to the axis of its gear.

    Source: Elements of Metric Gear Technology, table 4-6

    a = z mn/(2 cos b) + H + x mn

    Parameters
    ----------
    normal_module
        Normal module [mm].
    teeth
        Number of teeth [-].
    profile_shift
        Profile shift factor of the gear [-].
    pitch_line_height
        Height of the rack's pitch line over its back [mm].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    reference_radius = teeth * normal_module / (2.0 * cos(radians(helix_angle)))
    return reference_radius + pitch_line_height + profile_shift * normal_module
