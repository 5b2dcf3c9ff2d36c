"""Holder and head behind an end mill that stands square to a bevel gear's cone."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sequencer.cutting.cone_room import Steps, clash_beside_cone
from sequencer.operations.context import Context
from sequencer.operations.facts import DERIVED
from sequencer.operations.operation import Fact, FittedClamping
from sequencer.operations.standing import Standing, standing_in
from sequencer.operations.teeth.level_head import head_steps, head_words
from sequencer.operations.teeth.standing import JAW_LENGTH
from sequencer.operations.teeth.trial import Check, fail
from sequencer.part.teeth import BevelBody
from sequencer.part.toothed import BevelGear
from sequencer.shop.machine import ToolSpindle
from sequencer.shop.tools import EndMill
from sequencer.units import Deg, Mm, shown

#: Places along the teeth at which holder and head are looked at.
_PLACES: Final = (0.0, 0.25, 0.5, 0.75, 1.0)


@dataclass(frozen=True)
class _Block:
    """A cylinder on the work axis beside the teeth: heights above the table and radius [mm]."""

    words: str
    low: Mm
    high: Mm
    radius: Mm


def apex_up(gear: BevelGear, clamping: FittedClamping) -> bool:
    """Tell whether the apex of a bevel gear looks up in a clamping.

    Parameters
    ----------
    gear
        The bevel gear.
    clamping
        The clamping.
    """
    return gear.apex == clamping.clamping.up


def mill_steps(mill: EndMill, spindle: ToolSpindle) -> Steps:
    """Give positions and diameters of holder and head behind the usable length of an end mill.

    Source: derived

    Parameters
    ----------
    mill
        The end mill.
    spindle
        The tool spindle with its head.
    """
    start, holder = float(mill.reach), float(mill.body_diameter)
    gauge = max(float(mill.functional_length), start + 1.0)
    return ((start, holder), (gauge, holder), *head_steps(spindle, gauge))


def head_check(
    context: Context,
    gear: BevelGear,
    body: BevelBody,
    cone_angle: Deg,
    clamping: FittedClamping,
    mill: EndMill,
) -> Check:
    """Check that holder and head clear part, jaws and table all along the teeth.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    gear
        The bevel gear.
    body
        Its diameters at both ends.
    cone_angle
        Pitch cone angle [deg].
    clamping
        The clamping.
    mill
        The end mill.
    """
    standing, spindle = standing_in(context, clamping), context.shop.machine.spindle
    steps = mill_steps(mill, spindle)
    ends = (float(gear.z_from), float(gear.z_to))
    heel, toe = ends if gear.apex == "upper" else ends[::-1]
    low, high = standing.above_table(heel), standing.above_table(toe)
    lean = cone_angle if apex_up(gear, clamping) else -cone_angle
    found = [
        (
            clash_beside_cone(
                steps,
                (body.heel.root + share * (body.toe.root - body.heel.root)) / 2,
                low + share * (high - low),
                lean,
                block.low,
                block.high,
                block.radius,
            ),
            block,
        )
        for block in _blocks(context, gear, standing)
        for share in _PLACES
    ]
    depth, block = max(found, key=lambda one: one[0])
    words = (
        f"axis {shown(lean, 1)} deg above the level, holder {shown(mill.body_diameter, 1)} mm from "
        f"{shown(mill.reach, 1)} mm behind the tip, {head_words(spindle)} from "
        f"{shown(steps[1][0], 1)} mm"
    )
    if depth <= 0:
        fact = Fact("holder and head in the way", 0.0, "mm", f"{words}: clear of everything", DERIVED)
        return Check((fact,))
    fact = Fact("holder and head in the way", depth, "mm", f"{words}: in {block.words}", DERIVED)
    return fail(
        f"holder or {head_words(spindle)} of {mill.name} would stand {shown(depth, 1)} mm in {block.words} "
        f"with its axis square to the cone of {shown(cone_angle, 1)} deg",
        "a longer mill in a slender holder, or a higher riser",
        fact,
    )


def _blocks(context: Context, gear: BevelGear, standing: Standing) -> list[_Block]:
    """Everything outside on the part but the gear itself, the jaws and the table."""
    section = context.section
    found = [_Block("the table", -math.inf, 0.0, context.shop.machine.table.radius)]
    for piece in section.outside.between(section.z_from, section.z_to):
        if piece.feature == gear.name:
            continue
        low, high = sorted(standing.above_table(z) for z in (piece.z_from, piece.z_to))
        size = max(piece.diameter(piece.z_from), piece.diameter(piece.z_to))
        words = f"{piece.feature}, diameter {shown(size, 1)} mm"
        found.append(_Block(words, low, high, size / 2))
    band = standing.band
    if band is not None and standing.clamping.hold == "outside jaws":
        low, high = sorted(standing.above_table(z) for z in band)
        radius = standing.grip_diameter / 2 + JAW_LENGTH
        found.append(_Block(f"the jaws on {standing.clamping.on}", 0.0, high, radius))
    return found
