"""What a sheet prints as a formula gives the number beside it: the texts cannot drift from the functions."""

from __future__ import annotations

from pathlib import Path

import pytest
from drawn_teeth import ALL, COMMON, sheet_of
from formula_value import value_of
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from sequencer.datasheet import DataSheet
from sequencer.datasheet.formula import FUNCTIONS, Formula, bracketed, source_of
from sequencer.datasheet.formulas import FORMULAS
from sequencer.datasheet.reference import gears_page
from sequencer.datasheet.values import UNITS
from sequencer.errors import BadFile
from sequencer.gears import diameters

ROOT = Path(__file__).parents[3]
#: What rounding of the printed numbers may change, by unit: absolute, and share of the value.
TOLERANCE = {
    "mm": (2e-5, 5e-6),
    "deg": (2e-6, 1e-6),
    "rad": (5e-7, 1e-6),
    "um": (2e-3, 1e-4),
    "": (2e-6, 1e-5),
}


def check_texts(sheet: DataSheet, slack: float = 1.0) -> int:
    """Compute each printed formula from its text, compare, and count them; rounding may grow by the slack."""
    count = 0
    for fact in sheet.facts:
        if not fact.formula or "trochoid" in fact.formula:
            continue
        parts = fact.formula.split(", rounded")[0].split(" = ")
        symbol, expression, numbers = parts[:3]
        printed = float(parts[-1].split()[0])
        absolute, relative = TOLERANCE.get(fact.unit, TOLERANCE[""])
        assert value_of(numbers, fact.unit) == pytest.approx(
            printed, abs=slack * absolute, rel=slack * relative
        ), fact
        if ", rounded" not in fact.formula:
            assert fact.value == pytest.approx(printed, abs=1e-5, rel=1e-6), fact
        assert symbol.isidentifier()
        assert expression
        assert fact.source, fact
        count += 1
    return count


@pytest.mark.parametrize("name", ALL)
def test_each_text_gives_its_number(name: str) -> None:
    assert check_texts(sheet_of(ALL[name])) >= 10


@settings(
    deadline=None, derandomize=True, max_examples=60, suppress_health_check=[HealthCheck.filter_too_much]
)
@given(
    teeth=st.integers(17, 300),
    module=st.floats(1.0, 25.0),
    helix=st.one_of(st.just(0.0), st.floats(3.0, 40.0)),
    shift=st.floats(-0.3, 0.6),
    internal=st.booleans(),
    width=st.floats(20.0, 300.0),
    year=st.sampled_from((1995, 2013)),
    mate=st.integers(17, 200),
)
def test_texts_of_any_gear_give_their_numbers(
    teeth, module, helix, shift, internal, width, year, mate
) -> None:
    """Any cylindrical gear with any mate: each text agrees with its number."""
    words = {
        **COMMON,
        "kind": "internal_gear" if internal else "external_gear",
        "teeth": str(teeth),
        "module": f"{module:.3f} mm",
        "face_width": f"{width:.2f} mm",
        "profile_shift": f"{shift:.4f}",
        "flank_class": f"ISO 1328-1:{year} class 8",
        "mate_teeth": str(mate),
    }
    if helix:
        words |= {"helix_angle": f"{helix:.4f} deg", "hand": "left"}
    try:
        sheet = sheet_of(words)
    except BadFile:
        assume(False)
    assert check_texts(sheet) >= 10


def test_every_symbol_of_every_formula_is_explained() -> None:
    """No formula uses a symbol without unit and meaning."""
    import re

    for formula in FORMULAS.values():
        for text in (formula.expression, formula.straight):
            for word in re.findall(r"[A-Za-z][A-Za-z_0-9]*", text):
                assert word in FUNCTIONS or word in UNITS, (formula, word)


def test_every_formula_names_its_source() -> None:
    assert all(formula.source for formula in FORMULAS.values())


def test_source_is_that_of_the_function() -> None:
    """The source is written once, in the docstring of the formula."""
    assert source_of(diameters.reference_diameter) == "ISO 21771:2007 (from memory)"
    assert FORMULAS["d"].source == "ISO 21771:2007 (from memory)"


def test_straight_teeth_lose_their_helix() -> None:
    assert FORMULAS["d"].straight == "z*mn"
    assert FORMULAS["xmin"].straight == "hFfP - z*sin(alpha_n)^2/2"
    assert "beta" not in FORMULAS["dK"].straight


def test_negative_numbers_stand_in_brackets() -> None:
    formula = Formula("y", "example", "mm", "2*x + q", "derived")
    text = formula.text({"x": bracketed(-0.5, ""), "q": bracketed(3.0, "mm"), "y": bracketed(2.0, "mm")})
    assert text == "y = 2*x + q = 2*(-0.5) + 3 = 2 mm"


def test_page_of_formulas_is_current() -> None:
    """Run python -m sequencer.datasheet.reference after a change of the texts."""
    assert (ROOT / "docs" / "gears.md").read_text(encoding="utf-8") == gears_page()
