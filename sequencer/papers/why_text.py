"""Lines that answer why one operation stands before another."""

from __future__ import annotations

from sequencer.precedence import Dependency
from sequencer.sequencing import Why
from sequencer.sequencing.integers import in_words
from sequencer.units import shown


def why_lines(answer: Why) -> tuple[str, ...]:
    """Write the answer for the screen.

    Parameters
    ----------
    answer
        What was found.
    """
    return (*_reason_lines(answer), *_swap_lines(answer))


def _reason_lines(answer: Why) -> list[str]:
    if answer.chain:
        lines = [f"{answer.first} stands before {answer.second} because:"]
        lines += [f"  {_arrow(dependency)}" for dependency in answer.chain]
        return lines
    return [
        f"{answer.first} stands before {answer.second} in this plan; no rule asks for it.",
        "  The order was chosen for what the plan makes least.",
    ]


def _arrow(dependency: Dependency) -> str:
    source = f" [{dependency.source}]" if dependency.source else ""
    return f"{in_words(dependency)} ({dependency.strength}){source}"


def _swap_lines(answer: Why) -> list[str]:
    lines = [f"{answer.second} before {answer.first} would"]
    if answer.broken:
        lines[0] += f" break {len(answer.broken)} must(s):"
        lines += [f"  {in_words(dependency)}" for dependency in answer.broken]
    else:
        lines[0] += " break no must."
    if answer.shoulds:
        lines.append("It would break these shoulds as well:")
        lines += [f"  {in_words(dependency)}" for dependency in answer.shoulds]
    lines += _cost_lines(answer)
    return lines


def _cost_lines(answer: Why) -> list[str]:
    if answer.swapped is None:
        return ["Even then no order has them the other way round:", f"  {answer.obstacle}"]
    even = "Even with these musts dropped, the" if answer.broken else "The"
    pairs = list(zip(answer.levels, answer.swapped.levels, strict=True))
    changed = [
        f"{mine.name} {shown(mine.value, 1)} -> {shown(other.value, 1)}"
        for mine, other in pairs
        if mine.value != other.value
    ]
    if not changed:
        return [f"{even} best order the other way round costs the same."]
    kind = "best" if answer.swapped.proven else "best found"
    return [f"{even} {kind} order the other way round has: {', '.join(changed)}."]
