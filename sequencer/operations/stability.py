"""Whether a part tips in its clamping under a cutting force high above its seat."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sequencer.cutting import tipping
from sequencer.operations.facts import COMMON, mm
from sequencer.operations.standing import Standing
from sequencer.units import Kg, Mm, Newton, NewtonMetre, shown

#: Where the check comes from.
SOURCE: Final = f"derived from moments; {COMMON}"


@dataclass(frozen=True)
class Stability:
    """What keeps a part from tipping.

    Parameters
    ----------
    moment
        Moment that weight and clamping set against tipping [N m].
    edge
        Height above the table of the edge that the part would tip over [mm].
    words
        The moment with its numbers.
    """

    moment: NewtonMetre
    edge: Mm
    words: str

    def force_at(self, height: Mm, safety: float) -> Newton:
        """Largest sideways force at a height above the table, the safety factor taken off [N].

        Parameters
        ----------
        height
            Height of the force above the table [mm].
        safety
            Safety factor.
        """
        arm = height - self.edge
        return float("inf") if arm <= 1.0 else tipping.force_before_tipping(self.moment, arm, safety)


def stability_of(standing: Standing, force: Newton, mass: Kg) -> Stability:
    """Give the moment against tipping: weight on its seat and friction of the jaws, or pull of the bolts.

    Source: derived from moments about the rim of the seat; jaws about the middle of their band

    Parameters
    ----------
    standing
        The part in the clamping.
    force
        Force of the means [N].
    mass
        Mass of the part [kg].
    """
    diameter, friction = standing.grip_diameter, standing.shop.limits.jaw_friction
    if standing.band is None:
        held = tipping.moment_of_bolts(force, diameter)
        weight = tipping.moment_of_weight(mass, diameter)
        words = (
            f"M = (F + m g) D/2 = ({shown(force, 0)} N + {shown(mass, 0)} kg*{shown(tipping.GRAVITY, 2)})*"
            f"{mm(diameter)}/2000 = {shown(held + weight, 0)} N m"
        )
        return Stability(held + weight, standing.air_below, words)
    held = tipping.moment_of_jaws(force, friction, diameter)
    weight = tipping.moment_of_weight(mass, diameter)
    low, high = float(standing.clamping.z_from or 0.0), float(standing.clamping.z_to or 0.0)
    words = (
        f"M = mu F D/pi + m g D/2 = {friction}*{shown(force, 0)} N*{mm(diameter)}/(1000 pi) + "
        f"{shown(mass, 0)} kg*{shown(tipping.GRAVITY, 2)}*{mm(diameter)}/2000 = {shown(held + weight, 0)} N m"
    )
    return Stability(held + weight, standing.above_table((low + high) / 2), words)
