"""Inch involute splines, ANSI B92.1, pressure angles 30, 37.5 and 45 deg; results in mm."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Final, Literal

from sequencer.errors import OutOfRange
from sequencer.gears._ranges import check_count, check_range
from sequencer.gears.spline_data import SplineData
from sequencer.units import MM_PER_INCH, Deg, Mm

Form = Literal["flat side", "flat major", "fillet"]


@dataclass(frozen=True)
class Proportions:
    """Constants of one column of the table of basic dimensions, over diametral pitch.

    Parameters
    ----------
    coarsest, finest
        Range of the diametral pitch [1/in].
    widening
        Least effective space width is (pi/2 + this) / P [-].
    hub_major
        Major diameter of the hub is (N + this) / P [-].
    hub_minor
        Minor diameter of the hub is (N - this) / P [-].
    hub_form
        Form diameter of the hub is (N + this) / P and the clearance [-].
    shaft_minor
        Minor diameter of the shaft is (N - this) / P [-].
    shaft_minor_fine
        The same for pitches of 16 and finer [-].
    """

    coarsest: float
    finest: float
    widening: float
    hub_major: float
    hub_minor: float
    hub_form: float
    shaft_minor: float
    shaft_minor_fine: float


#: Machinery's Handbook, basic dimensions of ANSI B92.1-1970 (R1993); the widening at 45 deg and the
#: fillet root of fine pitches from memory.
PROPORTIONS: Final[dict[tuple[Deg, str], Proportions]] = {
    (30.0, "flat side"): Proportions(2.5, 32.0, 0.0, 1.35, 1.0, 1.0, 1.35, 1.35),
    (30.0, "flat major"): Proportions(3.0, 16.0, 0.0, 1.0, 1.0, 0.8, 1.35, 1.35),
    (30.0, "fillet"): Proportions(2.5, 48.0, 0.0, 1.8, 1.0, 1.0, 1.8, 2.0),
    (37.5, "fillet"): Proportions(2.5, 48.0, 0.1, 1.6, 0.8, 1.0, 1.3, 1.3),
    (45.0, "fillet"): Proportions(10.0, 128.0, 0.2, 1.4, 0.6, 1.0, 1.0, 1.0),
}


def form_clearance(pitch_diameter: Mm) -> Mm:
    """Give the radial form clearance.

    Source: Machinery's Handbook, basic dimensions of ANSI B92.1-1970 (R1993)

    cF = 0.001 D, at least 0.002 in, at most 0.010 in

    Parameters
    ----------
    pitch_diameter
        Pitch diameter [mm].
    """
    return min(max(0.001 * pitch_diameter, 0.002 * MM_PER_INCH), 0.010 * MM_PER_INCH)


def ansi_b92_1(
    diametral_pitch: float,
    teeth: int,
    *,
    internal: bool = False,
    pressure_angle: Deg = 30.0,
    form: Form = "flat side",
) -> SplineData:
    """Give the basic dimensions, in mm, of an ANSI B92.1 spline of pitch P over stub pitch 2P.

    Source: Machinery's Handbook, basic dimensions of ANSI B92.1-1970 (R1993)

    D = N/P; Do = (N + 1)/P; sv = tv = (pi/2 + w)/P, w = 0, 0.1, 0.2 at 30, 37.5, 45 deg

    Parameters
    ----------
    diametral_pitch
        Diametral pitch P, the first number of P/Ps [1/in].
    teeth
        Number of teeth, 6 to 500 [-].
    internal
        Whether it is the hub.
    pressure_angle
        Pressure angle, 30, 37.5 or 45 [deg].
    form
        "flat side" (flat root, side fit), "flat major" (flat root, major diameter fit) or "fillet".

    Raises
    ------
    OutOfRange
        When the profile is unknown or a value outside its range.
    """
    proportions = PROPORTIONS.get((pressure_angle, form))
    if proportions is None:
        known = ", ".join(f"{angle:g} deg {name}" for angle, name in PROPORTIONS)
        raise OutOfRange(
            f"profile {pressure_angle:g} deg {form} is unknown",
            where="ANSI B92.1",
            limit=f"known: {known}",
            remedy="Choose one of these",
        )
    check_range(
        "diametral pitch",
        diametral_pitch,
        proportions.coarsest,
        proportions.finest,
        unit="1/in",
        where=f"ANSI B92.1 {pressure_angle:g} deg {form}",
    )
    check_count("number of teeth", teeth, 6, 500, where="ANSI B92.1")
    module = MM_PER_INCH / diametral_pitch
    major, minor, at_form = _diameters(module, teeth, internal, form, diametral_pitch >= 16.0, proportions)
    side = "INT" if internal else "EXT"
    return SplineData(
        standard="ANSI B92.1",
        designation=f"{side} {form} {diametral_pitch:g}/{2.0 * diametral_pitch:g} {teeth}T "
        f"{pressure_angle:g} deg - ANSI B92.1",
        internal=internal,
        teeth=teeth,
        module=module,
        pressure_angle=pressure_angle,
        profile_shift=0.0,
        major_diameter=major,
        minor_diameter=minor,
        form_diameter=at_form,
        circular_size=module * (pi / 2.0 + proportions.widening),
        pins=_pins(module, internal, pressure_angle),
    )


def _diameters(
    module: Mm, teeth: int, internal: bool, form: str, fine: bool, proportions: Proportions
) -> tuple[Mm, Mm, Mm]:
    """Give major, minor and form diameter."""
    clearance = 2.0 * form_clearance(module * teeth)
    if internal:
        # the rounded corner of a major diameter fit takes another 0.004 in
        corner = 0.004 * MM_PER_INCH if form == "flat major" else 0.0
        return (
            module * (teeth + proportions.hub_major),
            module * (teeth - proportions.hub_minor),
            module * (teeth + proportions.hub_form) - corner + clearance,
        )
    root = proportions.shaft_minor_fine if fine else proportions.shaft_minor
    return (
        module * (teeth + 1.0),
        module * (teeth - root),
        module * (teeth - proportions.hub_minor) - clearance,
    )


def _pins(module: Mm, internal: bool, pressure_angle: Deg) -> tuple[Mm, ...]:
    """Give the pins of the standard (from memory): 1.92/P, in hubs up to 37.5 deg 1.728/P."""
    return ((1.728 if internal and pressure_angle < 45.0 else 1.92) * module,)
