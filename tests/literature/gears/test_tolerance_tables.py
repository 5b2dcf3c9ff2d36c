"""Flank tolerances against published values of both editions of ISO 1328-1.

2013 edition: class 6 example recalled; rounding rule (clause 5.2) seen; two evaluations of its formulas
are our own and say so. 1995 edition: tables recalled (as in its identical national adoptions). Coarse
cells above module 10 whose recalled values disagree with the formula are left out. Values in um, exact.
Tooth thickness: DIN 3967 and the least backlash of ISO/TR 10064-2.
"""

from __future__ import annotations

import pytest

from sequencer.gears import flank_tolerances
from sequencer.gears.thickness_limits import (
    din_3967_allowance,
    din_3967_tolerance,
    recommended_least_backlash,
)
from sequencer.gears.tolerances import rounded_tolerance


@pytest.mark.parametrize(
    ("value", "rounded"), [(12.49, 12.0), (10.4, 10.0), (7.3, 7.5), (4.96, 5.0), (4.94, 4.9)]
)
def test_rounding(value: float, rounded: float) -> None:
    """ISO 1328-1:2013, 5.2."""
    assert rounded_tolerance(value) == rounded


def test_2013_class_6() -> None:
    """Class 6, mn 3, z 40, b 30: 8.94 um becomes 9.0 in the half-um band, 28.8 becomes 29."""
    found = flank_tolerances("ISO 1328-1", 2013, 6, 120.0, 3.0, 30.0, teeth=40)
    assert found.single_pitch == 9.0
    assert found.unrounded.single_pitch == pytest.approx(8.94, abs=0.005)
    assert found.total_cumulative_pitch == 29.0
    assert found.unrounded.total_cumulative_pitch == pytest.approx(28.8, abs=0.005)
    assert found.profile_total == 12.0


@pytest.mark.parametrize(
    ("d", "mn", "b", "flank_class", "expected"),
    [
        (500.0, 8.0, 120.0, 7, (17, 62, 15, 19, 24, 18, 21, 28, 56)),
        (60.0, 2.0, 20.0, 5, (6, 18, 4.9, 6, 8, 6, 6.5, 9, 16)),
    ],
)
def test_2013_formulas_by_our_own_evaluation(
    d: float, mn: float, b: float, flank_class: int, expected: tuple[float, ...]
) -> None:
    """Self-made pin: formulas (5) to (12) evaluated apart; totals from the unrounded components."""
    found = flank_tolerances("ISO 1328-1", 2013, flank_class, d, mn, b)
    assert tuple(vars(found.rounded).values()) == expected


#: d, m, grade, single pitch, cumulative pitch (None: not recalled or disputed).
PITCH_1995 = [
    (12, 1, 5, 4.7, None),
    (12, 3, 5, 5.0, None),
    (35, 1, 5, 5.0, 14),
    (35, 3, 5, 5.5, 15),
    (35, 5, 5, 6.0, 15),
    (35, 8, 5, 7.0, 16),
    (90, 1, 5, 5.5, 18),
    (90, 3, 5, 6.0, 19),
    (90, 5, 5, 6.5, 19),
    (90, 12, 5, 9.0, None),
    (200, 1, 5, 6.0, 24),
    (200, 3, 5, 6.5, 25),
    (200, 5, 5, 7.0, 25),
    (200, 8, 5, 8.0, 26),
    (200, 12, 5, 9.5, None),
    (90, 3, 7, 12, 38),
    (90, 3, 8, 17, 53),
]


@pytest.mark.parametrize(("d", "m", "grade", "single", "cumulative"), PITCH_1995)
def test_1995_pitch_tables(d: float, m: float, grade: int, single: float, cumulative: float | None) -> None:
    """Tables of single and total cumulative pitch by size range."""
    found = flank_tolerances("ISO 1328-1", 1995, grade, d, m, 30.0)
    assert found.single_pitch == single
    if cumulative is not None:
        assert found.total_cumulative_pitch == cumulative


@pytest.mark.parametrize(
    ("grade", "profile", "helix", "runout"), [(5, 8.0, None, None), (7, 16, 17, 30), (8, 22, 24, 43)]
)
def test_1995_profile_helix_runout(
    grade: int, profile: float, helix: float | None, runout: float | None
) -> None:
    """Tables of total profile, total helix and runout: d 90, m 3, b 30."""
    found = flank_tolerances("ISO 1328-1", 1995, grade, 90.0, 3.0, 30.0)
    assert found.profile_total == profile
    if helix is not None:
        assert (found.helix_total, found.runout) == (helix, runout)


def test_din_3967_example_designation() -> None:
    """DIN 3967:1978, example 27cd at a reference diameter of 100 mm: -70 um, width 100 um (from memory)."""
    assert din_3967_allowance("cd", 100.0) == pytest.approx(-0.070)
    assert din_3967_tolerance(27, 100.0) == pytest.approx(0.100)


@pytest.mark.parametrize(
    ("module", "distance", "backlash"), [(1.0, 30.0, 0.070), (5.0, 150.0, 0.190), (1.5, 50.0, 0.087)]
)
def test_recommended_least_backlash(module: float, distance: float, backlash: float) -> None:
    """ISO/TR 10064-2:1996 annex, by its formula (from memory).

    The third is the first cell of its table, 0.09 mm (from memory), before rounding.
    """
    assert recommended_least_backlash(distance, module) == pytest.approx(backlash, abs=5e-4)
