"""Clampings proposed where the planner gives none: of several ways to hold the part the best is taken."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from sequencer.errors import Finding, SequencerError, Severity
from sequencer.operations.closeness import hard_finished
from sequencer.operations.context import Context
from sequencer.operations.features import feature_operations
from sequencer.operations.fitting import fit
from sequencer.operations.forbidden import without_forbidden
from sequencer.operations.layouts import Holder, Layout
from sequencer.operations.operation import BENCH, Action, FittedClamping, Operation, Stage
from sequencer.operations.reach import reach_of
from sequencer.operations.standing import Standing
from sequencer.operations.turning import CLAMP_AGAIN
from sequencer.part import BLANK, AnyFeature, Clamping, Part
from sequencer.part.section import Section
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.shop import Shop

_TEETH: Final = (ExternalGear, InternalGear, DoubleHelicalGear, Spline, BevelGear)

#: Tolerances between axes, which an eccentricity enters twice.
_OF_AXES: Final = ("runout", "total runout", "concentricity", "position")

#: Ways to hold a part that are tried with all methods in each round, after the reach alone has sorted them.
TRIED: Final = 5

#: Of these, how many are tried with a further clamping.
EXTENDED: Final = 5


@dataclass(frozen=True, order=True)
class _Merit:
    """How good clampings are; less is better, the first number that differs decides.

    Parameters
    ----------
    blocked
        Operations without a way.
    torn
        Surfaces toleranced to each other more closely than re-clamping leaves, without a common clamping.
    sent_out
        Tooth systems that only work outside makes, the planner's own wish apart.
    clampings
        Number of clampings.
    split
        Tooth systems whose flanks cannot all be finished in one clamping.
    warnings
        Warnings about the clampings, such as jaws that do not come up to their band.
    plates
        Clampings on a face plate: its straps are not drawn, so jaws and bolts are more certain.
    shifts
        Machining time in shifts of 8 h.
    apart
        Pairs among teeth and the datums that they refer to that cannot be finished in one clamping.
    half_hours
        Machining time in half hours.
    """

    blocked: int
    torn: int
    sent_out: int
    clampings: int
    split: int
    warnings: int
    plates: int
    shifts: int
    apart: int
    half_hours: int


#: Name that the clamping had when it was tried, and its operations.
_Tried = tuple[str, tuple[Operation, ...]]


@dataclass(frozen=True)
class _Work:
    """One operation over several clampings.

    Parameters
    ----------
    stage
        Its stage.
    cuts, teeth
        True if it removes material, and if it cuts teeth.
    hard
        Side of the hardening.
    minutes
        Least time in each clamping and on the bench where it has a way [min].
    wanting
        True if a clamping after hardening is wanting.
    """

    stage: Stage
    cuts: bool
    teeth: bool
    hard: bool | None
    minutes: dict[str, float]
    wanting: bool


class _Known:
    """What was tried in a clamping; the same clamping in another layout is not tried again.

    A part that is a little lighter there makes no difference to which way is better.
    """

    def __init__(self) -> None:
        self._tried: dict[tuple[str, str], _Tried] = {}

    def tried(self, holder: Holder, fitted: FittedClamping) -> _Tried:
        """Give the operations that a clamping alone allows.

        Parameters
        ----------
        holder
            Part, shop and section.
        fitted
            The clamping.
        """
        held = fitted.clamping.model_dump_json(exclude={"name"})
        key = (held, fitted.means.name)
        if key not in self._tried:
            self._tried[key] = (fitted.name, tuple(_operations(holder, fitted)))
        return self._tried[key]


def _operations(holder: Holder, fitted: FittedClamping) -> Iterator[Operation]:
    context = Context(holder.part, holder.shop, holder.section, (fitted,))
    for feature in holder.part.features:
        try:
            for operation in feature_operations(context, feature):
                yield without_forbidden(operation, holder.shop)
        except SequencerError:
            # Teeth that cannot exist or an unknown material: whoever asks for the operations is told so.
            continue


def propose_clampings(part: Part, shop: Shop, section: Section) -> tuple[tuple[Clamping, ...], Finding]:
    """Propose clampings for a part whose planner gives none.

    The raw blank is gripped outside or in its bore, or stands on a face plate; then the part is turned over
    and held on what was made: bolts, inside jaws, outside jaws, face plate. The ways that reach most
    are tried with all methods and tools; the one is taken that leaves fewest operations without a way, sends
    fewest teeth out, needs fewest clampings, keeps teeth and their datums together and takes least time. A
    further clamping is proposed where the part is hardened or two are not enough. Risers are as low as that
    allows.

    Parameters
    ----------
    part, shop, section
        Part, shop and half-section.
    """
    holder, known = Holder(part, shop, section), _Known()
    pairs: list[tuple[_Merit, Layout]] = []
    longer: list[tuple[_Merit, Layout]] = []
    for further, plated in _rounds(part):
        best_yet = min((merit for merit, _ in pairs + longer), default=None)
        if best_yet is not None and not best_yet.blocked and not best_yet.torn:
            break
        sources = [holder.after(layout) for _, layout in pairs[:EXTENDED]] if further else [holder.pairs()]
        tried = [layout for layouts in sources for layout in _most_reaching(holder, layouts, plated)]
        judged = [(_merit(holder, layout, known), layout) for layout in tried]
        if further:
            longer += judged
        else:
            pairs = sorted(pairs + judged, key=lambda entry: entry[0])
    if not pairs:
        return (), _nothing_holds(part)
    merit, best = min(pairs + longer, key=lambda entry: entry[0])
    chosen = _lowered(holder, best, merit, known)
    return chosen.clampings, note_of(chosen.clampings)


def _rounds(part: Part) -> tuple[tuple[bool, bool], ...]:
    """Rounds in which ways are tried until one leaves nothing undone: with a further clamping, on plates.

    What is hardened is always made again in a further clamping, so that plates do not save one.
    """
    pairs, longer = ((False, False), (False, True)), ((True, False), (True, True))
    return (pairs[0], longer[0], pairs[1], longer[1]) if part.heat_treatment is not None else pairs + longer


def _most_reaching(holder: Holder, layouts: Iterable[Layout], plated: bool) -> list[Layout]:
    """Give those that reach most, on high risers; either those on a face plate or the others."""
    listed = [layout for layout in layouts if bool(_plates(layout)) is plated]
    listed.sort(key=lambda layout: _unreached(holder, layout))
    return [_on_high_risers(holder, layout) for layout in listed[:TRIED]]


def _unreached(holder: Holder, layout: Layout) -> tuple[int, int]:
    """Features that no clamping reaches on their side of hardening, and the number of clampings."""
    part = holder.part
    standings = [Standing(part, holder.shop, holder.section, clamping) for clamping in layout.clampings]
    reached = [{f.name for f in part.features if reach_of(each, f).reachable} for each in standings]
    soft = set().union(*reached[: layout.hard_from])
    hard = set().union(*reached[layout.hard_from :])
    again = {f.name for f in part.features if hard_finished(f, part, holder.shop)}
    missed = sum(feature.name not in soft for feature in part.features)
    return missed + (len(again - hard) if layout.hard_from < len(layout.clampings) else 0), len(standings)


def _on_high_risers(holder: Holder, layout: Layout) -> Layout:
    for index, clamping in enumerate(layout.clampings):
        layout = layout.with_riser(index, holder.risers(clamping)[-1])
    return layout


def on_low_risers(holder: Holder, layout: Layout) -> Layout:
    """Give the same clampings, each on the lowest riser that makes them no worse.

    Parameters
    ----------
    holder
        Part, shop and section.
    layout
        The clampings, on high risers.
    """
    known = _Known()
    return _lowered(holder, layout, _merit(holder, layout, known), known)


def _lowered(holder: Holder, layout: Layout, merit: _Merit, known: _Known) -> Layout:
    """Take each riser as low as it may be without making the clampings worse."""
    for index, clamping in enumerate(layout.clampings):
        for riser in holder.risers(clamping):
            lower = layout.with_riser(index, riser)
            if riser == clamping.riser or _merit(holder, lower, known) <= merit:
                layout = lower
                break
    return layout


def _merit(holder: Holder, layout: Layout, known: _Known) -> _Merit:
    part = holder.part
    fitted, findings = fit(part, holder.shop, holder.section, layout.clampings, proposed=True)
    made = _together([known.tried(holder, clamping) for clamping in fitted], [each.name for each in fitted])
    minutes = sum(_minutes(listed, layout) for listed in made.values())
    teeth = [feature for feature in part.features if isinstance(feature, _TEETH)]
    errors = sum(finding.severity is Severity.ERROR for finding in findings)
    return _Merit(
        errors + _blocked([each for listed in made.values() for each in listed], layout),
        sum(_torn(holder, made, feature) for feature in part.features),
        sum(_only_outside(made[feature.name], feature) for feature in teeth if feature.name in made),
        len(layout.clampings),
        sum(_split(made[feature.name]) for feature in teeth if feature.name in made),
        sum(finding.severity is Severity.WARNING for finding in findings),
        _plates(layout),
        int(minutes // 480),
        sum(_apart(part, made, feature) for feature in teeth),
        int(minutes // 30),
    )


def _together(tried: Sequence[_Tried], names: Sequence[str]) -> dict[str, tuple[_Work, ...]]:
    """Join what was tried in each clamping alone: the ways of each operation, by feature."""
    joined: dict[str, dict[str, _Work]] = {}
    for (own, operations), name in zip(tried, names, strict=True):
        for operation in operations:
            works = joined.setdefault(operation.feature, {})
            ways = {way.clamping: way.minutes for way in reversed(operation.alternatives)}
            if name != own and own in ways:
                ways[name] = ways.pop(own)
            wanting = any(each.remedy == CLAMP_AGAIN for each in operation.rejected)
            before = works.get(operation.name)
            works[operation.name] = _Work(
                operation.stage,
                operation.cuts,
                operation.action is Action.CUT_TEETH,
                operation.hard,
                {**ways, **(before.minutes if before else {})},
                wanting or (before is not None and before.wanting),
            )
    return {feature: tuple(works.values()) for feature, works in joined.items()}


def _plates(layout: Layout) -> int:
    return sum(clamping.hold == "face plate" for clamping in layout.clampings)


def _minutes(works: Sequence[_Work], layout: Layout) -> float:
    """Least time for a feature; the teeth of one feature are cut in one clamping."""
    teeth = [work for work in works if work.teeth and work.minutes]
    total = sum(min(work.minutes.values()) for work in works if work.minutes and work not in teeth)
    in_one = [
        sum(min(work.minutes[place] for place in (name, BENCH) if place in work.minutes) for work in teeth)
        for name in (clamping.name for clamping in layout.clampings)
        if all(name in work.minutes or BENCH in work.minutes for work in teeth)
    ]
    return total + min(in_one, default=sum(max(work.minutes.values()) for work in teeth))


def _blocked(works: Sequence[_Work], layout: Layout) -> int:
    """Operations without a way; hard ones want at least one clamping after hardening."""
    hard = any(work.hard and set(work.minutes) - {BENCH} for work in works)
    missing = hard and layout.hard_from == len(layout.clampings)
    return missing + sum(not _has_way(work, layout) for work in works)


def _has_way(work: _Work, layout: Layout) -> bool:
    """Whether an operation has a way on its side of the hardening; being sent out for want of one is none."""
    names = [clamping.name for clamping in layout.clampings]
    # While no clamping is listed after hardening any of them may be listed again.
    hard = names[layout.hard_from :] or names
    here = {None: names, False: names[: layout.hard_from], True: hard}[work.hard]
    if any(name in work.minutes for name in here):
        return True
    return BENCH in work.minutes and not work.wanting and (not work.cuts or len(work.minutes) == 1)


def _finish(works: Sequence[_Work]) -> set[str]:
    """Clampings in which the last cut of a feature can be made."""
    last = [work for work in works if work.stage in (Stage.FINISH, Stage.HARD)]
    return set(last[-1].minutes) if last else set()


def _split(works: Sequence[_Work]) -> bool:
    """Whether no clamping finishes all flanks: both helices of one gear belong to one zero."""
    places = [set(work.minutes) for work in works if work.teeth and work.stage is Stage.FINISH]
    return len(places) > 1 and not set.intersection(*places) - {BENCH}


def _only_outside(works: Sequence[_Work], feature: AnyFeature) -> bool:
    return feature.method is None and _finish(works) == {BENCH}


def _apart(part: Part, made: dict[str, tuple[_Work, ...]], feature: AnyFeature) -> int:
    """Pairs among teeth and their datums that cannot be finished in one clamping."""
    letters = feature.datums or tuple(part.datums)
    names = dict.fromkeys(part.datums[letter] for letter in letters if letter in part.datums)
    places = [_finish(made.get(name, ())) - {BENCH} for name in (feature.name, *names)]
    return sum(not one & other for one, other in combinations(places, 2) if one and other)


def _torn(holder: Holder, made: dict[str, tuple[_Work, ...]], feature: AnyFeature) -> int:
    """Axes toleranced to each other within twice the eccentricity of a re-clamping, finished apart."""
    left = 2 * float(holder.shop.machine.capability.reclamping)
    torn = 0
    for each in feature.geometric:
        if each.characteristic in _OF_AXES and each.value <= left:
            for name in (holder.part.datums.get(letter, "") for letter in each.to):
                one, other = (_finish(made.get(key, ())) - {BENCH} for key in (feature.name, name))
                torn += bool(one and other and not one & other)
    return torn


def _nothing_holds(part: Part) -> Finding:
    return Finding(
        Severity.ERROR,
        "clampings",
        "the part file gives no clampings, and no means of the shop holds the blank of "
        f"{part.blank.diameter.text}",
        "",
        "give clampings in the part file, or add a means to the shop file",
        "clamping",
    )


def note_of(clampings: Sequence[Clamping]) -> Finding:
    """Tell the planner how the part is held where the part file gives no clampings.

    Parameters
    ----------
    clampings
        The clampings that are proposed.
    """
    words = []
    for clamping in clampings:
        on = "the blank" if clamping.on == BLANK else clamping.on
        rests = "its raw face" if clamping.rests_on == BLANK else clamping.rests_on
        riser = f" and a riser of {clamping.riser.text}" if clamping.riser > 0 else ""
        words.append(
            f"{clamping.name} {clamping.up} side up, {clamping.hold} on {on}, standing on {rests}{riser}"
        )
    return Finding(
        Severity.NOTE,
        "clampings",
        f"the part file gives no clampings; proposed: {'; '.join(words)}",
        "an estimate",
        "give clampings in the part file",
        "estimate",
    )
