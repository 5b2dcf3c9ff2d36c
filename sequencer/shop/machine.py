"""The machine and its clamping means."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal, Self

from pydantic import Field, model_validator

from sequencer.part.quantities import (
    Angle,
    Duration,
    FeedRate,
    Force,
    Mass,
    MomentOfMass,
    Name,
    NotNegativeLength,
    PositiveLength,
    Power,
    Record,
    RotationSpeed,
    Torque,
)
from sequencer.units import parse


class SpeedAtMass(Record):
    """Highest table speed with a load of up to this mass."""

    mass: Mass = Field(description="Mass on the table, part and clamping means together.")
    speed: RotationSpeed = Field(description="Highest table speed up to that mass.")


class TorqueAtSpeed(Record):
    """A point of a torque curve."""

    speed: RotationSpeed = Field(description="Speed.")
    torque: Torque = Field(description="Continuous torque at that speed.")


def torque_on(curve: tuple[TorqueAtSpeed, ...], rpm: float) -> float:
    """Torque of a curve at a speed, straight between its points; endless without a curve [N m].

    Source: derived

    Parameters
    ----------
    curve
        Points in rising order of speed.
    rpm
        Speed [rpm].
    """
    if not curve:
        return float("inf")
    for low, high in pairwise(curve):
        if low.speed <= rpm <= high.speed:
            share = (rpm - low.speed) / (high.speed - low.speed)
            return float(low.torque + share * (high.torque - low.torque))
    return float(curve[0].torque if rpm < curve[0].speed else curve[-1].torque)


def _check_rising(curve: tuple[TorqueAtSpeed, ...]) -> None:
    if any(low.speed >= high.speed for low, high in pairwise(curve)):
        msg = "torque_at_speed must be in rising order of speed"
        raise ValueError(msg)


_CURVE_WORDS = "Torque curve where torque falls with speed, in rising order of speed."


class Table(Record):
    """The turning table, which is also the C axis."""

    load: Mass = Field(description="Largest mass on the table.")
    swing: PositiveLength = Field(description="Largest turning diameter, jaws included.")
    diameter: PositiveLength | None = Field(
        default=None, description="Diameter of the table itself; as wide as the swing if left out."
    )
    height: PositiveLength = Field(description="Largest height above the table, riser included.")
    power: Power = Field(description="Power of the table drive.")
    torque: Torque = Field(description="Continuous torque of the table.")
    speed: RotationSpeed = Field(description="Highest speed of the empty table.")
    speed_at_mass: tuple[SpeedAtMass, ...] = Field(
        default=(), description="Highest speed by mass, in rising order of mass."
    )
    synchronous_speed: RotationSpeed = Field(
        description="Highest table speed while coupled to the tool spindle."
    )
    inertia_limit: float = Field(
        default=0.0, ge=0.0, le=1e9, description="Largest moment of inertia in kg m2; 0 for none."
    )
    unbalance_limit: MomentOfMass = Field(
        default=parse("0 kg m", "moment of mass"),
        description="Largest unbalance of the part, mass times distance from the axis; 0 for none.",
    )
    tool_change_clearance: NotNegativeLength = Field(
        default=parse("0 mm", "length"),
        description="Free height that a tool change needs above the part, below the largest height.",
    )
    torque_at_speed: tuple[TorqueAtSpeed, ...] = Field(default=(), description=_CURVE_WORDS)

    @model_validator(mode="after")
    def _rising(self) -> Self:
        masses = [float(point.mass) for point in self.speed_at_mass]
        if masses != sorted(masses):
            msg = "speed_at_mass must be in rising order of mass"
            raise ValueError(msg)
        if self.diameter is not None and self.diameter > self.swing:
            msg = f"diameter {self.diameter} must not be above swing {self.swing}"
            raise ValueError(msg)
        _check_rising(self.torque_at_speed)
        return self

    def torque_at(self, rpm: float) -> float:
        """Continuous torque at a speed, of the curve where there is one [N m].

        Source: derived

        Parameters
        ----------
        rpm
            Speed of the table [rpm].
        """
        return min(float(self.torque), torque_on(self.torque_at_speed, rpm))

    @property
    def radius(self) -> float:
        """Radius up to which the table lies under a level head [mm]."""
        return float(self.diameter or self.swing) / 2


class ToolSpindle(Record):
    """The tool spindle with its tilting head."""

    speed: RotationSpeed = Field(description="Highest speed.")
    power: Power = Field(description="Power.")
    torque: Torque = Field(description="Continuous torque.")
    tilt_from: Angle = Field(description="Tilt of the head to one side, 0 deg pointing down.")
    tilt_to: Angle = Field(description="Tilt of the head to the other side; 90 deg is level.")
    reach_inside: PositiveLength = Field(
        description="Deepest point below a face that the head reaches into a bore."
    )
    head_diameter: PositiveLength = Field(description="Diameter of the head that enters a bore.")
    thrust: Force | None = Field(
        default=None,
        description="Largest force along the slide, for slotting and drilling.",
    )
    nose_diameter: PositiveLength | None = Field(
        default=None,
        description="Diameter of the part of the head next to the tool, which stands over the table and "
        "beside the part when the head works level; that of the head if left out.",
    )
    nose_length: PositiveLength | None = Field(
        default=None,
        description="Length of that part from the gauge line to the wider head behind it; needed with "
        "nose_diameter.",
    )
    torque_at_speed: tuple[TorqueAtSpeed, ...] = Field(default=(), description=_CURVE_WORDS)

    def torque_at(self, rpm: float) -> float:
        """Continuous torque at a speed, of the curve where there is one [N m].

        Source: derived

        Parameters
        ----------
        rpm
            Speed of the spindle [rpm].
        """
        return min(float(self.torque), torque_on(self.torque_at_speed, rpm))

    @model_validator(mode="after")
    def _nose(self) -> Self:
        _check_rising(self.torque_at_speed)
        if (self.nose_diameter is None) != (self.nose_length is None):
            msg = "nose_diameter and nose_length belong together: give both or neither"
            raise ValueError(msg)
        if self.nose_diameter is not None and self.nose_diameter > self.head_diameter:
            msg = f"nose_diameter {self.nose_diameter} must not be above head_diameter {self.head_diameter}"
            raise ValueError(msg)
        return self


class Times(Record):
    """Times of the machine and of the people at it."""

    chip_to_chip: Duration = Field(description="Tool change, chip to chip.")
    heavy_tool_change: Duration = Field(description="Tool change with a heavy tool.")
    manual_tool_change: Duration = Field(description="Loading a tool by hand that does not fit the magazine.")
    mode_change: Duration = Field(description="Change between turning, milling and gear-synchronised.")
    positioning: Duration = Field(description="Mean positioning between two features with the same tool.")
    rapid: FeedRate = Field(description="Rapid traverse.")
    index: Duration = Field(description="Indexing the table by one pitch and locking it.")
    synchronise: Duration = Field(description="Coupling table and spindle and finding the tooth space.")
    clamp: Duration = Field(description="Clamping the part, cleaning of seats included.")
    indicate: Duration = Field(description="Indicating or probing datum surfaces after clamping.")
    turn_over: Duration = Field(description="Releasing, lifting and turning over with the crane.")
    release: Duration = Field(description="Releasing jaws and clamping again with lower force.")
    probe: Duration = Field(description="Probing one feature.")
    measure_tooth_system: Duration = Field(
        description="Measuring pitch, profile and helix of a tooth system."
    )
    apex_check: Duration = Field(description="Checking the apex of a double-helical gear at four places.")
    wash: Duration = Field(description="Flushing chips from the part on the machine.")
    soak: Duration = Field(description="Waiting for temperature after roughing.")
    receive: Duration = Field(description="Checking a blank at receipt.")
    hydraulic_clamp: Duration | None = Field(
        default=None,
        description="Clamping with hydraulic means, cleaning of seats included; estimated from clamp if left "
        "out.",
    )
    hydraulic_release: Duration | None = Field(
        default=None,
        description="Lowering the force of hydraulic means by program; estimated from release if left out.",
    )
    independent_check: Duration = Field(description="Gear check on an independent measuring instrument.")


class Capability(Record):
    """What the machine holds, axis by axis, and what a re-clamping costs."""

    linear: PositiveLength = Field(description="Positioning of the linear axes.")
    x: PositiveLength | None = Field(
        default=None, description="Positioning of the X axis (radial); as linear if left out."
    )
    z: PositiveLength | None = Field(
        default=None, description="Positioning of the Z axis (along the table axis); as linear if left out."
    )
    repeatability: PositiveLength | None = Field(
        default=None,
        description="What stays of a size that is measured and corrected, per side; half of x if left out.",
    )
    squareness: NotNegativeLength = Field(
        default=parse("10 um", "length"),
        description="Error of parallel and square travel to the table axis, over one metre.",
    )
    angular: Angle = Field(description="Positioning of the table as C axis.")
    spindle_runout: PositiveLength = Field(description="Runout of the table.")
    reclamping: PositiveLength = Field(
        description="Eccentricity that stays after re-clamping and indicating."
    )
    reclamping_tilt: PositiveLength = Field(description="Face wobble that stays, over one metre.")
    best_turned_grade: int = Field(default=6, ge=3, le=12, description="Best ISO 286 grade held in turning.")


class Machine(Record):
    """One vertical turn-mill with a gear-cutting package."""

    name: str = Field(min_length=1, max_length=60, description="Name of the machine in this shop.")
    table: Table = Field(description="Turning table.")
    spindle: ToolSpindle = Field(description="Tool spindle.")
    times: Times = Field(description="Times.")
    capability: Capability = Field(description="Errors that the machine makes.")
    gear_methods: tuple[
        Literal["hobbing", "power skiving", "disc milling", "end-mill milling", "shaping", "broaching"], ...
    ] = Field(description="Gear-cutting methods that the machine has.")
    gear_machining_mass: Mass | None = Field(
        default=None,
        description="Largest part mass for gear-synchronised work, if lower than the table load.",
    )
    pallets: int = Field(
        default=1,
        ge=1,
        le=20,
        description="Pallets: with 2 or more the next part is set up while one is cut; 1 for a fixed table.",
    )
    pallet_change: Duration = Field(
        default=parse("2 min", "time"), description="Exchange of two pallets, with 2 or more."
    )


class ClampingMeans(Record):
    """Something that holds the part on the table."""

    name: Name = Field(description="Name of the means.")
    hold: Literal["outside jaws", "inside jaws", "bolts", "face plate"] = Field(description="How it holds.")
    diameter_from: PositiveLength = Field(description="Smallest diameter that it holds.")
    diameter_to: PositiveLength = Field(description="Largest diameter that it holds.")
    actuation: Literal["manual", "hydraulic"] = Field(
        default="manual", description="How it is tightened: by hand, or hydraulically and by program."
    )
    count: int = Field(default=4, ge=2, le=36, description="Number of jaws or bolts.")
    height: PositiveLength = Field(
        default=parse("60 mm", "length"), description="Height of the jaws above their seat."
    )
    soft: bool = Field(default=False, description="Soft jaws or pads, fit for finished surfaces.")
    force: Force = Field(description="Clamping force, all jaws together.")
    finishing_force: Force | None = Field(default=None, description="Lower force for finishing.")
    jaw_moment: MomentOfMass = Field(
        default=parse("0 kg m", "moment of mass"),
        description="Sum of jaw mass times radius, for the force at speed.",
    )
    mass: Mass = Field(description="Mass of the means on the table.")
    reclamping: NotNegativeLength | None = Field(
        default=None,
        description="Eccentricity that stays after clamping and indicating with it; that of the machine's "
        "capability if left out.",
    )
    reclamping_tilt: NotNegativeLength | None = Field(
        default=None,
        description="Face wobble that stays over one metre; that of the machine's capability if left out.",
    )
    release_distortion: NotNegativeLength | None = Field(
        default=None,
        description="How far a diameter of one metre springs when it lets go at full force; 20 um for jaws "
        "and 4 um for bolts and face plates if left out.",
    )
    depth: NotNegativeLength = Field(
        default=parse("0 mm", "length"),
        description="How far outside jaws stand out beyond the diameter that they grip, for the swing; "
        "not checked if left out.",
    )
    risers: tuple[PositiveLength, ...] = Field(default=(), description="Riser heights that exist for it.")
    price: float = Field(
        default=0.0,
        ge=0.0,
        le=1e9,
        description="Price if it must be bought or made for a new part; 0 if it is there.",
    )
