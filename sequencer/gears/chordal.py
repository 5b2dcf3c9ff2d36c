"""Chordal thickness of a tooth at the reference circle and the height at which it is measured."""

from __future__ import annotations

from math import cos, inf, pi, sin

from sequencer.gears._ranges import check_range
from sequencer.units import Mm


def half_thickness_angle(normal_tooth_thickness: Mm, virtual_teeth: float, normal_module: Mm) -> float:
    """Give half the angle in radians that the tooth takes on the virtual reference circle.

    Source: Elements of Metric Gear Technology, tables 10-1 to 10-4

    theta = sn / (zv mn)

    Parameters
    ----------
    normal_tooth_thickness
        Arc thickness on the reference circle in the normal section [mm].
    virtual_teeth
        Number of teeth of the virtual spur gear [-].
    normal_module
        Normal module [mm].

    Raises
    ------
    OutOfRange
        When the tooth would take half of the circle or more.
    """
    angle = normal_tooth_thickness / (virtual_teeth * normal_module)
    check_range("half angle of the tooth", angle, -inf, pi / 2.0, unit="rad", open_high=True)
    return angle


def chordal_thickness(normal_tooth_thickness: Mm, virtual_teeth: float, normal_module: Mm) -> Mm:
    """Give the chordal thickness in the normal section.

    Source: Elements of Metric Gear Technology, tables 10-1 to 10-4

    sc = zv mn sin theta

    Parameters
    ----------
    normal_tooth_thickness
        Arc thickness on the reference circle in the normal section [mm].
    virtual_teeth
        Number of teeth of the virtual spur gear [-].
    normal_module
        Normal module [mm].

    Raises
    ------
    OutOfRange
        When the tooth would take half of the circle or more.
    """
    angle = half_thickness_angle(normal_tooth_thickness, virtual_teeth, normal_module)
    return virtual_teeth * normal_module * sin(angle)


def chordal_height(normal_tooth_thickness: Mm, virtual_teeth: float, normal_module: Mm, addendum: Mm) -> Mm:
    """Give the height of the tip over the chord.

    Source: Elements of Metric Gear Technology, tables 10-1 to 10-4

    hc = zv mn / 2 (1 - cos theta) + ha

    Parameters
    ----------
    normal_tooth_thickness
        Arc thickness on the reference circle in the normal section [mm].
    virtual_teeth
        Number of teeth of the virtual spur gear [-].
    normal_module
        Normal module [mm].
    addendum
        Height of the tip over the reference circle [mm].

    Raises
    ------
    OutOfRange
        When the tooth would take half of the circle or more.
    """
    angle = half_thickness_angle(normal_tooth_thickness, virtual_teeth, normal_module)
    return virtual_teeth * normal_module / 2.0 * (1.0 - cos(angle)) + addendum
