"""Choice, limits and messages of the splines."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import OutOfRange
from sequencer.gears import SplineData, ansi_b92_1, din_5480, iso_4156, spline_data
from sequencer.gears.iso_4156 import iso_4156_deviation_allowance, iso_4156_total_tolerance, next_r40
from sequencer.gears.spline_limits import spline_limits

REFUSED = [
    (
        lambda: spline_data("DIN 5481", module=2.0),
        r"spline standard 'DIN 5481' is unknown \(known: DIN 5480, ISO",
    ),
    (lambda: spline_data("DIN 5480", module=2.0), r"reference diameter is missing"),
    (lambda: spline_data("ISO 4156", module=2.0), r"number of teeth is missing"),
    (lambda: spline_data("ANSI B92.1", module=0.0, teeth=20), r"module is 0 mm"),
    (lambda: spline_data("ISO 4156", module=2.0, teeth=20, root="round"), r"root 'round' is unknown"),
    (lambda: spline_data("ANSI B92.1", module=2.0, teeth=20, root="round"), r"root 'round' is unknown"),
    (
        lambda: spline_data("DIN 5480", module=2.0, reference_diameter=50.0, pressure_angle=45.0),
        r"pressure angle is 45 deg \(30 deg\)",
    ),
    (lambda: din_5480(501.0, 2.0), r"reference diameter is 501 mm .*at most 500 mm"),
    (lambda: din_5480(50.0, 0.4), r"module is 0.4 mm .*at least 0.5 mm"),
    (lambda: din_5480(50.0, 10.0), r"number of teeth is \d .*Use a smaller module"),
    (lambda: din_5480(120.0, 3.0, 36), r"36 teeth need a profile shift factor of 1.450 .*Use 38 teeth"),
    (lambda: din_5480(120.0, 3.0, dedendum_factor=1.25), r"dedendum factor is 1.25"),
    (lambda: iso_4156(0.2, 20), r"module is 0.2 mm"),
    (lambda: iso_4156(2.0, 5), r"number of teeth is 5"),
    (
        lambda: iso_4156(2.0, 20, pressure_angle=20.0),
        r"profile 20 deg flat root is unknown \(known: 30 deg flat",
    ),
    (lambda: iso_4156(2.0, 20, pressure_angle=45.0), r"profile 45 deg flat root is unknown"),
    (lambda: iso_4156(2.0, 20, fit="H"), r"fit 'H' on a shaft"),
    (lambda: iso_4156(2.0, 20, fit="h", internal=True), r"fit 'h' on a hub"),
    (lambda: iso_4156(2.0, 20, fit="g"), r"fit 'g' is unknown \(known: H, d, e, f, h, js, k\)"),
    (lambda: iso_4156(2.0, 20, tolerance_class=3), r"tolerance class is 3 .*from 4 to 7"),
    (lambda: iso_4156(2.0, 20, tolerance_class=5, length=0.0), r"spline length is 0 mm"),
    (lambda: iso_4156(10.0, 120, fit="f"), r"diameter is 1200 mm .*at most 1000 mm"),
    (lambda: ansi_b92_1(2.0, 20), r"diametral pitch is 2 1/in .*at least 2.5 1/in and at most 32"),
    (lambda: ansi_b92_1(8.0, 20, pressure_angle=45.0, form="fillet"), r"diametral pitch is 8 1/in"),
    (lambda: ansi_b92_1(12.0, 20, pressure_angle=45.0), r"profile 45 deg flat side is unknown"),
    (lambda: ansi_b92_1(12.0, 3), r"number of teeth is 3"),
    (lambda: next_r40(0.0), r"diameter is 0 mm"),
]


@pytest.mark.parametrize(("call", "words"), REFUSED)
def test_spline_that_no_standard_knows_is_refused(call: object, words: str) -> None:
    with pytest.raises(OutOfRange, match=words) as caught:
        call()  # type: ignore[operator]
    assert caught.value.remedy
    assert caught.value.limit


def test_dispatch_gives_what_the_standards_give() -> None:
    assert spline_data("din 5480", module=2.0, reference_diameter=50.0) == din_5480(50.0, 2.0)
    assert spline_data("ISO 4156", module=2.0, teeth=20, internal=True) == iso_4156(2.0, 20, internal=True)
    filleted = spline_data("ISO 4156", module=2.0, teeth=20, root="fillet")
    assert filleted == iso_4156(2.0, 20, root="fillet")
    for root, form in (("flat", "flat side"), ("fillet", "fillet")):
        found = spline_data("ANSI B92.1", module=25.4 / 12, teeth=20, root=root)
        assert f" {form} 12/24 20T" in found.designation
    inch = spline_data("ANSI B92.1", module=25.4 / 12, teeth=20, root="flat major")
    assert inch.designation == ansi_b92_1(12.0, 20, form="flat major").designation
    assert inch.major_diameter == pytest.approx(21 / 12 * 25.4)


def test_designations_follow_the_standards() -> None:
    assert din_5480(50.0, 2.0).designation == "DIN 5480 - W 50 x 2 x 30 x 24"
    assert din_5480(50.0, 2.0, internal=True).designation == "DIN 5480 - N 50 x 2 x 30 x 24"
    spline = iso_4156(2.5, 24, root="fillet", tolerance_class=5, fit="f")
    assert spline.designation == "EXT 24z x 2.5m x 30R x 5f - ISO 4156"


MAKERS = [
    lambda internal: din_5480(240.0, 4.0, internal=internal),
    lambda internal: din_5480(50.0, 2.0, internal=internal),
    lambda internal: din_5480(51.0, 2.0, internal=internal, dedendum_factor=0.65),
    lambda internal: iso_4156(4.0, 60, internal=internal, tolerance_class=6),
    lambda internal: iso_4156(2.0, 21, internal=internal, pressure_angle=37.5, root="fillet"),
    lambda internal: iso_4156(1.0, 33, internal=internal, pressure_angle=45.0, root="fillet"),
    lambda internal: ansi_b92_1(6.0, 27, internal=internal),
    lambda internal: ansi_b92_1(12.0, 40, internal=internal, pressure_angle=37.5, form="fillet"),
    lambda internal: ansi_b92_1(24.0, 40, internal=internal, form="fillet"),
]


@pytest.mark.parametrize("maker", MAKERS)
def test_shaft_fits_into_its_hub(maker: object) -> None:
    """Tips clear roots on both sides, and the basic tooth fills the basic space."""
    shaft: SplineData = maker(False)  # type: ignore[operator]
    hub: SplineData = maker(True)  # type: ignore[operator]
    assert shaft.major_diameter <= hub.major_diameter
    assert shaft.minor_diameter < hub.minor_diameter
    assert shaft.circular_size == pytest.approx(hub.circular_size)
    assert (
        hub.minor_diameter
        < shaft.pitch_diameter + 2 * shaft.profile_shift * shaft.module
        < shaft.major_diameter
    )
    # the flanks that touch are involutes on both parts
    assert shaft.form_diameter <= hub.minor_diameter
    assert hub.form_diameter >= shaft.major_diameter
    assert shaft.tooth_depth > 0


@pytest.mark.parametrize("maker", MAKERS)
@pytest.mark.parametrize("internal", [False, True])
def test_pins_touch_the_flank_and_stand_out(maker: object, internal: bool) -> None:
    spline: SplineData = maker(internal)  # type: ignore[operator]
    size = spline.pin_size(upper_allowance=0.0, lower_allowance=-0.05 * spline.module)
    assert size.lower < size.upper
    tip = spline.minor_diameter if internal else spline.major_diameter
    inner, outer = sorted((spline.form_diameter, tip))
    assert inner <= size.contact_diameter <= outer
    odd = spline.teeth % 2 == 1
    if not odd:
        assert (size.nominal < tip) if internal else (size.nominal > tip)


def test_pins_of_the_standard_come_first() -> None:
    """R40 sizes for ISO 4156, 1.92 and 1.728 over P for ANSI B92.1, about 2 and 1.75 modules for DIN 5480."""
    assert iso_4156(0.5, 10).pin_size().pin_diameter == 1.06
    assert ansi_b92_1(12.0, 30).pin_size().pin_diameter == pytest.approx(1.92 / 12 * 25.4)
    assert ansi_b92_1(12.0, 30, internal=True).pin_size().pin_diameter == pytest.approx(1.728 / 12 * 25.4)
    assert din_5480(120.0, 3.0).pin_size().pin_diameter == 6.0
    assert din_5480(120.0, 3.0, internal=True).pin_size().pin_diameter == 5.25


def test_without_a_fitting_preferred_pin_the_best_stock_size_is_taken() -> None:
    spline = replace(din_5480(50.0, 2.0), pins=(9.0,))
    assert spline.pin_size().pin_diameter == 3.75


def test_pin_that_does_not_fit_is_refused() -> None:
    spline = din_5480(50.0, 2.0)
    with pytest.raises(OutOfRange, match=r"a pin of 3 mm rests on the root .*Use a larger pin"):
        spline.pin_size(3.0)
    with pytest.raises(
        OutOfRange, match=r"a pin of 9 mm touches at diameter \d+\.\d+ mm \(on the flank, 45.92"
    ):
        spline.pin_size(9.0)
    with pytest.raises(OutOfRange, match=r"circular size from 3.02612 to 2.92612 mm \(lower at most upper"):
        spline.pin_size(upper_allowance=-0.1, lower_allowance=0.0)
    hub = din_5480(50.0, 2.0, internal=True)
    with pytest.raises(OutOfRange, match=r"a pin of 2 mm .*Use a larger pin"):
        hub.pin_size(2.0)
    with pytest.raises(OutOfRange, match=r"no pin of the stock sizes"):
        replace(spline, form_diameter=49.59, pins=()).pin_size()


def test_limits_of_a_class_set_the_pin_limits() -> None:
    spline = iso_4156(2.5, 24, root="fillet", tolerance_class=5, fit="f", length=40.0)
    assert spline.limits is not None
    size = spline.pin_size()
    thinnest = replace(spline, limits=None).pin_size(
        upper_allowance=0.0, lower_allowance=spline.limits.actual_lower - spline.circular_size
    )
    assert size.lower == pytest.approx(thinnest.lower)
    assert size.upper < size.nominal


@settings(deadline=None, derandomize=True)
@given(
    st.floats(0.25, 10.0),
    st.integers(6, 99),
    st.integers(4, 7),
    st.sampled_from(["d", "e", "f", "h", "js", "k"]),
)
def test_iso_4156_limits_are_in_order(module: float, teeth: int, tolerance_class: int, fit: str) -> None:
    spline = iso_4156(module, teeth, tolerance_class=tolerance_class, fit=fit)
    limits = spline.limits
    assert limits is not None
    assert limits.effective_upper > limits.actual_upper > limits.actual_lower
    assert limits.effective_upper > limits.effective_lower > limits.actual_lower
    assert limits.major_lower < limits.major_upper <= spline.major_diameter + 1e-12
    assert limits.minor_lower < limits.minor_upper
    total = iso_4156_total_tolerance(spline.pitch_diameter, module, tolerance_class)
    share = iso_4156_deviation_allowance(
        spline.pitch_diameter, module, tolerance_class, spline.pitch_diameter / 2
    )
    assert limits.actual_upper - limits.actual_lower == pytest.approx((total - share) / 1000)


@settings(deadline=None, derandomize=True)
@given(st.floats(8.0, 500.0), st.sampled_from([0.5, 0.8, 1.0, 1.25, 2.0, 3.0, 5.0, 8.0, 10.0]))
def test_din_5480_finds_teeth_within_its_profile_shifts(diameter: float, module: float) -> None:
    if diameter / module < 7.0 or diameter / module > 500.0:
        with pytest.raises(OutOfRange, match="number of teeth is"):
            din_5480(diameter, module)
        return
    spline = din_5480(diameter, module)
    assert -0.05 - 1e-9 <= spline.profile_shift <= 0.45 + 1e-9
    assert spline.circular_size == pytest.approx(
        module * (pi / 2 + 2 * spline.profile_shift * 0.5773502691896258)
    )


@pytest.mark.parametrize(("wanted", "preferred"), [(1.0, 1.0), (1.01, 1.06), (0.096, 0.1), (95.1, 100.0)])
def test_next_r40(wanted: float, preferred: float) -> None:
    assert next_r40(wanted) == preferred


def test_crossed_diameters_are_refused() -> None:
    with pytest.raises(OutOfRange, match=r"minor diameter 60 mm, major diameter 49.6 mm"):
        replace(din_5480(50.0, 2.0), minor_diameter=60.0)


@settings(deadline=None, derandomize=True, max_examples=60)
@given(
    module=st.floats(0.5, 10.0),
    teeth=st.integers(8, 90),
    tolerance_class=st.integers(4, 7),
    internal=st.booleans(),
)
def test_given_tolerances_make_the_limits_of_the_class(
    module: float, teeth: int, tolerance_class: int, internal: bool
) -> None:
    """The four widths of ISO 4156 follow from its two tolerances as those of the other standards do."""
    spline = iso_4156(module, teeth, internal=internal, tolerance_class=tolerance_class)
    diameter = spline.pitch_diameter
    total = iso_4156_total_tolerance(diameter, module, tolerance_class) / 1000.0
    share = iso_4156_deviation_allowance(diameter, module, tolerance_class, diameter / 2.0) / 1000.0
    made = spline_limits(spline.circular_size, 0.0, total - share, share, internal=internal)
    assert spline.limits is not None
    for name in ("effective_upper", "effective_lower", "actual_upper", "actual_lower"):
        assert getattr(made, name) == pytest.approx(getattr(spline.limits, name))


def test_tolerances_that_leave_no_tooth_are_refused() -> None:
    with pytest.raises(OutOfRange, match="least size of spaces or teeth is -0"):
        spline_limits(1.0, -0.5, 0.4, 0.2, internal=False)
    with pytest.raises(OutOfRange, match="actual tolerance is 0 mm"):
        spline_limits(1.0, 0.0, 0.0, 0.1, internal=True)
