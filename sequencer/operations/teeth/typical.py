"""Values of common practice that neither part nor shop gives; every fact made from them is an estimate."""

from __future__ import annotations

from typing import Final

from sequencer.units import Minutes, Mm

#: Best flank class of ISO 1328-1 that a single-start hob of a quality class cuts in soft steel.
HOB_CLASS: Final[dict[str, int]] = {"AAA": 6, "AA": 7, "A": 8, "B": 9, "C": 10}
#: Best flank class of the other methods.
DISC_CLASS: Final = 8
END_MILL_CLASS: Final = 7
HARD_SKIVING_CLASS: Final = 5
GRINDING_CLASS: Final = 3

#: A hob up to this module cuts the teeth in one cut, up to the next one in two cuts [mm].
ONE_CUT_MODULE: Final[Mm] = 5.0
TWO_CUT_MODULE: Final[Mm] = 12.0

#: A cutting speed or feed is lowered to no less than this share of the condition; below it the cut rubs.
LEAST_SHARE: Final = 0.6

#: Mechanical efficiency of the spindle drive, and how far the torque of an interrupted cut swings up.
EFFICIENCY: Final = 0.8
TORQUE_PEAK: Final = 1.5
#: Force across the main cutting force, over that force; the two flanks of a gap balance each other in part.
SIDE_FORCE: Final = 0.3

#: Free travel before a cutter touches the work [mm].
SAFE_DISTANCE: Final[Mm] = 2.0

#: Largest share of the form tolerance of helix or profile that feed marks and ridges may take.
MARK_SHARE: Final = 0.25
#: Ridges allowed on flanks without a flank class [um].
RIDGE_WITHOUT_CLASS: Final = 5.0

#: Least infeed of a skiving pass, below which the edge rubs [mm].
LEAST_INFEED: Final[Mm] = 0.05

#: An end mill in a tooth gap: largest feed a tooth and largest level, over its diameter.
END_MILL_FEED_SHARE: Final = 0.01
END_MILL_LEVEL_SHARE: Final = 0.5

#: Hand work on the two ends of one tooth gap, and the way of a deburring mill from gap to gap [min].
DEBURR_BY_HAND: Final[Minutes] = 0.25
DEBURR_WAY: Final[Minutes] = 0.01

#: Teeth on which profile and helix are traced, and places where an apex is checked.
TRACED_TEETH: Final = 4
APEX_PLACES: Final = 4

_SKIVING_CLASS: Final[tuple[tuple[Mm, int], ...]] = ((6.0, 6), (10.0, 7))
_COARSE_SKIVING_CLASS: Final = 8


def skiving_class(module: Mm) -> int:
    """Give the best flank class that power skiving reaches in soft steel.

    Source: common practice, no source

    Parameters
    ----------
    module
        Normal module [mm].
    """
    for largest, number in _SKIVING_CLASS:
        if module <= largest:
            return number
    return _COARSE_SKIVING_CLASS


def hob_class(quality: str, starts: int) -> int:
    """Give the best flank class that a hob reaches in soft steel; one class less with several starts.

    Source: common practice, no source

    Parameters
    ----------
    quality
        Quality class of the hob.
    starts
        Number of starts [-].
    """
    return HOB_CLASS[quality] + (1 if starts > 1 else 0)
