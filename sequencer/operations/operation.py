"""Operations and their alternatives: what one tool does in one clamping to one feature at one stage."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

from sequencer.errors import Finding
from sequencer.operations.run_out import RunOut
from sequencer.part import Clamping, Part
from sequencer.shop import ClampingMeans, Shop
from sequencer.units import Minutes

#: Clamping name of work away from the machine: receiving, heat treatment, independent check.
BENCH = "bench"


class Stage(StrEnum):
    """How far a feature is when an operation is done."""

    PREPARE = "prepare"
    ROUGH = "rough"
    SEMI = "semi"
    FINISH = "finish"
    HARD = "hard finish"
    DEBURR = "deburr"
    MEASURE = "measure"


class Action(StrEnum):
    """What is done."""

    RECEIVE = "receive"
    CLAMP = "clamp"
    INDICATE = "indicate"
    RELEASE = "release and re-clamp"
    SOAK = "soak"
    WASH = "wash"
    PROBE = "probe"
    TURN = "turn"
    GROOVE = "groove"
    THREAD = "thread"
    DRILL = "drill"
    TAP = "tap"
    REAM = "ream"
    COUNTERBORE = "counterbore"
    MILL = "mill"
    CUT_TEETH = "cut teeth"
    DEBURR = "deburr"
    ENGRAVE = "engrave"
    MEASURE = "measure"
    APEX_CHECK = "check apex"
    HEAT_TREAT = "heat treat"
    SEND_OUT = "send out"
    INSPECT = "inspect"


class Mode(StrEnum):
    """How table and tool spindle are coupled."""

    TURNING = "turning"
    MILLING = "milling"
    GEAR = "gear-synchronised"
    REST = "at rest"


@dataclass(frozen=True)
class Fact:
    """A number on a sheet that can say where it comes from.

    Parameters
    ----------
    name
        What it is, such as "cutting speed" or "run-out needed".
    value
        The value, in `unit`.
    unit
        Unit of the value.
    formula
        Symbol = expression = numbers; empty for a value that is given.
    source
        Standard, handbook, "part file", "shop file" or "common practice, no source".
    estimate
        True if the planner did not give it and the tool assumed it.
    """

    name: str
    value: float
    unit: str
    formula: str = ""
    source: str = ""
    estimate: bool = False


@dataclass(frozen=True)
class Alternative:
    """One feasible way to do an operation.

    Parameters
    ----------
    method
        How the feature is cut, such as "hobbing".
    tool
        Name of the tool; empty if none is needed.
    clamping
        Name of the clamping, or `BENCH`.
    mode
        How the spindles are coupled.
    minutes
        Own time: cutting, approach, indexing; without changes before it [min].
    facts
        Speeds, passes, run-out, time, each with its formula.
    reason
        One sentence: why this works.
    lead_time
        Time away from the shop, for work that is sent out; not part of `minutes` [min].
    run_out
        Room of a cutter of teeth at both ends; empty for other work.
    """

    method: str
    tool: str
    clamping: str
    mode: Mode
    minutes: Minutes
    facts: tuple[Fact, ...] = ()
    reason: str = ""
    lead_time: Minutes = 0.0
    run_out: tuple[RunOut, ...] = field(default=(), repr=False)


@dataclass(frozen=True)
class Rejection:
    """A way to do an operation that fails, with the sentence for a review.

    Parameters
    ----------
    method
        How the feature would be cut.
    tool
        Name of the tool; empty if the method fails whatever the tool.
    clamping
        Name of the clamping; empty if it fails in any.
    sentence
        Why, with the numbers: "needs 75.2 mm, has 40 mm against ...".
    remedy
        The nearest thing that would make it work; empty if nothing sensible.
    facts
        The numbers behind the sentence, such as run-out needed and room there.
    """

    method: str
    tool: str
    clamping: str
    sentence: str
    remedy: str = ""
    facts: tuple[Fact, ...] = ()


@dataclass(frozen=True)
class Operation:
    """One tool, one clamping, one feature, one stage, with the alternatives for it.

    Parameters
    ----------
    name
        Feature and word, such as "bore/finish"; unique.
    feature
        Name of the feature; the clamping's name for clamp, indicate, release, soak and wash; empty for
        work on the whole part.
    stage
        How far the feature is.
    action
        What is done.
    title
        Words for the route sheet.
    alternatives
        Feasible ways, the quickest first.
    rejected
        Ways that fail, with their reasons.
    half
        "lower" or "upper" for one helix of a double-helical gear; else empty.
    heavy
        True for roughing that heats and shakes the part.
    hard
        True if done after hardening, False if before, None if it does not matter.
    opening
        True for the steps that open a clamping: they are placed at the start of each visit.
    """

    name: str
    feature: str
    stage: Stage
    action: Action
    title: str
    alternatives: tuple[Alternative, ...]
    rejected: tuple[Rejection, ...] = ()
    half: str = ""
    heavy: bool = False
    hard: bool | None = None
    opening: bool = False

    @cached_property
    def clampings(self) -> tuple[str, ...]:
        """Names of the clampings that it can be done in, in order of first mention."""
        return tuple(dict.fromkeys(alternative.clamping for alternative in self.alternatives))

    @property
    def cuts(self) -> bool:
        """Whether it removes material, here or outside."""
        return self.action in _CUTTING


_CUTTING = frozenset(
    {
        Action.TURN,
        Action.GROOVE,
        Action.THREAD,
        Action.DRILL,
        Action.TAP,
        Action.REAM,
        Action.COUNTERBORE,
        Action.MILL,
        Action.CUT_TEETH,
        Action.DEBURR,
        Action.ENGRAVE,
        Action.SEND_OUT,
    }
)


@dataclass(frozen=True)
class Reach:
    """Whether a feature can be reached in a clamping, and why.

    Parameters
    ----------
    feature
        Name of the feature.
    reachable
        True if a tool can get at it.
    reason
        One sentence, such as "hidden by jaws z 0 to 60 mm".
    """

    feature: str
    reachable: bool
    reason: str


@dataclass(frozen=True)
class FittedClamping:
    """A clamping of the part with the means of the shop that holds it.

    Parameters
    ----------
    clamping
        As the part file gives it, or as proposed.
    means
        The clamping means of the shop.
    reach
        One answer a feature.
    proposed
        True if the planner gave no clampings and the tool proposed it.
    table_speed
        Highest table speed with this mass and these jaws [rpm].
    speed_reason
        Which limit gives that speed, with its numbers.
    mass
        Mass of the part as it is clamped [kg].
    inertia
        Its moment of inertia about the axis; 0 if it is not known [kg m2].
    """

    clamping: Clamping
    means: ClampingMeans
    reach: tuple[Reach, ...]
    proposed: bool
    table_speed: float
    speed_reason: str
    mass: float
    inertia: float = 0.0

    @property
    def name(self) -> str:
        """Name on the sheets."""
        return self.clamping.name

    @cached_property
    def reach_by_feature(self) -> dict[str, Reach]:
        """Answers by feature."""
        return {answer.feature: answer for answer in self.reach}


@dataclass(frozen=True)
class OperationList:
    """All operations of a part on a shop.

    Parameters
    ----------
    part, shop
        What they were made from.
    clampings
        Clampings with their means.
    operations
        Operations in file order of their features; opening steps first.
    findings
        What the planner must know: features without a way, estimates, missing tools.
    """

    part: Part
    shop: Shop
    clampings: tuple[FittedClamping, ...]
    operations: tuple[Operation, ...]
    findings: tuple[Finding, ...] = ()

    @cached_property
    def by_name(self) -> dict[str, Operation]:
        """Operations by name."""
        return {operation.name: operation for operation in self.operations}

    @cached_property
    def by_feature(self) -> dict[str, tuple[Operation, ...]]:
        """Operations of each feature, in order of their stages."""
        lists: dict[str, list[Operation]] = {}
        for operation in self.operations:
            lists.setdefault(operation.feature, []).append(operation)
        return {name: tuple(listed) for name, listed in lists.items()}

    @cached_property
    def clamping_by_name(self) -> dict[str, FittedClamping]:
        """Clampings by name."""
        return {clamping.name: clamping for clamping in self.clampings}

    def of(
        self, feature: str, *, stage: Stage | None = None, action: Action | None = None
    ) -> tuple[Operation, ...]:
        """Operations of a feature, filtered.

        Parameters
        ----------
        feature
            Name of the feature.
        stage
            Only operations of this stage.
        action
            Only operations with this action.
        """
        return tuple(
            operation
            for operation in self.by_feature.get(feature, ())
            if (stage is None or operation.stage == stage) and (action is None or operation.action == action)
        )
