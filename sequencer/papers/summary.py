"""The summary of a plan for the screen, as plain lines."""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING

from sequencer.costing import cost_words
from sequencer.papers.header import days_away
from sequencer.pictures.rounding import quantity_words

if TYPE_CHECKING:
    from sequencer.costing import Costing
    from sequencer.plan import Plan


def summary_lines(plan: Plan) -> tuple[str, ...]:
    """Give the lines of the summary: result, proof, magazine, then errors and warnings in full.

    Parameters
    ----------
    plan
        The plan.
    """
    part, sequence, magazine = plan.part, plan.sequence, plan.magazine
    machine = fsum(step.minutes for step in sequence.steps if step.visit)
    hands = f", by hand: {', '.join(magazine.by_hand)}" if magazine.by_hand else ""
    days = days_away(plan)
    away = f", and {quantity_words(days, 'd')} away from the shop" if days > 0 else ""
    lines = [
        f"{part.name}, drawing {part.drawing}, revision {part.revision}, on {plan.shop.machine.name}",
        f"Clampings: {sequence.clampings} ({_visits(plan)})",
        f"Least clampings: {plan.least.sentence}",
        f"Steps: {len(sequence.steps)}, tool changes: {sequence.count('tool change')}, "
        f"mode changes: {sequence.count('mode change')}",
        f"Time per piece: {quantity_words(machine, 'min')} on the machine, "
        f"{quantity_words(sequence.minutes, 'min')} with bench work{away}",
        f"Magazine: {magazine.needed} of {magazine.available} pockets"
        f"{'' if magazine.proven else f', at least {magazine.bound}'}{hands}",
        f"Proof: {sequence.sentence}",
        *cost_lines(plan.costing),
    ]
    lines += [f"Breaks {each.rule}: {each.first} before {each.second}" for each in sequence.broken]
    kinds = ("error", "warning", "note")
    counts = {kind: sum(1 for finding in plan.findings if finding.severity == kind) for kind in kinds}
    lines.append("Findings: " + ", ".join(f"{counts[kind]} {kind}{_plural(counts[kind])}" for kind in kinds))
    lines += [str(finding) for finding in plan.findings if finding.severity != "note"]
    return tuple(lines)


def cost_lines(costing: Costing) -> tuple[str, ...]:
    """Give the lines on time and money: lot, cost of a piece, what to make and what to buy.

    Parameters
    ----------
    costing
        The costing of a plan.
    """
    times, worst = costing.times, costing.riskiest
    lot = quantity_words(times.lot_minutes.value / 60, "h")
    share = f"{100 * times.utilisation.value:.0f} %"
    lines = [
        f"Lot of {times.lot}: {lot} on the machine with set-up, first piece "
        f"{quantity_words(times.first.value, 'min')}, a spindle cuts {share} of it",
        f"Cost: {cost_words(costing)}",
        f"Make or buy: {costing.advice.sentence}",
    ]
    if worst is not None:
        lines.append(
            f"Most at risk: {worst.operation}, value {worst.value.value:.0f} {worst.value.unit}, "
            f"expected loss {worst.loss.value:.2f} {worst.loss.unit} a piece"
        )
    return tuple(lines)


def _visits(plan: Plan) -> str:
    names = [name for name, steps in plan.sequence.visits if steps[0].visit]
    return ", ".join(names) or "none"


def _plural(count: int) -> str:
    return "" if count == 1 else "s"
