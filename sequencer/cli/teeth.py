"""The commands about one tooth system: its data sheet, and what a cutter leaves of it."""

# The options are read from the context of the command; its signature declares them.
# ruff: noqa: ARG001

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Final

import typer

from sequencer.cli.answering import PartFile, ShopFile, answering, print_lines, read_both
from sequencer.errors import SequencerError

if TYPE_CHECKING:
    from sequencer.datasheet import Wanted
    from sequencer.operations import OperationList
    from sequencer.part import Part

Given = str | None

_DRAWN: Final = "Teeth without a part file, in the words of the part file"
_MEASURED: Final = "Choices of the inspector"


def _drawn(text: str) -> Any:
    return typer.Option(help=text, rich_help_panel=_DRAWN, metavar="TEXT")


def _measured(text: str) -> Any:
    return typer.Option(help=text, rich_help_panel=_MEASURED, metavar="TEXT")


def gear(
    context: typer.Context,
    part: Annotated[
        Path | None,
        typer.Argument(metavar="PART", help="Part file; without one, options say what the teeth are."),
    ] = None,
    feature: Annotated[
        Given,
        typer.Argument(metavar="FEATURE", help="Gear or spline; not needed where the part has one only."),
    ] = None,
    shop: Annotated[
        Path | None,
        typer.Option("--shop", metavar="FILE", help="Shop file: adds the methods with all their numbers."),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the data sheet as JSON.")] = False,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FOLDER", help="Write it as PDF, XLSX, HTML and JSON as well."),
    ] = None,
    kind: Annotated[
        Given, _drawn("external_gear (usual), internal_gear, double_helical_gear, spline or bevel_gear.")
    ] = None,
    internal: Annotated[
        bool, typer.Option("--internal", help="The teeth point inwards.", rich_help_panel=_DRAWN)
    ] = False,
    teeth: Annotated[Given, _drawn("Number of teeth.")] = None,
    module: Annotated[Given, _drawn('"8 mm", "DP 4", "NDP 4" or "TDP 4".')] = None,
    face_width: Annotated[Given, _drawn("Face width; of one half of a double-helical gear.")] = None,
    pressure_angle: Annotated[Given, _drawn("Normal pressure angle.")] = None,
    helix_angle: Annotated[Given, _drawn("Helix angle at the reference circle.")] = None,
    hand: Annotated[Given, _drawn("right or left; of the lower half.")] = None,
    profile_shift: Annotated[Given, _drawn("Profile shift; above 0 makes any gear larger.")] = None,
    addendum: Annotated[Given, _drawn("Addendum of the basic rack, in modules.")] = None,
    dedendum: Annotated[Given, _drawn("Dedendum of the basic rack, in modules.")] = None,
    tip_diameter: Annotated[Given, _drawn("Tip diameter of the drawing.")] = None,
    root_diameter: Annotated[Given, _drawn("Root diameter of the drawing.")] = None,
    thickness_upper: Annotated[Given, _drawn("Upper allowance of the normal tooth thickness.")] = None,
    thickness_lower: Annotated[Given, _drawn("Lower allowance of the normal tooth thickness.")] = None,
    thickness_class: Annotated[Given, _drawn('Tooth thickness by DIN 3967: "27cd".')] = None,
    backlash: Annotated[Given, _drawn("Least backlash of the pair, that thins the teeth.")] = None,
    backlash_kind: Annotated[Given, _drawn("normal (usual) or circumferential.")] = None,
    backlash_system: Annotated[Given, _drawn('Recommended least backlash: "ISO/TR 10064-2".')] = None,
    backlash_share: Annotated[Given, _drawn("Share of the backlash that this gear makes; usual 0.5.")] = None,
    thickness_tolerance: Annotated[
        Given, _drawn("Tolerance of the tooth thickness, with a backlash.")
    ] = None,
    flank_class: Annotated[Given, _drawn('"ISO 1328-1:2013 class 7".')] = None,
    mate_teeth: Annotated[Given, _drawn("Number of teeth of the mate.")] = None,
    mate_shift: Annotated[Given, _drawn("Profile shift of the mate.")] = None,
    mate_internal: Annotated[Given, _drawn("yes: the mate is an internal gear around this one.")] = None,
    mate_tip_diameter: Annotated[Given, _drawn("Tip diameter of the mate.")] = None,
    centre_distance: Annotated[Given, _drawn("Centre distance to the mate.")] = None,
    gap: Annotated[Given, _drawn("Gap between the helices of a double-helical gear.")] = None,
    apex_tolerance: Annotated[Given, _drawn("Allowed shift of the apex along the axis.")] = None,
    standard: Annotated[Given, _drawn("Standard of a spline: DIN 5480, ISO 4156, ANSI B92.1.")] = None,
    place: Annotated[Given, _drawn("inside or outside, of a spline.")] = None,
    reference_diameter: Annotated[Given, _drawn("Reference diameter of a DIN 5480 spline.")] = None,
    root: Annotated[Given, _drawn("Root of a spline: flat, fillet or flat major.")] = None,
    tolerance_class: Annotated[Given, _drawn("Tolerance class and fit of a spline.")] = None,
    size_deviation: Annotated[Given, _drawn("Deviation of the effective size of a spline.")] = None,
    actual_tolerance: Annotated[Given, _drawn("Tolerance of the actual size of a spline.")] = None,
    effective_tolerance: Annotated[Given, _drawn("Share of the deviations in it, of a spline.")] = None,
    shaft_angle: Annotated[Given, _drawn("Shaft angle of a bevel gear.")] = None,
    spiral_angle: Annotated[Given, _drawn("Mean spiral angle of a bevel gear.")] = None,
    proportions: Annotated[Given, _drawn("Straight bevel: equal addendum or unequal addendum.")] = None,
    mounting_distance: Annotated[Given, _drawn("From the cone apex to the mounting face.")] = None,
    units: Annotated[Given, _drawn("mm or in: unit of length on the sheet.")] = None,
    teeth_spanned: Annotated[Given, _measured("Number of teeth of the span.")] = None,
    ball_diameter: Annotated[Given, _measured("Diameter of balls or pins.")] = None,
) -> None:
    """Print the data sheet of a gear or spline: drawing data, inspection sizes, tolerances, mate."""
    words = {
        key: value
        for key, value in context.params.items()
        if isinstance(value, str) and key not in ("part", "feature", "shop", "out")
    }
    with answering():
        if part is None:
            from sequencer.datasheet.options import wanted_from_options

            wanted, read, operations = wanted_from_options(words, internal=internal), None, None
        else:
            wanted, read, operations = _of_part(part, feature, shop, words, internal=internal)
        from sequencer.datasheet import data_sheet
        from sequencer.papers.gear_sheet import gear_json, gear_lines, gear_papers
        from sequencer.papers.write import write_all

        sheet = data_sheet(wanted, operations)
        written = () if out is None else write_all(out, gear_papers(sheet, wanted.feature.name, read))
    if as_json:
        sys.stdout.write(gear_json(sheet))
        return
    print_lines(gear_lines(sheet))
    if written:
        print_lines(("", f"Papers in {out}: {', '.join(path.name for path in written)}"))


def _of_part(
    path: Path, name: Given, shop: Path | None, words: dict[str, str], *, internal: bool
) -> tuple[Wanted, Part, OperationList | None]:
    """A tooth system of a part file, the part, and with a shop the operations that make it."""
    from sequencer.datasheet.choose import tooth_system
    from sequencer.datasheet.options import CHOICES, choices_of, option
    from sequencer.datasheet.wanted import Wanted

    others = [option(key) for key in words if key not in CHOICES] + (["--internal"] if internal else [])
    if others:
        raise SequencerError(
            f"{', '.join(others)} and a part file both say what the teeth are",
            where=str(path),
            remedy="leave the options out, or the part file",
        )
    spanned, ball = choices_of(words)
    if shop is None:
        from sequencer.files import read_part

        part, operations = read_part(path), None
    else:
        from sequencer.operations import make_operations

        part, house = read_both(path, shop)
        operations = make_operations(part, house)
    feature = tooth_system(part, name)
    wanted = Wanted(feature=feature, units=words.get("units", part.units), ball_diameter=ball)
    return replace(wanted, teeth_spanned=spanned), part, operations


def cut(
    part: PartFile,
    feature: Annotated[str, typer.Argument(metavar="FEATURE", help="Gear or spline.")],
    tool: Annotated[str, typer.Argument(metavar="TOOL", help="Hob or skiving cutter of the shop.")],
    shop: ShopFile = None,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FOLDER", help="Folder for the picture; out/PART if left out."),
    ] = None,
    mistake: Annotated[
        Given,
        typer.Option(
            "--mistake",
            metavar="sense|differential|angle",
            help="Show what a mistake leaves: table turning the wrong way, differential or tilt reversed.",
        ),
    ] = None,
    edge: Annotated[
        str,
        typer.Option(
            "--edge",
            metavar="made|involute",
            help="Edge of a skiving cutter: made for this gear and set-up, or a plain involute.",
        ),
    ] = "made",
    feed_marks: Annotated[
        bool, typer.Option("--feed-marks", help="Count the marks of the axial feed of a hob.")
    ] = False,
    from_diameter: Annotated[
        Given, typer.Option(metavar="TEXT", help="Smaller end of the compared profile.")
    ] = None,
    to_diameter: Annotated[
        Given, typer.Option(metavar="TEXT", help="Larger end of the compared profile.")
    ] = None,
) -> None:
    """Show what a hob or skiving cutter leaves of a tooth space with the planned set-up, and draw it."""
    with answering():
        from sequencer.datasheet.choose import gear_cutter, tooth_system
        from sequencer.datasheet.tooth_cut import cut_wanted, tooth_cuts

        wanted = cut_wanted(mistake, edge, from_diameter, to_diameter, feed_marks=feed_marks)
        read, house = read_both(part, shop)
        teeth, cutter = tooth_system(read, feature), gear_cutter(house, tool)
        from sequencer.operations import make_operations
        from sequencer.papers.cut_text import cut_lines, cut_picture
        from sequencer.papers.write import write_all

        cuts = tooth_cuts(make_operations(read, house), teeth, cutter, wanted)
        folder = out or Path("out") / part.stem
        written = write_all(folder, {f"{each.file}.svg": cut_picture(each).encode() for each in cuts})
    for each in cuts:
        print_lines(cut_lines(each))
    print_lines((f"Pictures in {folder}: {', '.join(path.name for path in written)}",))
