"""The ordering problem over plain integers, and what is minimised.

Meaning of an order
-------------------
An order lists operations, each with the alternative it is done by. The machine starts with the first
clamping, the first tool, the first mode and at the first place needed: none of these costs anything or is
counted. A tool, mode or place of -1 means "none needed": the operation leaves the tool in the spindle, the
mode and the place as they are. From then on, between two neighbours of the order:

- another clamping is a clamping change; coming back to an earlier clamping is a new clamping visit;
- another tool than the one in the spindle is a tool change, another mode than the one held a mode change;
- travel from place to place costs `positioning` if neither tool nor clamping changes, otherwise the way home
  from the old place and the way out to the new one (`home_positioning`);
- `minimum_wait` inserts idle time directly before the later operation.

All operations are done once, except where `either_or` or `only_with` leaves some out; a constraint between
operations of which one is left out holds.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sequencer.errors import OutOfRange
from sequencer.ordering.validation import LARGEST_COST, validate

MEASURES: Final = ("clampings", "tools", "modes", "time", "penalty")

Pair = tuple[int, int]
Triple = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Alternative:
    """One way to do an operation.

    Parameters
    ----------
    tool
        Index of the tool, -1 if none is needed (the tool in the spindle stays).
    clamping
        Index of the clamping.
    mode
        Index of the mode, -1 if any will do (the mode held stays).
    minutes
        Own cost [integer units of time].
    place
        Index of the place, -1 if nothing moves.
    """

    tool: int
    clamping: int
    mode: int
    minutes: int
    place: int = 0


@dataclass(frozen=True, slots=True, order=True)
class Constraint:
    """Names one constraint of a problem: the field it stands in and its index there.

    Parameters
    ----------
    kind
        Name of the field of `Problem`, such as "before" or "same_clamping".
    index
        Position in that field; for "operations" the operation itself.
    """

    kind: str
    index: int


@dataclass(frozen=True)
class Level:
    """One level of the objective: a weighted sum of measures.

    Parameters
    ----------
    name
        What the level is called in results.
    weights
        Pairs of a measure (see `MEASURES`) and a weight above 0.
    """

    name: str
    weights: tuple[tuple[str, int], ...]

    def __post_init__(self) -> None:
        seen = [measure for measure, _ in self.weights]
        for measure, weight in self.weights:
            where = f"objective level {self.name!r}"
            if measure not in MEASURES:
                raise OutOfRange(
                    f"unknown measure {measure!r}", where=where, remedy=f"Use {', '.join(MEASURES)}"
                )
            if not isinstance(weight, int) or not 0 < weight <= LARGEST_COST:
                raise OutOfRange(
                    f"weight {weight!r} of {measure}", where=where, limit="an integer from 1 to 2^40"
                )
        if not seen or len(set(seen)) != len(seen):
            raise OutOfRange(
                "its measures are none or named twice",
                where=f"objective level {self.name!r}",
                limit="each once",
            )


Objective = tuple[Level, ...]

#: Fewest clamping changes, then tool changes, then mode changes, then time with penalties.
LEXICOGRAPHIC: Final[Objective] = (
    Level("clampings", (("clampings", 1),)),
    Level("tools", (("tools", 1),)),
    Level("modes", (("modes", 1),)),
    Level("time", (("time", 1), ("penalty", 1))),
)

#: Least time with penalties.
TOTAL_TIME: Final[Objective] = (Level("time", (("time", 1), ("penalty", 1))),)


@dataclass(frozen=True)
class Problem:
    """Operations with their alternatives, the costs between neighbours and the constraints.

    Parameters
    ----------
    operations
        The alternatives of each operation.
    before
        Pairs (a, b): a is done before b.
    clamping_change
        Cost from clamping to clamping (a square table).
    tool_change
        Cost of changing to each tool.
    mode_change
        Cost from mode to mode.
    positioning
        Cost from place to place while tool and clamping stay; empty: none.
    home_positioning
        Cost from each place to the change position (the same back); empty: none.
    immediately_after
        Pairs (a, b): b directly after a.
    same_clamping
        Pairs done in the same clamping visit.
    not_same_clamping
        Pairs done in different clamping visits.
    same_zero
        Pairs done in the same clamping visit without a re-referencing operation between them.
    re_references
        Operations that break the zero.
    not_between
        Triples (a, b, x): x never between a and b, whichever of the two comes first.
    minimum_wait
        Triples (a, b, w): b starts at least w after the end of a (so a is done before b).
    pinned
        Pairs (operation, position): its position in the order, from 0.
    forbidden_neighbours
        Pairs (a, b): b never directly after a.
    soft_before
        Triples (a, b, penalty): costs the penalty if b is done before a.
    either_or
        Groups of which exactly one operation is done.
    only_with
        Pairs (a, b): a is done exactly if b is done.
    opens
        Pairs (clamping, a): a is done before any operation (a itself excepted) is done in that clamping.
    closes
        Pairs (clamping, a): once a is done, no operation is done in that clamping any more.
    opens_for
        Triples (clamping, a, b): b, if it is done in that clamping, comes after a.
    closes_for
        Triples (clamping, a, b): b is not done in that clamping once a is done.
    single_visit
        Clampings that are visited once only.
    tool_weight
        Places that each tool takes in the magazine; empty: 1 each.
    capacity
        Most places taken by all tools used together, -1: no limit.
    """

    operations: tuple[tuple[Alternative, ...], ...]
    before: tuple[Pair, ...] = ()
    clamping_change: tuple[tuple[int, ...], ...] = ((0,),)
    tool_change: tuple[int, ...] = (0,)
    mode_change: tuple[tuple[int, ...], ...] = ((0,),)
    positioning: tuple[tuple[int, ...], ...] = ()
    home_positioning: tuple[int, ...] = ()
    immediately_after: tuple[Pair, ...] = ()
    same_clamping: tuple[Pair, ...] = ()
    not_same_clamping: tuple[Pair, ...] = ()
    same_zero: tuple[Pair, ...] = ()
    re_references: tuple[int, ...] = ()
    not_between: tuple[Triple, ...] = ()
    minimum_wait: tuple[Triple, ...] = ()
    pinned: tuple[Pair, ...] = ()
    forbidden_neighbours: tuple[Pair, ...] = ()
    soft_before: tuple[Triple, ...] = ()
    either_or: tuple[tuple[int, ...], ...] = ()
    only_with: tuple[Pair, ...] = ()
    opens: tuple[Pair, ...] = ()
    closes: tuple[Pair, ...] = ()
    opens_for: tuple[Triple, ...] = ()
    closes_for: tuple[Triple, ...] = ()
    single_visit: tuple[int, ...] = ()
    tool_weight: tuple[int, ...] = ()
    capacity: int = -1

    def __post_init__(self) -> None:
        validate(self)

    @property
    def size(self) -> int:
        """Number of operations."""
        return len(self.operations)

    def weight_of_tool(self, tool: int) -> int:
        """Tell how many places of the magazine a tool takes.

        Parameters
        ----------
        tool
            Index of the tool.
        """
        return self.tool_weight[tool] if self.tool_weight else 1

    def constraints(self) -> Iterator[Constraint]:
        """Name every constraint, in the order of the fields."""
        for kind in CONSTRAINT_KINDS:
            for index in range(len(getattr(self, kind))):
                yield Constraint(kind, index)
        if self.capacity >= 0:
            yield Constraint("capacity", 0)


#: Fields of `Problem` whose entries may make it impossible.
CONSTRAINT_KINDS: Final = (
    "before",
    "immediately_after",
    "same_clamping",
    "not_same_clamping",
    "same_zero",
    "not_between",
    "minimum_wait",
    "pinned",
    "forbidden_neighbours",
    "either_or",
    "only_with",
    "opens",
    "closes",
    "opens_for",
    "closes_for",
    "single_visit",
)
