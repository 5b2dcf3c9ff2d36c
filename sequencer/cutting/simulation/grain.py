"""How finely a cut is played through."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Grain:
    """How finely a skiving cut is played through.

    Parameters
    ----------
    edge_points
        Points of a cutting edge [-].
    steps
        Rotation steps of one passage of a cutter tooth [-].
    table_turns
        Table turns that are followed; every one brings a cutter tooth into the space [-].
    """

    edge_points: int
    steps: int
    table_turns: int


#: For deviations well below 1 um.
FINE: Final = Grain(161, 401, 12)
#: For angles to about a degree, many cutters a second.
COARSE: Final = Grain(33, 161, 4)
