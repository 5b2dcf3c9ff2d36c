"""Published worked examples of cutting speed, time, power and tool life.

Each case names its source; the tolerance is half a unit of the last printed figure if nothing else is said.
"""

from __future__ import annotations

import math

import pytest

from sequencer.cutting import forces, life, roughness, speeds, times


def test_cutting_speed_in_turning():
    """Mitsubishi Materials, Technical information, formulas for turning: D 50, 700 1/min, 110 m/min."""
    assert speeds.cutting_speed(50, 700) == pytest.approx(110, abs=0.5)


def test_feed_per_revolution():
    """Mitsubishi Materials, formulas for turning: 120 mm/min at 500 1/min is 0.24 mm/rev."""
    assert speeds.feed_per_revolution(120, 500) == pytest.approx(0.24, abs=0.005)


def test_power_in_turning():
    """Mitsubishi Materials, cutting power for turning: 3 x 0.2 mm, 120 m/min, 3100 MPa, 80 %: 4.65 kW."""
    assert forces.turning_power(3, 0.2, 120, 3100, 0.8) == pytest.approx(4.65, abs=0.005)


def test_face_mill_cutting_speed():
    """Mitsubishi Materials, formulae for face milling: D 125, 350 1/min, 137.4 m/min (pi = 3.14 there)."""
    assert speeds.cutting_speed(125, 350) == pytest.approx(137.4, abs=0.1)


def test_face_mill_feed():
    """Mitsubishi Materials, formulae for face milling: 500 mm/min, 10 teeth, 500 1/min: 0.1 mm per tooth."""
    assert speeds.feed_per_tooth(500, 10, 500) == pytest.approx(0.1, abs=1e-9)
    assert speeds.table_feed(0.1, 10, 500) == pytest.approx(500, abs=1e-6)


def test_face_mill_time():
    """Mitsubishi Materials, formulae for face milling: 300 long, D 200, 0.25 x 16 x 200: 0.625 min."""
    rate = speeds.table_feed(0.25, 16, 200)
    assert rate == pytest.approx(800, abs=1e-6)
    assert times.milling_time(300, rate, approach=200) == pytest.approx(0.625, abs=1e-9)


def test_drill_speed_and_feed():
    """LZQ Tool, calculation formula of hole machining: D 12, 1350 1/min, 0.2: 50.9 m/min, 270 mm/min."""
    assert speeds.cutting_speed(12, 1350) == pytest.approx(50.9, abs=0.05)
    assert speeds.axial_feed_rate(0.2, 1350) == pytest.approx(270, abs=1e-6)


def test_drill_time_without_point():
    """LZQ Tool: D 15, 50 m/min, 0.15, depth 30: 11.3 s, the point left out (pi = 3.14 there)."""
    rpm = speeds.spindle_rpm(15, 50)
    assert 60 * times.drilling_time(30, 0.15, rpm) == pytest.approx(11.3, abs=0.05)


def test_through_hole():
    """GATE examination: 30 thick, approach 3, overrun 3, 600 1/min, 0.3 mm: 0.20 min."""
    assert times.drilling_time(30, 0.3, 600, approach=3, overrun=3) == pytest.approx(0.20, abs=0.005)


def test_turning_example_of_groover():
    """M. P. Groover, Fundamentals of Modern Manufacturing: 200 x 700, 2.3 m/s, 0.32, 1.8 (from memory)."""
    rpm = speeds.spindle_rpm(200, 2.3 * 60)
    assert rpm == pytest.approx(219.6, abs=0.05)
    assert speeds.axial_feed_rate(0.32, rpm) == pytest.approx(70.3, abs=0.05)
    assert times.turning_time(700, 0.32, rpm) == pytest.approx(9.96, abs=0.005)
    assert speeds.turning_removal_rate(2.3 * 60, 0.32, 1.8) == pytest.approx(79488, abs=0.5)


def test_theoretical_roughness():
    """Mitsubishi Materials, formulas for turning: f 0.2, r 0.8: 6.25 um (from memory)."""
    assert roughness.turned_rt(0.2, 0.8) == pytest.approx(6.25, abs=0.005)


def test_feed_for_chip_thickness():
    """Stellram catalogue, Technical information, page 87: 0.08 mm at 42 deg: 0.12 mm."""
    assert forces.feed_for_chip_thickness(0.08, 42) == pytest.approx(0.12, abs=0.005)


def test_nose_radius_shift():
    """Kyocera catalogue 2016, page 952: 0.8 to 0.4 with factor 0.1: 0.04 mm."""
    assert roughness.nose_radius_shift(0.8, 0.4, 0.1) == pytest.approx(0.04, abs=1e-9)


def test_power_in_old_units():
    """Kyocera form Ks v a f / (6120 eta), Ks 190 kgf/mm2: 2.794 kW; in SI the same within 0.05 %."""
    old = 190 * 120 * 3 * 0.2 / (6120 * 0.8)
    assert forces.turning_power(3, 0.2, 120, 190 * 9.80665, 0.8) == pytest.approx(old, rel=5e-4)
    assert forces.turning_power(3, 0.2, 120, 190 * 9.80665, 0.8) == pytest.approx(2.7949, abs=5e-5)


def test_taylor_life():
    """Worked example of a tooling-change note: n 0.25, C 300, 200 m/min: 5.06 min."""
    assert life.taylor_life(0.25, 300, 200) == pytest.approx(5.06, abs=0.005)


def test_taylor_constants():
    """M. P. Groover, chapter 23: 160 m/min 5 min, 100 m/min 41 min: n 0.223, C 229 (from memory)."""
    exponent, constant = life.taylor_constants(160, 5, 100, 41)
    assert exponent == pytest.approx(0.223, abs=0.0005)
    assert constant == pytest.approx(229, abs=0.5)


FEEDS = (0.16, 0.25, 0.4, 0.63, 1.0, 1.6)
KIENZLE = [
    ("S235", 1780, 0.17, (2.6, 2.4, 2.2, 2.05, 1.9, 1.8)),
    ("E295", 1990, 0.26, (3.5, 3.1, 2.75, 2.45, 2.15, 1.95)),
    ("E335", 2110, 0.17, (3.05, 2.8, 2.6, 2.4, 2.2, 2.05)),
    ("18CrNi8", 2260, 0.30, (4.35, 3.8, 3.3, 2.9, 2.5, 2.2)),
    ("16MnCr5", 2100, 0.26, (3.75, 3.3, 2.95, 2.6, 2.3, 2.05)),
    ("GE240", 1600, 0.17, (2.3, 2.1, 1.95, 1.8, 1.7, 1.6)),
    ("GE260", 1800, 0.16, (2.55, 2.35, 2.2, 2.05, 1.9, 1.8)),
    ("EN-GJL-250", 1160, 0.26, (2.05, 1.8, 1.6, 1.45, 1.3, 1.15)),
]


@pytest.mark.parametrize(("material", "kc11", "exponent", "table"), KIENZLE)
def test_specific_force_against_a_published_table(material, kc11, exponent, table):
    """Roehm operating standard RN 1391, table 2, k_c in kN/mm2 at an approach angle of 45 deg.

    Coefficients are the classic Kienzle values from memory; two sources agree within 3.5 %.
    """
    for feed, expected in zip(FEEDS, table, strict=True):
        kc = forces.specific_force(kc11, exponent, forces.turning_chip_thickness(feed, 45))
        assert kc / 1000 == pytest.approx(expected, rel=0.036)


def test_slab_milling_chip_and_power():
    """A. Ghosh, A. K. Mallik, Manufacturing Science, problem 4.16: mean chip 0.043 mm, 817 W.

    The book rounds the specific energy 1.4 t^-0.4 to 4.9 J/mm3; unrounded the power is 821 W.
    """
    feed_per_tooth = speeds.feed_per_tooth(100, 10, 60)
    chip = forces.milling_mean_chip(feed_per_tooth, 5, 75)
    assert chip == pytest.approx(0.043, abs=0.0005)
    assert 1000 * forces.milling_power(20, 5, 100, 4900) == pytest.approx(817, abs=0.5)
    kc = forces.specific_force(1400, 0.4, 0.043)
    assert 1000 * forces.milling_power(20, 5, 100, kc) == pytest.approx(821, abs=1.5)


def test_slab_approach_is_the_chord():
    """M. P. Groover, slab milling: A = sqrt(d (D - d)), recomputed from the circle."""
    assert times.slab_approach(5, 75) == pytest.approx(math.sqrt(37.5**2 - 32.5**2))
