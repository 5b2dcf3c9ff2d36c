"""Root of a DIN 5480 spline: by the drawing, by the method, or the usual one; inch sheets say their units."""

from __future__ import annotations

import pytest

from sequencer.datasheet import DataSheet, Statement, data_sheet
from sequencer.datasheet.options import wanted_from_options
from sequencer.errors import BadFile
from sequencer.part.spline_teeth import din_root, spline_dimensions
from sequencer.part.toothed import Spline

_SPLINE = {
    "kind": "spline", "standard": "DIN 5480", "teeth": "24", "module": "4 mm", "reference_diameter": "100 mm",
    "face_width": "50 mm",
}  # fmt: skip


def spline(**keys: str) -> Spline:
    """Make a spline of the standard."""
    feature = wanted_from_options(_SPLINE).feature
    assert isinstance(feature, Spline)
    return feature.model_copy(update=keys)


@pytest.mark.parametrize(
    ("keys", "making", "known_by", "minor"),
    [
        ({}, "hobbed", "", 90.8),
        ({"method": "power skiving"}, "hobbed", "method", 90.8),
        ({"method": "shaping"}, "shaped", "method", 90.4),
        ({"method": "hobbing", "root": "rolled"}, "rolled", "root", 88.88),
        ({"root": "broached"}, "broached", "root", 91.2),
    ],
)
def test_root_of_a_shaft(keys: dict[str, str], making: str, known_by: str, minor: float) -> None:
    """df1 = m z + 2 x m - 2 hfP with x -0.05, so 95.6 mm less 2 hfP."""
    made = spline(**keys)
    assert (din_root(made).making, din_root(made).known_by) == (making, known_by)
    assert spline_dimensions(made).minor_diameter == pytest.approx(minor)


def test_a_hub_is_broached_unless_something_else_is_said() -> None:
    assert din_root(spline(place="inside")).making == "broached"
    assert din_root(spline(place="inside", method="shaping")).making == "shaped"


def lines(sheet: DataSheet) -> dict[str, str]:
    """Statements of a sheet by name."""
    return {
        line.name: line.words for part in sheet.sections for line in part.lines if isinstance(line, Statement)
    }


def test_an_assumed_root_is_marked_and_a_given_one_is_not() -> None:
    for root, estimate in (({}, True), ({"root": "hobbed"}, False)):
        sheet = data_sheet(wanted_from_options(_SPLINE | root))
        (fact,) = (fact for fact in sheet.facts if fact.name == "dedendum of the rack, hobbed")
        assert (fact.value, fact.estimate) == (0.6, estimate)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (_SPLINE | {"root": "flat"}, "root flat: DIN 5480 has broached, hobbed, shaped, rolled"),
        (
            {"kind": "spline", "standard": "ISO 4156", "teeth": "24", "module": "4 mm", "face_width": "50 mm",
             "root": "hobbed"},
            "root hobbed: ISO 4156 has flat, fillet, flat major",
        ),
    ],
)  # fmt: skip
def test_a_root_of_another_standard_is_refused(words: dict[str, str], message: str) -> None:
    with pytest.raises(BadFile, match=message):
        wanted_from_options(words)


def test_an_inch_sheet_says_that_its_formulas_stay_in_mm() -> None:
    gear = {"teeth": "24", "module": "NDP 6", "face_width": "2 in"}
    assert (
        "formulas are computed in mm"
        in lines(data_sheet(wanted_from_options(gear | {"units": "in"})))["units"]
    )
    assert "units" not in lines(data_sheet(wanted_from_options(gear)))
