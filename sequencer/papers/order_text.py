"""Lines about the order itself: for editing by hand, and what an edited order breaks and costs."""

from __future__ import annotations

from collections.abc import Sequence as Listed
from typing import TYPE_CHECKING

from sequencer.sequencing import FreeMove, Judged, Level, Sequence
from sequencer.sequencing.integers import in_words
from sequencer.units import shown

if TYPE_CHECKING:
    from sequencer.plan import Plan


def order_lines(plan: Plan) -> tuple[str, ...]:
    """Write the order of a plan so that it can be edited and given back.

    Parameters
    ----------
    plan
        The plan.
    """
    lines = [
        f"# Order of {plan.part.name}: one operation a line, clampings in brackets.",
        "# Move lines, save, and give the file back: sequencer order PART FILE",
    ]
    for clamping, steps in plan.sequence.visits:
        lines += [f"[{clamping}]", *(step.operation.name for step in steps if not step.operation.opening)]
    return tuple(lines)


def judged_lines(file: str, judged: Judged) -> tuple[str, ...]:
    """Write what an order given by hand breaks and costs.

    Parameters
    ----------
    file
        Where the order stands.
    judged
        What was found.
    """
    lines = []
    if judged.elsewhere:
        lines += ["Not possible where it stands:", *(f"  {each}" for each in judged.elsewhere)]
    if judged.broken:
        lines += [f"The order in {file} breaks {len(judged.broken)} must(s):"]
        lines += [f"  {each}" for each in judged.broken]
    else:
        lines += [f"The order in {file} breaks no must."]
    if judged.shoulds:
        lines += ["It breaks these shoulds, which the best order keeps:"]
        lines += [f"  {in_words(each)}" for each in judged.shoulds]
    lines += [_cost_line(judged.levels, judged.sequence)]
    return tuple(lines)


def _cost_line(levels: tuple[Level, ...], given: Sequence) -> str:
    proven = all(level.proven for level in levels)
    parts = [
        f"{mine.name} {shown(other.value, 1)} ({_difference(other.value - mine.value)})"
        for mine, other in zip(levels, given.levels, strict=True)
    ]
    best = "the best order, proven" if proven else "the best order found"
    return f"Against {best}: {', '.join(parts)}."


def _difference(value: float) -> str:
    rounded = round(value, 2)
    if rounded == 0:
        return "the same"
    return f"{shown(abs(rounded), 1)} {'more' if rounded > 0 else 'less'}"


def place_lines(sequence: Sequence, free: Listed[FreeMove], name: str) -> tuple[str, ...]:
    """Write why an operation stands where it does, and where it may stand as well.

    Parameters
    ----------
    sequence
        The order.
    free
        What is free to move.
    name
        The operation.
    """
    step = sequence.by_operation[name]
    lines = [f"{name} is step {step.number}, in {step.alternative.clamping}."]
    if step.operation.opening:
        lines += ["It opens its clamping: it always stands at the beginning."]
    elif step.because:
        lines += ["It does not stand earlier because:"]
        lines += [f"  {in_words(each)} ({each.strength})" for each in step.because]
    else:
        lines += ["No rule asks for anything before it; its place was chosen for the least cost."]
    moves = [each for each in free if each.operation == name]
    lines += [free_line(each) for each in moves]
    if not moves and not step.operation.opening:
        lines += ["Moving it alone breaks a rule or costs a change or time."]
    return tuple(lines)


def free_lines(free: Listed[FreeMove]) -> tuple[str, ...]:
    """Write all operations that are free to move.

    Parameters
    ----------
    free
        What is free to move.
    """
    if not free:
        return ("No operation can be moved alone without breaking a rule or costing a change or time.",)
    return (
        "Free to move at no cost, the others kept as they are:",
        *(f"  {free_line(each)}" for each in free),
    )


def free_line(move: FreeMove) -> str:
    """Write how far one operation may move.

    Parameters
    ----------
    move
        The operation with its limits.
    """
    limits = [f"after {move.after}"] if move.after else []
    limits += [f"before {move.before}"] if move.before else []
    return f"{move.operation} may stand anywhere {' and '.join(limits) or 'in the order'} at no cost."
