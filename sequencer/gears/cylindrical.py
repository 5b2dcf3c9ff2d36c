"""A cylindrical gear: external or internal, spur or helical; each half of a double-helical gear is one."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import cos, inf, pi, radians
from typing import Final, Literal

from sequencer.errors import OutOfRange
from sequencer.gears import diameters, rack, thickness
from sequencer.gears._ranges import check_count, check_range
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
        self._check_values()
        self._check_hand()
        self._check_rack()
        self._check_diameters()
        self._check_teeth_exist()

    def __str__(self) -> str:
        kind = "internal" if self.internal else "external"
        form = "helical" if self.helix_angle else "spur"
        return f"{kind} {form} gear z {self.teeth} mn {self.normal_module:g}"

    def _check_values(self) -> None:
        where = "cylindrical gear"
        check_count("number of teeth", self.teeth, 3, 2000, where=where)
        check_range("normal module", self.normal_module, 0.05, 100.0, unit="mm", where=where)
        where = f"gear z {self.teeth} mn {self.normal_module:g}"
        check_range("face width", self.face_width, 0.0, inf, unit="mm", where=where, open_low=True)
        check_range("pressure angle", self.pressure_angle, 10.0, 45.0, unit="deg", where=where)
        check_range(
            "helix angle",
            self.helix_angle,
            0.0,
            60.0,
            unit="deg",
            where=where,
            open_high=True,
            remedy="Give the angle without sign, its direction as hand",
        )
        check_range("profile shift factor", self.profile_shift, -5.0, 5.0, where=where)
        check_range("addendum factor", self.addendum_factor, 0.0, 5.0, where=where)
        check_range("dedendum factor", self.dedendum_factor, 0.0, 5.0, where=where)
        if self.root_fillet_factor is not None:
            check_range("root fillet factor", self.root_fillet_factor, 0.0, 5.0, where=where)

    def _check_hand(self) -> None:
        if self.hand not in (None, "right", "left"):
            raise OutOfRange(
                f"hand is {self.hand!r}",
                where=str(self),
                limit="right, left or none",
                remedy="Correct the hand",
            )
        if (self.hand is None) == bool(self.helix_angle):
            raise OutOfRange(
                f"helix angle {self.helix_angle:g} deg and hand {self.hand or 'none'} do not go together",
                where=str(self),
                limit="a helical gear has a hand, a spur gear has none",
                remedy="Give the hand as right or left for a helical gear",
            )

    def _check_rack(self) -> None:
        """Refuse proportions that no rack-shaped tool can have; an internal gear is not cut by a rack."""
        if self.internal:
            return
        land = rack.root_land_factor(self.pressure_angle, self.dedendum_factor)
        if land <= 0.0:
            deepest = rack.deepest_dedendum_factor(self.pressure_angle)
            raise OutOfRange(
                f"dedendum factor {self.dedendum_factor:g} makes the tool tooth pointed",
                where=str(self),
                limit=f"below {deepest:.4g} at {self.pressure_angle:g} deg",
                remedy="Use a smaller dedendum or pressure angle",
            )
        largest = rack.largest_root_fillet_factor(self.pressure_angle, self.dedendum_factor)
        if self.root_fillet_factor is not None and self.root_fillet_factor > largest * (1.0 + 1e-9):
            raise OutOfRange(
                f"root fillet factor {self.root_fillet_factor:g} does not fit between the flanks of the tool",
                where=str(self),
                limit=f"at most {largest:.4g}",
                remedy="Use a smaller fillet",
            )

    def _check_diameters(self) -> None:
        given = (("tip", self.given_tip_diameter), ("root", self.given_root_diameter))
        for name, value in given:
            if value is not None:
                check_range(f"{name} diameter", value, 0.0, inf, unit="mm", where=str(self), open_low=True)
        tip, root = self.tip_diameter, self.root_diameter
        inner, outer = (tip, root) if self.internal else (root, tip)
        names = ("tip", "root") if self.internal else ("root", "tip")
        if not 0.0 < inner < outer:
            raise OutOfRange(
                f"{names[0]} diameter {inner:.6g} mm, {names[1]} diameter {outer:.6g} mm",
                where=str(self),
                limit=f"the {names[0]} diameter is above 0 and below the {names[1]} diameter",
                remedy="Correct the diameters, the profile shift or the tooth proportions",
            )
        for name, value in given:
            self._check_side(name, value)

    def _check_side(self, name: str, value: Mm | None) -> None:
        """Refuse a drawing's diameter on the wrong side of the middle of the tooth."""
        if value is None:
            return
        middle = self.shifted_diameter
        outside = (name == "tip") != self.internal
        if (value > middle) != outside:
            raise OutOfRange(
                f"{name} diameter {value:.6g} mm",
                where=str(self),
                limit=f"{'above' if outside else 'below'} the shifted reference diameter {middle:.6g} mm",
                remedy=f"Correct the {name} diameter or the profile shift",
            )

    def _check_teeth_exist(self) -> None:
        tip, base = self.tip_diameter, self.base_diameter
        if tip < base:
            raise OutOfRange(
                f"tip diameter {tip:.6g} mm is inside the base circle",
                where=str(self),
                limit=f"at least the base diameter {base:.6g} mm",
                remedy="Use a smaller addendum, more profile shift or a larger tip diameter"
                if self.internal
                else "Use more profile shift or a larger tip diameter",
            )
        if self.tip_thickness <= 0.0:
            raise OutOfRange(
                f"tooth is pointed: tip thickness {self.tip_thickness:.4g} mm at tip diameter {tip:.6g} mm",
                where=str(self),
                limit="tip thickness above 0 mm",
                remedy="Use a smaller addendum or tip diameter, or less profile shift"
                if not self.internal
                else "Use a smaller addendum, a larger tip diameter or less profile shift",
            )
        if self.undercut and self.root_form_diameter >= tip:
            raise OutOfRange(
                f"undercut takes away the whole flank: it reaches diameter {self.root_form_diameter:.6g} mm",
                where=str(self),
                limit=f"below the tip diameter {tip:.6g} mm",
                remedy=f"Use a profile shift factor nearer to {self.least_profile_shift:.3f}",
            )
        if self.internal and self.space_width_at(self.root_diameter) <= 0.0:
            raise OutOfRange(
                f"space closes before the root diameter {self.root_diameter:.6g} mm",
                where=str(self),
                limit=f"space width {self.space_width_at(self.root_diameter):.4g} mm, must be above 0 mm",
                remedy="Use a smaller dedendum or less profile shift",
            )

    @property
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

    @property
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

    @property
    def base_pitch(self) -> Mm:
        """Normal base pitch [mm]."""
        return rack.base_pitch(self.normal_module, self.pressure_angle)

    @property
    def transverse_base_pitch(self) -> Mm:
        """Transverse base pitch [mm]."""
        return rack.transverse_base_pitch(self.normal_module, self.pressure_angle, self.helix_angle)

    @property
    def virtual_teeth(self) -> float:
        """Number of teeth of the virtual spur gear in the normal section [-]."""
        return diameters.virtual_teeth(self.teeth, self.helix_angle)

    @property
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

    @property
    def used_root_fillet_factor(self) -> float:
        """Fillet radius over module: as given, or 0.38, or less where the rack has no room for it [-]."""
        if self.root_fillet_factor is not None:
            return self.root_fillet_factor
        if self.internal:
            return USUAL_ROOT_FILLET_FACTOR
        largest = rack.largest_root_fillet_factor(self.pressure_angle, self.dedendum_factor)
        return min(USUAL_ROOT_FILLET_FACTOR, largest)

    @property
    def least_profile_shift(self) -> float:
        """Profile shift factor below which a rack-shaped tool undercuts this external gear [-]."""
        return thickness.least_profile_shift(
            self.teeth, self.pressure_angle, self.helix_angle, self._straight_dedendum_factor
        )

    @property
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

    @property
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
