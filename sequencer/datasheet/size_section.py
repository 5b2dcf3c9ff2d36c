"""Inspection sizes of a cylindrical gear: span, balls, chord."""

from __future__ import annotations

from sequencer.datasheet.allowance_lines import allowance_lines
from sequencer.datasheet.sheet import Section, Statement
from sequencer.datasheet.values import Values
from sequencer.datasheet.wanted import Wanted
from sequencer.errors import OutOfRange
from sequencer.gears import BallSize, ChordalSize, CylindricalGear, InspectionSizes, SpanSize
from sequencer.gears.inspection import inspection_sizes
from sequencer.gears.over_balls import ball_centre_involute
from sequencer.operations.operation import Fact
from sequencer.units import shown

_CHOSEN = "chosen: touches nearest the V-circle"


def size_section(wanted: Wanted, gear: CylindricalGear, values: Values, name: str) -> Section:
    """Give span, measurement over balls and chordal thickness with limits.

    Parameters
    ----------
    wanted
        What is wanted, with the drawing's span and balls.
    gear
        The teeth.
    values
        Values by symbol.
    name
        Heading.
    """
    limits = (values.by_symbol.get("Esns", 0.0), values.by_symbol.get("Esni", 0.0))
    try:
        sizes = inspection_sizes(
            gear, *limits, teeth_spanned=wanted.teeth_spanned, ball_diameter=wanted.ball_diameter
        )
    except OutOfRange as error:
        return Section(name, (Statement("inspection sizes", f"none: {error}"),))
    return Section(
        name,
        (
            *allowance_lines(wanted, values),
            *_span_lines(wanted, gear, sizes, values),
            *_ball_lines(wanted, gear, sizes, values),
            *_chord_lines(sizes, values),
        ),
    )


def _span_lines(
    wanted: Wanted, gear: CylindricalGear, sizes: InspectionSizes, values: Values
) -> tuple[Fact | Statement, ...]:
    size = sizes.span
    if size is None:
        return (Statement("span", f"none: {sizes.span_reason}"),)
    known = values.and_more(_span_values(size))
    given = wanted.teeth_spanned is not None
    keys = ["Wk", *(("Wks", "Wki") if "Esns" in values.by_symbol else ()), "dW"]
    lines: list[Fact | Statement] = [
        known.given("k", "teeth spanned", wanted.given_by if given else _CHOSEN),
        *known.facts(keys),
    ]
    if gear.helix_angle:
        lines += [*known.facts(("bmin", "bsafe")), _measurable(gear, size)]
    return tuple(lines)


def _span_values(size: SpanSize) -> dict[str, float]:
    return {
        "k": float(size.teeth_spanned),
        "Wk": size.nominal,
        "Wks": size.upper,
        "Wki": size.lower,
        "dW": size.contact_diameter,
        "bmin": size.least_face_width,
        "bsafe": size.safe_face_width,
    }


def _measurable(gear: CylindricalGear, size: SpanSize) -> Statement:
    width, safe = shown(gear.face_width), shown(size.safe_face_width)
    if gear.face_width >= size.safe_face_width:
        return Statement("span on this face", f"measurable: face width {width} mm of {safe} mm needed")
    words = f"only with care: face width {width} mm, the anvils rest safely from {safe} mm; prefer balls"
    return Statement("span on this face", words)


def _ball_lines(
    wanted: Wanted, gear: CylindricalGear, sizes: InspectionSizes, values: Values
) -> tuple[Fact | Statement, ...]:
    size = sizes.over_balls
    if size is None:
        return (Statement("measurement over balls", f"none: {sizes.over_balls_reason}"),)
    known = values.and_more(_ball_values(gear, size))
    place = "internal" if gear.internal else "external"
    odd = "odd" if gear.teeth % 2 else ""
    keys = ("Md", "Mds", "Mdi") if "Esns" in values.by_symbol else ("Md",)
    given = wanted.ball_diameter is not None
    stock = f"stock size {shown(size.ball_diameter)} mm, {_CHOSEN}"
    source = wanted.given_by if given else stock
    lines: list[Fact | Statement] = [
        known.given("DM", "ball diameter", source),
        known.fact("invK/internal" if gear.internal else "invK"),
        *(known.fact(f"{key}/{place}{odd}") for key in keys),
        known.fact("dK/internal" if gear.internal else "dK"),
    ]
    if not gear.helix_angle:
        lines.append(Statement("pins", "pins of the same diameter give the same measurement"))
    elif gear.internal:
        lines.append(Statement("pins", "none: straight pins do not fit internal helical teeth"))
    elif gear.teeth % 2:
        lines.append(Statement("pins", "only balls in one transverse plane give this measurement"))
    return tuple(lines)


def _ball_values(gear: CylindricalGear, size: BallSize) -> dict[str, float]:
    centre = ball_centre_involute(
        gear.normal_module,
        gear.teeth,
        size.ball_diameter,
        gear.normal_tooth_thickness,
        gear.pressure_angle,
        gear.helix_angle,
        internal=gear.internal,
    )
    return {
        "DM": size.ball_diameter,
        "invK": centre,
        "Md": size.nominal,
        "Mds": size.upper,
        "Mdi": size.lower,
        "dK": size.contact_diameter,
    }


def _chord_lines(sizes: InspectionSizes, values: Values) -> tuple[Fact | Statement, ...]:
    size = sizes.chordal
    if size is None:
        return (Statement("chordal thickness", f"none: {sizes.chordal_reason}"),)
    keys = ("sc", "scs", "sci", "hc") if "Esns" in values.by_symbol else ("sc", "hc")
    return values.and_more(_chord_values(size)).facts(keys)


def _chord_values(size: ChordalSize) -> dict[str, float]:
    return {"sc": size.nominal, "scs": size.upper, "sci": size.lower, "hc": size.height}
