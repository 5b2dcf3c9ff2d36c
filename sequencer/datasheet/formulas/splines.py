"""Involute splines of three standards."""

from __future__ import annotations

from typing import Final

from sequencer.datasheet.formula import Formula, source_of
from sequencer.datasheet.formulas.table import Source, formula
from sequencer.gears import diameters, over_balls, rack
from sequencer.gears.ansi_b92_1 import ansi_b92_1
from sequencer.gears.din_5480 import din_5480, din_5480_profile_shift
from sequencer.gears.iso_4156 import iso_4156, iso_4156_form_diameter
from sequencer.gears.spline_limits import spline_limits

SPLINES: Final[dict[str, Formula]] = {}


def _add(key: str, name: str, unit: str, expression: str, source: Source) -> None:
    assert key not in SPLINES
    SPLINES.update([formula(key, name, unit, expression, source)])


_CIRCLE: Final = "definition of the module"
_add("m/pitch", "module", "mm", "25.4/P", rack.module_from_diametral_pitch)
_add("P/spline", "diametral pitch", "1/in", "25.4/m", rack.diametral_pitch)
_add("xs/spline", "profile shift", "", "(dB/m - z - 1.1)/2", din_5480_profile_shift)
_add("D", "pitch diameter", "mm", "m*z", _CIRCLE)
_add("DB", "base diameter", "mm", "D*cos(alpha)", diameters.base_diameter)
_add("p", "circular pitch", "mm", "pi*m", _CIRCLE)
_add("Dmaj/DIN outside", "major diameter", "mm", "m*z + 2*xs*m + 0.9*m", din_5480)
_add("Dmin/DIN outside", "minor diameter", "mm", "m*z + 2*xs*m - 2*hfP*m", din_5480)
_add("DF/DIN outside", "form diameter", "mm", "m*z + 2*xs*m - 0.9*m - 2*0.02*m", din_5480)
_add("Dmaj/DIN inside", "major diameter", "mm", "m*z + 2*xs*m + 2*hfP*m", din_5480)
_add("Dmin/DIN inside", "minor diameter", "mm", "m*z + 2*xs*m - 0.9*m", din_5480)
_add("DF/DIN inside", "form diameter", "mm", "m*z + 2*xs*m + 0.9*m + 2*0.02*m", din_5480)
_add("S/DIN", "tooth thickness, basic", "mm", "m*(pi/2 + 2*xs*tan(alpha))", din_5480)
_add("E/DIN", "space width, basic", "mm", "m*(pi/2 + 2*xs*tan(alpha))", din_5480)
_add("S/ISO", "tooth thickness, basic", "mm", "pi*m/2", iso_4156)
_add("E/ISO", "space width, basic", "mm", "pi*m/2", iso_4156)
_add("S/ANSI", "tooth thickness, basic", "mm", "m*(pi/2 + wa)", ansi_b92_1)
_add("E/ANSI", "space width, basic", "mm", "m*(pi/2 + wa)", ansi_b92_1)
_add("Dmaj/ISO inside", "major diameter", "mm", "m*(z + r)", iso_4156)
_add("Dmin/ISO inside", "minor diameter", "mm", "DFE + 2*0.1*m", iso_4156)
_add("DF/ISO inside", "form diameter", "mm", "m*(z + t) + 2*0.1*m", iso_4156)
_add("Dmaj/ISO outside", "major diameter", "mm", "m*(z + t) + esa/tan(alpha)", iso_4156)
_add("Dmin/ISO outside", "minor diameter", "mm", "m*(z - r) + es/tan(alpha)", iso_4156)
_FORM = "2*sqrt((DB/2)^2 + max(D/2*sin(alpha) - (hs*m - {}/(2*tan(alpha)))/sin(alpha), 0)^2)"
_add("DF/ISO outside", "form diameter", "mm", _FORM.format("es"), iso_4156_form_diameter)
_add("DFE", "form diameter of the shaft", "mm", _FORM.format("0"), iso_4156_form_diameter)
_add("Dmaj/ANSI", "major diameter", "mm", "m*(z + kmaj)", ansi_b92_1)
_add("Dmin/ANSI", "minor diameter", "mm", "m*(z - kmin)", ansi_b92_1)
_add("DF/ANSI inside", "form diameter", "mm", "m*(z + kF) + 2*cF", ansi_b92_1)
_add("DF/ANSI inside major", "form diameter", "mm", "m*(z + kF) - 0.004*25.4 + 2*cF", ansi_b92_1)
_add("DF/ANSI outside", "form diameter", "mm", "m*(z - kF) - 2*cF", ansi_b92_1)
_add("cF", "form clearance", "mm", "min(max(0.001*D, 0.002*25.4), 0.01*25.4)", ansi_b92_1)
_add(
    "invP/outside",
    "involute function at the pin centre",
    "rad",
    "inv(alpha) + S/(z*m) - pi/z + DP/(z*m*cos(alpha))",
    over_balls.ball_centre_involute,
)
_add(
    "invP/inside",
    "involute function at the pin centre",
    "rad",
    "inv(alpha) + E/(z*m) - DP/(z*m*cos(alpha))",
    over_balls.ball_centre_involute,
)
for _place, _over, _sign, _size in (("outside", "over", "+", "S"), ("inside", "between", "-", "E")):
    for _key, _change, _name in (
        ("MR", "", "basic size"),
        ("MRs", f" + ({_size}s - {_size})/(z*m)", "upper limit"),
        ("MRi", f" + ({_size}i - {_size})/(z*m)", "lower limit"),
    ):
        for _odd, _factor in (("", ""), ("odd", "*cos(pi/(2*z))")):
            _add(
                f"{_key}/{_place}{_odd}",
                f"measurement {_over} pins, {_name}",
                "mm",
                f"DB/cos(arcinv(invP{_change})){_factor} {_sign} DP",
                over_balls.measurement_over_balls,
            )
    _add(
        f"dP/{_place}",
        "diameter where the pins touch",
        "mm",
        f"DB*sqrt(1 + (tan(arcinv(invP)) {'-' if _sign == '+' else '+'} DP/DB)^2)",
        over_balls.ball_contact_diameter,
    )

# Limits of ISO 4156: T is the total tolerance T + lambda, la the share of the deviations, both in mm.
_LIMITS: Final = source_of(iso_4156)
for _key, _name, _expression in (
    ("Ev/inside upper", "effective space width, upper limit", "E + T - la"),
    ("Ev/inside lower", "effective space width, lower limit", "E"),
    ("Ea/inside upper", "actual space width, upper limit", "E + T"),
    ("Ea/inside lower", "actual space width, lower limit", "E + la"),
    ("Ev/outside upper", "effective tooth thickness, upper limit", "S + es"),
    ("Ev/outside lower", "effective tooth thickness, lower limit", "S + es - T + la"),
    ("Ea/outside upper", "actual tooth thickness, upper limit", "S + es - la"),
    ("Ea/outside lower", "actual tooth thickness, lower limit", "S + es - T"),
    ("DL/major inside upper", "major diameter, upper limit", "Dmaj + T7/tan(alpha)"),
    ("DL/major inside lower", "major diameter, lower limit", "Dmaj"),
    ("DL/minor inside upper", "minor diameter, upper limit", "Dmin + IT"),
    ("DL/minor inside lower", "minor diameter, lower limit", "Dmin"),
    ("DL/major outside upper", "major diameter, upper limit", "Dmaj"),
    ("DL/major outside lower", "major diameter, lower limit", "Dmaj - IT"),
    ("DL/minor outside upper", "minor diameter, upper limit", "Dmin"),
    ("DL/minor outside lower", "minor diameter, lower limit", "Dmin - T7/tan(alpha)"),
):
    _add(_key, _name, "mm", _expression, _LIMITS)

# Limits from the deviation and tolerances of the drawing: A of shaft or hub, Tact and Teff, in mm.
for _key, _name, _expression in (
    ("Ev/given inside upper", "effective space width, upper limit", "E + Ae + Tact"),
    ("Ev/given inside lower", "effective space width, lower limit", "E + Ae"),
    ("Ea/given inside upper", "actual space width, upper limit", "E + Ae + Teff + Tact"),
    ("Ea/given inside lower", "actual space width, lower limit", "E + Ae + Teff"),
    ("Ev/given outside upper", "effective tooth thickness, upper limit", "S + As"),
    ("Ev/given outside lower", "effective tooth thickness, lower limit", "S + As - Tact"),
    ("Ea/given outside upper", "actual tooth thickness, upper limit", "S + As - Teff"),
    ("Ea/given outside lower", "actual tooth thickness, lower limit", "S + As - Teff - Tact"),
):
    _add(_key, _name, "mm", _expression, spline_limits)
