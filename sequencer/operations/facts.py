"""Facts of an alternative: numbers with their formula, the numbers put in, and their source."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from sequencer.cutting import speeds
from sequencer.operations.operation import Fact, FittedClamping
from sequencer.shop import AnyTool, Shop
from sequencer.units import MetrePerMinute, Minutes, Mm, Rpm, shown

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


def cutting_speed_fact(chosen: ChosenConditions) -> Fact:
    """Cutting speed as it was chosen, with the place that it comes from.

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


def revolutions(
    diameter: Mm, speed: MetrePerMinute, cap: SpeedCap, name: str = "revolutions", estimate: bool = False
) -> Fact:
    """Revolutions for a cutting speed, held down to the cap.

    Parameters
    ----------
    diameter
        Diameter of the work (turning) or of the cutter [mm].
    speed
        Cutting speed wanted [m/min].
    cap
        Highest revolutions and what sets them.
    name
        Name of the fact.
    estimate
        True if the cutting speed is an estimate.
    """
    wanted = speeds.spindle_rpm(diameter, speed)
    formula = (
        f"n = 1000 vc/(pi d) = 1000*{shown(speed, 1)}/(pi*{shown(diameter, 2)}) = {shown(wanted, 1)} rpm"
    )
    rpm = speeds.capped_rpm(diameter, speed, cap.rpm)
    if rpm < wanted:
        real = speeds.cutting_speed(diameter, rpm)
        formula += f", held down to {shown(rpm, 1)} rpm ({cap.reason}); vc is then {shown(real, 1)} m/min"
    return Fact(name, rpm, "rpm", formula, "Mitsubishi Materials, formulas for turning", estimate)


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
