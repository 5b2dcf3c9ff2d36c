"""Bevel gears: end-mill milling of straight and spiral teeth, disc roughing of straight ones."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from sequencer.cutting import end_milling
from sequencer.gears.bevel import BevelGear as CutBevelGear
from sequencer.gears.bevel_cones import largest_bevel_face_width, virtual_bevel_teeth
from sequencer.gears.rack import root_land_factor
from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON, DERIVED
from sequencer.operations.operation import Fact, FittedClamping, Mode
from sequencer.operations.teeth import checks, typical
from sequencer.operations.teeth.bevel_head import apex_up, head_check
from sequencer.operations.teeth.end_mill_cuts import Gap, mill_cut
from sequencer.operations.teeth.end_mill_setup import PLAY, slenderness_check
from sequencer.operations.teeth.holds import held_lower
from sequencer.operations.teeth.share import Aim, Share
from sequencer.operations.teeth.trial import PASSED, Check, Outcome, Way, fail, faults_of, passed, rejected
from sequencer.part.teeth import BevelBody, bevel_body, bevel_teeth
from sequencer.part.toothed import BevelGear
from sequencer.shop.tools import DiscCutter, EndMill
from sequencer.units import Deg, Mm, shown


@dataclass(frozen=True)
class BevelTeeth:
    """Teeth of a bevel gear with the numbers that the methods ask for.

    Parameters
    ----------
    gear
        The bevel gear.
    """

    gear: BevelGear

    @cached_property
    def sizes(self) -> CutBevelGear:
        """Cones and heights."""
        return bevel_teeth(self.gear)

    @cached_property
    def body(self) -> BevelBody:
        """Diameters at both ends."""
        return bevel_body(self.gear)

    @property
    def cone_angle(self) -> Deg:
        """Pitch cone angle [deg]."""
        return self.sizes.pitch_cone_angle

    @property
    def spiral(self) -> Deg:
        """Mean spiral angle [deg]."""
        return float(self.gear.spiral_angle)

    @property
    def module(self) -> Mm:
        """Outer transverse module [mm]."""
        return float(self.gear.module.millimetres)

    @property
    def toe_share(self) -> float:
        """Size of the teeth at the small end over that at the large end [-]."""
        return max(0.0, 1 - float(self.gear.face_width) / self.sizes.cone_distance)

    @property
    def toe_module(self) -> Mm:
        """Normal module at the small end [mm]."""
        return self.module * self.toe_share * math.cos(math.radians(self.spiral))

    @property
    def depth(self) -> Mm:
        """Tooth depth at the large end, square to the cone [mm]."""
        return self.sizes.whole_depth

    @property
    def land(self) -> float:
        """Width of the gap at its root in modules [-]."""
        return root_land_factor(float(self.gear.pressure_angle), self.sizes.dedendum / self.module)

    @property
    def gap_at_toe(self) -> Mm:
        """Width of the gap at the root of the small end, square to the tooth [mm]."""
        return self.land * self.toe_module

    @property
    def tilt(self) -> Deg:
        """Tilt of the head square to the pitch cone; 0 deg points down [deg]."""
        return 90.0 - self.cone_angle

    @property
    def gap(self) -> Gap:
        """Gap at the middle of the face as an end mill sees it."""
        gear, middle = self.gear, (1 + self.toe_share) / 2
        alpha = math.radians(float(gear.pressure_angle))
        virtual = virtual_bevel_teeth(gear.teeth, self.cone_angle, self.spiral)
        module = self.module * middle * math.cos(math.radians(self.spiral))
        depth = self.depth * middle
        width = self.land * module + depth * math.tan(alpha)
        return Gap(
            feature=gear,
            teeth=gear.teeth,
            length=float(gear.face_width),
            helix_angle=self.spiral,
            depth=self.depth,
            mean_width=width,
            pressure_angle=float(gear.pressure_angle),
            flank_radius=module * virtual / 2 * math.sin(alpha),
            ridge=typical.RIDGE_WITHOUT_CLASS,
            diameter=self.body.heel.tip,
        )


def face_width_check(teeth: BevelTeeth) -> Check:
    """Say how the face width compares with what is usual; wider teeth get very thin at the small end.

    Parameters
    ----------
    teeth
        The teeth.
    """
    gear = teeth.gear
    usual = largest_bevel_face_width(teeth.sizes.cone_distance, teeth.module, spiral=gear.form == "spiral")
    return Check(
        (
            Fact(
                "usual largest face width",
                usual,
                "mm",
                f"min(Re/3, spiral 0.3 Re; 10 m) = {shown(usual, 1)} mm, here {shown(gear.face_width, 1)} mm",
                "Elements of Metric Gear Technology, tables 8-3 and 8-5",
            ),
        )
    )


def end_room_checks(context: Context, teeth: BevelTeeth, needed: Mm, words: str) -> tuple[Check, ...]:
    """Check the room behind the large end and before the small end, measured along the cone.

    Behind the large end the body that carries the teeth falls away with the back cone; what stands proud of
    the tip there is in the way, and before the small end what stands proud of the root.

    Source: derived

    Parameters
    ----------
    context
        Part and section.
    teeth
        The teeth.
    needed
        Room that the cutter needs along the cone [mm].
    words
        Words for the cutter.
    """
    body, gear = teeth.body, teeth.gear
    below, above = context.section.obstacles(gear.name)
    heel, toe = (below, above) if gear.apex == "upper" else (above, below)
    cosine = math.cos(math.radians(teeth.cone_angle))
    found = []
    for end, obstacles, limit in (("large", heel, body.heel.tip), ("small", toe, body.toe.root)):
        proud = [obstacle for obstacle in obstacles if obstacle.diameter > limit + 1e-6]
        if not proud:
            continue
        nearest = min(proud, key=lambda obstacle: obstacle.gap)
        has = nearest.gap / cosine
        side = "below" if end == "large" else "above"
        facts = (
            Fact(f"run-out needed {side}", needed, "mm", f"at the {end} end, along the cone", DERIVED),
            Fact(
                f"run-out room {side}",
                has,
                "mm",
                f"gap/cos(delta) = {shown(nearest.gap, 1)}/cos({shown(teeth.cone_angle, 1)} deg) up to "
                f"{nearest.feature}",
                DERIVED,
            ),
        )
        if has >= needed:
            found.append(Check(facts))
            continue
        found.append(
            fail(
                f"{words} needs {shown(needed, 1)} mm at the {end} end, has {shown(has, 1)} mm against "
                f"{nearest.feature}, diameter {shown(nearest.diameter, 1)} mm",
                "a smaller cutter or more room there",
                *facts,
            )
        )
    return tuple(found)


def try_end_mill(
    context: Context, teeth: BevelTeeth, clamping: FittedClamping, mill: EndMill, aim: Aim
) -> Outcome:
    """Try one end mill on a bevel gear in one clamping.

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    clamping
        The clamping.
    mill
        The end mill.
    aim
        What the operation is to reach.
    """
    way = Way("end-mill milling", mill.name, clamping.name)
    rough = aim.share is Share.ROUGH
    stages = ("rough",) if rough else ("finish",) if aim.share is Share.FINISH else ("rough", "finish")
    needed = float(mill.diameter) / 2 + float(context.shop.limits.end_mill_margin)
    words = f"end mill {mill.name} (diameter {shown(mill.diameter, 2)} mm)"
    found = [
        checks.use_check(mill),
        *_wish(teeth, mill, not rough),
        _toe_check(teeth, mill, aim),
        _length_check(teeth, mill),
        slenderness_check(context, mill),
        checks.delivery_check(context, mill),
        *end_room_checks(context, teeth, needed, words),
        _tilt_check(context, teeth, clamping),
        head_check(context, teeth.gear, teeth.body, teeth.cone_angle, clamping, mill),
        face_width_check(teeth),
        *(() if rough else (_class_check(teeth, typical.END_MILL_CLASS, aim),)),
    ]
    if faults_of(found):
        return rejected(way, found)
    cuts = []
    for stage in stages:
        chosen = context.conditions("end-mill milling", mill, stage, teeth.gear)
        if chosen is None:
            return rejected(
                way,
                (
                    *found,
                    fail(
                        f"the shop has no conditions for end-mill milling with {mill.material} in "
                        f"{context.material.group}, {stage}",
                        "add a row to the shop's conditions",
                    ),
                ),
            )
        cuts.append(
            mill_cut(context, teeth.gap, mill, stage, chosen, clamping, held_lower(context, aim.share))
        )
    minutes = sum(cut.minutes for cut in cuts)
    found += [cut.check for cut in cuts]
    found.append(checks.minutes_life_check(context, mill, minutes, one_edge=False))
    if faults_of(found):
        return rejected(way, found)
    facts = (
        *(fact for cut in cuts for fact in cut.facts),
        Fact(
            "time",
            minutes,
            "min",
            f"t = {' + '.join(shown(cut.minutes, 2) for cut in cuts)} = {shown(minutes, 2)} min",
            DERIVED,
            True,
        ),
    )
    form = teeth.gear.form
    reason = (
        f"{words} mills the {form} teeth flank by flank from a model of the flank; the contact pattern "
        "with the mate decides"
    )
    return passed(way, Mode.MILLING, minutes, found, facts, reason)


def _tilt_check(context: Context, teeth: BevelTeeth, clamping: FittedClamping) -> Check:
    """Tilt of the head square to the cone; with the apex down it points upwards."""
    up, cone = apex_up(teeth.gear, clamping), shown(teeth.cone_angle, 2)
    tilt = teeth.tilt if up else 180.0 - teeth.tilt
    words = f"90 deg {'less' if up else 'and'} cone angle {cone} deg, apex {'up' if up else 'down'}"
    return checks.tilt_check(context, (tilt,), words)


def _wish(teeth: BevelTeeth, tool: EndMill | DiscCutter, finishing: bool) -> tuple[Check, ...]:
    wish = teeth.gear.tool
    if finishing and wish is not None and wish != tool.name:
        return (fail(f"the part file asks for tool {wish}", "take the wish for a tool out of the part file"),)
    return ()


def _toe_check(teeth: BevelTeeth, mill: EndMill, aim: Aim) -> Check:
    room = teeth.gap_at_toe - 2 * aim.stock - PLAY
    largest = end_milling.largest_end_mill(teeth.gap_at_toe, aim.stock, PLAY) if room > 0 else 0.0
    fact = Fact(
        "largest end mill in the gap",
        largest,
        "mm",
        f"D = e - 2 s - c = {shown(teeth.gap_at_toe, 2)} - 2*{shown(aim.stock, 2)} - {shown(PLAY, 1)} = "
        f"{shown(largest, 2)} mm at the small end (module {shown(teeth.toe_module, 2)} mm there)",
        DERIVED,
    )
    if float(mill.diameter) <= largest + 1e-9:
        return Check((fact,))
    return fail(
        f"end mill {mill.name} has diameter {shown(mill.diameter, 2)} mm, the gap takes "
        f"{shown(largest, 2)} mm at the root of the small end",
        f"an end mill of at most {shown(math.floor(largest * 10) / 10, 1)} mm" if largest > 0.1 else "",
        fact,
    )


def _length_check(teeth: BevelTeeth, mill: EndMill) -> Check:
    needed = teeth.depth + typical.SAFE_DISTANCE
    if float(mill.reach) >= needed:
        return PASSED
    return fail(
        f"end mill {mill.name} has a usable length of {shown(mill.reach, 1)} mm, "
        f"the teeth need {shown(needed, 1)} mm",
        f"an end mill with a usable length of {shown(math.ceil(needed))} mm",
    )


def _class_check(teeth: BevelTeeth, reachable: int, aim: Aim) -> Check:
    fact = Fact("flank class reachable", float(reachable), "", f"class {reachable}", COMMON, True)
    wanted = teeth.gear.flank_class
    if wanted is None or aim.later or reachable <= wanted.number:
        return Check((fact,))
    return fail(
        f"end-mill milling reaches flank class {reachable} ({COMMON}), the drawing asks for {wanted}",
        "rough with it and leave stock for grinding",
        fact,
        by_class=True,
    )
