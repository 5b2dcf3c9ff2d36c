"""Datums: made before what refers to them, and with it in one clamping where that can be."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.cutting.reclamping import (
    helix_slope_from_wobble,
    pitch_from_eccentricity,
    runout_from_eccentricity,
)
from sequencer.operations import BENCH, Action, Operation
from sequencer.part import AnyFeature
from sequencer.part.milled import BoltCircle
from sequencer.part.turned import Bore, Face, Taper, TurnedDiameter
from sequencer.precedence.context import RuleContext, Toothed, machine_clampings, shared
from sequencer.precedence.demands import (
    Outcome,
    Wanted,
    before,
    note,
    opens,
    same_clamping,
    same_zero,
    warning,
    wish,
)
from sequencer.precedence.dependency import Strength
from sequencer.precedence.geometry import face_width
from sequencer.precedence.rule import PRACTICE, Kept, Rule
from sequencer.precedence.work import is_late
from sequencer.units import shown

_TURNED = Face | TurnedDiameter | Bore | Taper
_RUNOUT = ("runout", "total runout", "concentricity", "position")
_GIVE_COMMON = "Let one clamping reach both, or make the datum surface anew in the later clamping"


def datum_before_feature(context: RuleContext) -> Iterator[Outcome]:
    """R2: a datum is made before the features that refer to it.

    A feature without a close tolerance needs the datum only turned true; its finish is then a wish. Turned
    datums that refer to each other hold in either order, so that only a wish remains.

    Parameters
    ----------
    context
        The operations.
    """
    for feature in context.part.features:
        references = [*feature.datums, *(name for each in feature.geometric for name in each.to)]
        names = dict.fromkeys(context.resolve(reference) for reference in references)
        for name in names:
            if name and name != feature.name:
                for operation in locating(context, feature):
                    yield from _datum_first(context, name, feature, operation)


def locating(context: RuleContext, feature: AnyFeature) -> tuple[Operation, ...]:
    """Give the cuts that decide where a feature lies.

    Parameters
    ----------
    context
        The operations.
    feature
        The feature; of holes the drilling counts, which all later work follows.
    """
    if isinstance(feature, BoltCircle):
        return context.cuts(feature.name)[:1]
    soft, hard = context.done(feature.name), context.done(feature.name, hard=True)
    return tuple(dict.fromkeys((*soft, *hard)))


def _datum_first(
    context: RuleContext, datum: str, feature: AnyFeature, operation: Operation
) -> Iterator[Outcome]:
    reason = f"the place of {feature.name} counts from {datum} and is only as good as that"
    turned = isinstance(feature, _TURNED) and isinstance(context.part.by_name[datum], _TURNED)
    mutual = turned and feature.name in context.datum_features and datum in context.datum_features
    ready = [op for op in ready_datum(context, datum, operation) if op.name != operation.name]
    for done in ready:
        if mutual:
            yield wish(done, operation, f"{reason} (both are datums: their relation holds in either order)")
        elif context.is_close(feature):
            yield Wanted(before(done, operation, reason), _datum_later(context, datum), _GIVE_COMMON)
        else:
            yield wish(done, operation, reason)
    begun = context.begun(datum)
    if not mutual and not context.is_close(feature) and begun is not None and ready:
        first = f"the place of {feature.name} counts from {datum}, which is turned true before"
        yield Wanted(before(begun, operation, first), _datum_later(context, datum), _GIVE_COMMON)


def _datum_later(context: RuleContext, datum: str) -> str:
    if isinstance(context.part.by_name[datum], Face):
        wobble = 1000 * context.shop.machine.capability.reclamping_tilt
        return f"{datum} is made later, from another clamping: it may tilt by {shown(wobble, 0)} um over 1 m"
    error = 1000 * context.shop.machine.capability.reclamping
    return f"{datum} is made later, from another clamping: about {shown(error, 0)} um of eccentricity enter"


def ready_datum(context: RuleContext, datum: str, operation: Operation) -> tuple[Operation, ...]:
    """Give the cuts of a datum that an operation waits for.

    Teeth that are ground after induction hardening are cut from the bore as it is roughed, where the bore can
    be finished in their clamping: hardening would move a finished one.

    Parameters
    ----------
    context
        The operations.
    datum
        Name of the datum feature.
    operation
        The operation that refers to it.
    """
    ready = context.ready(datum, operation)
    gear = context.part.by_name.get(operation.feature)
    if not isinstance(gear, Toothed) or is_late(operation) or axis_datum(context, gear) != datum:
        return ready
    ground = any(is_late(op) for op in context.teeth(gear.name))
    if not ground or context.heat_treatment("induction hardening") is None:
        return ready
    earlier = [op for op in context.cuts(datum) if not is_late(op) and op not in ready]
    if earlier and all(op.hard is None and shared(op, operation) for op in ready):
        return (earlier[-1],)
    return ready


def axis_datum(context: RuleContext, gear: Toothed) -> str:
    """Give the first datum of a gear that carries its axis; empty if it names none.

    Parameters
    ----------
    context
        The operations.
    gear
        The gear or spline.
    """
    return _first_of(context, gear, Bore | TurnedDiameter | Taper)


def _first_of(context: RuleContext, gear: Toothed, kinds: object) -> str:
    for reference in gear.datums:
        name = context.resolve(reference)
        if name and name != gear.name and isinstance(context.part.by_name[name], kinds):  # type: ignore[arg-type]
            return name
    return ""


def datums_with_teeth(context: RuleContext) -> Iterator[Outcome]:
    """R3: bore and face that are datums of gears are finished together, and with the teeth.

    Teeth that are finished again after hardening count only then. Of several clampings the one counts that
    reaches the most tooth systems together with the bore. A datum face that is the seat of that clamping is
    made before it; the seat then carries the face.

    Parameters
    ----------
    context
        The operations.
    """
    by_axis: dict[str, list[tuple[Toothed, Operation]]] = {}
    for gear in context.toothed:
        axis = axis_datum(context, gear)
        for tooth in context.done(gear.name, hard=True) if axis else ():
            if machine_clampings(tooth):
                by_axis.setdefault(axis, []).append((gear, tooth))
    for axis, teeth in by_axis.items():
        for hard in (False, True):
            side = [(gear, tooth) for gear, tooth in teeth if is_late(tooth) is hard]
            for bore in context.done(axis, hard=hard) if side else ():
                yield from _together_with(context, axis, bore, side)


def _together_with(
    context: RuleContext, axis: str, bore: Operation, teeth: list[tuple[Toothed, Operation]]
) -> Iterator[Outcome]:
    best = _best_clampings(context, bore, teeth)
    teeth.sort(key=lambda pair: not set(best) & set(pair[1].clampings))
    for gear, tooth in teeth:
        if tooth.name != bore.name:
            yield Wanted(
                same_clamping(bore, tooth, f"{gear.name} runs true to {axis} if both are made together"),
                _eccentric(context, gear, axis),
                "Keep the bore in the clamping of the teeth, or indicate it there before the teeth are cut",
            )
    for face, gear in {_first_of(context, gear, Face): gear for gear, _ in reversed(teeth)}.items():
        for side in context.ready(face, bore) if face else ():
            yield from _with_face(context, axis, bore, face, side, gear, best)


def _best_clampings(
    context: RuleContext, bore: Operation, teeth: list[tuple[Toothed, Operation]]
) -> tuple[str, ...]:
    """Clampings that reach the bore and the most teeth, of these the ones that reach most datum faces."""

    def reached(clamping: str) -> tuple[int, int]:
        with_teeth = sum(clamping in tooth.clampings for _, tooth in teeth)
        faces = dict.fromkeys(_first_of(context, gear, Face) for gear, _ in teeth)
        ready = [side for face in faces if face for side in context.ready(face, bore)]
        return with_teeth, sum(clamping in side.clampings for side in ready)

    clampings = machine_clampings(bore)
    most = max((reached(clamping) for clamping in clampings), default=(0, 0))
    return tuple(clamping for clamping in clampings if reached(clamping) == most)


def _with_face(
    context: RuleContext,
    axis: str,
    bore: Operation,
    face: str,
    side: Operation,
    gear: Toothed,
    best: tuple[str, ...],
) -> Iterator[Outcome]:
    seated = [c.name for c in context.clampings if c.clamping.rests_on == face]
    if best and all(clamping in seated for clamping in best):
        yield note(
            gear.name,
            f"{face} is the seat of clamping {', '.join(best)} and so is made before {axis}; "
            f"its error shows in the teeth: {_tilt(context, gear)}",
        )
    elif side.name != bore.name:
        yield Wanted(
            same_clamping(bore, side, f"{axis} and {face} are the datums of {gear.name}: made together"),
            f"{face} may wobble against {axis}: {_tilt(context, gear)}",
            _GIVE_COMMON,
        )


def _eccentric(context: RuleContext, gear: Toothed, axis: str) -> str:
    error = 1000 * context.shop.machine.capability.reclamping
    runout = runout_from_eccentricity(error)
    pitch = pitch_from_eccentricity(error, float(gear.pressure_angle))
    return (
        f"{gear.name} and {axis} are made in different clampings: of {shown(error, 0)} um of "
        f"eccentricity come about {shown(runout, 0)} um of runout and {shown(pitch, 0)} um of total pitch"
    )


def _tilt(context: RuleContext, gear: Toothed) -> str:
    wobble = 1000 * context.shop.machine.capability.reclamping_tilt
    slope = helix_slope_from_wobble(wobble, face_width(gear), 1000.0)
    return f"{shown(wobble, 0)} um over 1 m tilt {gear.name} by {shown(slope, 1)} um of helix slope"


def mutual_tolerances(context: RuleContext) -> Iterator[Outcome]:
    """R4: tooth systems toleranced to each other are finished in one clamping, from one zero.

    Demanded where the tolerance is less than three times what re-clamping leaves; otherwise noted.

    Parameters
    ----------
    context
        The operations.
    """
    error = context.shop.machine.capability.reclamping
    for gear in context.toothed:
        for each in gear.geometric:
            for other in _others(context, gear, each.to):
                if each.characteristic in _RUNOUT:
                    left = 2 * float(error)
                    yield from _one_zero(context, gear, other, float(each.value), left, each.characteristic)
        if gear.phase is not None:
            for other in _others(context, gear, (gear.phase.to,)):
                yield from _one_zero(context, gear, other, float(gear.phase.tolerance), float(error), "phase")


def _others(context: RuleContext, gear: Toothed, references: tuple[str, ...]) -> Iterator[Toothed]:
    for reference in references:
        other = context.part.by_name.get(context.resolve(reference))
        if isinstance(other, Toothed) and other.name != gear.name:
            yield other


def _one_zero(
    context: RuleContext, gear: Toothed, other: Toothed, tolerance: float, left: float, words: str
) -> Iterator[Outcome]:
    """Demand one zero; a third of the tolerance may go into clamping (common practice, no source)."""
    limit = f"{words} of {shown(tolerance)} mm against {shown(left)} mm that re-clamping leaves"
    if tolerance >= 3 * left:
        yield note(gear.name, f"may be finished in another clamping than {other.name}", limit)
        return
    demand = same_zero if words == "phase" else same_clamping
    for one in context.last_teeth(gear.name):
        for two in context.last_teeth(other.name):
            yield Wanted(
                demand(one, two, f"{gear.name} and {other.name} are toleranced to each other ({limit})"),
                f"{limit}: the tolerance does not hold across clampings",
                "Let one clamping reach both tooth systems",
            )


def proof_surface(context: RuleContext) -> Iterator[Outcome]:
    """R5: teeth cut in another clamping than their datum need a surface that shows the axis, indicated first.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    for gear in context.toothed:
        axis = axis_datum(context, gear)
        for tooth in context.last_teeth(gear.name):
            for bore in ready_datum(context, axis, tooth) if axis else ():
                if not context.together(bore, tooth) and bore.name != tooth.name:
                    yield from _proof(context, gear, axis, bore, tooth)


def _proof(
    context: RuleContext, gear: Toothed, axis: str, bore: Operation, tooth: Operation
) -> Iterator[Outcome]:
    for clamping in machine_clampings(tooth):
        for indicating in context.in_clamping(clamping, Action.INDICATE):
            yield opens(clamping, indicating, tooth, f"the axis of {axis} is found before {gear.name} is cut")
    hidden = [name for name in context.possible[tooth.name] if not _axis_in_reach(context, name, axis)]
    final = tooth in context.last_teeth(gear.name, hard=True)
    if not hidden or not final or BENCH in hidden:
        return
    for clamping in hidden:
        bands = [band for band in _bands(context, axis, clamping) if shared(bore, band)]
        for band in bands[:1]:
            yield Wanted(
                same_clamping(bore, band, f"{band.feature} shows the axis of {axis} in {clamping}"),
                f"{band.feature} is not made together with {axis} and does not show its axis",
                f"Turn a proof band together with {axis} that clamping {clamping} can reach",
            )
        if not bands:
            report = warning if len(hidden) == len(context.possible[tooth.name]) else note
            yield report(
                gear.name,
                f"in clamping {clamping} neither {axis} nor a surface made together with it can be indicated",
                "teeth in a later clamping need a proof surface",
                f"Turn a band and a face together with {axis} that stay in reach in clamping {clamping}",
            )


def _axis_in_reach(context: RuleContext, clamping: str, axis: str) -> bool:
    fitted = context.operations.clamping_by_name.get(clamping)
    return fitted is not None and (shown_axis(context, clamping, axis) or fitted.clamping.on == axis)


def _bands(context: RuleContext, axis: str, clamping: str) -> Iterator[Operation]:
    for feature in context.part.of_kind("turned_diameter", "bore", "taper"):
        if feature.name != axis and shown_axis(context, clamping, feature.name):
            yield from context.done(feature.name)[:1]


def shown_axis(context: RuleContext, clamping: str, feature: str) -> bool:
    """Say whether a feature can be reached, and so be indicated, in a clamping.

    Parameters
    ----------
    context
        The operations.
    clamping, feature
        Their names.
    """
    reach = context.operations.clamping_by_name[clamping].reach_by_feature.get(feature)
    return reach is not None and reach.reachable


RULES = (
    Rule(
        "R2",
        "Datum before what refers to it",
        Strength.MUST,
        "A location is only as good as its datum.",
        "Sequencing a process plan (teaching page); precedence table of a process-planning paper",
        datum_before_feature,
        Kept.BOTH,
        penalty=10.0,
    ),
    Rule(
        "R3",
        "Datum bore, datum face and teeth in one clamping",
        Strength.MUST,
        "Eccentricity and face wobble of a re-clamped gear go straight into its pitch and helix.",
        "The critical impact of datum face errors in gear cutting (article)",
        datums_with_teeth,
        Kept.BOTH,
    ),
    Rule(
        "R4",
        "Tooth systems toleranced to each other from one zero",
        Strength.SHOULD,
        "The re-clamping error drops out.",
        "Cutting gears with multitasking machines (trade article)",
        mutual_tolerances,
        Kept.BOTH,
    ),
    Rule(
        "R5",
        "Proof surface for teeth in a later clamping",
        Strength.MUST,
        "Only a surface made together with the datum brings the axis back.",
        PRACTICE,
        proof_surface,
        Kept.BOTH,
        late=True,
    ),
)
