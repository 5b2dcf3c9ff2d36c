"""Facts of an alternative: numbers with their formula, the numbers put in, and their source."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from sequencer.cutting import speeds
from sequencer.operations.operation import Fact, FittedClamping
from sequencer.shop import AnyTool, Shop
from sequencer.units import Minutes, Mm, Rpm, shown

if TYPE_CHECKING:
    from sequencer.operations.context import ChosenConditions

COMMON: Final = "common practice, no source"
DERIVED: Final = "derived"

#: Time on the bench for work that is sent out, transport included: five days of 24 h [min].
SEND_OUT_MINUTES: Final[Minutes] = 5 * 1440.0


@dataclass(frozen=True)
class SpeedCap:
    """Highest revolutions, and what sets them.

    Parameters
    ----------
    rpm
        Highest revolutions [rpm].
    reason
        What sets them, such as "table 240 rpm up to 2000 kg".
    """

    rpm: Rpm
    reason: str


def lowest(caps: Iterable[SpeedCap]) -> SpeedCap:
    """Give the lowest of several caps; of equal ones the first.

    Parameters
    ----------
    caps
        The caps, at least one.
    """
    return min(caps, key=lambda cap: cap.rpm)


def table_cap(clamping: FittedClamping) -> SpeedCap:
    """Highest table speed in a clamping.

    Parameters
    ----------
    clamping
        The clamping with its table speed.
    """
    return SpeedCap(clamping.table_speed, clamping.speed_reason)


def spindle_cap(shop: Shop, tool: AnyTool) -> SpeedCap:
    """Highest speed of the tool spindle with a tool.

    Parameters
    ----------
    shop
        The shop with its spindle.
    tool
        The tool with its own limit, if it has one.
    """
    spindle = shop.machine.spindle
    caps = [SpeedCap(float(spindle.speed), f"spindle {shown(spindle.speed, 0)} rpm")]
    if tool.highest_speed is not None:
        caps.append(
            SpeedCap(float(tool.highest_speed), f"tool {tool.name} {shown(tool.highest_speed, 0)} rpm")
        )
    return lowest(caps)


def chosen_speed_fact(chosen: ChosenConditions) -> Fact:
    """Cutting speed as it was chosen, for a straight stroke; with the place that it comes from.

    Parameters
    ----------
    chosen
        Conditions of the cut.
    """
    return Fact(
        "cutting speed", chosen.cutting_speed, "m/min", source=chosen.source, estimate=chosen.estimate
    )


def feed_fact(chosen: ChosenConditions, unit: str = "mm/rev") -> Fact:
    """Feed as it was chosen, with the place that it comes from.

    Parameters
    ----------
    chosen
        Conditions of the cut.
    unit
        "mm/rev" or "mm/tooth".
    """
    return Fact("feed", chosen.feed, unit, source=chosen.source, estimate=chosen.estimate)


def speed_facts(
    chosen: ChosenConditions, diameter: Mm, cap: SpeedCap, name: str = "revolutions"
) -> tuple[Fact, Fact]:
    """Give the cutting speed and the revolutions that are run: those wanted, held down to the cap.

    Parameters
    ----------
    chosen
        Conditions of the cut.
    diameter
        Diameter of the work (turning) or of the cutter [mm].
    cap
        Highest revolutions and what sets them.
    name
        Name of the revolutions.
    """
    wanted = speeds.spindle_rpm(diameter, chosen.cutting_speed)
    formula = (
        f"n = 1000 vc/(pi d) = 1000*{shown(chosen.cutting_speed, 1)}/(pi*{shown(diameter, 2)}) = "
        f"{shown(wanted, 1)} rpm"
    )
    rpm = speeds.capped_rpm(diameter, chosen.cutting_speed, cap.rpm)
    speed = chosen_speed_fact(chosen)
    if rpm < wanted:
        formula += f", held down to {shown(rpm, 1)} rpm ({cap.reason})"
        real = speeds.cutting_speed(diameter, rpm)
        words = (
            f"vc = pi d n/1000 = pi*{shown(diameter, 2)}*{shown(rpm, 1)}/1000 = {shown(real, 1)} m/min "
            f"instead of {shown(chosen.cutting_speed, 1)}: {cap.reason}"
        )
        speed = Fact(speed.name, real, speed.unit, words, speed.source, speed.estimate)
    source = "Mitsubishi Materials, formulas for turning"
    return speed, Fact(name, rpm, "rpm", formula, source, chosen.estimate)


def time_fact(minutes: Minutes, formula: str, source: str = DERIVED, estimate: bool = False) -> Fact:
    """Own time of an alternative.

    Parameters
    ----------
    minutes
        The time [min].
    formula
        Formula with the numbers put in, without its result.
    source
        Where the formula comes from.
    estimate
        True if a number in it is an estimate.
    """
    return Fact("time", minutes, "min", f"{formula} = {shown(minutes, 2)} min", source, estimate)


#: Name of the fact that tells the approach apart from the cutting.
APPROACH_TIME: Final = "time of approach"


def approach_fact(minutes: Minutes, formula: str, estimate: bool = False) -> Fact:
    """Give the part of an own time in which the tool does not cut: run-in, overrun, ways back, coupling.

    Parameters
    ----------
    minutes
        That part [min].
    formula
        Formula with the numbers put in, without its result.
    estimate
        True if a number in it is an estimate.
    """
    words = f"{formula} = {shown(minutes, 2)} min, contained in the time"
    return Fact(APPROACH_TIME, minutes, "min", words, DERIVED, estimate)


def mm(value: float, decimals: int = 2) -> str:
    """Write a length for a sentence, such as "12.5 mm".

    Parameters
    ----------
    value
        The length [mm].
    decimals
        Most places behind the point.
    """
    return f"{shown(value, decimals)} mm"


def diameter_words(value: float, decimals: int = 2) -> str:
    """Write a diameter for a sentence, such as "diameter 160 mm".

    Parameters
    ----------
    value
        The diameter [mm].
    decimals
        Most places behind the point.
    """
    return f"diameter {mm(value, decimals)}"
