"""Rake and clearance that the flank edges of a skiving cutter really have, pass by pass."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import groupby
from typing import Final

from sequencer.cutting.simulation import (
    COARSE,
    PartlyCut,
    PassAngles,
    SkivingCutter,
    SkivingSetup,
    ideal_cutter,
    pass_angles,
    profile_of,
    skiving_setup,
)
from sequencer.cutting.simulation.profile import Profile
from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear
from sequencer.operations.context import Context
from sequencer.operations.operation import Fact
from sequencer.operations.teeth.skiving_setup import Setup
from sequencer.operations.teeth.trial import Check, fail
from sequencer.units import Deg, Mm, shown

SOURCE: Final = (
    "derived by the motion in space, angles as in ISO 3002-1 (from memory); to about a degree, edge as made "
    "for this gear"
)
#: Times that a profile is made narrower before it is said that no edge cuts it.
_TRIES: Final = 4
#: An end of the profile that can be cut is drawn in by this share of the tooth depth.
_INSET: Final = 5e-3
#: Passes that are looked at; of more than this, evenly spread ones.
_MOST: Final = 16


@dataclass(frozen=True)
class Cut:
    """Infeeds of a skiving operation and what stands before and after it; a key for what is known already.

    Parameters
    ----------
    gear
        The gear.
    teeth
        Teeth of the cutter [-].
    helix
        Helix angle of the cutter, right hand positive [deg].
    feed
        Axial feed of the last pass [mm].
    before
        Depth that earlier operations have cut [mm].
    infeeds
        Radial infeed of each pass [mm].
    left
        Infeed that is left for later operations [mm].
    """

    gear: CylindricalGear
    teeth: int
    helix: Deg
    feed: Mm
    before: Mm
    infeeds: tuple[Mm, ...]
    left: Mm


def flank_relief(tip_relief: Deg, pressure_angle: Deg) -> Deg:
    """Give the relief of a flank square to its edge, that the relief of the tips brings along.

    Source: derived: the flank moves inwards by tan(relief) sin(alpha) for each mm behind the edge

    Parameters
    ----------
    tip_relief
        Relief of the tooth tips [deg].
    pressure_angle
        Pressure angle [deg].
    """
    rise = math.tan(math.radians(tip_relief)) * math.sin(math.radians(pressure_angle))
    return math.degrees(math.atan(rise))


@lru_cache(maxsize=512)
def angles_without_relief(cut: Cut) -> tuple[PassAngles, ...]:
    """Give rake and clearance of the flank edges in each pass, for a cutter without relief.

    Source: derived; relief only adds to the clearance

    Parameters
    ----------
    cut
        The passes.

    Raises
    ------
    OutOfRange
        When no edge cuts any part of the profile.
    """
    full = skiving_setup(cut.gear, cut.teeth, cut.helix, cut.feed)
    profile = profile_of(cut.gear)
    for _ in range(_TRIES):
        try:
            edge = ideal_cutter(profile, full, COARSE)
        except PartlyCut as error:
            inset = _INSET * cut.gear.tooth_depth
            profile = Profile(cut.gear, error.start_diameter + inset, error.end_diameter - inset)
            continue
        if len(cut.infeeds) > _MOST:
            spread = _looked_at(len(cut.infeeds))
            return tuple(one for number in spread for one in _one_pass(cut, full, number, edge, profile))
        infeeds = (cut.before, *cut.infeeds) if cut.before > 0 else cut.infeeds
        setup = _moved(full, cut, cut.left)
        found = pass_angles(cut.gear, setup, infeeds, cutter=edge, profile=profile, grain=COARSE)
        first = len(infeeds) - len(cut.infeeds)
        return tuple(replace(one, number=one.number - first) for one in found if one.number > first)
    raise OutOfRange(
        f"no part of the profile can be cut by {cut.teeth} teeth in this set-up",
        where="skiving angles",
        limit="an edge that does not turn back",
        remedy="Take a cutter with more teeth or a smaller crossed-axes angle",
    )


def _moved(full: SkivingSetup, cut: Cut, rest: Mm) -> SkivingSetup:
    """The set-up with a rest of the infeed still to come."""
    back = -rest if cut.gear.internal else rest
    return replace(full, centre_distance=full.centre_distance + back)


def _looked_at(passes: int) -> tuple[int, ...]:
    """Passes that are looked at of very many: the first, the last and some evenly between."""
    return tuple(sorted({1 + round((passes - 1) * step / (_MOST - 1)) for step in range(_MOST)}))


def _one_pass(
    cut: Cut, full: SkivingSetup, number: int, edge: SkivingCutter, profile: Profile
) -> tuple[PassAngles, ...]:
    """Angles of one pass: all that is cut before it counts as one pass to the same depth."""
    done = cut.before + math.fsum(cut.infeeds[: number - 1])
    rest = cut.left + math.fsum(cut.infeeds[number:])
    infeeds = (done, cut.infeeds[number - 1]) if done > 0 else cut.infeeds[:1]
    setup = _moved(full, cut, rest)
    found = pass_angles(cut.gear, setup, infeeds, cutter=edge, profile=profile, grain=COARSE)
    return tuple(replace(one, number=number) for one in found if one.number == len(infeeds))


def clearance_check(context: Context, setup: Setup, cut: Cut) -> Check:
    """Check the clearance that the flanks of the cutter keep in motion; rake and clearance are facts.

    Where the shop file does not give the relief of the flanks, too little is said but refuses nothing.

    Parameters
    ----------
    context
        Part and shop.
    setup
        The cutter at the teeth.
    cut
        The passes.
    """
    cutter = setup.cutter
    given = cutter.flank_relief
    relief = (
        flank_relief(float(cutter.relief_angle), cut.gear.pressure_angle) if given is None else float(given)
    )
    try:
        passes = angles_without_relief(cut)
    except OutOfRange as error:
        words = f"not known: {error.what}"
        return Check((Fact("passes without known edge angles", float(len(cut.infeeds)), "", words, SOURCE),))
    if not passes:
        return Check()
    limit = float(context.shop.limits.skiving_clearance)
    worst = min(passes, key=lambda one: one.least_clearance)
    least = worst.least_clearance + relief
    enough = least >= limit - 1e-9
    facts = _facts(setup, passes, relief, limit, enough)
    if enough or given is None:
        return Check(facts)
    more = math.ceil((limit - worst.least_clearance) * 10) / 10
    return fail(
        f"the flanks of skiving cutter {cutter.name} would keep {shown(least, 1)} deg of clearance in pass "
        f"{worst.number} of {len(cut.infeeds)}, {shown(limit, 1)} deg are wanted",
        f"a cutter with {shown(more, 1)} deg of flank relief, more cutter teeth or smaller crossed axes",
        *facts,
    )


def _facts(
    setup: Setup, passes: tuple[PassAngles, ...], relief: Deg, limit: Deg, enough: bool
) -> tuple[Fact, ...]:
    stepped = setup.cutter.face == "square to teeth"
    clearances = [(one.least_clearance + relief, one.greatest_clearance + relief) for one in passes]
    # In a face square to the tooth rake, wedge and clearance add up to 90 deg with the wedge 90 less relief.
    rakes = [
        (-one.greatest_clearance, -one.least_clearance) if stepped else (one.least_rake, one.greatest_rake)
        for one in passes
    ]
    numbers = [one.number for one in passes]
    how = (
        "given" if setup.cutter.flank_relief is not None else f"from {setup.cutter.relief_angle} at the tips"
    )
    verdict = "" if enough else ": TOO LITTLE if the relief is so; give flank_relief of the cutter"
    return (
        Fact(
            "least effective clearance",
            min(low for low, _ in clearances),
            "deg",
            f"flank relief {shown(relief, 1)} deg ({how}), at least {shown(limit, 1)} deg wanted{verdict}; "
            f"{_by_pass(numbers, clearances)}",
            SOURCE,
            True,
        ),
        Fact(
            "least effective rake",
            min(low for low, _ in rakes),
            "deg",
            f"rake face {setup.cutter.face}; {_by_pass(numbers, rakes)}",
            SOURCE,
            True,
        ),
    )


def _by_pass(numbers: list[int], ranges: list[tuple[Deg, Deg]]) -> str:
    """Write the range of each pass; passes whose numbers read the same stand together."""
    words = []
    read = [
        (number, f"{shown(low, 0)} to {shown(high, 0)}")
        for number, (low, high) in zip(numbers, ranges, strict=True)
    ]
    for text, group in groupby(read, key=lambda one: one[1]):
        members = [number for number, _ in group]
        which = f"pass {members[0]}" if len(members) == 1 else f"passes {members[0]} to {members[-1]}"
        words.append(f"{which} {text}")
    return ", ".join(words) + " deg"
