"""Features with teeth."""

from __future__ import annotations

from typing import Final, Literal, Self

from pydantic import Field, model_validator

from sequencer.part.feature import Feature, Place, Side, Zone
from sequencer.part.quantities import Angle, Length, ModuleField, PositiveLength, Record
from sequencer.part.tolerances import FlankClass, ThicknessClassField
from sequencer.units import parse

Hand = Literal["right", "left"]
_TWENTY = parse("20 deg", "angle")
_ZERO = parse(0, "angle")


class ToothSystem(Feature):
    """Base of cylindrical gears: what the gear data block of a drawing gives."""

    teeth: int = Field(ge=3, le=2000, description="Number of teeth.")
    module: ModuleField = Field(
        description='Normal module "8 mm", or diametral pitch: "DP 4", "NDP 4" (normal), "TDP 4".'
    )
    pressure_angle: Angle = Field(default=_TWENTY, description="Normal pressure angle of the basic rack.")
    profile_shift: float = Field(
        default=0.0,
        ge=-2.0,
        le=3.0,
        description="Profile shift coefficient x; above 0 makes both external and internal gears larger.",
    )
    addendum: float = Field(
        default=1.0, ge=0.1, le=2.0, description="Addendum of the basic rack, in modules."
    )
    dedendum: float = Field(
        default=1.25, ge=0.1, le=2.5, description="Dedendum of the basic rack, in modules."
    )
    tip_diameter: PositiveLength | None = Field(
        default=None, description="Tip diameter if the drawing gives one; else from the basic rack."
    )
    root_diameter: PositiveLength | None = Field(
        default=None, description="Root diameter if the drawing gives one; else from the basic rack."
    )
    thickness_upper: Length | None = Field(
        default=None, description="Upper allowance of the normal tooth thickness (0 or below)."
    )
    thickness_lower: Length | None = Field(
        default=None, description="Lower allowance of the normal tooth thickness (below the upper one)."
    )
    thickness_class: ThicknessClassField | None = Field(
        default=None,
        description='Tooth thickness by DIN 3967, series of tolerance and allowance: "27cd"; '
        "instead of the two allowances.",
    )
    backlash: PositiveLength | None = Field(
        default=None,
        description="Least backlash of the pair, by which the teeth are made thinner; instead of the above.",
    )
    backlash_kind: Literal["normal", "circumferential"] = Field(
        default="normal",
        description="How the backlash is meant: square to the flanks, or along the circumference "
        "(working pitch circle; without a mate the reference circle).",
    )
    backlash_system: Literal["ISO/TR 10064-2"] | None = Field(
        default=None,
        description="Least backlash that this report recommends for the centre distance; needs mate_teeth.",
    )
    backlash_share: float = Field(
        default=0.5, ge=0.0, le=1.0, description="Share of the backlash that this gear makes, 0 to 1."
    )
    thickness_tolerance: PositiveLength | None = Field(
        default=None, description="Width of the tolerance of the normal tooth thickness, with a backlash."
    )
    flank_class: FlankClass = Field(description="Class of flank tolerances with standard and year.")
    tooth_chamfer: PositiveLength | None = Field(
        default=None, description="Chamfer along the tooth ends; deburring only if left out."
    )
    hard_finish: bool | None = Field(
        default=None,
        description="Flanks are finished after hardening; by default yes if the part is case hardened.",
    )
    mate_teeth: int | None = Field(
        default=None,
        ge=3,
        le=2000,
        description="Number of teeth of the mating gear, which is external unless mate_internal says no.",
    )
    mate_internal: bool = Field(
        default=False, description="The mating gear is an internal gear around this external gear."
    )
    mate_shift: float | None = Field(
        default=None,
        ge=-2.0,
        le=3.0,
        description="Profile shift coefficient of the mating gear; else from centre_distance, or 0.",
    )
    centre_distance: PositiveLength | None = Field(
        default=None,
        description="Centre distance to the mating gear; else from the profile shifts, without backlash.",
    )

    mate_tip_diameter: PositiveLength | None = Field(
        default=None, description="Tip diameter of the mating gear; else from the basic rack of this gear."
    )

    @model_validator(mode="after")
    def _mate_is_known(self) -> Self:
        keys = ("mate_shift", "centre_distance", "mate_internal", "mate_tip_diameter", "backlash_system")
        for key in keys:
            if getattr(self, key) not in (None, False) and self.mate_teeth is None:
                msg = f"{key} is given without mate_teeth; give the number of teeth of the mating gear too"
                raise ValueError(msg)
        return self

    @model_validator(mode="after")
    def _one_way_to_the_thickness(self) -> Self:
        ways = [
            key
            for key in ("thickness_upper", "thickness_class", "backlash", "backlash_system")
            if getattr(self, key) is not None
        ]
        if len(ways) > 1:
            msg = f"{' and '.join(ways)} both give the tooth thickness; leave one of them out"
            raise ValueError(msg)
        by_backlash = bool(ways) and ways[0].startswith("backlash")
        if by_backlash != (self.thickness_tolerance is not None):
            msg = "backlash (or backlash_system) and thickness_tolerance are given together or not at all"
            raise ValueError(msg)
        for key in ("backlash_kind", "backlash_share"):
            if key in self.model_fields_set and not by_backlash:
                msg = f"{key} is given without a backlash; give backlash or backlash_system, or leave it out"
                raise ValueError(msg)
        return self

    @model_validator(mode="after")
    def _allowances_in_order(self) -> Self:
        upper, lower = self.thickness_upper, self.thickness_lower
        if (upper is None) != (lower is None):
            msg = "thickness_upper and thickness_lower are given together or not at all"
            raise ValueError(msg)
        if upper is not None and lower is not None and not lower < upper <= 0:
            msg = f"thickness_upper {upper} and thickness_lower {lower} must hold lower < upper <= 0"
            raise ValueError(msg)
        return self

    @model_validator(mode="after")
    def _pressure_angle_in_range(self) -> Self:
        if not 10 <= self.pressure_angle <= 35:
            msg = f"pressure_angle {self.pressure_angle} must be between 10 deg and 35 deg"
            raise ValueError(msg)
        return self


def _check_helix(helix_angle: float, hand: str | None, module_system: str, module_text: str) -> None:
    if not 0 <= helix_angle <= 45:
        msg = (
            f"helix_angle {helix_angle:g} deg must be between 0 deg and 45 deg; the hand is a key of its own"
        )
        raise ValueError(msg)
    if helix_angle > 0 and hand is None:
        msg = "hand is missing: a helical gear is right or left hand"
        raise ValueError(msg)
    if helix_angle == 0 and hand is not None:
        msg = f"hand {hand}: a spur gear has no hand; give a helix_angle above 0 deg or leave hand out"
        raise ValueError(msg)
    if helix_angle > 0 and module_system == "either":
        msg = (
            f'module {module_text!r} does not say in which section; write "N{module_text}" (normal) '
            f'or "T{module_text}" (transverse) for a helical gear'
        )
        raise ValueError(msg)


class CylindricalTeeth(ToothSystem, Zone):
    """One tooth system over one face width."""

    helix_angle: Angle = Field(
        default=_ZERO, description="Helix angle at the reference circle; 0 for a spur gear."
    )
    hand: Hand | None = Field(default=None, description="Hand of the helix; not given for a spur gear.")

    @model_validator(mode="after")
    def _helix(self) -> Self:
        _check_helix(self.helix_angle, self.hand, self.module.system, self.module.text)
        return self


class ExternalGear(CylindricalTeeth):
    """An external spur or helical gear."""

    kind: Literal["external_gear"]


class InternalGear(CylindricalTeeth):
    """An internal spur or helical gear."""

    kind: Literal["internal_gear"]

    @model_validator(mode="after")
    def _mate_is_external(self) -> Self:
        if self.mate_internal:
            msg = "mate_internal: the mating gear of an internal gear is external; leave mate_internal out"
            raise ValueError(msg)
        return self


class Helix(Record):
    """One half of a double-helical gear."""

    z_from: Length = Field(description="Lower end of this half.")
    z_to: Length = Field(description="Upper end of this half.")
    hand: Hand = Field(description="Hand of this half; the halves have opposite hands.")

    @model_validator(mode="after")
    def _ends_in_order(self) -> Self:
        if not self.z_from < self.z_to:
            msg = f"z_from {self.z_from} must be below z_to {self.z_to}; z runs up the axis"
            raise ValueError(msg)
        return self

    @property
    def length(self) -> float:
        """Face width of this half [mm]."""
        return self.z_to - self.z_from


class DoubleHelicalGear(ToothSystem):
    """A gear of two helices with one apex; the gap between them is a feature of kind apex_groove."""

    kind: Literal["double_helical_gear"]
    helix_angle: Angle = Field(description="Helix angle at the reference circle.")
    lower: Helix = Field(description="Lower half.")
    upper: Helix = Field(description="Upper half.")
    apex_tolerance: PositiveLength = Field(
        description="Allowed shift of the apex along the axis from the middle of the gap."
    )

    @model_validator(mode="after")
    def _halves_fit(self) -> Self:
        if float(self.helix_angle) == 0:
            msg = "helix_angle 0 deg: a double-helical gear has a helix angle above 0 deg"
            raise ValueError(msg)
        _check_helix(self.helix_angle, self.lower.hand, self.module.system, self.module.text)
        if self.lower.hand == self.upper.hand:
            msg = f"both halves are {self.lower.hand} hand; a double-helical gear has opposite hands"
            raise ValueError(msg)
        if not self.lower.z_to < self.upper.z_from:
            msg = (
                f"the lower half ends at {self.lower.z_to}, the upper begins at {self.upper.z_from}; "
                "the cutter needs a gap between them"
            )
            raise ValueError(msg)
        return self

    @property
    def z_from(self) -> float:
        """Lower end of the lower half [mm]."""
        return float(self.lower.z_from)

    @property
    def z_to(self) -> float:
        """Upper end of the upper half [mm]."""
        return float(self.upper.z_to)

    @property
    def length(self) -> float:
        """Length over both halves and the gap [mm]."""
        return self.z_to - self.z_from


#: Roots of ISO 4156 and ANSI B92.1, and of DIN 5480.
_ROOTS: Final = ("flat", "fillet", "flat major")
_ROOTS_DIN: Final = ("broached", "hobbed", "shaped", "rolled")


class Spline(Zone):
    """An involute spline, outside or inside."""

    kind: Literal["spline"]
    place: Place = Field(description="Outside or inside.")
    standard: Literal["DIN 5480", "ISO 4156", "ANSI B92.1"] = Field(description="Standard of the tooth form.")
    teeth: int = Field(ge=6, le=200, description="Number of teeth.")
    module: ModuleField = Field(description='Module "4 mm", or spline pitch "DP 8".')
    pressure_angle: Angle = Field(
        default=parse("30 deg", "angle"), description="Pressure angle: 30, 37.5 or 45 deg."
    )
    reference_diameter: PositiveLength | None = Field(
        default=None, description="Reference diameter dB; needed by DIN 5480."
    )
    root: Literal["flat", "fillet", "flat major", "broached", "hobbed", "shaped", "rolled"] | None = Field(
        default=None,
        description="Root of ISO 4156 and ANSI B92.1: flat (usual at 30 deg), fillet (the only one at "
        "37.5 and 45 deg), or flat major (major diameter fit of ANSI B92.1). Of DIN 5480, by the way of "
        "making: broached (dedendum 0.55 modules), hobbed (0.60), shaped (0.65) or rolled (0.84); usual "
        "by the method, else broached inside and hobbed outside.",
    )
    tolerance_class: str = Field(
        default="", max_length=10, description='Tolerance class and fit, such as "9H".'
    )
    size_deviation: Length | None = Field(
        default=None,
        description="Deviation of the effective space width (hub) or tooth thickness (shaft) from the basic "
        "size, by the table of the standard: Ae, As of DIN 5480, es of ANSI B92.1; 0 for H and h.",
    )
    actual_tolerance: PositiveLength | None = Field(
        default=None,
        description="Tolerance of the actual size by the table of the standard: Tact of DIN 5480, machining "
        "tolerance of ANSI B92.1.",
    )
    effective_tolerance: PositiveLength | None = Field(
        default=None,
        description="Share of pitch, profile and lead deviations by the table of the standard: Teff of "
        "DIN 5480, variation allowance of ANSI B92.1.",
    )
    flank_class: FlankClass | None = Field(
        default=None, description="Class of flank tolerances, if the drawing gives one."
    )
    hard_finish: bool | None = Field(default=None, description="Flanks are finished after hardening.")

    @model_validator(mode="after")
    def _complete(self) -> Self:
        if float(self.pressure_angle) not in (30.0, 37.5, 45.0):
            msg = f"pressure_angle {self.pressure_angle} must be 30, 37.5 or 45 deg"
            raise ValueError(msg)
        if self.standard == "DIN 5480" and self.reference_diameter is None:
            msg = "reference_diameter is missing; DIN 5480 names a spline by it"
            raise ValueError(msg)
        known = _ROOTS_DIN if self.standard == "DIN 5480" else _ROOTS
        if self.root is not None and self.root not in known:
            msg = f"root {self.root}: {self.standard} has {', '.join(known)}; name one or leave root out"
            raise ValueError(msg)
        return self

    @model_validator(mode="after")
    def _tolerances_together(self) -> Self:
        if (self.actual_tolerance is None) != (self.effective_tolerance is None):
            msg = "actual_tolerance and effective_tolerance are given together or not at all"
            raise ValueError(msg)
        if self.size_deviation is not None and self.actual_tolerance is None:
            msg = "size_deviation is given without actual_tolerance and effective_tolerance; give them too"
            raise ValueError(msg)
        return self


class BevelGear(Zone):
    """A straight or spiral bevel gear; z_from and z_to enclose its teeth."""

    kind: Literal["bevel_gear"]
    form: Literal["straight", "spiral"] = Field(default="straight", description="Straight or spiral teeth.")
    apex: Side = Field(description="Which way the cone apex lies: the teeth are reached from that side.")
    teeth: int = Field(ge=5, le=200, description="Number of teeth.")
    module: ModuleField = Field(description="Outer transverse module.")
    mate_teeth: int = Field(ge=5, le=300, description="Number of teeth of the mating gear.")
    shaft_angle: Angle = Field(default=parse("90 deg", "angle"), description="Angle between the two axes.")
    pressure_angle: Angle = Field(default=_TWENTY, description="Normal pressure angle.")
    spiral_angle: Angle = Field(default=_ZERO, description="Mean spiral angle; 0 for straight teeth.")
    hand: Hand | None = Field(default=None, description="Hand of the spiral; not given for straight teeth.")
    proportions: Literal["equal addendum", "unequal addendum"] | None = Field(
        default=None,
        description="Tooth heights of straight teeth: equal addenda of 1 module (usual), or unequal addenda "
        "by the ratio with a depth of 2.188 modules and tip cones parallel to the root cones of the mate.",
    )
    face_width: PositiveLength = Field(description="Face width along the cone.")
    mounting_distance: PositiveLength = Field(description="From the mounting face to the cone apex.")
    mounting_face: str = Field(description="Face that the mounting distance is counted from.")
    flank_class: FlankClass | None = Field(default=None, description="Class of flank tolerances.")
    hard_finish: bool | None = Field(default=None, description="Flanks are finished after hardening.")

    @model_validator(mode="after")
    def _spiral(self) -> Self:
        if self.form == "spiral" and (float(self.spiral_angle) == 0 or self.hand is None):
            msg = "a spiral bevel gear needs spiral_angle and hand"
            raise ValueError(msg)
        if self.form == "straight" and float(self.spiral_angle) != 0:
            msg = f"spiral_angle {self.spiral_angle}: a straight bevel gear has none; set form to spiral"
            raise ValueError(msg)
        if self.form == "spiral" and self.proportions is not None:
            msg = f"proportions {self.proportions}: a key of straight teeth; leave it out for spiral teeth"
            raise ValueError(msg)
        return self
