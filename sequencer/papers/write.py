"""Writes all papers of a plan into a folder: whole or not at all."""

from __future__ import annotations

import os
from errno import EISDIR
from pathlib import Path
from typing import TYPE_CHECKING

from sequencer.errors import SequencerError
from sequencer.papers.findings_sheet import findings_sheet
from sequencer.papers.gear_sheet import gear_sheet
from sequencer.papers.html_page import sheets_html
from sequencer.papers.localise import localised, style_of
from sequencer.papers.method_sheet import method_sheet
from sequencer.papers.model import Figure, Section, Sheet
from sequencer.papers.picture_files import Form, picture_files
from sequencer.papers.plan_json import plan_text
from sequencer.papers.route_sheet import route_sheet
from sequencer.papers.setup_sheets import setup_sheets
from sequencer.papers.tool_list import tool_list
from sequencer.papers.typst_pdf import sheets_pdf
from sequencer.papers.workbook import sheets_xlsx

if TYPE_CHECKING:
    from sequencer.plan import Plan


def write_papers(plan: Plan, folder: Path | str, program: str | None = None) -> tuple[Path, ...]:
    """Write route sheet, set-up sheets, gear sheets, workbook, page, JSON and pictures.

    The route sheet for the machine is printed by itself; methods and gear data stand in a file of their own,
    and the workbook and the page hold all.

    Parameters
    ----------
    plan
        The plan.
    folder
        Folder for the papers; made if it does not exist.
    program
        A `dot` program for the dependency diagram instead of the shipped renderer.

    Raises
    ------
    SequencerError
        When a paper cannot be made or written; then none is written.
    """
    pictures = picture_files(plan, (), program)
    figures = (
        _half_section_figure(plan, pictures["half-section.svg"].decode()),
        Figure("Time bar", pictures["time-bar.svg"].decode(), "Steps of each visit along one time axis."),
    )
    english = make_sheets(plan, figures)
    setups = _setup_sheets(plan, pictures["storyboard.svg"].decode())
    diagram = _diagram_sheet(english[0], pictures["dependencies.svg"].decode())
    style = style_of(plan)
    sheets = tuple(localised(sheet, style.wording) for sheet in (*english, setups, diagram))
    route, tools, methods, gears, findings, setups, _ = sheets
    contents = {
        "route-sheet.pdf": sheets_pdf((route, tools, findings), style),
        "setup-sheets.pdf": sheets_pdf((setups,), style),
        "gear-sheets.pdf": sheets_pdf((methods, gears), style),
        "route-sheet.xlsx": sheets_xlsx(sheets[:-1], style),
        "route-sheet.html": sheets_html(sheets, style).encode(),
        "plan.json": plan_text(plan).encode(),
        **pictures,
    }
    return write_all(Path(folder), contents)


def write_pictures(
    plan: Plan, folder: Path | str, forms: tuple[Form, ...] = (), program: str | None = None
) -> tuple[Path, ...]:
    """Write the pictures only.

    Parameters
    ----------
    plan
        The plan.
    folder
        Folder for the pictures; made if it does not exist.
    forms
        Forms beside SVG: PDF, PNG, DXF.
    program
        A `dot` program for the dependency diagram instead of the shipped renderer.

    Raises
    ------
    SequencerError
        When a picture cannot be made or written; then none is written.
    """
    return write_all(Path(folder), picture_files(plan, forms, program))


def make_sheets(plan: Plan, figures: tuple[Figure, ...] = ()) -> tuple[Sheet, Sheet, Sheet, Sheet, Sheet]:
    """Make all sheets of a plan: route sheet, tool list, methods, gear data, findings.

    Parameters
    ----------
    plan
        The plan.
    figures
        Pictures for the route sheet.
    """
    return (
        route_sheet(plan, figures),
        tool_list(plan),
        method_sheet(plan),
        gear_sheet(plan),
        findings_sheet(plan),
    )


def _half_section_figure(plan: Plan, svg: str) -> Figure:
    words = (
        f"Half-section of {plan.part.name} with blank, teeth and datums; "
        f"labelled features: {', '.join(feature.shown for feature in plan.part.features)}."
    )
    return Figure("Half-section", svg, words, scaled=True)


def _setup_sheets(plan: Plan, storyboard: str) -> Sheet:
    from sequencer.pictures.clamping_picture import clamping_picture

    pictures = {f"visit {each.visit}": clamping_picture(plan, each) for each in plan.set_ups}
    return setup_sheets(plan, {"storyboard": storyboard, **pictures})


def _diagram_sheet(route: Sheet, svg: str) -> Sheet:
    words = (
        "Steps in lanes by clamping visit with arrows for the rules; the route sheet says the same in words."
    )
    figure = Figure("Steps in lanes by clamping visit; arrows carry their rule.", svg, words)
    return Sheet("Dependencies", route.stamp, (), (Section("", figures=(figure,)),))


def write_all(folder: Path, contents: dict[str, bytes]) -> tuple[Path, ...]:
    """Write several files, each under a temporary name first; they get their names when all are written.

    Parameters
    ----------
    folder
        Folder of the files; made if it does not exist.
    contents
        Contents by file name.

    Raises
    ------
    SequencerError
        When a file cannot be written.
    """
    waiting: list[tuple[Path, Path]] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in contents.items():
            final, place = folder / name, folder / f".{name}.{os.getpid()}.part"
            if final.is_dir():
                raise IsADirectoryError(EISDIR, "there is a folder of that name", str(final))
            waiting.append((place, final))
            place.write_bytes(content)
        for place, final in waiting:
            os.replace(place, final)
    except OSError as error:
        raise SequencerError(
            f"the papers could not be written: {error.strerror or error}",
            where=str(error.filename or folder),
            remedy="close a program that holds the file, or choose another folder with --out",
        ) from error
    finally:
        for place, _ in waiting:
            place.unlink(missing_ok=True)
    return tuple(final for _, final in waiting)
