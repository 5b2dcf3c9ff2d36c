"""Clampings proposed where the planner gives none: of several ways to hold the part the best is taken."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from sequencer.errors import Finding, OutOfRange, SequencerError, Severity
from sequencer.operations.closeness import hard_finished
from sequencer.operations.context import Context
from sequencer.operations.features import feature_operations
from sequencer.operations.fitting import fit
from sequencer.operations.layouts import Holder, Layout
from sequencer.operations.operation import BENCH, Action, Operation, Stage
from sequencer.operations.reach import reach_of
from sequencer.operations.standing import Standing
from sequencer.part import BLANK, AnyFeature, Clamping, Part
from sequencer.part.section import Section
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.shop import Shop

_TEETH: Final = (ExternalGear, InternalGear, DoubleHelicalGear, Spline, BevelGear)

#: Ways to hold a part that are tried with all methods in each round, after the reach alone has sorted them.
TRIED: Final = 5


@dataclass(frozen=True, order=True)
class _Merit:
    """How good clampings are; less is better, the first number that differs decides.

    Parameters
    ----------
    blocked
        Operations without a way.
    sent_out
        Tooth systems that only work outside makes, the planner's own wish apart.
    clampings
        Number of clampings.
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
    sent_out: int
    clampings: int
    warnings: int
    plates: int
    shifts: int
    apart: int
    half_hours: int


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
    holder = Holder(part, shop, section)
    tried: list[tuple[_Merit, Layout]] = []
    for further, plated in _rounds(part):
        if tried and not tried[0][0].blocked:
            break
        wider = holder.after(tried[0][1]) if further and tried else () if further else holder.pairs()
        judged = [(_merit(holder, layout), layout) for layout in _most_reaching(holder, wider, plated)]
        tried = sorted((*tried, *judged), key=lambda entry: entry[0])
    if not tried:
        return (), _nothing_holds(part)
    merit, best = tried[0]
    chosen = _lowered(holder, best, merit)
    return chosen.clampings, _note(chosen.clampings)


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


def _lowered(holder: Holder, layout: Layout, merit: _Merit) -> Layout:
    """Take each riser as low as it may be without making the clampings worse."""
    for index, clamping in enumerate(layout.clampings):
        for riser in holder.risers(clamping):
            lower = layout.with_riser(index, riser)
            if riser == clamping.riser or _merit(holder, lower) <= merit:
                layout = lower
                break
    return layout


def _merit(holder: Holder, layout: Layout) -> _Merit:
    part, shop = holder.part, holder.shop
    fitted, findings = fit(part, shop, holder.section, layout.clampings, proposed=True)
    errors = sum(finding.severity is Severity.ERROR for finding in findings)
    context = Context(part, shop, holder.section, fitted)
    made: dict[str, tuple[Operation, ...]] = {}
    failed = 0
    for feature in part.features:
        try:
            made[feature.name] = feature_operations(context, feature)
        except OutOfRange:
            failed += 1
        except SequencerError:
            # The material is unknown to the shop: whoever asks for the operations is told so.
            made[feature.name] = ()
    operations = [operation for listed in made.values() for operation in listed]
    minutes = sum(_minutes(listed, layout) for listed in made.values())
    teeth = [feature for feature in part.features if isinstance(feature, _TEETH)]
    return _Merit(
        failed + errors + sum(not _has_way(operation, layout) for operation in operations),
        sum(_only_outside(made.get(feature.name, ()), feature) for feature in teeth),
        len(layout.clampings),
        sum(finding.severity is Severity.WARNING for finding in findings),
        _plates(layout),
        int(minutes // 480),
        sum(_apart(part, made, feature) for feature in teeth),
        int(minutes // 30),
    )


def _plates(layout: Layout) -> int:
    return sum(clamping.hold == "face plate" for clamping in layout.clampings)


def _minutes(operations: Sequence[Operation], layout: Layout) -> float:
    """Least time for a feature; the teeth of one feature are cut in one clamping."""
    teeth = [each for each in operations if each.action is Action.CUT_TEETH and each.alternatives]
    total = sum(
        min(way.minutes for way in each.alternatives)
        for each in operations
        if each.alternatives and each not in teeth
    )
    in_one = [
        sum(min(way.minutes for way in each.alternatives if way.clamping in (name, BENCH)) for each in teeth)
        for name in (clamping.name for clamping in layout.clampings)
        if all(name in each.clampings or BENCH in each.clampings for each in teeth)
    ]
    apart = sum(max(way.minutes for way in each.alternatives) for each in teeth)
    return total + min(in_one, default=apart)


def _has_way(operation: Operation, layout: Layout) -> bool:
    """Whether an operation has a way on its side of the hardening."""
    names = [clamping.name for clamping in layout.clampings]
    here = {None: names, False: names[: layout.hard_from], True: names[layout.hard_from :]}[operation.hard]
    return any(name in here or name == BENCH for name in operation.clampings)


def _finish(operations: Sequence[Operation]) -> set[str]:
    """Clampings in which the last cut of a feature can be made."""
    last = [each for each in operations if each.stage in (Stage.FINISH, Stage.HARD)]
    return set(last[-1].clampings) if last else set()


def _only_outside(operations: Sequence[Operation], feature: AnyFeature) -> bool:
    return feature.method is None and _finish(operations) == {BENCH}


def _apart(part: Part, made: dict[str, tuple[Operation, ...]], feature: AnyFeature) -> int:
    """Pairs among teeth and their datums that cannot be finished in one clamping."""
    letters = feature.datums or tuple(part.datums)
    names = dict.fromkeys(part.datums[letter] for letter in letters if letter in part.datums)
    places = [_finish(made.get(name, ())) - {BENCH} for name in (feature.name, *names)]
    return sum(not one & other for one, other in combinations(places, 2) if one and other)


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


def _note(clampings: Sequence[Clamping]) -> Finding:
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
