"""From blank to finished teeth: which cuts a tooth system gets, and whether its flanks are finished later."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from sequencer.operations.choices import out_of_reach, rough_clampings
from sequencer.operations.context import Context
from sequencer.operations.operation import Action, Alternative, Operation, Rejection, Stage
from sequencer.operations.teeth import sent_out
from sequencer.operations.teeth.halves import one_method
from sequencer.operations.teeth.methods import Verdicts, try_all, try_hard, unsplit
from sequencer.operations.teeth.share import Aim, Share
from sequencer.operations.teeth.zone import Teeth
from sequencer.operations.wording import named, work_of

#: What stands for the method where a clamping rules out all of them.
ANY_METHOD: Final = "any method"

_WORDS: Final = {
    Share.ROUGH: ("rough", "Rough teeth"),
    Share.WHOLE: ("finish", "Cut teeth"),
    Share.FINISH: ("finish", "Finish teeth"),
    Share.HARD: ("hard", "Finish hardened teeth"),
}


@dataclass(frozen=True)
class Later:
    """Whether flanks are finished after the soft cut.

    Parameters
    ----------
    why
        Why they are; empty if the soft cut finishes them.
    side
        True if that is after hardening, False if before, None if nothing is hardened.
    """

    why: str = ""
    side: bool | None = None

    @property
    def hard(self) -> bool:
        """Whether that is after hardening."""
        return self.side is True


def soft_side(context: Context) -> bool | None:
    """Side of a heat treatment that teeth are cut on: before whatever makes their flanks hard.

    Source: common practice, no source

    Parameters
    ----------
    context
        Part and shop.
    """
    treatment = context.part.heat_treatment
    return None if treatment is None or treatment.kind == "stress relief" else False


def late_side(context: Context, wanted: bool | None) -> bool | None:
    """Side of a heat treatment that flanks are finished on after they were cut with stock.

    A case and an induction-hardened layer are thick and move the part: after. A nitrided layer is thin:
    before, unless the part file asks for a finish of the hard flanks.

    Source: common practice, no source

    Parameters
    ----------
    context
        Part and shop.
    wanted
        Whether the part file asks for a finish of the hard flanks; None if it does not say.
    """
    treatment = context.part.heat_treatment
    if treatment is None or treatment.kind == "stress relief":
        return None
    return treatment.kind != "nitriding" or wanted is True


def later_of(context: Context, runs: tuple[Teeth, ...]) -> Later:
    """Decide whether flanks are finished later: after hardening, by wish, or because the class is too fine.

    Source: derived

    Parameters
    ----------
    context
        Part, shop, section and clampings.
    runs
        The runs of teeth of one feature.
    """
    feature, part = runs[0].feature, context.part
    side = late_side(context, feature.hard_finish)
    wanted = part.case_hardened if feature.hard_finish is None else feature.hard_finish
    if wanted and side is not None:
        return Later("its flanks are finished after hardening", side)
    if feature.method == "grinding" or wanted:
        return Later("the part file asks for it", side)
    for teeth in runs:
        aim = Aim(Share.WHOLE, runs=len(runs))
        if try_all(context, teeth, context.reaching(feature), aim).only_by_class:
            return Later(f"no method here reaches {teeth.flank_class}", side)
    return Later()


def cut_operations(context: Context, runs: tuple[Teeth, ...], later: Later) -> tuple[Operation, ...]:
    """Give the soft cuts: one for fine teeth, roughing and finishing for coarse ones; both halves in turn.

    Parameters
    ----------
    context
        Part, shop, section and clampings.
    runs
        The runs of teeth of one feature.
    later
        Whether flanks are finished later.
    """
    feature, stock = runs[0].feature, context.shop.stock
    if feature.method in sent_out.CUT_OUTSIDE:
        return (_outside(context, runs),)
    left = float(stock.grinding) if later.why else 0.0
    finish = Aim(Share.WHOLE, left, 0.0, bool(later.why), len(runs))
    if runs[0].module < float(context.shop.limits.coarse_module):
        return _stage(context, runs, finish, _tried(context, runs, finish))
    before = left + float(stock.flank)
    rough = Aim(Share.ROUGH, before, 0.0, later=True, runs=len(runs))
    roughed = _tried(context, runs, rough)
    if not all(verdicts.alternatives for verdicts in roughed):
        whole = _tried(context, runs, finish)
        if all(verdicts.alternatives for verdicts in whole):
            found = tuple(unsplit(one, two) for one, two in zip(whole, roughed, strict=True))
            return _stage(context, runs, finish, found)
    last = replace(finish, share=Share.FINISH, before=before)
    return (
        *_stage(context, runs, rough, roughed),
        *_stage(context, runs, last, _tried(context, runs, last)),
    )


def _tried(context: Context, runs: tuple[Teeth, ...], aim: Aim) -> tuple[Verdicts, ...]:
    """Try all methods on each run; both halves of a double-helical gear keep one method."""
    feature = runs[0].feature
    clampings = rough_clampings(context, feature) if aim.share is Share.ROUGH else context.reaching(feature)
    return one_method(tuple(try_all(context, teeth, clampings, aim) for teeth in runs))


def _stage(
    context: Context, runs: tuple[Teeth, ...], aim: Aim, found: tuple[Verdicts, ...]
) -> tuple[Operation, ...]:
    finishing = aim.share is not Share.ROUGH
    unreached = out_of_reach(context, runs[0].feature, ANY_METHOD, finishing=finishing)
    return tuple(
        _operation(context, teeth, aim, verdicts, (*unreached, *sent_out.remarks(context, teeth)))
        for teeth, verdicts in zip(runs, found, strict=True)
    )


def _outside(context: Context, runs: tuple[Teeth, ...]) -> Operation:
    feature = runs[0].feature
    method = str(feature.method)
    return Operation(
        name=f"{feature.name}/finish",
        feature=feature.name,
        stage=Stage.FINISH,
        action=Action.SEND_OUT,
        title=f"Send out: {method} of {named(feature)}",
        alternatives=(sent_out.outside_alternative(context, feature.name, method),),
        rejected=try_all(context, runs[0], context.reaching(feature), Aim(Share.WHOLE)).rejected,
        hard=soft_side(context),
    )


def _operation(
    context: Context, teeth: Teeth, aim: Aim, verdicts: Verdicts, remarks: tuple[Rejection, ...]
) -> Operation:
    word, title = _WORDS[aim.share]
    feature, half = teeth.feature, f"_{teeth.half}" if teeth.half else ""
    hand = "" if teeth.hand == "spur" else f", {teeth.hand} hand"
    of_half = f", {teeth.half} half" if teeth.half else ""
    stages = {Share.ROUGH: Stage.ROUGH, Share.HARD: Stage.HARD}
    left = f", leave {aim.stock:g} mm on each flank" if aim.stock and aim.share is not Share.ROUGH else ""
    return Operation(
        name=f"{feature.name}/{word}{half}",
        feature=feature.name,
        stage=stages.get(aim.share, Stage.FINISH),
        action=Action.CUT_TEETH,
        title=f"{work_of(title, feature)}{of_half}{hand}{left}",
        alternatives=verdicts.alternatives,
        rejected=(*verdicts.rejected, *remarks),
        half=teeth.half,
        heavy=aim.share is Share.ROUGH,
        hard=True if aim.share is Share.HARD else soft_side(context),
    )


def later_operations(context: Context, runs: tuple[Teeth, ...], later: Later) -> tuple[Operation, ...]:
    """Give the finish after the soft cut: hard skiving where it passes, else sent-out grinding.

    Parameters
    ----------
    context
        Part, shop, section and clampings.
    runs
        The runs of teeth of one feature.
    later
        Whether flanks are finished later, and why.
    """
    if not later.why:
        return ()
    feature = runs[0].feature
    aim = Aim(Share.HARD, before=float(context.shop.stock.grinding), runs=len(runs))
    found: tuple[Verdicts, ...] = ()
    if later.hard and feature.method != "grinding":
        found = one_method(tuple(try_hard(context, teeth, context.reaching(feature), aim) for teeth in runs))
        if all(verdicts.alternatives for verdicts in found):
            return tuple(
                _operation(context, teeth, aim, verdicts, (sent_out.remarks(context, teeth)[-1],))
                for teeth, verdicts in zip(runs, found, strict=True)
            )
    failed = tuple(rejection for verdicts in found for rejection in verdicts.rejected)
    return (_grind(runs, sent_out.grinding_alternative(context, runs[0], later.why), failed, later.side),)


def _grind(
    runs: tuple[Teeth, ...],
    alternative: Alternative,
    failed: Iterable[Rejection],
    side: bool | None,
) -> Operation:
    feature = runs[0].feature
    return Operation(
        name=f"{feature.name}/grind",
        feature=feature.name,
        stage=Stage.HARD,
        action=Action.SEND_OUT,
        title=work_of("Send out: grind teeth", feature),
        alternatives=(alternative,),
        rejected=tuple(dict.fromkeys(failed)),
        hard=side,
    )
