"""Bevel gears."""

from __future__ import annotations

from typing import Final

from sequencer.datasheet.formula import Formula, source_of
from sequencer.datasheet.formulas.table import DERIVED, Source, formula
from sequencer.gears import bevel_cones

BEVELS: Final[dict[str, Formula]] = {}


def _add(key: str, name: str, unit: str, expression: str, source: Source) -> None:
    assert key not in BEVELS
    BEVELS.update([formula(key, name, unit, expression, source)])


_BLANK = source_of(bevel_cones.cone_depth_angle)
_add("de", "pitch diameter, outer end", "mm", "met*z", _BLANK)
_add("delta", "pitch cone angle", "deg", "atan2(sin(Sigma), zM/z + cos(Sigma))", bevel_cones.pitch_cone_angle)
_add("Re", "outer cone distance", "mm", "met*z/(2*sin(delta))", bevel_cones.outer_cone_distance)
_add("uv", "ratio of the virtual gears", "", "zb*cos(deltas)/(zs*cos(deltab))", bevel_cones.equivalent_ratio)
_add("hae/equal", "outer addendum", "mm", "1*met", bevel_cones.wheel_addendum)
_add("hae/wheel", "outer addendum", "mm", "met*(0.46 + 0.39/uv)", bevel_cones.wheel_addendum)
_add("hae/pinion", "outer addendum", "mm", "1.7*met - met*(0.46 + 0.39/uv)", bevel_cones.wheel_addendum)
_add("hae/wheel of straight", "outer addendum", "mm", "met*(0.54 + 0.46/uv)", bevel_cones.wheel_addendum)
_add(
    "hae/pinion of straight",
    "outer addendum",
    "mm",
    "2*met - met*(0.54 + 0.46/uv)",
    bevel_cones.wheel_addendum,
)
_add("he/straight", "outer tooth depth", "mm", "2.188*met", _BLANK)
_add("he/equal", "outer tooth depth", "mm", "2.25*met", _BLANK)
_add("he/spiral", "outer tooth depth", "mm", "1.888*met", _BLANK)
_add("hfe", "outer dedendum", "mm", "he - hae", _BLANK)
_add("theta_a/equal", "addendum angle", "deg", "atan(hae/Re)", bevel_cones.cone_depth_angle)
_add("theta_a/unequal", "addendum angle", "deg", "atan(hfM/Re)", bevel_cones.cone_depth_angle)
_add("theta_f", "dedendum angle", "deg", "atan(hfe/Re)", bevel_cones.cone_depth_angle)
_add("delta_a", "tip cone angle", "deg", "delta + theta_a", _BLANK)
_add("delta_f", "root cone angle", "deg", "delta - theta_f", _BLANK)
_add("dae", "tip diameter, outer end", "mm", "de + 2*hae*cos(delta)", _BLANK)
_add("dai", "tip diameter, inner end", "mm", "dae - 2*b*sin(delta_a)/cos(theta_a)", _BLANK)
_add("txo", "cone apex to crown", "mm", "Re*cos(delta) - hae*sin(delta)", _BLANK)
_add("bx", "face width along the axis", "mm", "b*cos(delta_a)/cos(theta_a)", _BLANK)
_add("txi", "cone apex to inner end of the tip cone", "mm", "txo - bx", DERIVED)
_add("Xb", "crown to mounting face", "mm", "tB - txo", bevel_cones.crown_to_back)
_add("Rm", "mean cone distance", "mm", "Re - b/2", bevel_cones.mean_cone_distance)
_add("Ri", "inner cone distance", "mm", "Re - b", bevel_cones.inner_cone_distance)
_add("dm", "mean pitch diameter", "mm", "de*Rm/Re", bevel_cones.mean_pitch_diameter)
_add("mmn", "mean normal module", "mm", "met*Rm/Re*cos(betam)", bevel_cones.mean_normal_module)
_add("dve", "pitch diameter of the virtual gear", "mm", "de/cos(delta)", bevel_cones.virtual_pitch_diameter)
_add("zvb", "virtual number of teeth", "", "z/(cos(delta)*cos(betam)^3)", bevel_cones.virtual_bevel_teeth)
_add(
    "bmax/straight",
    "largest usual face width",
    "mm",
    "min(Re/3, 10*met)",
    bevel_cones.largest_bevel_face_width,
)
_add(
    "bmax/spiral",
    "largest usual face width",
    "mm",
    "min(0.3*Re, 10*met)",
    bevel_cones.largest_bevel_face_width,
)
