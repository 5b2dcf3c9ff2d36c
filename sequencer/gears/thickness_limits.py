"""Limits of the tooth thickness: from a backlash, or by the series of a system of gear fits."""

from __future__ import annotations

from bisect import bisect_left
from math import cos, inf, radians, sin
from typing import Final

from sequencer.errors import OutOfRange
from sequencer.gears._ranges import check_range
from sequencer.units import Deg, Mm

#: Upper limits of the ranges of the reference diameter of DIN 3967 (from memory) [mm].
DIN_3967_DIAMETERS: Final[tuple[Mm, ...]] = (
    *(10.0, 50.0, 125.0, 280.0, 560.0, 1000.0, 1600.0, 2500.0, 4000.0, 6300.0, 10000.0),
)
#: Upper allowances by series in these ranges, um below zero (DIN 3967:1978, table 1, from memory).
DIN_3967_ALLOWANCES: Final[dict[str, tuple[int, ...]]] = {
    "a": (100, 135, 180, 250, 330, 450, 600, 820, 1100, 1500, 2000),
    "ab": (85, 110, 150, 200, 280, 370, 500, 680, 920, 1250, 1650),
    "b": (70, 95, 125, 170, 230, 310, 420, 560, 760, 1020, 1350),
    "bc": (58, 75, 105, 140, 190, 260, 340, 460, 620, 840, 1150),
    "c": (48, 65, 85, 115, 155, 210, 290, 390, 520, 700, 940),
    "cd": (40, 54, 70, 95, 130, 175, 240, 320, 430, 580, 780),
    "d": (33, 44, 60, 80, 110, 145, 200, 270, 360, 480, 640),
    "e": (22, 30, 40, 56, 75, 100, 135, 180, 250, 330, 450),
    "f": (10, 14, 19, 26, 35, 48, 64, 85, 115, 155, 210),
    "g": (5, 7, 9, 12, 17, 22, 30, 41, 56, 75, 100),
    "h": (0,) * 11,
}
#: Tolerances by series in these ranges, um (DIN 3967:1978, table 2, from memory).
DIN_3967_TOLERANCES: Final[dict[int, tuple[int, ...]]] = {
    21: (3, 5, 6, 8, 10, 12, 16, 20, 25, 30, 40),
    22: (5, 8, 10, 12, 16, 20, 25, 30, 40, 50, 60),
    23: (8, 12, 16, 20, 25, 30, 40, 50, 60, 80, 100),
    24: (12, 20, 25, 30, 40, 50, 60, 80, 100, 130, 160),
    25: (20, 30, 40, 50, 60, 80, 100, 130, 160, 200, 250),
    26: (30, 50, 60, 80, 100, 130, 160, 200, 250, 300, 400),
    27: (50, 80, 100, 130, 160, 200, 250, 300, 400, 500, 600),
    28: (80, 130, 160, 200, 250, 300, 400, 500, 600, 800, 1000),
    29: (130, 200, 250, 300, 400, 500, 600, 800, 1000, 1300, 1600),
    30: (200, 300, 400, 500, 600, 800, 1000, 1300, 1600, 2000, 2400),
}
_DIN: Final = "DIN 3967"


def din_3967_range(reference_diameter: Mm) -> tuple[Mm, Mm]:
    """Give the range of DIN 3967 that a reference diameter lies in, the upper limit included.

    Source: DIN 3967:1978 (from memory)

    Parameters
    ----------
    reference_diameter
        Reference diameter, at most 10000 [mm].

    Raises
    ------
    OutOfRange
        When the diameter is beyond the tables.
    """
    at = _range_at(reference_diameter)
    return (DIN_3967_DIAMETERS[at - 1] if at else 0.0), DIN_3967_DIAMETERS[at]


def _range_at(reference_diameter: Mm) -> int:
    check_range(
        "reference diameter",
        reference_diameter,
        0.0,
        DIN_3967_DIAMETERS[-1],
        unit="mm",
        where=_DIN,
        remedy="Give the allowances of the tooth thickness themselves",
        open_low=True,
    )
    return bisect_left(DIN_3967_DIAMETERS, reference_diameter)


def din_3967_allowance(series: str, reference_diameter: Mm) -> Mm:
    """Give the upper allowance of the normal tooth thickness of a series, 0 or below.

    Source: DIN 3967:1978, table 1 (from memory)

    Parameters
    ----------
    series
        Series of the allowances, "a" to "h".
    reference_diameter
        Reference diameter [mm].

    Raises
    ------
    OutOfRange
        When the series is unknown or the diameter beyond the table.
    """
    if series not in DIN_3967_ALLOWANCES:
        raise OutOfRange(
            f"series of tooth thickness allowances {series!r} is unknown",
            where=_DIN,
            limit=f"known: {', '.join(DIN_3967_ALLOWANCES)}",
            remedy="Choose one of these",
        )
    um = DIN_3967_ALLOWANCES[series][_range_at(reference_diameter)]
    return -um / 1000.0 if um else 0.0


def din_3967_tolerance(series: int, reference_diameter: Mm) -> Mm:
    """Give the width of the tolerance of the normal tooth thickness of a series.

    Source: DIN 3967:1978, table 2 (from memory)

    Parameters
    ----------
    series
        Series of the tolerances, 21 to 30 [-].
    reference_diameter
        Reference diameter [mm].

    Raises
    ------
    OutOfRange
        When the series is unknown or the diameter beyond the table.
    """
    if series not in DIN_3967_TOLERANCES:
        raise OutOfRange(
            f"series of tooth thickness tolerances {series} is unknown",
            where=_DIN,
            limit="known: 21 to 30",
            remedy="Choose one of these",
        )
    return DIN_3967_TOLERANCES[series][_range_at(reference_diameter)] / 1000.0


def recommended_least_backlash(centre_distance: Mm, normal_module: Mm) -> Mm:
    """Give the normal backlash below which industrial gears of steel and iron should not go.

    Source: ISO/TR 10064-2:1996, annex (formula as quoted in public texts; table for modules 1.5 to 18)

    jbn = 2/3 (0.06 + 0.0005 a + 0.03 mn)

    Parameters
    ----------
    centre_distance
        Working centre distance [mm].
    normal_module
        Normal module [mm].

    Raises
    ------
    OutOfRange
        When one of them is not above 0.
    """
    for name, value in (("centre distance", centre_distance), ("normal module", normal_module)):
        check_range(name, value, 0.0, inf, unit="mm", where="ISO/TR 10064-2", open_low=True)
    return 2.0 / 3.0 * (0.06 + 0.0005 * centre_distance + 0.03 * normal_module)


def normal_backlash_from_circumferential(
    circumferential_backlash: Mm, pressure_angle: Deg, base_helix_angle: Deg = 0.0
) -> Mm:
    """Give the normal backlash of a backlash along the circumference.

    Source: ISO 21771:2007 (from memory)

    jbn = jwt cos awt cos bb, at the working pitch circle; at the reference circle with at

    Parameters
    ----------
    circumferential_backlash
        Backlash along the circumference [mm].
    pressure_angle
        Transverse pressure angle at that circle [deg].
    base_helix_angle
        Helix angle on the base cylinder [deg].
    """
    return circumferential_backlash * cos(radians(pressure_angle)) * cos(radians(base_helix_angle))


def allowance_from_backlash(normal_backlash: Mm, share: float, pressure_angle: Deg = 20.0) -> Mm:
    """Give the upper allowance of the normal tooth thickness by which a gear makes its share of a backlash.

    Source: ISO/TR 10064-2:1996 (from memory): jbn = |Esns1 + Esns2| cos an

    Esns = - s jbn / cos an

    Parameters
    ----------
    normal_backlash
        Normal backlash of the pair [mm].
    share
        Share that this gear makes, 0 to 1 [-].
    pressure_angle
        Normal pressure angle [deg].

    Raises
    ------
    OutOfRange
        When the share is outside 0 to 1 or the backlash below 0.
    """
    check_range("share of the backlash", share, 0.0, 1.0)
    check_range("normal backlash", normal_backlash, 0.0, inf, unit="mm")
    return -share * normal_backlash / cos(radians(pressure_angle)) if share and normal_backlash else 0.0


def normal_backlash_from_allowance(allowance: Mm, pressure_angle: Deg = 20.0) -> Mm:
    """Give the normal backlash that an allowance of one gear makes.

    Source: ISO/TR 10064-2:1996 (from memory): jbn = |Esns1 + Esns2| cos an

    jbn = - Esn cos an

    Parameters
    ----------
    allowance
        Allowance of the normal tooth thickness, below 0 where it thins the tooth [mm].
    pressure_angle
        Normal pressure angle [deg].
    """
    return -allowance * cos(radians(pressure_angle))


def normal_backlash_from_shift(spare_shift: float, normal_module: Mm, pressure_angle: Deg = 20.0) -> Mm:
    """Give the normal backlash of a pair whose profile shifts fall short of those without backlash.

    Source: derived (a profile shift x thickens the tooth by 2 x mn tan an along the reference circle)

    jbn = 2 mn sin an (shift without backlash - shift)

    Parameters
    ----------
    spare_shift
        By how much the profile shifts fall short [-].
    normal_module
        Normal module [mm].
    pressure_angle
        Normal pressure angle [deg].
    """
    return 2.0 * normal_module * sin(radians(pressure_angle)) * spare_shift
