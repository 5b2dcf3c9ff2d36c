"""Senses of rotation of skiving cutter and table, with signs.

Cutter and table turn positive anticlockwise, seen from above; the cutter hangs from above with its edges on
its lower face. Right-hand helices count positive.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sequencer.cutting._ranges import above_zero
from sequencer.cutting.hobbing.setting import differential_turns
from sequencer.cutting.skiving.kinematics import crossed_axes_angle, sine_of_sigma, speed_ratio
from sequencer.errors import OutOfRange
from sequencer.units import Deg, Mm, Rpm


@dataclass(frozen=True)
class SkivingSenses:
    """Signed revolutions of a skiving pass, anticlockwise from above positive.

    Parameters
    ----------
    cutter
        Cutter revolutions [1/min].
    table
        Table revolutions without the differential [1/min].
    differential
        Revolutions added to them while feeding [1/min].
    """

    cutter: Rpm
    table: Rpm
    differential: Rpm

    @property
    def adds(self) -> bool:
        """Whether the differential makes the table faster."""
        return self.table * self.differential > 0


def skiving_senses(
    module: Mm,
    gear_teeth: int,
    gear_helix: Deg,
    internal: bool,
    cutter_teeth: int,
    cutter_helix: Deg,
    cutter_rpm: Rpm,
    feed: Mm,
    feed_way: Literal["down", "up"] = "down",
) -> SkivingSenses:
    """Give revolutions of cutter and table with their signs, so that the lower face of the cutter leads.

    Source: derived by velocity vectors at the pitch point: against the work the edge must move down along
    the cutter axis, which a cutter with a positive crossed-axes angle does when it turns clockwise.

    Parameters
    ----------
    module
        Normal module [mm].
    gear_teeth
        Teeth of the gear [-].
    gear_helix
        Helix angle of the gear, right hand positive [deg].
    internal
        Whether the gear is internal [-].
    cutter_teeth
        Teeth of the cutter [-].
    cutter_helix
        Helix angle of the cutter, right hand positive [deg].
    cutter_rpm
        Cutter revolutions without sign [1/min].
    feed
        Axial feed for one table revolution [mm].
    feed_way
        "down" or "up": where the cutter goes along the table axis [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the crossed-axes angle below 1 deg, or a word unknown.
    """
    above_zero("skiving senses", module=module, cutter_rpm=cutter_rpm, feed=feed)
    sigma = crossed_axes_angle(cutter_helix, gear_helix, internal)
    sine_of_sigma(sigma)
    if feed_way not in ("down", "up"):
        raise OutOfRange(
            f'feed way is "{feed_way}"', where="senses", limit='"down" or "up"', remedy="Name the feed way"
        )
    cutter = -cutter_rpm if sigma > 0 else cutter_rpm
    table = cutter * speed_ratio(cutter_teeth, gear_teeth, internal)
    down = 1 if feed_way == "down" else -1
    turns = differential_turns(module, gear_teeth, gear_helix)
    return SkivingSenses(cutter, table, down * feed * abs(table) * turns)
