"""Work outside the shop: what is sent out, and what is checked when it comes back."""

from __future__ import annotations

from sequencer.operations.facts import COMMON, SEND_OUT_MINUTES
from sequencer.operations.operation import BENCH, Alternative, Fact, Mode
from sequencer.shop import Shop


def sent_out(shop: Shop, method: str, reason: str, *facts: Fact) -> Alternative:
    """Give the way to have something done outside.

    Parameters
    ----------
    shop
        The shop, for the time to check the part when it comes back.
    method
        What is done outside.
    reason
        Why, and in what state the part leaves.
    facts
        Further numbers, such as the stock that is left.
    """
    minutes = float(shop.machine.times.receive)
    known = (
        Fact("time away", SEND_OUT_MINUTES, "min", "5 days, transport included", COMMON, estimate=True),
        *facts,
        Fact("time", minutes, "min", "check when it comes back", "shop file, time at receipt"),
    )
    return Alternative(method, "", BENCH, Mode.REST, minutes, known, reason, lead_time=SEND_OUT_MINUTES)


def incoming_check(minutes: float, source: str, reason: str) -> Alternative:
    """Give the way to measure a feature on the bench when the part comes back.

    Parameters
    ----------
    minutes
        How long it takes [min].
    source
        Where that time comes from.
    reason
        Why it is measured there.
    """
    fact = Fact("time", minutes, "min", "", source)
    return Alternative("incoming check", "", BENCH, Mode.REST, minutes, (fact,), reason)
