"""The data of an involute spline: sizes of its standard, limits, pins."""

from __future__ import annotations

from sequencer.datasheet.flank_section import flank_section
from sequencer.datasheet.formula import source_of
from sequencer.datasheet.sheet import Section, Statement
from sequencer.datasheet.values import Values
from sequencer.datasheet.wanted import Wanted
from sequencer.errors import OutOfRange
from sequencer.gears import SplineData, SplineLimits, rack
from sequencer.gears.ansi_b92_1 import PROPORTIONS, form_clearance
from sequencer.gears.iso_4156 import (
    PROFILES,
    iso_4156_deviation_allowance,
    iso_4156_form_diameter,
    iso_4156_fundamental_deviation,
    iso_4156_total_tolerance,
)
from sequencer.gears.over_balls import ball_centre_involute
from sequencer.operations.operation import Fact
from sequencer.part.spline_teeth import SplineClass, din_root, spline_class, spline_dimensions, spline_root
from sequencer.part.toothed import Spline


def spline_sections(wanted: Wanted, spline: Spline) -> tuple[Section, ...]:
    """Give the sections of a spline.

    Parameters
    ----------
    wanted
        What is wanted.
    spline
        The spline as the drawing gives it.

    Raises
    ------
    OutOfRange
        When the standard has no spline of these sizes.
    """
    graded = spline_class(spline)
    sizes = spline_dimensions(spline)
    values = _values(spline, sizes, graded)
    sections = [
        Section("Spline data", (*_first_lines(wanted, spline, sizes, values), *_diameters(spline, values))),
        Section("Limits", _limit_lines(wanted, spline, sizes, graded, values)),
        Section("Inspection sizes", _pin_lines(wanted, spline, sizes, values)),
    ]
    if spline.flank_class is not None:
        sections.append(
            flank_section(
                spline.flank_class,
                sizes.pitch_diameter,
                sizes.module,
                spline.length,
                spline.teeth,
                0.0,
                "Flank tolerances",
            )
        )
    return tuple(sections)


def _standard(spline: Spline) -> str:
    return spline.standard.split()[0]


def _values(spline: Spline, sizes: SplineData, graded: SplineClass) -> Values:
    values = {
        "z": float(sizes.teeth),
        "m": sizes.module,
        "P": rack.diametral_pitch(sizes.module),
        "alpha": sizes.pressure_angle,
        "xs": sizes.profile_shift,
        "D": sizes.pitch_diameter,
        "DB": sizes.base_diameter,
        "p": sizes.pitch,
        "Dmaj": sizes.major_diameter,
        "Dmin": sizes.minor_diameter,
        "DF": sizes.form_diameter,
        "E": sizes.circular_size,
        "S": sizes.circular_size,
    }
    if spline.reference_diameter is not None:
        values["dB"] = float(spline.reference_diameter)
    if spline.standard == "DIN 5480":
        values["hfP"] = din_root(spline).dedendum
    if spline.standard == "ISO 4156":
        values |= _iso_values(spline, sizes, graded)
    elif spline.standard == "ANSI B92.1":
        values |= _ansi_values(spline, sizes)
    return Values(values)


def _iso_values(spline: Spline, sizes: SplineData, graded: SplineClass) -> dict[str, float]:
    profile = PROFILES[(sizes.pressure_angle, spline_root(spline))]
    total = iso_4156_total_tolerance(sizes.pitch_diameter, sizes.module, graded.number)
    deviation = iso_4156_fundamental_deviation(sizes.pitch_diameter, graded.fit, total) / 1000.0
    form = iso_4156_form_diameter(sizes.module, sizes.teeth, sizes.pressure_angle, profile.form_height, 0.0)
    return {
        "r": profile.root,
        "t": profile.tip,
        "hs": profile.form_height,
        "es": deviation,
        "esa": 0.0 if graded.fit in ("js", "k") else deviation,
        "DFE": form,
    }


def _ansi_values(spline: Spline, sizes: SplineData) -> dict[str, float]:
    root = spline_root(spline)
    form = "flat side" if root == "flat" else root
    row = PROPORTIONS[(sizes.pressure_angle, form)]
    fine = rack.diametral_pitch(sizes.module) >= 16.0
    minor = row.hub_minor if sizes.internal else row.shaft_minor_fine if fine else row.shaft_minor
    return {
        "wa": row.widening,
        "kmaj": row.hub_major if sizes.internal else 1.0,
        "kmin": minor,
        "kF": row.hub_form if sizes.internal else row.hub_minor,
        "cF": form_clearance(sizes.pitch_diameter),
    }


def _first_lines(
    wanted: Wanted, spline: Spline, sizes: SplineData, values: Values
) -> tuple[Fact | Statement, ...]:
    by = wanted.given_by
    text = spline.module.text
    pitch = text[0].isalpha()
    side = "internal (hub)" if sizes.internal else "external (shaft)"
    lines: list[Fact | Statement] = [
        Statement("spline", side),
        Statement("designation", sizes.designation, spline.standard),
        values.given("z", "number of teeth", by),
    ]
    if pitch:
        lines += [Statement("size of the teeth", f"{text}, as written", by), values.fact("m/pitch")]
    else:
        lines.append(values.given("m", "module", by))
    if pitch or wanted.units == "in":
        lines.append(values.fact("P/spline"))
    lines.append(values.given("alpha", "pressure angle", by))
    if spline.standard == "DIN 5480":
        lines += [values.given("dB", "reference diameter", by), values.fact("xs/spline")]
        lines.append(_root_line(spline, values, by))
    return tuple(lines)


def _root_line(spline: Spline, values: Values, by: str) -> Fact:
    root = din_root(spline)
    usual = "usual inside" if spline.place == "inside" else "usual outside"
    words = f"{root.making}, {f'by the {root.known_by}' if root.known_by else usual}"
    source = by if root.known_by == "root" else f"DIN 5480-1:2006 (from memory); {words}; change it with root"
    return values.given("hfP", f"dedendum of the rack, {root.making}", source, estimate=not root.known_by)


def _diameters(spline: Spline, values: Values) -> tuple[Fact, ...]:
    standard, place = _standard(spline), spline.place
    inside = place == "inside"
    size = "E" if inside else "S"
    corner = " major" if inside and spline_root(spline) == "flat major" else ""
    first = [*values.facts(("D", "DB"))]
    if standard == "ANSI":
        keys = ["Dmaj/ANSI", "Dmin/ANSI", "cF", f"DF/ANSI {place}{corner}"]
    else:
        keys = [f"{symbol}/{standard} {place}" for symbol in ("Dmaj", "Dmin", "DF")]
        if standard == "ISO" and inside:
            keys.insert(1, "DFE")
    last = Fact("length", spline.length, "mm", "", "z_from and z_to")
    return (*first, *values.facts((*keys, "p", f"{size}/{standard}")), last)


def _limit_lines(
    wanted: Wanted, spline: Spline, sizes: SplineData, graded: SplineClass, values: Values
) -> tuple[Fact | Statement, ...]:
    written, limits = spline.tolerance_class, sizes.limits
    if limits is None:
        words = (
            f"of {written}: not computed; take deviation and tolerances from {spline.standard}: "
            "size_deviation, actual_tolerance, effective_tolerance"
            if written
            else "no tolerance class given: the sizes are basic sizes"
        )
        return (Statement("limits", words),)
    if not graded.known:
        return _given_limits(wanted, spline, limits, values)
    diameter, module = sizes.pitch_diameter, sizes.module
    total = iso_4156_total_tolerance(diameter, module, graded.number) / 1000.0
    share = iso_4156_deviation_allowance(diameter, module, graded.number, spline.length) / 1000.0
    known = values.and_more(
        {
            "T": total,
            "T7": iso_4156_total_tolerance(diameter, module, 7) / 1000.0,
            "la": share,
            "IT": _tip_tolerance(limits, internal=sizes.internal),
        }
    )
    place = spline.place
    fit = (
        ()
        if sizes.internal
        else (
            known.given(
                "es", "fundamental deviation of the tooth", source_of(iso_4156_fundamental_deviation)
            ),
        )
    )
    return (
        Statement("class and fit", f"{graded.number}{graded.fit}"),
        *fit,
        known.given("T", "total tolerance, T + lambda", source_of(iso_4156_total_tolerance)),
        known.given("la", "share of the deviations, lambda", source_of(iso_4156_deviation_allowance)),
        *(
            known.and_more({key.split("/")[0]: value}).fact(key)
            for key, value in _limit_values(limits, place)
        ),
    )


def _tip_tolerance(limits: SplineLimits, *, internal: bool) -> float:
    upper, lower = (
        (limits.minor_upper, limits.minor_lower) if internal else (limits.major_upper, limits.major_lower)
    )
    return 0.0 if upper is None or lower is None else upper - lower


def _given_limits(
    wanted: Wanted, spline: Spline, limits: SplineLimits, values: Values
) -> tuple[Fact | Statement, ...]:
    """Limits from the numbers of the drawing."""
    assert spline.actual_tolerance is not None
    assert spline.effective_tolerance is not None
    by, inside = wanted.given_by, spline.place == "inside"
    symbol, size = ("Ae", "space width") if inside else ("As", "tooth thickness")
    known = values.and_more(
        {
            symbol: float(spline.size_deviation or 0.0),
            "Tact": float(spline.actual_tolerance),
            "Teff": float(spline.effective_tolerance),
        }
    )
    assumed = spline.size_deviation is None
    source = "usual value, not given" if assumed else by
    written = spline.tolerance_class
    return (
        Statement("class and fit", written or "not given", by if written else ""),
        known.given(symbol, f"deviation of the effective {size}", source, estimate=assumed),
        known.given("Tact", f"tolerance of the actual {size}", by),
        known.given("Teff", "share of pitch, profile and lead deviations", by),
        *(
            known.and_more({key.split("/")[0]: value}).fact(key)
            for key, value in _limit_values(limits, f"given {spline.place}")
        ),
    )


def _limit_values(limits: SplineLimits, place: str) -> tuple[tuple[str, float], ...]:
    every = (
        (f"Ev/{place} upper", limits.effective_upper),
        (f"Ev/{place} lower", limits.effective_lower),
        (f"Ea/{place} upper", limits.actual_upper),
        (f"Ea/{place} lower", limits.actual_lower),
        (f"DL/major {place} upper", limits.major_upper),
        (f"DL/major {place} lower", limits.major_lower),
        (f"DL/minor {place} upper", limits.minor_upper),
        (f"DL/minor {place} lower", limits.minor_lower),
    )
    return tuple((key, value) for key, value in every if value is not None)


def _pin_lines(
    wanted: Wanted, spline: Spline, sizes: SplineData, values: Values
) -> tuple[Fact | Statement, ...]:
    try:
        pin = sizes.pin_size(wanted.ball_diameter)
    except OutOfRange as error:
        return (Statement("measurement over pins", f"none: {error}"),)
    limits, place = sizes.limits, spline.place
    odd = "odd" if sizes.teeth % 2 else ""
    size = "E" if sizes.internal else "S"
    more = {
        "DP": pin.pin_diameter,
        "MR": pin.nominal,
        "MRs": pin.upper,
        "MRi": pin.lower,
        "dP": pin.contact_diameter,
        "invP": _centre(sizes, pin.pin_diameter),
    }
    if limits is not None:
        more |= {f"{size}s": limits.actual_upper, f"{size}i": limits.actual_lower}
    known = values.and_more(more)
    source = wanted.given_by if wanted.ball_diameter is not None else f"preferred by {spline.standard}"
    keys = ("MR", "MRs", "MRi") if limits is not None else ("MR",)
    return (
        known.given("DP", "pin diameter", source),
        known.fact(f"invP/{place}"),
        *(known.fact(f"{key}/{place}{odd}") for key in keys),
        known.fact(f"dP/{place}"),
    )


def _centre(sizes: SplineData, pin: float) -> float:
    thickness = sizes.pitch - sizes.circular_size if sizes.internal else sizes.circular_size
    return ball_centre_involute(
        sizes.module, sizes.teeth, pin, thickness, sizes.pressure_angle, internal=sizes.internal
    )
