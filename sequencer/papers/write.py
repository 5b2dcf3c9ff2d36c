"""Writes all papers of a plan into a folder: whole or not at all."""

from __future__ import annotations

import os
from errno import EISDIR
from pathlib import Path
from typing import TYPE_CHECKING, Final

from sequencer.errors import SequencerError
from sequencer.papers.cost_sheet import cost_sheet
from sequencer.papers.datum_sheet import datum_sheet
from sequencer.papers.findings_sheet import findings_sheet
from sequencer.papers.front_page import front_page
from sequencer.papers.gear_sheet import gear_sheet
from sequencer.papers.html_page import sheets_html
from sequencer.papers.inspection_sheet import inspection_sheet
from sequencer.papers.ledger_sheet import ledger_sheet
from sequencer.papers.localise import localised, style_of
from sequencer.papers.method_sheet import method_sheet
from sequencer.papers.model import Figure, Section, Sheet
from sequencer.papers.picture_files import Form, picture_files
from sequencer.papers.plan_json import plan_text
from sequencer.papers.review_sheet import review_sheet
from sequencer.papers.route_sheet import route_sheet
from sequencer.papers.setup_sheets import setup_sheets
from sequencer.papers.sources_sheet import sources_sheet
from sequencer.papers.time_sheet import time_sheet
from sequencer.papers.tool_list import tool_list
from sequencer.papers.typst_pdf import sheets_pdf
from sequencer.papers.workbook import sheets_xlsx

if TYPE_CHECKING:
    from sequencer.plan import Plan


#: Sheets that are printed by themselves for the machine, the measuring room and the tool crib, by file.
SINGLES: Final = {
    "route-sheet.pdf": ("Route sheet", "Findings and estimates"),
    "setup-sheets.pdf": ("Set-up sheets",),
    "tool-list.pdf": ("Tool list",),
    "gear-sheets.pdf": ("Methods of the tooth systems", "Gear data"),
    "inspection-plan.pdf": ("Inspection plan",),
}


def write_papers(plan: Plan, folder: Path | str, program: str | None = None) -> tuple[Path, ...]:
    """Write the pack with all sheets, those that hang at the machine, workbook, page, JSON and pictures.

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
    english = make_pack(plan, {name: svg.decode() for name, svg in pictures.items() if name.endswith(".svg")})
    style = style_of(plan)
    sheets = dict(
        zip(
            (each.title for each in english),
            (localised(each, style.wording) for each in english),
            strict=True,
        )
    )
    every = tuple(sheets.values())
    contents = {
        "pack.pdf": sheets_pdf(every, style),
        **{
            name: sheets_pdf(tuple(sheets[title] for title in titles), style)
            for name, titles in SINGLES.items()
        },
        "route-sheet.xlsx": sheets_xlsx(tuple(s for t, s in sheets.items() if t != "Dependencies"), style),
        "route-sheet.html": sheets_html(every, style).encode(),
        "plan.json": plan_text(plan).encode(),
        **pictures,
    }
    return write_all(Path(folder), contents)


def write_pictures(
    plan: Plan,
    folder: Path | str,
    forms: tuple[Form, ...] = (),
    program: str | None = None,
    tiles: str = "",
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
    tiles
        Paper of tiles of the dependency diagram, such as "A3"; empty for one page only.

    Raises
    ------
    SequencerError
        When a picture cannot be made or written; then none is written.
    """
    return write_all(Path(folder), picture_files(plan, forms, program, tiles))


def make_sheets(plan: Plan, figures: tuple[Figure, ...] = ()) -> tuple[Sheet, ...]:
    """Make all sheets of a plan that need no pictures, the route sheet first.

    Parameters
    ----------
    plan
        The plan.
    figures
        Pictures for the route sheet.
    """
    gears = gear_sheet(plan)
    return (
        route_sheet(plan, figures),
        tool_list(plan),
        method_sheet(plan),
        gears,
        findings_sheet(plan),
        inspection_sheet(plan),
        ledger_sheet(plan),
        datum_sheet(plan),
        time_sheet(plan),
        cost_sheet(plan),
        review_sheet(plan),
        sources_sheet(plan, gears),
    )


def make_pack(plan: Plan, pictures: dict[str, str]) -> tuple[Sheet, ...]:
    """Make all sheets of a plan in the order of the pack, the front page first.

    Parameters
    ----------
    plan
        The plan.
    pictures
        SVG by file name.
    """
    half, bar = _half_section_figure(plan, pictures["half-section.svg"]), _time_bar(pictures)
    route, gears = route_sheet(plan, (half,)), gear_sheet(plan)
    sheets = (
        route,
        _setup_sheets(plan, pictures["storyboard.svg"]),
        tool_list(plan, _magazine_figures(pictures)),
        method_sheet(plan),
        gears,
        inspection_sheet(plan),
        ledger_sheet(plan),
        datum_sheet(plan),
        time_sheet(plan, (bar,)),
        cost_sheet(plan, _cost_figures(pictures)),
        review_sheet(plan),
        findings_sheet(plan),
        sources_sheet(plan, gears),
        _diagram_sheet(route, pictures["dependencies.svg"]),
    )
    return (front_page(plan, sheets), *sheets)


def _time_bar(pictures: dict[str, str]) -> Figure:
    return Figure("Time bar", pictures["time-bar.svg"], "Steps of each visit along one time axis.")


def _magazine_figures(pictures: dict[str, str]) -> tuple[Figure, ...]:
    svg = pictures.get("magazine-map.svg")
    words = "Magazine with the tools in their pockets; the table of pockets says the same in words."
    return (Figure("Magazine map", svg, words),) if svg else ()


#: Pictures for the page on money, by file: title, and words for someone who cannot see it.
_COST_PICTURES: Final = {
    "cost-bars.svg": ("Cost bars", "Cost of making and buying side by side; the table says the same."),
    "break-even.svg": ("Break-even line", "Cost of a piece made and bought over the size of the lot."),
    "value-at-risk.svg": ("Value at risk", "Value in the part after each step; the table says the same."),
}


def _cost_figures(pictures: dict[str, str]) -> tuple[Figure, ...]:
    return tuple(
        Figure(title, pictures[name], words)
        for name, (title, words) in _COST_PICTURES.items()
        if name in pictures
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
