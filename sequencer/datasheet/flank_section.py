"""Flank tolerances of one helix, rounded as the standard prints them."""

from __future__ import annotations

from typing import Final

from sequencer.datasheet.sheet import Section, Statement
from sequencer.datasheet.values import Values
from sequencer.errors import OutOfRange
from sequencer.gears import FlankTolerances, flank_tolerances, tolerances
from sequencer.operations.operation import Fact
from sequencer.part.tolerances import FlankClass
from sequencer.units import Deg, Mm

#: Symbol by the name of the tolerance, in the order of the sheet.
SYMBOLS: Final = {
    "single_pitch": "fpT",
    "total_cumulative_pitch": "FpT",
    "profile_slope": "fHalphaT",
    "profile_form": "ffalphaT",
    "profile_total": "FalphaT",
    "helix_slope": "fHbetaT",
    "helix_form": "ffbetaT",
    "helix_total": "FbetaT",
    "runout": "FrT",
}


def flank_section(
    given: FlankClass,
    reference_diameter: Mm,
    module: Mm,
    face_width: Mm,
    teeth: int,
    helix_angle: Deg,
    name: str,
) -> Section:
    """Give the flank tolerances of one helix, or why there are none.

    Parameters
    ----------
    given
        Class with standard and year.
    reference_diameter
        Reference diameter [mm].
    module
        Normal module [mm].
    face_width
        Face width of this helix [mm].
    teeth
        Number of teeth [-].
    helix_angle
        Helix angle without sign [deg].
    name
        Heading.
    """
    try:
        found = flank_tolerances(
            given.standard,
            given.year,
            given.number,
            reference_diameter,
            module,
            face_width,
            teeth=teeth,
            helix_angle=helix_angle,
        )
    except OutOfRange as error:
        return Section(name, (Statement("flank tolerances", f"none: {error}"),))
    values = _values(found, reference_diameter, module, face_width)
    rounded = vars(found.rounded)
    lines = [values.fact(f"{symbol}/{found.year}", rounded=rounded[name]) for name, symbol in SYMBOLS.items()]
    first = (Statement("class", str(given)), values.fact("g"))
    means = _means(values) if found.year == 1995 else ()
    return Section(name, (*first, *means, *lines))


def _values(found: FlankTolerances, diameter: Mm, module: Mm, width: Mm) -> Values:
    values = {
        "A": float(found.flank_class),
        "g": tolerances.class_factor(found.flank_class),
        "d": diameter,
        "mn": module,
        "b": width,
    }
    if found.year == 1995:
        for symbol, value, steps in (
            ("D", diameter, tolerances.DIAMETER_STEPS_1995),
            ("M", module, tolerances.MODULE_STEPS_1995),
            ("B", width, tolerances.FACE_WIDTH_STEPS_1995),
        ):
            values[symbol] = tolerances.mean_of_range(symbol, value, steps)
    unrounded = vars(found.unrounded)
    return Values({**values, **{symbol: unrounded[name] for name, symbol in SYMBOLS.items()}})


def _means(values: Values) -> tuple[Fact, ...]:
    source = "ISO 1328-1:1995 (from memory), geometric mean of the size range"
    return (
        values.given("D", "mean reference diameter", source),
        values.given("M", "mean module", source),
        values.given("B", "mean face width", source),
    )
