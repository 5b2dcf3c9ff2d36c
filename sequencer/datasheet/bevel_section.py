"""The blank data of a bevel gear."""

from __future__ import annotations

from sequencer.datasheet.sheet import Section, Statement
from sequencer.datasheet.values import Values
from sequencer.datasheet.wanted import Wanted
from sequencer.gears import bevel
from sequencer.gears.bevel_cones import equivalent_ratio
from sequencer.operations.operation import Fact
from sequencer.part.teeth import bevel_pair
from sequencer.part.toothed import BevelGear
from sequencer.units import shown


def bevel_sections(wanted: Wanted, feature: BevelGear) -> tuple[Section, ...]:
    """Give the sections of a bevel gear.

    Parameters
    ----------
    wanted
        What is wanted.
    feature
        The bevel gear as the drawing gives it.

    Raises
    ------
    OutOfRange
        When the cones cannot exist.
    """
    pair = bevel_pair(feature)
    small = feature.teeth <= feature.mate_teeth
    gear, mate = (pair.pinion, pair.wheel) if small else (pair.wheel, pair.pinion)
    values = _values(feature, pair, gear, mate)
    spiral = feature.form == "spiral"
    return (
        Section(
            "Gear data",
            (*_given_lines(wanted, feature, values), *_tooth_lines(wanted, feature, small, values)),
        ),
        Section("Blank data", _blank_lines(wanted, feature, pair, values, spiral)),
    )


def _values(
    feature: BevelGear, pair: bevel.BevelPair, gear: bevel.BevelGear, mate: bevel.BevelGear
) -> Values:
    small, large = pair.pinion, pair.wheel
    return Values(
        {
            "z": float(gear.teeth),
            "zM": float(mate.teeth),
            "zs": float(small.teeth),
            "zb": float(large.teeth),
            "met": gear.outer_module,
            "alpha_n": float(feature.pressure_angle),
            "betam": gear.spiral_angle,
            "Sigma": float(feature.shaft_angle),
            "b": gear.face_width,
            "de": gear.pitch_diameter,
            "delta": gear.pitch_cone_angle,
            "deltas": small.pitch_cone_angle,
            "deltab": large.pitch_cone_angle,
            "Re": gear.cone_distance,
            "uv": equivalent_ratio(small.teeth, large.teeth, small.pitch_cone_angle, large.pitch_cone_angle),
            "hae": gear.addendum,
            "hfe": gear.dedendum,
            "he": gear.whole_depth,
            "hfM": mate.dedendum,
            "theta_a": gear.addendum_angle,
            "theta_f": gear.dedendum_angle,
            "delta_a": gear.tip_cone_angle,
            "delta_f": gear.root_cone_angle,
            "dae": gear.tip_diameter,
            "dai": gear.inner_tip_diameter,
            "txo": gear.apex_to_crown,
            "bx": gear.axial_face_width,
            "txi": gear.apex_to_crown - gear.axial_face_width,
            "Rm": gear.mean_cone_distance,
            "Ri": gear.inner_cone_distance,
            "dm": gear.mean_pitch_diameter,
            "mmn": gear.mean_normal_module,
            "dve": gear.virtual_pitch_diameter,
            "zvb": gear.virtual_teeth,
            "bmax": pair.largest_face_width,
            "tB": float(feature.mounting_distance),
            "Xb": gear.crown_to_back(float(feature.mounting_distance)),
        }
    )


def _given_lines(wanted: Wanted, feature: BevelGear, values: Values) -> tuple[Fact | Statement, ...]:
    by = wanted.given_by
    lines: list[Fact | Statement] = [
        Statement("teeth", f"{feature.form} bevel", by),
        values.given("z", "number of teeth", by),
        values.given("zM", "number of teeth of the mate", by),
        Statement("size of the teeth", f"{feature.module.text}, outer transverse module, as written", by),
        values.given("met", "outer module", by),
    ]
    for symbol, name, key in (
        ("alpha_n", "normal pressure angle", "pressure_angle"),
        ("Sigma", "shaft angle", "shaft_angle"),
    ):
        assumed = key not in feature.model_fields_set
        source = "usual value, not given" if assumed else by
        lines.append(values.given(symbol, name, source, estimate=assumed))
    if feature.form == "spiral":
        lines += [
            values.given("betam", "mean spiral angle", by),
            Statement("hand of the spiral", str(feature.hand), by),
        ]
    flank = feature.flank_class
    words = (
        "none given" if flank is None else f"{flank}; that standard is for cylindrical gears: agree on values"
    )
    return (
        *lines,
        values.given("b", "face width along the cone", by),
        Statement("class of flank tolerances", words, "" if flank is None else by),
    )


def _tooth_lines(
    wanted: Wanted, feature: BevelGear, small: bool, values: Values
) -> tuple[Fact | Statement, ...]:
    side, assumed = "pinion" if small else "wheel", True
    keys: tuple[str, ...]
    if feature.form == "spiral":
        system = "Elements of Metric Gear Technology, section 8, spiral bevel gears"
        keys = ("uv", f"hae/{side}", "he/spiral", "hfe", "zvb", "dve")
        words = "unequal addenda of spiral bevel gears"
    elif feature.proportions == "unequal addendum":
        system, assumed = wanted.given_by, False
        keys = ("uv", f"hae/{side} of straight", "he/straight", "hfe", "zvb", "dve")
        words = "unequal addenda of straight bevel gears"
    else:
        keys = ("hae/equal", "he/equal", "hfe", "zvb", "dve")
        assumed = feature.proportions is None
        words = "equal addenda, 1 and 1.25 modules"
        system = "usual value, not given" if assumed else wanted.given_by
    return (
        *values.facts(("de", "delta", "Re", "Rm", "Ri", "dm", "mmn")),
        Statement("tooth proportions", words, system, estimate=assumed),
        *values.facts(keys),
    )


def _blank_lines(
    wanted: Wanted, feature: BevelGear, pair: bevel.BevelPair, values: Values, spiral: bool
) -> tuple[Fact | Statement, ...]:
    keys = (
        "theta_a/unequal" if spiral or feature.proportions == "unequal addendum" else "theta_a/equal",
        "theta_f",
        "delta_a",
        "delta_f",
        "dae",
        "dai",
        "txo",
        "bx",
        "txi",
    )
    by, most = wanted.given_by, shown(pair.largest_face_width)
    wide = "wider than usual" if pair.face_too_wide else "within what is usual"
    return (
        *values.facts(keys),
        values.given("tB", "mounting distance", by),
        values.fact("Xb"),
        values.fact("bmax/spiral" if spiral else "bmax/straight"),
        Statement("face width", f"{wide}: {shown(float(feature.face_width))} mm of {most} mm"),
    )
