"""Short ways to write what a rule demands or finds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sequencer.errors import Finding, Severity
from sequencer.operations import Operation
from sequencer.precedence.dependency import Dependency, Relation, Strength


@dataclass(frozen=True)
class Wanted:
    """A must that gives way where the clampings make it impossible, and then becomes a warning.

    Parameters
    ----------
    dependency
        What is wanted.
    otherwise
        What follows for the part if it cannot be kept, with numbers where they can be computed.
    remedy
        What the planner can do about it.
    """

    dependency: Dependency
    otherwise: str
    remedy: str


#: What a rule gives: a dependency that binds or a should, a must that may give way, or a finding.
Outcome = Dependency | Wanted | Finding


def before(first: Operation, second: Operation, reason: str) -> Dependency:
    """Demand that one operation is done before another.

    Parameters
    ----------
    first, second
        The operations.
    reason
        One sentence for a review.
    """
    return Dependency(Relation.BEFORE, first.name, second.name, reason=reason)


def wish(first: Operation, second: Operation, reason: str) -> Dependency:
    """Ask for one operation before another; breaking it costs the rule's penalty.

    Parameters
    ----------
    first, second
        The operations.
    reason
        One sentence for a review.
    """
    return Dependency(Relation.BEFORE, first.name, second.name, strength=Strength.SHOULD, reason=reason)


def opens(clamping: str, first: Operation, second: Operation | None, reason: str) -> Dependency:
    """Demand that an operation, or all work, in a clamping comes after another operation.

    Parameters
    ----------
    clamping
        Name of the clamping.
    first
        What must be done before.
    second
        What waits, if it is done in that clamping; None for all work there.
    reason
        One sentence for a review.
    """
    waiting = second.name if second is not None else ""
    return Dependency(Relation.OPENS, first.name, waiting, clamping=clamping, reason=reason)


def closes(clamping: str, first: Operation, second: Operation | None, reason: str) -> Dependency:
    """Demand that an operation, or all work, is not done in a clamping any more after another operation.

    Parameters
    ----------
    clamping
        Name of the clamping.
    first
        What ends it.
    second
        What is not done there afterwards; None for all work.
    reason
        One sentence for a review.
    """
    ended = second.name if second is not None else ""
    return Dependency(Relation.CLOSES, first.name, ended, clamping=clamping, reason=reason)


def same_clamping(first: Operation, second: Operation, reason: str) -> Dependency:
    """Demand that two operations are done in one visit to a clamping.

    Parameters
    ----------
    first, second
        The operations.
    reason
        One sentence for a review.
    """
    return Dependency(Relation.SAME_CLAMPING, first.name, second.name, reason=reason)


def same_zero(first: Operation, second: Operation, reason: str) -> Dependency:
    """Demand that two operations are done without a new zero between them.

    Parameters
    ----------
    first, second
        The operations.
    reason
        One sentence for a review.
    """
    return Dependency(Relation.SAME_ZERO, first.name, second.name, reason=reason)


def in_reach(first: Operation, second: Operation, reason: str) -> Iterator[Dependency]:
    """Demand one operation before another wherever both can be done in the same clamping.

    An operation that can be done in more clampings waits only if it is done in one that reaches the first.

    Parameters
    ----------
    first, second
        The operations.
    reason
        One sentence for a review.
    """
    common = [clamping for clamping in second.clampings if clamping in first.clampings]
    if common and len(common) == len(second.clampings):
        yield before(first, second, reason)
        return
    for clamping in common:
        yield opens(clamping, first, second, reason)


def in_one_clamping(first: Operation, second: Operation, reason: str) -> Iterator[Dependency]:
    """Demand one operation before another if both are done in the same clamping; done apart they are free.

    Where both can be done in the same several clampings the order is demanded for all of them.

    Parameters
    ----------
    first, second
        The operations.
    reason
        One sentence for a review.
    """
    common = [clamping for clamping in second.clampings if clamping in first.clampings]
    if set(first.clampings) == set(second.clampings):
        yield before(first, second, reason)
    elif len(first.clampings) > len(second.clampings):
        for clamping in common:
            yield closes(clamping, second, first, reason)
    else:
        for clamping in common:
            yield opens(clamping, first, second, reason)


def wish_in_reach(first: Operation, second: Operation, reason: str) -> Iterator[Dependency]:
    """Ask for one operation before another if the first can be done wherever the second can.

    A should cannot be tied to a clamping, so it is left out where it would be right in one and wrong in
    another.

    Parameters
    ----------
    first, second
        The operations.
    reason
        One sentence for a review.
    """
    if first.name != second.name and set(second.clampings) <= set(first.clampings):
        yield wish(first, second, reason)


def error(where: str, what: str, limit: str = "", remedy: str = "") -> Finding:
    """Report what makes the part wrong as planned.

    Parameters
    ----------
    where, what, limit, remedy
        The four answers of a finding.
    """
    return Finding(Severity.ERROR, where, what, limit, remedy)


def warning(where: str, what: str, limit: str = "", remedy: str = "") -> Finding:
    """Report what the planner must weigh.

    Parameters
    ----------
    where, what, limit, remedy
        The four answers of a finding.
    """
    return Finding(Severity.WARNING, where, what, limit, remedy)


def note(where: str, what: str, limit: str = "", remedy: str = "") -> Finding:
    """Report what is worth knowing.

    Parameters
    ----------
    where, what, limit, remedy
        The four answers of a finding.
    """
    return Finding(Severity.NOTE, where, what, limit, remedy)
