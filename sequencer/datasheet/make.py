"""Makes the data sheet of a tooth system."""

from __future__ import annotations

from typing import Final

from sequencer.datasheet.bevel_section import bevel_sections
from sequencer.datasheet.flank_section import flank_section
from sequencer.datasheet.gear_block import block_section, gear_values
from sequencer.datasheet.mate_section import mate_section
from sequencer.datasheet.method_sections import method_sections
from sequencer.datasheet.sheet import DataSheet, Section, Statement
from sequencer.datasheet.size_section import size_section
from sequencer.datasheet.spline_sections import spline_sections
from sequencer.datasheet.values import Values
from sequencer.datasheet.wanted import Cylindrical, Toothed, Wanted
from sequencer.gears import CylindricalGear
from sequencer.gears.mesh import arc_between_helices
from sequencer.operations.operation import OperationList
from sequencer.part import Part
from sequencer.part.teeth import cylindrical_gear
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, Spline

#: Head of an inch sheet: sizes are shown in inches, formulas keep the unit they were computed in.
_INCHES: Final = Statement("units", "sizes in inches; formulas are computed in mm and end in mm")


def data_sheet(wanted: Wanted, operations: OperationList | None = None) -> DataSheet:
    """Make the data sheet of a tooth system.

    Parameters
    ----------
    wanted
        What is wanted.
    operations
        Operations of its part on a shop, for the method table; None without a shop.

    Raises
    ------
    OutOfRange
        When teeth of these sizes cannot exist.
    """
    feature = wanted.feature
    sections = _sections(wanted, feature)
    if wanted.units == "in":
        first = sections[0]
        sections = (Section(first.name, (_INCHES, *first.lines)), *sections[1:])
    if operations is not None:
        sections = (*sections, *method_sections(operations, feature.name))
    return DataSheet(f"Gear data of {feature.shown}", wanted.units, sections)


def part_data_sheet(part: Part, feature: Toothed, operations: OperationList | None = None) -> DataSheet:
    """Make the data sheet of a tooth system of a part.

    Parameters
    ----------
    part
        The part.
    feature
        One of its tooth systems.
    operations
        Operations of the part on a shop, for the method table; None without a shop.

    Raises
    ------
    OutOfRange
        When teeth of these sizes cannot exist.
    """
    return data_sheet(Wanted(feature=feature, units=part.units), operations)


def _sections(wanted: Wanted, feature: Toothed) -> tuple[Section, ...]:
    if isinstance(feature, Spline):
        return spline_sections(wanted, feature)
    if isinstance(feature, BevelGear):
        return bevel_sections(wanted, feature)
    return _cylindrical(wanted, feature)


def _cylindrical(wanted: Wanted, feature: Cylindrical) -> tuple[Section, ...]:
    gears = _helices(feature)
    first = gears[0][1]
    values = gear_values(feature, first)
    sections = [block_section(wanted, feature, first, values)]
    for half, gear in gears:
        own = values if gear is first else gear_values(feature, gear)
        sections.append(size_section(wanted, gear, own, _named(half, "Inspection sizes")))
    if wanted.graded:
        sections += [_flanks(feature, gear, _named(half, "Flank tolerances")) for half, gear in gears]
    if isinstance(feature, DoubleHelicalGear):
        sections.append(_apex(wanted, feature, values))
    mate = mate_section(wanted, feature, values)
    return (*sections, mate) if mate is not None else tuple(sections)


def _helices(feature: Cylindrical) -> tuple[tuple[str, CylindricalGear], ...]:
    """The teeth, with the name of the half for a double-helical gear."""
    if isinstance(feature, DoubleHelicalGear):
        return (
            ("lower helix", cylindrical_gear(feature, feature.lower)),
            ("upper helix", cylindrical_gear(feature, feature.upper)),
        )
    return (("", cylindrical_gear(feature)),)


def _named(half: str, what: str) -> str:
    return f"{what}, {half}" if half else what


def _flanks(feature: Cylindrical, gear: CylindricalGear, name: str) -> Section:
    return flank_section(
        feature.flank_class,
        gear.reference_diameter,
        gear.normal_module,
        gear.face_width,
        gear.teeth,
        gear.helix_angle,
        name,
    )


def _apex(wanted: Wanted, feature: DoubleHelicalGear, values: Values) -> Section:
    shift = float(feature.apex_tolerance)
    known = values.and_more({"eh": shift, "sh": arc_between_helices(shift, float(feature.helix_angle))})
    return Section(
        "Apex",
        (known.given("eh", "apex, allowed shift along the axis", wanted.given_by), known.fact("sh")),
    )
