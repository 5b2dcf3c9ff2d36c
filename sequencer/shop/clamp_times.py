"""Times of clamping by hand and hydraulically; what the shop file leaves out is estimated."""

from __future__ import annotations

from typing import Final, Literal

from sequencer.shop.machine import Times
from sequencer.units import Minutes

#: Shares of the time by hand that hydraulic means take, where the shop file does not say; common practice, no
#: source: seats are cleaned and the part is laid on all the same, jaws close and change force by program.
CLAMP_SHARE: Final = 0.4
RELEASE_SHARE: Final = 0.2

Actuation = Literal["manual", "hydraulic"]


def clamp_minutes(times: Times, actuation: Actuation) -> Minutes:
    """Time of clamping a part, cleaning of seats included [min].

    Source: shop file; where it does not say, common practice, no source: 0.4 of the time by hand.

    Parameters
    ----------
    times
        Times of the machine.
    actuation
        "manual" or "hydraulic".
    """
    if actuation == "manual":
        return float(times.clamp)
    given = times.hydraulic_clamp
    return float(given) if given is not None else CLAMP_SHARE * float(times.clamp)


def release_minutes(times: Times, actuation: Actuation) -> Minutes:
    """Time of releasing and clamping again with lower force [min].

    Source: shop file; where it does not say, common practice, no source: 0.2 of the time by hand.

    Parameters
    ----------
    times
        Times of the machine.
    actuation
        "manual" or "hydraulic".
    """
    if actuation == "manual":
        return float(times.release)
    given = times.hydraulic_release
    return float(given) if given is not None else RELEASE_SHARE * float(times.release)
