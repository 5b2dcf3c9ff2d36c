"""Check values of hobbing, gashing and power skiving.

Kinematic values are evaluations of published formulas confirmed by velocity vectors or exact geometry;
each test says what was published.
"""

from __future__ import annotations

import math

import pytest

from sequencer.cutting import form_milling, hobbing, skiving, speeds
from sequencer.cutting.cutter_bodies import CutterBody, hob_body
from sequencer.cutting.run_out import Arrangement, Setting, axial_room


def test_hobbing_time():
    """R. Endoy, Estimating Hobbing Times, Gear Technology 1989, equation (1); hob makers' form agrees."""
    rpm = speeds.spindle_rpm(100, 80)
    assert rpm == pytest.approx(254.648, abs=5e-4)
    assert hobbing.table_rpm(rpm, 1, 60) == pytest.approx(4.2441, abs=5e-5)
    assert hobbing.hobbing_time(60, 1, rpm, 3.0, 120.0) == pytest.approx(9.4248, abs=5e-5)
    makers = 60 * 100 * math.pi * 120 / (1 * 3.0 * 80 * 1000)
    assert hobbing.hobbing_time(60, 1, rpm, 3.0, 120.0) == pytest.approx(makers, rel=1e-12)


def test_hob_turns_for_a_table_turn():
    """E. Bergseth, Virtual Hobbing, KTH 2011, as quoted: 32 teeth, single start, 32 hob turns."""
    assert hobbing.table_rpm(32, 1, 32) == 1


APPROACHES = [
    # outside diameter, depth, tip diameter, swivel, formula, exact
    (100.0, 11.25, 300.0, 0.0, 31.5981, 31.5981),
    (100.0, 11.25, 300.0, 17.4, 37.7881, 38.1889),
    (200.0, 27.0, 800.0, 30.0, 115.8792, 117.5181),
]


@pytest.mark.parametrize(("diameter", "depth", "tip", "swivel", "formula", "exact"), APPROACHES)
def test_hob_approach(diameter, depth, tip, swivel, formula, exact):
    """Hob makers' formula (from memory) and the exact intersection of two cylinders."""
    assert hobbing.approach(diameter, depth, tip, swivel) == pytest.approx(formula, abs=5e-5)
    setting = Setting(Arrangement.CROSSED, tip / 2 - depth, swivel)
    reach = axial_room(hob_body(diameter, 1000), setting, tip / 2, overrun=0.0).reach
    assert reach == pytest.approx(exact, abs=5e-4)
    assert 1.0 - 1e-5 <= reach / formula <= 1.02


def test_feed_mark_depth():
    """Hob makers' formula (from memory): f 4, hob 100, 13.681 um; exact circle 13.686 um."""
    assert hobbing.feed_mark_depth(4.0, 100.0, 20, 0) == pytest.approx(13.681, abs=5e-4)
    exact = 1000 * (50 - math.sqrt(50**2 - 2**2)) * math.sin(math.radians(20))
    assert hobbing.feed_mark_depth(4.0, 100.0, 20, 0) == pytest.approx(exact, rel=1e-3)


@pytest.mark.parametrize(("feed", "helix", "expected"), [(2, 0, 2.4), (3, 0, 5.5), (4, 25, 12)])
def test_feed_mark_depth_on_a_140_hob(feed, helix, expected):
    """Rule figures of practice (from memory), one or two figures printed."""
    assert hobbing.feed_mark_depth(feed, 140, 20, helix) == pytest.approx(expected, rel=0.03)


@pytest.mark.parametrize(("starts", "expected"), [(1, 1.407), (2, 5.626)])
def test_facet_height(starts, expected):
    """Hob makers' formula (from memory): m 5, z 30, 10 gashes; tangent polygon agrees within 0.1 %."""
    height = hobbing.facet_height(5.0, 30, starts, 10, 20)
    assert height == pytest.approx(expected, abs=5e-4)
    rho, turn = 75 * math.sin(math.radians(20)), 2 * math.pi * starts / 300
    assert height == pytest.approx(1000 * rho * (1 / math.cos(turn / 2) - 1), rel=1e-3)


def test_hob_lead_and_swivel():
    """sin(gamma) = z0 m / d0; same hand difference (formula in hob makers' computations)."""
    pitch = hobbing.hob_pitch_diameter(100, 1.25 * 5)
    assert pitch == 87.5
    gamma = hobbing.hob_lead_angle(1, 5, pitch)
    assert gamma == pytest.approx(3.2758, abs=5e-5)
    assert hobbing.swivel_angle(20, gamma, "right", "right") == pytest.approx(16.7242, abs=5e-5)


def test_hoffmeister_is_locked():
    """Self-made pin: exponents of the Hoffmeister formula are from memory and not confirmed."""
    chip = hobbing.head_chip_thickness(3.0, 40, 0.0, 0.0, 90.0, 12, 1, 2.5, 6.75)
    assert chip == pytest.approx(0.1445, abs=5e-5)


def test_greatest_chip_in_gashing():
    """Formula hex = 2 fz sqrt(ae/D - (ae/D)^2) (from memory): 0.2, 18, 250: 0.1034 mm."""
    assert form_milling.greatest_chip(0.2, 18, 250) == pytest.approx(0.1034, abs=5e-5)
    # the circle itself: feed times sine of the engagement angle at the surface
    angle = math.acos(1 - 18 / 125)
    assert form_milling.greatest_chip(0.2, 18, 250) == pytest.approx(0.2 * math.sin(angle), rel=1e-12)


def test_form_milling_time():
    """Gear of 48 teeth with a disc 250, 16 inserts; approach after Groover's slab milling."""
    rpm = speeds.spindle_rpm(250, 160)
    assert rpm == pytest.approx(203.718, abs=5e-4)
    rate = speeds.table_feed(0.3, 16, rpm)
    assert rate == pytest.approx(977.848, abs=5e-4)
    travel = form_milling.gap_travel(100, 0, 18, 250, 5)
    assert travel == pytest.approx(169.622, abs=5e-4)
    gap = form_milling.gap_time(travel, rate, 6000, 0.08)
    assert form_milling.gear_time(48, 1, gap) == pytest.approx(13.523, abs=5e-4)


SKIVING = [
    # module, gear teeth, cutter teeth, gear helix, cutter helix, internal, speed, d_w, d_t, n_t, n_w
    (4, 100, 40, 0, 20, True, 100, 400.0, 170.268, 546.59, 218.64),
    (5, 50, 30, 15, 5, False, 100, 258.819, 150.573, 597.03, 358.22),
    (6, 90, 40, 20, 0, True, 90, 574.656, 240.0, 327.96, 145.76),
]


@pytest.mark.parametrize(
    ("module", "z_w", "z_t", "beta_w", "beta_t", "internal", "speed", "d_w", "d_t", "n_t", "n_w"), SKIVING
)
def test_skiving_kinematics(module, z_w, z_t, beta_w, beta_t, internal, speed, d_w, d_t, n_t, n_w):
    """Rotation ratio and cutting speed after Gear Technology 2021, Gear Skiving, as quoted; numbers ours.

    Two closed forms and the velocity vectors agree, and the sliding lies wholly along the tooth.
    """
    sigma = skiving.crossed_axes_angle(beta_t, beta_w, internal)
    assert abs(sigma) == pytest.approx(20.0)
    assert skiving.pitch_diameter(module, z_w, beta_w) == pytest.approx(d_w, abs=5e-4)
    assert skiving.pitch_diameter(module, z_t, beta_t) == pytest.approx(d_t, abs=5e-4)
    rpm = skiving.cutter_rpm(speed, skiving.pitch_diameter(module, z_t, beta_t), sigma, beta_w)
    assert rpm == pytest.approx(n_t, abs=0.005)
    table = skiving.table_rpm(rpm, z_t, z_w)
    assert table == pytest.approx(n_w, abs=0.005)
    at_table = skiving.cutting_speed_at(table, skiving.pitch_diameter(module, z_w, beta_w), sigma, beta_t)
    assert at_table == pytest.approx(speed, abs=5e-4)
    slide = skiving.sliding(module, z_t, z_w, beta_t, beta_w, internal, rpm)
    assert slide.speed == pytest.approx(speed, abs=5e-4)
    assert slide.along_tooth == pytest.approx(1.0, abs=5e-7)


def test_skiving_differential_and_time():
    """External helical 15 deg, module 5, 50 teeth, feed 0.5, six passes over 60 + 20 mm."""
    table = skiving.table_rpm(skiving.cutter_rpm(100, 150.573, 20, 15), 30, 50)
    assert skiving.differential_rpm(0.5, table, 5, 50, 15) == pytest.approx(0.05902, abs=5e-6)
    assert skiving.passes_time(60, 20, 0, (0.5,) * 6, table) == pytest.approx(2.68, abs=5e-4)
    inside = skiving.table_rpm(skiving.cutter_rpm(90, 240, -20, 20), 40, 90)
    assert skiving.differential_rpm(0.4, inside, 6, 90, 20) == pytest.approx(0.01175, abs=5e-6)


def test_lead():
    """p_z = pi m z / sin(beta); m 3, z 12, 30 deg."""
    assert hobbing.lead(3, 12, 30) == pytest.approx(226.195, abs=5e-4)
    assert skiving.pitch_diameter(3, 12, 30) == pytest.approx(41.569, abs=5e-4)
    assert hobbing.differential_turns(3, 12, 30) == pytest.approx(1 / 226.195, rel=3e-6)


@pytest.mark.parametrize(("sigma", "reach", "bound"), [(20, 16.761, 30.828), (12, 10.426, 18.740)])
def test_skiving_reach(sigma, reach, bound):
    """Exact circle in a tilted plane; the bound r sin(Sigma) is the rule of published notes."""
    found = skiving.engagement_reach(392.0, 410.0, 180.27, sigma, internal=True)
    assert found == pytest.approx(reach, abs=5e-4)
    assert 180.27 / 2 * math.sin(math.radians(sigma)) == pytest.approx(bound, abs=5e-4)
    assert found < bound
    edge = CutterBody("skiving cutter", 180.27, ((0.0, 90.135), (0.001, 90.135)))
    setting = Setting(Arrangement.SKIVING, 205.0, sigma, internal=True)
    assert axial_room(edge, setting, 196.0, "below", 0.0).reach == pytest.approx(reach, abs=2e-3)
