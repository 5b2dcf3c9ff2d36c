"""Position of holes: what machine and method hold, against the tolerance of the drawing."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Final

from sequencer.errors import Finding, Severity
from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON, mm
from sequencer.operations.operation import Alternative, Fact, FittedClamping, Operation, Rejection
from sequencer.part.milled import BoltCircle
from sequencer.units import Mm, shown

#: Diameter of the zone by which a method strays from where the machine stands [mm]; common practice, no
#: source: a drill wanders, reamers and taps follow the drilled hole, an end mill on a helix does not.
STRAYS: Final[dict[str, Mm]] = {
    "drilling": 0.15,
    "reaming": 0.08,
    "fine boring": 0.01,
    "tapping": 0.15,
    "milling": 0.02,
    "thread milling": 0.02,
}

FACT: Final = "position to expect"

Judged = tuple[tuple[Alternative, ...], tuple[Rejection, ...]]


def position_tolerance(holes: BoltCircle) -> Mm | None:
    """Give the tightest position tolerance of holes; None without any [mm].

    Source: ISO 1101, diameter of the tolerance zone

    Parameters
    ----------
    holes
        The bolt circle.
    """
    values = [float(each.value) for each in holes.geometric if each.characteristic == "position"]
    return min(values, default=None)


def judged_by_position(context: Context, holes: BoltCircle, alternatives: tuple[Alternative, ...]) -> Judged:
    """Add the position to expect to each way; ways that do not hold it give way to those that come closest.

    Parameters
    ----------
    context
        Part and shop.
    holes
        The bolt circle.
    alternatives
        Ways of the operation that gives the holes their place.
    """
    allowed = position_tolerance(holes)
    if allowed is None or not alternatives:
        return alternatives, ()
    by_name = {clamping.name: clamping for clamping in context.clampings}
    facts = [_expected(context, holes, way, by_name.get(way.clamping)) for way in alternatives]
    best = max(allowed, min(fact.value for fact in facts))
    kept: list[Alternative] = []
    rejected: list[Rejection] = []
    for way, fact in zip(alternatives, facts, strict=True):
        if fact.value <= best + 1e-9:
            facts_with = (*way.facts[:-1], fact, *way.facts[-1:])
            kept.append(_with_facts(way, facts_with))
            continue
        sentence = f"position {mm(fact.value, 3)} to expect, the drawing allows {mm(allowed, 3)}"
        rejected.append(Rejection(way.method, way.tool, way.clamping, sentence, "", (fact,)))
    return tuple(kept), tuple(rejected)


def _with_facts(way: Alternative, facts: tuple[Fact, ...]) -> Alternative:
    return Alternative(
        way.method, way.tool, way.clamping, way.mode, way.minutes, facts, way.reason, way.lead_time
    )


def _expected(context: Context, holes: BoltCircle, way: Alternative, clamping: FittedClamping | None) -> Fact:
    """Twice the root of the sum of squares of the axes, and of re-clamping, and what the method strays."""
    capability = context.shop.machine.capability
    radius = float(holes.circle_diameter or 0.0) / 2
    linear, round_about = float(capability.linear), radius * math.radians(float(capability.angular))
    again = float(capability.reclamping) if _datum_lies_elsewhere(context, holes, clamping) else 0.0
    strays = STRAYS.get(way.method, max(STRAYS.values()))
    value = 2 * math.hypot(linear, round_about, again) + strays
    again_words = f" + {shown(1000 * again, 1)}^2" if again else ""
    squares = f"{shown(1000 * linear, 1)}^2 + {shown(1000 * round_about, 1)}^2{again_words}"
    formula = (
        f"2 sqrt(linear^2 + (r C)^2{' + re-clamping^2' if again else ''}) + {way.method} = "
        f"2*sqrt({squares})/1000 + {shown(strays)} = {mm(value, 3)}"
    )
    return Fact(FACT, value, "mm", formula, f"shop file, capability; {way.method}: {COMMON}", estimate=True)


def _datum_lies_elsewhere(context: Context, holes: BoltCircle, clamping: FittedClamping | None) -> bool:
    """Whether a datum of the position is out of reach where the holes are made."""
    if clamping is None:
        return True
    letters = [letter for each in holes.geometric if each.characteristic == "position" for letter in each.to]
    names = [context.part.datums[letter] for letter in letters if letter in context.part.datums]
    reach = clamping.reach_by_feature
    return any(not reach[name].reachable for name in names if name in reach)


def position_findings(context: Context, made: Iterable[Operation]) -> Iterator[Finding]:
    """Warn of holes whose position no way of the shop holds, with the figures.

    Parameters
    ----------
    context
        Part and shop.
    made
        Operations of all features.
    """
    for operation in made:
        facts = [fact for way in operation.alternatives for fact in way.facts if fact.name == FACT]
        holes = context.part.by_name.get(operation.feature)
        allowed = position_tolerance(holes) if isinstance(holes, BoltCircle) else None
        if not facts or allowed is None:
            continue
        best = min(facts, key=lambda fact: fact.value)
        if best.value > allowed:
            yield Finding(
                Severity.WARNING,
                operation.name,
                f"position {mm(best.value, 3)} to expect at best: {best.formula}",
                f"position {mm(allowed, 3)}",
                "Have the holes jig bored or ground outside, or widen the tolerance",
                "position",
            )
