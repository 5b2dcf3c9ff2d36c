"""The teeth that one cut makes: a gear, one helix of a double-helical gear, or a spline."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from sequencer.cutting import hobbing
from sequencer.gears.cylindrical import CylindricalGear
from sequencer.gears.tolerances import FlankTolerances, flank_tolerances
from sequencer.part.section import Half, Section
from sequencer.part.spline_teeth import spline_dimensions
from sequencer.part.teeth import cylindrical_gear
from sequencer.part.thickness import thickness_allowances
from sequencer.part.tolerances import FlankClass
from sequencer.part.toothed import DoubleHelicalGear, ExternalGear, Helix, InternalGear, Spline
from sequencer.units import Deg, Mm

CylindricalFeature = ExternalGear | InternalGear | DoubleHelicalGear | Spline


@dataclass(frozen=True)
class Teeth:
    """Teeth over one face width, with the geometry that the methods ask for.

    Parameters
    ----------
    feature
        The feature that they belong to.
    half
        "lower" or "upper" for one helix of a double-helical gear; else empty.
    gear
        Geometry of these teeth.
    z_from, z_to
        Ends on the axis [mm].
    """

    feature: CylindricalFeature
    half: str
    gear: CylindricalGear
    z_from: Mm
    z_to: Mm

    @property
    def words(self) -> str:
        """Words for a sentence, such as "lower half of wheel"."""
        return f"{self.half} half of {self.feature.name}" if self.half else self.feature.name

    @property
    def internal(self) -> bool:
        """Whether the teeth point inwards."""
        return self.gear.internal

    @property
    def module(self) -> Mm:
        """Normal module [mm]."""
        return self.gear.normal_module

    @property
    def teeth(self) -> int:
        """Number of teeth [-]."""
        return self.gear.teeth

    @property
    def helix_angle(self) -> Deg:
        """Helix angle without sign [deg]."""
        return self.gear.helix_angle

    @property
    def signed_helix(self) -> Deg:
        """Helix angle, right hand positive [deg]."""
        return self.gear.reference_helix

    @property
    def hand(self) -> str:
        """Hand of the teeth: "right", "left" or "spur"."""
        return self.gear.hand or "spur"

    @property
    def face_width(self) -> Mm:
        """Face width along the axis [mm]."""
        return self.z_to - self.z_from

    @property
    def depth(self) -> Mm:
        """Tooth depth [mm]."""
        return self.gear.tooth_depth

    @property
    def flank_class(self) -> FlankClass | None:
        """Class of flank tolerances, or None."""
        return self.feature.flank_class

    @property
    def tooth_metres(self) -> float:
        """Length of all teeth together [m]."""
        return self.teeth * self.face_width / (1000 * math.cos(math.radians(self.helix_angle)))

    @property
    def thinning(self) -> Mm:
        """Mean allowance by which the drawing makes the teeth thinner and so the gaps wider [mm]."""
        allowances = None if isinstance(self.feature, Spline) else thickness_allowances(self.feature)
        return 0.0 if allowances is None else -(allowances.upper + allowances.lower) / 2

    def gap_above_root(self, height: Mm) -> Mm:
        """Give the width of the gap at a height above its root, square to the tooth [mm].

        Source: derived

        Parameters
        ----------
        height
            Height above the root, towards the tip [mm].
        """
        gear = self.gear
        diameter = gear.root_diameter + (-2 if gear.internal else 2) * height
        diameter = max(diameter, gear.base_diameter)
        width = gear.space_width_at(diameter) * math.cos(math.radians(gear.helix_angle_at(diameter)))
        return width + self.thinning

    @cached_property
    def gap_at_root(self) -> Mm:
        """Width of the gap where it is narrowest, square to the tooth [mm]."""
        return self.gap_above_root(0.0)

    @property
    def gap_area(self) -> float:
        """Area of one gap square to the tooth, taken as a trapezium [mm2]."""
        return (self.gap_at_root + self.depth * math.tan(math.radians(self.gear.pressure_angle))) * self.depth

    @property
    def differential(self) -> float:
        """Turns of the table for each mm of axial feed, 0 for straight teeth [1/mm]."""
        return hobbing.differential_turns(self.module, self.teeth, self.signed_helix)

    @cached_property
    def tolerances(self) -> FlankTolerances | None:
        """Flank tolerances to the drawing's class, or None without a class."""
        given = self.flank_class
        if given is None or not 1 <= given.number <= 11:
            return None
        return flank_tolerances(
            given.standard,
            given.year,
            given.number,
            self.gear.reference_diameter,
            self.module,
            self.face_width,
            teeth=self.teeth,
            helix_angle=self.helix_angle,
        )


def teeth_of(section: Section, feature: CylindricalFeature) -> tuple[Teeth, ...]:
    """Give the teeth of a feature: one run, or the lower and the upper half of a double-helical gear.

    Source: derived

    Parameters
    ----------
    section
        Half-section of the part; its tip and root diameters count.
    feature
        Gear or spline.

    Raises
    ------
    OutOfRange
        When the teeth cannot exist.
    """
    if isinstance(feature, DoubleHelicalGear):
        halves: tuple[tuple[Half, Helix], ...] = (("lower", feature.lower), ("upper", feature.upper))
        return tuple(
            Teeth(feature, name, cylindrical_gear(feature, helix), float(helix.z_from), float(helix.z_to))
            for name, helix in halves
        )
    gear = _spline_gear(section, feature) if isinstance(feature, Spline) else cylindrical_gear(feature)
    return (Teeth(feature, "", gear, float(feature.z_from), float(feature.z_to)),)


def _spline_gear(section: Section, spline: Spline) -> CylindricalGear:
    """Give a spline to the formulas of gears; its tip and root are those of the section."""
    internal = spline.place == "inside"
    extent = section.extent(spline.name)
    tip, root = (extent.inner, extent.outer) if internal else (extent.outer, extent.inner)
    return CylindricalGear(
        normal_module=float(spline.module.millimetres),
        teeth=spline.teeth,
        face_width=spline.length,
        pressure_angle=float(spline.pressure_angle),
        profile_shift=spline_dimensions(spline).profile_shift,
        internal=internal,
        addendum_factor=0.45,
        dedendum_factor=0.55,
        given_tip_diameter=tip,
        given_root_diameter=root,
    )
