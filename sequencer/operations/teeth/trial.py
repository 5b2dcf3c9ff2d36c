"""One try of one tool in one clamping: checks with their facts, and what comes out of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from sequencer.operations.operation import Alternative, Fact, Mode, Rejection
from sequencer.operations.run_out import RunOut

#: Faults that one rejection spells out; further ones are counted.
MOST_FAULTS: Final = 3


@dataclass(frozen=True)
class Plain:
    """A reason that many cutters share and that needs no sentence for each.

    Parameters
    ----------
    what
        What does not fit, such as "module".
    has
        What the cutter has there, such as "7 mm".
    against
        What it would have to fit, such as "the teeth have 5 mm".
    """

    what: str
    has: str
    against: str


@dataclass(frozen=True)
class Fault:
    """Why a try fails.

    Parameters
    ----------
    sentence
        The reason with its numbers, without a full stop.
    remedy
        The nearest thing that would make it work; empty if nothing sensible.
    by_class
        True if only the flank class is out of reach: the method can still leave stock for grinding.
    plain
        The reason in short where many cutters share it; None where each needs its sentence.
    """

    sentence: str
    remedy: str = ""
    by_class: bool = False
    plain: Plain | None = None


@dataclass(frozen=True)
class Check:
    """What one check found.

    Parameters
    ----------
    facts
        The numbers of the check.
    fault
        Why the try fails; None if it passes.
    run_out
        Room at one end of the teeth, of a check that looked at it.
    """

    facts: tuple[Fact, ...] = ()
    fault: Fault | None = None
    run_out: RunOut | None = None


PASSED = Check()


def fail(
    sentence: str, remedy: str = "", *facts: Fact, by_class: bool = False, plain: Plain | None = None
) -> Check:
    """Make a check that fails.

    Parameters
    ----------
    sentence
        The reason with its numbers.
    remedy
        The nearest thing that would make it work.
    facts
        The numbers of the check.
    by_class
        True if only the flank class is out of reach.
    plain
        The reason in short where many cutters share it.
    """
    return Check(facts, Fault(sentence, remedy, by_class, plain))


@dataclass(frozen=True)
class Way:
    """What is tried: a method with a tool in a clamping.

    Parameters
    ----------
    method
        Method, such as "hobbing".
    tool
        Name of the tool; empty if the method fails whatever the tool.
    clamping
        Name of the clamping; empty if it fails in any.
    """

    method: str
    tool: str = ""
    clamping: str = ""


@dataclass(frozen=True)
class Outcome:
    """What came out of a try.

    Parameters
    ----------
    alternative
        The feasible way; None if it fails.
    rejection
        Why it fails; None if it passes.
    by_class
        True if nothing but the flank class stands against it.
    plain
        The first reason in short where many cutters share it.
    """

    alternative: Alternative | None = None
    rejection: Rejection | None = None
    by_class: bool = False
    plain: Plain | None = None


def faults_of(checks: Iterable[Check]) -> tuple[Fault, ...]:
    """Give the faults of checks, in order.

    Parameters
    ----------
    checks
        The checks.
    """
    return tuple(check.fault for check in checks if check.fault is not None)


def facts_of(checks: Iterable[Check]) -> tuple[Fact, ...]:
    """Give the facts of checks, in order, each once.

    Parameters
    ----------
    checks
        The checks.
    """
    return tuple(dict.fromkeys(fact for check in checks for fact in check.facts))


def rejected(way: Way, checks: Iterable[Check]) -> Outcome:
    """Make the outcome of checks of which at least one fails; the first fault leads.

    Parameters
    ----------
    way
        What was tried.
    checks
        The checks, the decisive ones first.
    """
    checks = tuple(checks)
    faults = faults_of(checks)
    sentences = tuple(dict.fromkeys(fault.sentence for fault in faults))
    text = "; also: ".join(sentences[:MOST_FAULTS])
    if len(sentences) > MOST_FAULTS:
        text += f"; and {len(sentences) - MOST_FAULTS} more"
    remedy = next((fault.remedy for fault in faults if fault.remedy), "")
    rejection = Rejection(
        way.method, way.tool, way.clamping, _closed(text), _closed(remedy), facts_of(checks)
    )
    by_class = all(fault.by_class for fault in faults)
    return Outcome(rejection=rejection, by_class=by_class, plain=faults[0].plain)


def passed(
    way: Way, mode: Mode, minutes: float, checks: Iterable[Check], facts: Iterable[Fact], reason: str
) -> Outcome:
    """Make the outcome of a try whose checks all pass.

    Parameters
    ----------
    way
        What was tried.
    mode
        How table and tool spindle are coupled.
    minutes
        Own time [min].
    checks
        The checks.
    facts
        Further facts: speeds, passes, time.
    reason
        One sentence: why it works.
    """
    checks = tuple(checks)
    rooms = tuple(check.run_out for check in checks if check.run_out is not None)
    every = tuple(dict.fromkeys((*facts_of(checks), *facts)))
    return Outcome(
        alternative=Alternative(
            way.method, way.tool, way.clamping, mode, minutes, every, _closed(reason), run_out=rooms
        )
    )


def _closed(text: str) -> str:
    """Begin with a capital letter and end with a full stop."""
    if not text:
        return ""
    return text[0].upper() + text[1:].rstrip(".") + "."
