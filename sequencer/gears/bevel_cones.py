"""Cones and tooth heights of bevel gears, one equation a function."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, atan2, cos, degrees, inf, radians, sin
from typing import Final

from sequencer.gears._ranges import check_range
from sequencer.units import Deg, Mm


@dataclass(frozen=True)
class ToothProportions:
    """Tooth heights of a bevel gear system over its outer module.

    Parameters
    ----------
    working_depth_factor
        Sum of the two addenda [-].
    whole_depth_factor
        Addendum and dedendum of one gear [-].
    wheel_constant, wheel_quotient
        Addendum of the wheel is constant + quotient / equivalent ratio [-].
    """

    working_depth_factor: float
    whole_depth_factor: float
    wheel_constant: float
    wheel_quotient: float


#: Proportions by system: Elements of Metric Gear Technology, tables 8-3 to 8-6 (from memory).
PROPORTIONS: Final[dict[str, ToothProportions]] = {
    "equal addendum": ToothProportions(2.0, 2.25, 1.0, 0.0),
    "unequal addendum": ToothProportions(2.0, 2.188, 0.54, 0.46),
    "spiral": ToothProportions(1.7, 1.888, 0.46, 0.39),
}


def pitch_cone_angle(teeth: int, mating_teeth: int, shaft_angle: Deg = 90.0) -> Deg:
    """Give the pitch cone angle of one gear of a pair.

    Source: Elements of Metric Gear Technology, section 8

    tan d1 = sin S / (z2/z1 + cos S)

    Parameters
    ----------
    teeth
        Number of teeth of this gear [-].
    mating_teeth
        Number of teeth of the mating gear [-].
    shaft_angle
        Angle between the shafts, above 0 and below 180 [deg].

    Raises
    ------
    OutOfRange
        When the shaft angle is out of range or makes this gear a crown or an internal bevel gear.
    """
    check_range(
        "shaft angle", shaft_angle, 0.0, 180.0, unit="deg", where="bevel pair", open_low=True, open_high=True
    )
    ratio = mating_teeth / teeth + cos(radians(shaft_angle))
    angle = degrees(atan2(sin(radians(shaft_angle)), ratio))
    check_range(
        f"pitch cone angle of the bevel gear with {teeth} teeth",
        angle,
        0.0,
        90.0,
        unit="deg",
        open_low=True,
        open_high=True,
        remedy="Use a smaller shaft angle or another ratio; crown and internal bevel gears are not computed",
    )
    return angle


def outer_cone_distance(outer_module: Mm, teeth: int, pitch_cone_angle: Deg) -> Mm:
    """Give the outer cone distance.

    Source: Elements of Metric Gear Technology, table 8-3

    Re = m z / (2 sin d)

    Parameters
    ----------
    outer_module
        Module at the outer end [mm].
    teeth
        Number of teeth [-].
    pitch_cone_angle
        Pitch cone angle of the same gear [deg].
    """
    return outer_module * teeth / (2.0 * sin(radians(pitch_cone_angle)))


def mean_cone_distance(outer_cone_distance: Mm, face_width: Mm) -> Mm:
    """Give the cone distance in the middle of the face.

    Source: ISO 23509 (from memory)

    Rm = Re - b/2

    Parameters
    ----------
    outer_cone_distance
        Outer cone distance [mm].
    face_width
        Face width along the cone [mm].
    """
    return outer_cone_distance - face_width / 2.0


def inner_cone_distance(outer_cone_distance: Mm, face_width: Mm) -> Mm:
    """Give the cone distance of the inner end of the teeth.

    Source: ISO 23509 (from memory)

    Ri = Re - b

    Parameters
    ----------
    outer_cone_distance
        Outer cone distance [mm].
    face_width
        Face width along the cone [mm].
    """
    return outer_cone_distance - face_width


def mean_pitch_diameter(outer_pitch_diameter: Mm, mean_cone_distance: Mm, outer_cone_distance: Mm) -> Mm:
    """Give the pitch diameter in the middle of the face.

    Source: ISO 23509 (from memory): all circles shrink towards the apex

    dm = de Rm / Re

    Parameters
    ----------
    outer_pitch_diameter
        Pitch diameter at the outer end [mm].
    mean_cone_distance
        Cone distance in the middle of the face [mm].
    outer_cone_distance
        Outer cone distance [mm].
    """
    return outer_pitch_diameter * mean_cone_distance / outer_cone_distance


def mean_normal_module(
    outer_module: Mm, mean_cone_distance: Mm, outer_cone_distance: Mm, spiral_angle: Deg = 0.0
) -> Mm:
    """Give the normal module in the middle of the face.

    Source: ISO 23509 (from memory)

    mmn = met Rm / Re cos bm

    Parameters
    ----------
    outer_module
        Transverse module at the outer end [mm].
    mean_cone_distance
        Cone distance in the middle of the face [mm].
    outer_cone_distance
        Outer cone distance [mm].
    spiral_angle
        Mean spiral angle, 0 for straight teeth [deg].
    """
    return outer_module * mean_cone_distance / outer_cone_distance * cos(radians(spiral_angle))


def virtual_pitch_diameter(outer_pitch_diameter: Mm, pitch_cone_angle: Deg) -> Mm:
    """Give the pitch diameter of the virtual spur gear on the back cone at the outer end.

    Source: Elements of Metric Gear Technology, section 8 (back cone)

    dve = de / cos d

    Parameters
    ----------
    outer_pitch_diameter
        Pitch diameter at the outer end [mm].
    pitch_cone_angle
        Pitch cone angle [deg].
    """
    return outer_pitch_diameter / cos(radians(pitch_cone_angle))


def equivalent_ratio(teeth_1: int, teeth_2: int, cone_angle_1: Deg, cone_angle_2: Deg) -> float:
    """Give the ratio of the virtual spur gears.

    Source: Elements of Metric Gear Technology, table 8-3

    uv = z2 cos d1 / (z1 cos d2)

    Parameters
    ----------
    teeth_1
        Number of teeth of the pinion [-].
    teeth_2
        Number of teeth of the wheel [-].
    cone_angle_1
        Pitch cone angle of the pinion [deg].
    cone_angle_2
        Pitch cone angle of the wheel [deg].
    """
    return teeth_2 * cos(radians(cone_angle_1)) / (teeth_1 * cos(radians(cone_angle_2)))


def wheel_addendum(outer_module: Mm, equivalent_ratio: float, proportions: ToothProportions) -> Mm:
    """Give the outer addendum of the wheel.

    Source: Elements of Metric Gear Technology, tables 8-3 and 8-5

    ha2 = m (c + q / uv), such as 0.54 m + 0.46 m / uv

    Parameters
    ----------
    outer_module
        Module at the outer end [mm].
    equivalent_ratio
        Ratio of the virtual spur gears, 1 or more [-].
    proportions
        Tooth heights of the system.
    """
    return outer_module * (proportions.wheel_constant + proportions.wheel_quotient / equivalent_ratio)


def cone_depth_angle(height: Mm, cone_distance: Mm) -> Deg:
    """Give the angle that a tooth height takes at the cone apex.

    Source: Elements of Metric Gear Technology, table 8-3

    tan theta = h / Re

    Parameters
    ----------
    height
        Addendum or dedendum at the outer end [mm].
    cone_distance
        Outer cone distance [mm].
    """
    return degrees(atan(height / cone_distance))


def virtual_bevel_teeth(teeth: int, pitch_cone_angle: Deg, spiral_angle: Deg = 0.0) -> float:
    """Give the number of teeth of the virtual spur gear.

    Source: Elements of Metric Gear Technology, section 8 (back cone); spiral in the normal section

    zv = z / (cos d cos^3 bm)

    Parameters
    ----------
    teeth
        Number of teeth [-].
    pitch_cone_angle
        Pitch cone angle [deg].
    spiral_angle
        Mean spiral angle, 0 for straight teeth [deg].
    """
    return float(teeth / (cos(radians(pitch_cone_angle)) * cos(radians(spiral_angle)) ** 3))


def largest_bevel_face_width(cone_distance: Mm, outer_module: Mm, *, spiral: bool = False) -> Mm:
    """Give the face width that a bevel gear should not exceed.

    Source: Elements of Metric Gear Technology, table 8-3 (straight), table 8-5 (spiral, from memory)

    b <= the less of Re/3 (spiral 0.3 Re) and 10 m

    Parameters
    ----------
    cone_distance
        Outer cone distance [mm].
    outer_module
        Module at the outer end [mm].
    spiral
        Whether the teeth are spiral.
    """
    return min(cone_distance * 0.3 if spiral else cone_distance / 3.0, 10.0 * outer_module)


def crown_to_back(mounting_distance: Mm, apex_to_crown: Mm) -> Mm:
    """Give the distance from the crown of the tip cone to the locating face.

    Source: derived (mounting distance less apex to crown)

    Parameters
    ----------
    mounting_distance
        Distance from the cone apex to the locating face [mm].
    apex_to_crown
        Axial distance from the cone apex to the crown [mm].

    Raises
    ------
    OutOfRange
        When the locating face would lie before the crown.
    """
    check_range(
        "mounting distance",
        mounting_distance,
        apex_to_crown,
        inf,
        unit="mm",
        open_low=True,
        remedy="The locating face lies behind the crown; increase the mounting distance",
    )
    return mounting_distance - apex_to_crown
