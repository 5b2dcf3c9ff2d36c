"""The gear with its mate: centre distance, working pressure angle, contact ratios, interference."""

from __future__ import annotations

from math import inf, isinf

from sequencer.datasheet.sheet import Section, Statement
from sequencer.datasheet.values import Values
from sequencer.datasheet.wanted import Cylindrical, Wanted
from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear, interference, thickness_limits
from sequencer.gears.involute import diameter_at_roll_length
from sequencer.gears.mesh import GearMesh
from sequencer.operations.operation import Fact
from sequencer.part.teeth import gear_mesh
from sequencer.units import Mm, shown

#: Shifts that differ by less than this make no backlash and no jam that counts.
SAME_SHIFT = 5e-7
NAME = "Mate"


def mate_section(wanted: Wanted, feature: Cylindrical, values: Values) -> Section | None:
    """Give the data of the pair; None if the drawing names no mate.

    Parameters
    ----------
    wanted
        What is wanted.
    feature
        The gear as the drawing gives it.
    values
        Values by symbol of the gear.
    """
    try:
        mesh = gear_mesh(feature)
        if mesh is None:
            return None
        known = values.and_more(_values(mesh) | _backlash_values(mesh, values))
        return Section(NAME, (*_pair_lines(wanted, mesh, known), *_contact_lines(wanted, mesh, known)))
    except OutOfRange as error:
        return Section(NAME, (Statement("mate", f"cannot mesh: {error}"),))


def _values(mesh: GearMesh) -> dict[str, float]:
    first, second = mesh.gears
    rolls = mesh.roll_lengths
    return {
        "z1": float(first.teeth),
        "z2": float(second.teeth),
        "x1": first.profile_shift,
        "x2": second.profile_shift,
        "xM": mesh.mate_shift,
        "u": second.teeth / first.teeth,
        "da1": first.tip_diameter,
        "da2": second.tip_diameter,
        "df1": first.root_diameter,
        "df2": second.root_diameter,
        "db1": first.base_diameter,
        "db2": second.base_diameter,
        "ad": mesh.reference_centre_distance,
        "a": mesh.centre_distance,
        "alpha_wt": mesh.working_pressure_angle,
        "xs": mesh.shift_sum,
        "dw1": mesh.working_pitch_diameters[0],
        "dw2": mesh.working_pitch_diameters[1],
        "c1": mesh.tip_clearances[0],
        "c2": mesh.tip_clearances[1],
        "eps_alpha": mesh.transverse_contact_ratio,
        "eps_beta": mesh.overlap_ratio,
        "eps_gamma": mesh.transverse_contact_ratio + mesh.overlap_ratio,
        "L1": rolls[0],
        "L2": rolls[1],
        "dNf1": diameter_at_roll_length(max(rolls[0], 0.0), first.base_diameter),
        "dNf2": diameter_at_roll_length(max(rolls[1], 0.0), second.base_diameter),
    }


def _backlash_values(mesh: GearMesh, values: Values) -> dict[str, float]:
    """Backlash by the profile shifts, and by the allowances of this gear."""
    gear, known = mesh.gear, values.by_symbol
    made = {
        "jx": thickness_limits.normal_backlash_from_shift(
            mesh.spare_shift, gear.normal_module, gear.pressure_angle
        )
    }
    if "Esns" in known:
        for symbol, allowance in (("jus", known["Esns"]), ("jui", known["Esni"])):
            made[symbol] = thickness_limits.normal_backlash_from_allowance(allowance, gear.pressure_angle)
    return made


def _pair_lines(wanted: Wanted, mesh: GearMesh, values: Values) -> tuple[Fact | Statement, ...]:
    place, by = _place(mesh), wanted.given_by
    which = (
        "gear 1 is the pinion, gear 2 this gear"
        if mesh.gear_is_second
        else f"gear 1 is this gear, gear 2 the mate{', an internal gear' if mesh.internal else ''}"
    )
    teeth = Fact("number of teeth of the mate", float(mesh.mate_teeth), "", "", by)
    lines: list[Fact | Statement] = [Statement("numbering", which), teeth, values.fact("u")]
    lines.append(values.fact(f"ad/{place}"))
    if mesh.given_centre_distance is not None:
        lines += [
            values.given("a", "centre distance", by),
            values.fact("alpha_wt/distance"),
            values.fact(f"xs/{place}"),
        ]
        if mesh.given_mate_shift is None:
            lines.append(values.fact("xM/around" if mesh.mate_internal else f"xM/{place}"))
        else:
            lines += [values.given("xM", "profile shift of the mate", by), *_backlash(mesh, values)]
    else:
        assumed = mesh.given_mate_shift is None
        source = "usual value, not given" if assumed else by
        lines += [
            values.given("xM", "profile shift of the mate", source, estimate=assumed),
            values.fact(f"alpha_wt/{place}"),
            Fact(
                "centre distance without backlash",
                mesh.centre_distance,
                "mm",
                values.fact("a").formula,
                values.fact("a").source,
            ),
        ]
    thinned = ("jus", "jui") if "Esns" in values.by_symbol else ()
    return (*lines, *values.facts((*thinned, "dw1", "dw2")))


def _backlash(mesh: GearMesh, values: Values) -> tuple[Fact | Statement, ...]:
    spare = mesh.spare_shift
    what = "difference" if mesh.internal else "sum"
    if spare < -SAME_SHIFT:
        words = (
            f"the teeth jam before allowances: the {what} of the shifts is {shown(-spare, 4)} too much "
            "for this centre distance"
        )
    elif spare <= SAME_SHIFT:
        words = "none before allowances"
    else:
        words = f"the {what} of the shifts falls {shown(spare, 4)} short of the one without backlash"
    statement = Statement("backlash", words)
    return (statement, values.fact(f"jx/{_place(mesh)}")) if spare > SAME_SHIFT else (statement,)


def _place(mesh: GearMesh) -> str:
    return "internal" if mesh.internal else "external"


def _mate_ends(wanted: Wanted, mesh: GearMesh) -> tuple[Fact, Fact]:
    """Tip and root of the mate; without drawing they follow from the basic rack."""
    assumed = mesh.given_mate_tip_diameter is None
    source = "same basic rack, no tip shortening" if assumed else wanted.given_by
    return (
        Fact("tip diameter of the mate", mesh.mate.tip_diameter, "mm", "", source, assumed),
        Fact("root diameter of the mate", mesh.mate.root_diameter, "mm", "", "same basic rack", True),
    )


def _contact_lines(wanted: Wanted, mesh: GearMesh, values: Values) -> tuple[Fact | Statement, ...]:
    place = _place(mesh)
    first, second = mesh.gears
    names = ("the pinion", "this gear") if mesh.gear_is_second else ("this gear", "the mate")
    lines: list[Fact | Statement] = [
        *_mate_ends(wanted, mesh),
        values.fact(f"c1/{place}"),
        values.fact(f"c2/{place}"),
        values.fact(f"eps_alpha/{place}"),
    ]
    if mesh.gear.helix_angle:
        lines += values.facts(("eps_beta", "eps_gamma"))
    if mesh.transverse_contact_ratio < 1.0 and not mesh.gear.helix_angle:
        lines.append(Statement("contact", "broken: the transverse contact ratio is below 1"))
    for at, roll, gear in ((1, mesh.roll_lengths[0], first), (2, mesh.roll_lengths[1], second)):
        lines.append(values.fact(f"L{at}/{place}"))
        if roll >= 0:
            lines.append(values.fact(f"dNf{at}"))
        start = values.by_symbol[f"dNf{at}"]
        lines.append(_tip_meets(at, roll, start, gear, names[at - 1]))
    lines += [
        Statement(f"tip clearance of gear {at}", "none: the tip touches the root")
        for at in (1, 2)
        if mesh.tip_clearances[at - 1] <= 0
    ]
    return (*lines, *(_jamming(mesh, values) if mesh.internal else ()))


def _tip_meets(at: int, roll: Mm, start: Mm, gear: CylindricalGear, name: str) -> Statement:
    """Whether the tip of the other gear keeps to the involute of this one."""
    internal, form = gear.internal, gear.root_form_diameter
    heading = f"interference at the root of gear {at}"
    if roll < 0:
        return Statement(heading, f"yes: the other tip meets {name} inside the base circle")
    free = start <= form + 1e-6 if internal else start >= form - 1e-6
    words = f"active profile of {name} begins at diameter {shown(start)} mm, its involute at {shown(form)} mm"
    return Statement(heading, f"{'none' if free else 'yes'}: {words}")


def _jamming(mesh: GearMesh, values: Values) -> tuple[Fact | Statement, ...]:
    """The three ways in which a pinion jams in an internal gear."""
    first, second = mesh.gears
    teeth, angle = mesh.teeth, mesh.working_pressure_angle
    margins = {
        "Ui": interference.involute_interference_margin(
            *teeth, second.tip_diameter, second.base_diameter, angle
        ),
        "Ut": interference.trochoid_interference_margin(
            *teeth,
            first.tip_diameter,
            first.base_diameter,
            second.tip_diameter,
            mesh.centre_distance,
            angle,
        ),
        "Ur": interference.trimming_interference_margin(
            *teeth, first.tip_diameter, first.base_diameter, second.tip_diameter, angle
        ),
    }
    bad = {
        "Ui": "yes: the tip of the internal gear meets the pinion below its base circle",
        "Ut": "yes: the tips collide as the pinion leaves",
        "Ur": "yes: the pinion goes in along the axis only, not radially",
    }
    lines: list[Fact | Statement] = []
    known = values.and_more(margins)
    for symbol, kind in (("Ui", "involute"), ("Ut", "trochoid"), ("Ur", "trimming")):
        margin = margins[symbol]
        if isinf(margin):
            words = "none: the tips never meet" if margin == inf else bad[symbol]
        else:
            lines.append(known.fact(symbol))
            words = bad[symbol] if margin < 0 else "none: the margin is not below 0"
        lines.append(Statement(f"{kind} interference", words))
    return tuple(lines)
