"""Sizes by which the tooth thickness of a cylindrical gear is inspected, with limits."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, cos, floor, inf, radians, sin, sqrt

from sequencer.errors import OutOfRange
from sequencer.gears import chordal, over_balls, span
from sequencer.gears._ranges import check_count, check_range
from sequencer.gears.cylindrical import CylindricalGear
from sequencer.units import Mm


@dataclass(frozen=True)
class SpanSize:
    """Span over several teeth.

    Parameters
    ----------
    teeth_spanned
        Number of teeth between the anvils [-].
    nominal
        Span without allowance [mm].
    upper, lower
        Limits of the span [mm].
    contact_diameter
        Diameter at which the anvils touch [mm].
    least_face_width
        Face width below which the span cannot be measured [mm].
    safe_face_width
        Face width with which the anvils rest safely [mm].
    """

    teeth_spanned: int
    nominal: Mm
    upper: Mm
    lower: Mm
    contact_diameter: Mm
    least_face_width: Mm
    safe_face_width: Mm


@dataclass(frozen=True)
class BallSize:
    """Measurement over two balls, between them for an internal gear.

    Parameters
    ----------
    ball_diameter
        Diameter of the balls [mm].
    nominal
        Measurement without allowance [mm].
    upper, lower
        Limits of the measurement [mm].
    contact_diameter
        Diameter at which the balls touch the flanks, without allowance [mm].
    """

    ball_diameter: Mm
    nominal: Mm
    upper: Mm
    lower: Mm
    contact_diameter: Mm


@dataclass(frozen=True)
class ChordalSize:
    """Chordal thickness at the reference circle in the normal section.

    Parameters
    ----------
    nominal
        Chordal thickness without allowance [mm].
    upper, lower
        Limits of the chordal thickness [mm].
    height
        Height of the tip over the chord, to which the gauge is set [mm].
    """

    nominal: Mm
    upper: Mm
    lower: Mm
    height: Mm


@dataclass(frozen=True)
class InspectionSizes:
    """What the inspector measures; a size that cannot be measured is None, with the reason.

    Parameters
    ----------
    upper_allowance, lower_allowance
        Allowances of the normal tooth thickness, negative thins the tooth [mm].
    span
        Span over several teeth.
    span_reason
        Why there is no span; empty if there is one.
    over_balls
        Measurement over balls, between them for an internal gear.
    over_balls_reason
        Why there is no measurement over balls; empty if there is one.
    chordal
        Chordal thickness.
    chordal_reason
        Why there is no chordal thickness; empty if there is one.
    """

    upper_allowance: Mm
    lower_allowance: Mm
    span: SpanSize | None
    span_reason: str
    over_balls: BallSize | None
    over_balls_reason: str
    chordal: ChordalSize | None
    chordal_reason: str


def inspection_sizes(
    gear: CylindricalGear,
    upper_allowance: Mm = 0.0,
    lower_allowance: Mm = 0.0,
    *,
    teeth_spanned: int | None = None,
    ball_diameter: Mm | None = None,
) -> InspectionSizes:
    """Give span, measurement over balls and chordal thickness of a gear with their limits.

    Source: ISO 21771:2007 (from memory); the choice of span and ball is derived: contact nearest the
    shifted diameter

    Parameters
    ----------
    gear
        The gear.
    upper_allowance
        Upper allowance of the normal tooth thickness, usually negative [mm].
    lower_allowance
        Lower allowance of the normal tooth thickness [mm].
    teeth_spanned
        Number of teeth of the drawing's span; None to choose [-].
    ball_diameter
        Ball diameter of the drawing; None to choose from the stock sizes [mm].

    Raises
    ------
    OutOfRange
        When the allowances are crossed or thin the tooth away, or a given ball or span is no size.
    """
    _check_allowances(gear, upper_allowance, lower_allowance)
    if teeth_spanned is not None:
        check_count("number of teeth spanned", teeth_spanned, 2, gear.teeth, where=str(gear))
    if ball_diameter is not None:
        check_range(
            "ball diameter", ball_diameter, 0.0, float("inf"), unit="mm", where=str(gear), open_low=True
        )
    limits = (upper_allowance, lower_allowance)
    span_size, span_reason = _span(gear, limits, teeth_spanned)
    ball_size, ball_reason = _balls(gear, limits, ball_diameter)
    chordal_size, chordal_reason = _chordal(gear, limits)
    return InspectionSizes(
        upper_allowance=upper_allowance,
        lower_allowance=lower_allowance,
        span=span_size,
        span_reason=span_reason,
        over_balls=ball_size,
        over_balls_reason=ball_reason,
        chordal=chordal_size,
        chordal_reason=chordal_reason,
    )


def _check_allowances(gear: CylindricalGear, upper: Mm, lower: Mm) -> None:
    most = gear.normal_module / 2.0
    for name, value in (("upper", upper), ("lower", lower)):
        check_range(
            f"{name} tooth thickness allowance",
            value,
            -most,
            most,
            unit="mm",
            where=str(gear),
            remedy="Give the allowance in mm, negative where it thins the tooth",
        )
    if lower > upper:
        raise OutOfRange(
            f"lower tooth thickness allowance {lower:g} mm is above the upper {upper:g} mm",
            where=str(gear),
            limit="lower at most the upper allowance",
            remedy="Exchange the two allowances",
        )
    thickness = gear.normal_tooth_thickness
    if thickness + lower <= 0.0:
        raise OutOfRange(
            f"lower tooth thickness allowance {lower:g} mm leaves no tooth",
            where=str(gear),
            limit=f"above {-thickness:.6g} mm, the normal tooth thickness",
            remedy="Use a smaller allowance or more profile shift",
        )


def _span(gear: CylindricalGear, limits: tuple[Mm, Mm], given: int | None) -> tuple[SpanSize | None, str]:
    if gear.internal:
        return None, "the flanks of an internal gear have no span; measure between balls"
    count, reason = (given, "") if given is not None else _teeth_to_span(gear)
    if count is None:
        return None, reason
    size = _span_over(gear, limits, count)
    reason = _span_misfit(gear, size)
    return (None, reason) if reason else (size, "")


def _teeth_to_span(gear: CylindricalGear) -> tuple[int | None, str]:
    """Give the span that touches nearest the shifted diameter and fits flank and face width."""
    pitch, base = gear.base_pitch, gear.base_diameter
    root, tip = gear.root_form_diameter, gear.tip_diameter
    first = span.span(
        gear.normal_module, gear.teeth, 1, gear.pressure_angle, gear.helix_angle, gear.profile_shift
    )
    cosine = cos(radians(gear.base_helix_angle))
    shortest, longest = (sqrt(max(each**2 - base**2, 0.0)) / cosine for each in (root, tip))
    # the span grows by one base pitch a tooth
    least = max(2, 1 + ceil((shortest - first) / pitch - 1e-9))
    most = min(gear.teeth - 1, 1 + floor((longest - first) / pitch + 1e-9))
    if most < least:
        return None, (
            f"no span over whole teeth touches the flank from {root:.3f} to {tip:.3f} mm; measure over balls"
        )
    count = min(max(_usual_teeth_spanned(gear), least), most)
    sine = sin(radians(gear.base_helix_angle))
    if span.least_span_face_width(first + (count - 1) * pitch, gear.helix_angle, gear.pressure_angle) >= (
        gear.face_width
    ):
        fitting = ceil((gear.face_width / sine - first) / pitch - 1e-9)
        count = max(min(count, fitting), least)
    return count, ""


def _usual_teeth_spanned(gear: CylindricalGear) -> int:
    try:
        return span.teeth_spanned(gear.teeth, gear.pressure_angle, gear.helix_angle, gear.profile_shift)
    except OutOfRange:
        return 2


def _span_over(gear: CylindricalGear, limits: tuple[Mm, Mm], count: int) -> SpanSize:
    angle, helix = gear.pressure_angle, gear.helix_angle
    nominal, upper, lower = (
        span.span(gear.normal_module, gear.teeth, count, angle, helix, gear.profile_shift, allowance)
        for allowance in (0.0, *limits)
    )
    return SpanSize(
        teeth_spanned=count,
        nominal=nominal,
        upper=upper,
        lower=lower,
        contact_diameter=span.span_contact_diameter(nominal, gear.base_diameter, gear.base_helix_angle),
        least_face_width=span.least_span_face_width(nominal, helix, angle),
        safe_face_width=span.safe_span_face_width(nominal, helix, angle),
    )


def _span_misfit(gear: CylindricalGear, size: SpanSize) -> str:
    root, tip = gear.root_form_diameter, gear.tip_diameter
    if not root * (1.0 - 1e-9) <= size.contact_diameter <= tip * (1.0 + 1e-9):
        return (
            f"a span over {size.teeth_spanned} teeth touches at diameter {size.contact_diameter:.3f} mm, "
            f"outside the flank from {root:.3f} to {tip:.3f} mm; measure over balls"
        )
    if gear.helix_angle and gear.face_width <= size.least_face_width:
        return (
            f"a span over {size.teeth_spanned} teeth needs a face wider than {size.least_face_width:.3f} mm, "
            f"the gear has {gear.face_width:.3f} mm; measure over balls"
        )
    return ""


def _balls(gear: CylindricalGear, limits: tuple[Mm, Mm], given: Mm | None) -> tuple[BallSize | None, str]:
    if given is not None:
        return _over_ball(gear, limits, given)
    reasons: list[str] = []
    for ball in _balls_by_distance(gear):
        size, reason = _over_ball(gear, limits, ball)
        if size is not None:
            return size, ""
        reasons.append(reason)
    smallest, largest = over_balls.BALL_DIAMETERS[0], over_balls.BALL_DIAMETERS[-1]
    tail = f"; nearest tried: {reasons[0]}" if reasons else ""
    return None, f"no ball of the stock sizes {smallest:g} to {largest:g} mm fits the space{tail}"


def _balls_by_distance(gear: CylindricalGear) -> Iterator[Mm]:
    """Give the balls to try, those first that touch nearest to where they should."""
    balls, target = _balls_to_try(gear), _ball_target(gear)
    sign = -1.0 if gear.internal else 1.0

    def beyond(ball: Mm) -> float:
        """How far beyond the target, towards the tip, a ball touches; it grows with the ball."""
        try:
            return sign * (_ball_position(gear, ball, 0.0)[1] - target)
        except OutOfRange:
            return inf if gear.internal else -inf

    above = bisect_left(balls, 0.0, key=beyond)
    below = above - 1
    nearest = {at: abs(beyond(balls[at])) for at in (below, above) if 0 <= at < len(balls)}
    while nearest:
        at = min(nearest, key=lambda each: (nearest[each], each))
        yield balls[at]
        del nearest[at]
        at += 1 if at >= above else -1
        if 0 <= at < len(balls):
            nearest[at] = abs(beyond(balls[at]))


def _ball_target(gear: CylindricalGear) -> Mm:
    """Give the diameter where the ball should touch: the shifted one, or the middle of a shorter flank."""
    inner, outer = sorted((gear.root_form_diameter, gear.tip_diameter))
    inner = max(inner, gear.base_diameter)
    return gear.shifted_diameter if inner < gear.shifted_diameter < outer else (inner + outer) / 2.0


def _balls_to_try(gear: CylindricalGear) -> tuple[Mm, ...]:
    try:
        ideal = over_balls.ideal_ball_diameter(
            gear.normal_module,
            gear.teeth,
            gear.pressure_angle,
            gear.helix_angle,
            gear.profile_shift,
            internal=gear.internal,
        )
    except OutOfRange:
        ideal = 1.7 * gear.normal_module
    return tuple(ball for ball in over_balls.BALL_DIAMETERS if 0.5 * ideal <= ball <= 2.0 * ideal)


def _over_ball(gear: CylindricalGear, limits: tuple[Mm, Mm], ball: Mm) -> tuple[BallSize | None, str]:
    try:
        centre, contact = _ball_position(gear, ball, 0.0)
        reason = _ball_misfit(gear, ball, centre, contact)
        if reason:
            return None, reason
        sizes = [
            over_balls.measurement_over_balls(
                _ball_position(gear, ball, allowance)[0], ball, gear.teeth, internal=gear.internal
            )
            for allowance in (0.0, *limits)
        ]
    except OutOfRange as error:
        return None, str(error)
    return BallSize(ball, sizes[0], max(sizes[1:]), min(sizes[1:]), contact), ""


def _ball_position(gear: CylindricalGear, ball: Mm, allowance: Mm) -> tuple[Mm, Mm]:
    """Give the diameters on which the ball's centre and its contact points lie."""
    centre_involute = over_balls.ball_centre_involute(
        gear.normal_module,
        gear.teeth,
        ball,
        gear.normal_tooth_thickness + allowance,
        gear.pressure_angle,
        gear.helix_angle,
        internal=gear.internal,
    )
    contact = over_balls.ball_contact_diameter(
        gear.base_diameter, centre_involute, ball, gear.base_helix_angle, internal=gear.internal
    )
    return over_balls.ball_centre_diameter(gear.base_diameter, centre_involute), contact


def _ball_misfit(gear: CylindricalGear, ball: Mm, centre: Mm, contact: Mm) -> str:
    """Say why a ball is no good: contact off the flank, hidden below the tips, or resting on the root."""
    inner, outer = sorted((gear.root_form_diameter, gear.tip_diameter))
    if not inner <= contact <= outer:
        return (
            f"a ball of {ball:g} mm touches at diameter {contact:.3f} mm, outside the flank from "
            f"{inner:.3f} to {outer:.3f} mm"
        )
    towards_tip = centre - ball if gear.internal else centre + ball
    towards_root = centre + ball if gear.internal else centre - ball
    if (towards_tip > gear.tip_diameter) == gear.internal:
        return f"a ball of {ball:g} mm does not stand out over the tips"
    if (towards_root < gear.root_diameter) != gear.internal:
        return f"a ball of {ball:g} mm rests on the root, not on the flanks"
    return ""


def _chordal(gear: CylindricalGear, limits: tuple[Mm, Mm]) -> tuple[ChordalSize | None, str]:
    if gear.internal:
        return None, "no tooth gauge reaches the chord of an internal tooth; measure between balls"
    inner, outer = max(gear.root_form_diameter, gear.root_diameter), gear.tip_diameter
    if not inner < gear.reference_diameter < outer:
        return None, (
            f"the reference circle {gear.reference_diameter:.3f} mm does not cross the flank from "
            f"{inner:.3f} to {outer:.3f} mm; measure over balls"
        )
    nominal, virtual, module = gear.normal_tooth_thickness, gear.virtual_teeth, gear.normal_module
    try:
        sizes = [
            chordal.chordal_thickness(nominal + allowance, virtual, module) for allowance in (0.0, *limits)
        ]
        height = chordal.chordal_height(nominal, virtual, module, gear.addendum)
    except OutOfRange as error:
        return None, str(error)
    return ChordalSize(sizes[0], sizes[1], sizes[2], height), ""
