"""Stock that lies over a feature or in the way to it is taken off first."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.operations import Operation
from sequencer.part import AnyFeature
from sequencer.part.turned import ApexGroove, Bore, Face, Groove, RunOutGroove, Taper
from sequencer.precedence.context import RuleContext
from sequencer.precedence.demands import Outcome, Wanted, before, opens
from sequencer.precedence.geometry import next_to, open_side_of, way_in


def stock_off_first(context: RuleContext, feature: AnyFeature) -> Iterator[Outcome]:
    """Demand that stock over a shoulder, beside a groove or on the way in is taken off before.

    Parameters
    ----------
    context
        The operations.
    feature
        Any feature; only faces, grooves and bores are meant.
    """
    first = context.begun(feature.name)
    if first is None:
        return
    if isinstance(feature, Face):
        for name in open_side_of(context, feature):
            yield from _stock(context, name, first, f"stock of {name} lies over {feature.name}")
    elif isinstance(feature, Groove | ApexGroove | RunOutGroove):
        sides = tuple(dict.fromkeys((*context.carriers(feature), *next_to(context, feature))))
        for name in sides:
            yield from _stock(context, name, first, f"{feature.name} is cut into {name}")
        if isinstance(feature, Groove | RunOutGroove) and feature.place == "inside":
            yield from opened_way(context, feature, first, skip=sides)
    elif isinstance(feature, Bore) or (isinstance(feature, Taper) and feature.place == "inside"):
        yield from opened_way(context, feature, first, narrower=True)


def _stock(context: RuleContext, name: str, first: Operation, words: str) -> Iterator[Outcome]:
    opened = context.opened(name)
    if opened is None or opened is first:
        return
    demand = before(opened, first, f"{words}: its stock is taken off first")
    if set(first.clampings) <= set(opened.clampings):
        yield demand
    else:
        yield Wanted(
            demand,
            f"{words}, whose stock is still there: {first.name} cuts deeper and longer than reckoned",
            f"Let one clamping reach both, or take the stock of {name} off earlier",
        )


def opened_way(
    context: RuleContext,
    feature: AnyFeature,
    first: Operation,
    *,
    skip: tuple[str, ...] = (),
    narrower: bool = False,
) -> Iterator[Outcome]:
    """Demand that the bores that lead down to an inside feature are opened before it, in each clamping.

    Parameters
    ----------
    context
        The operations.
    feature
        Bore, inside groove or internal teeth.
    first
        Its first cut.
    skip
        Bores that are spoken of elsewhere.
    narrower
        True if only bores narrower than the feature stand in the way.
    """
    width = context.section.extent(feature.name).inner
    for fitted in context.clampings:
        if fitted.name not in first.clampings:
            continue
        for name in way_in(context, feature, fitted.clamping.up):
            opened = context.opened(name)
            stands = not narrower or context.section.extent(name).inner < width
            if opened is not None and opened is not first and name not in skip and stands:
                reason = f"the tool for {feature.name} passes {name} in {fitted.name}, which is opened first"
                yield opens(fitted.name, opened, first, reason)
