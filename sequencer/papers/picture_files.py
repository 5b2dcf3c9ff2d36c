"""The pictures of a plan as files: SVG always, other forms on demand."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from sequencer.papers.typst_pdf import picture_pdf, picture_png

if TYPE_CHECKING:
    from sequencer.plan import Plan


class Form(StrEnum):
    """Form of a picture beside SVG; DXF is the half-section only."""

    PDF = "pdf"
    PNG = "png"
    DXF = "dxf"


def picture_files(
    plan: Plan, forms: tuple[Form, ...] = (), program: str | None = None, tiles: str = ""
) -> dict[str, bytes]:
    """Draw the pictures of a plan, by file name.

    Parameters
    ----------
    plan
        The plan.
    forms
        Forms beside SVG; the dependency diagram is always a PDF too.
    program
        A `dot` program for the dependency diagram instead of the shipped renderer.
    tiles
        Paper of tiles of the dependency diagram, such as "A3"; empty for one page only.

    Raises
    ------
    SequencerError
        When a picture cannot be made.
    """
    from sequencer.pictures.clamping_picture import storyboard
    from sequencer.pictures.cost_bars import cost_bars
    from sequencer.pictures.cost_charts import break_even_line, tornado, value_at_risk
    from sequencer.pictures.dependency_diagram import diagram_dot, diagram_svg
    from sequencer.pictures.feature_diagram import feature_diagram
    from sequencer.pictures.half_section import half_section
    from sequencer.pictures.half_section_dxf import half_section_dxf
    from sequencer.pictures.magazine_map import magazine_map
    from sequencer.pictures.run_out_sketch import run_out_sketch
    from sequencer.pictures.time_bar import time_bar
    from sequencer.pictures.tolerance_matrix import tolerance_matrix

    part = plan.part
    drawn = {
        "half-section": half_section(plan),
        "storyboard": storyboard(plan),
        "time-bar": time_bar(plan),
        "magazine-map": magazine_map(plan),
        "run-out": run_out_sketch(plan),
        "tolerances": tolerance_matrix(plan),
        "cost-bars": cost_bars(plan),
        "break-even": break_even_line(plan),
        "tornado": tornado(plan),
        "value-at-risk": value_at_risk(plan),
        "dependencies": diagram_svg(plan, program),
        "dependencies-by-feature": feature_diagram(plan, program),
    }
    files: dict[str, bytes] = {}
    for name, svg in drawn.items():
        if name == "dependencies":
            files["dependencies.dot"] = diagram_dot(plan).encode()
        files[f"{name}.svg"] = svg.encode()
        if Form.PDF in forms or name == "dependencies":
            title = f"{name.capitalize()} of {part.name}, drawing {part.drawing}, revision {part.revision}"
            files[f"{name}.pdf"] = picture_pdf(svg, title)
        if Form.PNG in forms:
            files[f"{name}.png"] = picture_png(svg)
    if tiles:
        files |= _tiles(plan, drawn["dependencies"], tiles)
    if Form.DXF in forms:
        files["half-section.dxf"] = half_section_dxf(plan)
    return files


def _tiles(plan: Plan, diagram: str, paper: str) -> dict[str, bytes]:
    """The dependency diagram as pages of a poster."""
    from sequencer.pictures import poster

    part = plan.part
    title = f"Dependencies of {part.name}, drawing {part.drawing}, revision {part.revision}"
    pages = poster.tiles(diagram, paper, title)
    return {
        f"dependencies-{paper}-{place}.pdf": picture_pdf(page, title)
        for place, page in enumerate(pages, start=1)
    }
