"""Clampings: opened by what they rest on and grip, indicated first, kept as long as they are needed."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.cutting.reclamping import helix_slope_from_wobble
from sequencer.errors import OutOfRange
from sequencer.gears.diameters import reference_diameter
from sequencer.gears.tolerances import flank_tolerances
from sequencer.operations import Action, FittedClamping, Operation
from sequencer.part import BLANK
from sequencer.part.milled import BoltCircle, Flat, Keyway, Pocket
from sequencer.part.surfaces import place_of
from sequencer.part.teeth import normal_module
from sequencer.part.toothed import BevelGear, Spline
from sequencer.part.turned import Bore, Taper, TurnedDiameter
from sequencer.precedence.context import RuleContext, Toothed
from sequencer.precedence.demands import Outcome, Wanted, before, closes, error, note, opens, warning
from sequencer.precedence.dependency import Strength
from sequencer.precedence.geometry import face_width
from sequencer.precedence.rule import PRACTICE, Kept, Rule
from sequencer.precedence.work import is_late
from sequencer.units import shown

_MILLED = Keyway | Flat | Pocket | BoltCircle

#: Zones that overlap by less only touch [mm].
_TOUCH = 0.01

#: Fewer supports than this do not define a plane.
LEAST_SUPPORTS = 3


def indicate_first(context: RuleContext) -> Iterator[Outcome]:
    """R18: each clamping is clamped, then probed or indicated, before anything is cut in it.

    Parameters
    ----------
    context
        The operations.
    """
    for fitted in context.clampings:
        clamping = context.in_clamping(fitted.name, Action.CLAMP)
        finding = context.in_clamping(fitted.name, Action.INDICATE, Action.PROBE)
        opening = [op for op in finding if op.opening]
        for step in opening:
            for clamp in clamping:
                yield before(clamp, step, f"the part lies still once it is clamped in {fitted.name}")
            yield opens(
                fitted.name,
                step,
                None,
                f"how the part lies in {fitted.name} is unknown until axis, face and angle are found",
            )
        if not opening and any(fitted.name in op.clampings and op.cuts for op in context.all):
            yield warning(
                fitted.name,
                "no step finds axis, face and angle of the part before it is cut",
                "an unknown shift otherwise",
                "Indicate or probe the datum after clamping",
            )


def surface_operations(context: RuleContext, name: str) -> tuple[Operation, ...]:
    """Cuts that make the surface of a feature, before hardening; of a gear its tip cylinder.

    Parameters
    ----------
    context
        The operations.
    name
        Name of the feature.
    """
    feature = context.part.by_name.get(name)
    if isinstance(feature, Toothed):
        return tuple(op for op in context.blank(feature) if not is_late(op))
    if isinstance(feature, BoltCircle):
        return context.done(name)
    return tuple(op for op in context.cuts(name) if not is_late(op))


def gripped_surface(context: RuleContext) -> Iterator[Outcome]:
    """R39: what a clamping grips is made before it, and not cut away or milled into before its last use.

    Parameters
    ----------
    context
        The operations.
    """
    for fitted in context.clampings:
        on = fitted.clamping.on
        if on == BLANK:
            yield from _raw_band(context, fitted)
        elif on in context.part.by_name:
            yield from _made_before(context, fitted, on, "grips")
            yield from _cut_away_after(context, fitted, on)
            yield from _milled_away_after(context, fitted, on)
            yield from _soft_jaws(context, fitted, on)
        if fitted.clamping.rests_on == BLANK:
            yield from _raw_seat(context, fitted)


def _made_before(context: RuleContext, fitted: FittedClamping, name: str, verb: str) -> Iterator[Outcome]:
    made = [op for op in surface_operations(context, name) if op.clampings != (fitted.name,)]
    if not made:
        yield error(
            fitted.name,
            f"{verb} {name}, which no earlier clamping makes",
            "a clamping surface exists before it is used",
            f"Make {name} in an earlier clamping, or let {fitted.name} hold another surface",
        )
        return
    yield opens(
        fitted.name, made[-1], None, f"clamping {fitted.name} {verb} {name}, which must be made before"
    )


def _raw_band(context: RuleContext, fitted: FittedClamping) -> Iterator[Outcome]:
    """The raw surface under the jaws is turned away only after the last use of the clamping."""
    place = "inside" if fitted.clamping.hold == "inside jaws" else "outside"
    low, high = _band(context, fitted)
    profile = context.section.inside if place == "inside" else context.section.outside
    names = dict.fromkeys(piece.feature for piece in profile.between(low, high))
    yield from _closed_by(context, fitted, tuple(names), "the raw surface that its jaws grip")


def _band(context: RuleContext, fitted: FittedClamping) -> tuple[float, float]:
    clamping = fitted.clamping
    low = context.section.z_from if clamping.z_from is None else float(clamping.z_from)
    high = context.section.z_to if clamping.z_to is None else float(clamping.z_to)
    return low, high


def _closed_by(
    context: RuleContext, fitted: FittedClamping, names: tuple[str, ...], words: str
) -> Iterator[Outcome]:
    for name in names:
        first = surface_operations(context, name)[:1] if name in context.part.by_name else ()
        for cut in first:
            if fitted.name not in cut.clampings:
                yield closes(
                    fitted.name, cut, None, f"turning {name} takes away {words} in clamping {fitted.name}"
                )


def _raw_seat(context: RuleContext, fitted: FittedClamping) -> Iterator[Outcome]:
    up = fitted.clamping.up
    face = context.section.lower_face if up == "upper" else context.section.upper_face
    yield from _closed_by(context, fitted, (face,), "the raw face that the part stands on")


def _cut_away_after(context: RuleContext, fitted: FittedClamping, on: str) -> Iterator[Outcome]:
    """A gripped surface that another feature lies deeper than, at the same height, is turned away by it."""
    gripped = context.part.by_name[on]
    place = place_of(gripped)
    if not isinstance(gripped, TurnedDiameter | Bore | Taper):
        return
    zone = context.section.extent(on)
    band = _band(context, fitted)
    low, high = max(zone.z_from, band[0]), min(zone.z_to, band[1])
    for feature in context.part.features:
        if feature.name == on or not isinstance(feature, TurnedDiameter | Bore | Taper):
            continue
        other = context.section.extent(feature.name)
        overlaps = min(high, other.z_to) - max(low, other.z_from) > _TOUCH
        deeper = other.outer < zone.inner if place == "outside" else other.inner > zone.outer
        if place_of(feature) == place and overlaps and deeper:
            yield from _closed_by(context, fitted, (feature.name,), f"{on}, which is gripped")


def _milled_away_after(context: RuleContext, fitted: FittedClamping, on: str) -> Iterator[Outcome]:
    """Flats, pockets, keyways and cross holes in the gripped band come after the last use of the clamping."""
    if not fitted.clamping.hold.endswith("jaws"):
        return
    band = _band(context, fitted)
    names = [each.name for each in context.clampings]
    later = names[names.index(fitted.name) + 1 :]
    for feature in context.part.features:
        if not isinstance(feature, _MILLED) or feature.on != on:
            continue
        zone = context.section.extent(feature.name)
        if min(band[1], zone.z_to) - max(band[0], zone.z_from) <= _TOUCH:
            continue
        what = f"{fitted.name} grips {on} at z {shown(band[0])} to {shown(band[1])} mm, where {feature.name} "
        what += (
            f"(z {shown(zone.z_from)} to {shown(zone.z_to)} mm) is already cut: jaws may bear on its edges"
        )
        remedy = (
            f"Set the jaws beside {feature.name}, grip another band, or give a clamping after {fitted.name} "
            f"that reaches {feature.name}"
        )
        for cut in context.cuts(feature.name)[:1]:
            if fitted.name in cut.clampings:
                continue
            if any(name in cut.clampings for name in later):
                reason = f"{feature.name} would interrupt {on} where clamping {fitted.name} grips it"
                yield Wanted(closes(fitted.name, cut, None, reason), what, remedy)
            else:
                where = ", ".join(cut.clampings)
                limit = (
                    f"R39 wants {cut.name} after all work in clamping {fitted.name}: only {where} reaches it"
                )
                report = (
                    note if isinstance(feature, Keyway) else warning
                )  # jaws are easily set beside one slot
                yield report(fitted.name, what, limit, remedy)


def _soft_jaws(context: RuleContext, fitted: FittedClamping, on: str) -> Iterator[Outcome]:
    feature, jaws = context.part.by_name[on], fitted.clamping.hold.endswith("jaws")
    if jaws and not fitted.means.soft and (context.is_close(feature) or isinstance(feature, Toothed)):
        yield warning(
            fitted.name,
            f"hard jaws of {fitted.means.name} grip finished {on}",
            "finished surfaces are gripped with soft jaws",
            "Use soft jaws or pads, with the lower force",
        )


def seat_of_later_clamping(context: RuleContext) -> Iterator[Outcome]:
    """R40: the face that a later clamping stands on is finished before, is flat enough and well supported.

    Parameters
    ----------
    context
        The operations.
    """
    for fitted in context.clampings:
        seat = fitted.clamping.rests_on
        if seat not in context.part.by_name:
            continue
        yield from _made_before(context, fitted, seat, "rests on")
        if fitted.means.count < LEAST_SUPPORTS:
            yield warning(
                fitted.name,
                f"{fitted.means.name} supports {seat} at {fitted.means.count} points",
                f"at least {LEAST_SUPPORTS} supports over the jaws",
                "Add supports between table and part",
            )
        yield from _flat_enough(context, fitted, seat)


def _flat_enough(context: RuleContext, fitted: FittedClamping, seat: str) -> Iterator[Outcome]:
    gears = [
        gear
        for gear in context.toothed
        if any(fitted.name in op.clampings for op in context.last_teeth(gear.name))
    ]
    diameter = context.section.extent(seat).outer
    stated = [
        float(each.value)
        for each in context.part.by_name[seat].geometric
        if each.characteristic in ("flatness", "parallelism", "perpendicularity", "runout", "total runout")
    ]
    wobble = 1000 * (min(stated) if stated else float(context.shop.machine.capability.reclamping_tilt))
    if not gears or diameter <= 0:
        return
    if not stated:
        yield note(
            seat,
            f"no flatness or squareness is stated, though clamping {fitted.name} cuts teeth on it; "
            f"{shown(wobble, 0)} um are assumed from the machine",
            "the seat of a clamping has a stated flatness",
            f"Give {seat} a flatness in the part file",
        )
    for gear in gears:
        slope = helix_slope_from_wobble(wobble, face_width(gear), diameter)
        allowed = helix_slope_tolerance(gear)
        if allowed is not None and slope > allowed / 3:
            yield warning(
                gear.name,
                f"a seat wobble of {shown(wobble, 0)} um over {shown(diameter, 0)} mm tilts its teeth by "
                f"{shown(slope, 1)} um of helix slope",
                f"a third of the tolerance of {shown(allowed, 1)} um",
                f"Make {seat} flatter, or stand the part on a larger diameter",
            )


def helix_slope_tolerance(gear: Toothed) -> float | None:
    """Helix slope tolerance of the class on the drawing; None where no class or no value is given [um].

    Source: ISO 1328-1, as the function of the gear formulas says

    Parameters
    ----------
    gear
        The gear or spline.
    """
    if isinstance(gear, BevelGear | Spline):
        return None
    try:
        values = flank_tolerances(
            gear.flank_class.standard,
            gear.flank_class.year,
            gear.flank_class.number,
            reference_diameter(normal_module(gear), gear.teeth, float(gear.helix_angle)),
            normal_module(gear),
            face_width(gear),
        )
    except OutOfRange:
        return None
    return values.rounded.helix_slope


RULES = (
    Rule(
        "R18",
        "Indicate after each clamping",
        Strength.MUST,
        "An unknown shift otherwise enters every feature.",
        PRACTICE,
        indicate_first,
        Kept.BOTH,
    ),
    Rule(
        "R39",
        "Clamping surfaces live as long as they are used",
        Strength.MUST,
        "What is gripped is made before and not cut away before its last use; if finished, in soft jaws.",
        "Precedence constraints among features (research survey); Sequencing a process plan (teaching page)",
        gripped_surface,
        Kept.BOTH,
    ),
    Rule(
        "R40",
        "Seat of a later clamping",
        Strength.MUST,
        "Tilt of the seat goes into the helix.",
        "The critical impact of datum face errors in gear cutting (article)",
        seat_of_later_clamping,
        Kept.BOTH,
    ),
)
