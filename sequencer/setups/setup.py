"""What a set-up sheet and a storyboard need to know of one clamping visit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sequencer.operations import FittedClamping
from sequencer.part.section import Outline
from sequencer.units import Deg, Kg, Micrometre, Mm, Newton, NewtonMetre, Rpm


@dataclass(frozen=True)
class Note:
    """Something about a feature, a surface or a check, with its reason.

    Parameters
    ----------
    name
        Feature, or "blank" for the raw surface.
    reason
        One sentence.
    """

    name: str
    reason: str


@dataclass(frozen=True)
class Rectangle:
    """Half-section of a thing on the table, as it stands.

    Parameters
    ----------
    name
        "table", "riser", "jaws", "bolts", "face plate", "spigot" or "straps".
    z_from, z_to
        Heights above the table [mm].
    r_from, r_to
        Distances from the axis [mm].
    estimate
        True if the shop file does not give its size and it was assumed.
    """

    name: str
    z_from: Mm
    z_to: Mm
    r_from: Mm
    r_to: Mm
    estimate: bool


@dataclass(frozen=True)
class PartState:
    """The part at one moment of a visit.

    Parameters
    ----------
    drawing
        Outlines of the half-section as rows of (z, r) in the drawing [mm].
    standing
        The same as rows of (height above the table, r) [mm].
    mass
        Mass [kg].
    centre
        Height of the centre of gravity above the table [mm].
    centre_in_drawing
        The same as z in the drawing [mm].
    inertia
        Moment of inertia about the table axis [kg m2].
    unbalance
        Mass times distance of the heavy side [kg mm].
    unbalance_angle
        Direction of the heavy side from the angular zero of the drawing [deg].
    unbalance_cause
        Feature that causes most of it; empty if nothing does.
    """

    drawing: tuple[Outline, ...]
    standing: tuple[Outline, ...]
    mass: Kg
    centre: Mm
    centre_in_drawing: Mm
    inertia: float
    unbalance: float
    unbalance_angle: Deg
    unbalance_cause: str


@dataclass(frozen=True)
class Grip:
    """How hard the part is held at one force, against what the cuts of this visit ask.

    Parameters
    ----------
    at_rest
        Force of all jaws or bolts at rest [N].
    rpm
        Table speed of the cut that leaves least to spare [rpm].
    lost
        Force that the jaws lose to centrifugal force at that speed [N].
    at_speed
        Force that is surely left at that speed, the safety factor taken off [N].
    torque_held
        Torque that friction holds at that speed, the safety factor of cutting taken off [N m].
    torque_needed
        Torque of that cut; 0 if nothing is cut at this force [N m].
    heaviest
        Its operation; empty if nothing is cut.
    formula
        Formula with the numbers put in.
    source
        Where the formula comes from.
    """

    at_rest: Newton
    rpm: Rpm
    lost: Newton
    at_speed: Newton
    torque_held: NewtonMetre
    torque_needed: NewtonMetre
    heaviest: str
    formula: str
    source: str

    @property
    def holds(self) -> bool:
        """Whether the friction holds the heaviest cut."""
        return self.torque_needed <= self.torque_held * (1 + 1e-6)


@dataclass(frozen=True)
class Ovality:
    """How far from round a ring is that was turned round under jaws.

    Parameters
    ----------
    jaws
        Number of jaws.
    deviation
        Roundness deviation after release, at the force for finishing [um].
    allowed
        Closest roundness or size tolerance that is finished here, a third of it; 0 if there is none [um].
    feature
        Feature with that tolerance; empty if there is none.
    most
        Largest force of all jaws that keeps within it; 0 if nothing is asked [N].
    formula
        Formula with the numbers put in.
    source
        Where the formula comes from.
    """

    jaws: int
    deviation: Micrometre
    allowed: Micrometre
    feature: str
    most: Newton
    formula: str
    source: str


@dataclass(frozen=True)
class Tipping:
    """Whether the part can tip under a cutting force at its top.

    Parameters
    ----------
    moment
        Moment that weight and clamping set against it [N m].
    height
        Height of the top above the edge that it would tip over [mm].
    force
        Largest sideways force there, the safety factor taken off [N].
    heaviest
        Turning cut that comes nearest to tipping the part; empty if nothing is turned.
    needed
        Its cutting force [N].
    allowed
        Largest sideways force at its height, the safety factor taken off [N].
    formula
        Formula with the numbers put in.
    source
        Where the formula comes from.
    """

    moment: NewtonMetre
    height: Mm
    force: Newton
    heaviest: str
    needed: Newton
    allowed: Newton
    formula: str
    source: str


@dataclass(frozen=True)
class TableUse:
    """How much of the machine this visit takes.

    Parameters
    ----------
    name
        "load", "swing", "height", "moment of inertia" or "unbalance".
    value
        What is needed, in `unit`.
    limit
        Limit of the machine; 0 if the shop file gives none.
    unit
        Unit of both.
    formula
        How the value comes about.
    """

    name: str
    value: float
    limit: float
    unit: str
    formula: str


@dataclass(frozen=True)
class Lifting:
    """How the part gets onto the table and off it.

    Parameters
    ----------
    mass_in, mass_out
        Mass of the part as it comes and as it goes [kg].
    mass_class
        "by hand", "with a lifting aid" or "crane".
    points
        Features that carry eye bolts, with the reason; empty if the part has none.
    turned_over
        True if the part is turned over before this visit.
    cautions
        What to mind.
    """

    mass_in: Kg
    mass_out: Kg
    mass_class: str
    points: tuple[Note, ...]
    turned_over: bool
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class Zero:
    """Where the axes of this visit have their zero.

    Parameters
    ----------
    axis
        What the table axis is set to.
    height
        What carries the zero of Z, with its height above the table.
    angle
        What carries the zero of C.
    """

    axis: str
    height: str
    angle: str


@dataclass(frozen=True)
class Target:
    """A surface that is indicated before the first cut.

    Parameters
    ----------
    name
        Feature, or "blank".
    what
        "runout of the diameter", "wobble of the face" or "angular zero".
    limit
        Largest total indicator reading [um].
    reason
        Why this surface and this limit, with the numbers.
    """

    name: str
    what: str
    limit: Micrometre
    reason: str


@dataclass(frozen=True)
class SetUp:
    """One clamping visit: what is held, reached, finished, hidden, and how it is held.

    Parameters
    ----------
    visit
        Number of the visit, from 1.
    clamping
        The clamping with its means.
    operations
        Names of the operations of this visit, in order.
    held, located, covered
        Surfaces that are gripped, located on and covered by the means.
    reached, hidden
        Features that a tool gets at here, and those that none gets at, with the reason.
    cut, finished
        Features that are cut here, and those that are cut here for the last time.
    before, after
        The part as it comes and as it goes.
    things
        Table, riser, jaws and other things on the table, for the picture.
    rough, finish
        Holding with the full force and with the force for finishing.
    ovality
        Out-of-roundness of a thin ring under jaws; None where nothing presses a thin ring.
    tipping
        Stability.
    speed_cap, speed_reason
        Highest table speed and what sets it [rpm].
    run_up
        Time from rest to that speed [s].
    table
        Load, swing, height, inertia and unbalance against the machine.
    riser, free_height
        Riser, and free height below the lowest face of the part [mm].
    lifting
        Lifting and turning over.
    zero
        Zeros of the axes.
    targets
        What is indicated, with limits.
    checks
        First checks in their order.
    cautions
        What to mind.
    """

    visit: int
    clamping: FittedClamping
    operations: tuple[str, ...]
    held: tuple[Note, ...]
    located: tuple[Note, ...]
    covered: tuple[Note, ...]
    reached: tuple[Note, ...]
    hidden: tuple[Note, ...]
    cut: tuple[str, ...]
    finished: tuple[str, ...]
    before: PartState
    after: PartState
    things: tuple[Rectangle, ...]
    rough: Grip
    finish: Grip
    ovality: Ovality | None
    tipping: Tipping
    speed_cap: Rpm
    speed_reason: str
    run_up: float
    table: tuple[TableUse, ...]
    riser: Mm
    free_height: Mm
    lifting: Lifting
    zero: Zero
    targets: tuple[Target, ...]
    checks: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def name(self) -> str:
        """Name of the clamping."""
        return self.clamping.name


def names_of(notes: Sequence[Note]) -> tuple[str, ...]:
    """Give the names of notes.

    Parameters
    ----------
    notes
        The notes.
    """
    return tuple(note.name for note in notes)
