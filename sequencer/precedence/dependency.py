"""Dependencies: arrows between operations, each with its rule and reason."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sequencer.units import Minutes


class Relation(StrEnum):
    """What a dependency demands of its operations."""

    BEFORE = "before"
    IMMEDIATELY_AFTER = "immediately after"
    SAME_CLAMPING = "same clamping"
    NOT_SAME_CLAMPING = "not same clamping"
    SAME_ZERO = "same zero"
    NOT_BETWEEN = "not between"
    NEVER_NEXT = "never next"
    MINIMUM_WAIT = "minimum wait"
    OPENS = "opens clamping"
    CLOSES = "closes clamping"


class Strength(StrEnum):
    """Whether a rule binds."""

    MUST = "must"
    SHOULD = "should"


@dataclass(frozen=True)
class Dependency:
    """One arrow of the dependency graph.

    Parameters
    ----------
    relation
        What is demanded:
        before: `first` is done before `second`;
        immediately after: `second` follows directly on `first`;
        same clamping, not same clamping, same zero: of `first` and `second`;
        not between: `third` never lies between `first` and `second`;
        minimum wait: `second` starts at least `minutes` after the end of `first`;
        opens clamping: `second` (or, if empty, every operation), if done in `clamping`, comes after `first`;
        closes clamping: `second` (or, if empty, every one) is not done in `clamping` once `first` is done.
    first, second, third
        Names of operations; empty where the relation has none.
    clamping
        Name of the clamping of opens and closes.
    strength
        Must binds; should costs `penalty` minutes when broken (only before can be a should).
    rule
        Rule of the trade or of the house, such as "R12" or "H1".
    reason
        One sentence for a review.
    source
        Where the rule comes from.
    minutes
        Waiting time of a minimum wait [min].
    penalty
        Minutes that a broken should costs [min].
    """

    relation: Relation
    first: str
    second: str = ""
    third: str = ""
    clamping: str = ""
    strength: Strength = Strength.MUST
    rule: str = ""
    reason: str = ""
    source: str = ""
    minutes: Minutes = 0.0
    penalty: Minutes = 0.0
