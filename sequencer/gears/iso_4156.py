"""Metric involute splines with side fit, ISO 4156, pressure angles 30, 37.5 and 45 deg."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from math import cbrt, ceil, cos, hypot, pi, radians, sin, sqrt, tan
from typing import Final, Literal

from sequencer.errors import OutOfRange
from sequencer.gears._ranges import check_count, check_range
from sequencer.gears.over_balls import ideal_ball_diameter
from sequencer.gears.spline_data import SplineData, SplineLimits
from sequencer.units import Deg, Micrometre, Mm

Root = Literal["flat", "fillet"]


@dataclass(frozen=True)
class Profile:
    """Proportions of one of the four profiles, in modules.

    Parameters
    ----------
    letter
        Letter of the root in the designation.
    root
        Root diameters are m (z plus or minus this) [-].
    tip
        Tip diameter of the shaft is m (z + this) [-].
    form_height
        Height of the shaft's flank below the pitch circle over module [-].
    """

    letter: str
    root: float
    tip: float
    form_height: float


#: By pressure angle and root: ISO 4156-1 (formulas of a public help page; form height from memory).
PROFILES: Final[dict[tuple[Deg, str], Profile]] = {
    (30.0, "flat"): Profile("P", 1.5, 1.0, 0.6),
    (30.0, "fillet"): Profile("R", 1.8, 1.0, 0.6),
    (37.5, "fillet"): Profile("R", 1.4, 0.9, 0.55),
    (45.0, "fillet"): Profile("R", 1.2, 0.8, 0.5),
}

#: Upper limits of the ranges of the pitch diameter, mm (ISO 286-1, from memory).
_DIAMETER_RANGES: Final = (
    *(3.0, 6.0, 10.0, 18.0, 30.0, 50.0, 80.0, 120.0, 180.0, 250.0, 315.0, 400.0, 500.0, 630.0, 800.0, 1000.0),
)
#: Deviations of these ranges, um below zero (ISO 286-1, from memory).
_DEVIATIONS: Final[dict[str, tuple[int, ...]]] = {
    "d": (20, 30, 40, 50, 65, 80, 100, 120, 145, 170, 190, 210, 230, 260, 290, 320),
    "e": (14, 20, 25, 32, 40, 50, 60, 72, 85, 100, 110, 125, 135, 145, 160, 170),
    "f": (6, 10, 13, 16, 20, 25, 30, 36, 43, 50, 56, 62, 68, 76, 80, 86),
}
#: Standard tolerances of the same ranges, um (ISO 286-1, from memory).
_IT: Final[dict[int, tuple[int, ...]]] = {
    10: (40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250, 280, 320, 360),
    11: (60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400, 440, 500, 560),
    12: (100, 120, 150, 180, 210, 250, 300, 350, 400, 460, 520, 570, 630, 700, 800, 900),
}
#: By class: factors of i(D) and i(E), pitch (slope, constant), profile (same), helix (same), from memory.
_CLASS_FACTORS: Final[dict[int, tuple[float, float, float, float, float, float, float, float]]] = {
    4: (10.0, 40.0, 2.5, 6.3, 1.6, 10.0, 0.8, 4.0),
    5: (16.0, 64.0, 3.55, 9.0, 2.5, 16.0, 1.0, 5.0),
    6: (25.0, 100.0, 5.0, 12.5, 4.0, 25.0, 1.25, 6.3),
    7: (40.0, 160.0, 7.1, 18.0, 6.3, 40.0, 2.0, 10.0),
}
FITS: Final = ("H", "d", "e", "f", "h", "js", "k")
#: One decade of the preferred numbers R40 (ISO 3), by which the standard rounds pins up.
_R40: Final = (
    *(1.0, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.12, 2.24, 2.36, 2.5, 2.65),
    *(2.8, 3.0, 3.15, 3.35, 3.55, 3.75, 4.0, 4.25, 4.5, 4.75, 5.0, 5.3, 5.6, 6.0, 6.3, 6.7, 7.1, 7.5),
    *(8.0, 8.5, 9.0, 9.5),
)


def iso_4156_total_tolerance(pitch_diameter: Mm, module: Mm, tolerance_class: int) -> Micrometre:
    """Give the total tolerance of space width or tooth thickness.

    Source: ISO 4156-1:2005 (from memory; confirmed by its worked examples)

    T + lambda = a i(D) + 4a i(E), a = 10, 16, 25, 40 for classes 4 to 7; i = 0.45 cbrt D + 0.001 D, above
    500 mm 0.004 D + 2.1; E = pi m/2

    Parameters
    ----------
    pitch_diameter
        Pitch diameter [mm].
    module
        Module [mm].
    tolerance_class
        Tolerance class, 4 to 7 [-].

    Raises
    ------
    OutOfRange
        When the class is unknown.
    """
    check_count("tolerance class", tolerance_class, 4, 7, where="ISO 4156")
    size = pi * module / 2.0
    unit = 0.004 * pitch_diameter + 2.1
    if pitch_diameter <= 500.0:
        unit = 0.45 * cbrt(pitch_diameter) + 0.001 * pitch_diameter
    factors = _CLASS_FACTORS[tolerance_class]
    return factors[0] * unit + factors[1] * (0.45 * cbrt(size) + 0.001 * size)


def iso_4156_deviation_allowance(
    pitch_diameter: Mm, module: Mm, tolerance_class: int, length: Mm
) -> Micrometre:
    """Give the share of pitch, profile and helix deviations in the total tolerance.

    Source: ISO 4156-1:2005; Machinery's Handbook, 31st edition, metric module involute splines, table 16

    lambda = 0.6 sqrt(Fp^2 + Fa^2 + Fb^2)

    Parameters
    ----------
    pitch_diameter
        Pitch diameter [mm].
    module
        Module [mm].
    tolerance_class
        Tolerance class, 4 to 7 [-].
    length
        Length of the spline [mm].

    Raises
    ------
    OutOfRange
        When the class is unknown or the length is not above 0.
    """
    check_count("tolerance class", tolerance_class, 4, 7, where="ISO 4156")
    check_range("spline length", length, 0.0, float("inf"), unit="mm", where="ISO 4156", open_low=True)
    _, _, pitch, pitch_0, profile, profile_0, helix, helix_0 = _CLASS_FACTORS[tolerance_class]
    pitch_deviation = pitch * sqrt(pi * pitch_diameter / 2.0) + pitch_0
    profile_deviation = profile * (module + 0.0125 * pitch_diameter) + profile_0
    helix_deviation = helix * sqrt(length) + helix_0
    return 0.6 * hypot(pitch_deviation, profile_deviation, helix_deviation)


def iso_4156_fundamental_deviation(pitch_diameter: Mm, fit: str, total_tolerance: Micrometre) -> Micrometre:
    """Give the fundamental deviation of the effective tooth thickness.

    Source: ISO 4156-1:2005; d, e and f in Machinery's Handbook, 31st edition, metric module involute splines,
    table 17; js and k rounded up to whole um (from memory)

    h and H: 0; js: (T + lambda)/2; k: T + lambda

    Parameters
    ----------
    pitch_diameter
        Pitch diameter, at most 1000 for d, e and f [mm].
    fit
        Letter of the fit.
    total_tolerance
        Total tolerance T + lambda [um].

    Raises
    ------
    OutOfRange
        When the fit is unknown or the pitch diameter too large.
    """
    if fit in ("h", "H"):
        return 0.0
    if fit == "js":
        return float(ceil(total_tolerance / 2.0 - 1e-9))
    if fit == "k":
        return float(ceil(total_tolerance - 1e-9))
    if fit not in _DEVIATIONS:
        raise OutOfRange(
            f"fit {fit!r} is unknown",
            where="ISO 4156",
            limit=f"known: {', '.join(FITS)}",
            remedy="Choose one of these; H is the hub's",
        )
    return -float(_DEVIATIONS[fit][_range_of(pitch_diameter)])


def _range_of(diameter: Mm) -> int:
    check_range("diameter", diameter, 0.0, _DIAMETER_RANGES[-1], unit="mm", where="ISO 4156")
    return bisect_left(_DIAMETER_RANGES, diameter)


def iso_4156_form_diameter(
    module: Mm, teeth: int, pressure_angle: Deg, form_height_factor: float, fundamental_deviation: Mm
) -> Mm:
    """Give the form diameter of a shaft.

    Source: ISO 4156-1:2005 (from memory; confirmed by its worked examples)

    DFE = 2 sqrt( (DB/2)^2 + [ D/2 sin a - (hs - es/(2 tan a)) / sin a ]^2 )

    Parameters
    ----------
    module
        Module [mm].
    teeth
        Number of teeth [-].
    pressure_angle
        Pressure angle [deg].
    form_height_factor
        Height of the flank below the pitch circle over module [-].
    fundamental_deviation
        Fundamental deviation of the tooth thickness [mm].
    """
    angle, diameter = radians(pressure_angle), module * teeth
    depth = form_height_factor * module - 0.5 * fundamental_deviation / tan(angle)
    roll_length = diameter / 2.0 * sin(angle) - depth / sin(angle)
    return 2.0 * hypot(diameter * cos(angle) / 2.0, max(roll_length, 0.0))


def next_r40(diameter: Mm) -> Mm:
    """Give the least preferred number of the series R40 that is not below a diameter.

    Source: ISO 3 series R40 (from memory)

    Parameters
    ----------
    diameter
        Diameter, 0.01 to 1000 [mm].

    Raises
    ------
    OutOfRange
        When the diameter is out of range.
    """
    check_range("diameter", diameter, 0.01, 1000.0, unit="mm")
    preferred = (round(number * 10.0**exponent, 6) for exponent in range(-2, 4) for number in _R40)
    return next(each for each in preferred if each >= diameter * (1.0 - 1e-12))


def iso_4156(
    module: Mm,
    teeth: int,
    *,
    internal: bool = False,
    pressure_angle: Deg = 30.0,
    root: Root = "flat",
    tolerance_class: int | None = None,
    fit: str | None = None,
    length: Mm | None = None,
) -> SplineData:
    """Give the dimensions of an ISO 4156 spline, with limits if a class is given.

    Source: ISO 4156-1:2005 (formulas of a public help page and from memory; confirmed by worked examples)

    D = m z; DEI min = m (z + r), DIE max = m (z - r) + es/tan a with r = 1.5 flat, 1.8, 1.4, 1.2 fillet at
    30, 37.5, 45 deg; DEE max = m (z + t) + es/tan a with t = 1, 0.9, 0.8; E = S = pi m/2; cF = 0.1 m

    Parameters
    ----------
    module
        Module, 0.25 to 10 [mm].
    teeth
        Number of teeth, 6 to 500 [-].
    internal
        Whether it is the hub.
    pressure_angle
        Pressure angle, 30, 37.5 or 45 [deg].
    root
        "flat" (30 deg only) or "fillet".
    tolerance_class
        Tolerance class, 4 to 7; None for basic dimensions only [-].
    fit
        Letter of the fit; None for H of a hub and h of a shaft.
    length
        Length of the spline; None for half the pitch diameter [mm].

    Raises
    ------
    OutOfRange
        When a value is outside the range of the standard.
    """
    check_range("module", module, 0.25, 10.0, unit="mm", where="ISO 4156")
    check_count("number of teeth", teeth, 6, 500, where="ISO 4156")
    profile = _profile(pressure_angle, root)
    letter = fit if fit is not None else ("H" if internal else "h")
    if (letter == "H") != internal:
        raise OutOfRange(
            f"fit {letter!r} on {'a hub' if internal else 'a shaft'}",
            where="ISO 4156",
            limit="H on the hub; d, e, f, h, js, k on the shaft",
            remedy="Correct the fit",
        )
    pitch_diameter = module * teeth
    total = iso_4156_total_tolerance(pitch_diameter, module, tolerance_class or 7)
    deviation = iso_4156_fundamental_deviation(pitch_diameter, letter, total) / 1000.0
    major, minor, form = _diameters(module, teeth, internal, pressure_angle, profile, letter, deviation)
    return SplineData(
        standard="ISO 4156",
        designation=_designation(module, teeth, internal, pressure_angle, profile, tolerance_class, letter),
        internal=internal,
        teeth=teeth,
        module=module,
        pressure_angle=pressure_angle,
        profile_shift=0.0,
        major_diameter=major,
        minor_diameter=minor,
        form_diameter=form,
        circular_size=pi * module / 2.0,
        pins=_pins(module, teeth, internal, pressure_angle),
        limits=None
        if tolerance_class is None
        else _limits(module, teeth, internal, pressure_angle, profile, tolerance_class, letter, length),
    )


def _profile(pressure_angle: Deg, root: str) -> Profile:
    profile = PROFILES.get((pressure_angle, root))
    if profile is None:
        known = ", ".join(f"{angle:g} deg {name}" for angle, name in PROFILES)
        raise OutOfRange(
            f"profile {pressure_angle:g} deg {root} root is unknown",
            where="ISO 4156",
            limit=f"known: {known}",
            remedy="Choose one of these",
        )
    return profile


def _designation(
    module: Mm,
    teeth: int,
    internal: bool,
    pressure_angle: Deg,
    profile: Profile,
    tolerance_class: int | None,
    fit: str,
) -> str:
    side = "INT" if internal else "EXT"
    tail = f" x {tolerance_class}{fit}" if tolerance_class is not None else ""
    return f"{side} {teeth}z x {module:g}m x {pressure_angle:g}{profile.letter}{tail} - ISO 4156"


def _diameters(
    module: Mm,
    teeth: int,
    internal: bool,
    pressure_angle: Deg,
    profile: Profile,
    fit: str,
    deviation: Mm,
) -> tuple[Mm, Mm, Mm]:
    """Give major, minor and form diameter at the basic size."""
    clearance = 2.0 * 0.1 * module
    shaft_form = iso_4156_form_diameter(module, teeth, pressure_angle, profile.form_height, deviation)
    if internal:
        major, form = module * (teeth + profile.root), module * (teeth + profile.tip) + clearance
        return major, shaft_form + clearance, form
    slope = tan(radians(pressure_angle))
    # the shaft's tip stays clear of the hub: js and k do not enlarge it
    at_tip = 0.0 if fit in ("js", "k") else deviation
    major = module * (teeth + profile.tip) + at_tip / slope
    return major, module * (teeth - profile.root) + deviation / slope, shaft_form


def _pins(module: Mm, teeth: int, internal: bool, pressure_angle: Deg) -> tuple[Mm, ...]:
    ideal = ideal_ball_diameter(module, teeth, pressure_angle, internal=internal)
    return (next_r40(ideal),)


def _limits(
    module: Mm,
    teeth: int,
    internal: bool,
    pressure_angle: Deg,
    profile: Profile,
    tolerance_class: int,
    fit: str,
    length: Mm | None,
) -> SplineLimits:
    pitch_diameter, basic = module * teeth, pi * module / 2.0
    slope = tan(radians(pressure_angle))
    total = iso_4156_total_tolerance(pitch_diameter, module, tolerance_class) / 1000.0
    share = (
        iso_4156_deviation_allowance(
            pitch_diameter, module, tolerance_class, pitch_diameter / 2.0 if length is None else length
        )
        / 1000.0
    )
    deviation = iso_4156_fundamental_deviation(pitch_diameter, fit, 1000.0 * total) / 1000.0
    major, minor, _ = _diameters(module, teeth, internal, pressure_angle, profile, fit, deviation)
    at_root = iso_4156_total_tolerance(pitch_diameter, module, 7) / 1000.0 / slope
    grade = 10 if module <= 0.75 else 11 if module < 2.0 else 12
    at_tip = _IT[grade][_range_of(minor if internal else major)] / 1000.0
    if internal:
        return SplineLimits(
            effective_upper=basic + total - share,
            effective_lower=basic,
            actual_upper=basic + total,
            actual_lower=basic + share,
            major_upper=major + at_root,
            major_lower=major,
            minor_upper=minor + at_tip,
            minor_lower=minor,
        )
    upper = basic + deviation
    return SplineLimits(
        effective_upper=upper,
        effective_lower=upper - total + share,
        actual_upper=upper - share,
        actual_lower=upper - total,
        major_upper=major,
        major_lower=major - at_tip,
        minor_upper=minor,
        minor_lower=minor - at_root,
    )
