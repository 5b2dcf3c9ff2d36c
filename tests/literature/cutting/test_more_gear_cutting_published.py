"""Further check values of skiving, hobbing, drilling and mass; each names its source."""

from __future__ import annotations

import math

import pytest

from sequencer.cutting import forces, hobbing, mass, skiving, speeds, times


def test_speed_at_the_tip_of_a_skiving_cutter():
    """Derived: internal m 4, 100 teeth, cutter 40 teeth at 20 deg: tip over pitch diameter 1.0587.

    Sources differ on the diameter that counts: Gear Technology 2021 as quoted takes the tip, the velocity
    vectors hold at the pitch diameter, which is used here; the results lie 6 % apart.
    """
    pitch = skiving.pitch_diameter(4, 40, 20)
    assert (pitch + 2 * 1.25 * 4) / pitch == pytest.approx(1.0587, abs=5e-5)
    assert skiving.cutter_rpm(100, pitch, 20, 0) == pytest.approx(546.59, abs=0.005)
    assert skiving.cutter_rpm(100, pitch + 10, 20, 0) == pytest.approx(546.59 / 1.0587, abs=0.05)


def test_feed_rate_and_ratios_of_skiving():
    """Derived: 0.5 mm at 358.22 rpm feed 179.109 mm/min; 40 teeth over 90 turn the table 0.4444 times."""
    table = skiving.table_rpm(skiving.cutter_rpm(100, skiving.pitch_diameter(5, 30, 5), 20, 15), 30, 50)
    assert 0.5 * table == pytest.approx(179.109, abs=5e-4)
    assert skiving.speed_ratio(40, 90, internal=True) == pytest.approx(0.4444, abs=5e-5)
    assert skiving.speed_ratio(30, 50, internal=False) == pytest.approx(-0.6)


@pytest.mark.parametrize(("sigma", "turn", "reach"), [(20, 32.936, 16.761), (12, 33.803, 10.426)])
def test_turn_of_the_cutter_at_its_reach(sigma, turn, reach):
    """Derived, exact circle in a tilted plane: axis at 114.865."""
    axis = 205.0 - 180.27 / 2
    assert axis == pytest.approx(114.865, abs=5e-4)
    found = skiving.engagement_reach(392.0, 410.0, 180.27, sigma, internal=True)
    across = 90.135 * math.sin(math.radians(turn))
    assert across * math.sin(math.radians(sigma)) == pytest.approx(found, abs=1e-3)
    assert found == pytest.approx(reach, abs=5e-4)
    place = (axis + 90.135 * math.cos(math.radians(turn)), across * math.cos(math.radians(sigma)))
    assert math.hypot(*place) == pytest.approx(196.0, abs=2e-3)


@pytest.mark.parametrize(
    ("diameter", "depth", "tip", "swivel", "exact", "share"),
    [
        (100.0, 11.25, 300.0, 0.0, 31.5981, 1.0),
        (100.0, 11.25, 300.0, 17.4, 38.1889, 0.9895),
        (200.0, 27.0, 800.0, 30.0, 117.5181, 0.9861),
    ],
)
def test_the_approach_formula_is_a_little_short(diameter, depth, tip, swivel, exact, share):
    """Hob makers' formula (from memory) over the exact intersection of two cylinders."""
    assert hobbing.approach(diameter, depth, tip, swivel) / exact == pytest.approx(share, abs=5e-5)


def test_facets_of_two_starts_against_a_tangent_polygon():
    """Derived, m 5, z 30, 10 gashes, two starts: formula 5.626 um, polygon 5.627 um.

    The flank's radius of curvature rho rolls on by the pitch angle over the cuts: rho (1/cos(half) - 1).
    """
    rho = 5 * 30 / 2 * math.sin(math.radians(20))
    half = math.pi * 2 / (10 * 30)
    polygon = 1000 * rho * (1 / math.cos(half) - 1)
    assert polygon == pytest.approx(5.627, abs=0.002)
    assert hobbing.facet_height(5, 30, 2, 10, 20) == pytest.approx(5.626, abs=5e-4)


def test_disputed_pitch_diameter_of_a_textbook_hob():
    """Mabie and Reinholtz, exercise: m 3, lead angle 2 deg 40 min, outside 75 mm.

    sin(gamma) = m/d0 asks for 64.48 mm, an addendum of 1.25 m gives 67.5 mm: not a consistency check.
    """
    assert hobbing.hob_pitch_diameter(75, 1.25 * 3) == pytest.approx(67.5, abs=0.05)
    assert hobbing.hob_lead_angle(1, 3, 64.48) == pytest.approx(2 + 40 / 60, abs=0.002)
    assert hobbing.hob_lead_angle(1, 3, 67.5) == pytest.approx(2 + 33 / 60, abs=0.01)


def test_disputed_differential_stays_finite_for_straight_teeth():
    """A published v_f N0/(pi m N tan(beta)) grows without end towards straight teeth; sin(beta) gives 0."""
    assert hobbing.differential_turns(4, 40, 0.0) == 0.0
    assert hobbing.differential_turns(4, 40, 1e-6) < 1e-9


def test_drilling_time_in_minutes():
    """LZQ Tool, hole machining: D 15, 50 m/min, 0.15, depth 30: 0.188 min (pi = 3.14 there)."""
    assert times.drilling_time(30, 0.15, speeds.spindle_rpm(15, 50)) == pytest.approx(0.188, abs=0.0006)


def test_power_in_old_units_printed():
    """Kyocera form: 190 kgf/mm2 x 3 x 0.2 x 120 m/min over 6120 x 0.8: 2.7941 kW; in SI 2.7949 kW."""
    assert pytest.approx(2.7941, abs=5e-5) == 190 * 3 * 0.2 * 120 / (6120 * 0.8)
    force = forces.turning_force(190 * 9.80665, 3, 0.2)
    assert forces.cutting_power(force, 120, 0.8) == pytest.approx(2.7949, abs=5e-5)


def test_mass_of_a_flat_bar():
    """Civil engineering note, unit weight of steel flat bar: 50 x 30 mm weighs 11.775 kg/m."""
    assert mass.mass(50.0 * 30.0 * 1000.0) == pytest.approx(11.775, abs=5e-4)
