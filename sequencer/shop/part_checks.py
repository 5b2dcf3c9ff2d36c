"""What a part asks of a shop: tools that can cut its features, jaws and risers that exist."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sequencer.part.fault import Fault, did_you_mean
from sequencer.part.part import BLANK, AnyFeature, Clamping, Part
from sequencer.part.section import Section, make_section
from sequencer.shop.machine import ClampingMeans
from sequencer.shop.shop import Shop
from sequencer.units import Mm, shown

_TURNED: Final = ("turning", "grooving", "end mill")
_GEAR: Final = ("hob", "skiving cutter", "disc cutter", "end mill", "slotting")

#: Kinds of tools that can finish a kind of feature; common practice, no source.
TOOL_KINDS: Final[dict[str, tuple[str, ...]]] = {
    "face": _TURNED,
    "turned_diameter": _TURNED,
    "bore": (*_TURNED, "drill", "reamer"),
    "taper": _TURNED,
    "groove": _TURNED,
    "face_groove": _TURNED,
    "apex_groove": _TURNED,
    "run_out_groove": _TURNED,
    "chamfer": (*_TURNED, "chamfer mill"),
    "radius": (*_TURNED, "chamfer mill"),
    "thread": ("threading", "end mill", "turning", "tap"),
    "external_gear": _GEAR,
    "double_helical_gear": _GEAR,
    "internal_gear": _GEAR[1:],
    "spline": _GEAR,
    "bevel_gear": _GEAR,
    "keyway": ("end mill", "slotting", "disc cutter"),
    "bolt_circle": ("drill", "tap", "reamer", "counterbore", "end mill", "turning", "chamfer mill"),
    "flat": ("end mill", "disc cutter"),
    "pocket": ("end mill",),
    "marking": ("engraving", "end mill", "chamfer mill"),
}

_JAWS: Final = ("outside jaws", "inside jaws")
#: Risers closer than this are the same [mm].
_SAME_RISER: Final = 0.5


def tool_wish_faults(part: Part, shop: Shop) -> Iterator[Fault]:
    """Check the tools that features ask for: the shop has them, and their kind can cut the feature.

    Source: derived

    Parameters
    ----------
    part
        The part.
    shop
        The shop that is to make it.
    """
    for at, feature in enumerate(part.features):
        if feature.tool is None:
            continue
        path = ("features", at, "tool")
        tool = shop.tool_by_name.get(feature.tool)
        if tool is None:
            remedy = did_you_mean(feature.tool, shop.tool_by_name, "tools of the shop")
            yield Fault(path, f"the shop has no tool {feature.tool!r}", "", remedy)
        elif tool.kind not in _kinds_for(feature):
            what = f"{tool.name!r} is of kind {tool.kind}, it cannot finish a feature of kind {feature.kind}"
            fitting = [other.name for other in shop.tools if other.kind in _kinds_for(feature)]
            limit = f"kinds of tools for it: {', '.join(_kinds_for(feature))}"
            yield Fault(path, what, limit, did_you_mean("", fitting, "tools of the shop"))


def _kinds_for(feature: AnyFeature) -> tuple[str, ...]:
    return TOOL_KINDS[feature.kind]


def holding_faults(part: Part, shop: Shop) -> Iterator[Fault]:
    """Check jaw bands and risers against the clamping means that hold the diameter.

    Source: derived

    Parameters
    ----------
    part
        The part.
    shop
        The shop that is to make it.
    """
    if not part.clampings:
        return
    section = make_section(part)
    for at, clamping in enumerate(part.clampings):
        means = _fitting(section, clamping, shop)
        if means:
            yield from _band(at, clamping, means)
            yield from _riser(at, clamping, means)


def _fitting(section: Section, clamping: Clamping, shop: Shop) -> list[ClampingMeans]:
    """Means that hold that way and that diameter; the one that is named if it is one of them."""
    diameter = _grip_diameter(section, clamping)
    right = [
        means
        for means in shop.clamping_means
        if means.hold == clamping.hold
        and (diameter is None or means.diameter_from <= diameter <= means.diameter_to)
    ]
    if clamping.means is not None:
        return [means for means in right if means.name == clamping.means]
    return right


def _grip_diameter(section: Section, clamping: Clamping) -> Mm | None:
    if clamping.hold not in _JAWS:
        return None
    inside, blank = clamping.hold == "inside jaws", section.part.blank
    if clamping.on == BLANK:
        return float(blank.bore if inside else blank.diameter)
    extent = section.extent(clamping.on)
    return extent.inner if inside else extent.outer


def _band(at: int, clamping: Clamping, means: list[ClampingMeans]) -> Iterator[Fault]:
    if (
        clamping.z_from is None
        or clamping.z_to is None
        or clamping.hold not in ("outside jaws", "inside jaws")
    ):
        return
    length = clamping.z_to - clamping.z_from
    highest = max(means, key=lambda item: item.height)
    if length > highest.height + 1e-6:
        what = f"the jaws cover {shown(length)} mm, no {clamping.hold} that hold it are as high"
        limit = f"the highest, {highest.name}, have {highest.height}"
        yield Fault(("clampings", at, "z_to"), what, limit, "shorten the band to what the jaws cover")


def _riser(at: int, clamping: Clamping, means: list[ClampingMeans]) -> Iterator[Fault]:
    heights = sorted({float(height) for item in means for height in item.risers})
    riser = float(clamping.riser)
    if riser > 0 and all(abs(riser - height) > _SAME_RISER for height in heights):
        what = f"no {clamping.hold} that hold it have a riser of {clamping.riser}"
        known = ", ".join(f"{shown(height)} mm" for height in heights) or "none"
        remedy = "take one of these or add it to the shop file" if heights else "add it to the shop file"
        yield Fault(("clampings", at, "riser"), what, f"risers: {known}", remedy)
