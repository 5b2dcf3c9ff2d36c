"""Methods of other machines: shaping, broaching and grinding, as remarks or as sent-out work."""

from __future__ import annotations

from typing import Final

from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON
from sequencer.operations.operation import Alternative, Fact, Rejection
from sequencer.operations.outside import sent_out
from sequencer.operations.teeth.share import radial_stock
from sequencer.operations.teeth.typical import GRINDING_CLASS
from sequencer.operations.teeth.zone import Teeth
from sequencer.units import Mm, shown

#: Methods that only other machines have.
SENT_OUT: Final = ("shaping", "broaching", "grinding")

#: Those of them that cut teeth from the blank.
CUT_OUTSIDE: Final = ("shaping", "broaching")

#: Groove that a shaper cutter runs out into, up to a module (handbook values, from memory) [mm].
_SHAPER_GROOVES: Final[tuple[tuple[Mm, Mm], ...]] = (
    (2.0, 5.0),
    (4.0, 6.0),
    (7.0, 7.0),
    (9.0, 8.0),
    (16.0, 9.0),
)
_COARSE_GROOVE: Final[Mm] = 10.0


def shaper_groove(module: Mm) -> Mm:
    """Give the groove width that a shaper cutter needs behind the teeth.

    Source: handbook values, from memory

    Parameters
    ----------
    module
        Module [mm].
    """
    for largest, width in _SHAPER_GROOVES:
        if module <= largest:
            return width
    return _COARSE_GROOVE


def remarks(context: Context, teeth: Teeth) -> tuple[Rejection, ...]:
    """Say of each sent-out method whether it would do and why it is not made here.

    Parameters
    ----------
    context
        Part, shop and section.
    teeth
        The teeth.
    """
    return (_shaping(context, teeth), _broaching(context, teeth), _grinding(context, teeth))


def _gaps(context: Context, teeth: Teeth) -> tuple[Mm | None, Mm | None]:
    half = "lower" if teeth.half == "lower" else "upper" if teeth.half == "upper" else None
    below, above = context.section.neighbours(teeth.feature.name, half)  # type: ignore[arg-type]
    return (below.gap if below else None), (above.gap if above else None)


def _shaping(context: Context, teeth: Teeth) -> Rejection:
    machine, groove = context.shop.machine, shaper_groove(teeth.module)
    gaps = _gaps(context, teeth)
    free = None in gaps
    has = max((gap for gap in gaps if gap is not None), default=0.0)
    if "shaping" in machine.gear_methods:
        return Rejection("shaping", "", "", "The shop has no shaper cutter.", "Buy a shaper cutter.")
    where = f"{machine.name} has no stroking ram; outside, a shaper cutter runs out in {shown(groove)} mm"
    if free or has >= groove:
        there = "one end is open" if free else f"{shown(has, 1)} mm are there"
        return Rejection("shaping", "", "", f"{where}, {there}: it can be sent out.", "")
    return Rejection(
        "shaping",
        "",
        "",
        f"{where}, only {shown(has, 1)} mm are there: it cannot be shaped outside either.",
        f"Widen the groove to {shown(groove)} mm.",
    )


def _broaching(context: Context, teeth: Teeth) -> Rejection:
    if not teeth.internal:
        return Rejection("broaching", "", "", "A broach cuts inside teeth; these point outwards.")
    if any(gap is not None for gap in _gaps(context, teeth)):
        return Rejection(
            "broaching", "", "", "A broach is pulled through; material beside these teeth stands in its way."
        )
    return Rejection(
        "broaching",
        "",
        "",
        f"{context.shop.machine.name} has no broach; outside it pays from some hundred pieces, "
        f"this lot has {context.part.lot}.",
    )


def _grinding(context: Context, teeth: Teeth) -> Rejection:
    wanted = teeth.flank_class
    asked = "no flank class is asked for" if wanted is None else f"the drawing asks for {wanted}"
    return Rejection(
        "grinding",
        "",
        "",
        f"{context.shop.machine.name} does not grind; outside it reaches class {GRINDING_CLASS} "
        f"({COMMON}), {asked}.",
    )


def grinding_alternative(context: Context, teeth: Teeth, why: str) -> Alternative:
    """Give the way to send teeth out for grinding.

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    why
        Why they are ground, for the reason.
    """
    stock = float(context.shop.stock.grinding)
    facts = (
        Fact(
            "stock on each flank",
            stock,
            "mm",
            f"radial {shown(radial_stock(teeth, stock), 3)} mm",
            "shop file",
        ),
        Fact(
            "flank class reachable",
            float(GRINDING_CLASS),
            "",
            f"grinding: class {GRINDING_CLASS}",
            COMMON,
            estimate=True,
        ),
    )
    reason = (
        f"Sent out for grinding: {why}. It leaves with finished datums and {shown(stock, 3)} mm on each "
        "flank, and comes back through an incoming check."
    )
    return sent_out(context.shop, "grinding", reason, *facts)


def outside_alternative(context: Context, name: str, method: str) -> Alternative:
    """Give the way to have teeth cut outside because the planner wants it so.

    Parameters
    ----------
    context
        Part and shop.
    name
        Name of the feature.
    method
        "shaping" or "broaching".
    """
    reason = f"The part file asks for {method} of {name}: sent out with finished datums."
    return sent_out(context.shop, method, reason)
