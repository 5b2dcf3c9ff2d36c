"""Every method on every cutter of the shop in every clamping, for one share of some teeth."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from sequencer.operations.context import Context
from sequencer.operations.operation import Alternative, FittedClamping, Rejection
from sequencer.operations.teeth import checks, disc_milling, end_milling, hobbing, skiving
from sequencer.operations.teeth.share import Aim
from sequencer.operations.teeth.standing import Standing, standing_of
from sequencer.operations.teeth.trial import Check, Outcome, Way, fail, faults_of, rejected
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.tools import DiscCutter, EndMill, Hob, SkivingCutter

Clampings = tuple[FittedClamping, ...]


@dataclass(frozen=True)
class Verdicts:
    """What came out of all tries.

    Parameters
    ----------
    alternatives
        Feasible ways, the quickest first.
    rejected
        Ways that fail, near misses first.
    only_by_class
        True if nothing passes, and for some way nothing but the flank class stands against it.
    """

    alternatives: tuple[Alternative, ...]
    rejected: tuple[Rejection, ...]
    only_by_class: bool


def try_all(context: Context, teeth: Teeth, clampings: Clampings, aim: Aim) -> Verdicts:
    """Try every method on every cutter of the shop in the given clampings.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    clampings
        Clampings in which the feature can be reached.
    aim
        What the operation is to reach.
    """
    outcomes = (
        *_hobs(context, teeth, clampings, aim),
        *_skiving_cutters(context, teeth, clampings, aim),
        *_discs(context, teeth, clampings, aim),
        *_end_mills(context, teeth, clampings, aim),
    )
    return verdicts_of(outcomes)


def try_hard(context: Context, teeth: Teeth, clampings: Clampings, aim: Aim) -> Verdicts:
    """Try hard skiving on every skiving cutter of the shop in the given clampings.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    clampings
        Clampings in which the feature can be reached.
    aim
        What the operation is to reach.
    """
    return verdicts_of(_skiving_cutters(context, teeth, clampings, aim))


def verdicts_of(outcomes: Iterable[Outcome]) -> Verdicts:
    """Sort outcomes: the quickest way first, near misses before tools that do not match.

    Parameters
    ----------
    outcomes
        What came out of the tries.
    """
    listed = tuple(outcomes)
    passing = [outcome.alternative for outcome in listed if outcome.alternative is not None]
    failing = [outcome.rejection for outcome in listed if outcome.rejection is not None]
    return Verdicts(
        tuple(sorted(passing, key=lambda way: (way.minutes, way.tool, way.clamping))),
        tuple(sorted(failing, key=lambda way: way.clamping == "")),
        not passing and any(outcome.by_class for outcome in listed),
    )


Try = Callable[[Standing], Outcome]


def _hobs(context: Context, teeth: Teeth, clampings: Clampings, aim: Aim) -> tuple[Outcome, ...]:
    if teeth.internal:
        check = fail("a hob cuts outside teeth only; these point inwards", "skive them")
        return (rejected(Way(hobbing.METHOD), (check,)),)

    def attempt(tool: Hob) -> Try:
        return lambda standing: hobbing.try_hob(context, standing, tool, aim)

    tools = [tool for tool in context.shop.tools if isinstance(tool, Hob)]
    tries = [(tool.name, hobbing.tool_checks(context, teeth, tool, aim), attempt(tool)) for tool in tools]
    return _each(context, teeth, clampings, hobbing.METHOD, "hob", tries)


def _skiving_cutters(context: Context, teeth: Teeth, clampings: Clampings, aim: Aim) -> tuple[Outcome, ...]:
    def attempt(tool: SkivingCutter) -> Try:
        return lambda standing: skiving.try_cutter(context, standing, tool, aim)

    tools = [tool for tool in context.shop.tools if isinstance(tool, SkivingCutter)]
    tries = [(tool.name, skiving.tool_checks(context, teeth, tool, aim), attempt(tool)) for tool in tools]
    return _each(context, teeth, clampings, skiving.METHOD, "skiving cutter", tries)


def _discs(context: Context, teeth: Teeth, clampings: Clampings, aim: Aim) -> tuple[Outcome, ...]:
    def attempt(tool: DiscCutter) -> Try:
        return lambda standing: disc_milling.try_disc(context, standing, tool, aim)

    tools = [tool for tool in context.shop.tools if isinstance(tool, DiscCutter)]
    tries = [
        (tool.name, disc_milling.tool_checks(context, teeth, tool, aim), attempt(tool)) for tool in tools
    ]
    return _each(context, teeth, clampings, disc_milling.METHOD, "disc cutter", tries)


def _end_mills(context: Context, teeth: Teeth, clampings: Clampings, aim: Aim) -> tuple[Outcome, ...]:
    def attempt(tool: EndMill) -> Try:
        return lambda standing: end_milling.try_mill(context, standing, tool, aim)

    tools = [tool for tool in context.shop.tools if isinstance(tool, EndMill)]
    tries = [(tool.name, end_milling.tool_checks(context, teeth, tool, aim), attempt(tool)) for tool in tools]
    return _each(context, teeth, clampings, end_milling.METHOD, "end mill", tries)


def _each(
    context: Context,
    teeth: Teeth,
    clampings: Clampings,
    method: str,
    kind: str,
    tries: list[tuple[str, tuple[Check, ...], Try]],
) -> tuple[Outcome, ...]:
    """Try each tool: what fails in any clamping is said once, the rest is tried clamping by clamping."""
    first = checks.method_check(context, teeth, method)
    if first.fault is not None:
        return (rejected(Way(method), (first,)),)
    if not tries:
        return (rejected(Way(method), (fail(f"the shop has no {kind}", f"buy a {kind}"),)),)
    outcomes: list[Outcome] = []
    for name, found, attempt in tries:
        if any(not fault.by_class for fault in faults_of(found)):
            outcomes.append(rejected(Way(method, name), found))
        else:
            outcomes += [attempt(standing_of(context, teeth, clamping)) for clamping in clampings]
    return tuple(outcomes)
