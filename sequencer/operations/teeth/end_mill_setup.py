"""An end mill at the teeth: gap, reach, slenderness, lean of its axis, holder and room at both ends."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sequencer.cutting import end_milling
from sequencer.cutting.cutter_bodies import CutterBody
from sequencer.cutting.run_out import Arrangement, Setting
from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON, DERIVED
from sequencer.operations.operation import Fact
from sequencer.operations.teeth import checks, typical
from sequencer.operations.teeth.end_mill_rest import fillet_fact, rest_below
from sequencer.operations.teeth.level_head import head_steps, head_words
from sequencer.operations.teeth.room import Clearance, Margins, behind, clamping_remedy, clearance, room_check
from sequencer.operations.teeth.share import Aim
from sequencer.operations.teeth.standing import Standing
from sequencer.operations.teeth.trial import PASSED, Check, Plain, fail
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.machine import ToolSpindle
from sequencer.shop.tools import EndMill
from sequencer.units import Deg, Mm, shown

#: Play between end mill and gap in all (common practice, no source) [mm].
PLAY: Final[Mm] = 0.1
#: From so many times the fitting diameter on an end mill is no near miss.
FAR_TOO_THICK: Final = 1.5
#: Leans of the mill axis out of the transverse plane that are looked at, holder upwards [deg].
LEANS: Final[tuple[Deg, ...]] = (0.0, 15.0, 30.0, 45.0, 60.0, 70.0)


def gap_check(teeth: Teeth, mill: EndMill, aim: Aim) -> Check:
    """Check that the mill reaches the root between two flanks that still carry their stock.

    Parameters
    ----------
    teeth
        The teeth.
    mill
        The end mill.
    aim
        What the operation is to reach.
    """
    corner = min(float(mill.corner_radius), 0.5 * teeth.depth)
    gap = teeth.gap_above_root(corner)
    room = gap - 2 * aim.stock - PLAY
    largest = end_milling.largest_end_mill(gap, aim.stock, PLAY) if room > 0 else 0.0
    fact = Fact(
        "largest end mill in the gap",
        largest,
        "mm",
        f"D = e - 2 s - c = {shown(gap, 2)} - 2*{shown(aim.stock, 2)} - {shown(PLAY, 1)} = "
        f"{shown(largest, 2)} mm (gap square to the tooth, one corner radius above the root)",
        DERIVED,
    )
    if float(mill.diameter) <= largest + 1e-9:
        return Check((fact, fillet_fact(teeth, mill)))
    if largest <= 0:
        return fail(
            f"the gap, {shown(gap, 2)} mm wide at the root, leaves no room for an end mill",
            "skive or hob these teeth",
            fact,
        )
    rest = rest_below(teeth, mill, aim.stock, PLAY)
    far = Plain("diameter", f"{shown(mill.diameter, 2)} mm", "far too thick for the gap")
    return fail(
        f"end mill {mill.name} has diameter {shown(mill.diameter, 2)} mm, the gap takes "
        f"{shown(largest, 2)} mm at the root: {rest.formula}",
        f"an end mill of at most {shown(math.floor(largest * 10) / 10, 1)} mm",
        fact,
        rest,
        plain=far if float(mill.diameter) > FAR_TOO_THICK * largest else None,
    )


def reach_check(teeth: Teeth, mill: EndMill) -> Check:
    """Check the usable length against the tooth depth.

    Parameters
    ----------
    teeth
        The teeth.
    mill
        The end mill.
    """
    needed = teeth.depth + typical.SAFE_DISTANCE
    if float(mill.reach) >= needed - 1e-9:
        return PASSED
    return fail(
        f"end mill {mill.name} has a usable length of {shown(mill.reach, 1)} mm, "
        f"the teeth need {shown(needed, 1)} mm",
        f"an end mill with a usable length of {shown(math.ceil(needed))} mm",
    )


def slenderness_check(context: Context, mill: EndMill) -> Check:
    """Check the usable length over the diameter.

    Parameters
    ----------
    context
        Part and shop.
    mill
        The end mill.
    """
    limit = context.shop.limits.end_mill_slenderness
    slender = end_milling.slenderness(float(mill.reach), float(mill.diameter))
    fact = Fact(
        "slenderness",
        slender,
        "",
        f"L/D = {shown(mill.reach, 1)}/{shown(mill.diameter, 2)} = {shown(slender, 2)}, "
        f"limit {shown(limit, 1)}",
        COMMON,
    )
    if slender <= limit + 1e-9:
        return Check((fact,))
    return fail(
        f"end mill {mill.name} is {shown(slender, 1)} diameters long, {shown(limit, 1)} are allowed",
        "a shorter or thicker end mill",
        fact,
    )


@dataclass(frozen=True)
class Setup:
    """An end mill at the teeth, its axis pointing at the root.

    Parameters
    ----------
    teeth
        The teeth.
    mill
        The end mill.
    lean
        Lean of the axis out of the transverse plane, holder upwards [deg].
    """

    teeth: Teeth
    mill: EndMill
    lean: Deg

    @property
    def setting(self) -> Setting:
        """How it stands to the teeth."""
        return Setting(
            Arrangement.RADIAL, self.teeth.gear.root_diameter / 2, self.lean, internal=self.teeth.internal
        )

    def body(self, spindle: ToolSpindle) -> CutterBody:
        """Mill with its holder, and the machine head behind it.

        Parameters
        ----------
        spindle
            The tool spindle with its head.
        """
        tip = ((0.0, float(self.mill.diameter)),)
        return self._of((*tip, *self._steps(spindle)))

    def shank(self, spindle: ToolSpindle) -> CutterBody:
        """Holder and machine head behind the usable length.

        Parameters
        ----------
        spindle
            The tool spindle with its head.
        """
        return self._of(self._steps(spindle))

    def _steps(self, spindle: ToolSpindle) -> tuple[tuple[Mm, Mm], ...]:
        mill = self.mill
        start, size = float(mill.reach), float(mill.diameter)
        gauge = max(float(mill.functional_length), start + 1.0)
        holder = float(mill.body_diameter)
        return ((start, size), (start, holder), (gauge, holder), *head_steps(spindle, gauge))

    def _of(self, steps: tuple[tuple[Mm, Mm], ...]) -> CutterBody:
        profile = tuple((position, size / 2) for position, size in steps)
        return CutterBody("end mill", float(self.mill.diameter), profile)

    @property
    def words(self) -> str:
        """Words for a sentence."""
        return (
            f"end mill {self.mill.name} (diameter {shown(self.mill.diameter, 2)} mm) with holder and head "
            f"leaning {shown(self.lean, 1)} deg"
        )


def access_checks(context: Context, standing: Standing, mill: EndMill) -> tuple[Setup, tuple[Check, ...]]:
    """Find a lean of the axis at which mill, holder and head are clear; else say why the best one is not.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    standing
        The teeth in a clamping.
    mill
        The end mill.
    """
    tries = tuple(_at_lean(context, standing, Setup(standing.teeth, mill, lean)) for lean in LEANS)
    for setup, found, _ in tries:
        if all(check.fault is None for check in found):
            return setup, found
    setup, found, _ = min(tries, key=lambda one: one[2])
    return setup, found


def _at_lean(context: Context, standing: Standing, setup: Setup) -> tuple[Setup, tuple[Check, ...], float]:
    """Checks at one lean, and by how much they fail in all [mm]."""
    limits = context.shop.limits
    margins = Margins(0.0, float(limits.end_mill_margin), float(limits.riser_margin))
    spindle = context.shop.machine.spindle
    body = setup.body(spindle)
    rooms = tuple(clearance(body, setup.setting, standing, side, margins) for side in ("below", "above"))
    depth, words = behind(setup.shank(spindle), setup.setting, standing)

    def remedy(found: Clearance) -> str:
        if by_clamping := clamping_remedy(found, standing):
            return by_clamping
        gap = math.ceil(found.needed * 10) / 10
        return f"a gap of at least {shown(gap, 1)} mm or a longer, thinner holder"

    found = (
        *(room_check(room, setup.words, margins, remedy) for room in rooms),
        _holder_check(setup, depth, words, spindle),
        checks.tilt_check(context, (90 - setup.lean,), f"90 deg less lean {shown(setup.lean, 1)} deg"),
        *_depth_check(context, standing),
    )
    failing = depth + sum(max(0.0, -room.spare) for room in rooms)
    return setup, found, failing


def _holder_check(setup: Setup, depth: Mm, words: str, spindle: ToolSpindle) -> Check:
    if depth <= 0:
        return PASSED
    mill = setup.mill
    behind_words = f"holder ({shown(mill.body_diameter, 1)} mm) or {head_words(spindle)}"
    return fail(
        f"{behind_words} of {mill.name} would stand {shown(depth, 1)} mm in {words}, whatever its lean from "
        f"{shown(LEANS[0])} to {shown(LEANS[-1])} deg",
        "a longer mill in a slender holder",
    )


def _depth_check(context: Context, standing: Standing) -> tuple[Check, ...]:
    if not standing.teeth.internal:
        return ()
    reach = float(context.shop.machine.spindle.reach_inside)
    if standing.depth <= reach:
        return ()
    return (
        fail(
            f"the teeth end {shown(standing.depth, 1)} mm below the top of the part, the head reaches "
            f"{shown(reach, 1)} mm",
            "turn the part over and cut these teeth from the other side",
        ),
    )
