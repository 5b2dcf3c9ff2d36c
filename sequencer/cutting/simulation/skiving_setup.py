"""How a skiving cutter moves against the table."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.cutting import skiving
from sequencer.cutting._ranges import above_zero, finite, one_or_more, within
from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear
from sequencer.units import Deg, Mm


@dataclass(frozen=True, kw_only=True)
class SkivingSetup:
    """Cutter and motions of a skiving pass at full depth; the rake face is square to the cutter axis.

    Parameters
    ----------
    cutter_teeth
        Teeth of the cutter [-].
    cutter_helix
        Helix angle of the cutter, right hand positive [deg].
    crossed_axes_angle
        Lean of the cutter axis with the sign of `skiving.crossed_axes_angle` [deg].
    centre_distance
        Distance of the cutter axis from the work axis where they cross [mm].
    ratio
        Table turns for one cutter turn, positive when both turn the same way [-].
    differential
        Turns by which the work leads for each mm of downward feed, anticlockwise from above positive [1/mm].
    feed
        Downward feed for one table turn [mm].

    Raises
    ------
    OutOfRange
        When a number is out of its range.
    """

    cutter_teeth: int
    cutter_helix: Deg
    crossed_axes_angle: Deg
    centre_distance: Mm
    ratio: float
    differential: float
    feed: Mm = 0.1

    def __post_init__(self) -> None:
        where = "skiving simulation"
        one_or_more(where, cutter_teeth=self.cutter_teeth)
        within(where, -60.0, 60.0, cutter_helix=self.cutter_helix, crossed_axes_angle=self.crossed_axes_angle)
        above_zero(where, centre_distance=self.centre_distance, feed=self.feed)
        finite(where, ratio=self.ratio, differential=self.differential)
        if self.ratio == 0:
            raise OutOfRange(
                "ratio is 0", where=where, limit="not 0", remedy="Give table turns for one cutter turn"
            )


def skiving_setup(
    gear: CylindricalGear, cutter_teeth: int, cutter_helix: Deg, feed: Mm = 0.1
) -> SkivingSetup:
    """Set up a cutter by the formulas of `skiving`, with the pitch cylinders touching.

    Source: derived; external gears add the pitch radii, internal gears subtract them.

    Parameters
    ----------
    gear
        The gear to cut.
    cutter_teeth
        Teeth of the cutter [-].
    cutter_helix
        Helix angle of the cutter, right hand positive [deg].
    feed
        Downward feed for one table turn [mm].

    Raises
    ------
    OutOfRange
        When a number is out of its range or the cutter has as many teeth as an internal gear.
    """
    helix, internal = gear.reference_helix, gear.internal
    module, teeth = gear.normal_module, gear.teeth
    work = skiving.pitch_diameter(module, teeth, helix) / 2
    cutter = skiving.pitch_diameter(module, cutter_teeth, cutter_helix) / 2
    return SkivingSetup(
        cutter_teeth=cutter_teeth,
        cutter_helix=cutter_helix,
        crossed_axes_angle=skiving.crossed_axes_angle(cutter_helix, helix, internal),
        centre_distance=work - cutter if internal else work + cutter,
        ratio=skiving.speed_ratio(cutter_teeth, teeth, internal),
        differential=skiving.differential_rpm(feed, 1.0, module, teeth, helix) / feed,
        feed=feed,
    )
