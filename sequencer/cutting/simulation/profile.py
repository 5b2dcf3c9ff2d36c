"""The wanted tooth space that a simulated cut is held against."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, cos, pi, radians, sqrt

from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear
from sequencer.units import Mm


@dataclass(frozen=True)
class Profile:
    """The wanted tooth space in the transverse section, centred on the x axis.

    Parameters
    ----------
    gear
        The gear.
    start_diameter
        Smaller end of the compared profile [mm].
    end_diameter
        Larger end of the compared profile [mm].

    Raises
    ------
    OutOfRange
        When the profile is not within the tooth, reaches below the base circle or has no height.
    """

    gear: CylindricalGear
    start_diameter: Mm
    end_diameter: Mm

    def __post_init__(self) -> None:
        low, high = sorted((self.gear.tip_diameter, self.gear.root_diameter))
        low = max(low, self.gear.base_diameter)
        if not low - 1e-9 <= self.start_diameter < self.end_diameter <= high + 1e-9:
            raise OutOfRange(
                f"profile from diameter {self.start_diameter:g} to {self.end_diameter:g} mm",
                where=str(self.gear),
                limit=f"rising, within {low:g} to {high:g} mm",
                remedy="Compare a part of the involute",
            )

    @property
    def base_radius(self) -> Mm:
        """Radius of the base circle [mm]."""
        return self.gear.base_diameter / 2

    @property
    def half_pitch(self) -> float:
        """Half the pitch angle [rad]."""
        return pi / self.gear.teeth

    @property
    def base_half_angle(self) -> float:
        """Half the polar angle of the space where its involutes start [rad]."""
        reference = self.gear.reference_diameter
        half = self.gear.space_width_at(reference) / reference
        roll = sqrt((reference / self.gear.base_diameter) ** 2 - 1)
        polar = roll - atan(roll)
        return half + polar if self.gear.internal else half - polar

    @property
    def normal_arm(self) -> Mm:
        """Distance square to the flank for a polar angle of 1 rad in the transverse section [mm]."""
        return self.base_radius * cos(radians(self.gear.base_helix_angle))

    @property
    def turns_for_mm(self) -> float:
        """Turn of the teeth along the axis, right hand positive [1/mm]."""
        return (-1 if self.gear.hand == "left" else 1) / self.gear.lead


def profile_of(
    gear: CylindricalGear, start_diameter: Mm | None = None, end_diameter: Mm | None = None
) -> Profile:
    """Choose the profile to compare: as given, else from the root form diameter to the tip.

    Source: derived

    Parameters
    ----------
    gear
        The gear.
    start_diameter
        Smaller end of the profile; None for the whole involute [mm].
    end_diameter
        Larger end of the profile; None for the whole involute [mm].

    Raises
    ------
    OutOfRange
        When the profile is not within the involute.
    """
    low, high = sorted((gear.root_form_diameter, gear.tip_diameter))
    # An involute has no direction on its base circle; the last thousandth of a module is left out.
    low = max(low, gear.base_diameter + 1e-3 * gear.normal_module)
    return Profile(
        gear,
        low if start_diameter is None else start_diameter,
        high if end_diameter is None else end_diameter,
    )
