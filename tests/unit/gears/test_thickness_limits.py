"""Limits of the tooth thickness against the pair that they make."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, radians

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear, pair
from sequencer.gears.thickness import profile_shift_from_thickness
from sequencer.gears.thickness_limits import (
    DIN_3967_ALLOWANCES,
    DIN_3967_DIAMETERS,
    DIN_3967_TOLERANCES,
    allowance_from_backlash,
    din_3967_allowance,
    din_3967_range,
    din_3967_tolerance,
    normal_backlash_from_allowance,
    normal_backlash_from_circumferential,
    normal_backlash_from_shift,
    recommended_least_backlash,
)


def thinned(gear: CylindricalGear, allowance: float) -> CylindricalGear:
    """The same teeth thinner by an allowance: a rack-shaped tool fed in deeper."""
    thickness = gear.normal_tooth_thickness + allowance
    shift = profile_shift_from_thickness(
        gear.normal_module, thickness, gear.pressure_angle, internal=gear.internal
    )
    return CylindricalGear(
        normal_module=gear.normal_module,
        teeth=gear.teeth,
        face_width=gear.face_width,
        helix_angle=gear.helix_angle,
        hand=gear.hand,
        profile_shift=shift,
        pressure_angle=gear.pressure_angle,
        given_tip_diameter=gear.tip_diameter,
        given_root_diameter=gear.root_diameter,
        internal=gear.internal,
    )


@settings(deadline=None, derandomize=True, max_examples=150)
@given(
    teeth=st.tuples(st.integers(17, 90), st.integers(17, 90)),
    module=st.floats(1.0, 20.0),
    helix=st.floats(1.0, 40.0),
    shifts=st.tuples(st.floats(-0.1, 0.6), st.floats(-0.1, 0.6)),
    backlash=st.floats(0.01, 0.08),
    share=st.floats(0.0, 1.0),
)
def test_the_allowances_leave_the_backlash(
    teeth: tuple[int, int],
    module: float,
    helix: float,
    shifts: tuple[float, float],
    backlash: float,
    share: float,
) -> None:
    """Pitch less both thicknesses on the working pitch circles is the circumferential backlash."""
    wanted = backlash * module
    angle = pair.working_pressure_angle(*teeth, *shifts, 20.0, helix)
    try:
        gears = [
            CylindricalGear(
                normal_module=module,
                teeth=count,
                face_width=50.0,
                helix_angle=helix,
                hand="right",
                profile_shift=shift,
            )
            for count, shift in zip(teeth, shifts, strict=True)
        ]
    except OutOfRange:
        assume(False)
    allowances = [allowance_from_backlash(wanted, each) for each in (share, 1.0 - share)]
    thin = [thinned(gear, allowance) for gear, allowance in zip(gears, allowances, strict=True)]
    working = [gear.base_diameter / cos(radians(angle)) for gear in gears]
    assume(all(size > gear.base_diameter for size, gear in zip(working, gears, strict=True)))
    around = pi * working[0] / teeth[0] - sum(
        gear.tooth_thickness_at(size) for gear, size in zip(thin, working, strict=True)
    )
    made = normal_backlash_from_circumferential(around, angle, gears[0].base_helix_angle)
    assert made == pytest.approx(wanted, rel=1e-9, abs=1e-9)
    assert sum(normal_backlash_from_allowance(each) for each in allowances) == pytest.approx(wanted)


@settings(deadline=None, derandomize=True, max_examples=80)
@given(
    teeth=st.tuples(st.integers(20, 60), st.integers(61, 120)),
    helix=st.floats(1.0, 35.0),
    spare=st.floats(0.001, 0.05),
    internal=st.booleans(),
)
def test_shifts_that_fall_short_leave_backlash(
    teeth: tuple[int, int], helix: float, spare: float, internal: bool
) -> None:
    """At another centre distance both thicknesses on the working pitch circles fall short of the pitch."""
    pinion = CylindricalGear(
        normal_module=4.0, teeth=teeth[0], face_width=50.0, helix_angle=helix, hand="right", profile_shift=0.1
    )
    reference = pair.reference_centre_distance(4.0, *teeth, helix, internal=internal)
    distance = reference * (0.999 if internal else 1.004)
    angle = pair.working_pressure_angle_from_centre_distance(
        reference, pinion.transverse_pressure_angle, distance
    )
    total = pair.profile_shift_sum(*teeth, angle, 20.0, helix, internal=internal)
    mate_shift = 0.1 + total + spare if internal else total - 0.1 - spare
    mate = CylindricalGear(
        normal_module=4.0,
        teeth=teeth[1],
        face_width=50.0,
        helix_angle=helix,
        hand="right" if internal else "left",
        profile_shift=mate_shift,
        internal=internal,
    )
    sizes = [gear.base_diameter / cos(radians(angle)) for gear in (pinion, mate)]
    around = (
        pi * sizes[0] / teeth[0] - pinion.tooth_thickness_at(sizes[0]) - mate.tooth_thickness_at(sizes[1])
    )
    made = normal_backlash_from_circumferential(around, angle, pinion.base_helix_angle)
    assert made == pytest.approx(normal_backlash_from_shift(spare, 4.0), rel=1e-9)


def test_din_3967_grows_with_the_diameter_and_the_series() -> None:
    """Shape of the tables: each step up in diameter or series is a step up in value (from memory)."""
    for values in (*DIN_3967_ALLOWANCES.values(), *DIN_3967_TOLERANCES.values()):
        assert len(values) == len(DIN_3967_DIAMETERS)
        assert list(values) == sorted(values)
    for at in range(len(DIN_3967_DIAMETERS)):
        allowances = [row[at] for row in DIN_3967_ALLOWANCES.values()]
        widths = [row[at] for row in DIN_3967_TOLERANCES.values()]
        assert allowances == sorted(allowances, reverse=True)
        assert widths == sorted(widths)
        # one step of the series of tolerances is one step of the preferred numbers R5
        assert all(1.4 <= wide / narrow <= 1.7 for narrow, wide in pairwise(widths))


def test_din_3967_allowances_follow_one_law() -> None:
    """The rows are one curve over the mean diameter, scaled; a slip of one cell would stand out (derived)."""
    base = DIN_3967_ALLOWANCES["c"]
    for series, row in DIN_3967_ALLOWANCES.items():
        if series in ("g", "h"):
            continue  # few digits: rounding is coarse
        ratios = [value / other for value, other in zip(row, base, strict=True)]
        mean = sum(ratios) / len(ratios)
        assert all(ratio == pytest.approx(mean, rel=0.075) for ratio in ratios), series


def test_a_limit_of_a_range_belongs_to_the_lower_range() -> None:
    assert din_3967_range(125.0) == (50.0, 125.0)
    assert din_3967_range(125.001) == (125.0, 280.0)
    assert din_3967_range(8.0) == (0.0, 10.0)
    assert din_3967_allowance("h", 300.0) == 0.0


def test_beyond_the_tables_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"reference diameter is 10000\.1 mm"):
        din_3967_allowance("cd", 10000.1)
    with pytest.raises(OutOfRange, match="series of tooth thickness allowances 'k' is unknown"):
        din_3967_allowance("k", 100.0)
    with pytest.raises(OutOfRange, match="series of tooth thickness tolerances 31 is unknown"):
        din_3967_tolerance(31, 100.0)
    with pytest.raises(OutOfRange, match="centre distance is 0 mm"):
        recommended_least_backlash(0.0, 3.0)
    with pytest.raises(OutOfRange, match=r"share of the backlash is 1\.2"):
        allowance_from_backlash(0.1, 1.2)
