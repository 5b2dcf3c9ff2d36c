"""Wear of a hob: hob teeth in use, shift, gears between two regrinds; and the facets that it leaves."""

from __future__ import annotations

import math
from typing import Final

from sequencer.cutting import hobbing
from sequencer.operations.context import Context
from sequencer.operations.facts import DERIVED
from sequencer.operations.operation import Fact
from sequencer.operations.teeth import checks
from sequencer.operations.teeth.hob_setup import Placed, Setup
from sequencer.operations.teeth.trial import Check, fail
from sequencer.operations.teeth.typical import MARK_SHARE
from sequencer.units import shown

_MAKERS: Final = "hob makers' computation of tool life, from memory"


def wear_facts(context: Context, setup: Setup, place: Placed) -> tuple[Fact, ...]:
    """Give hob teeth in use, metres for each, shift after each gear and gears until the regrind.

    A hob that only clears with one shift is not shifted: its middle teeth do all the work.

    Source: hob makers' computation of tool life, from memory

    Parameters
    ----------
    context
        Part and shop.
    setup
        The hob at the teeth.
    place
        The hob with its shift.
    """
    hob, teeth = setup.hob, setup.teeth
    module = checks.normal_module_of(hob.module)
    half = hobbing.generating_length(module, float(hob.pressure_angle))
    free = hobbing.shift_range(float(hob.length), half, module)
    fixed = bool(place.shift) or free <= 0
    used = 2 * half if fixed else free
    edges = hobbing.edges_in_use(hob.gashes, used, module, setup.lead_angle)
    why = (
        f"not shifted, {'only this shift clears' if place.shift else 'too short to shift'}: l = "
        f"2*{shown(half, 1)} = {shown(used, 1)}"
        if fixed
        else f"shifted over l0 - 2 (l + mn) = {shown(hob.length, 1)} - 2*({shown(half, 1)} + "
        f"{shown(module, 3)}) = {shown(free, 1)}"
    )
    metres = teeth.tooth_metres
    each = hobbing.metres_for_each_edge(metres, edges)
    return (
        Fact(
            "hob teeth in use",
            edges,
            "",
            f"n = i l cos(gamma)/(pi mn) = {hob.gashes}*{shown(used, 1)}*cos("
            f"{shown(setup.lead_angle, 2)} deg)/(pi*{shown(module, 3)}) = {shown(edges, 0)}; {why} mm",
            _MAKERS,
            True,
        ),
        Fact(
            "gear teeth for each hob tooth",
            each,
            "m",
            f"{shown(metres, 2)} m/{shown(edges, 0)} = {shown(each, 3)} m for one gear",
            _MAKERS,
            True,
        ),
        *_life_facts(context, setup, 0.0 if fixed else free, edges),
    )


def _life_facts(context: Context, setup: Setup, free: float, edges: float) -> tuple[Fact, ...]:
    """Shift, gears and length until the regrind and until the hob is scrap, where its life is given."""
    hob, metres = setup.hob, setup.teeth.tooth_metres
    if hob.life_length is None or float(hob.life_length) <= 0:
        return ()
    life = float(hob.life_length) / 1000
    usable = life * context.shop.limits.life_use
    gears = math.floor(usable / metres + 1e-9)
    each = hobbing.metres_for_each_edge(usable, edges)
    facts = [
        Fact(
            "gears until the hob is reground",
            float(gears),
            "",
            f"k L/L1 = {shown(context.shop.limits.life_use)}*{shown(life, 1)}/{shown(metres, 2)} = "
            f"{shown(usable / metres, 2)}, that is {shown(each, 2)} m for each hob tooth",
            _MAKERS,
            True,
        ),
        Fact(
            "length of teeth until the hob is scrap",
            usable * hob.uses,
            "m",
            f"{hob.uses} uses with {hob.uses - 1} regrinds of {shown(usable, 1)} m = "
            f"{shown(usable * hob.uses, 0)} m",
            "shop file",
            True,
        ),
    ]
    if free > 0:
        shift = hobbing.even_shift(free, metres, usable)
        facts.insert(
            0,
            Fact(
                "shift after each gear",
                shift,
                "mm",
                f"ls L1/L = {shown(free, 1)}*{shown(metres, 2)}/{shown(usable, 1)} = {shown(shift, 1)} mm, "
                f"{max(gears, 1)} place{'s' if gears > 1 else ''} until the regrind",
                DERIVED,
                True,
            ),
        )
    return tuple(facts)


def facet_check(setup: Setup) -> Check:
    """Check the facets of the profile that few gashes leave; the whole profile form tolerance is the limit.

    Source: hob makers' formula, from memory; the share of the tolerance is common practice, no source

    Parameters
    ----------
    setup
        The hob at the teeth.
    """
    teeth, hob = setup.teeth, setup.hob
    angle = teeth.gear.pressure_angle
    height = hobbing.facet_height(teeth.module, teeth.teeth, hob.starts, hob.gashes, angle)
    values = teeth.tolerances
    whole = None if values is None else values.unrounded.profile_form
    against = ""
    if whole is not None:
        share = height / whole
        against = f"; {shown(100 * share, 0)} % of the profile form tolerance of {shown(whole, 1)} um"
        if share > MARK_SHARE:
            against += f", more than the usual {shown(100 * MARK_SHARE, 0)} %"
    fact = Fact(
        "height of profile facets",
        height,
        "um",
        f"delta = 1000 pi^2 z0^2 mn sin(alpha)/(4 z i^2) = 1000*pi^2*{hob.starts}^2*{shown(teeth.module, 3)}*"
        f"sin({shown(angle, 1)} deg)/(4*{teeth.teeth}*{hob.gashes}^2) = {shown(height, 2)} um{against}",
        "hob makers' formula, from memory; confirmed by a tangent polygon",
        True,
    )
    if whole is None or height <= whole:
        return Check((fact,))
    least = math.ceil(hob.gashes * math.sqrt(height / (MARK_SHARE * whole)))
    return fail(
        f"hob {hob.name} with {hob.starts} start{'s' if hob.starts > 1 else ''} and {hob.gashes} gashes "
        f"leaves facets of {shown(height, 1)} um, the profile form tolerance is {shown(whole, 1)} um",
        f"a hob with {least} gashes for these starts, or fewer starts",
        fact,
        by_class=True,
    )


def chip_fact(setup: Setup, stage: str, feed: float, depth: float) -> Fact:
    """Give the greatest chip thickness at the hob tip, with how far it can be trusted.

    Source: B. Hoffmeister, thesis Aachen 1970; exponents from memory, not confirmed

    Parameters
    ----------
    setup
        The hob at the teeth.
    stage
        "rough" or "finish".
    feed
        Axial feed [mm].
    depth
        Depth of cut [mm].
    """
    head = head_chip(setup, feed, depth)
    return Fact(
        f"head chip thickness, {stage}",
        head,
        "mm",
        f"Hoffmeister's formula with fa {shown(feed, 3)} mm, depth {shown(depth, 2)} mm; low confidence: "
        "compare cuts by it; usual limit 0.2 to 0.25 mm for HSS, from memory",
        "B. Hoffmeister, thesis Aachen 1970; exponents from memory, not confirmed",
        True,
    )


def head_chip(setup: Setup, feed: float, depth: float) -> float:
    """Give the greatest chip thickness at the hob tip [mm].

    Source: B. Hoffmeister, thesis Aachen 1970; exponents from memory, not confirmed

    Parameters
    ----------
    setup
        The hob at the teeth.
    feed
        Axial feed [mm].
    depth
        Depth of cut [mm].
    """
    teeth, hob = setup.teeth, setup.hob
    return hobbing.head_chip_thickness(
        teeth.module,
        teeth.teeth,
        min(teeth.helix_angle, 45.0),
        teeth.gear.profile_shift,
        setup.diameter,
        hob.gashes,
        hob.starts,
        feed,
        depth,
    )
