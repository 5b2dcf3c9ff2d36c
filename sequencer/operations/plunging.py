"""Plunging with a blade: round a cylinder from the side, or into a face."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sequencer.cutting import speeds, times
from sequencer.operations.attempt import Attempt
from sequencer.operations.choices import Outcome
from sequencer.operations.facts import DERIVED, SpeedCap, mm, speed_facts, time_fact
from sequencer.operations.force_limits import (
    Cut,
    cutting_force,
    fit_cut,
    force_facts,
    table_limit,
    turning_cap,
)
from sequencer.operations.operation import Alternative, Fact, Mode
from sequencer.shop.tools import GroovingTool
from sequencer.units import Mm, shown

METHOD: Final = "grooving"

#: Revolutions without feed at the floor of each plunge; common practice, no source.
DWELL: Final = 2.0

#: Share of the blade by which neighbouring plunges overlap; common practice, no source.
OVERLAP: Final = 0.1


#: Width of the chip when a blade follows walls and floor that are roughed [mm]; common practice, no source.
LIGHT_CUT: Final[Mm] = 0.5


@dataclass(frozen=True)
class Plunge:
    """What is to be plunged.

    Parameters
    ----------
    outer, inner
        Diameters between which the blade moves; the walls of a groove in a face [mm].
    width
        Width of the groove [mm].
    depth
        Depth of the groove [mm].
    leave
        Stock left on walls and floor [mm].
    rough
        True if it only roughs.
    contour
        True if walls and floor are finished.
    opened
        True if it was roughed before, so that only the stock is left.
    axial
        True for a groove in a face.
    """

    outer: Mm
    inner: Mm
    width: Mm
    depth: Mm
    leave: Mm
    rough: bool
    contour: bool
    opened: bool
    axial: bool = False

    @property
    def stage(self) -> str:
        """Stage as the shop's table of conditions calls it."""
        return "rough" if self.rough else "finish"


def plunge(attempt: Attempt, tool: GroovingTool, what: Plunge) -> Outcome:
    """Try a blade that fits: conditions, force, time.

    Parameters
    ----------
    attempt
        The feature in the clamping.
    tool
        A blade whose width, depth and bore fit.
    what
        What is to be plunged.
    """
    context, clamping = attempt.context, attempt.clamping
    chosen = attempt.conditions(tool, [(METHOD, what.stage), (METHOD, "finish")])
    if chosen is None:
        return attempt.no_conditions(METHOD, tool, what.stage)
    width = LIGHT_CUT if what.opened else min(float(tool.width), what.width)
    force = cutting_force(context, width, chosen.feed)
    cap = turning_cap(context, clamping, force, what.outer, not what.rough)
    vc, rpm = speed_facts(chosen, what.outer, cap, "revolutions at the outside")
    speed = speeds.cutting_speed(what.outer, rpm.value)
    limit = table_limit(context, clamping, what.outer, speed, rpm.value, not what.rough)
    cut = fit_cut(context, width, chosen.feed, limit, fixed_depth=True)
    if isinstance(cut, str):
        return attempt.reject(METHOD, tool, cut, "a narrower blade or a stronger grip")
    plunges, minutes, formula = _time(tool, what, cut, chosen.cutting_speed, cap)
    facts = (
        vc,
        rpm,
        Fact("feed", cut.feed, "mm/rev", "", chosen.source, chosen.estimate),
        Fact("plunges", plunges, "", _plunge_words(tool, what, plunges), DERIVED),
        *force_facts(context, width, cut.feed, speed, limit, cut.reduced),
        time_fact(minutes, formula, DERIVED, chosen.estimate),
    )
    reason = (
        f"{tool.title}: blade {mm(tool.width)} fits the width {mm(what.width)}, its depth {mm(tool.depth)} "
        f"the {mm(what.depth)} deep groove"
    )
    return Alternative(METHOD, tool.name, clamping.name, Mode.TURNING, minutes, facts, reason)


def _plunge_words(tool: GroovingTool, what: Plunge, plunges: int) -> str:
    if what.opened:
        return "2 walls and the floor, side by side plunges were roughed before"
    width = what.width - 2 * what.leave if what.rough else what.width
    return (
        f"1 + ceil((W - w)/(w - overlap)) = 1 + ceil(({shown(width)} - {shown(tool.width)})/"
        f"({shown(tool.width)} - {shown(OVERLAP * float(tool.width))})) = {plunges}"
    )


def _time(tool: GroovingTool, what: Plunge, cut: Cut, speed: float, cap: SpeedCap) -> tuple[int, float, str]:
    """Plunges, minutes and formula."""
    blade = float(tool.width)
    width = max(what.width - 2 * what.leave, blade) if what.rough else what.width
    plunges = times.grooving_plunges(width, blade, OVERLAP * blade)
    one = _one_plunge(what, cut, speed, cap)
    side = 0 if what.opened else plunges
    minutes, words = side * one, f"{side} plunges of {shown(one, 2)} min"
    if what.contour and (width > blade + 1e-6 or what.opened):
        floor = _floor(what, cut, speed, cap, width - blade)
        minutes += 2 * one + floor
        words += f" + 2 walls of {shown(one, 2)} min + floor {shown(floor, 2)} min"
    return max(side, 2 if what.opened else 1), minutes, f"t = {words}"


def _one_plunge(what: Plunge, cut: Cut, speed: float, cap: SpeedCap) -> float:
    if what.axial:
        rpm = speeds.capped_rpm((what.outer + what.inner) / 2, speed, cap.rpm)
        return times.face_groove_time(what.depth, 1, cut.feed, rpm) + DWELL / rpm
    return times.radial_groove_time(what.outer, what.inner, 1, cut.feed, speed, cap.rpm, DWELL)


def _floor(what: Plunge, cut: Cut, speed: float, cap: SpeedCap, length: Mm) -> float:
    if length <= 0:
        return 0.0
    rpm = speeds.capped_rpm((what.outer + what.inner) / 2, speed, cap.rpm)
    return times.turning_time(length, cut.feed, rpm)
