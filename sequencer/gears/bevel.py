"""Bevel gears: cones, heights and blank of straight bevel gears, blank of spiral bevel gears."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import cos, radians, sin
from typing import Literal

from sequencer.errors import OutOfRange
from sequencer.gears._ranges import check_count, check_range
from sequencer.gears.bevel_cones import (
    PROPORTIONS,
    cone_depth_angle,
    crown_to_back,
    equivalent_ratio,
    inner_cone_distance,
    largest_bevel_face_width,
    mean_cone_distance,
    mean_normal_module,
    mean_pitch_diameter,
    outer_cone_distance,
    pitch_cone_angle,
    virtual_bevel_teeth,
    virtual_pitch_diameter,
    wheel_addendum,
)
from sequencer.units import Deg, Mm

BevelSystem = Literal["equal addendum", "unequal addendum", "spiral"]


@dataclass(frozen=True)
class BevelGear:
    """Cones, heights and blank sizes of one gear of a bevel pair.

    Parameters
    ----------
    teeth
        Number of teeth [-].
    outer_module
        Module at the outer end [mm].
    face_width
        Face width along the cone [mm].
    spiral_angle
        Mean spiral angle, 0 for straight teeth [deg].
    cone_distance
        Outer cone distance [mm].
    pitch_cone_angle
        Pitch cone angle [deg].
    addendum
        Addendum at the outer end [mm].
    dedendum
        Dedendum at the outer end [mm].
    addendum_angle
        Angle from the pitch cone to the tip cone [deg].
    dedendum_angle
        Angle from the pitch cone to the root cone [deg].
    """

    teeth: int
    outer_module: Mm
    face_width: Mm
    spiral_angle: Deg
    cone_distance: Mm
    pitch_cone_angle: Deg
    addendum: Mm
    dedendum: Mm
    addendum_angle: Deg
    dedendum_angle: Deg

    @property
    def pitch_diameter(self) -> Mm:
        """Pitch diameter at the outer end [mm]."""
        return self.outer_module * self.teeth

    @property
    def mean_cone_distance(self) -> Mm:
        """Cone distance in the middle of the face [mm]."""
        return mean_cone_distance(self.cone_distance, self.face_width)

    @property
    def inner_cone_distance(self) -> Mm:
        """Cone distance of the inner end [mm]."""
        return inner_cone_distance(self.cone_distance, self.face_width)

    @property
    def mean_pitch_diameter(self) -> Mm:
        """Pitch diameter in the middle of the face [mm]."""
        return mean_pitch_diameter(self.pitch_diameter, self.mean_cone_distance, self.cone_distance)

    @property
    def mean_normal_module(self) -> Mm:
        """Normal module in the middle of the face [mm]."""
        return mean_normal_module(
            self.outer_module, self.mean_cone_distance, self.cone_distance, self.spiral_angle
        )

    @property
    def virtual_pitch_diameter(self) -> Mm:
        """Pitch diameter of the virtual spur gear at the outer end [mm]."""
        return virtual_pitch_diameter(self.pitch_diameter, self.pitch_cone_angle)

    @property
    def tip_cone_angle(self) -> Deg:
        """Angle of the tip cone (face angle) [deg]."""
        return self.pitch_cone_angle + self.addendum_angle

    @property
    def root_cone_angle(self) -> Deg:
        """Angle of the root cone [deg]."""
        return self.pitch_cone_angle - self.dedendum_angle

    @property
    def tip_diameter(self) -> Mm:
        """Tip diameter at the outer end [mm]."""
        return self.pitch_diameter + 2.0 * self.addendum * cos(radians(self.pitch_cone_angle))

    @property
    def apex_to_crown(self) -> Mm:
        """Axial distance from the cone apex to the outer end of the tip cone [mm]."""
        angle = radians(self.pitch_cone_angle)
        return self.cone_distance * cos(angle) - self.addendum * sin(angle)

    @property
    def axial_face_width(self) -> Mm:
        """Axial length of the tip cone [mm]."""
        return self.face_width * cos(radians(self.tip_cone_angle)) / cos(radians(self.addendum_angle))

    @property
    def inner_tip_diameter(self) -> Mm:
        """Tip diameter at the inner end [mm]."""
        inwards = self.face_width * sin(radians(self.tip_cone_angle)) / cos(radians(self.addendum_angle))
        return self.tip_diameter - 2.0 * inwards

    @property
    def whole_depth(self) -> Mm:
        """Tooth depth at the outer end [mm]."""
        return self.addendum + self.dedendum

    @property
    def virtual_teeth(self) -> float:
        """Number of teeth of the virtual spur gear [-]."""
        return virtual_bevel_teeth(self.teeth, self.pitch_cone_angle, self.spiral_angle)

    def crown_to_back(self, mounting_distance: Mm) -> Mm:
        """Give the distance from the crown to the locating face.

        Parameters
        ----------
        mounting_distance
            Distance from the cone apex to the locating face [mm].

        Raises
        ------
        OutOfRange
            When the locating face would lie before the crown.
        """
        return crown_to_back(mounting_distance, self.apex_to_crown)


@dataclass(frozen=True, kw_only=True)
class BevelPair:
    """A pair of bevel gears as the drawing gives it.

    Parameters
    ----------
    outer_module
        Module at the outer end, 0.3 to 50 [mm].
    teeth_1
        Number of teeth of the pinion, 5 to 500 [-].
    teeth_2
        Number of teeth of the wheel, not fewer than the pinion's [-].
    face_width
        Face width along the cone [mm].
    shaft_angle
        Angle between the shafts [deg].
    pressure_angle
        Normal pressure angle [deg].
    system
        "equal addendum" or "unequal addendum" for straight teeth, "spiral".
    spiral_angle
        Mean spiral angle, 0 for straight teeth [deg].

    Raises
    ------
    OutOfRange
        When a value is outside its range or the cones cannot exist.
    """

    outer_module: Mm
    teeth_1: int
    teeth_2: int
    face_width: Mm
    shaft_angle: Deg = 90.0
    pressure_angle: Deg = 20.0
    system: BevelSystem = "equal addendum"
    spiral_angle: Deg = 0.0

    def __post_init__(self) -> None:
        where = "bevel pair"
        if self.system not in PROPORTIONS:
            raise OutOfRange(
                f"bevel system {self.system!r} is unknown",
                where=where,
                limit=f"known: {', '.join(PROPORTIONS)}",
                remedy="Choose one of these",
            )
        check_range("outer module", self.outer_module, 0.3, 50.0, unit="mm", where=where)
        check_count("number of teeth of the pinion", self.teeth_1, 5, 500, where=where)
        check_count(
            "number of teeth of the wheel",
            self.teeth_2,
            self.teeth_1,
            1000,
            where=where,
            remedy="Give the gear with fewer teeth first",
        )
        check_range("pressure angle", self.pressure_angle, 14.0, 25.0, unit="deg", where=where)
        self._check_spiral(where)
        check_range(
            "face width",
            self.face_width,
            0.0,
            self.cone_distance,
            unit="mm",
            where=where,
            remedy=f"The face ends before the apex; at most {self.largest_face_width:.3f} mm is usual",
            open_low=True,
            open_high=True,
        )
        for gear in (self.pinion, self.wheel):
            self._check_cones(gear)

    def _check_spiral(self, where: str) -> None:
        if self.system == "spiral":
            check_range("spiral angle", self.spiral_angle, 0.0, 45.0, unit="deg", where=where)
        elif self.spiral_angle != 0.0:
            raise OutOfRange(
                f"spiral angle is {self.spiral_angle:g} deg with system {self.system!r}",
                where=where,
                limit="0 deg for straight teeth",
                remedy="Choose system 'spiral' or a spiral angle of 0",
            )

    def _check_cones(self, gear: BevelGear) -> None:
        if gear.root_cone_angle <= 0.0 or gear.tip_cone_angle >= 90.0 or gear.inner_tip_diameter <= 0.0:
            raise OutOfRange(
                f"bevel gear with {gear.teeth} teeth has root cone {gear.root_cone_angle:.3f} deg, tip cone "
                f"{gear.tip_cone_angle:.3f} deg, inner tip diameter {gear.inner_tip_diameter:.3f} mm",
                where="bevel pair",
                limit="root cone above 0 deg, tip cone below 90 deg, diameter above 0 mm",
                remedy="Use more teeth, another ratio or another shaft angle",
            )

    @cached_property
    def _cone_angles(self) -> tuple[Deg, Deg]:
        return (
            pitch_cone_angle(self.teeth_1, self.teeth_2, self.shaft_angle),
            pitch_cone_angle(self.teeth_2, self.teeth_1, self.shaft_angle),
        )

    @property
    def cone_distance(self) -> Mm:
        """Outer cone distance [mm]."""
        return outer_cone_distance(self.outer_module, self.teeth_1, self._cone_angles[0])

    @property
    def largest_face_width(self) -> Mm:
        """Face width that good practice does not exceed [mm]."""
        return largest_bevel_face_width(self.cone_distance, self.outer_module, spiral=self.system == "spiral")

    @property
    def face_too_wide(self) -> bool:
        """Whether the face is wider than good practice allows."""
        return self.face_width > self.largest_face_width * (1.0 + 1e-9)

    @property
    def addenda(self) -> tuple[Mm, Mm]:
        """Outer addenda of pinion and wheel [mm]."""
        proportions = PROPORTIONS[self.system]
        ratio = equivalent_ratio(self.teeth_1, self.teeth_2, *self._cone_angles)
        wheel = wheel_addendum(self.outer_module, ratio, proportions)
        return proportions.working_depth_factor * self.outer_module - wheel, wheel

    @cached_property
    def pinion(self) -> BevelGear:
        """The gear with fewer teeth."""
        return self._gear(0)

    @cached_property
    def wheel(self) -> BevelGear:
        """The mating gear."""
        return self._gear(1)

    def _gear(self, which: int) -> BevelGear:
        cone, addenda = self.cone_distance, self.addenda
        whole = PROPORTIONS[self.system].whole_depth_factor * self.outer_module
        dedenda = tuple(whole - addendum for addendum in addenda)
        # unequal addenda: the tip cone runs parallel to the root cone of the mate, so the clearance is even
        rising = addenda[which] if self.system == "equal addendum" else dedenda[1 - which]
        return BevelGear(
            teeth=(self.teeth_1, self.teeth_2)[which],
            outer_module=self.outer_module,
            face_width=self.face_width,
            spiral_angle=self.spiral_angle,
            cone_distance=cone,
            pitch_cone_angle=self._cone_angles[which],
            addendum=addenda[which],
            dedendum=dedenda[which],
            addendum_angle=cone_depth_angle(rising, cone),
            dedendum_angle=cone_depth_angle(dedenda[which], cone),
        )
