"""All checks of a shop beyond single values, and of a part against a shop."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final, get_args

from sequencer.part import Part
from sequencer.part.fault import Fault, Path, did_you_mean
from sequencer.part.feature import Method
from sequencer.part.section import make_section
from sequencer.shop.magazine_checks import magazine_faults
from sequencer.shop.part_checks import holding_faults, tool_wish_faults
from sequencer.shop.shop import LAST_RULE, Shop
from sequencer.shop.tool_checks import tool_faults
from sequencer.units import shown

#: Methods that the table of cutting conditions may name: those of features, and chamfering of edges.
METHODS: Final = (*get_args(Method), "chamfering")


def check_shop(shop: Shop) -> tuple[Fault, ...]:
    """Check a shop; all faults at once, each with its path in the document.

    Source: derived

    Parameters
    ----------
    shop
        The shop.
    """
    faults = [*_machine(shop), *_magazine(shop), *_means(shop), *_tools(shop), *_materials(shop)]
    return (*faults, *_conditions(shop), *_limits(shop), *_rules(shop))


def check_part_in_shop(part: Part, shop: Shop) -> tuple[Fault, ...]:
    """Check what a part names in a shop; paths are those of the part's document.

    Source: derived

    Parameters
    ----------
    part
        The part.
    shop
        The shop that is to make it.
    """
    faults = []
    materials = [material.name for material in shop.materials]
    if part.material not in materials:
        remedy = did_you_mean(part.material, materials, "materials of the shop")
        faults.append(Fault(("material",), f"the shop knows no material {part.material!r}", "", remedy))
    faults += _weighed(part, shop)
    faults += tool_wish_faults(part, shop)
    faults += holding_faults(part, shop)
    means = {item.name: item for item in shop.clamping_means}
    for at, clamping in enumerate(part.clampings):
        path = ("clampings", at, "means")
        if clamping.means is None:
            continue
        if clamping.means not in means:
            remedy = did_you_mean(clamping.means, means, "clamping means of the shop")
            faults.append(Fault(path, f"the shop has no clamping means {clamping.means!r}", "", remedy))
        elif means[clamping.means].hold != clamping.hold:
            what = (
                f"{clamping.means!r} holds by {means[clamping.means].hold}, the clamping by {clamping.hold}"
            )
            fitting = [name for name, item in means.items() if item.hold == clamping.hold]
            faults.append(Fault(path, what, "", did_you_mean("", fitting, "means that fit")))
    return tuple(faults)


def _weighed(part: Part, shop: Shop) -> Iterator[Fault]:
    """A weighed mass must be possible for a body of these sizes; a weldment is partly empty."""
    mass, density = part.blank.mass, {m.name: m.density for m in shop.materials}.get(part.material)
    if mass is None or density is None:
        return
    full = make_section(part).stock_mass(density)
    if not 0.3 * full <= mass <= 1.2 * full:
        what = f"a mass of {mass} does not fit the sizes of the blank"
        limit = f"a full body of {part.material} of these sizes has {shown(full, 0)} kg"
        yield Fault(("blank", "mass"), what, limit, "check the unit of the mass and the sizes")


def _twice(path: Path, names: Iterable[str], key: str = "name") -> Iterator[Fault]:
    first: dict[str, int] = {}
    for at, name in enumerate(names):
        if name in first:
            limit = f"{path[-1]}[{first[name]}] has it already"
            yield Fault((*path, at, key), f"name {name!r} is used twice", limit, "give each its own name")
        first.setdefault(name, at)


def _machine(shop: Shop) -> Iterator[Fault]:
    table, spindle = shop.machine.table, shop.machine.spindle
    path: Path = ("machine", "table")
    if table.synchronous_speed > table.speed:
        what = f"synchronous_speed {table.synchronous_speed} is above the highest speed"
        yield Fault((*path, "synchronous_speed"), what, f"speed {table.speed}", "correct one of them")
    for at, point in enumerate(table.speed_at_mass):
        if point.speed > table.speed:
            what = f"speed {point.speed} is above that of the empty table"
            yield Fault((*path, "speed_at_mass", at, "speed"), what, f"speed {table.speed}", "correct it")
        if at and point.speed > table.speed_at_mass[at - 1].speed:
            what = f"speed {point.speed} rises with the mass"
            limit = f"{table.speed_at_mass[at - 1].speed} with less mass"
            yield Fault((*path, "speed_at_mass", at, "speed"), what, limit, "a heavier load turns slower")
        if point.mass > table.load:
            what = f"mass {point.mass} is above the load of the table"
            yield Fault(
                (*path, "speed_at_mass", at, "mass"), what, f"load {table.load}", "correct one of them"
            )
    if not spindle.tilt_from < spindle.tilt_to:
        what = f"tilt_from {spindle.tilt_from} is not below tilt_to {spindle.tilt_to}"
        yield Fault(("machine", "spindle", "tilt_from"), what, "", "exchange or correct them")
    mass = shop.machine.gear_machining_mass
    if mass is not None and mass > table.load:
        what = f"gear_machining_mass {mass} is above the load of the table"
        yield Fault(
            ("machine", "gear_machining_mass"), what, f"load {table.load}", "leave it out if it is no less"
        )


def _magazine(shop: Shop) -> Iterator[Fault]:
    magazine = shop.magazine
    room = magazine.pitch - magazine.clearance
    if magazine.diameter_full > room + 1e-6:
        what = f"tools of diameter_full {magazine.diameter_full} in neighbouring pockets touch"
        limit = f"pitch less clearance {shown(room)} mm"
        yield Fault(("magazine", "diameter_full"), what, limit, "correct diameter_full, pitch or clearance")
    for key, most in (("heavy_from", "tool_mass"), ("tool_mass", "total_mass")):
        if getattr(magazine, key) > getattr(magazine, most):
            what = f"{key} {getattr(magazine, key)} is above {most} {getattr(magazine, most)}"
            yield Fault(("magazine", key), what, "", "exchange or correct them")
    yield from magazine_faults(magazine)
    seen: set[str] = set()
    for at, name in enumerate(magazine.residents):
        path = ("magazine", "residents", at)
        tool = shop.tool_by_name.get(name)
        if tool is None:
            remedy = did_you_mean(name, shop.tool_by_name, "tools")
            yield Fault(path, f"there is no tool {name!r}", "", remedy)
        elif tool.by_hand:
            yield Fault(
                path, f"{name!r} is loaded by hand", "never in the magazine", "take it out of one place"
            )
        if name in seen:
            yield Fault(path, f"{name!r} is listed twice", "", "take one out")
        seen.add(name)
    if len(seen) > magazine.pockets:
        what = f"{len(seen)} residents in {magazine.pockets} pockets"
        yield Fault(("magazine", "residents"), what, "", "take some out")


def _means(shop: Shop) -> Iterator[Fault]:
    yield from _twice(("clamping_means",), (means.name for means in shop.clamping_means))
    for at, means in enumerate(shop.clamping_means):
        path = ("clamping_means", at)
        if not means.diameter_from < means.diameter_to:
            what = f"diameter_from {means.diameter_from} is not below diameter_to {means.diameter_to}"
            yield Fault((*path, "diameter_from"), what, "", "exchange or correct them")
        if means.finishing_force is not None and means.finishing_force > means.force:
            what = f"finishing_force {means.finishing_force} is above force {means.force}"
            yield Fault((*path, "finishing_force"), what, "", "finishing is held with the lower force")
        if means.mass > shop.machine.table.load:
            what = f"mass {means.mass} is above the load of the table"
            yield Fault((*path, "mass"), what, f"load {shop.machine.table.load}", "correct it")


def _tools(shop: Shop) -> Iterator[Fault]:
    yield from _twice(("tools",), (tool.name for tool in shop.tools))
    for at, tool in enumerate(shop.tools):
        yield from tool_faults(("tools", at), tool)


def _materials(shop: Shop) -> Iterator[Fault]:
    yield from _twice(("materials",), (material.name for material in shop.materials))


def _conditions(shop: Shop) -> Iterator[Fault]:
    groups = list(dict.fromkeys(material.group for material in shop.materials))
    first: dict[tuple[str, str, str, str], int] = {}
    for at, row in enumerate(shop.conditions):
        path = ("conditions", at)
        if row.method not in METHODS:
            remedy = did_you_mean(row.method, METHODS, "methods")
            yield Fault((*path, "method"), f"unknown method {row.method!r}", "", remedy)
        if row.group not in groups:
            remedy = did_you_mean(row.group, groups, "groups of the materials")
            yield Fault((*path, "group"), f"no material of the shop is in group {row.group!r}", "", remedy)
        key = (row.method, row.tool_material, row.group, row.stage)
        if key in first:
            what = f"{', '.join(key)} stands in the table twice"
            yield Fault(path, what, f"first in conditions[{first[key]}]", "keep one of the two")
        first.setdefault(key, at)


def _limits(shop: Shop) -> Iterator[Fault]:
    limits = shop.limits
    if not 0 < limits.crossed_axes_from < limits.crossed_axes_to < 90:
        what = f"crossed axes from {limits.crossed_axes_from} to {limits.crossed_axes_to}"
        limit = "above 0 deg, rising, below 90 deg"
        yield Fault(("limits", "crossed_axes_from"), what, limit, "exchange or correct them")


def _rules(shop: Shop) -> Iterator[Fault]:
    yield from _twice(("rules", "changes"), (change.rule for change in shop.rules.changes), "rule")
    yield from _twice(("rules", "own"), (rule.name for rule in shop.rules.own))
    for at, change in enumerate(shop.rules.changes):
        if not 1 <= int(change.rule[1:]) <= LAST_RULE or change.rule[1] == "0":
            what = f"there is no rule {change.rule!r} to change"
            yield Fault(
                ("rules", "changes", at, "rule"),
                what,
                f"R1 to R{LAST_RULE}",
                "see docs/rules.md",
            )
    tools = [tool.name for tool in shop.tools]
    for at, forbidden in enumerate(shop.rules.forbid):
        path = ("rules", "forbid", at)
        if forbidden.tool is not None and forbidden.tool not in tools:
            remedy = did_you_mean(forbidden.tool, tools, "tools of the shop")
            yield Fault((*path, "tool"), f"the shop has no tool {forbidden.tool!r}", "", remedy)
        if forbidden.method is not None and forbidden.method not in METHODS:
            remedy = did_you_mean(forbidden.method, METHODS, "methods")
            yield Fault((*path, "method"), f"no method is called {forbidden.method!r}", "", remedy)
    for at, rule in enumerate(shop.rules.own):
        if rule.first == rule.second:
            what = f"first and second are both {rule.first!r}"
            yield Fault(("rules", "own", at, "second"), what, "", "name two features")
