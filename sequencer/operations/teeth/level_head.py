"""The head when it works level: spindle nose and head behind a hob, disc or end mill, over the table."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from sequencer.cutting.cutter_bodies import CutterBody
from sequencer.cutting.run_out import Setting
from sequencer.operations.context import Context
from sequencer.operations.facts import DERIVED
from sequencer.operations.operation import Fact
from sequencer.operations.teeth import checks
from sequencer.operations.teeth.room import Clearance, Margins, clamping_remedy, clearance, own_clash
from sequencer.operations.teeth.standing import Standing
from sequencer.operations.teeth.trial import Check, fail, faults_of
from sequencer.shop.machine import ToolSpindle
from sequencer.units import Deg, Mm, shown

#: Length of the machine head that is looked at behind the tool [mm].
HEAD_LENGTH: Final[Mm] = 600.0


def head_steps(spindle: ToolSpindle, gauge: Mm) -> tuple[tuple[Mm, Mm], ...]:
    """Give positions and diameters of nose and head behind the gauge line of a tool.

    Source: derived

    Parameters
    ----------
    spindle
        The tool spindle.
    gauge
        Distance of the gauge line from the cutting point [mm].
    """
    head = float(spindle.head_diameter)
    if spindle.nose_diameter is None or spindle.nose_length is None:
        return ((gauge, head), (gauge + HEAD_LENGTH, head))
    nose, end = float(spindle.nose_diameter), gauge + float(spindle.nose_length)
    return ((gauge, nose), (end, nose), (end, head), (end + HEAD_LENGTH, head))


def head_words(spindle: ToolSpindle) -> str:
    """Words for the head, such as "head (380 mm, its nose 160 mm)".

    Parameters
    ----------
    spindle
        The tool spindle.
    """
    nose = "" if spindle.nose_diameter is None else f", its nose {shown(spindle.nose_diameter, 1)} mm"
    return f"head ({shown(spindle.head_diameter, 1)} mm{nose})"


@dataclass(frozen=True)
class LevelCutter:
    """A hob or disc whose axis lies near the level, with the head at one end of it.

    Parameters
    ----------
    name
        Name of the tool.
    diameter
        Outside diameter [mm].
    gauge
        Least distance of the gauge line from the crossing point [mm].
    swivel
        Angle of its axis out of the level [deg].
    swivel_words
        Formula of the swivel with the numbers put in, such as "helix angle 20 deg".
    """

    name: str
    diameter: Mm
    gauge: Mm
    swivel: Deg
    swivel_words: str

    def head(self, spindle: ToolSpindle, *, up: bool) -> CutterBody:
        """Nose and head as a body, at the end of the axis that rises or at the one that falls.

        Parameters
        ----------
        spindle
            The tool spindle.
        up
            True for the end that rises.
        """
        steps = tuple((position, size / 2) for position, size in head_steps(spindle, self.gauge))
        profile = steps if up else tuple((-position, radius) for position, radius in reversed(steps))
        return CutterBody("head", self.diameter, profile)


def level_checks(
    context: Context, standing: Standing, setting: Setting, cutter: LevelCutter, margins: Margins
) -> tuple[Check, ...]:
    """Check tilt and room of the head, which goes to the end of the axis that rises or falls, as it fits.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    standing
        The teeth in a clamping.
    setting
        How the cutter stands to the teeth.
    cutter
        The cutter.
    margins
        What is added to the reach of the head.
    """
    first: tuple[Check, ...] | None = None
    for up in (True, False):
        found = _one_side(context, standing, setting, cutter, margins, up=up)
        if not faults_of(found):
            return found
        first = first or found
    assert first is not None
    return first


def _one_side(
    context: Context, standing: Standing, setting: Setting, cutter: LevelCutter, margins: Margins, *, up: bool
) -> tuple[Check, ...]:
    spindle = context.shop.machine.spindle
    tilt = 90 - cutter.swivel if up else 90 + cutter.swivel
    sign = "less" if up else "and"
    tilted = checks.tilt_check(context, (tilt, -tilt), f"90 deg {sign} {cutter.swivel_words}")
    body = cutter.head(spindle, up=up)
    words = f"the level {head_words(spindle)} behind {cutter.name}"

    def remedy(found: Clearance) -> str:
        return clamping_remedy(found, standing) or _longer(spindle)

    rooms = tuple(
        _room_check(clearance(body, setting, standing, side, margins), words, remedy)
        for side in ("below", "above")
    )
    return (tilted, *rooms, _beside_gear(body, setting, standing, spindle, words))


def _room_check(found: Clearance, words: str, remedy: Callable[[Clearance], str]) -> Check:
    if found.obstacle is None or found.reach <= 0:
        return Check()
    formula = (
        f"needs {shown(found.needed, 1)} mm, overrun and margin of {shown(found.needed - found.reach, 1)} mm "
        f"included; {shown(found.has, 1)} mm up to {found.obstacle.words}"
    )
    fact = Fact(f"room for the head {found.side}", found.has, "mm", formula, DERIVED)
    if found.passes:
        return Check((fact,))
    return fail(
        f"{words} needs {shown(found.needed, 1)} mm {found.side} the teeth, "
        f"has {shown(found.has, 1)} mm against {found.obstacle.words}",
        remedy(found),
        fact,
    )


def _beside_gear(
    body: CutterBody, setting: Setting, standing: Standing, spindle: ToolSpindle, words: str
) -> Check:
    if not own_clash(body, setting, standing):
        return Check()
    return fail(f"{words} would stand in the teeth that it cuts", _longer(spindle))


def _longer(spindle: ToolSpindle) -> str:
    if spindle.nose_diameter is None:
        return "a longer arbor, or nose_diameter and nose_length of the spindle in the shop file"
    return "a longer arbor"
