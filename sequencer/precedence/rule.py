"""A rule of the trade: a function from the operations of a part to what it demands of their order."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from sequencer.errors import Finding
from sequencer.precedence.context import RuleContext
from sequencer.precedence.demands import Outcome, Wanted
from sequencer.precedence.dependency import Dependency, Relation, Strength
from sequencer.units import Minutes

#: Where a rule comes from if nobody wrote it down.
PRACTICE = "common practice, no source"
MEMORY = "from memory of handbooks"


class Kept(StrEnum):
    """By what a rule is kept."""

    ORDER = "the order"
    CHECK = "a check, which gives findings"
    BOTH = "the order and a check"
    OBJECTIVE = "the objective: it lowers the number of tool changes itself"


@dataclass(frozen=True)
class Rule:
    """One rule of the trade.

    Parameters
    ----------
    id
        Short name, such as "R12".
    title
        What it says, in few words.
    strength
        Whether it binds, as the trade sees it; its function may soften single arrows.
    reason
        Why shops hold it.
    source
        Where it comes from.
    function
        What gives its demands for a part.
    kept
        By what it is kept.
    penalty
        Minutes that each broken should costs [min].
    late
        True if it must see what the other rules demand before it speaks.
    """

    id: str
    title: str
    strength: Strength
    reason: str
    source: str
    function: Callable[[RuleContext], Iterable[Outcome]]
    kept: Kept = Kept.ORDER
    penalty: Minutes = 0.0
    late: bool = False

    @property
    def number(self) -> int:
        """Number behind the letter."""
        return int(self.id[1:])


@dataclass(frozen=True)
class RuleResult:
    """What one rule gives for one part.

    Parameters
    ----------
    dependencies
        Demands that bind, and shoulds.
    wanted
        Musts that give way to the clampings.
    findings
        What it found.
    """

    dependencies: tuple[Dependency, ...]
    wanted: tuple[Wanted, ...]
    findings: tuple[Finding, ...]


def apply_rule(rule: Rule, context: RuleContext, penalty: Minutes | None = None) -> RuleResult:
    """Let a rule speak, and sign what it says with its name and source.

    Parameters
    ----------
    rule
        The rule.
    context
        The operations, and what the other rules have demanded already.
    penalty
        Minutes that a broken should costs, if the shop gives others than the rule [min].
    """
    minutes = rule.penalty if penalty is None else penalty
    dependencies: dict[Dependency, None] = {}
    wanted: dict[Wanted, None] = {}
    findings: dict[Finding, None] = {}
    for outcome in rule.function(context):
        if isinstance(outcome, Dependency):
            dependencies[_signed(outcome, rule, minutes)] = None
        elif isinstance(outcome, Wanted):
            signed = replace(outcome, dependency=_signed(outcome.dependency, rule, minutes))
            wanted[signed] = None
        else:
            findings[replace(outcome, subject=f"rule {rule.id}")] = None
    return RuleResult(tuple(dependencies), tuple(wanted), tuple(findings))


def _signed(dependency: Dependency, rule: Rule, penalty: Minutes) -> Dependency:
    soft = dependency.strength is Strength.SHOULD and dependency.relation is Relation.BEFORE
    return replace(dependency, rule=rule.id, source=rule.source, penalty=penalty if soft else 0.0)
