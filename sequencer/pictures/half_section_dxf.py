"""The half-section as DXF for drawing programs: true size, in the unit of the part."""

from __future__ import annotations

from io import StringIO
from typing import TYPE_CHECKING, Any, Final

from sequencer.errors import SequencerError
from sequencer.pictures.half_section import tooth_zones
from sequencer.pictures.half_section_layout import HalfSectionLayout, Label, Point, lay_out
from sequencer.units import MM_PER_INCH

if TYPE_CHECKING:
    from sequencer.plan import Plan

#: Layers: name, line type, line weight [0.01 mm].
LAYERS: Final = (
    ("OUTLINE", "CONTINUOUS", 50),
    ("TEETH", "CONTINUOUS", 25),
    ("BLANK", "DASHED", 25),
    ("AXIS", "CENTER", 18),
    ("NAMES", "CONTINUOUS", 18),
)
#: Codes of the unit of length in the header of a DXF file.
_UNITS: Final = {"mm": 4, "in": 1}


def half_section_dxf(plan: Plan) -> bytes:
    """Write the half-section of the part of a plan as DXF: radius to the right, the axis upwards.

    Parameters
    ----------
    plan
        The plan.

    Raises
    ------
    SequencerError
        When the library for DXF is not installed.
    """
    part, section = plan.part, plan.section
    per_unit = MM_PER_INCH if part.units == "in" else 1.0
    drawing = _new_drawing(part.units)
    space = drawing.modelspace()

    def draw(points: tuple[Point, ...], layer: str, *, close: bool = True) -> None:
        flat = [(r / per_unit, z / per_unit) for z, r in points]
        space.add_lwpolyline(flat, close=close, dxfattribs={"layer": layer})

    for outline in section.outline():
        draw(outline, "OUTLINE")
    for _, zone in tooth_zones(part, section):
        draw(zone, "TEETH")
    for outline in section.stock_outline():
        draw(outline, "BLANK")
    beyond = 0.02 * (section.z_to - section.z_from)
    draw(((section.z_from - beyond, 0.0), (section.z_to + beyond, 0.0)), "AXIS", close=False)
    layout = lay_out(part, section)
    for label in layout.labels:
        _add_label(space, layout, label, per_unit)
    text = StringIO()
    drawing.write(text)
    return text.getvalue().encode()


def _new_drawing(units: str) -> Any:
    try:
        from ezdxf._options import options
        from ezdxf.filemanagement import new
    except ImportError:
        raise SequencerError(
            "the library for DXF is not installed",
            where="half-section.dxf",
            remedy="install it with: pip install 'sequencer[dxf]'",
        ) from None
    options.write_fixed_meta_data_for_testing = True  # no clock in the file: same input, same bytes
    drawing = new("R2010", setup=["linetypes"], units=_UNITS[units])
    for name, line, weight in LAYERS:
        drawing.layers.add(name, linetype=line, lineweight=weight)
    return drawing


def _add_label(space: Any, layout: HalfSectionLayout, label: Label, per_unit: float) -> None:
    """Set the words of a feature and its leader line where the picture has them."""
    size = 1.0 / (layout.scale * per_unit)

    def place(x: float, y: float) -> tuple[float, float]:
        return (x - layout.x_axis) * size, (layout.y_zero - y) * size

    space.add_lwpolyline([place(*point) for point in label.leader], dxfattribs={"layer": "NAMES"})
    right = label.column == "right"
    x, y = (label.x if right else label.x + label.width), label.y
    for words, height, _ in label.lines:
        y += height * 1.2
        text = space.add_text(words, height=0.72 * height * size, dxfattribs={"layer": "NAMES"})
        text.set_placement(place(x, y - 0.3 * height), align=_alignment(right))


def _alignment(right: bool) -> Any:
    from ezdxf.enums import TextEntityAlignment

    return TextEntityAlignment.LEFT if right else TextEntityAlignment.RIGHT
