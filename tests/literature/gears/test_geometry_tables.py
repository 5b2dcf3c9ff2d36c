"""Cylindrical gears against handbook tables.

Books: "Elements of Metric Gear Technology" (tables 4-1 to 10-16, values recalled unless marked seen) and
"Machinery's Handbook" (measurement over wires, recalled). The tolerance of each value is half a unit of
its last printed digit. Values that a recomputation showed to be misprinted or misremembered are left out:
the factor y and the working angle of the internal pair, the ideal pin of z 20.
"""

from __future__ import annotations

import math

import pytest

from sequencer.gears import CylindricalGear, inspection_sizes
from sequencer.gears.chordal import chordal_height, chordal_thickness, half_thickness_angle
from sequencer.gears.diameters import (
    base_diameter,
    reference_diameter,
    root_diameter,
    tip_diameter,
    virtual_teeth,
)
from sequencer.gears.involute import inverse_involute, involute, pressure_angle_at_diameter
from sequencer.gears.over_balls import (
    ball_centre_diameter,
    ball_centre_involute,
    ideal_ball_diameter,
    measurement_over_balls,
)
from sequencer.gears.pair import (
    centre_distance_factor,
    overlap_ratio,
    profile_shift_sum,
    rack_mounting_distance,
    reference_centre_distance,
    shortened_addendum,
    transverse_contact_ratio,
    working_centre_distance,
    working_pitch_diameter,
    working_pressure_angle,
    working_pressure_angle_from_centre_distance,
)
from sequencer.gears.rack import (
    ISO_53_RACKS,
    clearance_fillet_factor,
    normal_module,
    normal_pressure_angle,
    transverse_base_pitch,
    transverse_pressure_angle,
)
from sequencer.gears.span import ideal_teeth_spanned, span, teeth_spanned
from sequencer.gears.thickness import (
    least_profile_shift,
    least_teeth_without_undercut,
    normal_tooth_thickness,
)


def near(value: float, tolerance: float) -> object:
    return pytest.approx(value, abs=tolerance * (1 + 1e-9), rel=0)


def test_involute_of_20_deg() -> None:
    """Profile-shift tables: inv 20 deg = 0.014904."""
    assert involute(20.0) == near(0.014904, 5e-7)


@pytest.mark.parametrize(
    ("teeth", "d", "db", "da", "df"),
    [(12, 36.0, 33.829, 42.0, 28.5), (24, 72.0, 67.658, 78.0, 64.5)],
)
def test_standard_spur_gear(teeth: int, d: float, db: float, da: float, df: float) -> None:
    """Table 4-1, standard spur gear of module 3, depth 6.75 mm."""
    gear = CylindricalGear(normal_module=3.0, teeth=teeth, face_width=30.0)
    assert gear.reference_diameter == near(d, 5e-4)
    assert gear.base_diameter == near(db, 5e-4)
    assert gear.tip_diameter == near(da, 5e-4)
    assert gear.root_diameter == near(df, 5e-4)
    assert gear.tooth_depth == near(6.75, 5e-4)


def test_profile_shift_from_centre_distance() -> None:
    """Table 4-4: module 3, 12/24 teeth, centre distance 56.5 mm."""
    reference = reference_centre_distance(3.0, 12, 24)
    angle = working_pressure_angle_from_centre_distance(reference, 20.0, 56.5)
    assert centre_distance_factor(56.5, reference, 3.0) == near(0.83333, 5e-6)
    assert involute(angle) == near(0.034317, 1e-6)
    assert angle == near(26.0888, 5e-5)
    assert profile_shift_sum(12, 24, angle) == near(0.96, 5e-4)


def test_internal_pair() -> None:
    """Table 5-1: module 3, pinion 16, internal gear 24 with shift 0.5 that enlarges it."""
    angle = working_pressure_angle(16, 24, 0.0, 0.5, internal=True)
    reference = reference_centre_distance(3.0, 16, 24, internal=True)
    pinion = CylindricalGear(normal_module=3.0, teeth=16, face_width=30.0)
    ring = CylindricalGear(normal_module=3.0, teeth=24, face_width=30.0, profile_shift=0.5, internal=True)
    assert involute(angle) == near(0.060401, 5e-7)
    assert working_centre_distance(reference, 20.0, angle) == near(13.1683, 5e-5)
    assert working_pitch_diameter(pinion.base_diameter, angle) == near(52.673, 5e-4)
    assert working_pitch_diameter(ring.base_diameter, angle) == near(79.010, 5e-4)
    assert (pinion.base_diameter, ring.base_diameter) == (near(45.105, 5e-4), near(67.658, 5e-4))
    assert (pinion.tip_diameter, ring.tip_diameter) == (near(54.0, 5e-4), near(69.0, 5e-4))
    assert (pinion.root_diameter, ring.root_diameter) == (near(40.5, 5e-4), near(82.5, 5e-4))


def test_helical_pair_in_the_normal_system() -> None:
    """Table 6-1: mn 3, 12/60 teeth, 30 deg, x1 0.09809, face 20 mm; tips shortened, depth 6.748 mm."""
    alpha_t = transverse_pressure_angle(20.0, 30.0)
    angle = working_pressure_angle(12, 60, 0.09809, 0.0, helix_angle=30.0)
    reference = reference_centre_distance(3.0, 12, 60, 30.0)
    centre = working_centre_distance(reference, alpha_t, angle)
    y = centre_distance_factor(centre, reference, 3.0)
    assert alpha_t == near(22.79588, 5e-6)
    assert involute(alpha_t) == near(0.022414, 5e-7)
    assert involute(angle) == near(0.023405, 5e-7)
    assert angle == near(23.1126, 5e-5)
    assert y == near(0.09744, 1e-5)
    assert centre == near(125.0, 5e-4)
    d1, d2 = (reference_diameter(3.0, teeth, 30.0) for teeth in (12, 60))
    assert (d1, d2) == (near(41.569, 5e-4), near(207.846, 5e-4))
    db1, db2 = (base_diameter(each, alpha_t) for each in (d1, d2))
    assert (db1, db2) == (near(38.322, 5e-4), near(191.611, 5e-4))
    assert working_pitch_diameter(db1, angle) == near(41.667, 5e-4)
    assert working_pitch_diameter(db2, angle) == near(208.333, 5e-4)
    ha1, ha2 = shortened_addendum(3.0, y, 0.0), shortened_addendum(3.0, y, 0.09809)
    assert (ha1, ha2) == (near(3.292, 5e-4), near(2.998, 5e-4))
    da1, da2 = d1 + 2 * ha1, d2 + 2 * ha2
    assert (da1, da2) == (near(48.154, 5e-4), near(213.842, 5e-4))
    assert root_diameter(d1, 3.0, 0.09809) == near(34.658, 5e-4)
    assert root_diameter(d2, 3.0, 0.0) == near(200.346, 5e-4)
    pitch = transverse_base_pitch(3.0, 20.0, 30.0)
    assert transverse_contact_ratio(da1, db1, da2, db2, centre, angle, pitch) == near(1.294, 5e-4)
    assert overlap_ratio(20.0, 30.0, 3.0) == near(1.061, 5e-4)


def test_helical_pair_in_the_transverse_system() -> None:
    """Table 6-3: mt 3, 12/60 teeth, 30 deg, xt1 0.34462 and alpha_t 20 deg in the transverse section."""
    mn, alpha_n = normal_module(3.0, 30.0), normal_pressure_angle(20.0, 30.0)
    x1 = 0.34462 * 3.0 / mn
    angle = working_pressure_angle(12, 60, x1, 0.0, alpha_n, 30.0)
    reference = reference_centre_distance(mn, 12, 60, 30.0)
    centre = working_centre_distance(reference, 20.0, angle)
    assert centre == near(109.0, 5e-5)
    assert angle == near(21.3975, 5e-5)
    assert (centre - reference) / 3.0 == near(0.33333, 5e-6)
    assert involute(angle) == near(0.0183886, 5e-8)
    assert working_pitch_diameter(base_diameter(36.0, 20.0), angle) == near(36.3333, 5e-5)
    assert working_pitch_diameter(base_diameter(180.0, 20.0), angle) == near(181.6667, 5e-5)


def test_profile_shift_sum_with_ten_digits() -> None:
    """Worked sheet citing ISO 21771:2007 equation 62 (seen): mn 3.5, 31/30 teeth, 21 deg, 116.5 mm."""
    reference = reference_centre_distance(3.5, 31, 30, 21.0)
    alpha_t = transverse_pressure_angle(20.0, 21.0)
    angle = working_pressure_angle_from_centre_distance(reference, alpha_t, 116.5)
    assert reference == near(114.3447280708, 1e-9)
    assert alpha_t == near(21.2990642859, 5e-11)
    assert involute(alpha_t) == near(0.0181260949, 5e-11)
    assert angle == near(23.8707609654, 1e-9)
    assert involute(angle) == near(0.0259052382, 1e-10)
    assert profile_shift_sum(31, 30, angle, helix_angle=21.0) == near(0.6518771312, 1e-8)


def test_span_of_a_spur_gear() -> None:
    """Table 10-7: module 3, 24 teeth, x 0.4: over 4 teeth 32.8266 mm."""
    assert ideal_teeth_spanned(24, profile_shift=0.4) == near(3.78787, 5e-6)
    assert teeth_spanned(24, profile_shift=0.4) == 4
    assert span(3.0, 24, 4, profile_shift=0.4) == near(32.8266, 5e-5)
    gear = CylindricalGear(normal_module=3.0, teeth=24, face_width=30.0, profile_shift=0.4)
    size = inspection_sizes(gear).span
    assert size is not None
    assert (size.teeth_spanned, size.nominal) == (4, near(32.8266, 5e-5))


def test_span_of_a_helical_gear_in_the_transverse_system() -> None:
    """Table 10-11: mt 3, 24 teeth, 22.5 deg, xt 0.4, alpha_t 20 deg: over 4 teeth 30.5910 mm."""
    mn, alpha_n = normal_module(3.0, 22.5), normal_pressure_angle(20.0, 22.5)
    x = 0.4 * 3.0 / mn
    assert alpha_n == near(18.58597, 5e-6)
    assert ideal_teeth_spanned(24, alpha_n, 22.5, x) == near(4.31728, 5e-6)
    assert teeth_spanned(24, alpha_n, 22.5, x) == 4
    assert span(mn, 24, 4, alpha_n, 22.5, x) == near(30.591, 5e-5)


def test_ideal_ball_of_a_helical_gear() -> None:
    """Table 10-16: mn 1, 20 teeth, 15 deg, x 0.4: virtual teeth 22.19211, ball 1.902 mm."""
    assert virtual_teeth(20, 15.0) == near(22.19211, 5e-6)
    assert ideal_ball_diameter(1.0, 20, helix_angle=15.0, profile_shift=0.4) == near(1.902, 5e-5)


def test_ideal_pin_of_an_internal_gear() -> None:
    """Tables 10-14 and 10-15: module 1, 40 teeth: pin 1.6489 mm."""
    assert ideal_ball_diameter(1.0, 40, internal=True) == near(1.6489, 5e-5)


@pytest.mark.parametrize(
    ("teeth", "pin", "alpha", "measurement"),
    [
        (20, 1.7, 20.0, 22.2941),  # Elements of Metric Gear Technology, table 10-13
        (6, 1.728, 20.0, 8.3032),  # Machinery's Handbook, 1 DP, 20 deg
        (10, 1.728, 20.0, 12.3445),
        (12, 1.728, 14.5, 14.3590),  # Machinery's Handbook, 1 DP, 14.5 deg
        (28, 1.728, 14.5, 30.4374),
    ],
)
def test_measurement_over_pins(teeth: int, pin: float, alpha: float, measurement: float) -> None:
    """Module 1 (or 1 DP in inches), no shift, no backlash, even numbers of teeth."""
    base = base_diameter(float(teeth), alpha)
    value = ball_centre_involute(1.0, teeth, pin, normal_tooth_thickness(1.0), alpha)
    centre = ball_centre_diameter(base, value)
    assert measurement_over_balls(centre, pin, teeth) == near(measurement, 5e-5)


def test_pressure_angle_at_the_pin_centre() -> None:
    """Table 10-13: inv phi 0.0268197, phi 24.1350 deg."""
    value = ball_centre_involute(1.0, 20, 1.7, normal_tooth_thickness(1.0))
    assert value == near(0.0268197, 5e-8)
    assert inverse_involute(value) == near(24.135, 5e-5)


@pytest.mark.parametrize(
    ("mn", "teeth", "x", "beta", "ha", "s", "theta", "chord", "height"),
    [
        (10.0, 12, 0.3, 0.0, 13.0, 17.8918, 8.5427, 17.8256, 13.6657),
        (5.0, 16, 0.2, 25.0, 6.0, 8.5819, 4.57556, 8.5728, 6.1712),
    ],
)
def test_chordal_thickness(
    mn: float,
    teeth: int,
    x: float,
    beta: float,
    ha: float,
    s: float,
    theta: float,
    chord: float,
    height: float,
) -> None:
    """Tables 10-1 to 10-4 (seen): chordal thickness and height of a spur and a helical gear."""
    thickness, virtual = normal_tooth_thickness(mn, x), virtual_teeth(teeth, beta)
    assert thickness == near(s, 5e-5)
    assert half_thickness_angle(thickness, virtual, mn) * 57.29577951308232 == near(theta, 5e-6)
    assert chordal_thickness(thickness, virtual, mn) == near(chord, 5e-5)
    assert chordal_height(thickness, virtual, mn, ha) == near(height, 5e-5)


def test_crest_width() -> None:
    """Crest width: module 2, 16 teeth, x 0.3: 1.03762 mm."""
    gear = CylindricalGear(normal_module=2.0, teeth=16, face_width=20.0, profile_shift=0.3)
    angle = pressure_angle_at_diameter(gear.tip_diameter, gear.base_diameter)
    assert gear.base_diameter == near(30.07016, 5e-6)
    assert angle == near(36.06616, 5e-6)
    assert involute(angle) == near(0.098835, 5e-7)
    assert gear.tip_thickness == near(1.03762, 5e-6)


def test_rack_mounting_distance() -> None:
    """Table 4-6: module 3, 12 teeth, x 0.6, pitch line height 32 mm: 51.8 mm."""
    assert rack_mounting_distance(3.0, 12, 0.6, 32.0) == near(51.8, 5e-4)


def test_undercut_limits() -> None:
    """Gear theory notes (seen): 17.1 teeth at 20 deg; z 10 needs (17 - 10)/17 = 0.41, exactly 0.4151."""
    assert least_teeth_without_undercut() == near(17.1, 0.05)
    assert least_profile_shift(10) == near(0.4151, 5e-5)
    assert least_profile_shift(10) == near(0.41, 0.0055)


def test_root_radius_of_profile_a() -> None:
    """ISO 53:1998: fillet 0.38 m is the largest that the clearance of 0.25 m allows."""
    profile = ISO_53_RACKS[0]
    clearance = profile.dedendum_factor - profile.addendum_factor
    assert clearance_fillet_factor(20.0, clearance) == near(profile.root_fillet_factor, 0.005)


def test_tip_diameter_by_factors() -> None:
    """Table 4-1: tip of a module 3 gear with 12 teeth is 42 mm, of the internal gear of table 5-1 69 mm."""
    assert tip_diameter(36.0, 3.0) == near(42.0, 5e-4)
    assert tip_diameter(72.0, 3.0, 0.5, internal=True) == near(69.0, 5e-4)


def test_shifted_spur_pair() -> None:
    """Table 4-3: module 3, 12/24 teeth, x 0.6 and 0.36: 26.0886 deg, 56.4999 mm."""
    angle = working_pressure_angle(12, 24, 0.6, 0.36)
    assert angle == near(26.0886, 5e-5)
    assert working_centre_distance(54.0, 20.0, angle) == near(56.4999, 5e-5)


def test_span_of_a_helical_gear_in_the_normal_system() -> None:
    """Table 10-9: mn 3, 24 teeth, 25 deg, x 0.4: over 5 teeth 42.0085 mm."""
    gear = CylindricalGear(
        normal_module=3.0, teeth=24, face_width=30.0, helix_angle=25.0, hand="left", profile_shift=0.4
    )
    size = inspection_sizes(gear).span
    assert size is not None
    assert (size.teeth_spanned, size.nominal) == (5, near(42.0085, 5e-5))


def test_measurement_between_pins_of_an_internal_gear() -> None:
    """Table 10-15: module 1, 40 teeth, pins 1.7 mm: 37.5951 mm."""
    gear = CylindricalGear(normal_module=1.0, teeth=40, face_width=30.0, internal=True)
    size = inspection_sizes(gear, ball_diameter=1.7).over_balls
    assert size is not None
    assert size.nominal == near(37.5951, 5e-5)


def test_ideal_pin_of_a_spur_gear() -> None:
    """Tables 10-12 and 10-13: eta 0.0636354 and phi 0.4276057 rad; the pin follows from these two."""
    eta, phi = 0.0636354, 0.4276057
    expected = 20 * math.cos(math.radians(20.0)) * (math.tan(phi) - phi + eta)
    assert ideal_ball_diameter(1.0, 20) == near(expected, 5e-6)
