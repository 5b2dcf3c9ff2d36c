"""Span over several teeth of an external gear (base tangent length)."""

from __future__ import annotations

from math import cos, floor, hypot, pi, radians, sin, sqrt, tan

from sequencer.errors import OutOfRange
from sequencer.gears.diameters import base_helix_angle
from sequencer.gears.involute import involute
from sequencer.gears.rack import transverse_pressure_angle
from sequencer.units import Deg, Mm


def span(
    normal_module: Mm,
    teeth: int,
    teeth_spanned: int,
    pressure_angle: Deg = 20.0,
    helix_angle: Deg = 0.0,
    profile_shift: float = 0.0,
    thickness_allowance: Mm = 0.0,
) -> Mm:
    """Give the span over a number of teeth.

    Source: ISO 21771:2007 (from memory); Elements of Metric Gear Technology, table 10-7

    Wk = mn cos an (pi (k - 1/2) + z inv at) + 2 x mn sin an + Esn cos an

    Parameters
    ----------
    normal_module
        Normal module [mm].
    teeth
        Number of teeth [-].
    teeth_spanned
        Number of teeth between the anvils [-].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    profile_shift
        Profile shift factor [-].
    thickness_allowance
        Allowance of the normal tooth thickness, negative thins the tooth [mm].
    """
    cosine = cos(radians(pressure_angle))
    turns = pi * (teeth_spanned - 0.5)
    turns += teeth * involute(transverse_pressure_angle(pressure_angle, helix_angle))
    widening = 2.0 * profile_shift * normal_module * sin(radians(pressure_angle))
    return normal_module * cosine * turns + widening + thickness_allowance * cosine


def ideal_teeth_spanned(
    teeth: int, pressure_angle: Deg = 20.0, helix_angle: Deg = 0.0, profile_shift: float = 0.0
) -> float:
    """Give the number of teeth, not rounded, whose span touches the flanks at the shifted diameter.

    Source: Elements of Metric Gear Technology, table 10-7 (from memory)

    k = z K + 1/2, K = [ (1 + sin^2 b / q) sqrt(q (1/cos b + 2f)^2 - 1) - inv at - 2f tan an ] / pi with
    f = x/z and q = cos^2 b + tan^2 an

    Parameters
    ----------
    teeth
        Number of teeth [-].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    profile_shift
        Profile shift factor [-].

    Raises
    ------
    OutOfRange
        When the shifted diameter lies inside the base circle.
    """
    beta, slope = radians(helix_angle), tan(radians(pressure_angle))
    share = profile_shift / teeth
    q = cos(beta) ** 2 + slope**2
    under_root = q * (1.0 / cos(beta) + 2.0 * share) ** 2 - 1.0
    if not under_root >= 0.0 or 1.0 / cos(beta) + 2.0 * share <= 0.0:
        raise OutOfRange(
            f"profile shift {profile_shift:g} puts the middle of the flank inside the base circle",
            limit="no involute exists inside the base circle",
            remedy="Measure over balls instead of the span",
        )
    roll = (1.0 + sin(beta) ** 2 / q) * sqrt(under_root)
    alpha_t = transverse_pressure_angle(pressure_angle, helix_angle)
    return float(teeth * (roll - involute(alpha_t) - 2.0 * share * slope) / pi + 0.5)


def teeth_spanned(
    teeth: int, pressure_angle: Deg = 20.0, helix_angle: Deg = 0.0, profile_shift: float = 0.0
) -> int:
    """Give the whole number of teeth, two or more, whose span touches the flanks near their middle.

    Source: Elements of Metric Gear Technology, table 10-7 (from memory); at least two teeth: derived

    Parameters
    ----------
    teeth
        Number of teeth [-].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    profile_shift
        Profile shift factor [-].

    Raises
    ------
    OutOfRange
        When the shifted diameter lies inside the base circle.
    """
    return max(2, floor(ideal_teeth_spanned(teeth, pressure_angle, helix_angle, profile_shift) + 0.5))


def span_contact_diameter(span: Mm, base_diameter: Mm, base_helix_angle: Deg) -> Mm:
    """Give the diameter at which both anvils touch the flanks.

    Source: derived (tangents of equal length on both sides of the base cylinder)

    dM = sqrt( db^2 + (Wk cos bb)^2 )

    Parameters
    ----------
    span
        Span over the teeth [mm].
    base_diameter
        Base diameter [mm].
    base_helix_angle
        Helix angle on the base cylinder [deg].
    """
    return hypot(base_diameter, span * cos(radians(base_helix_angle)))


def least_span_face_width(span: Mm, helix_angle: Deg, pressure_angle: Deg = 20.0) -> Mm:
    """Give the face width below which one anvil of a helical span has no tooth to touch.

    Source: Elements of Metric Gear Technology, section 10 (from memory)

    b > Wk sin bb

    Parameters
    ----------
    span
        Span over the teeth [mm].
    helix_angle
        Helix angle at the reference circle [deg].
    pressure_angle
        Normal pressure angle [deg].
    """
    return span * sin(radians(base_helix_angle(helix_angle, pressure_angle)))


def safe_span_face_width(span: Mm, helix_angle: Deg, pressure_angle: Deg = 20.0) -> Mm:
    """Give the face width with which the anvils of a helical span rest on the flanks safely.

    Source: ISO 21771:2007 (from memory)

    b >= Wk sin bb + bM cos bb, bM = 1.2 + 0.018 Wk

    Parameters
    ----------
    span
        Span over the teeth [mm].
    helix_angle
        Helix angle at the reference circle [deg].
    pressure_angle
        Normal pressure angle [deg].
    """
    angle = radians(base_helix_angle(helix_angle, pressure_angle))
    return span * sin(angle) + (1.2 + 0.018 * span) * cos(angle)


def profile_shift_from_span(
    normal_module: Mm,
    teeth: int,
    teeth_spanned: int,
    span: Mm,
    pressure_angle: Deg = 20.0,
    helix_angle: Deg = 0.0,
) -> float:
    """Give the profile shift factor of a gear whose span was measured.

    Source: derived (inverse of the span)

    x = [ Wk/mn - cos an (pi (k - 1/2) + z inv at) ] / (2 sin an)

    Parameters
    ----------
    normal_module
        Normal module [mm].
    teeth
        Number of teeth [-].
    teeth_spanned
        Number of teeth between the anvils [-].
    span
        Measured span [mm].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    turns = pi * (teeth_spanned - 0.5)
    turns += teeth * involute(transverse_pressure_angle(pressure_angle, helix_angle))
    rest = span / normal_module - cos(radians(pressure_angle)) * turns
    return rest / (2.0 * sin(radians(pressure_angle)))
