"""Turning of the cylinder or cone that teeth are cut into, unless another feature already makes it."""

from __future__ import annotations

from typing import Final

from sequencer.operations.context import Context
from sequencer.operations.operation import Operation
from sequencer.operations.stock import Place, Surface, cylinder_surface
from sequencer.operations.teeth.zone import CylindricalFeature
from sequencer.operations.turning import cylinder_operations, surface_operations
from sequencer.part.teeth import bevel_body
from sequencer.part.toothed import BevelGear, InternalGear, Spline
from sequencer.part.turned import Bore, Taper, TurnedDiameter
from sequencer.units import Mm

PREFIX: Final = "blank_"
#: Two diameters count as one when they differ by less than this [mm].
SAME_DIAMETER: Final[Mm] = 0.005


def blank_operations(context: Context, feature: CylindricalFeature) -> tuple[Operation, ...]:
    """Give the turning of the tip cylinder of teeth; none where a turned feature makes it.

    Parameters
    ----------
    context
        Part and shop.
    feature
        Gear or spline.
    """
    extent = context.section.extent(feature.name)
    inside = isinstance(feature, InternalGear) or (isinstance(feature, Spline) and feature.place == "inside")
    place: Place = "inside" if inside else "outside"
    tip = extent.inner if inside else extent.outer
    if blank_maker(context, feature):
        return ()
    return cylinder_operations(context, feature, place, extent.z_from, extent.z_to, tip, PREFIX)


def blank_maker(context: Context, feature: CylindricalFeature) -> str:
    """Give the name of the turned feature that makes the tip cylinder of teeth; empty if none does.

    Parameters
    ----------
    context
        Part and shop.
    feature
        Gear or spline.
    """
    carrier = context.part.by_name.get(feature.on) if feature.on else None
    if isinstance(carrier, TurnedDiameter | Bore | Taper):
        return carrier.name
    inside = isinstance(feature, InternalGear) or (isinstance(feature, Spline) and feature.place == "inside")
    extent = context.section.extent(feature.name)
    tip = extent.inner if inside else extent.outer
    for other in context.part.features:
        if not isinstance(other, Bore if inside else TurnedDiameter):
            continue
        covers = other.z_from <= extent.z_from + 1e-6 and other.z_to >= extent.z_to - 1e-6
        if covers and abs(float(other.diameter) - tip) <= SAME_DIAMETER:
            return other.name
    return ""


def bevel_blank_operations(context: Context, gear: BevelGear) -> tuple[Operation, ...]:
    """Give the turning of the face cone of a bevel gear, roughed down to its small end.

    Parameters
    ----------
    context
        Part and shop.
    gear
        The bevel gear.
    """
    carrier = context.part.by_name.get(gear.on) if gear.on else None
    if isinstance(carrier, TurnedDiameter | Taper):
        return ()
    body = bevel_body(gear)
    made = cylinder_surface(context, "outside", float(gear.z_from), float(gear.z_to), body.toe.tip)
    middle = (body.heel.tip + body.toe.tip) / 2
    surface = Surface(
        made.place, made.z_from, made.z_to, middle, middle, made.raw_inner, made.raw_outer, made.stock
    )
    return surface_operations(context, gear, surface, PREFIX)
