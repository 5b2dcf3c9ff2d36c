"""The allowances of the tooth thickness of a cylindrical gear, and where they come from."""

from __future__ import annotations

from sequencer.datasheet.formula import source_of
from sequencer.datasheet.sheet import Statement
from sequencer.datasheet.values import Values
from sequencer.datasheet.wanted import Cylindrical, Wanted
from sequencer.gears import thickness_limits
from sequencer.operations.operation import Fact
from sequencer.part.thickness import thickness_allowances
from sequencer.part.toothed import BevelGear, Spline
from sequencer.units import shown

_USUAL = "usual value, not given"
#: Modules of the table of ISO/TR 10064-2 (from memory) [mm].
_RECOMMENDED = (1.5, 18.0)


def allowance_values(feature: Cylindrical) -> dict[str, float]:
    """Give the values of the allowances by their symbols; none if the drawing gives none.

    Parameters
    ----------
    feature
        The gear as the drawing gives it.

    Raises
    ------
    OutOfRange
        When the class does not reach to this diameter.
    """
    allowances = thickness_allowances(feature)
    if allowances is None:
        return {}
    values = {"Esns": allowances.upper, "Esni": allowances.lower, "Tsn": allowances.upper - allowances.lower}
    if allowances.normal_backlash is not None:
        values |= {"jbn": allowances.normal_backlash, "sj": feature.backlash_share}
        values["EsnsM"] = thickness_limits.allowance_from_backlash(
            allowances.normal_backlash, 1.0 - feature.backlash_share, float(feature.pressure_angle)
        )
    if allowances.backlash_angle is not None and feature.backlash is not None:
        values |= {"jwt": float(feature.backlash), "alpha_wt": allowances.backlash_angle}
    if allowances.centre_distance is not None:
        values["a"] = allowances.centre_distance
    return values


def allowance_lines(wanted: Wanted, values: Values) -> tuple[Fact | Statement, ...]:
    """Give the allowances, each with its formula or who gave it.

    Parameters
    ----------
    wanted
        What is wanted.
    values
        Values by symbol.
    """
    feature = wanted.feature
    if isinstance(feature, Spline | BevelGear):
        return ()
    if "Esns" not in values.by_symbol:
        words = "no allowances given: the sizes are nominal, without backlash"
        return (Statement("tooth thickness", words),)
    if feature.thickness_class is not None:
        return _by_class(wanted, feature, values)
    if feature.thickness_tolerance is not None:
        return _by_backlash(wanted, feature, values)
    by = wanted.given_by
    return (
        values.given("Esns", "tooth thickness allowance, upper", by),
        values.given("Esni", "tooth thickness allowance, lower", by),
    )


def _by_class(wanted: Wanted, feature: Cylindrical, values: Values) -> tuple[Fact | Statement, ...]:
    series = feature.thickness_class
    assert series is not None
    low, high = thickness_limits.din_3967_range(values.by_symbol["d"])
    where = f"reference diameter over {shown(low)} to {shown(high)} mm"
    upper, width = (
        source_of(function)
        for function in (thickness_limits.din_3967_allowance, thickness_limits.din_3967_tolerance)
    )
    words = f"DIN 3967 {series.tolerance}{series.allowance}"
    return (
        Statement("tooth thickness", words, wanted.given_by),
        values.given(
            "Esns", "tooth thickness allowance, upper", f"{upper}, series {series.allowance}, {where}"
        ),
        values.given("Tsn", "tooth thickness tolerance", f"{width}, series {series.tolerance}, {where}"),
        values.fact("Esni"),
    )


def _by_backlash(wanted: Wanted, feature: Cylindrical, values: Values) -> tuple[Fact | Statement, ...]:
    by, known = wanted.given_by, values.by_symbol
    lines: list[Fact | Statement] = []
    if "jwt" in known:
        lines.append(values.given("jwt", "least backlash along the circumference", by))
        lines.append(
            values.fact("jbn/reference circle" if feature.mate_teeth is None else "jbn/circumferential")
        )
    elif "a" in known:
        lines.append(values.fact("jbn/recommended"))
        lines += _outside_the_table(values)
    else:
        kind = "backlash_kind" not in feature.model_fields_set
        lines.append(values.given("jbn", "least normal backlash", by, estimate=kind))
    share = "backlash_share" not in feature.model_fields_set
    source = _USUAL if share else by
    return (
        *lines,
        values.given("sj", "share of the backlash that this gear makes", source, estimate=share),
        values.given("Tsn", "tooth thickness tolerance", by),
        *values.facts(("Esns", "Esni", "EsnsM")),
    )


def _outside_the_table(values: Values) -> tuple[Statement, ...]:
    low, high = _RECOMMENDED
    if low <= values.by_symbol["mn"] <= high:
        return ()
    words = f"the report's table is for modules {shown(low)} to {shown(high)} mm: a rule of thumb here"
    return (Statement("recommended backlash", words),)
