"""Flank tolerances of cylindrical gears to both editions of ISO 1328-1."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from math import floor, hypot, sqrt
from typing import Final

from sequencer.errors import OutOfRange
from sequencer.gears._ranges import check_count, check_range
from sequencer.units import Deg, Micrometre, Mm

#: Names under which the two editions of the international standard appear on drawings.
_ISO_1328_NAMES: Final = ("ISO 1328-1", "ISO 1328", "DIN ISO 1328-1", "DIN EN ISO 1328-1", "BS ISO 1328-1")
_ISO_1328_YEARS: Final = {1995: 1995, 2013: 2013}
#: Year of an adoption to the year of the international edition that it adopts.
_ADOPTION_YEARS: Final = {
    "ANSI/AGMA ISO 1328-1": {2013: 2013, 2014: 2013},
    "JIS B 1702-1": {1998: 1995},
    "GB/T 10095.1": {2008: 1995},
}

#: Limits of the size ranges of the 1995 edition (from memory), mm.
DIAMETER_STEPS_1995: Final[tuple[Mm, ...]] = (
    *(5.0, 20.0, 50.0, 125.0, 280.0, 560.0, 1000.0, 1600.0, 2500.0, 4000.0, 6000.0, 8000.0, 10000.0),
)
MODULE_STEPS_1995: Final[tuple[Mm, ...]] = (0.5, 2.0, 3.5, 6.0, 10.0, 16.0, 25.0, 40.0, 70.0)
FACE_WIDTH_STEPS_1995: Final[tuple[Mm, ...]] = (
    *(4.0, 10.0, 20.0, 40.0, 80.0, 160.0, 250.0, 400.0, 650.0, 1000.0),
)


@dataclass(frozen=True)
class ToleranceValues:
    """The nine flank tolerances of one gear.

    Parameters
    ----------
    single_pitch
        Single pitch, plus and minus [um].
    total_cumulative_pitch
        Total cumulative pitch [um].
    profile_slope
        Profile slope, plus and minus [um].
    profile_form
        Profile form [um].
    profile_total
        Total profile [um].
    helix_slope
        Helix slope, plus and minus [um].
    helix_form
        Helix form [um].
    helix_total
        Total helix [um].
    runout
        Runout of the teeth [um].
    """

    single_pitch: Micrometre
    total_cumulative_pitch: Micrometre
    profile_slope: Micrometre
    profile_form: Micrometre
    profile_total: Micrometre
    helix_slope: Micrometre
    helix_form: Micrometre
    helix_total: Micrometre
    runout: Micrometre


@dataclass(frozen=True)
class FlankTolerances:
    """Flank tolerances of one gear to one edition of the standard.

    Parameters
    ----------
    standard
        Name of the standard as given.
    year
        Year of the edition whose formulas were used [-].
    flank_class
        Flank tolerance class, or accuracy grade of the 1995 edition [-].
    rounded
        The tolerances as the standard's tables print them.
    unrounded
        The same before rounding.
    """

    standard: str
    year: int
    flank_class: int
    rounded: ToleranceValues
    unrounded: ToleranceValues

    @property
    def single_pitch(self) -> Micrometre:
        """Single pitch, plus and minus [um]."""
        return self.rounded.single_pitch

    @property
    def total_cumulative_pitch(self) -> Micrometre:
        """Total cumulative pitch [um]."""
        return self.rounded.total_cumulative_pitch

    @property
    def profile_slope(self) -> Micrometre:
        """Profile slope, plus and minus [um]."""
        return self.rounded.profile_slope

    @property
    def profile_form(self) -> Micrometre:
        """Profile form [um]."""
        return self.rounded.profile_form

    @property
    def profile_total(self) -> Micrometre:
        """Total profile [um]."""
        return self.rounded.profile_total

    @property
    def helix_slope(self) -> Micrometre:
        """Helix slope, plus and minus [um]."""
        return self.rounded.helix_slope

    @property
    def helix_form(self) -> Micrometre:
        """Helix form [um]."""
        return self.rounded.helix_form

    @property
    def helix_total(self) -> Micrometre:
        """Total helix [um]."""
        return self.rounded.helix_total

    @property
    def runout(self) -> Micrometre:
        """Runout of the teeth [um]."""
        return self.rounded.runout


def rounded_tolerance(tolerance: Micrometre) -> Micrometre:
    """Round a tolerance as ISO 1328-1 prints it.

    Source: ISO 1328-1:2013, 5.2 (as quoted in public texts); same rule in the 1995 edition

    Above 10 um to whole um, from 5 to 10 um to half um, below 5 um to tenths.

    Parameters
    ----------
    tolerance
        Tolerance before rounding, not negative [um].

    Raises
    ------
    OutOfRange
        When it is negative or not finite.
    """
    check_range("tolerance", tolerance, 0.0, float("inf"), unit="um")
    if tolerance > 10.0:
        return float(floor(tolerance + 0.5))
    if tolerance >= 5.0:
        return floor(tolerance * 2.0 + 0.5) / 2.0
    return floor(tolerance * 10.0 + 0.5) / 10.0


def class_factor(flank_class: int) -> float:
    """Give the factor from class 5 to another flank class.

    Source: ISO 1328-1:2013, 5.3 (as quoted in public texts)

    g = sqrt(2)^(A - 5)

    Parameters
    ----------
    flank_class
        Flank tolerance class [-].
    """
    return float(2.0 ** ((flank_class - 5) / 2.0))


def tolerances_2013(
    reference_diameter: Mm, normal_module: Mm, face_width: Mm, flank_class: int
) -> ToleranceValues:
    """Give the flank tolerances of the 2013 edition, not rounded.

    Source: ISO 1328-1:2013, formulas (5) to (12) as quoted in public texts; runout from its annex

    fpT = (0.001 d + 0.4 mn + 5) g; FpT = (0.002 d + 0.55 sqrt d + 0.7 mn + 12) g;
    fHaT = (0.4 mn + 0.001 d + 4) g; ffaT = (0.55 mn + 5) g; fHbT = (0.05 sqrt d + 0.35 sqrt b + 4) g;
    ffbT = (0.07 sqrt d + 0.45 sqrt b + 4) g; FaT, FbT = root of the squares; FrT = 0.9 FpT

    Parameters
    ----------
    reference_diameter
        Reference diameter, 5 to 15000 [mm].
    normal_module
        Normal module, 0.5 to 70 [mm].
    face_width
        Face width, 4 to 1200 [mm].
    flank_class
        Flank tolerance class, 1 to 11 [-].

    Raises
    ------
    OutOfRange
        When a value is outside the scope of the standard, which forbids extrapolation.
    """
    where, remedy = "ISO 1328-1:2013", "Outside its scope the standard gives no tolerance; agree on a value"
    check_count("flank class", flank_class, 1, 11, where=where, remedy="Choose a class from 1 to 11")
    for name, value, low, high in (
        ("reference diameter", reference_diameter, 5.0, 15000.0),
        ("normal module", normal_module, 0.5, 70.0),
        ("face width", face_width, 4.0, 1200.0),
    ):
        check_range(name, value, low, high, unit="mm", where=where, remedy=remedy)
    g, d, mn = class_factor(flank_class), reference_diameter, normal_module
    profile_slope = (0.4 * mn + 0.001 * d + 4.0) * g
    profile_form = (0.55 * mn + 5.0) * g
    helix_slope = (0.05 * sqrt(d) + 0.35 * sqrt(face_width) + 4.0) * g
    helix_form = (0.07 * sqrt(d) + 0.45 * sqrt(face_width) + 4.0) * g
    cumulative = (0.002 * d + 0.55 * sqrt(d) + 0.7 * mn + 12.0) * g
    return ToleranceValues(
        single_pitch=(0.001 * d + 0.4 * mn + 5.0) * g,
        total_cumulative_pitch=cumulative,
        profile_slope=profile_slope,
        profile_form=profile_form,
        profile_total=hypot(profile_slope, profile_form),
        helix_slope=helix_slope,
        helix_form=helix_form,
        helix_total=hypot(helix_slope, helix_form),
        runout=0.9 * cumulative,
    )


def tolerances_1995(
    reference_diameter: Mm, normal_module: Mm, face_width: Mm, flank_class: int
) -> ToleranceValues:
    """Give the flank tolerances of the 1995 edition, not rounded.

    Source: ISO 1328-1:1995 (from memory); runout ISO 1328-2:1997 (from memory)

    With D, M, B the geometric means of the size ranges, at grade 5 and times g:
    fpt = 0.3 (M + 0.4 sqrt D) + 4; Fp = 0.3 M + 1.25 sqrt D + 7; Fa = 3.2 sqrt M + 0.22 sqrt D + 0.7;
    fHa = 2 sqrt M + 0.14 sqrt D + 0.5; ffa = 2.5 sqrt M + 0.17 sqrt D + 0.5;
    Fb = 0.1 sqrt D + 0.63 sqrt B + 4.2; fHb = ffb = 0.07 sqrt D + 0.45 sqrt B + 3; Fr = 0.8 Fp

    Parameters
    ----------
    reference_diameter
        Reference diameter, 5 to 10000 [mm].
    normal_module
        Normal module, 0.5 to 70 [mm].
    face_width
        Face width, 4 to 1000 [mm].
    flank_class
        Accuracy grade, 0 to 12 [-].

    Raises
    ------
    OutOfRange
        When a value is outside the ranges of the standard.
    """
    check_count(
        "accuracy grade", flank_class, 0, 12, where="ISO 1328-1:1995", remedy="Choose a grade from 0 to 12"
    )
    d = mean_of_range("reference diameter", reference_diameter, DIAMETER_STEPS_1995)
    m = mean_of_range("normal module", normal_module, MODULE_STEPS_1995)
    b = mean_of_range("face width", face_width, FACE_WIDTH_STEPS_1995)
    g = class_factor(flank_class)
    cumulative = (0.3 * m + 1.25 * sqrt(d) + 7.0) * g
    helix = (0.07 * sqrt(d) + 0.45 * sqrt(b) + 3.0) * g
    return ToleranceValues(
        single_pitch=(0.3 * (m + 0.4 * sqrt(d)) + 4.0) * g,
        total_cumulative_pitch=cumulative,
        profile_slope=(2.0 * sqrt(m) + 0.14 * sqrt(d) + 0.5) * g,
        profile_form=(2.5 * sqrt(m) + 0.17 * sqrt(d) + 0.5) * g,
        profile_total=(3.2 * sqrt(m) + 0.22 * sqrt(d) + 0.7) * g,
        helix_slope=helix,
        helix_form=helix,
        helix_total=(0.1 * sqrt(d) + 0.63 * sqrt(b) + 4.2) * g,
        runout=0.8 * cumulative,
    )


def mean_of_range(name: str, value: Mm, steps: tuple[Mm, ...]) -> Mm:
    """Give the geometric mean of the size range; a value on a limit belongs to the lower range.

    Source: ISO 1328-1:1995 (from memory)

    Parameters
    ----------
    name
        What the value is, in the words of the message.
    value
        The size [mm].
    steps
        Limits of the ranges [mm].

    Raises
    ------
    OutOfRange
        When the value is outside all ranges.
    """
    check_range(
        name,
        value,
        steps[0],
        steps[-1],
        unit="mm",
        where="ISO 1328-1:1995",
        remedy="Outside its ranges the standard gives no tolerance; agree on a value",
    )
    upper = max(1, bisect_left(steps, value))
    return sqrt(steps[upper - 1] * steps[upper])


def flank_tolerances(
    standard: str,
    year: int,
    flank_class: int,
    reference_diameter: Mm,
    normal_module: Mm,
    face_width: Mm,
    *,
    teeth: int | None = None,
    helix_angle: Deg = 0.0,
) -> FlankTolerances:
    """Give the flank tolerances that a standard allows, rounded and not rounded.

    Source: ISO 1328-1:2013 and ISO 1328-1:1995, see the two functions that it calls

    Parameters
    ----------
    standard
        Name of the standard, such as "ISO 1328-1".
    year
        Year of the edition [-].
    flank_class
        Flank tolerance class 1 to 11 (2013) or accuracy grade 0 to 12 (1995) [-].
    reference_diameter
        Reference diameter [mm].
    normal_module
        Normal module [mm].
    face_width
        Face width; of one half if double-helical [mm].
    teeth
        Number of teeth, 5 to 1000 in the 2013 edition; None not to check it [-].
    helix_angle
        Helix angle, at most 45 in the 2013 edition [deg].

    Raises
    ------
    OutOfRange
        When the standard or its year is unknown, or a value is outside its scope.
    """
    edition = _edition(standard, year)
    if edition == 2013:
        where = "ISO 1328-1:2013"
        if teeth is not None:
            check_count("number of teeth", teeth, 5, 1000, where=where, remedy="Agree on a tolerance")
        check_range("helix angle", abs(helix_angle), 0.0, 45.0, unit="deg", where=where)
        unrounded = tolerances_2013(reference_diameter, normal_module, face_width, flank_class)
    else:
        unrounded = tolerances_1995(reference_diameter, normal_module, face_width, flank_class)
    rounded = ToleranceValues(**{name: rounded_tolerance(value) for name, value in vars(unrounded).items()})
    return FlankTolerances(standard, edition, flank_class, rounded, unrounded)


def _edition(standard: str, year: int) -> int:
    """Give the year of the international edition whose formulas apply."""
    name = " ".join(str(standard).upper().replace("ISO1328", "ISO 1328").split())
    years = _ISO_1328_YEARS if name in _ISO_1328_NAMES else _ADOPTION_YEARS.get(name)
    if years is None:
        known = ", ".join((*_ISO_1328_NAMES, *_ADOPTION_YEARS))
        raise OutOfRange(
            f"flank tolerance standard {standard!r} is unknown",
            limit=f"known: {known}",
            remedy="Give the class to one of these standards",
        )
    if year not in years:
        known = ", ".join(str(each) for each in sorted(years))
        raise OutOfRange(
            f"edition {year!r} of {standard} is unknown",
            limit=f"known: {known}",
            remedy="Give the year of the edition that the drawing means",
        )
    return years[year]
