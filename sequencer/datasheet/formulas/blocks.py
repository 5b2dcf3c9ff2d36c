"""Gear data of cylindrical gears."""

from __future__ import annotations

from typing import Final

from sequencer.datasheet.formula import Formula
from sequencer.datasheet.formulas.table import DERIVED, Source, formula
from sequencer.gears import diameters, rack, thickness

BLOCKS: Final[dict[str, Formula]] = {}


def _add(key: str, name: str, unit: str, expression: str, source: Source) -> None:
    assert key not in BLOCKS
    BLOCKS.update([formula(key, name, unit, expression, source)])


_SUM: Final = "derived (thickness and its allowance)"
_add("mn/pitch", "normal module", "mm", "25.4/P", rack.module_from_diametral_pitch)
_add("mn/transverse", "normal module", "mm", "mt*cos(beta)", rack.normal_module)
_add("mt/pitch", "transverse module", "mm", "25.4/Pt", rack.module_from_diametral_pitch)
_add("mt", "transverse module", "mm", "mn/cos(beta)", rack.transverse_module)
_add("P", "normal diametral pitch", "1/in", "25.4/mn", rack.diametral_pitch)
_add(
    "alpha_t",
    "transverse pressure angle",
    "deg",
    "atan(tan(alpha_n)/cos(beta))",
    rack.transverse_pressure_angle,
)
_add("beta_b", "base helix angle", "deg", "asin(sin(beta)*cos(alpha_n))", diameters.base_helix_angle)
_add("pz", "lead", "mm", "pi*mn*z/sin(beta)", diameters.lead)
_add("d", "reference diameter", "mm", "z*mn/cos(beta)", diameters.reference_diameter)
_add("db", "base diameter", "mm", "d*cos(alpha_t)", diameters.base_diameter)
_add("dv", "V-circle diameter", "mm", "d + 2*x*mn", diameters.shifted_diameter)
_add("da", "tip diameter", "mm", "d + 2*x*mn + 2*haP*mn", diameters.tip_diameter)
_add("da/internal", "tip diameter", "mm", "d + 2*x*mn - 2*haP*mn", diameters.tip_diameter)
_add("df", "root diameter", "mm", "d + 2*x*mn - 2*hfP*mn", diameters.root_diameter)
_add("df/internal", "root diameter", "mm", "d + 2*x*mn + 2*hfP*mn", diameters.root_diameter)
_add("h", "tooth depth", "mm", "abs(da - df)/2", DERIVED)
_add("pbn", "normal base pitch", "mm", "pi*mn*cos(alpha_n)", rack.base_pitch)
_add("zv", "virtual number of teeth", "", "z/cos(beta)^3", diameters.virtual_teeth)
_add("sn", "normal tooth thickness", "mm", "mn*(pi/2 + 2*x*tan(alpha_n))", thickness.normal_tooth_thickness)
_add(
    "sn/internal",
    "normal tooth thickness",
    "mm",
    "mn*(pi/2 - 2*x*tan(alpha_n))",
    thickness.normal_tooth_thickness,
)
_add("sns", "normal tooth thickness, upper limit", "mm", "sn + Esns", _SUM)
_add("sni", "normal tooth thickness, lower limit", "mm", "sn + Esni", _SUM)
_TIP = "da*(sn/(z*mn) {} inv(alpha_t) {} inv(acos(db/da)))*cos(atan(tan(beta)*da/d))"
_add(
    "san", "tip thickness, normal section", "mm", _TIP.format("+", "-"), thickness.transverse_tooth_thickness
)
_add(
    "san/internal",
    "tip thickness, normal section",
    "mm",
    _TIP.format("-", "+"),
    thickness.transverse_tooth_thickness,
)
_add(
    "hFfP",
    "straight dedendum of the rack",
    "",
    "hfP - rhoP*(1 - sin(alpha_n))",
    rack.straight_dedendum_factor,
)
_add(
    "xmin",
    "least profile shift without undercut",
    "",
    "hFfP - z*sin(alpha_t)^2/(2*cos(beta))",
    thickness.least_profile_shift,
)
_add(
    "dFf",
    "root form diameter",
    "mm",
    "max(df, 2*sqrt((db/2)^2 + (d/2*sin(alpha_t) - (hFfP - x)*mn/sin(alpha_t))^2))",
    diameters.root_form_diameter,
)
_add(
    "dFf/internal",
    "root form diameter",
    "mm",
    "max(df - 2*(hfP - hFfP)*mn, dv)",
    "estimate by the fillet of the basic rack",
)
