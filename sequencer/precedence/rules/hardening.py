"""Hardening, hard finishing and work that is sent out."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.operations import BENCH, Action, Operation, Stage
from sequencer.part import AnyFeature
from sequencer.part.milled import BoltCircle, Keyway
from sequencer.precedence.context import RuleContext, Toothed, machine_clampings
from sequencer.precedence.demands import Outcome, Wanted, before, note, same_clamping, warning, wish
from sequencer.precedence.dependency import Strength
from sequencer.precedence.rule import MEMORY, Kept, Rule
from sequencer.precedence.rules.datums import axis_datum
from sequencer.precedence.rules.roughing_and_heat import module_of
from sequencer.precedence.settle import shortest_way
from sequencer.precedence.work import is_late, removes

_TEETH = (Action.CUT_TEETH, Action.SEND_OUT)


def sides(
    context: RuleContext, treatment: Operation, soft_reason: str, hard_reason: str
) -> Iterator[Outcome]:
    """Put what is planned soft before a heat treatment, and what is planned hard after it.

    The last soft and the first hard cut of each chain of stages are enough; the others follow.

    Parameters
    ----------
    context
        The operations.
    treatment
        The heat treatment.
    soft_reason, hard_reason
        Why, for a review.
    """
    chains: dict[tuple[str, bool, str, bool], list[Operation]] = {}
    for op in context.all:
        if op.hard is not None and op is not treatment:
            part = op.half if removes(op) else op.name
            key = (op.feature, op.action in _TEETH, part, op.hard)
            chains.setdefault(key, []).append(op)
    for (_, _, _, hard), chain in chains.items():
        if hard:
            yield before(treatment, chain[0], hard_reason)
        else:
            yield before(chain[-1], treatment, soft_reason)


def case_hardening(context: RuleContext) -> Iterator[Outcome]:
    """R41: cut soft with stock, harden, make bore and face anew from the teeth, then finish the teeth.

    Parameters
    ----------
    context
        The operations.
    """
    treatment = context.heat_treatment("case hardening")
    if treatment is None:
        return
    yield from sides(
        context,
        treatment,
        "cut soft, with stock for hard finishing: a case cannot be cut as well and moves the part",
        "hardening moves the part: this surface is made right afterwards",
    )
    for op in context.all:
        turning = op.action in (Action.TURN, Action.GROOVE, Action.CUT_TEETH)
        if turning and op.hard is None and op.stage in (Stage.ROUGH, Stage.SEMI):
            yield before(op, treatment, f"{op.stage} work on {op.feature} is done in the soft state")
    yield from _datums_from_teeth(context)


def _datums_from_teeth(context: RuleContext) -> Iterator[Outcome]:
    for gear in context.toothed:
        hard = [op for op in context.teeth(gear.name) if op.hard is True]
        for tooth in hard[:1]:
            made = False
            for reference in gear.datums:
                name = context.resolve(reference)
                for op in context.cuts(name) if name and name != gear.name else ():
                    if op.hard is True:
                        made = True
                        yield before(
                            op,
                            tooth,
                            f"flanks of {gear.name} are finished from {name}, made anew from the teeth",
                        )
            axis = axis_datum(context, gear)
            if not made and axis:
                yield warning(
                    gear.name,
                    f"its datum {axis} is not made anew after hardening",
                    "the case stays even only if the bore follows the teeth",
                    f"Plan hard turning or grinding of {axis}, indicated on the pitch line of {gear.name}",
                )
            elif made:
                yield note(
                    gear.name,
                    "its datums are made anew after hardening",
                    "",
                    f"Indicate the pitch line of {gear.name} before they are cut",
                )


def position_after_hardening(context: RuleContext) -> Iterator[Outcome]:
    """R42: keyways and tapped holes of case-hardened parts are masked, or cut afterwards where place matters.

    Parameters
    ----------
    context
        The operations.
    """
    treatment = context.heat_treatment("case hardening")
    if treatment is None:
        return
    for feature in context.part.features:
        if not _kept_soft(feature):
            continue
        first = context.begun(feature.name)
        if first is None or first.hard is True:
            continue
        if first.hard is None and context.is_close(feature):
            yield wish(treatment, first, f"the place of {feature.name} drifts in hardening")
        else:
            yield note(
                feature.name,
                "is cut before case hardening",
                "",
                "Mask it against carbon, or leave stock and cut it afterwards",
            )


def _kept_soft(feature: AnyFeature) -> bool:
    return isinstance(feature, Keyway) or (
        isinstance(feature, BoltCircle) and feature.thread_pitch is not None
    )


def nitriding(context: RuleContext) -> Iterator[Outcome]:
    """R43: everything, teeth and their grinding included, is finished before nitriding; then only fine work.

    Parameters
    ----------
    context
        The operations.
    """
    treatment = context.heat_treatment("nitriding")
    if treatment is None:
        return
    yield from sides(
        context,
        treatment,
        "finished before nitriding: the layer is thin and moves little",
        "planned after nitriding",
    )
    yield note(
        "heat treatment",
        "nitriding sets free what stress is left",
        "stress relief at least about 30 K above the nitriding temperature (from memory)",
        "Relieve stress before the finishing cuts",
    )
    for op in context.all:
        if not removes(op):
            continue
        if op.hard is not True and op.stage is Stage.HARD:
            yield before(op, treatment, f"{op.feature} is ground to size first: the nitrided layer is thin")
        elif op.hard is None:
            yield wish(op, treatment, f"{op.feature} is finished before nitriding")
        elif op.hard is True:
            yield warning(
                op.name,
                "cuts into the nitrided layer",
                "after nitriding only honing, lapping or thin grinding",
                "Finish it before nitriding",
            )


def induction_hardening(context: RuleContext) -> Iterator[Outcome]:
    """R44: teeth are cut with stock and deburred, hardened, the bore is finished, then they are ground.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    treatment = context.heat_treatment("induction hardening")
    if treatment is None:
        return
    yield from sides(
        context,
        treatment,
        "cut before induction hardening, with stock where it is finished afterwards",
        "finished after induction hardening, which moves bore and teeth a little",
    )
    for gear in context.toothed:
        yield note(
            gear.name,
            "is induction hardened",
            "soft zones may stay at the tooth ends",
            "Check hardness at both ends of the teeth",
        )
        yield from _teeth_about(context, gear, treatment)
    for axis in dict.fromkeys(axis_datum(context, gear) for gear in context.toothed):
        for bore in context.done(axis) if axis else ():
            if bore.hard is None:
                yield from _bore_after(context, axis, bore, treatment)


def _teeth_about(context: RuleContext, gear: Toothed, treatment: Operation) -> Iterator[Outcome]:
    """Cut teeth before induction hardening and grind them after it."""
    grinding = [op for op in context.teeth(gear.name) if op.stage is Stage.HARD]
    for tooth in context.last_teeth(gear.name):
        if tooth.hard is None:
            demand = before if grinding else wish
            yield demand(tooth, treatment, f"{gear.name} is cut before it is hardened")
    for tooth in grinding:
        if tooth.hard is not True:
            yield before(treatment, tooth, f"hardening moves the flanks of {gear.name}: finished after it")


def _bore_after(context: RuleContext, axis: str, bore: Operation, treatment: Operation) -> Iterator[Outcome]:
    """Finish a bore after hardening; where other musts forbid it, say what follows."""
    reason = f"{axis} is finished after hardening of the teeth has moved it"
    otherwise = f"{axis} is finished before induction hardening, which moves it"
    remedy = (
        f"Measure {axis} after hardening; leave stock in it and let a clamping that is used after hardening "
        f"reach {axis} and the teeth, or have it ground"
    )
    if not context.leads(bore, treatment):
        yield Wanted(before(treatment, bore, reason), otherwise, remedy)
        return
    way = shortest_way(context.deduction.certain, bore.name, treatment.name)
    chain = "; ".join(f"{arrow.first} before {arrow.second} ({arrow.because.rule})" for arrow in way)
    yield warning(axis, otherwise, f"R44 wants {treatment.name} before {bore.name}, but {chain}", remedy)


def quenched_and_tempered(context: RuleContext) -> Iterator[Outcome]:
    """R45: a quenched and tempered blank is finished as it is; nothing is split by a heat treatment.

    Parameters
    ----------
    context
        The operations.
    """
    group = next((m.group for m in context.shop.materials if m.name == context.part.material), "")
    if group != "quenched and tempered steel" or context.heat_treatments:
        return
    hard = [op.name for op in context.all if op.hard is True]
    if hard:
        yield warning(
            context.part.material,
            f"{', '.join(hard)} planned as hard finishing, but nothing is hardened",
            "a quenched and tempered blank is finished soft",
            "Drop hard_finish, or name the heat treatment",
        )
    else:
        yield note(
            context.part.material,
            "is quenched and tempered: no heat treatment splits the route",
            "tool life, not distortion, limits it",
        )


def even_stock(context: RuleContext) -> Iterator[Outcome]:
    """R46: teeth are finished where they were roughed; after hardening the stock is centred on both flanks.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in context.toothed:
        yield from _finished_where_roughed(context, gear)
        for tooth in (op for op in context.teeth(gear.name) if op.hard is True):
            probes = [
                op for op in context.operations.of(gear.name, action=Action.PROBE) if op.hard is not False
            ]
            for probe in probes:
                yield before(probe, tooth, f"stock of {gear.name} is centred on both flanks before it is cut")
                for treatment in context.heat_treatments:
                    yield before(treatment, probe, "distortion is measured after hardening")
            if not probes and machine_clampings(tooth):
                yield warning(
                    gear.name,
                    f"no step centres the stock before {tooth.name}",
                    "uneven stock breaks the case or leaves a flank uncut",
                    "Measure distortion and probe both flanks before hard finishing",
                )


def _finished_where_roughed(context: RuleContext, gear: Toothed) -> Iterator[Outcome]:
    relieved = context.heat_treatment("stress relief") is not None
    if relieved and module_of(gear) >= context.shop.limits.coarse_module and context.tooth_roughs(gear.name):
        yield note(
            gear.name,
            "is gashed before stress relief and finished after it",
            "even stock on both flanks",
            f"Probe both flanks of a gap of {gear.name} to find its angle before it is finished",
        )
        return
    for rough in context.tooth_roughs(gear.name):
        for finish in context.last_teeth(gear.name):
            if finish is not rough and finish.half in ("", rough.half) and machine_clampings(finish):
                yield Wanted(
                    same_clamping(rough, finish, f"{gear.name} keeps even stock on both flanks if not moved"),
                    f"{gear.name} is finished in another clamping than it was roughed in: uneven stock",
                    f"Probe both flanks of a gap of {gear.name} to find its angle before {finish.name}",
                )


def sent_out(context: RuleContext) -> Iterator[Outcome]:
    """R50: what is sent out leaves with its datums made and burr removed, and is checked when it is back.

    Parameters
    ----------
    context
        The operations.
    """
    for op in (op for op in context.all if op.action is Action.SEND_OUT):
        feature = context.part.by_name.get(op.feature)
        if feature is None:
            continue
        for reference in feature.datums:
            name = context.resolve(reference)
            for done in context.ready(name, op) if name and name != feature.name else ():
                if done is not op:
                    yield before(
                        done, op, f"{feature.name} is cut outside from {name}, which leaves finished"
                    )
        for edge in context.deburring(feature.name):
            if edge.hard is not True and isinstance(feature, Toothed) and is_late(op):
                yield before(edge, op, f"{feature.name} travels without burr")
        yield note(
            op.name,
            "leaves the shop",
            "datums protected, stock known",
            "State datum, stock and protection in the order; check datum and size when it is back",
        )
        yield from _one_trip(context, op)


def _one_trip(context: RuleContext, sent: Operation) -> Iterator[Outcome]:
    """What is measured on the bench waits until all of it is back."""
    for op in context.all:
        if op.stage is Stage.MEASURE and op.hard is sent.hard and BENCH in op.clampings:
            yield wish(sent, op, "all that is sent out goes in one trip and is checked when it is back")


RULES = (
    Rule(
        "R41",
        "Case hardening splits the route",
        Strength.MUST,
        "Hardening moves the part; bore and face are made anew from the teeth so that the case stays even.",
        "Research on machining process for gear shafts (article); "
        "Internal gears: skiving, precision grinding, inspection chain (article)",
        case_hardening,
        Kept.BOTH,
    ),
    Rule(
        "R42",
        "Keyways and threads of case-hardened parts",
        Strength.SHOULD,
        "Their place and size drift in hardening.",
        "Research on machining process for gear shafts (article)",
        position_after_hardening,
        Kept.BOTH,
        penalty=20.0,
    ),
    Rule(
        "R43",
        "Finish before nitriding",
        Strength.SHOULD,
        "Nitriding moves the part little, and its layer is too thin to cut.",
        "Comparison of nitriding, nitrocarburizing and carburizing (article); from memory of handbooks",
        nitriding,
        Kept.BOTH,
        penalty=30.0,
    ),
    Rule(
        "R44",
        "Induction hardening after teeth, before bore and grinding",
        Strength.MUST,
        "Hardening tooth by tooth moves bore and flanks, and leaves soft zones at the ends.",
        MEMORY,
        induction_hardening,
        Kept.BOTH,
        penalty=20.0,
        late=True,
    ),
    Rule(
        "R45",
        "Quenched and tempered blanks are finished soft",
        Strength.MUST,
        "Tool life, not distortion, drives the plan.",
        "Tool wear development in gear skiving of quenched and tempered internal gears (paper); "
        "common practice, no source",
        quenched_and_tempered,
        Kept.CHECK,
    ),
    Rule(
        "R46",
        "Even stock on both flanks",
        Strength.MUST,
        "Uneven stock breaks the case or leaves a flank unfinished; moved parts are probed in the gaps.",
        "Research on machining process for gear shafts (article); "
        "Internal gears: skiving, precision grinding, inspection chain (article)",
        even_stock,
        Kept.BOTH,
    ),
    Rule(
        "R50",
        "Work sent out",
        Strength.MUST,
        "It leaves with known stock and protected datums and is checked before the next cut.",
        "Outsourcing metalworking operations: what to keep in-house (article)",
        sent_out,
        Kept.BOTH,
        penalty=10.0,
    ),
)
