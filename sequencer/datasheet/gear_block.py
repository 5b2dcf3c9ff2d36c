"""The gear data block of a cylindrical gear."""

from __future__ import annotations

from math import isinf
from typing import Final

from sequencer.datasheet.allowance_lines import allowance_values
from sequencer.datasheet.formula import source_of
from sequencer.datasheet.formulas import FORMULAS
from sequencer.datasheet.sheet import Section, Statement
from sequencer.datasheet.values import Values
from sequencer.datasheet.wanted import Cylindrical, Wanted
from sequencer.gears import CylindricalGear, rack
from sequencer.gears.undercut import undercut_form_factor
from sequencer.operations.operation import Fact
from sequencer.part.toothed import DoubleHelicalGear
from sequencer.units import shown

#: A tip thinner than this, in modules, breaks or hardens through (common practice, no source).
THIN_TIP: Final = 0.2
USUAL: Final = "usual value, not given"


def gear_values(feature: Cylindrical, gear: CylindricalGear) -> Values:
    """Give the values of a gear by their symbols.

    Parameters
    ----------
    feature
        The gear as the drawing gives it.
    gear
        Its teeth; of one half if double-helical.
    """
    module = feature.module
    values = {
        "z": float(gear.teeth),
        "mn": gear.normal_module,
        "mt": gear.transverse_module,
        "P": rack.diametral_pitch(gear.normal_module),
        "Pt": rack.diametral_pitch(module.millimetres),
        "alpha_n": gear.pressure_angle,
        "alpha_t": gear.transverse_pressure_angle,
        "beta": gear.helix_angle,
        "beta_b": gear.base_helix_angle,
        "x": gear.profile_shift,
        "haP": gear.addendum_factor,
        "hfP": gear.dedendum_factor,
        "rhoP": gear.used_root_fillet_factor,
        "b": gear.face_width,
        "d": gear.reference_diameter,
        "db": gear.base_diameter,
        "dv": gear.shifted_diameter,
        "da": gear.tip_diameter,
        "df": gear.root_diameter,
        "h": gear.tooth_depth,
        "pbn": gear.base_pitch,
        "zv": gear.virtual_teeth,
        "sn": gear.normal_tooth_thickness,
        "san": gear.tip_thickness,
        "hFfP": rack.straight_dedendum_factor(
            gear.pressure_angle, gear.dedendum_factor, gear.used_root_fillet_factor
        ),
        "dFf": gear.root_form_diameter,
        "xmin": gear.least_profile_shift,
    }
    if not isinf(gear.lead):
        values["pz"] = gear.lead
    values |= allowance_values(feature)
    if "Esns" in values:
        values["sns"] = gear.normal_tooth_thickness + values["Esns"]
        values["sni"] = gear.normal_tooth_thickness + values["Esni"]
    return Values(values, straight=not gear.helix_angle)


def block_section(wanted: Wanted, feature: Cylindrical, gear: CylindricalGear, values: Values) -> Section:
    """Give the gear data block.

    Parameters
    ----------
    wanted
        What is wanted.
    feature
        The gear as the drawing gives it.
    gear
        Its teeth; of the lower half if double-helical.
    values
        Values by symbol.
    """
    lines = (
        *_size_lines(wanted, feature, gear, values),
        *_rack_lines(wanted, feature, gear, values),
        *_diameter_lines(wanted, feature, gear, values),
        *_thickness_lines(gear, values),
        *_undercut_lines(gear, values),
        *_width_lines(wanted, feature, values),
    )
    return Section("Gear data", lines)


def _given(wanted: Wanted, feature: Cylindrical, key: str) -> tuple[str, bool]:
    """Who gave a value, and whether it was assumed instead."""
    assumed = key not in feature.model_fields_set
    return (USUAL if assumed else wanted.given_by), assumed


def _fact(wanted: Wanted, feature: Cylindrical, values: Values, symbol: str, name: str, key: str) -> Fact:
    source, assumed = _given(wanted, feature, key)
    return values.given(symbol, name, source, estimate=assumed)


def _size_lines(
    wanted: Wanted, feature: Cylindrical, gear: CylindricalGear, values: Values
) -> tuple[Fact | Statement, ...]:
    by, module, helical = wanted.given_by, feature.module, bool(gear.helix_angle)
    lines: list[Fact | Statement] = [
        Statement("teeth", _kind(feature, gear)),
        values.given("z", "number of teeth", by),
    ]
    pitch = module.text[0].isalpha()
    if module.system == "transverse":
        lines += [
            Statement("size of the teeth", f"{module.text}, transverse, as written", by),
            values.given("Pt", "transverse diametral pitch", by),
            values.fact("mt/pitch"),
            values.fact("mn/transverse"),
        ]
    elif pitch:
        lines += [
            Statement("size of the teeth", f"{module.text}, as written", by),
            values.given("P", "normal diametral pitch", by),
            values.fact("mn/pitch"),
        ]
    else:
        lines.append(values.given("mn", "normal module", by))
    if (wanted.units == "in" and not pitch) or module.system == "transverse":
        lines.append(values.fact("P"))
    if helical and module.system != "transverse":
        lines.append(values.fact("mt"))
    lines.append(_fact(wanted, feature, values, "alpha_n", "normal pressure angle", "pressure_angle"))
    if helical:
        lines += [
            values.fact("alpha_t"),
            values.given("beta", "helix angle", by),
            Statement("hand", _hand(feature, gear), by),
            *values.facts(("beta_b", "pz")),
        ]
    lines.append(_fact(wanted, feature, values, "x", "profile shift", "profile_shift"))
    return tuple(lines)


def _kind(feature: Cylindrical, gear: CylindricalGear) -> str:
    form = "helical" if gear.helix_angle else "spur"
    if isinstance(feature, DoubleHelicalGear):
        form = "double-helical"
    return f"{'internal' if gear.internal else 'external'}, {form}"


def _hand(feature: Cylindrical, gear: CylindricalGear) -> str:
    if isinstance(feature, DoubleHelicalGear):
        return f"{feature.lower.hand} below, {feature.upper.hand} above"
    return str(gear.hand)


def _rack_lines(
    wanted: Wanted, feature: Cylindrical, gear: CylindricalGear, values: Values
) -> tuple[Fact | Statement, ...]:
    name = _rack_name(gear)
    return (
        Statement("basic rack", name, "ISO 53:1998 (from memory)" if name.startswith("ISO") else ""),
        _fact(wanted, feature, values, "haP", "addendum of the basic rack, in modules", "addendum"),
        _fact(wanted, feature, values, "hfP", "dedendum of the basic rack, in modules", "dedendum"),
        values.given("rhoP", "root fillet of the basic rack, in modules", USUAL, estimate=True),
    )


def _rack_name(gear: CylindricalGear) -> str:
    """The profile of the standard that has these proportions."""
    if abs(gear.pressure_angle - 20.0) < 1e-9:
        for profile in rack.ISO_53_RACKS:
            ours = (gear.addendum_factor, gear.dedendum_factor, gear.used_root_fillet_factor)
            theirs = (profile.addendum_factor, profile.dedendum_factor, profile.root_fillet_factor)
            if all(abs(one - other) < 1e-9 for one, other in zip(ours, theirs, strict=True)):
                return f"ISO 53 profile {profile.name}"
    return "proportions of the drawing"


def _diameter_lines(
    wanted: Wanted, feature: Cylindrical, gear: CylindricalGear, values: Values
) -> tuple[Fact, ...]:
    place = "/internal" if gear.internal else ""
    lines = [values.fact("d"), values.fact("db")]
    if gear.profile_shift:
        lines.append(values.fact("dv"))
    for symbol, name, given in (
        ("da", "tip diameter", feature.tip_diameter),
        ("df", "root diameter", feature.root_diameter),
    ):
        lines.append(
            values.fact(symbol + place) if given is None else values.given(symbol, name, wanted.given_by)
        )
    return (*lines, values.fact("h"), values.fact("pbn"))


def _thickness_lines(gear: CylindricalGear, values: Values) -> tuple[Fact | Statement, ...]:
    place = "/internal" if gear.internal else ""
    lines: list[Fact | Statement] = [values.fact("sn" + place)]
    if "sns" in values.by_symbol:
        lines += values.facts(("sns", "sni"))
    lines.append(values.fact("san" + place))
    share = gear.tip_thickness / gear.normal_module
    verdict = "thick enough" if share >= THIN_TIP else "thin: the tip may break or harden through"
    lines.append(
        Statement(
            "tip",
            f"{verdict}; {shown(share)} modules, usual are at least {THIN_TIP:g}",
            "common practice, no source",
        )
    )
    return tuple(lines)


def _undercut_lines(gear: CylindricalGear, values: Values) -> tuple[Fact | Statement, ...]:
    if gear.internal:
        return (
            Statement("undercut", "none: no rack-shaped tool cuts an internal gear"),
            values.fact("dFf/internal", estimate=True),
        )
    x, least = shown(gear.profile_shift, 4), shown(gear.least_profile_shift, 4)
    first = values.facts(("hFfP", "xmin"))
    if not gear.undercut:
        words = f"none: profile shift {x} is at least {least}"
        return (*first, Statement("undercut", words, FORMULAS["xmin"].source), values.fact("dFf"))
    words = f"undercut: profile shift {x} is below {least}"
    form = Fact(
        "root form diameter",
        gear.root_form_diameter,
        "mm",
        f"dFf = crossing of trochoid and involute = {shown(gear.root_form_diameter, 5)} mm",
        source_of(undercut_form_factor),
    )
    return (*first, Statement("undercut", words, FORMULAS["xmin"].source), form)


def _width_lines(wanted: Wanted, feature: Cylindrical, values: Values) -> tuple[Fact | Statement, ...]:
    by = wanted.given_by
    flank = feature.flank_class
    lines: list[Fact | Statement] = []
    if isinstance(feature, DoubleHelicalGear):
        gap = float(feature.upper.z_from - feature.lower.z_to)
        lines += [
            Fact("face width, lower helix", feature.lower.length, "mm", "", by),
            Fact("face width, upper helix", feature.upper.length, "mm", "", by),
            Fact("gap between the helices", gap, "mm", "", by),
        ]
    else:
        lines.append(values.given("b", "face width", by))
    lines.append(values.fact("zv"))
    words = str(flank) if wanted.graded else "none given: no flank tolerances"
    return (*lines, Statement("class of flank tolerances", words, by if wanted.graded else ""))
