"""Limits of fits after ISO 286 for nominal sizes to 3150 mm.

Standard tolerances IT1 to IT16 are the standard's table, not its formula. Fundamental deviations are
given for the letters used in gear blanks and bores; other letters are refused.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from typing import Final

from sequencer.errors import OutOfRange
from sequencer.units import Micrometre, Mm

_LARGEST: Final[Mm] = 3150.0

#: Upper ends of the main steps of nominal size [mm].
_STEPS: Final = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500,
                 630, 800, 1000, 1250, 1600, 2000, 2500, 3150)  # fmt: skip

#: Standard tolerances [um], one row a grade, one column a main step.
_IT: Final[dict[int, tuple[float, ...]]] = {
    1: (0.8, 1, 1, 1.2, 1.5, 1.5, 2, 2.5, 3.5, 4.5, 6, 7, 8, 9, 10, 11, 13, 15, 18, 22, 26),
    2: (1.2, 1.5, 1.5, 2, 2.5, 2.5, 3, 4, 5, 7, 8, 9, 10, 11, 13, 15, 18, 21, 25, 30, 36),
    3: (2, 2.5, 2.5, 3, 4, 4, 5, 6, 8, 10, 12, 13, 15, 16, 18, 21, 24, 29, 35, 41, 50),
    4: (3, 4, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20, 22, 25, 28, 33, 39, 46, 55, 68),
    5: (4, 5, 6, 8, 9, 11, 13, 15, 18, 20, 23, 25, 27, 32, 36, 40, 47, 55, 65, 78, 96),
    6: (6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40, 44, 50, 56, 66, 78, 92, 110, 135),
    7: (10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63, 70, 80, 90, 105, 125, 150, 175, 210),
    8: (14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97, 110, 125, 140, 165, 195, 230, 280, 330),
    9: (25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155, 175, 200, 230, 260, 310, 370, 440, 540),
    10: (40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250, 280, 320, 360, 420, 500, 600, 700, 860),
    11: (60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400,
         440, 500, 560, 660, 780, 920, 1100, 1350),
    12: (100, 120, 150, 180, 210, 250, 300, 350, 400, 460, 520, 570, 630,
         700, 800, 900, 1050, 1250, 1500, 1750, 2100),
    13: (140, 180, 220, 270, 330, 390, 460, 540, 630, 720, 810, 890, 970,
         1100, 1250, 1400, 1650, 1950, 2300, 2800, 3300),
    14: (250, 300, 360, 430, 520, 620, 740, 870, 1000, 1150, 1300, 1400, 1550,
         1750, 2000, 2300, 2600, 3100, 3700, 4400, 5400),
    15: (400, 480, 580, 700, 840, 1000, 1200, 1400, 1600, 1850, 2100, 2300, 2500,
         2800, 3200, 3600, 4200, 5000, 6000, 7000, 8600),
    16: (600, 750, 900, 1100, 1300, 1600, 1900, 2200, 2500, 2900, 3200, 3600, 4000,
         4400, 5000, 5600, 6600, 7800, 9200, 11000, 13500),
}  # fmt: skip

#: Upper deviation of shafts without its minus sign, -es [um], one column a main step.
_BELOW: Final[dict[str, tuple[int, ...]]] = {
    "d": (20, 30, 40, 50, 65, 80, 100, 120, 145, 170, 190, 210, 230,
          260, 290, 320, 350, 390, 430, 480, 520),
    "e": (14, 20, 25, 32, 40, 50, 60, 72, 85, 100, 110, 125, 135,
          145, 160, 170, 195, 220, 240, 260, 290),
    "f": (6, 10, 13, 16, 20, 25, 30, 36, 43, 50, 56, 62, 68, 76, 80, 86, 98, 110, 120, 130, 145),
    "g": (2, 4, 5, 6, 7, 9, 10, 12, 14, 15, 17, 18, 20, 22, 24, 26, 28, 30, 32, 34, 38),
    "h": (0,) * 21,
}  # fmt: skip

#: Lower deviation of shafts, ei [um], one column a main step; k holds for grades 4 to 7 only.
_ABOVE: Final[dict[str, tuple[int, ...]]] = {
    "k": (0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5, 0, 0, 0, 0, 0, 0, 0, 0),
    "m": (2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23, 26, 30, 34, 40, 48, 58, 68, 76),
    "n": (4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40, 44, 50, 56, 66, 78, 92, 110, 135),
    "p": (6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68, 78, 88, 100, 120, 140, 170, 195, 240),
}  # fmt: skip

#: Upper ends of the finer steps of nominal size that r and s use [mm].
_FINE_STEPS: Final = (3, 6, 10, 18, 30, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315, 355,
                      400, 450, 500, 560, 630, 710, 800, 900, 1000, 1120, 1250, 1400, 1600, 1800, 2000,
                      2240, 2500, 2800, 3150)  # fmt: skip

_ABOVE_FINE: Final[dict[str, tuple[int, ...]]] = {
    "r": (10, 15, 19, 23, 28, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84, 94, 98, 108, 114, 126, 132,
          150, 155, 175, 185, 210, 220, 250, 260, 300, 330, 370, 400, 440, 460, 550, 580),
    "s": (14, 19, 23, 28, 35, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140, 158, 170, 190, 208, 232, 252,
          280, 310, 340, 380, 430, 470, 520, 580, 640, 720, 820, 920, 1000, 1100, 1250, 1400),
}  # fmt: skip

SHAFTS: Final = ("d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "r", "s")
HOLES: Final = tuple(letter.upper() for letter in SHAFTS)


def standard_tolerance(grade: int, size: Mm) -> Micrometre:
    """Standard tolerance IT of a grade for a nominal size.

    Source: ISO 286-1:2010, table 1, from memory; 40 values confirmed by the standard's formula.

    Parameters
    ----------
    grade
        Grade from 1 to 16 [-].
    size
        Nominal size above 0 to 3150 [mm].

    Raises
    ------
    OutOfRange
        When the grade or size is outside the table.
    """
    _check_size(size)
    if grade not in _IT:
        raise OutOfRange(
            f"grade IT{grade}", where="ISO 286", limit="IT1 to IT16", remedy="Give a grade from 1 to 16"
        )
    return float(_IT[grade][bisect_left(_STEPS, size)])


def limits(fit_class: str, size: Mm) -> tuple[Micrometre, Micrometre]:
    """Upper and lower limit deviation of a tolerance class for a nominal size.

    Source: ISO 286-1:2010, tables 1 to 5 and the rules for holes of its clause 4.3.2.5, from memory.

    Parameters
    ----------
    fit_class
        Letter and grade, such as "H7" (hole) or "js6" (shaft) [-].
    size
        Nominal size above 0 to 3150 [mm].

    Raises
    ------
    OutOfRange
        When the class cannot be read, the letter is not held here, or grade or size is outside the tables.
    """
    letter, grade = _split(fit_class)
    tolerance = standard_tolerance(grade, size)
    if letter in ("js", "JS"):
        return tolerance / 2, -tolerance / 2
    if letter.islower():
        if letter in _BELOW:
            upper = -_below(letter, size)
            return upper, upper - tolerance
        lower = _above(letter, grade, size)
        return lower + tolerance, lower
    if letter.lower() in _BELOW:
        lower = _below(letter.lower(), size)
        return lower + tolerance, lower
    upper = _hole_upper(letter, grade, size)
    return upper, upper - tolerance


def _check_size(size: Mm) -> None:
    if not 0 < size <= _LARGEST:
        raise OutOfRange(
            f"nominal size {size:g} mm",
            where="ISO 286",
            limit="above 0 to 3150 mm",
            remedy="Give upper and lower limits in numbers instead",
        )


def _split(fit_class: str) -> tuple[str, int]:
    match = re.fullmatch(r"\s*([A-Za-z]{1,2})\s?(\d{1,2})\s*", fit_class)
    if match is None:
        raise OutOfRange(
            f'class "{fit_class}"',
            where="ISO 286",
            limit='letter and grade such as "H7" or "js6"',
            remedy="Write the class this way",
        )
    letter, grade = match[1], int(match[2])
    if letter not in SHAFTS and letter not in HOLES:
        raise OutOfRange(
            f'letter "{letter}" of class "{fit_class}" is not held',
            where="ISO 286",
            limit=f"shafts {', '.join(SHAFTS)}; holes {', '.join(HOLES)}",
            remedy="Take one of these or give upper and lower limits in numbers",
        )
    return letter, grade


def _below(letter: str, size: Mm) -> float:
    """Distance of the tolerance zone of a shaft d to h below the zero line."""
    return float(_BELOW[letter][bisect_left(_STEPS, size)])


def _above(letter: str, grade: int, size: Mm) -> float:
    """Lower deviation of a shaft k to s."""
    if letter == "k" and not 4 <= grade <= 7:
        return 0.0
    if letter in _ABOVE:
        return float(_ABOVE[letter][bisect_left(_STEPS, size)])
    return float(_ABOVE_FINE[letter][bisect_left(_FINE_STEPS, size)])


def _hole_upper(letter: str, grade: int, size: Mm) -> float:
    """Upper deviation of a hole K to S, -ei of the shaft plus delta for fine grades of 3 to 500 mm."""
    if letter == "M" and grade == 6 and 250 < size <= 315:
        return -9.0  # the one exception of the standard
    if letter == "K" and grade > 8 and 3 < size <= 500:
        raise OutOfRange(
            f"class K{grade} for {size:g} mm",
            where="ISO 286",
            limit="K to grade 8 between 3 and 500 mm",
            remedy="Take a finer grade or JS",
        )
    if letter == "N" and grade > 8 and 3 < size <= 500:
        return 0.0
    finest = 8 if letter in "KMN" else 7
    # K counts from the shaft k of grades 4 to 7 whatever its own grade is.
    base = _above(letter.lower(), 7 if letter == "K" else grade, size)
    if 3 < size <= 500 and 3 <= grade <= finest:
        return -base + standard_tolerance(grade, size) - standard_tolerance(grade - 1, size)
    return -base
