"""What a simulated cut leaves on the two flanks of a tooth space."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.units import Micrometre, Mm, shown

#: Points of a flank at which the deviation is given.
POINTS = 41

#: One flank: pairs of diameter [mm] and deviation [um], by rising diameter.
Flank = tuple[tuple[Mm, Micrometre], ...]


@dataclass(frozen=True)
class Deviation:
    """Distance of the cut flanks from the wanted involute, square to them; positive where material stays.

    A flank is left or right as seen from above on a tooth that points up. Nothing can deviate by more than
    half a space (left uncut) or half a tooth (cut away).

    Parameters
    ----------
    gear
        The gear that is compared, in words.
    left
        Diameter [mm] and deviation [um] of the left flank.
    right
        Diameter [mm] and deviation [um] of the right flank.
    """

    gear: str
    left: Flank
    right: Flank

    @property
    def largest(self) -> Micrometre:
        """Largest size of the deviation on both flanks [um]."""
        return max(abs(deviation) for _, deviation in (*self.left, *self.right))

    @property
    def form(self) -> Micrometre:
        """Largest range of the deviation along one flank; a mere offset of the flank leaves it 0 [um]."""
        return max(_range(self.left), _range(self.right))


def _range(flank: Flank) -> Micrometre:
    deviations = [deviation for _, deviation in flank]
    return max(deviations) - min(deviations)


def describe(deviation: Deviation) -> tuple[str, ...]:
    """Write what was compared and what came out, a line for each flank.

    Source: derived

    Parameters
    ----------
    deviation
        The result of a simulated cut.
    """
    first, last = deviation.left[0][0], deviation.left[-1][0]
    lines = [f"{deviation.gear}, diameter {shown(first)} to {shown(last)} mm: {_verdict(deviation)}"]
    for name, flank in (("left", deviation.left), ("right", deviation.right)):
        values = [value for _, value in flank]
        lines.append(
            f"{name} flank: {shown(min(values), 2)} to {shown(max(values), 2)} um, "
            f"mean {shown(sum(values) / len(values), 2)} um, form {shown(_range(flank), 2)} um"
        )
    return tuple(lines)


def _verdict(deviation: Deviation) -> str:
    largest = shown(deviation.largest, 2)
    return f"largest deviation {largest} um (positive: material stays, negative: cut too deep)"
