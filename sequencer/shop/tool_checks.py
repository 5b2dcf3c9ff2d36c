"""Checks of single tools: dimensions that fit each other."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians
from typing import Final

from sequencer.part.fault import Fault, Path
from sequencer.shop.tools import (
    AnyTool,
    BoringHead,
    ChamferMill,
    CounterboreTool,
    DiscCutter,
    Drill,
    EndMill,
    GroovingTool,
    Hob,
    Reamer,
    SkivingCutter,
    Tap,
    ThreadingTool,
    TrepanningTool,
    TurningTool,
)
from sequencer.units import shown

#: The largest diameter of an assembly is measured roughly; this much too little is no slip [mm].
_ROUGHLY: Final = 1.0


def tool_faults(path: Path, tool: AnyTool) -> Iterator[Fault]:
    """Check one tool.

    Source: derived

    Parameters
    ----------
    path
        Its path in the document.
    tool
        The tool.
    """
    yield from _body(path, tool)
    for low, high in _pairs(tool):
        least, most = getattr(tool, low), getattr(tool, high)
        if least is not None and most is not None and least > most:
            what = f"{low} {least} is above {high} {most}"
            yield Fault((*path, low), what, "", "exchange or correct them")
    if isinstance(tool, TurningTool | GroovingTool | ThreadingTool) and "inside" in tool.use:
        for key in ("least_bore", "reach"):
            if getattr(tool, key) is None:
                what = f"{key} is missing: a tool for use inside needs it"
                yield Fault((*path, key), what, "", f"add {key}, or take inside out of use")
    if isinstance(tool, GroovingTool) and "face" in tool.use and tool.face_diameter_from is None:
        what = "face_diameter_from is missing: a curved blade fits face grooves from a diameter on"
        yield Fault((*path, "face_diameter_from"), what, "", "add it, or take face out of use")
    if isinstance(tool, Tap) and tool.pitch > tool.diameter / 3:
        what = f"pitch {tool.pitch} of a tap of {tool.diameter}"
        yield Fault((*path, "pitch"), what, "at most a third of the diameter", "correct the pitch")
    if isinstance(tool, EndMill) and 2 * tool.corner_radius > tool.diameter:
        what = f"corner_radius {tool.corner_radius} of an end mill of {tool.diameter}"
        yield Fault((*path, "corner_radius"), what, "at most half the diameter", "correct the radius")
    if isinstance(tool, SkivingCutter):
        yield from _skiving_cutter(path, tool)
    if isinstance(tool, Hob | DiscCutter | SkivingCutter) and not 10 <= tool.pressure_angle <= 45:
        what = f"pressure_angle {tool.pressure_angle}"
        yield Fault((*path, "pressure_angle"), what, "10 deg to 45 deg", "correct it")


def _body(path: Path, tool: AnyTool) -> Iterator[Fault]:
    if tool.overall_length < tool.functional_length:
        what = f"overall_length {tool.overall_length} is below functional_length {tool.functional_length}"
        remedy = "the assembly is at least as long as from gauge line to cutting point"
        yield Fault((*path, "overall_length"), what, "", remedy)
    cutting = _cutting_diameter(tool)
    if cutting is not None and tool.body_diameter < cutting - _ROUGHLY:
        what = f"body_diameter {tool.body_diameter} is below the cutting diameter {shown(cutting)} mm"
        yield Fault(
            (*path, "body_diameter"), what, "", "give the largest diameter of the assembly, cutter included"
        )


def _cutting_diameter(tool: AnyTool) -> float | None:
    if isinstance(tool, Drill | TrepanningTool | Tap | Reamer | CounterboreTool | EndMill | ChamferMill):
        return float(tool.diameter)
    if isinstance(tool, Hob | SkivingCutter | DiscCutter):
        return float(tool.outside_diameter)
    return None


def _pairs(tool: AnyTool) -> tuple[tuple[str, str], ...]:
    """Keys of which the first must not be above the second."""
    if isinstance(tool, ThreadingTool):
        return (("pitch_from", "pitch_to"),)
    if isinstance(tool, BoringHead):
        return (("diameter_from", "diameter_to"),)
    if isinstance(tool, GroovingTool):
        return (("face_diameter_from", "face_diameter_to"),)
    if isinstance(tool, SkivingCutter):
        return (("least_teeth", "most_teeth"), ("neck_diameter", "outside_diameter"))
    if isinstance(tool, DiscCutter):
        return (("least_teeth", "most_teeth"), ("width", "outside_diameter"))
    return ()


def _skiving_cutter(path: Path, tool: SkivingCutter) -> Iterator[Fault]:
    if (float(tool.helix_angle) == 0) != (tool.hand is None):
        what = f"helix_angle {tool.helix_angle} and hand {tool.hand or 'not given'} do not go together"
        remedy = "a helical cutter has a hand, a straight one has none"
        yield Fault((*path, "hand"), what, "", remedy)
    if not 0 <= tool.helix_angle <= 45:
        what = f"helix_angle {tool.helix_angle}"
        yield Fault((*path, "helix_angle"), what, "0 deg to 45 deg", "the hand is a key of its own")
        return
    pitch = tool.module.millimetres * tool.teeth
    if tool.module.system != "transverse":
        pitch /= cos(radians(tool.helix_angle))
    if not pitch < tool.outside_diameter < pitch + 6 * tool.module.millimetres:
        what = f"outside_diameter {tool.outside_diameter} does not fit {tool.teeth} teeth of {tool.module}"
        limit = f"pitch diameter {shown(pitch)} mm, addendum at most 3 modules"
        yield Fault((*path, "outside_diameter"), what, limit, "correct the teeth, the module or the diameter")
