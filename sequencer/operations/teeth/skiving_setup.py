"""A skiving cutter at the teeth: crossed axes, way into the bore, neck and holder, room at both ends."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from sequencer.cutting import skiving
from sequencer.cutting.cutter_bodies import CutterBody, skiving_body
from sequencer.cutting.run_out import Arrangement, Setting
from sequencer.operations.context import Context
from sequencer.operations.facts import DERIVED
from sequencer.operations.operation import Fact
from sequencer.operations.teeth import checks
from sequencer.operations.teeth.level_head import head_steps, head_words
from sequencer.operations.teeth.room import (
    Clearance,
    Margins,
    behind,
    clamping_remedy,
    clearance,
    largest_passing,
    room_check,
)
from sequencer.operations.teeth.speed import differential_fact
from sequencer.operations.teeth.standing import Standing
from sequencer.operations.teeth.trial import PASSED, Check, fail
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.machine import ToolSpindle
from sequencer.shop.tools import SkivingCutter
from sequencer.units import Deg, Mm, shown

#: Clearance of a cutter all round on its way into a bore (common practice, no source) [mm].
ENTRY_CLEARANCE: Mm = 1.0


@dataclass(frozen=True)
class Setup:
    """A skiving cutter at the teeth.

    Parameters
    ----------
    teeth
        The teeth.
    cutter
        The cutter.
    """

    teeth: Teeth
    cutter: SkivingCutter

    @property
    def helix(self) -> Deg:
        """Helix angle of the cutter, right hand positive [deg]."""
        angle = float(self.cutter.helix_angle)
        return -angle if self.cutter.hand == "left" else angle

    @property
    def sigma(self) -> Deg:
        """Crossed-axes angle with sign [deg]."""
        return skiving.crossed_axes_angle(self.helix, self.teeth.signed_helix, self.teeth.internal)

    @cached_property
    def pitch_diameter(self) -> Mm:
        """Pitch diameter of the cutter [mm]."""
        return skiving.pitch_diameter(self.teeth.module, self.cutter.teeth, self.helix)

    @property
    def setting(self) -> Setting:
        """How it stands to the teeth."""
        return Setting(
            Arrangement.SKIVING,
            self.teeth.gear.root_diameter / 2,
            abs(self.sigma),
            internal=self.teeth.internal,
        )

    def edges(self, diameter: Mm) -> CutterBody:
        """Body of the toothed wheel.

        Parameters
        ----------
        diameter
            Outside diameter of the cutter [mm].
        """
        return skiving_body(
            diameter, float(self.cutter.thickness), relief_angle=float(self.cutter.relief_angle)
        )

    def shank(self, spindle: ToolSpindle) -> CutterBody:
        """Neck, holder and head behind the toothed wheel.

        Parameters
        ----------
        spindle
            The tool spindle with its head.
        """
        cutter = self.cutter
        start = float(cutter.thickness)
        neck_end = start + float(cutter.neck_length)
        gauge = max(float(cutter.functional_length), neck_end)
        steps = (
            (start, float(cutter.neck_diameter)),
            (neck_end, float(cutter.neck_diameter)),
            (neck_end, float(cutter.holder_diameter)),
            (gauge, float(cutter.holder_diameter)),
            *head_steps(spindle, gauge),
        )
        profile = tuple((position, size / 2) for position, size in steps)
        return CutterBody("skiving cutter", float(cutter.outside_diameter), profile)

    @property
    def words(self) -> str:
        """Words for a sentence."""
        return (
            f"skiving cutter {self.cutter.name} (diameter {shown(self.cutter.outside_diameter, 1)} mm) "
            f"at crossed axes of {shown(abs(self.sigma), 1)} deg"
        )


def angle_checks(context: Context, setup: Setup) -> tuple[Check, ...]:
    """Check the crossed-axes angle against the limits of the house, and the tilt of the head.

    Parameters
    ----------
    context
        Part and shop.
    setup
        The cutter at the teeth.
    """
    limits, sigma = context.shop.limits, abs(setup.sigma)
    low, high = float(limits.crossed_axes_from), float(limits.crossed_axes_to)
    sign = "-" if setup.teeth.internal else "+"
    fact = Fact(
        "crossed-axes angle",
        sigma,
        "deg",
        f"Sigma = |beta0 {sign} beta2| = |{shown(setup.helix, 2)} {sign} "
        f"({shown(setup.teeth.signed_helix, 2)})| = {shown(sigma, 2)} deg (right hand positive)",
        "derived by velocity vectors",
    )
    if low - 1e-9 <= sigma <= high + 1e-9:
        return (Check((fact,)), checks.tilt_check(context, (sigma, -sigma), "Sigma"))
    why = "the edge hardly slides along the tooth" if sigma < low else "cutter and gear collide"
    wanted = _cutter_helix(setup, (low + high) / 2)
    return (
        fail(
            f"skiving cutter {setup.cutter.name} stands at crossed axes of {shown(sigma, 1)} deg, "
            f"{shown(low, 1)} to {shown(high, 1)} deg are allowed ({why})",
            f"a cutter with a helix angle of about {wanted}",
            fact,
        ),
    )


def _cutter_helix(setup: Setup, sigma: Deg) -> str:
    """Helix angle of a cutter that would do, the smaller of the two possible ones."""
    helix = min(
        (
            skiving.cutter_helix_for(signed, setup.teeth.signed_helix, setup.teeth.internal)
            for signed in (sigma, -sigma)
        ),
        key=abs,
    )
    if abs(helix) < 0.5:
        return "0 deg"
    return f"{shown(abs(helix), 1)} deg {'right' if helix > 0 else 'left'} hand"


def access_checks(context: Context, setup: Setup, standing: Standing) -> tuple[Check, ...]:
    """Check the way in, neck and holder, reach, and the room at both ends.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    setup
        The cutter at the teeth.
    standing
        The teeth in a clamping.
    """
    entry = _entry_checks(context, setup, standing) if standing.teeth.internal else ()
    if any(check.fault is not None for check in entry):
        return entry
    margins = margins_of(context)

    def remedy(found: Clearance) -> str:
        return _remedy(setup, standing, found, margins)

    body = setup.edges(float(setup.cutter.outside_diameter))
    rooms = tuple(
        room_check(clearance(body, setup.setting, standing, side, margins), setup.words, margins, remedy)
        for side in ("below", "above")
    )
    turning = (Check((differential_fact(standing.teeth),)),) if standing.teeth.helix_angle else ()
    return (*entry, *rooms, _shank_check(context, setup, standing), *turning)


def margins_of(context: Context) -> Margins:
    """Give what is added to the reach of a skiving cutter.

    Parameters
    ----------
    context
        Part and shop.
    """
    limits = context.shop.limits
    return Margins(0.0, float(limits.skiving_margin), float(limits.riser_margin))


def _entry_checks(context: Context, setup: Setup, standing: Standing) -> tuple[Check, ...]:
    teeth, cutter = standing.teeth, setup.cutter
    diameter = float(cutter.outside_diameter)
    if diameter >= teeth.gear.root_diameter or standing.entry_diameter <= 2 * ENTRY_CLEARANCE:
        opening = 0.0
    else:
        opening = skiving.largest_entering_diameter(standing.entry_diameter, ENTRY_CLEARANCE)
    fact = Fact(
        "largest cutter that enters",
        opening,
        "mm",
        f"d - 2 c = {shown(standing.entry_diameter, 2)} - 2*{shown(ENTRY_CLEARANCE, 1)} = "
        f"{shown(opening, 2)} mm",
        DERIVED,
    )
    if diameter > opening + 1e-9:
        return (
            fail(
                f"skiving cutter {cutter.name} has diameter {shown(diameter, 1)} mm, the way in is "
                f"{shown(standing.entry_diameter, 1)} mm wide and takes {shown(max(opening, 0.0), 1)} mm",
                f"a cutter of at most {shown(math.floor(opening * 10) / 10, 1)} mm"
                if opening > 0
                else "reach these teeth from the other side",
                fact,
            ),
        )
    return (Check((fact,)), _reach_check(context, standing))


def _reach_check(context: Context, standing: Standing) -> Check:
    """Depth of the edge below the top of the part against the reach of the machine."""
    reach = float(context.shop.machine.spindle.reach_inside)
    deepest = standing.depth + margins_of(context).method
    fact = Fact(
        "depth in the bore",
        deepest,
        "mm",
        f"{shown(standing.depth, 1)} + {shown(margins_of(context).method, 1)} = {shown(deepest, 1)} mm "
        f"of {shown(reach, 1)} mm",
        "shop file",
    )
    if deepest <= reach + 1e-9:
        return Check((fact,))
    return fail(
        f"the edge would stand {shown(deepest, 1)} mm below the top of the part, the head reaches "
        f"{shown(reach, 1)} mm",
        "turn the part over and cut these teeth from the other side",
        fact,
    )


def _shank_check(context: Context, setup: Setup, standing: Standing) -> Check:
    spindle = context.shop.machine.spindle
    depth, words = behind(setup.shank(spindle), setup.setting, standing)
    if depth <= 0:
        return PASSED
    cutter = setup.cutter
    return fail(
        f"neck ({shown(cutter.neck_diameter, 1)} mm), holder ({shown(cutter.holder_diameter, 1)} mm) or "
        f"{head_words(spindle)} of {cutter.name} would stand {shown(depth, 1)} mm in {words}: the edge goes "
        f"{shown(standing.depth, 1)} mm below the top, the holder begins "
        f"{shown(cutter.thickness + cutter.neck_length, 1)} mm and the head "
        f"{shown(cutter.functional_length, 1)} mm behind it",
        "a longer or more slender neck",
    )


def _remedy(setup: Setup, standing: Standing, found: Clearance, margins: Margins) -> str:
    if by_clamping := clamping_remedy(found, standing):
        return by_clamping
    smallest = max(4 * setup.teeth.depth, 0.25 * float(setup.cutter.outside_diameter))

    def passes(diameter: Mm) -> bool:
        return clearance(setup.edges(diameter), setup.setting, standing, found.side, margins).passes

    largest = largest_passing(passes, smallest, float(setup.cutter.outside_diameter))
    if largest is None:
        return f"a gap of at least {shown(math.ceil(found.needed * 10) / 10, 1)} mm, or end-mill these teeth"
    return f"the largest skiving cutter that passes at this angle has diameter {shown(largest, 1)} mm"
