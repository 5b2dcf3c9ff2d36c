"""How a hob moves against the table."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.cutting import hobbing
from sequencer.cutting._ranges import above_zero, finite, one_or_more, within
from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear, Hand
from sequencer.units import Deg, Mm

#: Gashes for each start of a hob without facets.
FINE_GASHES = 64


@dataclass(frozen=True, kw_only=True)
class HobbingSetup:
    """Hob and motions of a hobbing cut at full depth; the rake faces hold the hob axis.

    The hob stands at positive x, its axis along y before it is swivelled; it turns positive when its side
    towards the work moves up.

    Parameters
    ----------
    starts
        Starts of the hob [-].
    hand
        Hand of the hob, "right" or "left".
    pitch_diameter
        Pitch diameter of the hob [mm].
    lead_angle
        Lead angle of the hob on its pitch cylinder [deg].
    swivel
        Swivel of the hob axis out of the transverse plane, positive lifts its end at positive y [deg].
    centre_distance
        Distance of the hob axis from the work axis where they cross [mm].
    ratio
        Table turns for one hob turn, positive when the table turns anticlockwise with a positive hob [-].
    differential
        Turns by which the work leads for each mm of downward feed, anticlockwise from above positive [1/mm].
    feed
        Downward feed for one table turn [mm].
    gashes
        Gashes of the hob; None for so many that no facets show [-].

    Raises
    ------
    OutOfRange
        When a number is out of its range or the hand unknown.
    """

    starts: int
    hand: Hand
    pitch_diameter: Mm
    lead_angle: Deg
    swivel: Deg
    centre_distance: Mm
    ratio: float
    differential: float
    feed: Mm = 2.0
    gashes: int | None = None

    def __post_init__(self) -> None:
        where = "hobbing simulation"
        one_or_more(where, starts=self.starts, gashes=self.used_gashes)
        above_zero(where, pitch_diameter=self.pitch_diameter, lead_angle=self.lead_angle)
        above_zero(where, centre_distance=self.centre_distance, feed=self.feed)
        within(where, 0.0, 60.0, lead_angle=self.lead_angle)
        within(where, -75.0, 75.0, swivel=self.swivel)
        finite(where, ratio=self.ratio, differential=self.differential)
        if self.ratio == 0:
            raise OutOfRange(
                "ratio is 0", where=where, limit="not 0", remedy="Give table turns for one hob turn"
            )
        if self.hand not in ("right", "left"):
            raise OutOfRange(
                f'hand is "{self.hand}"', where=where, limit='"right" or "left"', remedy="Name the hand"
            )

    @property
    def used_gashes(self) -> int:
        """Gashes of the hob, or so many for each start that facets stay far below 1 um [-]."""
        return FINE_GASHES * self.starts if self.gashes is None else self.gashes


def hobbing_setup(
    gear: CylindricalGear,
    starts: int,
    hand: Hand,
    pitch_diameter: Mm,
    feed: Mm = 2.0,
    gashes: int | None = None,
) -> HobbingSetup:
    """Set up a hob by the formulas of `hobbing`, for a hob that moves up at the work.

    Source: derived; the thread at the work follows its teeth when the axis is swivelled by the lead angle of
    a right-hand hob less the helix angle of the gear, and runs with them when a right-hand hob that moves up
    at the work turns the table clockwise.

    Parameters
    ----------
    gear
        The gear to cut.
    starts
        Starts of the hob [-].
    hand
        Hand of the hob, "right" or "left".
    pitch_diameter
        Pitch diameter of the hob [mm].
    feed
        Downward feed for one table turn [mm].
    gashes
        Gashes of the hob; None for so many that no facets show [-].

    Raises
    ------
    OutOfRange
        When the gear is internal or a number is out of its range.
    """
    if gear.internal:
        raise OutOfRange(
            "the gear is internal",
            where=str(gear),
            limit="a hob reaches external gears only",
            remedy="Skive or mill it",
        )
    lead_angle = hobbing.hob_lead_angle(starts, gear.normal_module, pitch_diameter)
    way = 1 if hand == "right" else -1
    return HobbingSetup(
        starts=starts,
        hand=hand,
        pitch_diameter=pitch_diameter,
        lead_angle=lead_angle,
        swivel=hobbing.signed_swivel(gear.reference_helix, lead_angle, hand),
        centre_distance=(gear.shifted_diameter + pitch_diameter) / 2,
        ratio=-way * hobbing.table_rpm(1.0, starts, gear.teeth),
        differential=hobbing.differential_turns(gear.normal_module, gear.teeth, gear.reference_helix),
        feed=feed,
        gashes=gashes,
    )
