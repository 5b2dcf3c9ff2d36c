"""A cylindrical gear: external or internal, spur or helical; each half of a double-helical gear is one."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import cos, pi, radians
from typing import Final, Literal

from sequencer.gears import diameters, rack, thickness
from sequencer.gears._gear_checks import (
    check_diameters,
    check_hand,
    check_rack,
    check_teeth_exist,
    check_values,
)
from sequencer.gears.involute import involute, pressure_angle_at_diameter
from sequencer.gears.undercut import undercut_form_factor
from sequencer.units import Deg, Mm

Hand = Literal["right", "left"]

#: Fillet of ISO 53 profile A, taken when the drawing gives none and the rack has room for it.
USUAL_ROOT_FILLET_FACTOR: Final = 0.38


@dataclass(frozen=True, kw_only=True)
class CylindricalGear:
    """The teeth that one gear drawing block describes.

    For an internal gear teeth and diameters count positive, and a positive profile shift enlarges the gear.
    ISO 21771 counts teeth and diameters of an internal gear negative instead; its profile shift factor is
    then the negative of the one used here.

    Parameters
    ----------
    normal_module
        Normal module, 0.05 to 100 [mm].
    teeth
        Number of teeth, 3 to 2000 [-].
    face_width
        Face width of these teeth; of one half if double-helical [mm].
    pressure_angle
        Normal pressure angle, 10 to 45 [deg].
    helix_angle
        Helix angle at the reference circle, 0 to below 60 [deg].
    hand
        Hand of the helix, "right" or "left"; None for a spur gear.
    profile_shift
        Profile shift factor, -5 to 5; positive enlarges external and internal gears [-].
    internal
        Whether the teeth point inwards.
    addendum_factor
        Addendum over module [-].
    dedendum_factor
        Dedendum over module [-].
    root_fillet_factor
        Fillet radius over module; None for 0.38 or, if less, the largest that fits the rack [-].
    given_tip_diameter
        Tip diameter from the drawing; None to follow from the factors [mm].
    given_root_diameter
        Root diameter from the drawing; None to follow from the factors [mm].

    Raises
    ------
    OutOfRange
        When a value is outside its range or the teeth cannot exist.
    """

    normal_module: Mm
    teeth: int
    face_width: Mm
    pressure_angle: Deg = 20.0
    helix_angle: Deg = 0.0
    hand: Hand | None = None
    profile_shift: float = 0.0
    internal: bool = False
    addendum_factor: float = 1.0
    dedendum_factor: float = 1.25
    root_fillet_factor: float | None = None
    given_tip_diameter: Mm | None = None
    given_root_diameter: Mm | None = None

    def __post_init__(self) -> None:
        check_values(self)
        check_hand(self)
        check_rack(self)
        check_diameters(self)
        check_teeth_exist(self)

    def __str__(self) -> str:
        kind = "internal" if self.internal else "external"
        form = "helical" if self.helix_angle else "spur"
        return f"{kind} {form} gear z {self.teeth} mn {self.normal_module:g}"

    @cached_property
    def transverse_module(self) -> Mm:
        """Transverse module [mm]."""
        return rack.transverse_module(self.normal_module, self.helix_angle)

    @cached_property
    def transverse_pressure_angle(self) -> Deg:
        """Transverse pressure angle [deg]."""
        return rack.transverse_pressure_angle(self.pressure_angle, self.helix_angle)

    @cached_property
    def reference_diameter(self) -> Mm:
        """Reference diameter [mm]."""
        return diameters.reference_diameter(self.normal_module, self.teeth, self.helix_angle)

    @cached_property
    def base_diameter(self) -> Mm:
        """Base diameter [mm]."""
        return diameters.base_diameter(self.reference_diameter, self.transverse_pressure_angle)

    @cached_property
    def shifted_diameter(self) -> Mm:
        """Diameter on which the datum line of the shifted rack lies [mm]."""
        return diameters.shifted_diameter(self.reference_diameter, self.normal_module, self.profile_shift)

    @cached_property
    def tip_diameter(self) -> Mm:
        """Tip diameter, of the drawing if given [mm]."""
        if self.given_tip_diameter is not None:
            return self.given_tip_diameter
        return diameters.tip_diameter(
            self.reference_diameter,
            self.normal_module,
            self.profile_shift,
            self.addendum_factor,
            internal=self.internal,
        )

    @cached_property
    def root_diameter(self) -> Mm:
        """Root diameter, of the drawing if given [mm]."""
        if self.given_root_diameter is not None:
            return self.given_root_diameter
        return diameters.root_diameter(
            self.reference_diameter,
            self.normal_module,
            self.profile_shift,
            self.dedendum_factor,
            internal=self.internal,
        )

    @property
    def addendum(self) -> Mm:
        """Height of the tip over the reference circle, towards the tip [mm]."""
        height = (self.tip_diameter - self.reference_diameter) / 2.0
        return -height if self.internal else height

    @property
    def tooth_depth(self) -> Mm:
        """Radial distance from tip to root [mm]."""
        return abs(self.tip_diameter - self.root_diameter) / 2.0

    @property
    def outside_diameter(self) -> Mm:
        """Larger of tip and root diameter [mm]."""
        return max(self.tip_diameter, self.root_diameter)

    @property
    def reference_helix(self) -> Deg:
        """Helix angle at the reference circle with sign: right hand positive, left hand negative [deg]."""
        return -self.helix_angle if self.hand == "left" else self.helix_angle

    @cached_property
    def base_helix_angle(self) -> Deg:
        """Helix angle on the base cylinder, without sign [deg]."""
        return diameters.base_helix_angle(self.helix_angle, self.pressure_angle)

    @property
    def lead(self) -> Mm:
        """Axial length of one turn of a tooth; endless (inf) for a spur gear [mm]."""
        return diameters.lead(self.normal_module, self.teeth, self.helix_angle)

    @cached_property
    def base_pitch(self) -> Mm:
        """Normal base pitch [mm]."""
        return rack.base_pitch(self.normal_module, self.pressure_angle)

    @cached_property
    def transverse_base_pitch(self) -> Mm:
        """Transverse base pitch [mm]."""
        return rack.transverse_base_pitch(self.normal_module, self.pressure_angle, self.helix_angle)

    @property
    def virtual_teeth(self) -> float:
        """Number of teeth of the virtual spur gear in the normal section [-]."""
        return diameters.virtual_teeth(self.teeth, self.helix_angle)

    @cached_property
    def normal_tooth_thickness(self) -> Mm:
        """Arc thickness on the reference circle in the normal section, without allowance [mm]."""
        return thickness.normal_tooth_thickness(
            self.normal_module, self.profile_shift, self.pressure_angle, internal=self.internal
        )

    @cached_property
    def tip_thickness(self) -> Mm:
        """Arc thickness at the tip in the normal section [mm]."""
        angle = diameters.helix_angle_at_diameter(
            self.helix_angle, self.reference_diameter, self.tip_diameter
        )
        return self.tooth_thickness_at(self.tip_diameter) * cos(radians(angle))

    @cached_property
    def used_root_fillet_factor(self) -> float:
        """Fillet radius over module: as given, or 0.38, or less where the rack has no room for it [-]."""
        if self.root_fillet_factor is not None:
            return self.root_fillet_factor
        if self.internal:
            return USUAL_ROOT_FILLET_FACTOR
        largest = rack.largest_root_fillet_factor(self.pressure_angle, self.dedendum_factor)
        return min(USUAL_ROOT_FILLET_FACTOR, largest)

    @cached_property
    def least_profile_shift(self) -> float:
        """Profile shift factor below which a rack-shaped tool undercuts this external gear [-]."""
        return thickness.least_profile_shift(
            self.teeth, self.pressure_angle, self.helix_angle, self._straight_dedendum_factor
        )

    @cached_property
    def undercut(self) -> bool:
        """Whether a rack-shaped tool undercuts the teeth; never for an internal gear."""
        return not self.internal and self.profile_shift < self.least_profile_shift - 1e-12

    @cached_property
    def root_form_diameter(self) -> Mm:
        """Diameter where the involute begins at the root; estimated by the fillet if internal [mm]."""
        if self.internal:
            fillet = self.dedendum_factor - self._straight_dedendum_factor
            return max(self.root_diameter - 2.0 * fillet * self.normal_module, self.shifted_diameter)
        return max(self.root_diameter, self._generated_form_diameter())

    def _generated_form_diameter(self) -> Mm:
        if self.undercut:
            return self.normal_module * undercut_form_factor(
                self.teeth,
                self.profile_shift,
                self.dedendum_factor,
                self.used_root_fillet_factor,
                self.pressure_angle,
                self.helix_angle,
            )
        return diameters.root_form_diameter(
            self.base_diameter,
            self.reference_diameter,
            self.transverse_pressure_angle,
            self.normal_module,
            self.profile_shift,
            self._straight_dedendum_factor,
        )

    @cached_property
    def _straight_dedendum_factor(self) -> float:
        return rack.straight_dedendum_factor(
            self.pressure_angle, self.dedendum_factor, self.used_root_fillet_factor
        )

    def tooth_thickness_at(self, diameter: Mm) -> Mm:
        """Give the arc thickness of a tooth in the transverse section at a diameter.

        Parameters
        ----------
        diameter
            Diameter at which the thickness is wanted [mm].

        Raises
        ------
        OutOfRange
            When the diameter is below the base diameter.
        """
        share = self.normal_tooth_thickness / (self.teeth * self.normal_module)
        change = self._involute_at_reference - involute(
            pressure_angle_at_diameter(diameter, self.base_diameter)
        )
        return diameter * (share + (-change if self.internal else change))

    def space_width_at(self, diameter: Mm) -> Mm:
        """Give the arc width of a space in the transverse section at a diameter.

        Parameters
        ----------
        diameter
            Diameter at which the width is wanted [mm].

        Raises
        ------
        OutOfRange
            When the diameter is below the base diameter.
        """
        return pi * diameter / self.teeth - self.tooth_thickness_at(diameter)

    def helix_angle_at(self, diameter: Mm) -> Deg:
        """Give the helix angle on a cylinder, without sign.

        Parameters
        ----------
        diameter
            Diameter of the cylinder [mm].
        """
        return diameters.helix_angle_at_diameter(self.helix_angle, self.reference_diameter, diameter)

    @cached_property
    def _involute_at_reference(self) -> float:
        return involute(self.transverse_pressure_angle)
