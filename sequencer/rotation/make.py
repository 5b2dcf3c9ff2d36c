"""Plans the parts of a week on one magazine."""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence

from sequencer.errors import Severity
from sequencer.magazine import Loaded, fewest_pockets, loaded_tools, make_layout
from sequencer.plan import Plan
from sequencer.rotation.calendar import day_of, late_limits
from sequencer.rotation.findings import week_findings
from sequencer.rotation.keeping import Kept, Unit
from sequencer.rotation.ordering import Ordered, Wanted, best_order, listed_order
from sequencer.rotation.pallets import lot_time_here, lot_times
from sequencer.rotation.week import Loading, Week, WeekPart
from sequencer.shop import Shop
from sequencer.shop.rotation import Rotation

_DAY = 1440.0


def make_week(rotation: Rotation, plans: Sequence[Plan], shop: Shop) -> Week:
    """Choose the order of several planned parts on one machine, and what stays in its magazine.

    Parameters
    ----------
    rotation
        What was asked.
    plans
        A plan of each of its parts, with lot and due date of the rotation, in its order.
    shop
        The shop of all of them.
    """
    wanted = _wanted(rotation, plans, shop)
    ordered = listed_order(wanted) if rotation.order == "as listed" else best_order(wanted)
    parts = _parts(rotation, plans, shop, ordered)
    staying = frozenset.intersection(*ordered.kept.held)
    union = loaded_units(frozenset.union(*wanted.needs), shop)
    everything = fewest_pockets(union, shop.magazine).pockets
    rank = (Severity.ERROR, Severity.WARNING, Severity.NOTE)
    findings = tuple(sorted(week_findings(rotation, parts, shop), key=lambda each: rank.index(each.severity)))
    residents = tuple((name, 0) for name in shop.magazine.residents)
    return Week(
        rotation, parts, (*residents, *sorted(staying)), ordered.loads, ordered.bound, everything, findings
    )


def tools_of(plan: Plan) -> frozenset[Unit]:
    """Give the tools that a part needs in the magazine, residents left out.

    Parameters
    ----------
    plan
        Its plan.
    """
    residents, by_hand = plan.shop.magazine.residents, plan.magazine.by_hand
    return frozenset(
        (use.tool, sister)
        for use in plan.magazine.uses
        if use.tool not in by_hand
        for sister in range(use.loaded)
        if not (use.tool in residents and sister == 0)
    )


def loaded_units(units: frozenset[Unit], shop: Shop) -> tuple[Loaded, ...]:
    """Give tools of the week one by one, residents first, then the pockets kept empty.

    Parameters
    ----------
    units
        Tools, residents left out.
    shop
        Shop with tools and magazine.
    """
    residents = frozenset((name, 0) for name in shop.magazine.residents)
    listed = loaded_tools(_copies(units, shop), shop)
    return tuple(tool for tool in listed if not tool.name or (tool.name, tool.sister) in units | residents)


def _copies(units: frozenset[Unit], shop: Shop) -> dict[str, int]:
    """Number of equal tools by name, residents included."""
    counted = dict.fromkeys(shop.magazine.residents, 1)
    for name, sister in sorted(units):
        counted[name] = max(counted.get(name, 0), sister + 1)
    return counted


def _wanted(rotation: Rotation, plans: Sequence[Plan], shop: Shop) -> Wanted:
    magazine, known = shop.magazine, {}
    full = float(magazine.diameter_full)
    simple = all(float(tool.body_diameter) <= full for tool in shop.tools) and not magazine.narrow_pockets
    closed = sum(1 for each in magazine.narrow_pockets if not each.diameter > 0)
    places = magazine.pockets - len(magazine.residents) - closed - magazine.empty_for_exchange

    def fits(units: frozenset[Unit]) -> bool:
        if len(units) > places:
            return False
        tools = loaded_units(units, shop)
        if math.fsum(tool.mass for tool in tools) > magazine.total_mass + 1e-9:
            return False
        key = tuple(sorted((tool.diameter, tool.length) for tool in tools))
        if simple:
            return True
        if key not in known:
            known[key] = fewest_pockets(tools, magazine).pockets <= magazine.pockets
        return known[key]

    days = tuple(
        late_limits(rotation.start, plan.part.due, _away_days(plan), shop.working_time) for plan in plans
    )
    return Wanted(
        tuple(tools_of(plan) for plan in plans),
        days,
        tuple(lot_time_here(plan).minutes for plan in plans),
        frozenset((name, 0) for name in rotation.loaded),
        places,
        fits,
    )


def _away_days(plan: Plan) -> int:
    return math.ceil(round(plan.sequence.time_away / _DAY, 9))


def _parts(rotation: Rotation, plans: Sequence[Plan], shop: Shop, ordered: Ordered) -> tuple[WeekPart, ...]:
    parts: list[WeekPart] = []
    passed, before = 0.0, frozenset((name, 0) for name in rotation.loaded)
    places: dict[Unit, int] = {}
    for position, index in enumerate(ordered.order):
        plan = plans[index]
        here = lot_time_here(plan)
        loading = _loading(ordered.kept, position, before, places, shop)
        places, before = loading.pockets, ordered.kept.held[position]
        end = round(passed + here.minutes, 6)
        begins = day_of(rotation.start, passed + 1e-3, shop.working_time)
        ready = day_of(rotation.start, end, shop.working_time) + datetime.timedelta(days=_away_days(plan))
        parts.append(
            WeekPart(plan, passed, end, begins, ready, plan.part.due, loading, here, lot_times(plan))
        )
        passed = end
    return tuple(parts)


def _loading(
    kept: Kept, position: int, before: frozenset[Unit], places: dict[Unit, int], shop: Shop
) -> Loading:
    """Keep tools in their pockets where the new ones find room beside them; else move as few as it takes."""
    held = kept.held[position]
    tools = loaded_units(held, shop)
    fewest = fewest_pockets(tools, shop.magazine).pockets
    residents = frozenset((name, 0) for name in shop.magazine.residents)
    staying = {unit: pocket for unit, pocket in places.items() if unit in held | residents}
    layout = make_layout(tools, shop.magazine, staying) if staying else None
    layout = layout or make_layout(tools, shop.magazine)
    pockets = {} if layout is None else {(p.tool, p.sister): p.number for p in layout.pockets if p.tool}
    moved = tuple(unit for unit in sorted(staying) if pockets and pockets.get(unit) != staying[unit])
    return Loading(
        tuple(sorted(held & before)),
        tuple(sorted(before - held)),
        tuple(sorted(held - before)),
        moved,
        pockets,
        fewest,
    )
