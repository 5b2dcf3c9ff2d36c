"""Grooves outside, inside and in faces: plunged with blades, or turn-milled with an end mill."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sequencer.operations.attempt import Attempt
from sequencer.operations.bars import bar_fault
from sequencer.operations.choices import Outcome, out_of_reach, rough_clampings, settle
from sequencer.operations.closeness import grade_of
from sequencer.operations.context import Context
from sequencer.operations.facts import mm
from sequencer.operations.operation import Action, Alternative, Operation, Stage
from sequencer.operations.plunging import METHOD, Plunge, plunge
from sequencer.operations.stock import Place
from sequencer.operations.turn_milling import Ring, turn_milling_outcomes
from sequencer.operations.wording import work
from sequencer.part.turned import ApexGroove, FaceGroove, Groove, RunOutGroove
from sequencer.shop.tools import GroovingTool
from sequencer.units import Mm

AnyGroove = Groove | ApexGroove | RunOutGroove | FaceGroove

#: A groove is roughed first from this cross-section on, as a multiple of the least roughing stock [mm];
#: common practice, no source.
ROUGH_FROM_DEPTHS: Final[Mm] = 100.0

#: A blade goes deeper than its own reach where the groove is wider than its body by this [mm].
BODY_CLEARANCE: Final[Mm] = 2.0


@dataclass(frozen=True)
class GrooveShape:
    """Size of a groove.

    Parameters
    ----------
    place
        "outside", "inside" or "face".
    z_from, z_to
        Ends on the axis [mm].
    inner, outer
        Floor and surface of a groove round the axis, walls of one in a face [mm].
    width, depth
        Width and depth [mm].
    """

    place: Place
    z_from: Mm
    z_to: Mm
    inner: Mm
    outer: Mm
    width: Mm
    depth: Mm


def shape_of(context: Context, groove: AnyGroove) -> GrooveShape:
    """Give the size of a groove.

    Parameters
    ----------
    context
        Part and half-section.
    groove
        The groove.
    """
    extent = context.section.extent(groove.name)
    if isinstance(groove, FaceGroove):
        return GrooveShape(
            "face",
            extent.z_from,
            extent.z_to,
            extent.inner,
            extent.outer,
            groove.width,
            float(groove.depth),
        )
    place: Place = "outside" if isinstance(groove, ApexGroove) else groove.place
    depth = (extent.outer - extent.inner) / 2
    return GrooveShape(place, extent.z_from, extent.z_to, extent.inner, extent.outer, groove.length, depth)


def groove_operations(context: Context, groove: AnyGroove) -> tuple[Operation, ...]:
    """Give the operations of a groove: rough and finish, or finish alone for a small one.

    Source: common practice, no source

    Parameters
    ----------
    context
        Part and shop.
    groove
        The groove.
    """
    shape = shape_of(context, groove)
    large = shape.width * shape.depth >= ROUGH_FROM_DEPTHS * float(context.shop.limits.rough_from)
    if not large:
        return (_operation(context, groove, shape, "finish", roughed=False),)
    return (
        _operation(context, groove, shape, "rough", roughed=False),
        _operation(context, groove, shape, "finish", roughed=True),
    )


def _operation(
    context: Context, groove: AnyGroove, shape: GrooveShape, word: str, *, roughed: bool
) -> Operation:
    rough = word == "rough"
    places = rough_clampings(context, groove) if rough else context.reaching(groove)
    outcomes: list[Outcome] = [*out_of_reach(context, groove, METHOD, not rough)]
    for clamping in places:
        attempt = Attempt(context, groove, clamping, not rough)
        outcomes += _blades(attempt, shape, rough, roughed)
        outcomes += turn_milling_outcomes(attempt, _ring(context, shape, rough, roughed))
    # Who asks for turn-milling wants the roughing turn-milled too, where that works.
    roughed_so = any(isinstance(each, Alternative) and each.method == groove.method for each in outcomes)
    alternatives, rejected = settle(context, groove, outcomes, not rough, not rough or roughed_so)
    return Operation(
        f"{groove.name}/{word}",
        groove.name,
        Stage.ROUGH if rough else Stage.FINISH,
        Action.GROOVE,
        work("Rough" if rough else "Finish", groove),
        alternatives,
        rejected,
        heavy=rough,
        hard=False if context.part.case_hardened else None,
    )


def _ring(context: Context, shape: GrooveShape, rough: bool, roughed: bool) -> Ring:
    leave = float(context.shop.stock.turning)
    depth = leave if roughed else shape.depth - (leave if rough else 0.0)
    width = shape.width - (2 * leave if rough else 0.0)
    return Ring(
        shape.place,
        shape.z_from,
        shape.z_to,
        shape.inner,
        shape.outer,
        max(width, 0.1),
        shape.depth,
        max(depth, 0.1),
        rough,
    )


def _blades(attempt: Attempt, shape: GrooveShape, rough: bool, roughed: bool) -> Iterator[Outcome]:
    for tool in attempt.context.shop.tools:
        if isinstance(tool, GroovingTool) and shape.place in tool.use:
            fault = _grade_fault(attempt, rough) or _blade_fault(attempt, tool, shape, rough)
            if fault is not None:
                yield attempt.reject(METHOD, tool, *fault)
            else:
                leave = float(attempt.context.shop.stock.turning)
                yield plunge(attempt, tool, _plunge(shape, leave, rough, roughed))


def _plunge(shape: GrooveShape, leave: Mm, rough: bool, roughed: bool) -> Plunge:
    return Plunge(
        shape.outer,
        shape.inner,
        shape.width,
        shape.depth,
        leave if rough else 0.0,
        rough,
        not rough,
        roughed,
        axial=shape.place == "face",
    )


def _grade_fault(attempt: Attempt, rough: bool) -> tuple[str, str] | None:
    grade = grade_of(attempt.feature)
    best = attempt.context.shop.machine.capability.best_turned_grade
    if rough or grade is None or grade >= best:
        return None
    return f"width IT{grade} is closer than the machine turns: IT{best} at best", "widen the tolerance"


def _blade_fault(
    attempt: Attempt, tool: GroovingTool, shape: GrooveShape, rough: bool
) -> tuple[str, str] | None:
    leave = 2 * float(attempt.context.shop.stock.turning) if rough else 0.0
    if tool.width > shape.width - leave + 1e-6:
        stock = f" less {mm(leave)} stock" if rough else ""
        return (
            f"blade {mm(tool.width)} is wider than the groove {mm(shape.width)}{stock}",
            f"a blade of at most {mm(shape.width - leave)}",
        )
    if shape.place == "face":
        return _face_blade_fault(tool, shape)
    if shape.place == "inside":
        return _inside_blade_fault(attempt, tool, shape)
    return _depth_fault(tool, shape.depth, shape.width)


def _depth_fault(tool: GroovingTool, depth: Mm, width: Mm) -> tuple[str, str] | None:
    if depth <= tool.depth or width >= tool.body_diameter + BODY_CLEARANCE:
        return None
    return (
        f"groove {mm(depth)} deep, the blade reaches {mm(tool.depth)} and its body of "
        f"{mm(tool.body_diameter)} does not enter the width {mm(width)}",
        f"a blade {mm(depth)} deep",
    )


def _inside_blade_fault(attempt: Attempt, tool: GroovingTool, shape: GrooveShape) -> tuple[str, str] | None:
    view = attempt.standing.view
    above = view.narrowest_above(view.ends(shape.z_from, shape.z_to)[1])
    opening = min(above.diameter, shape.inner) if above is not None else shape.inner
    fault = bar_fault(attempt, tool, opening, view.depth(shape.z_from, shape.z_to))
    return fault or _depth_fault(tool, (shape.outer - opening) / 2, shape.width)


def _face_blade_fault(tool: GroovingTool, shape: GrooveShape) -> tuple[str, str] | None:
    """The first plunge may lie anywhere between the walls; its outside must suit the curved blade."""
    fault = _depth_fault(tool, shape.depth, shape.width)
    if fault is not None:
        return fault
    least = shape.inner + 2 * float(tool.width)
    if tool.face_diameter_to is not None and tool.face_diameter_to < least - 1e-6:
        return (
            f"its curved blade cuts up to diameter {mm(tool.face_diameter_to)}, the groove begins at "
            f"{mm(shape.inner)}",
            "a blade for larger diameters",
        )
    if tool.face_diameter_from is not None and tool.face_diameter_from > shape.outer + 1e-6:
        return (
            f"its curved blade cuts from diameter {mm(tool.face_diameter_from)}, the groove ends at "
            f"{mm(shape.outer)}",
            "a blade for smaller diameters",
        )
    return None
