"""Finds a tooth system and a gear cutter by name; near misses are named."""

from __future__ import annotations

from sequencer.datasheet.wanted import Toothed
from sequencer.errors import SequencerError
from sequencer.part import Part
from sequencer.part.fault import did_you_mean
from sequencer.shop import Shop
from sequencer.shop.tools import Hob, SkivingCutter


def tooth_system(part: Part, name: str | None) -> Toothed:
    """Give a gear or spline of a part.

    Parameters
    ----------
    part
        The part.
    name
        Its name; None where the part has one only.

    Raises
    ------
    SequencerError
        When there is none of that name, or no name is given and there are several.
    """
    toothed = {feature.name: feature for feature in part.features if isinstance(feature, Toothed)}
    if name is None:
        if len(toothed) == 1:
            return next(iter(toothed.values()))
        what = "has no gears or splines" if not toothed else f"has {len(toothed)} gears and splines"
        remedy = f"name one of them: {', '.join(toothed)}" if toothed else "add one"
        raise SequencerError(what, where=part.name, remedy=remedy)
    if name in toothed:
        return toothed[name]
    if name in part.by_name:
        what = f"{name!r} is of kind {part.by_name[name].kind}, no gear or spline"
        remedy = did_you_mean("", toothed, "gears and splines of this part")
    else:
        what = f"there is no gear or spline {name!r}"
        remedy = did_you_mean(name, toothed, "gears and splines of this part")
    raise SequencerError(what, where=part.name, remedy=remedy)


def gear_cutter(shop: Shop, name: str) -> Hob | SkivingCutter:
    """Give a hob or skiving cutter of a shop.

    Parameters
    ----------
    shop
        The shop.
    name
        Name of the tool.

    Raises
    ------
    SequencerError
        When there is no tool of that name, or it is neither hob nor skiving cutter.
    """
    cutters = {tool.name: tool for tool in shop.tools if isinstance(tool, Hob | SkivingCutter)}
    if name in cutters:
        return cutters[name]
    tool = shop.tool_by_name.get(name)
    listed = "hobs and skiving cutters of this shop"
    if tool is not None:
        what = f"{name} is of kind {tool.kind}, neither hob nor skiving cutter"
        raise SequencerError(what, where=shop.name, remedy=did_you_mean("", cutters, listed))
    what = f"there is no hob or skiving cutter {name!r}"
    raise SequencerError(what, where=shop.name, remedy=did_you_mean(name, cutters, listed))
