"""Every method on every cutter of the shop in every clamping, for one share of some teeth."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import TypeVar

from sequencer.errors import OutOfRange
from sequencer.operations.context import Context
from sequencer.operations.forbidden import REMEDY, forbids
from sequencer.operations.operation import Alternative, FittedClamping, Rejection
from sequencer.operations.teeth import checks, disc_milling, end_milling, hobbing, skiving
from sequencer.operations.teeth.plain import merged
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
    tries = _Tries(context, teeth, clampings, aim)
    outcomes = (*_hobs(tries), *_skiving_cutters(tries), *_discs(tries), *_end_mills(tries))
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
    return verdicts_of(_skiving_cutters(_Tries(context, teeth, clampings, aim)))


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


def unsplit(whole: Verdicts, rough: Verdicts) -> Verdicts:
    """Give the verdicts of a cut from the blank where nothing roughs the teeth apart; it says why.

    Parameters
    ----------
    whole
        What came out of cutting in one operation.
    rough
        What came out of roughing; nothing passes.
    """
    why = tuple(
        replace(one, sentence=f"For roughing with its stock: {one.sentence}")
        for one in rough.rejected
        if one.clamping
    )
    ways = tuple(
        replace(way, reason=f"{way.reason} Roughed and finished in one operation: nothing roughs apart.")
        for way in whole.alternatives
    )
    return replace(whole, alternatives=ways, rejected=(*whole.rejected, *why))


_Cutter = TypeVar("_Cutter", Hob, SkivingCutter, DiscCutter, EndMill)
_Look = Callable[[Context, Teeth, _Cutter, Aim], tuple[Check, ...]]
_Attempt = Callable[[Context, Standing, _Cutter, Aim], Outcome]


@dataclass(frozen=True)
class _Tries:
    """Where and for what one method is tried.

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

    context: Context
    teeth: Teeth
    clampings: Clampings
    aim: Aim

    def tools(self, kind: type[_Cutter]) -> list[_Cutter]:
        """Give the tools of one kind, in file order."""
        return [tool for tool in self.context.shop.tools if isinstance(tool, kind)]

    def of(
        self, method: str, words: str, tools: list[_Cutter], look: _Look[_Cutter], attempt: _Attempt[_Cutter]
    ) -> tuple[Outcome, ...]:
        """Try each tool: what fails in any clamping is said once, the rest clamping by clamping."""
        first = checks.method_check(self.context, self.teeth, method)
        if first.fault is not None:
            return (rejected(Way(method), (first,)),)
        if not tools:
            return (rejected(Way(method), (fail(f"the shop has no {words}", "buy one"),)),)
        found = [
            outcome for tool in tools for outcome in self._one(Way(method, tool.name), tool, look, attempt)
        ]
        return merged(found, tuple(tool.name for tool in tools), self.teeth.feature.tool)

    def _one(
        self, way: Way, tool: _Cutter, look: _Look[_Cutter], attempt: _Attempt[_Cutter]
    ) -> list[Outcome]:
        """Sizes outside the range of a formula are a reason to refuse a tool, not an error."""
        against = forbids(self.context.shop, self.teeth.feature.name, way.method, way.tool)
        if against:
            return [rejected(way, (fail(against, REMEDY),))]
        try:
            found: tuple[Check, ...] = look(self.context, self.teeth, tool, self.aim)
        except OutOfRange as error:
            return [rejected(way, (fail(str(error)),))]
        if any(not fault.by_class for fault in faults_of(found)):
            return [rejected(way, found)]
        outcomes = []
        for clamping in self.clampings:
            try:
                standing = standing_of(self.context, self.teeth, clamping)
                outcomes.append(attempt(self.context, standing, tool, self.aim))
            except OutOfRange as error:
                here = Way(way.method, way.tool, clamping.name)
                outcomes.append(rejected(here, (*found, fail(str(error)))))
        return outcomes


def _hobs(tries: _Tries) -> tuple[Outcome, ...]:
    if tries.teeth.internal:
        check = fail("a hob cuts outside teeth only; these point inwards", "skive them")
        return (rejected(Way(hobbing.METHOD), (check,)),)
    return tries.of(hobbing.METHOD, "hob", tries.tools(Hob), hobbing.tool_checks, hobbing.try_hob)


def _skiving_cutters(tries: _Tries) -> tuple[Outcome, ...]:
    tools = tries.tools(SkivingCutter)
    return tries.of(skiving.METHOD, "skiving cutter", tools, skiving.tool_checks, skiving.try_cutter)


def _discs(tries: _Tries) -> tuple[Outcome, ...]:
    tools = tries.tools(DiscCutter)
    return tries.of(
        disc_milling.METHOD, "disc cutter", tools, disc_milling.tool_checks, disc_milling.try_disc
    )


def _end_mills(tries: _Tries) -> tuple[Outcome, ...]:
    tools = tries.tools(EndMill)
    return tries.of(end_milling.METHOD, "end mill", tools, end_milling.tool_checks, end_milling.try_mill)
