"""Operations of a bevel gear: blank, teeth, deburring and measuring."""

from __future__ import annotations

import math
from typing import Final

from sequencer.operations.choices import out_of_reach, rough_clampings
from sequencer.operations.context import Context
from sequencer.operations.operation import Action, Fact, Operation, Rejection, Stage
from sequencer.operations.outside import sent_out
from sequencer.operations.teeth.bevel import BevelTeeth, try_end_mill
from sequencer.operations.teeth.bevel_disc import try_disc
from sequencer.operations.teeth.blank import bevel_blank_operations
from sequencer.operations.teeth.ends import (
    back_check,
    bench_deburring,
    closing_operation,
    form_check,
    hand_measuring,
    hand_outcome,
    mill_outcome,
    probe_outcome,
)
from sequencer.operations.teeth.methods import Verdicts, unsplit, verdicts_of
from sequencer.operations.teeth.plain import merged
from sequencer.operations.teeth.route import ANY_METHOD, late_side, soft_side
from sequencer.operations.teeth.sent_out import CUT_OUTSIDE, outside_alternative
from sequencer.operations.teeth.share import Aim, Share
from sequencer.operations.teeth.trial import Outcome, Way, fail, rejected
from sequencer.operations.wording import named, work_of
from sequencer.part.toothed import BevelGear
from sequencer.shop.tools import ChamferMill, DiscCutter, EndMill, Probe

_GENERATING: Final = (
    Rejection(
        "hobbing", "", "", "A hob generates teeth on a cylinder; bevel teeth taper towards the cone apex."
    ),
    Rejection(
        "power skiving",
        "",
        "",
        "A skiving cutter generates teeth on a cylinder; bevel teeth taper towards the cone apex.",
    ),
)


def bevel_operations(context: Context, gear: BevelGear) -> tuple[Operation, ...]:
    """Give the operations of a bevel gear.

    Parameters
    ----------
    context
        Part, shop, section and clampings.
    gear
        The bevel gear.
    """
    teeth = BevelTeeth(gear)
    part = context.part
    wanted = part.case_hardened if gear.hard_finish is None else gear.hard_finish
    later = wanted or gear.method == "grinding"
    outside = gear.method in CUT_OUTSIDE
    cuts = _cuts(context, teeth, later)
    if not later and all(one[1].only_by_class for one in cuts if one[0].share is not Share.ROUGH):
        later = True
        cuts = _cuts(context, teeth, later)
    side = late_side(context, gear.hard_finish)
    hard = part.case_hardened or (later and side is True)
    return (
        *bevel_blank_operations(context, gear),
        *_cut_operations(context, teeth, cuts),
        _deburr(context, teeth, outside),
        *((_grind(context, teeth, side),) if later else ()),
        _measure(context, teeth, hard, later or outside),
    )


Cuts = tuple[tuple[Aim, Verdicts], ...]


def _cuts(context: Context, teeth: BevelTeeth, later: bool) -> Cuts:
    """Rough and finish coarse teeth; in one operation where nothing roughs them but one tool does both."""
    stock = context.shop.stock
    left = float(stock.grinding) if later else 0.0

    def tried(*aims: Aim) -> Cuts:
        return tuple((aim, verdicts_of(_outcomes(context, teeth, aim))) for aim in aims)

    whole = Aim(Share.WHOLE, left, 0.0, later)
    if teeth.module < float(context.shop.limits.coarse_module):
        return tried(whole)
    before = left + float(stock.flank)
    split = tried(Aim(Share.ROUGH, before, 0.0, True), Aim(Share.FINISH, left, before, later))
    if split[0][1].alternatives or not split[1][1].alternatives:
        return split
    verdicts = tried(whole)[0][1]
    return ((whole, unsplit(verdicts, split[0][1])),) if verdicts.alternatives else split


def _outcomes(context: Context, teeth: BevelTeeth, aim: Aim) -> tuple[Outcome, ...]:
    gear, machine = teeth.gear, context.shop.machine
    clampings = rough_clampings(context, gear) if aim.share is Share.ROUGH else context.reaching(gear)
    outcomes: list[Outcome] = []
    wished = gear.tool
    for method in ("end-mill milling", "disc milling"):
        wish = gear.method
        if wish not in (None, "grinding", method):
            outcomes.append(rejected(Way(method), (fail(f"the part file asks for {wish}"),)))
        elif method not in machine.gear_methods:
            outcomes.append(rejected(Way(method), (fail(f"{machine.name} has no {method}"),)))
        elif method == "end-mill milling":
            mills = [tool for tool in context.shop.tools if isinstance(tool, EndMill)]
            tries = [
                try_end_mill(context, teeth, clamping, mill, aim) for mill in mills for clamping in clampings
            ]
            outcomes += merged(tries, tuple(mill.name for mill in mills), wished)
        else:
            discs = [tool for tool in context.shop.tools if isinstance(tool, DiscCutter)]
            tries = [
                try_disc(context, teeth, clamping, disc, aim) for disc in discs for clamping in clampings
            ]
            outcomes += merged(tries, tuple(disc.name for disc in discs), wished)
    return tuple(outcomes)


def _cut_operations(context: Context, teeth: BevelTeeth, cuts: Cuts) -> tuple[Operation, ...]:
    gear = teeth.gear
    if gear.method not in CUT_OUTSIDE:
        return tuple(_cut_operation(context, teeth, aim, verdicts) for aim, verdicts in cuts)
    return (
        Operation(
            name=f"{gear.name}/finish",
            feature=gear.name,
            stage=Stage.FINISH,
            action=Action.SEND_OUT,
            title=f"Send out: {gear.method} of {named(gear)}",
            alternatives=(outside_alternative(context, gear.name, str(gear.method)),),
            rejected=(*cuts[-1][1].rejected, *_GENERATING),
            hard=soft_side(context),
        ),
    )


def _cut_operation(context: Context, teeth: BevelTeeth, aim: Aim, verdicts: Verdicts) -> Operation:
    gear, rough = teeth.gear, aim.share is Share.ROUGH
    word = "rough" if rough else "finish"
    title = "Rough" if rough else "Finish" if aim.share is Share.FINISH else "Cut"
    outside = Rejection(
        "bevel gear cutting machine",
        "",
        "",
        f"{context.shop.machine.name} is none; outside, bevel gear machines cut {gear.form} teeth: "
        "they can be sent out.",
    )
    return Operation(
        name=f"{gear.name}/{word}",
        feature=gear.name,
        stage=Stage.ROUGH if rough else Stage.FINISH,
        action=Action.CUT_TEETH,
        title=work_of(f"{title} {gear.form} bevel teeth", gear),
        alternatives=verdicts.alternatives,
        rejected=(
            *verdicts.rejected,
            *out_of_reach(context, gear, ANY_METHOD, finishing=not rough),
            *_GENERATING,
            outside,
        ),
        heavy=rough,
        hard=soft_side(context),
    )


def _deburr(context: Context, teeth: BevelTeeth, outside: bool) -> Operation:
    gear = teeth.gear
    edge = math.pi * teeth.module + 2 * teeth.depth
    mills = [tool for tool in context.shop.tools if isinstance(tool, ChamferMill) and "teeth" in tool.use]
    clampings = context.reaching(gear)
    outcomes = [
        mill_outcome(context, gear, clamping, mill, (gear.teeth, 2, edge), ())
        for clamping in clampings
        for mill in mills
    ]
    outcomes += [hand_outcome(clamping, gear.teeth, 1) for clamping in clampings]
    if outside:
        outcomes.append(bench_deburring(gear.teeth, 1, f"{gear.method} is done outside"))
    return closing_operation(
        context,
        gear,
        "deburr",
        Stage.DEBURR,
        Action.DEBURR,
        f"Deburr tooth ends of {named(gear)}",
        tuple(outcomes),
        soft_side(context),
        lambda _: bench_deburring(gear.teeth, 1, "no clamping reaches these teeth"),
    )


def _measure(context: Context, teeth: BevelTeeth, hard: bool, back: bool) -> Operation:
    gear = teeth.gear
    probes = [tool for tool in context.shop.tools if isinstance(tool, Probe)]
    outcomes = tuple(
        probe_outcome(context, clamping, probe, (gear.teeth, 1), (form_check(gear.flank_class, probe),))
        for clamping in context.reaching(gear)
        for probe in probes
    )
    if hard or back:
        outcomes += (Outcome(alternative=back_check(context, 1)),)
    return closing_operation(
        context,
        gear,
        "measure",
        Stage.MEASURE,
        Action.MEASURE,
        f"Measure teeth and contact of {named(gear)}",
        outcomes,
        True if hard else None,
        lambda place: hand_measuring(context, place, 1, gear.flank_class),
    )


def _grind(context: Context, teeth: BevelTeeth, side: bool | None) -> Operation:
    gear, stock = teeth.gear, float(context.shop.stock.grinding)
    reason = f"Sent out for grinding with {stock:g} mm on each flank; comes back through an incoming check."
    left = Fact("stock on each flank", stock, "mm", "", "shop file")
    return Operation(
        name=f"{gear.name}/grind",
        feature=gear.name,
        stage=Stage.HARD,
        action=Action.SEND_OUT,
        title=work_of("Send out: grind teeth", gear),
        alternatives=(sent_out(context.shop, "grinding", reason, left),),
        hard=side,
    )
