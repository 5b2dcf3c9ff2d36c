"""The tilting head: level beside the part, or inside a bore."""

from __future__ import annotations

from sequencer.operations.attempt import Attempt
from sequencer.operations.facts import mm
from sequencer.shop import AnyTool
from sequencer.units import Mm, shown

LEVEL = 90.0


def tilt_fault(attempt: Attempt) -> tuple[str, str] | None:
    """Say why the head does not tilt level; None if it does.

    Parameters
    ----------
    attempt
        The feature in the clamping.
    """
    spindle = attempt.context.shop.machine.spindle
    if max(abs(spindle.tilt_from), abs(spindle.tilt_to)) >= LEVEL:
        return None
    return (
        f"needs the head level (90 deg), it tilts from {shown(spindle.tilt_from, 1)} to "
        f"{shown(spindle.tilt_to, 1)} deg",
        "an angle head",
    )


def level_fault(attempt: Attempt, tool: AnyTool, z: Mm) -> tuple[str, str] | None:
    """Say why the level head does not get at a height outside the part; None if it does.

    The nose stands over the table; the wider head behind it counts where it begins over the table as well.

    Parameters
    ----------
    attempt
        The feature in the clamping.
    tool
        The tool in the head.
    z
        Height in the drawing at which the tool works [mm].
    """
    fault = tilt_fault(attempt)
    if fault is not None:
        return fault
    machine = attempt.context.shop.machine
    spindle, nose = machine.spindle, machine.spindle.nose_diameter
    # The head comes nearest with the cutting point at the bottom of what is cut.
    root = attempt.context.section.extent(attempt.feature.name).inner / 2
    head_from = root + float(tool.functional_length) + float(spindle.nose_length or 0.0)
    clear = nose is not None and head_from >= machine.table.radius
    needed = float(nose if nose is not None and clear else spindle.head_diameter) / 2
    height = attempt.standing.above_table(z)
    if height >= needed:
        return None
    words = "nose of the level head" if clear else "level head"
    return (
        f"the {words} of {mm(2 * needed)} needs {mm(needed)} above the table, z {mm(z)} lies {mm(height)} "
        "above it",
        f"a riser higher by {mm(needed - height)}",
    )


def inside_fault(
    attempt: Attempt, tool: AnyTool, diameter: Mm, z_from: Mm, z_to: Mm
) -> tuple[str, str] | None:
    """Say why the level head does not work from inside a bore; None if it does.

    Parameters
    ----------
    attempt
        The feature in the clamping.
    tool
        The tool in the head.
    diameter
        Bore that the tool works in [mm].
    z_from, z_to
        Ends of the zone [mm].
    """
    fault = tilt_fault(attempt)
    if fault is not None:
        return fault
    spindle = attempt.context.shop.machine.spindle
    view = attempt.standing.view
    above = view.narrowest_above(view.ends(z_from, z_to)[1])
    opening = min(diameter, above.diameter) if above is not None else diameter
    needed = float(spindle.head_diameter) + float(tool.functional_length)
    if opening < needed:
        return (
            f"the level head of {mm(spindle.head_diameter)} with {tool.name} needs a bore of {mm(needed)}, "
            f"it has {mm(opening)}",
            "cut it from outside or with a tool on a bar",
        )
    depth = view.depth(z_from, z_to)
    if depth > spindle.reach_inside:
        return (
            f"lies {mm(depth)} deep, the head goes {mm(spindle.reach_inside)} deep into a bore",
            "cut it from the other side",
        )
    return None
