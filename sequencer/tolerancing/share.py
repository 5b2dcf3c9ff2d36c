"""Shares of a tolerance: what each cause uses up, and whether all of them together hold."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sequencer.operations import Fact
from sequencer.units import Micrometre


class Cause(StrEnum):
    """What uses up a tolerance."""

    MACHINE = "machine"
    RECLAMPING = "re-clamping"
    RELEASE = "release and distortion"
    THERMAL = "temperature"
    HEAT = "heat treatment"
    MEASURING = "measuring"


class Verdict(StrEnum):
    """Whether a relation holds."""

    HOLDS = "holds"
    STATISTICALLY = "holds statistically"
    FAILS = "does not hold"


@dataclass(frozen=True)
class Share:
    """What one cause uses of a tolerance.

    Parameters
    ----------
    cause
        The cause.
    fact
        Its effect on the relation in um, with formula, source and whether it is an estimate.
    change
        Where the value behind it can be changed.
    clamping
        Clamping in which it enters; empty if it belongs to none.
    """

    cause: Cause
    fact: Fact
    change: str
    clamping: str = ""

    @property
    def value(self) -> Micrometre:
        """Effect on the relation [um]."""
        return self.fact.value
