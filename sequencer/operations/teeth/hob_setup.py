"""A hob at the teeth: swivel, shift, room at both ends, and what would help where there is too little."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

from sequencer.cutting import hobbing
from sequencer.cutting.cutter_bodies import CutterBody, hob_body
from sequencer.cutting.run_out import Arrangement, Setting
from sequencer.operations.context import Context
from sequencer.operations.facts import DERIVED
from sequencer.operations.operation import Fact
from sequencer.operations.teeth import checks
from sequencer.operations.teeth.level_head import LevelCutter
from sequencer.operations.teeth.room import (
    Clearance,
    Margins,
    clamping_remedy,
    clearance,
    largest_passing,
    room_check,
)
from sequencer.operations.teeth.speed import differential_fact, turn_words
from sequencer.operations.teeth.standing import Standing
from sequencer.operations.teeth.trial import Check
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.tools import Hob
from sequencer.units import Deg, Mm, shown

#: Smallest hob diameter that is made, in modules (common practice, no source).
SMALLEST_HOB: Final = 14.0


@dataclass(frozen=True)
class Setup:
    """A hob at the teeth.

    Parameters
    ----------
    teeth
        The teeth.
    hob
        The hob.
    diameter
        Outside diameter of the hob; another one is asked about when the hob is too large [mm].
    hand
        Hand of the hob; the other one is asked about when the hob swivels too far.
    """

    teeth: Teeth
    hob: Hob
    diameter: Mm
    hand: str

    @property
    def lead_angle(self) -> Deg:
        """Lead angle of the hob [deg]."""
        module = checks.normal_module_of(self.hob.module)
        pitch = hobbing.hob_pitch_diameter(self.diameter, self.hob.addendum * module)
        return hobbing.hob_lead_angle(self.hob.starts, module, pitch)

    @property
    def swivel(self) -> Deg:
        """Swivel of the hob axis out of the transverse plane [deg]."""
        teeth = self.teeth
        return hobbing.swivel_angle(teeth.helix_angle, self.lead_angle, teeth.hand, self.hand)

    @property
    def same_hand(self) -> bool:
        """Whether hob and teeth have one hand, or the teeth none."""
        return self.teeth.hand in ("spur", self.hand)

    @property
    def overrun(self) -> Mm:
        """Travel behind the teeth until both flanks are generated [mm]."""
        return hobbing.overrun(self.teeth.module, self.teeth.gear.pressure_angle, self.swivel)

    @property
    def _free(self) -> Mm:
        """How far the hob middle can move from the crossing point while both flanks are generated [mm]."""
        teeth = self.teeth
        needed = hobbing.generating_length(teeth.module, teeth.gear.pressure_angle) + teeth.module
        return max(float(self.hob.length) / 2 - needed, 0.0)

    @property
    def shifts(self) -> tuple[Mm, ...]:
        """Hob shifts to look at: none, then as far up and down as the flanks are still generated [mm]."""
        return (0.0, self._free, -self._free) if self._free > 0 else (0.0,)

    @property
    def shifted(self) -> CutterBody:
        """The hob anywhere along its shift; beside the part this counts, as in the handbook formula."""
        return hob_body(self.diameter, float(self.hob.length) + 2 * self._free)

    def body(self, shift: Mm) -> CutterBody:
        """Body of the hob.

        Parameters
        ----------
        shift
            Place of the hob middle along its axis, above 0 upwards [mm].
        """
        return hob_body(self.diameter, float(self.hob.length), shift=shift)

    @property
    def setting(self) -> Setting:
        """How it stands to the teeth."""
        return Setting(Arrangement.CROSSED, self.teeth.gear.root_diameter / 2, self.swivel)

    @property
    def level(self) -> LevelCutter:
        """The hob for the room of the head, which comes nearest with the hob shifted away from it."""
        gauge = float(self.hob.functional_length) - self._free
        words = f"swivel {shown(self.swivel, 2)} deg"
        return LevelCutter(self.hob.name, self.diameter, gauge, self.swivel, words)

    @property
    def words(self) -> str:
        """Words for a sentence."""
        how = "" if self.teeth.hand == "spur" else f" on {self.teeth.hand}-hand teeth"
        return (
            f"hob {self.hob.name} (diameter {shown(self.diameter, 1)} mm, {self.hand} hand{how}) "
            f"swivelled {shown(self.swivel, 1)} deg"
        )


def margins_of(context: Context, setup: Setup) -> Margins:
    """Give what is added to the reach of the hob.

    Parameters
    ----------
    context
        Part and shop.
    setup
        The hob at the teeth.
    """
    limits = context.shop.limits
    return Margins(setup.overrun, float(limits.hob_margin), float(limits.riser_margin))


@dataclass(frozen=True)
class Placed:
    """A hob with the shift that gives the most room.

    Parameters
    ----------
    shift
        Place of the hob middle along its axis [mm].
    below, above
        Room at both ends.
    """

    shift: Mm
    below: Clearance
    above: Clearance

    @property
    def spare(self) -> Mm:
        """Room to spare at the tighter end [mm]."""
        return min(self.below.spare, self.above.spare)


def placed(context: Context, setup: Setup, standing: Standing) -> Placed:
    """Place a hob: in its middle if that passes, else with the shift that gives the most room.

    Beside the part the hob must clear with any shift, since it is used along its whole length; over table and
    jaws one shift is enough, and it is said which.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    setup
        The hob at the teeth.
    standing
        The teeth in a clamping.
    """
    margins, best = margins_of(context, setup), None
    for shift in setup.shifts:
        body = setup.body(shift)
        below, above = (
            clearance(body, setup.setting, standing, side, margins, setup.shifted)
            for side in ("below", "above")
        )
        here = Placed(shift, below, above)
        if here.spare >= -1e-9:
            return here
        if best is None or here.spare > best.spare:
            best = here
    assert best is not None
    return best


def room_checks(context: Context, setup: Setup, standing: Standing, place: Placed) -> tuple[Check, ...]:
    """Check the room at both ends; the facts of the setting follow.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    setup
        The hob at the teeth.
    standing
        The teeth in a clamping.
    place
        The hob with its shift.
    """
    margins = margins_of(context, setup)

    def remedy(found: Clearance) -> str:
        return _remedy(context, setup, standing, found)

    found = tuple(room_check(one, setup.words, margins, remedy) for one in (place.below, place.above))
    return (*found, _setting_facts(setup, place), _way_in(setup, place))


def _way_in(setup: Setup, place: Placed) -> Check:
    """Along the axis if one end is free enough for the approach, else a radial plunge at the tooth end."""
    teeth = setup.teeth
    approach = hobbing.approach(setup.diameter, teeth.depth, teeth.gear.tip_diameter, setup.swivel)
    room = max(place.below.spare, place.above.spare)
    how = "along the axis" if room >= approach else "by a radial plunge at the tooth end"
    spare = "nothing limits it" if math.isinf(room) else f"{shown(room, 1)} mm are to spare"
    formula = (
        f"E = sqrt(h (da0 - h + da sin^2(eta)))/cos(eta) = {shown(approach, 1)} mm, {spare}: the hob "
        f"goes in {how}"
    )
    source = "hob makers' formula, from memory"
    return Check((Fact("approach of the hob", approach, "mm", formula, source),))


def _setting_facts(setup: Setup, place: Placed) -> Check:
    teeth, hob = setup.teeth, setup.hob
    module = checks.normal_module_of(hob.module)
    pitch = setup.diameter - 2 * hob.addendum * module
    sign = "-" if setup.same_hand and teeth.hand != "spur" else "+"
    senses = hobbing.hob_senses(
        module, teeth.teeth, teeth.signed_helix, hob.starts, setup.lead_angle, setup.hand, 1.0, 1.0
    )
    turns, extra, other = turn_words(senses.table), "", ""
    if teeth.helix_angle:
        one, two = ("faster", "slower") if senses.adds else ("slower", "faster")
        extra, other = f", the differential makes it {one}", f", the differential makes it {two}"
    facts = [
        Fact(
            "lead angle of the hob",
            setup.lead_angle,
            "deg",
            f"sin(gamma) = z0 mn/d0 = {hob.starts}*{shown(module, 4)}/{shown(pitch, 2)}, "
            f"gamma = {shown(setup.lead_angle, 2)} deg",
            "E. Bergseth, Virtual Hobbing, KTH 2011, as quoted",
        ),
        Fact(
            "swivel of the hob",
            setup.swivel,
            "deg",
            f"eta = |beta {sign} gamma| = |{shown(teeth.helix_angle, 2)} {sign} "
            f"{shown(setup.lead_angle, 2)}| = {shown(setup.swivel, 2)} deg "
            f"({'same' if setup.same_hand else 'opposite'} hand); {senses.swivel_words}",
            "gear-cutting textbooks; the side derived by vectors",
        ),
        Fact(
            "senses of hob and table",
            math.copysign(1.0, senses.table),
            "",
            f"feed downwards, climb: the hob moves up at the work, the table turns {turns} from "
            f"above{extra}; conventional: both the other way{other}",
            "derived by velocity vectors",
        ),
        Fact(
            "overrun for generating",
            setup.overrun,
            "mm",
            f"U = max(1.25 mn/tan(alpha)*sin(eta), 2) = {shown(setup.overrun, 2)} mm",
            DERIVED,
        ),
    ]
    if place.shift:
        way = "up" if place.shift > 0 else "down"
        facts.append(
            Fact(
                "hob shift to keep",
                abs(place.shift),
                "mm",
                f"the middle of the hob stays {shown(abs(place.shift), 1)} mm {way} its axis from the "
                "crossing point; in the middle it would not clear",
                DERIVED,
            )
        )
    if teeth.helix_angle:
        facts.append(differential_fact(teeth))
    return Check(tuple(facts))


def _remedy(context: Context, setup: Setup, standing: Standing, found: Clearance) -> str:
    """Name the other hand, a smaller hob, a higher riser or a wider gap."""
    if by_clamping := clamping_remedy(found, standing):
        return by_clamping
    words: list[str] = []
    if not setup.same_hand:
        other = replace(setup, hand=setup.teeth.hand)
        place = placed(context, other, standing)
        at = place.below if found.side == "below" else place.above
        verdict = "passes" if place.spare >= -1e-9 else "does not pass either"
        words.append(
            f"a {other.hand}-hand hob of this size swivels {shown(other.swivel, 1)} deg, "
            f"needs {shown(at.needed, 1)} mm and {verdict}"
        )
    smallest = SMALLEST_HOB * setup.teeth.module
    largest = largest_passing(
        lambda diameter: placed(context, replace(setup, diameter=diameter), standing).spare >= -1e-9,
        smallest,
        setup.diameter,
    )
    if largest is None:
        words.append(f"no hob from {shown(smallest, 1)} mm passes: skive or end-mill these teeth")
    else:
        words.append(f"the largest {setup.hand}-hand hob that passes has diameter {shown(largest, 1)} mm")
    return "; ".join(words)
