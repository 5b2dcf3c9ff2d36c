"""What the planner must know about a week: late parts, tools booked twice, tools away, tools on order."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from sequencer.errors import Finding, Severity
from sequencer.magazine import ToolUse
from sequencer.magazine.uses import INDEXED
from sequencer.plan import Plan
from sequencer.rotation.week import WeekPart, unit_words
from sequencer.sequencing import Step, time_of_trips
from sequencer.shop import AnyTool, Shop
from sequencer.shop.rotation import Rotation, ToolAway
from sequencer.units import Minutes, shown

SUBJECT: Final = "rotation"
_DAY: Final = 1440.0
_GEAR_CUTTERS: Final = ("hob", "skiving cutter", "disc cutter")
_WHY: Final = {"regrind": "at the grinder's", "booked": "booked for other work", "repair": "in repair"}


def week_findings(rotation: Rotation, parts: Sequence[WeekPart], shop: Shop) -> Iterator[Finding]:
    """Give the findings of a week.

    Parameters
    ----------
    rotation
        What was asked.
    parts
        The parts in the order in which they are made.
    shop
        Shop with tools and magazine.
    """
    for part in parts:
        yield from _late(part)
        yield from _does_not_fit(part)
        yield from _moved(part)
        yield from _gone_between(part, parts, shop)
        for use in part.plan.magazine.uses:
            tool = shop.tool_by_name[use.tool]
            yield from _on_order(rotation, part, tool)
            yield from _away(rotation, part, tool, use.loaded)
    yield from _shared(rotation, parts, shop)


def _late(part: WeekPart) -> Iterator[Finding]:
    if part.due is not None and part.days_late:
        yield Finding(
            Severity.ERROR,
            f"part {part.plan.part.name}",
            f"it is ready on {part.ready}, {part.days_late} d after its due date",
            f"due {part.due}",
            "begin earlier, work longer hours, split its lot, or agree on another date",
            SUBJECT,
        )


def _does_not_fit(part: WeekPart) -> Iterator[Finding]:
    magazine = part.plan.magazine
    if magazine.over:
        best = magazine.remedies[0].words if magazine.remedies else "load some tools by hand"
        yield Finding(
            Severity.ERROR,
            f"part {part.plan.part.name}",
            f"its tools alone need {magazine.needed} pockets, {magazine.over} more than there are",
            f"{magazine.available} pockets",
            f"see its own plan; cheapest: {best}",
            SUBJECT,
        )


def _moved(part: WeekPart) -> Iterator[Finding]:
    if part.loading.moved:
        yield Finding(
            Severity.NOTE,
            f"part {part.plan.part.name}",
            f"tools change their pockets before it: {', '.join(map(unit_words, part.loading.moved))}",
            remedy="move them together with the exchange",
            subject=SUBJECT,
        )


def machine_blocks(plan: Plan) -> tuple[tuple[Minutes, Minutes], ...]:
    """Time of a piece on the machine in one go [min], and for how long it is away after that [min].

    Source: derived

    Parameters
    ----------
    plan
        The plan of a part.
    """
    blocks: list[list[Step]] = [[]]
    for step in plan.sequence.steps:
        if step.visit and any(each.alternative.lead_time > 0 for each in blocks[-1]):
            blocks.append([])
        blocks[-1].append(step)
    return tuple(
        (round(math.fsum(step.minutes for step in steps if step.visit), 6), time_of_trips(tuple(steps)))
        for steps in blocks
    )


def _gone_between(part: WeekPart, parts: Sequence[WeekPart], shop: Shop) -> Iterator[Finding]:
    """A part that goes away between its clampings leaves the machine free for others meanwhile."""
    blocks, lot = machine_blocks(part.plan), part.plan.part.lot
    if len(blocks) < 2:
        return
    working, days = shop.working_time, sum(away for _, away in blocks[:-1]) / _DAY
    free = left = days / 7 * working.days_per_week * working.hours_per_day * 60
    fitting = []
    for other in parts:
        if other is not part and other.start >= part.start and other.here.minutes <= left:
            fitting.append(other.plan.part.name)
            left -= other.here.minutes
    times = ", then ".join(f"{shown(lot * minutes, 1)} min" for minutes, _ in blocks)
    others = f"; meanwhile others can be made: {', '.join(fitting)}" if fitting else ""
    yield Finding(
        Severity.NOTE,
        f"part {part.plan.part.name}",
        f"it is {times} on the machine and away for {shown(days, 1)} d in between, in which the machine has "
        f"{shown(free, 1)} min; here they count in one block{others}",
        remedy="for exact dates list what follows as a part of its own, from the day on which it is back",
        subject=SUBJECT,
    )


def _on_order(rotation: Rotation, part: WeekPart, tool: AnyTool) -> Iterator[Finding]:
    if tool.owned:
        return
    there = rotation.start + datetime.timedelta(days=-(-float(tool.lead_time) // _DAY))
    name, due = part.plan.part.name, part.due
    if due is not None and there > due:
        yield Finding(
            Severity.ERROR,
            f"tool {tool.name}",
            f"the shop owns none; ordered on {rotation.start} it is there on {there}, after {name} is due",
            f"due {due}, lead time {tool.lead_time.text}",
            "choose another method or tool, borrow one, or agree on another date",
            SUBJECT,
        )
    elif there > part.begins:
        yield Finding(
            Severity.ERROR,
            f"tool {tool.name}",
            f"the shop owns none; ordered on {rotation.start} it is there on {there}, after {name} is begun",
            f"begins {part.begins}, lead time {tool.lead_time.text}",
            "make this part later, or choose another tool",
            SUBJECT,
        )


def _away(rotation: Rotation, part: WeekPart, tool: AnyTool, loaded: int) -> Iterator[Finding]:
    """Tools that are away while the part is made."""
    last = max(part.begins, part.ready)
    gone = [each for each in rotation.away if each.tool == tool.name and _meets(each, part.begins, last)]
    if not gone:
        return
    left = tool.owned - sum(each.number for each in gone)
    until = max(each.back for each in gone)
    why = "; ".join(
        f"{each.number} {_WHY[each.why]}{f' ({each.note})' if each.note else ''} {each.leaves} to {each.back}"
        for each in gone
    )
    twice = "is booked twice" if any(each.why == "booked" for each in gone) else "is away"
    if left < 1:
        yield Finding(
            Severity.ERROR,
            f"tool {tool.name}",
            f"it {twice}: {part.plan.part.name} needs it from {part.begins}; {why}",
            f"{tool.owned} owned",
            f"make the part after {until}, get another one, or choose another tool",
            SUBJECT,
        )
    elif left < loaded:
        yield Finding(
            Severity.WARNING,
            f"tool {tool.name}",
            f"{part.plan.part.name} loads {loaded} of them, {left} are there; {why}",
            f"{tool.owned} owned",
            "plan exchanges of worn ones, or get more",
            SUBJECT,
        )


def _meets(away: ToolAway, first: datetime.date, last: datetime.date) -> bool:
    return away.leaves <= last and away.back > first


def _shared(rotation: Rotation, parts: Sequence[WeekPart], shop: Shop) -> Iterator[Finding]:
    """Tools that several parts want: whether their lives last, and whether there is time to sharpen them."""
    wanted: dict[str, list[tuple[WeekPart, ToolUse]]] = {}
    for part in parts:
        for use in part.plan.magazine.uses:
            wanted.setdefault(use.tool, []).append((part, use))
    for name, users in wanted.items():
        tool = shop.tool_by_name[name]
        if len(users) < 2:
            continue
        edges = week_edges(users)
        if edges > tool.owned and tool.kind not in INDEXED:
            yield _worn_between(tool, users, edges)
        elif tool.kind in _GEAR_CUTTERS:
            yield _in_turn(tool, users, edges)
    shared = [name for name, users in wanted.items() if len(users) > 1]
    if shared:
        yield Finding(
            Severity.NOTE,
            f"rotation {rotation.name}",
            f"{len(shared)} tools serve more than one part, one after the other: {', '.join(shared)}",
            remedy="put these parts side by side where dates allow it",
            subject=SUBJECT,
        )


def week_edges(users: list[tuple[WeekPart, ToolUse]]) -> int:
    """Count the edges or equal tools that several parts wear out one after the other; 0 if no life is given.

    Source: common practice, no source: N = ceil(sum of parts x t / (k T)); where teeth are finished, an edge
    goes over from one lot to the next only if it lasts for all of them.

    Parameters
    ----------
    users
        Parts with what each needs of the tool.
    """
    worn = math.fsum(part.plan.part.lot * use.share for part, use in users)
    if worn > 1 and any(use.whole_gears for _, use in users):
        return sum(use.lot_edges for _, use in users)
    return math.ceil(round(worn, 6))


def _in_turn(tool: AnyTool, users: list[tuple[WeekPart, ToolUse]], edges: int) -> Finding:
    """One gear cutter wanted by several parts, whose life is enough."""
    who = ", ".join(f"{part.plan.part.name} from {part.begins}" for part, _ in users)
    lives = f"{edges} needed in all" if edges else "no life given"
    return Finding(
        Severity.NOTE,
        f"tool {tool.name}",
        f"{len(users)} parts want it one after the other: {who}; {lives}, {tool.owned} owned",
        remedy="keep it in the shop for all of them",
        subject=SUBJECT,
    )


def _worn_between(tool: AnyTool, users: list[tuple[WeekPart, ToolUse]], edges: int) -> Finding:
    """One cutter wanted by several parts that wear out more than are owned."""
    who = ", ".join(f"{part.plan.part.name} {use.lot_edges}" for part, use in users)
    missing = edges - tool.owned
    what = f"{len(users)} parts want it and wear out {edges} together ({who}), {tool.owned} are owned"
    regrind = float(tool.regrind_time)
    if regrind <= 0:
        remedy = f"have {missing} more ready, or sharpen between the parts: say how long with regrind_time"
        return Finding(Severity.WARNING, f"tool {tool.name}", what, "", remedy, SUBJECT)
    gaps = [(later.begins - earlier.ready).days for (earlier, _), (later, _) in pairwise(users)]
    days = regrind / _DAY
    if min(gaps) >= days:
        return Finding(
            Severity.NOTE,
            f"tool {tool.name}",
            what,
            f"sharpening takes {tool.regrind_time.text}",
            "sharpen it between the parts",
            SUBJECT,
        )
    return Finding(
        Severity.ERROR,
        f"tool {tool.name}",
        f"{what}; between them are {shown(min(gaps))} d, sharpening takes {shown(days, 1)} d",
        f"sharpening takes {tool.regrind_time.text}",
        f"have {missing} more ready, or put other parts between them",
        SUBJECT,
    )
