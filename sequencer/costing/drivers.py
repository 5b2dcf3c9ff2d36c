"""What drives an answer: each driver changed alone, the strongest first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from sequencer.costing.assumptions import Assumptions


@dataclass(frozen=True)
class Driver:
    """How far an answer moves when one assumption is changed.

    Parameters
    ----------
    name
        The assumption.
    low, high
        What it is changed to, in words.
    at_low, at_high
        The answer then.
    flips
        True if the sign of the answer changes in between.
    """

    name: str
    low: str
    high: str
    at_low: float
    at_high: float
    flips: bool

    @property
    def swing(self) -> float:
        """How far the answer moves."""
        return abs(self.at_high - self.at_low)


Change = Callable[[Assumptions], Assumptions]


def _rates(factor: float) -> Change:
    return lambda given: replace(
        given,
        machine_hour=given.machine_hour * factor,
        marginal_machine_hour=given.marginal_machine_hour * factor,
    )


def _factor(name: str, factor: float) -> Change:
    return lambda given: replace(given, **{name: getattr(given, name) * factor})


def _lot(factor: float) -> Change:
    def changed(given: Assumptions) -> Assumptions:
        lot = max(1.0, round(given.lot * factor))
        series = lot if given.series == given.lot else max(given.series, lot)
        return replace(given, lot=lot, series=series)

    return changed


def _busy(share: float) -> Change:
    return lambda given: replace(given, lost_hour=max(given.lost_hour, share * given.machine_hour))


def _free(given: Assumptions) -> Assumptions:
    return replace(given, lost_hour=0.0)


def _blank(factor: float) -> Change:
    return lambda given: given if given.blank is None else replace(given, blank=given.blank * factor)


#: Name, words and change to the low and to the high side; ranges are common practice, no source.
DRIVERS: Final[tuple[tuple[str, str, Change, str, Change], ...]] = (
    ("machine rate", "-20 %", _rates(0.8), "+20 %", _rates(1.2)),
    ("times on the machine", "-15 %", _factor("time_factor", 0.85), "+15 %", _factor("time_factor", 1.15)),
    ("tool life", "-40 %", _factor("life_factor", 0.6), "+40 %", _factor("life_factor", 1.4)),
    (
        "prices from outside",
        "-15 %",
        _factor("outside_factor", 0.85),
        "+15 %",
        _factor("outside_factor", 1.15),
    ),
    ("scrap risk", "half", _factor("risk_factor", 0.5), "three times", _factor("risk_factor", 3.0)),
    (
        "set-up and programming",
        "-30 %",
        _factor("effort_factor", 0.7),
        "+50 %",
        _factor("effort_factor", 1.5),
    ),
    ("lot", "half", _lot(0.5), "twice", _lot(2.0)),
    ("load of the machine", "free", _free, "a bottleneck at half its rate", _busy(0.5)),
    ("price of the blank", "-15 %", _blank(0.85), "+15 %", _blank(1.15)),
)

#: Drivers that are shown.
STRONGEST: Final = 5


def drivers_of(answer: Callable[[Assumptions], float], given: Assumptions) -> tuple[Driver, ...]:
    """Change each driver alone and give the strongest five, the strongest first.

    Source: one-at-a-time sensitivity (tornado); common practice, no source

    Parameters
    ----------
    answer
        The number that is looked at: a cost, or what making saves.
    given
        The assumptions as they are.
    """
    now = answer(given)
    found = []
    for name, low_words, low, high_words, high in DRIVERS:
        at_low, at_high = answer(low(given)), answer(high(given))
        flips = min(now, at_low, at_high) < 0 < max(now, at_low, at_high)
        found.append(Driver(name, low_words, high_words, at_low, at_high, flips))
    moving = [driver for driver in found if driver.swing > 1e-9]
    return tuple(sorted(moving, key=lambda driver: -round(driver.swing, 9))[:STRONGEST])
