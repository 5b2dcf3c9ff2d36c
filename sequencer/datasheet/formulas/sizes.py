"""Inspection sizes: span, balls, chord."""

from __future__ import annotations

from typing import Final

from sequencer.datasheet.formula import Formula
from sequencer.datasheet.formulas.table import DERIVED, Source, formula
from sequencer.gears import chordal, over_balls, span, thickness_limits

SIZES: Final[dict[str, Formula]] = {}


def _add(key: str, name: str, unit: str, expression: str, source: Source) -> None:
    assert key not in SIZES
    SIZES.update([formula(key, name, unit, expression, source)])


_add(
    "jbn/circumferential",
    "least normal backlash",
    "mm",
    "jwt*cos(alpha_wt)*cos(beta_b)",
    thickness_limits.normal_backlash_from_circumferential,
)
_add(
    "jbn/reference circle",
    "least normal backlash",
    "mm",
    "jwt*cos(alpha_t)*cos(beta_b)",
    thickness_limits.normal_backlash_from_circumferential,
)
_add(
    "jbn/recommended",
    "least normal backlash",
    "mm",
    "2/3*(0.06 + 0.0005*a + 0.03*mn)",
    thickness_limits.recommended_least_backlash,
)
_add(
    "Esns",
    "tooth thickness allowance, upper",
    "mm",
    "-sj*jbn/cos(alpha_n)",
    thickness_limits.allowance_from_backlash,
)
_add("Esni", "tooth thickness allowance, lower", "mm", "Esns - Tsn", DERIVED)
_add(
    "EsnsM",
    "upper allowance left to the mate",
    "mm",
    "-(1 - sj)*jbn/cos(alpha_n)",
    thickness_limits.allowance_from_backlash,
)
_add(
    "Wk",
    "span, nominal",
    "mm",
    "mn*cos(alpha_n)*(pi*(k - 0.5) + z*inv(alpha_t)) + 2*x*mn*sin(alpha_n)",
    span.span,
)
_add("Wks", "span, upper limit", "mm", "Wk + Esns*cos(alpha_n)", span.span)
_add("Wki", "span, lower limit", "mm", "Wk + Esni*cos(alpha_n)", span.span)
_add(
    "dW",
    "diameter where the anvils touch",
    "mm",
    "sqrt(db^2 + (Wk*cos(beta_b))^2)",
    span.span_contact_diameter,
)
_add("bmin", "least face width for the span", "mm", "Wk*sin(beta_b)", span.least_span_face_width)
_add(
    "bsafe",
    "face width for a safe span",
    "mm",
    "Wk*sin(beta_b) + (1.2 + 0.018*Wk)*cos(beta_b)",
    span.safe_span_face_width,
)
_add(
    "invK",
    "involute function at the ball centre",
    "rad",
    "inv(alpha_t) + sn/(z*mn) - pi/z + DM/(z*mn*cos(alpha_n))",
    over_balls.ball_centre_involute,
)
_add(
    "invK/internal",
    "involute function at the ball centre",
    "rad",
    "inv(alpha_t) - sn/(z*mn) + pi/z - DM/(z*mn*cos(alpha_n))",
    over_balls.ball_centre_involute,
)
_CENTRE = "db/cos(arcinv(invK{}))"
for _key, _name, _shift in (
    ("Md", "nominal", ""),
    ("Mds", "upper limit", " + Esns/(z*mn)"),
    ("Mdi", "lower limit", " + Esni/(z*mn)"),
):
    for _odd, _factor in (("", ""), ("odd", "*cos(pi/(2*z))")):
        _add(
            f"{_key}/external{_odd}",
            f"measurement over balls, {_name}",
            "mm",
            _CENTRE.format(_shift) + f"{_factor} + DM",
            over_balls.measurement_over_balls,
        )
for _key, _name, _shift in (
    ("Md", "nominal", ""),
    ("Mds", "upper limit", " - Esni/(z*mn)"),
    ("Mdi", "lower limit", " - Esns/(z*mn)"),
):
    for _odd, _factor in (("", ""), ("odd", "*cos(pi/(2*z))")):
        _add(
            f"{_key}/internal{_odd}",
            f"measurement between balls, {_name}",
            "mm",
            _CENTRE.format(_shift) + f"{_factor} - DM",
            over_balls.measurement_over_balls,
        )
_add(
    "dK",
    "diameter where the balls touch",
    "mm",
    "db*sqrt(1 + (tan(arcinv(invK)) - DM*cos(beta_b)/db)^2)",
    over_balls.ball_contact_diameter,
)
_add(
    "dK/internal",
    "diameter where the balls touch",
    "mm",
    "db*sqrt(1 + (tan(arcinv(invK)) + DM*cos(beta_b)/db)^2)",
    over_balls.ball_contact_diameter,
)
_add("sc", "chordal thickness, nominal", "mm", "zv*mn*sin(sn/(zv*mn))", chordal.chordal_thickness)
_add(
    "scs", "chordal thickness, upper limit", "mm", "zv*mn*sin((sn + Esns)/(zv*mn))", chordal.chordal_thickness
)
_add(
    "sci", "chordal thickness, lower limit", "mm", "zv*mn*sin((sn + Esni)/(zv*mn))", chordal.chordal_thickness
)
_add(
    "hc",
    "height of the tip over the chord",
    "mm",
    "zv*mn/2*(1 - cos(sn/(zv*mn))) + (da - d)/2",
    chordal.chordal_height,
)
