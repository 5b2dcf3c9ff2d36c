"""Splines against published dimensions and worked examples.

DIN 5480: dimension row 120 x 3 x 38 recalled; measurement and span of W 50 x 2 x 24 from a public tutorial
that quotes the standard (seen); limits of N and W 120 x 3 x 38: figure 6 of DIN 5480-1:2006 (from memory).
ISO 4156-1:2005: worked examples of its annex as quoted in the test of a
public calculation (seen), 25 teeth, module 1; basic dimensions 2.5 x 32 by published formulas.
ANSI B92.1: table of basic dimensions in Machinery's Handbook (formulas seen, numbers ours).
"""

from __future__ import annotations

from math import hypot, pi, radians, sqrt, tan

import pytest

from sequencer.gears import SplineData, ansi_b92_1, din_5480, iso_4156
from sequencer.gears.iso_4156 import iso_4156_deviation_allowance, iso_4156_fundamental_deviation
from sequencer.gears.span import span
from sequencer.gears.spline_limits import spline_limits


def test_din_5480_row_120_x_3_x_38() -> None:
    """DIN 5480-2:2006, dimension row; roots as for broaching, 0.55 m."""
    shaft, hub = din_5480(120.0, 3.0, 38), din_5480(120.0, 3.0, 38, internal=True)
    assert shaft.profile_shift * 3.0 == pytest.approx(1.35, abs=0.005)
    assert shaft.pitch_diameter == pytest.approx(114.0)
    assert shaft.base_diameter == pytest.approx(98.727, abs=5e-4)
    assert (shaft.major_diameter, shaft.minor_diameter) == (pytest.approx(119.4), pytest.approx(113.4))
    assert (hub.minor_diameter, hub.major_diameter) == (pytest.approx(114.0), pytest.approx(120.0))
    assert shaft.circular_size == pytest.approx(6.271, abs=5e-4)
    assert hub.circular_size == shaft.circular_size


def test_din_5480_pairs_teeth_with_the_reference_diameter() -> None:
    """DIN 5480: 38 teeth belong to 120 x 3, 24 teeth to 50 x 2."""
    assert din_5480(120.0, 3.0).teeth == 38
    assert din_5480(50.0, 2.0).teeth == 24


def test_din_5480_limits_of_120_x_3_x_38() -> None:
    """DIN 5480-1:2006, figure 6: N 9H 6.271 to 6.361 mm; W 8f 6.243 (As -28 um) to 6.180 mm (from memory).

    Only the sums Teff + Tact of 90 um and 63 um follow from these; how they divide is ours.
    """
    hub, shaft = din_5480(120.0, 3.0, 38, internal=True), din_5480(120.0, 3.0, 38)
    wide = spline_limits(hub.circular_size, 0.0, 0.057, 0.033, internal=True)
    thin = spline_limits(shaft.circular_size, -0.028, 0.040, 0.023, internal=False)
    assert wide.effective_lower == pytest.approx(6.271, abs=5e-4)
    assert wide.actual_upper == pytest.approx(6.361, abs=5e-4)
    assert thin.effective_upper == pytest.approx(6.243, abs=5e-4)
    assert thin.actual_lower == pytest.approx(6.180, abs=5e-4)


def test_din_5480_measurement_over_pins() -> None:
    """W 50 x 2 x 24 over 4 mm pins 54.218 mm, upper size without allowance (8h)."""
    size = din_5480(50.0, 2.0, 24).pin_size()
    assert size.pin_diameter == 4.0
    assert size.nominal == pytest.approx(54.218, abs=5e-4)


def test_din_5480_span() -> None:
    """W 50 x 2 x 24: span over 4 teeth 21.179 mm."""
    spline = din_5480(50.0, 2.0, 24)
    assert span(2.0, 24, 4, 30.0, profile_shift=spline.profile_shift) == pytest.approx(21.179, abs=5e-4)


def test_iso_4156_basic_dimensions() -> None:
    """ISO 4156-1, 30 deg flat root, module 2.5, 32 teeth."""
    shaft, hub = iso_4156(2.5, 32), iso_4156(2.5, 32, internal=True)
    assert shaft.pitch_diameter == pytest.approx(80.0, abs=5e-5)
    assert shaft.base_diameter == pytest.approx(69.282, abs=5e-5)
    assert hub.major_diameter == pytest.approx(83.75, abs=5e-5)
    assert shaft.major_diameter == pytest.approx(82.5, abs=5e-5)
    assert shaft.minor_diameter == pytest.approx(76.25, abs=5e-5)
    assert hub.circular_size == pytest.approx(3.927, abs=5e-5)
    assert hub.base_pitch == pytest.approx(6.8017, abs=5e-5)


HUBS = [
    # class, root, length; major max, form, minor min; actual max, effective max, actual min, effective min
    (5, "flat", None, (26.74, 26.20, 24.09), (1.626, 1.603, 1.593, 1.571)),
    (7, "fillet", 25.0, (27.04, 26.20, 24.09), (1.708, 1.660, 1.620, 1.571)),
]


@pytest.mark.parametrize(("tolerance_class", "root", "length", "diameters", "widths"), HUBS)
def test_iso_4156_hub_examples(
    tolerance_class: int,
    root: str,
    length: float | None,
    diameters: tuple[float, ...],
    widths: tuple[float, ...],
) -> None:
    """ISO 4156-1:2005, annex A: INT 25z x 1m x 30P x 5H and 30R x 7H (length 25 mm)."""
    spline = iso_4156(
        1.0,
        25,
        internal=True,
        root="flat" if root == "flat" else "fillet",
        tolerance_class=tolerance_class,
        length=length,
    )
    limits = spline.limits
    assert limits is not None
    found = (limits.major_upper, spline.form_diameter, spline.minor_diameter)
    assert tuple(round(each, 2) for each in found) == diameters
    sizes = (limits.actual_upper, limits.effective_upper, limits.actual_lower, limits.effective_lower)
    assert tuple(round(each, 3) for each in sizes) == widths
    assert spline.base_diameter == pytest.approx(21.6506, abs=5e-5)


SHAFTS = [
    # class, fit, root; major max, form max, minor min; effective max, actual max, effective min, actual min
    (4, "h", "flat", (26.00, 23.89, 23.26), (1.571, 1.555, 1.552, 1.536)),
    (6, "e", "fillet", (25.93, 23.83, 22.89), (1.531, 1.498, 1.477, 1.445)),
    (5, "js", "flat", (26.00, 23.93, 23.31), (1.599, 1.576, 1.566, 1.544)),
]


@pytest.mark.parametrize(("tolerance_class", "fit", "root", "diameters", "thicknesses"), SHAFTS)
def test_iso_4156_shaft_examples(
    tolerance_class: int, fit: str, root: str, diameters: tuple[float, ...], thicknesses: tuple[float, ...]
) -> None:
    """ISO 4156-1:2005, annex A: EXT 25z x 1m x 30P x 4h, 30R x 6e and 30P x 5js."""
    spline = iso_4156(
        1.0, 25, root="flat" if root == "flat" else "fillet", tolerance_class=tolerance_class, fit=fit
    )
    limits = spline.limits
    assert limits is not None
    found = (spline.major_diameter, spline.form_diameter, limits.minor_lower)
    assert tuple(round(each, 2) for each in found) == diameters
    sizes = (limits.effective_upper, limits.actual_upper, limits.effective_lower, limits.actual_lower)
    assert tuple(round(each, 3) for each in sizes) == thicknesses


def _inches(spline: SplineData, name: str) -> float:
    return float(getattr(spline, name)) / 25.4


def test_ansi_b92_1_basic_dimensions() -> None:
    """12/24 pitch, 30 teeth, 30 deg flat root side fit: D 2.5, Db 2.165064 in (seen); table formulas."""
    shaft, hub = ansi_b92_1(12.0, 30), ansi_b92_1(12.0, 30, internal=True)
    assert _inches(shaft, "pitch_diameter") == pytest.approx(2.5)
    assert _inches(shaft, "base_diameter") == pytest.approx(2.165064, abs=5e-7)
    assert _inches(shaft, "major_diameter") == pytest.approx(31 / 12)
    assert _inches(shaft, "minor_diameter") == pytest.approx(28.65 / 12)
    assert _inches(hub, "major_diameter") == pytest.approx(31.35 / 12)
    assert _inches(hub, "minor_diameter") == pytest.approx(29 / 12)
    assert _inches(hub, "circular_size") == pytest.approx(0.1309, abs=5e-5)
    assert _inches(hub, "form_diameter") == pytest.approx(31 / 12 + 0.005)


@pytest.mark.parametrize(
    ("angle", "pitch", "hub_major", "hub_minor", "shaft_minor", "width"),
    [(37.5, 12.0, 1.6, 0.8, 1.3, 0.1), (45.0, 12.0, 1.4, 0.6, 1.0, 0.2), (30.0, 12.0, 1.8, 1.0, 1.8, 0.0)],
)
def test_ansi_b92_1_fillet_root(
    angle: float, pitch: float, hub_major: float, hub_minor: float, shaft_minor: float, width: float
) -> None:
    """Table of basic dimensions, fillet root side fit; the width at 45 deg from memory."""
    shaft = ansi_b92_1(pitch, 20, pressure_angle=angle, form="fillet")
    hub = ansi_b92_1(pitch, 20, internal=True, pressure_angle=angle, form="fillet")
    assert _inches(hub, "major_diameter") == pytest.approx((20 + hub_major) / pitch)
    assert _inches(hub, "minor_diameter") == pytest.approx((20 - hub_minor) / pitch)
    assert _inches(shaft, "minor_diameter") == pytest.approx((20 - shaft_minor) / pitch)
    assert _inches(shaft, "circular_size") == pytest.approx((1.5707963 + width) / pitch, abs=1e-8)


HANDBOOK = [
    # class, index deviation per root of pi m z/2 and constant, profile, lead (all um)
    (4, (2.5, 6.3), (1.6, 10.0), (0.8, 4.0)),
    (5, (3.55, 9.0), (2.5, 16.0), (1.0, 5.0)),
    (6, (5.0, 12.5), (4.0, 25.0), (1.25, 6.3)),
    (7, (7.1, 18.0), (6.3, 40.0), (2.0, 10.0)),
]


@pytest.mark.parametrize(("tolerance_class", "index", "profile", "lead"), HANDBOOK)
def test_deviations_of_metric_splines(
    tolerance_class: int, index: tuple[float, float], profile: tuple[float, float], lead: tuple[float, float]
) -> None:
    """Machinery's Handbook, 31st edition, metric module involute splines, table 16 (seen): Fp, ff, Fbeta."""
    module, teeth, length = 2.5, 32, 40.0
    deviations = (
        index[0] * sqrt(module * teeth * pi / 2) + index[1],
        profile[0] * module * (1 + 0.0125 * teeth) + profile[1],
        lead[0] * sqrt(length) + lead[1],
    )
    share = iso_4156_deviation_allowance(module * teeth, module, tolerance_class, length)
    assert share == pytest.approx(0.6 * hypot(*deviations))


REDUCTIONS = [(2.0, 0.035, 0.024, 0.010), (15.0, 0.087, 0.055, 0.028), (100.0, 0.208, 0.125, 0.062),
              (150.0, 0.251, 0.147, 0.074), (900.0, 0.554, 0.294, 0.149)]  # fmt: skip


@pytest.mark.parametrize(("diameter", "d", "e", "f"), REDUCTIONS)
def test_reduction_by_the_fit(diameter: float, d: float, e: float, f: float) -> None:
    """Machinery's Handbook, 31st edition, table 17 (seen): es/tan 30 deg of fits d, e and f, mm."""
    for fit, reduction in (("d", d), ("e", e), ("f", f)):
        deviation = -iso_4156_fundamental_deviation(diameter, fit, 0.0) / 1000.0
        assert deviation / tan(radians(30.0)) == pytest.approx(reduction, abs=6e-4)
