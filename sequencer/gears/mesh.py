"""A cylindrical gear with the mate that its drawing names: centre distance, angle, contact, interference."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import radians, tan

from sequencer.errors import OutOfRange
from sequencer.gears import interference, pair
from sequencer.gears._ranges import check_count
from sequencer.gears.cylindrical import CylindricalGear, Hand
from sequencer.units import Deg, Mm


def arc_between_helices(apex_shift: Mm, helix_angle: Deg) -> Mm:
    """Give the arc on the reference circle between the halves of a double-helical gear that shifts its apex.

    Source: derived (two lines of opposite slope that cross at the apex)

    s = 2 e tan b

    Parameters
    ----------
    apex_shift
        Shift of the apex along the axis [mm].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    return 2.0 * apex_shift * tan(radians(helix_angle))


@dataclass(frozen=True, kw_only=True)
class GearMesh:
    """A gear and its mate; gear 1 is the pinion of an internal gear, else the gear of the drawing.

    The mate has the same basic rack. An internal gear meshes with an external pinion; an external gear with
    an external mate, or as the pinion with an internal one.

    Parameters
    ----------
    gear
        The gear of the drawing.
    mate_teeth
        Number of teeth of its mate [-].
    given_mate_shift
        Profile shift factor of the mate; None to follow from the centre distance, else 0 [-].
    given_centre_distance
        Working centre distance; None to follow from the profile shifts without backlash [mm].
    mate_internal
        Whether the mate is an internal gear around this external gear.
    given_mate_tip_diameter
        Tip diameter of the mate; None to follow from the basic rack [mm].

    Raises
    ------
    OutOfRange
        When the pair cannot mesh.
    """

    gear: CylindricalGear
    mate_teeth: int
    given_mate_shift: float | None = None
    given_centre_distance: Mm | None = None
    mate_internal: bool = False
    given_mate_tip_diameter: Mm | None = None

    def __post_init__(self) -> None:
        check_count("number of teeth of the mate", self.mate_teeth, 3, 2000, where=str(self.gear))
        if self.mate_internal and self.gear.internal:
            raise OutOfRange(
                "both gears of the pair are internal",
                where=str(self.gear),
                limit="one internal gear in a pair",
                remedy="Correct the mate",
            )
        if self.mate_internal and self.mate_teeth <= self.gear.teeth:
            raise OutOfRange(
                f"number of teeth of the mate is {self.mate_teeth}",
                where=str(self.gear),
                limit=f"above the {self.gear.teeth} teeth of this gear, which runs inside it",
                remedy="Correct the teeth of the mate",
            )
        if self.gear.internal and self.mate_teeth >= self.gear.teeth:
            raise OutOfRange(
                f"number of teeth of the mate is {self.mate_teeth}",
                where=str(self.gear),
                limit=f"below the {self.gear.teeth} teeth of the internal gear",
                remedy="Correct the teeth of the mate",
            )
        _ = self.working_pressure_angle

    @property
    def internal(self) -> bool:
        """Whether it is an internal gear and its pinion."""
        return self.gear.internal or self.mate_internal

    @property
    def gear_is_second(self) -> bool:
        """Whether the gear of the drawing is the internal one, which counts as gear 2."""
        return self.gear.internal

    @property
    def teeth(self) -> tuple[int, int]:
        """Numbers of teeth of gears 1 and 2 [-]."""
        own, mate = self.gear.teeth, self.mate_teeth
        return (mate, own) if self.gear_is_second else (own, mate)

    @cached_property
    def reference_centre_distance(self) -> Mm:
        """Centre distance without profile shift [mm]."""
        gear = self.gear
        return pair.reference_centre_distance(
            gear.normal_module, *self.teeth, gear.helix_angle, internal=self.internal
        )

    @cached_property
    def working_pressure_angle(self) -> Deg:
        """Transverse working pressure angle [deg]."""
        gear = self.gear
        if self.given_centre_distance is not None:
            return pair.working_pressure_angle_from_centre_distance(
                self.reference_centre_distance, gear.transverse_pressure_angle, self.given_centre_distance
            )
        own, mate = gear.profile_shift, self.given_mate_shift or 0.0
        shifts = (mate, own) if self.gear_is_second else (own, mate)
        return pair.working_pressure_angle(
            *self.teeth, *shifts, gear.pressure_angle, gear.helix_angle, internal=self.internal
        )

    @cached_property
    def centre_distance(self) -> Mm:
        """Working centre distance [mm]."""
        if self.given_centre_distance is not None:
            return self.given_centre_distance
        return pair.working_centre_distance(
            self.reference_centre_distance, self.gear.transverse_pressure_angle, self.working_pressure_angle
        )

    @cached_property
    def shift_sum(self) -> float:
        """Sum of the profile shifts (internal: gear less pinion) that leaves no backlash [-]."""
        gear = self.gear
        return pair.profile_shift_sum(
            *self.teeth,
            self.working_pressure_angle,
            gear.pressure_angle,
            gear.helix_angle,
            internal=self.internal,
        )

    @cached_property
    def mate_shift(self) -> float:
        """Profile shift factor of the mate: given, or what leaves no backlash, or 0 [-]."""
        if self.given_mate_shift is not None:
            return self.given_mate_shift
        if self.given_centre_distance is None:
            return 0.0
        own = self.gear.profile_shift
        if self.mate_internal:
            return own + self.shift_sum
        return own - self.shift_sum if self.internal else self.shift_sum - own

    @property
    def spare_shift(self) -> float:
        """By how much the shifts fall short of the sum that leaves no backlash; below 0 the teeth jam [-]."""
        own, mate = self.gear.profile_shift, self.mate_shift
        if self.mate_internal:
            return mate - own - self.shift_sum
        return own - mate - self.shift_sum if self.internal else self.shift_sum - own - mate

    @cached_property
    def mate(self) -> CylindricalGear:
        """The mate, with the same basic rack and face width and no tip shortening."""
        gear = self.gear
        other: dict[Hand, Hand] = {"right": "left", "left": "right"}
        hand = gear.hand if gear.hand is None or self.internal else other[gear.hand]
        return CylindricalGear(
            normal_module=gear.normal_module,
            teeth=self.mate_teeth,
            face_width=gear.face_width,
            pressure_angle=gear.pressure_angle,
            helix_angle=gear.helix_angle,
            hand=hand,
            profile_shift=self.mate_shift,
            internal=self.mate_internal,
            given_tip_diameter=self.given_mate_tip_diameter,
            addendum_factor=gear.addendum_factor,
            dedendum_factor=gear.dedendum_factor,
            root_fillet_factor=gear.root_fillet_factor,
        )

    @cached_property
    def gears(self) -> tuple[CylindricalGear, CylindricalGear]:
        """Gears 1 and 2."""
        return (self.mate, self.gear) if self.gear_is_second else (self.gear, self.mate)

    @cached_property
    def working_pitch_diameters(self) -> tuple[Mm, Mm]:
        """Working pitch diameters of gears 1 and 2 [mm]."""
        first, second = self.gears
        angle = self.working_pressure_angle
        return (
            pair.working_pitch_diameter(first.base_diameter, angle),
            pair.working_pitch_diameter(second.base_diameter, angle),
        )

    @cached_property
    def transverse_contact_ratio(self) -> float:
        """Transverse contact ratio with full flanks [-]."""
        first, second = self.gears
        return pair.transverse_contact_ratio(
            first.tip_diameter,
            first.base_diameter,
            second.tip_diameter,
            second.base_diameter,
            self.centre_distance,
            self.working_pressure_angle,
            self.gear.transverse_base_pitch,
            internal=self.internal,
        )

    @property
    def overlap_ratio(self) -> float:
        """Overlap ratio over the face width of this gear [-]."""
        gear = self.gear
        return pair.overlap_ratio(gear.face_width, gear.helix_angle, gear.normal_module)

    @cached_property
    def tip_clearances(self) -> tuple[Mm, Mm]:
        """Gap at the tip of gear 1 and at the tip of gear 2 [mm]."""
        (first, second), distance = self.gears, self.centre_distance
        if self.internal:
            return (
                interference.tip_clearance(distance, first.tip_diameter, second.root_diameter, internal=True),
                interference.tip_clearance(distance, first.root_diameter, second.tip_diameter, internal=True),
            )
        return (
            interference.tip_clearance(distance, first.tip_diameter, second.root_diameter),
            interference.tip_clearance(distance, second.tip_diameter, first.root_diameter),
        )

    @cached_property
    def roll_lengths(self) -> tuple[Mm, Mm]:
        """Tangent lengths at which the tips meet the flanks of gears 1 and 2; below 0 they interfere [mm]."""
        first, second = self.gears
        distance, angle = self.centre_distance, self.working_pressure_angle
        return (
            interference.roll_length_at_mating_tip(
                second.tip_diameter, second.base_diameter, distance, angle, mate_internal=self.internal
            ),
            interference.roll_length_at_mating_tip(
                first.tip_diameter, first.base_diameter, distance, angle, internal=self.internal
            ),
        )
