"""Any teeth in the ranges of the trade: a right sheet or a refusal with its limit, never nan or a crash."""

from __future__ import annotations

import json
import re
from math import isfinite

import pytest
from drawn_teeth import COMMON, sheet_of, value
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq
from test_formula_texts import check_texts

from sequencer.datasheet import DataSheet
from sequencer.errors import BadFile
from sequencer.papers.gear_sheet import gear_json, gear_lines

_WILD = re.compile(r"\b(nan|inf|None)\b")
_ANY = settings(deadline=None, derandomize=True, max_examples=250)


def check_sheet(sheet: DataSheet) -> None:
    """Hold a sheet to finite numbers and texts that give them; JSON holds no nan."""
    assert all(isfinite(fact.value) for fact in sheet.facts)
    for line in gear_lines(sheet):
        assert not _WILD.search(line), line
    assert json.loads(gear_json(sheet))["sections"]


def check_words(words: dict[str, str]) -> None:
    """A sheet or a refusal that names a limit, a remedy or what is wrong in words."""
    try:
        sheet = sheet_of(words)
    except BadFile as error:
        told = str(error)
    else:
        check_sheet(sheet)
        return
    assert not _WILD.search(told), told
    assert len(told.split()) > 4, told


@st.composite
def modules(draw: st.DrawFn, *, helical: bool) -> str:
    """Modules 0.5 to 50 as a module or a pitch, normal or transverse."""
    size = draw(st.floats(0.5, 50.0))
    ways = ["{:.4f} mm", "NDP {:.5f}", "TDP {:.5f}"] + ([] if helical else ["DP {:.5f}"])
    way = draw(st.sampled_from(ways))
    return way.format(size if "mm" in way else 25.4 / size)


@st.composite
def thickness(draw: st.DrawFn, *, mate: bool) -> dict[str, str]:
    """One of the ways to the tooth thickness."""
    tolerance = {"thickness_tolerance": f"{draw(st.floats(0.01, 0.3)):.3f} mm"}
    ways: list[dict[str, str]] = [
        {},
        {"thickness_upper": "-0.02 mm", "thickness_lower": f"-{draw(st.floats(0.03, 0.5)):.3f} mm"},
        {"thickness_class": draw(st.sampled_from(("27cd", "24 e", "DIN 3967 21h", "30a")))},
        {
            **tolerance,
            "backlash": f"{draw(st.floats(0.01, 0.6)):.3f} mm",
            "backlash_share": f"{draw(st.floats(0.0, 1.0)):.2f}",
            "backlash_kind": draw(st.sampled_from(("normal", "circumferential"))),
        },
    ]
    if mate:
        ways.append({**tolerance, "backlash_system": "ISO/TR 10064-2"})
    return draw(st.sampled_from(ways))


@st.composite
def cylindrical(draw: st.DrawFn) -> dict[str, str]:
    """External, internal and double-helical gears over the whole range, with and without mate."""
    kind = draw(st.sampled_from(("external_gear", "internal_gear", "double_helical_gear")))
    helix = draw(
        st.floats(0.5, 45.0) if kind.startswith("double") else st.sampled_from((0.0, 8.0, 30.0, 45.0))
    )
    teeth = draw(st.one_of(st.integers(5, 1000), st.integers(5, 40), st.just(1000)))
    words = {
        "kind": kind,
        "teeth": str(teeth),
        "module": draw(modules(helical=helix > 0)),
        "face_width": f"{draw(st.floats(1.0, 1300.0)):.2f} mm",
        "profile_shift": f"{draw(st.floats(-2.0, 3.0)):.4f}",
        "pressure_angle": draw(st.sampled_from(("20 deg", "14.5 deg", "25 deg", "35 deg"))),
        "flank_class": f"ISO 1328-1:{draw(st.sampled_from((1995, 2013)))} class {draw(st.integers(1, 11))}",
        "units": draw(st.sampled_from(("mm", "in"))),
    }
    if helix:
        words |= {"helix_angle": f"{helix:.4f} deg", "hand": draw(st.sampled_from(("left", "right")))}
    if kind == "double_helical_gear":
        words |= {"gap": "60 mm", "apex_tolerance": "0.05 mm"}
    mate = draw(st.sampled_from(("none", "far", "near")))
    if mate != "none":
        count = max(5, teeth + draw(st.integers(-9, 9))) if mate == "near" else draw(st.integers(5, 1000))
        words |= {"mate_teeth": str(count), "mate_shift": f"{draw(st.floats(-1.0, 1.5)):.3f}"}
        if kind == "external_gear" and draw(st.booleans()):
            words["mate_internal"] = "yes"
    return words | draw(thickness(mate=mate != "none"))


@st.composite
def splines(draw: st.DrawFn) -> dict[str, str]:
    """Splines of each standard, many with few teeth."""
    standard = draw(st.sampled_from(("DIN 5480", "ISO 4156", "ANSI B92.1")))
    teeth, size = draw(st.one_of(st.integers(6, 12), st.integers(6, 200))), draw(st.floats(0.25, 10.0))
    words = {
        "kind": "spline",
        "standard": standard,
        "teeth": str(teeth),
        "module": f"{size:.4f} mm",
        "face_width": f"{draw(st.floats(1.0, 400.0)):.2f} mm",
        "place": draw(st.sampled_from(("inside", "outside"))),
        "pressure_angle": draw(st.sampled_from(("30 deg", "37.5 deg", "45 deg"))),
    }
    if standard == "DIN 5480":
        shift = draw(st.floats(-0.08, 0.48))
        words |= {
            "reference_diameter": f"{size * (teeth + 1.1 + 2 * shift):.4f} mm",
            "pressure_angle": "30 deg",
        }
    elif draw(st.booleans()):
        words["root"] = draw(st.sampled_from(("flat", "fillet", "flat major")))
    tolerances = {
        "actual_tolerance": "0.04 mm",
        "effective_tolerance": f"{draw(st.floats(0.01, 0.4)):.3f} mm",
    }
    ways: tuple[dict[str, str], ...] = (
        {},
        {"tolerance_class": draw(st.sampled_from(("7H", "5f", "4js", "k/6", "9H")))},
        tolerances,
        {**tolerances, "size_deviation": f"{draw(st.floats(-0.4, 0.1)):.3f} mm"},
    )
    return words | draw(st.sampled_from(ways))


@st.composite
def bevels(draw: st.DrawFn) -> dict[str, str]:
    """Straight and spiral bevel gears at any shaft angle."""
    words = {
        "kind": "bevel_gear",
        "teeth": str(draw(st.integers(5, 120))),
        "mate_teeth": str(draw(st.integers(5, 120))),
        "module": f"{draw(st.floats(0.5, 30.0)):.3f} mm",
        "face_width": f"{draw(st.floats(2.0, 200.0)):.2f} mm",
        "mounting_distance": f"{draw(st.floats(20.0, 2500.0)):.2f} mm",
        "shaft_angle": draw(st.sampled_from(("90 deg", "60 deg", "15 deg", "120 deg", "170 deg"))),
    }
    if draw(st.booleans()):
        words |= {"spiral_angle": f"{draw(st.floats(1.0, 50.0)):.2f} deg", "hand": "right"}
    return words


@_ANY
@given(cylindrical())
def test_any_cylindrical_gear(words: dict[str, str]) -> None:
    check_words(words)


@_ANY
@given(splines())
def test_any_spline(words: dict[str, str]) -> None:
    check_words(words)


@_ANY
@given(bevels())
def test_any_bevel_gear(words: dict[str, str]) -> None:
    check_words(words)


@settings(deadline=None, derandomize=True, max_examples=60)
@given(
    teeth=st.integers(12, 1000),
    module=st.floats(0.5, 50.0),
    helix=st.sampled_from((0.0, 10.0, 33.0, 45.0)),
    shift=st.floats(-0.4, 0.8),
    internal=st.booleans(),
)
def test_profile_shift_comes_back_from_the_measurement(
    teeth: int, module: float, helix: float, shift: float, internal: bool
) -> None:
    """Solve the printed measurement over the printed ball for the profile shift: it is the one put in."""
    words = {
        **COMMON,
        "kind": "internal_gear" if internal else "external_gear",
        "teeth": str(teeth),
        "module": f"{module!r} mm",
        "profile_shift": repr(shift),
        "thickness_lower": "-0.07 mm",
    }
    if helix:
        words |= {"helix_angle": f"{helix} deg", "hand": "left"}
    try:
        sheet = sheet_of(words)
        ball = value(sheet, "ball diameter")
    except (BadFile, StopIteration):
        assume(False)
    over = "between" if internal else "over"
    wanted = value(sheet, f"measurement {over} balls, nominal")

    def off(trial: float) -> float:
        tried = sheet_of({**words, "profile_shift": repr(trial), "ball_diameter": f"{ball!r} mm"})
        return value(tried, f"measurement {over} balls, nominal") - wanted

    low, high = shift - 0.01, shift + 0.01
    try:
        found = brentq(off, low, high, xtol=1e-12)
    except (BadFile, StopIteration):
        assume(False)
    assert found == pytest.approx(shift, abs=1e-8)


@settings(deadline=None, derandomize=True, max_examples=80)
@given(cylindrical())
def test_texts_of_wild_gears_give_their_numbers(words: dict[str, str]) -> None:
    """The printed formulas agree with the numbers over the whole range too."""
    try:
        sheet = sheet_of(words)
    except BadFile:
        assume(False)
    assert check_texts(sheet, slack=20.0) >= 5
