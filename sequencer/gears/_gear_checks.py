"""Checks of a cylindrical gear, each with its own message."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING

from sequencer.errors import OutOfRange
from sequencer.gears import rack
from sequencer.gears._ranges import check_count, check_range
from sequencer.units import Mm

if TYPE_CHECKING:
    from sequencer.gears.cylindrical import CylindricalGear


def check_values(gear: CylindricalGear) -> None:
    """Refuse numbers outside their ranges."""
    where = "cylindrical gear"
    check_count("number of teeth", gear.teeth, 3, 2000, where=where)
    check_range("normal module", gear.normal_module, 0.05, 100.0, unit="mm", where=where)
    where = f"gear z {gear.teeth} mn {gear.normal_module:g}"
    check_range("face width", gear.face_width, 0.0, inf, unit="mm", where=where, open_low=True)
    check_range("pressure angle", gear.pressure_angle, 10.0, 45.0, unit="deg", where=where)
    check_range(
        "helix angle",
        gear.helix_angle,
        0.0,
        60.0,
        unit="deg",
        where=where,
        open_high=True,
        remedy="Give the angle without sign, its direction as hand",
    )
    check_range("profile shift factor", gear.profile_shift, -5.0, 5.0, where=where)
    check_range("addendum factor", gear.addendum_factor, 0.0, 5.0, where=where)
    check_range("dedendum factor", gear.dedendum_factor, 0.0, 5.0, where=where)
    if gear.root_fillet_factor is not None:
        check_range("root fillet factor", gear.root_fillet_factor, 0.0, 5.0, where=where)


def check_hand(gear: CylindricalGear) -> None:
    """Refuse a helix without hand and a hand without helix."""
    if gear.hand not in (None, "right", "left"):
        raise OutOfRange(
            f"hand is {gear.hand!r}",
            where=str(gear),
            limit="right, left or none",
            remedy="Correct the hand",
        )
    if (gear.hand is None) == bool(gear.helix_angle):
        raise OutOfRange(
            f"helix angle {gear.helix_angle:g} deg and hand {gear.hand or 'none'} do not go together",
            where=str(gear),
            limit="a helical gear has a hand, a spur gear has none",
            remedy="Give the hand as right or left for a helical gear",
        )


def check_rack(gear: CylindricalGear) -> None:
    """Refuse proportions that no rack-shaped tool can have; an internal gear is not cut by a rack."""
    if gear.internal:
        return
    land = rack.root_land_factor(gear.pressure_angle, gear.dedendum_factor)
    if land <= 0.0:
        deepest = rack.deepest_dedendum_factor(gear.pressure_angle)
        raise OutOfRange(
            f"dedendum factor {gear.dedendum_factor:g} makes the tool tooth pointed",
            where=str(gear),
            limit=f"below {deepest:.4g} at {gear.pressure_angle:g} deg",
            remedy="Use a smaller dedendum or pressure angle",
        )
    largest = rack.largest_root_fillet_factor(gear.pressure_angle, gear.dedendum_factor)
    if gear.root_fillet_factor is not None and gear.root_fillet_factor > largest * (1.0 + 1e-9):
        raise OutOfRange(
            f"root fillet factor {gear.root_fillet_factor:g} does not fit between the flanks of the tool",
            where=str(gear),
            limit=f"at most {largest:.4g}",
            remedy="Use a smaller fillet",
        )


def check_diameters(gear: CylindricalGear) -> None:
    """Refuse tip and root diameters that are crossed or on the wrong side of the tooth."""
    given = (("tip", gear.given_tip_diameter), ("root", gear.given_root_diameter))
    for name, value in given:
        if value is not None:
            check_range(f"{name} diameter", value, 0.0, inf, unit="mm", where=str(gear), open_low=True)
    tip, root = gear.tip_diameter, gear.root_diameter
    inner, outer = (tip, root) if gear.internal else (root, tip)
    names = ("tip", "root") if gear.internal else ("root", "tip")
    if not 0.0 < inner < outer:
        raise OutOfRange(
            f"{names[0]} diameter {inner:.6g} mm, {names[1]} diameter {outer:.6g} mm",
            where=str(gear),
            limit=f"the {names[0]} diameter is above 0 and below the {names[1]} diameter",
            remedy="Correct the diameters, the profile shift or the tooth proportions",
        )
    for name, value in given:
        _check_side(gear, name, value)


def _check_side(gear: CylindricalGear, name: str, value: Mm | None) -> None:
    """Refuse a drawing's diameter on the wrong side of the middle of the tooth."""
    if value is None:
        return
    middle = gear.shifted_diameter
    outside = (name == "tip") != gear.internal
    if (value > middle) != outside:
        raise OutOfRange(
            f"{name} diameter {value:.6g} mm",
            where=str(gear),
            limit=f"{'above' if outside else 'below'} the shifted reference diameter {middle:.6g} mm",
            remedy=f"Correct the {name} diameter or the profile shift",
        )


def check_teeth_exist(gear: CylindricalGear) -> None:
    """Refuse teeth without flank: inside the base circle, pointed, undercut away, or spaces that close."""
    tip, base = gear.tip_diameter, gear.base_diameter
    if tip < base:
        raise OutOfRange(
            f"tip diameter {tip:.6g} mm is inside the base circle",
            where=str(gear),
            limit=f"at least the base diameter {base:.6g} mm",
            remedy="Use a smaller addendum, more profile shift or a larger tip diameter"
            if gear.internal
            else "Use more profile shift or a larger tip diameter",
        )
    if gear.tip_thickness <= 0.0:
        raise OutOfRange(
            f"tooth is pointed: tip thickness {gear.tip_thickness:.4g} mm at tip diameter {tip:.6g} mm",
            where=str(gear),
            limit="tip thickness above 0 mm",
            remedy="Use a smaller addendum or tip diameter, or less profile shift"
            if not gear.internal
            else "Use a smaller addendum, a larger tip diameter or less profile shift",
        )
    if gear.undercut and gear.root_form_diameter >= tip:
        raise OutOfRange(
            f"undercut takes away the whole flank: it reaches diameter {gear.root_form_diameter:.6g} mm",
            where=str(gear),
            limit=f"below the tip diameter {tip:.6g} mm",
            remedy=f"Use a profile shift factor nearer to {gear.least_profile_shift:.3f}",
        )
    if gear.internal and gear.space_width_at(gear.root_diameter) <= 0.0:
        raise OutOfRange(
            f"space closes before the root diameter {gear.root_diameter:.6g} mm",
            where=str(gear),
            limit=f"space width {gear.space_width_at(gear.root_diameter):.4g} mm, must be above 0 mm",
            remedy="Use a smaller dedendum or less profile shift",
        )
