"""Senses of rotation of hob and table, with signs.

The table turns positive anticlockwise, seen from above. The hob stands at +x, its axis along +y before it is
swivelled; it turns positive when its side towards the work moves up; a positive swivel lifts its end at +y,
which lies to the right for one who looks from behind the hob towards the work. Right-hand helices count
positive.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from sequencer.cutting._ranges import above_zero, one_or_more, within
from sequencer.cutting.hobbing.setting import differential_turns, table_rpm
from sequencer.errors import OutOfRange
from sequencer.units import Deg, Mm, Rpm

FeedWay = Literal["down", "up"]
CutWay = Literal["climb", "conventional"]


def signed_swivel(helix_angle: Deg, lead_angle: Deg, hob_hand: str) -> Deg:
    """Swivel of the hob axis with its sign, gamma - beta for a right-hand hob, -gamma - beta for the other.

    Source: derived; then thread and tooth run the same way where they touch.

    Parameters
    ----------
    helix_angle
        Helix angle of the gear, right hand positive [deg].
    lead_angle
        Lead angle of the hob without sign [deg].
    hob_hand
        Hand of the hob: "right" or "left" [-].

    Raises
    ------
    OutOfRange
        When an angle is out of range or the hand unknown.
    """
    within("hob swivel", -60.0, 60.0, helix_angle=helix_angle)
    within("hob swivel", 0.0, 60.0, lead_angle=lead_angle)
    return hand_sign(hob_hand) * lead_angle - helix_angle


def hand_sign(hand: str) -> int:
    """Sign of a hand: 1 for right, -1 for left.

    Source: ISO 21771: right-hand helices count positive, from memory.

    Parameters
    ----------
    hand
        "right" or "left" [-].

    Raises
    ------
    OutOfRange
        When the hand is neither.
    """
    if hand not in ("right", "left"):
        raise OutOfRange(
            f'hand is "{hand}"', where="hand", limit='"right" or "left"', remedy="Name the hand of the hob"
        )
    return 1 if hand == "right" else -1


@dataclass(frozen=True)
class HobSenses:
    """Signed revolutions and swivel of a hobbing cut, in the directions of this module.

    Parameters
    ----------
    swivel
        Swivel of the hob axis, positive lifts its end at +y [deg].
    hob
        Hob revolutions, positive when its side towards the work moves up [1/min].
    table
        Table revolutions without the differential, anticlockwise from above positive [1/min].
    differential
        Revolutions added to them while feeding, anticlockwise from above positive [1/min].
    """

    swivel: Deg
    hob: Rpm
    table: Rpm
    differential: Rpm

    @property
    def adds(self) -> bool:
        """Whether the differential makes the table faster."""
        return self.table * self.differential > 0

    @property
    def swivel_words(self) -> str:
        """Which end of the hob is higher."""
        if math.isclose(self.swivel, 0.0, abs_tol=1e-12):
            return "level"
        return f"{'right' if self.swivel > 0 else 'left'} end up, seen from behind the hob towards the work"


def hob_senses(
    module: Mm,
    teeth: int,
    helix_angle: Deg,
    starts: int,
    lead_angle: Deg,
    hob_hand: str,
    hob_rpm: Rpm,
    feed: Mm,
    feed_way: FeedWay = "down",
    cut_way: CutWay = "climb",
) -> HobSenses:
    """Give swivel, hob, table and differential with their signs.

    Source: derived by velocity vectors at the pitch point. Edges that move against the feed of the hob cut
    climb, edges that move with it conventional. The table follows the hand of the hob, the differential the
    hand of the gear and the way of the feed.

    Parameters
    ----------
    module
        Normal module [mm].
    teeth
        Teeth of the gear [-].
    helix_angle
        Helix angle of the gear, right hand positive [deg].
    starts
        Starts of the hob [-].
    lead_angle
        Lead angle of the hob without sign [deg].
    hob_hand
        Hand of the hob: "right" or "left" [-].
    hob_rpm
        Hob revolutions without sign [1/min].
    feed
        Axial feed for one table revolution [mm].
    feed_way
        "down" or "up": where the hob goes along the table axis [-].
    cut_way
        "climb" or "conventional" [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0, an angle out of range or a word unknown.
    """
    above_zero("hobbing senses", module=module, hob_rpm=hob_rpm, feed=feed)
    one_or_more("hobbing senses", teeth=teeth, starts=starts)
    down = _sign("feed way", feed_way, "down", "up")
    climb = _sign("cut way", cut_way, "climb", "conventional")
    turn = down * climb
    size = table_rpm(hob_rpm, starts, teeth)
    return HobSenses(
        swivel=signed_swivel(helix_angle, lead_angle, hob_hand),
        hob=turn * hob_rpm,
        table=-hand_sign(hob_hand) * turn * size,
        differential=down * feed * size * differential_turns(module, teeth, helix_angle),
    )


def _sign(what: str, word: str, plus: str, minus: str) -> int:
    if word not in (plus, minus):
        raise OutOfRange(
            f'{what} is "{word}"', where="senses", limit=f'"{plus}" or "{minus}"', remedy=f"Name the {what}"
        )
    return 1 if word == plus else -1
