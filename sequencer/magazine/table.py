"""What the magazine holds: pockets, tools with their sisters, planned stops, remedies."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sequencer.errors import Finding
from sequencer.units import Kg, Minutes


@dataclass(frozen=True)
class Pocket:
    """One pocket of the magazine.

    Parameters
    ----------
    number
        Number of the pocket, from 1.
    tool
        Tool in it; empty if none.
    sister
        0 for the first of its kind, 1, 2 ... for sister tools.
    blocked_by
        Tools whose diameter needs this pocket empty.
    resident
        True if the tool always stays in the magazine.
    remark
        Why it is empty: closed, or kept empty for the exchange; empty if there is nothing to say.
    """

    number: int
    tool: str
    sister: int
    blocked_by: tuple[str, ...]
    resident: bool
    remark: str = ""


@dataclass(frozen=True)
class ToolUse:
    """What the plan needs of one tool.

    Parameters
    ----------
    tool
        Name of the tool.
    steps
        Numbers of the steps that use it.
    minutes
        Its cutting time for one part [min].
    edges
        Edges or equal tools that one part wears out.
    loaded
        Number of equal tools in the magazine, sisters included: as many as are wanted and owned.
    reason
        Why that many, with the numbers.
    lot_edges
        Edges or equal tools that the lot wears out.
    window_edges
        Edges or equal tools worn out while no operator is there; 0 if that is not asked.
    whole_gears
        Tooth systems that it finishes, each with one edge.
    lasts
        False if an edge does not last a whole tooth system.
    share
        Usable lives of an edge that one part wears off; 0 if no life is given.
    """

    tool: str
    steps: tuple[int, ...]
    minutes: Minutes
    edges: int
    loaded: int
    reason: str
    lot_edges: int = 1
    window_edges: int = 0
    whole_gears: tuple[str, ...] = ()
    lasts: bool = True
    share: float = 0.0

    @property
    def exchanges(self) -> int:
        """Worn tools or edges that are exchanged in the course of the lot."""
        return max(0, self.lot_edges - self.loaded)


@dataclass(frozen=True)
class ManualStop:
    """A planned stop at which an operator loads tools by hand.

    Parameters
    ----------
    step
        Number of the step before which it lies.
    clamping
        Clamping in which it lies.
    tools
        Tools that are loaded in a row, one after the other.
    minutes
        Time of loading them [min].
    attended
        True if the operator is there anyway, since the part has just been clamped.
    """

    step: int
    clamping: str
    tools: tuple[str, ...]
    minutes: Minutes
    attended: bool


@dataclass(frozen=True)
class Remedy:
    """One way to make the tools fit, planned anew and priced.

    Parameters
    ----------
    kind
        "by hand", "sister tools", "bigger magazine", "split of the lot", "clamping by clamping" or
        "other tools".
    words
        What is done.
    needed
        Pockets needed then.
    available
        Pockets there then.
    minutes
        Time that it costs more, for the whole lot [min].
    money
        What it costs more, for the whole lot: time at the rates of the shop, and prices.
    currency
        Currency of the money.
    """

    kind: str
    words: str
    needed: int
    available: int
    minutes: Minutes
    money: float
    currency: str


@dataclass(frozen=True)
class MagazineTable:
    """Pockets and tools of a plan.

    Parameters
    ----------
    pockets
        All pockets of the magazine, in order; more than there are if the tools do not fit.
    uses
        Tools in the order of their first use.
    needed
        Pockets that the tools take, blocked ones included.
    available
        Pockets of the magazine.
    by_hand
        Tools that are loaded by hand.
    findings
        What does not fit, and by how much.
    bound
        No arrangement of the tools needs fewer pockets.
    mass
        Mass of all tools together [kg].
    imbalance
        Largest difference of mass between the two sides, over all positions [kg].
    imbalance_bound
        No arrangement of these tools has less [kg].
    stops
        Planned stops for tools loaded by hand.
    remedies
        Ways to make the tools fit, the cheapest first; empty if they fit.
    """

    pockets: tuple[Pocket, ...]
    uses: tuple[ToolUse, ...]
    needed: int
    available: int
    by_hand: tuple[str, ...]
    findings: tuple[Finding, ...]
    bound: int = 0
    mass: Kg = 0.0
    imbalance: Kg = 0.0
    imbalance_bound: Kg = 0.0
    stops: tuple[ManualStop, ...] = ()
    remedies: tuple[Remedy, ...] = ()

    @cached_property
    def pocket_of(self) -> dict[str, int]:
        """Number of the first pocket of each tool."""
        places: dict[str, int] = {}
        for pocket in self.pockets:
            if pocket.tool:
                places.setdefault(pocket.tool, pocket.number)
        return places

    @property
    def proven(self) -> bool:
        """Whether no arrangement needs fewer pockets."""
        return self.needed == self.bound

    @property
    def fits(self) -> bool:
        """Whether every tool has a pocket."""
        return 0 < len(self.pockets) <= self.available

    @property
    def over(self) -> int:
        """Pockets that are missing; 0 if the tools fit."""
        return max(0, self.needed - self.available)
