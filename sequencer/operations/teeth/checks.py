"""Checks that all methods share: wishes, machine, match of cutter and teeth, delivery, life, class, tilt."""

from __future__ import annotations

import math
from typing import Final

from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON, DERIVED
from sequencer.operations.forbidden import REMEDY, forbids
from sequencer.operations.operation import Fact, FittedClamping
from sequencer.operations.teeth.trial import PASSED, Check, Plain, fail
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.tools import DiscCutter, EndMill, Hob, SkivingCutter, Tool
from sequencer.units import Deg, Minutes, Mm, Module, shown

#: Two modules count as one when they differ by less than this share.
SAME_MODULE: Final = 1e-4
_DAY: Final = 1440.0


def method_check(context: Context, teeth: Teeth, method: str) -> Check:
    """Check that the planner allows the method and the machine has it.

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    method
        Method, such as "hobbing".
    """
    wish = teeth.feature.method
    if wish not in (None, "grinding", method):
        return fail(f"the part file asks for {wish}", "take the wish for a method out of the part file")
    against = forbids(context.shop, teeth.feature.name, method, "")
    if against:
        return fail(against, REMEDY)
    if method not in context.shop.machine.gear_methods:
        has = ", ".join(context.shop.machine.gear_methods) or "none"
        return fail(f"{context.shop.machine.name} has no {method}; its gear methods are {has}")
    return PASSED


def wish_check(teeth: Teeth, tool: Tool, finishing: bool) -> Check:
    """Check that the planner allows the tool.

    Parameters
    ----------
    teeth
        The teeth.
    tool
        The tool.
    finishing
        Whether this cut finishes the teeth; a wish for a tool is about that cut.
    """
    wish = teeth.feature.tool
    if finishing and wish is not None and wish != tool.name:
        return fail(f"the part file asks for tool {wish}", "take the wish for a tool out of the part file")
    return PASSED


def normal_module_of(module: Module, helix_angle: Deg = 0.0) -> Mm:
    """Give the normal module of a cutter; written as transverse it shrinks with its helix angle.

    Source: ISO 21771, from memory: mn = mt cos beta

    Parameters
    ----------
    module
        Module as written.
    helix_angle
        Helix angle of the cutter [deg].
    """
    if module.system == "transverse":
        return module.millimetres * math.cos(math.radians(helix_angle))
    return module.millimetres


def match_check(teeth: Teeth, tool: Hob | SkivingCutter | DiscCutter) -> Check:
    """Check that module and pressure angle of a form cutter are those of the teeth.

    Parameters
    ----------
    teeth
        The teeth.
    tool
        The cutter.
    """
    helix = float(tool.helix_angle) if isinstance(tool, SkivingCutter) else 0.0
    module = normal_module_of(tool.module, helix)
    if abs(module - teeth.module) > SAME_MODULE * teeth.module:
        return fail(
            f"{tool.kind} {tool.name} has module {_size(tool.module, module)}, "
            f"the teeth have {shown(teeth.module, 4)} mm",
            plain=Plain("module", tool.module.text, f"the teeth have {shown(teeth.module, 4)} mm"),
        )
    cutter_angle, angle = float(tool.pressure_angle), teeth.gear.pressure_angle
    if abs(cutter_angle - angle) > 0.005:
        return fail(
            f"{tool.kind} {tool.name} has a pressure angle of {shown(cutter_angle, 2)} deg, "
            f"the teeth have {shown(angle, 2)} deg",
            plain=Plain(
                "pressure angle", f"{shown(cutter_angle, 2)} deg", f"the teeth have {shown(angle, 2)} deg"
            ),
        )
    return PASSED


def use_check(mill: EndMill) -> Check:
    """Check that an end mill is for teeth.

    Parameters
    ----------
    mill
        The end mill.
    """
    if "teeth" in mill.use:
        return PASSED
    use = " and ".join(mill.use)
    return fail(f"end mill {mill.name} is for {use}, not for teeth", plain=Plain("for", use, "not for teeth"))


def _size(module: Module, millimetres: Mm) -> str:
    if module.text.endswith("mm"):
        return module.text
    return f"{module.text} ({shown(millimetres, 4)} mm)"


def range_check(tool: SkivingCutter | DiscCutter, teeth: float, words: str) -> Check:
    """Check that the form of a cutter is made for a number of teeth.

    Parameters
    ----------
    tool
        The cutter.
    teeth
        Number of teeth, virtual ones for a form cutter [-].
    words
        What that number is, such as "teeth".
    """
    if tool.least_teeth - 1e-9 <= teeth <= tool.most_teeth + 1e-9:
        return PASSED
    return fail(
        f"{tool.kind} {tool.name} has its form for {tool.least_teeth} to {tool.most_teeth} teeth, "
        f"this gear has {shown(teeth, 1)} {words}",
        f"buy a {tool.kind} made for {shown(teeth, 1)} teeth",
    )


def delivery_check(context: Context, tool: Tool) -> Check:
    """Check that a tool that is not in the shop comes before the due date.

    Parameters
    ----------
    context
        Part and shop.
    tool
        The tool.
    """
    if tool.owned > 0:
        return PASSED
    days = float(tool.lead_time) / _DAY
    fact = Fact("lead time of the tool", days, "d", source="shop file")
    due, ordered = context.part.due, context.part.order_date
    if due is None or ordered is None:
        return Check((Fact("lead time of the tool", days, "d", source="shop file", estimate=True),))
    left = float((due - ordered).days)
    if days <= left:
        return Check((fact, Fact("time until the due date", left, "d", source="part file")))
    return fail(
        f"{tool.name} is not in the shop and takes {shown(days, 1)} d, "
        f"the part is due in {shown(left)} d ({due.isoformat()})",
        f"order {tool.name} {shown(math.ceil(days - left))} d earlier, or borrow one",
        fact,
        Fact("time until the due date", left, "d", source="part file"),
    )


def length_life_check(context: Context, teeth: Teeth, tool: Tool, gears: int, finishing: bool) -> Check:
    """Check that a form cutter lasts a whole tooth system when it finishes, by length of teeth cut.

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    tool
        The cutter.
    gears
        How many runs of these teeth it cuts in one part: 2 where one cutter makes both helices.
    finishing
        Whether this cut finishes the teeth.
    """
    if tool.life_length is None:
        return PASSED
    metres, life = teeth.tooth_metres * gears, float(tool.life_length) / 1000
    usable = life * context.shop.limits.life_use
    runs = f"{gears}*" if gears > 1 else ""
    formula = (
        f"L = z b/(1000 cos(beta)) = {runs}{teeth.teeth}*{shown(teeth.face_width, 1)}"
        f"/(1000*cos({shown(teeth.helix_angle, 2)} deg)) = {shown(metres, 2)} m of {shown(usable, 1)} m"
    )
    fact = Fact("length of teeth cut", metres, "m", formula, COMMON)
    if metres <= usable or not finishing:
        return Check((fact,))
    return fail(
        f"{tool.name} cuts {shown(usable, 1)} m of teeth "
        f"({shown(100 * context.shop.limits.life_use)} % of its life of {shown(life, 1)} m), "
        f"this tooth system has {shown(metres, 1)} m and must be finished with one edge",
        "use a longer-lived cutter or rough with another one",
        fact,
    )


def minutes_life_check(context: Context, tool: Tool, minutes: Minutes, one_edge: bool) -> Check:
    """Check a life in minutes: one edge for a form cutter that finishes, enough sister tools otherwise.

    Parameters
    ----------
    context
        Part and shop.
    tool
        The tool.
    minutes
        Time that it cuts in one part [min].
    one_edge
        True if one edge must do it.
    """
    if tool.life is None or float(tool.life) <= 0:
        return PASSED
    usable = float(tool.life) * context.shop.limits.life_use
    edges = max(1, math.ceil(minutes / usable - 1e-9))
    formula = (
        f"n = t/(k T) = {shown(minutes, 1)}/{shown(usable, 1)} = {shown(minutes / usable, 2)}, so {edges}; "
        f"the shop owns {tool.owned}"
    )
    fact = Fact("edges or sister tools for one part", float(edges), "", formula, COMMON)
    if one_edge and edges > 1:
        return fail(
            f"{tool.name} cuts for {shown(minutes, 1)} min, an edge lasts {shown(usable, 1)} min; "
            "a form cutter finishes a tooth system with one edge",
            "use a longer-lived cutter",
            fact,
        )
    if edges <= tool.owned or float(tool.lead_time) <= 0:
        return Check((fact,))
    return _missing_sisters(context, tool, edges, fact)


def _missing_sisters(context: Context, tool: Tool, edges: int, fact: Fact) -> Check:
    """More sisters than the shop owns: they must arrive in time."""
    due, ordered = context.part.due, context.part.order_date
    days = float(tool.lead_time) / _DAY
    if due is None or ordered is None or days <= (due - ordered).days:
        return Check((fact,))
    return fail(
        f"{tool.name} is needed {edges} times, the shop owns {tool.owned} and more take {shown(days, 1)} d, "
        f"the part is due in {shown((due - ordered).days)} d",
        f"order {edges - tool.owned} more of {tool.name} earlier",
        fact,
    )


def class_check(teeth: Teeth, method: str, reachable: int, source: str, leaves_stock: bool) -> Check:
    """Check that the method reaches the flank class of the drawing.

    Parameters
    ----------
    teeth
        The teeth.
    method
        Words for the method, such as "hobbing with hob quality A".
    reachable
        Best flank class that it reaches [-].
    source
        Where that class comes from.
    leaves_stock
        True if the flanks are finished later: then any class will do.
    """
    fact = Fact("flank class reachable", float(reachable), "", f"{method}: class {reachable}", source, True)
    wanted = teeth.flank_class
    if wanted is None or leaves_stock or reachable <= wanted.number:
        return Check((fact,))
    return fail(
        f"{method} reaches flank class {reachable} ({COMMON}), the drawing asks for {wanted}",
        "rough with it and leave stock for grinding",
        fact,
        by_class=True,
    )


def mass_check(context: Context, clamping: FittedClamping) -> Check:
    """Check the mass against the limit of the machine for gear-synchronised work.

    Parameters
    ----------
    context
        Part and shop.
    clamping
        The clamping with the mass of the part.
    """
    limit = context.shop.machine.gear_machining_mass
    if limit is None or clamping.mass <= limit:
        return PASSED
    return fail(
        f"the part has {shown(clamping.mass)} kg, gear-synchronised work is limited to {shown(limit)} kg",
        "rough more away before, or mill the teeth without synchronising",
    )


def tilt_check(context: Context, tilts: tuple[Deg, ...], words: str) -> Check:
    """Check that the head reaches one of several tilts; 0 deg points down, 90 deg is level.

    Parameters
    ----------
    context
        Part and shop.
    tilts
        Tilts that would do, the preferred one first [deg].
    words
        Formula of the tilt with the numbers put in.
    """
    spindle = context.shop.machine.spindle
    low, high = float(spindle.tilt_from), float(spindle.tilt_to)
    for tilt in tilts:
        if low - 1e-9 <= tilt <= high + 1e-9:
            return Check((Fact("head tilt", tilt, "deg", f"{words} = {shown(tilt, 2)} deg", DERIVED),))
    wanted = " or ".join(f"{shown(tilt, 1)} deg" for tilt in tilts)
    return fail(
        f"the head would tilt to {wanted}, its range is {shown(low, 1)} to {shown(high, 1)} deg",
        "use a cutter of the other hand or another helix angle",
    )
