"""Published values of chuck force, mass and tolerance chains."""

from __future__ import annotations

import math

import pytest

from sequencer.cutting import chains, holding, mass


def test_jaw_moment():
    """SCHUNK chuck manual, worked example: jaw of 5.33 kg at 0.107 m (result ours)."""
    assert holding.jaw_moment(5.33, 107) == pytest.approx(0.57031, abs=5e-6)


def test_force_at_rest_for_1200_rpm():
    """VDI 3106 method with the inputs of a SCHUNK example: Fc 42131.4 N, F_sp0 69947.1 N."""
    assert holding.centrifugal_force(2.668, 1200) == pytest.approx(42131.4, abs=0.05)
    force = holding.force_needed_at_rest(3000, 2.668, 1200, inside=False)
    assert force == pytest.approx(69947.1, abs=0.05)


def test_permissible_speed_uses_the_safe_formula():
    """A printed 1495 1/min contradicts its inputs, 672 1/min leaves S_sp out; VDI 3106 gives 500 1/min."""
    rpm = holding.permissible_rpm(17723, 3000, 2.668)
    assert rpm == pytest.approx(500, abs=0.5)
    assert holding.force_needed_at_rest(3000, 2.668, rpm, inside=False) == pytest.approx(17723)


@pytest.mark.parametrize(("rpm", "kilonewton"), [(60, 2), (188, 19), (300, 49)])
def test_centrifugal_force_of_large_jaws(rpm, kilonewton):
    """Derived: 50 kg m of jaws open with 2, 19 and 49 kN."""
    assert holding.centrifugal_force(50, rpm) / 1000 == pytest.approx(kilonewton, abs=0.5)


BARS = [(6, 0.222), (8, 0.395), (10, 0.616), (12, 0.888), (16, 1.578), (20, 2.466), (25, 3.853)]


@pytest.mark.parametrize(("diameter", "expected"), [*BARS, (32, 6.313), (40, 9.865), (50, 15.4), (100, 61.7)])
def test_mass_of_a_metre_of_bar(diameter, expected):
    """Building-trade tables, steel 7850 kg/m3; 50 and 100 mm from DIN 1013 (from memory)."""
    found = mass.mass(mass.cylinder_volume(diameter, 1000))
    assert found == pytest.approx(expected, abs=0.05 if diameter >= 50 else 0.001)


def test_mass_of_bar_by_the_builders_rule():
    """Civil engineering note: D^2 L / 162, 100 m of 16 mm bar weigh 158 kg."""
    assert mass.mass(mass.cylinder_volume(16, 100_000)) == pytest.approx(158, abs=0.5)


def test_mass_of_a_ring():
    """Derived, 7.85 kg/dm3: ring 1000 x 600 x 200 is 789.17 kg."""
    assert mass.mass(mass.ring_volume(1000, 600, 200)) == pytest.approx(789.17, abs=0.005)


def test_chain_of_three():
    """Public tutorial, shaft, housing, cap: 50 - 48 + 2.5; worst 0.10, statistical 0.0616."""
    links = (chains.Link(50, 0.05), chains.Link(48, 0.03, -1), chains.Link(2.5, 0.02))
    assert chains.closing_size(links) == pytest.approx(4.5, abs=1e-9)
    assert chains.worst_case(links) == pytest.approx(0.10, abs=1e-9)
    assert chains.root_sum_square(links) == pytest.approx(0.0616, abs=5e-5)


def test_transferred_size_carries_the_sum():
    """Constructed: 120 +-0.05 and 70 +-0.04 machined, 50 results with +-0.09."""
    links = (chains.Link(120, 0.05), chains.Link(70, 0.04, -1))
    assert chains.closing_size(links) == pytest.approx(50, abs=1e-9)
    assert chains.worst_case(links) == pytest.approx(0.09, abs=1e-9)
    assert chains.stock_range(links) == pytest.approx((49.91, 50.09))


def test_inertia_of_a_ring_by_adding_discs():
    """Physics: a frustum with equal ends has the inertia of a cylinder, a cone 3/10 m R^2."""
    weight = mass.mass(mass.cylinder_volume(400, 100))
    assert mass.cone_inertia(400, 400, 100) == pytest.approx(mass.ring_inertia(weight, 400), rel=1e-12)
    cone = mass.mass(mass.cone_volume(400, 0, 100))
    assert mass.cone_inertia(400, 0, 100) == pytest.approx(0.3 * cone * 0.2**2, rel=1e-12)
    assert mass.cone_volume(400, 0, 100) == pytest.approx(math.pi * 200**2 * 100 / 3)
