"""The gear with its mate; gear 1 is the pinion of an internal gear, else the gear of the sheet."""

from __future__ import annotations

from typing import Final

from sequencer.datasheet.formula import Formula
from sequencer.datasheet.formulas.table import DERIVED, Source, formula
from sequencer.gears import interference, pair, thickness_limits

MATES: Final[dict[str, Formula]] = {}


def _add(key: str, name: str, unit: str, expression: str, source: Source) -> None:
    assert key not in MATES
    MATES.update([formula(key, name, unit, expression, source)])


_add("u", "gear ratio", "", "z2/z1", DERIVED)
for _place, _sign in (("external", "+"), ("internal", "-")):
    _pair = f"(z2 {_sign} z1)"
    _shifts = f"(x2 {_sign} x1)"
    _add(
        f"ad/{_place}",
        "centre distance without profile shift",
        "mm",
        f"mn*{_pair}/(2*cos(beta))",
        pair.reference_centre_distance,
    )
    _add(
        f"alpha_wt/{_place}",
        "working pressure angle",
        "deg",
        f"arcinv(inv(alpha_t) + 2*tan(alpha_n)*{_shifts}/{_pair})",
        pair.working_pressure_angle,
    )
    _add(
        f"xs/{_place}",
        f"{'sum' if _sign == '+' else 'difference'} of the profile shifts without backlash",
        "",
        f"{_pair}*(inv(alpha_wt) - inv(alpha_t))/(2*tan(alpha_n))",
        pair.profile_shift_sum,
    )
    _ends = "sqrt(da1^2 - db1^2)/2 {0} sqrt(da2^2 - db2^2)/2 {1} a*sin(alpha_wt)"
    _path = _ends.format("+", "-") if _sign == "+" else _ends.format("-", "+")
    _add(
        f"eps_alpha/{_place}",
        "transverse contact ratio",
        "",
        f"({_path})/(pi*mt*cos(alpha_t))",
        pair.transverse_contact_ratio,
    )
_add(
    "alpha_wt/distance",
    "working pressure angle",
    "deg",
    "acos(ad*cos(alpha_t)/a)",
    pair.working_pressure_angle_from_centre_distance,
)
_add("a", "centre distance", "mm", "ad*cos(alpha_t)/cos(alpha_wt)", pair.working_centre_distance)
_add(
    "jx/external",
    "normal backlash before allowances",
    "mm",
    "2*mn*sin(alpha_n)*(xs - x1 - x2)",
    thickness_limits.normal_backlash_from_shift,
)
_add(
    "jx/internal",
    "normal backlash before allowances",
    "mm",
    "2*mn*sin(alpha_n)*(x2 - x1 - xs)",
    thickness_limits.normal_backlash_from_shift,
)
_add(
    "jus",
    "normal backlash by this gear, least",
    "mm",
    "-Esns*cos(alpha_n)",
    thickness_limits.normal_backlash_from_allowance,
)
_add(
    "jui",
    "normal backlash by this gear, greatest",
    "mm",
    "-Esni*cos(alpha_n)",
    thickness_limits.normal_backlash_from_allowance,
)
_add("xM/external", "profile shift of the mate", "", "xs - x", pair.profile_shift_sum)
_add("xM/internal", "profile shift of the mate", "", "x - xs", pair.profile_shift_sum)
_add("xM/around", "profile shift of the mate", "", "x + xs", pair.profile_shift_sum)
_add("dw1", "working pitch diameter, gear 1", "mm", "db1/cos(alpha_wt)", pair.working_pitch_diameter)
_add("dw2", "working pitch diameter, gear 2", "mm", "db2/cos(alpha_wt)", pair.working_pitch_diameter)
_add("eps_beta", "overlap ratio", "", "b*sin(beta)/(pi*mn)", pair.overlap_ratio)
_add("eps_gamma", "total contact ratio", "", "eps_alpha + eps_beta", DERIVED)
_add("c1/external", "tip clearance of gear 1", "mm", "a - (da1 + df2)/2", interference.tip_clearance)
_add("c2/external", "tip clearance of gear 2", "mm", "a - (da2 + df1)/2", interference.tip_clearance)
_add("c1/internal", "tip clearance of gear 1", "mm", "df2/2 - a - da1/2", interference.tip_clearance)
_add("c2/internal", "tip clearance of gear 2", "mm", "da2/2 - a - df1/2", interference.tip_clearance)
_ROLL = "tangent where the tip of gear {} meets gear {}"
_add(
    "L1/external",
    _ROLL.format(2, 1),
    "mm",
    "a*sin(alpha_wt) - sqrt(da2^2 - db2^2)/2",
    interference.roll_length_at_mating_tip,
)
_add(
    "L2/external",
    _ROLL.format(1, 2),
    "mm",
    "a*sin(alpha_wt) - sqrt(da1^2 - db1^2)/2",
    interference.roll_length_at_mating_tip,
)
_add(
    "L1/internal",
    _ROLL.format(2, 1),
    "mm",
    "sqrt(da2^2 - db2^2)/2 - a*sin(alpha_wt)",
    interference.roll_length_at_mating_tip,
)
_add(
    "L2/internal",
    _ROLL.format(1, 2),
    "mm",
    "sqrt(da1^2 - db1^2)/2 + a*sin(alpha_wt)",
    interference.roll_length_at_mating_tip,
)
_add("dNf1", "start of active profile, gear 1", "mm", "2*sqrt((db1/2)^2 + L1^2)", DERIVED)
_add("dNf2", "start of active profile, gear 2", "mm", "2*sqrt((db2/2)^2 + L2^2)", DERIVED)
_add(
    "Ui",
    "margin against involute interference",
    "",
    "z1/z2 - (1 - tan(acos(db2/da2))/tan(alpha_wt))",
    interference.involute_interference_margin,
)
_add(
    "Ut",
    "margin against trochoid interference",
    "rad",
    "(acos((da2^2 - da1^2 - 4*a^2)/(4*a*da1)) + inv(acos(db1/da1)) - inv(alpha_wt))*z1/z2 + inv(alpha_wt) "
    "- inv(acos(db2/da2)) - acos((4*a^2 + da2^2 - da1^2)/(4*a*da2))",
    interference.trochoid_interference_margin,
)
_add(
    "Ur",
    "margin against trimming interference",
    "rad",
    "asin(sqrt((1 - (db1*da2/(da1*db2))^2)/(1 - (z1/z2)^2))) + inv(acos(db1/da1)) - inv(alpha_wt) "
    "- z2/z1*(asin(sqrt(((da1*db2/(db1*da2))^2 - 1)/((z2/z1)^2 - 1))) + inv(acos(db2/da2)) - inv(alpha_wt))",
    interference.trimming_interference_margin,
)
