"""Values on which sources differ, or that were recalled wrongly: what the program gives.

Each recalled value is printed beside the one that its own formula gives; the formula is used.
"""

from __future__ import annotations

from math import acos, cos, degrees, pi, radians, tan

import pytest

from sequencer.gears import din_5480, flank_tolerances
from sequencer.gears.diameters import virtual_teeth
from sequencer.gears.involute import involute
from sequencer.gears.over_balls import ideal_ball_diameter
from sequencer.gears.pair import reference_centre_distance, working_centre_distance, working_pressure_angle
from sequencer.gears.tolerances import tolerances_2013


def test_internal_pair_recalled_with_wrong_last_digits() -> None:
    """Elements of Metric Gear Technology, table 5-1 as recalled: y 0.389426, angle 31.0937 deg.

    Module 3, 16 in 24 teeth, x2 0.5: the formulas give 0.389423 and 31.0936; the pair's other recalled values
    agree with these.
    """
    angle = working_pressure_angle(16, 24, 0.0, 0.5, internal=True)
    reference = reference_centre_distance(3.0, 16, 24, internal=True)
    y = (working_centre_distance(reference, 20.0, angle) - reference) / 3.0
    assert y == pytest.approx(0.3894226, abs=5e-7)
    assert abs(y - 0.389426) > 3e-6
    assert angle == pytest.approx(31.09362, abs=5e-5)
    assert abs(angle - 31.0937) > 5e-5


def test_ideal_pin_recalled_one_digit_off() -> None:
    """The same book, table 10-13 as recalled: 1.7245 for module 1, 20 teeth; the formula gives 1.724449."""
    pin = ideal_ball_diameter(1.0, 20)
    assert pin == pytest.approx(1.724449, abs=5e-7)
    assert round(pin, 4) == 1.7244


def test_ideal_ball_of_a_helical_gear_step_by_step() -> None:
    """The same book, table 10-16: eta 0.0427566, alpha 24.90647 deg, phi 0.507078 rad; 20 teeth, 15 deg."""
    zv = virtual_teeth(20, 15.0)
    eta = pi / (2 * zv) - involute(20.0) - 2 * 0.4 * tan(radians(20.0)) / zv
    angle = acos(zv * cos(radians(20.0)) / (zv + 2 * 0.4))
    phi = tan(angle) + eta
    assert eta == pytest.approx(0.0427566, abs=1e-7)
    assert degrees(angle) == pytest.approx(24.90647, abs=5e-6)
    assert phi == pytest.approx(0.507078, abs=5e-7)
    ball = zv * cos(radians(20.0)) * (involute(degrees(phi)) + eta)
    assert ideal_ball_diameter(1.0, 20, helix_angle=15.0, profile_shift=0.4) == pytest.approx(ball)


def test_virtual_teeth_of_the_helical_chord() -> None:
    """The same book, table 10-4 (seen): 16 teeth at 25 deg count as 21.4928."""
    assert virtual_teeth(16, 25.0) == pytest.approx(21.4928, abs=5e-5)


def test_half_angle_of_the_crest() -> None:
    """The same book, crest width: psi 1.59815 deg; module 2, 16 teeth, x 0.3."""
    psi = pi / 32 + 2 * 0.3 * tan(radians(20.0)) / 16 + involute(20.0) - involute(36.06616)
    assert degrees(psi) == pytest.approx(1.59815, abs=5e-6)


def test_profile_slope_takes_the_form_of_most_texts() -> None:
    """Four of five public texts give (0.4 mn + 0.001 d + 4) g; one leaves out 0.001 d: 15 against 14 um."""
    found = tolerances_2013(500.0, 8.0, 120.0, 7)
    assert found.profile_slope == pytest.approx(15.4)
    assert found.profile_slope - 0.001 * 500.0 * 2.0 == pytest.approx(14.4)
    assert flank_tolerances("ISO 1328-1", 2013, 7, 500.0, 8.0, 120.0).profile_slope == 15.0


@pytest.mark.parametrize(("diameter", "recalled", "computed"), [(90.0, 21.0, 22.0), (200.0, 27.0, 28.0)])
def test_coarse_cells_of_the_1995_edition(diameter: float, recalled: float, computed: float) -> None:
    """Modules 10 to 16: recalled 21 and 27 um of total cumulative pitch, the formula gives 22 and 28."""
    found = flank_tolerances("ISO 1328-1", 1995, 5, diameter, 12.0, 30.0)
    assert found.total_cumulative_pitch == computed
    assert computed != recalled


def test_runout_of_the_two_editions_is_not_interchangeable() -> None:
    """0.8 of the total cumulative pitch in the 1995 lineage, 0.9 in the annex of the 2013 edition."""
    old = flank_tolerances("ISO 1328-1", 1995, 6, 120.0, 3.0, 30.0).unrounded
    new = flank_tolerances("ISO 1328-1", 2013, 6, 120.0, 3.0, 30.0).unrounded
    assert old.runout / old.total_cumulative_pitch == pytest.approx(0.8)
    assert new.runout / new.total_cumulative_pitch == pytest.approx(0.9)


def test_simplified_formulas_are_not_the_standard() -> None:
    """A public text gives 0.3 m + 0.003 d + 4 and 5 + 0.7 sqrt d "from the 2013 tables": both are off."""
    found = tolerances_2013(120.0, 3.0, 30.0, 5)
    assert abs(found.single_pitch - (0.3 * 3.0 + 0.003 * 120.0 + 4.0)) > 1.0
    assert abs(found.runout - (5.0 + 0.7 * 120.0**0.5)) > 4.0


def test_din_5480_reference_diameter_is_no_pitch_diameter() -> None:
    """Some web texts state dB = m z or da = m (z + 2): wrong by two modules and more."""
    shaft = din_5480(120.0, 3.0, 38)
    assert shaft.pitch_diameter == pytest.approx(114.0)
    assert shaft.major_diameter == pytest.approx(119.4)
    assert shaft.major_diameter != pytest.approx(3.0 * 40)
