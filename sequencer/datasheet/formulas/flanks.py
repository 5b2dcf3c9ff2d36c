"""Flank tolerances of both editions, and the apex."""

from __future__ import annotations

from typing import Final

from sequencer.datasheet.formula import Formula
from sequencer.datasheet.formulas.table import Source, formula
from sequencer.gears import mesh, tolerances

FLANKS: Final[dict[str, Formula]] = {}


def _add(key: str, name: str, unit: str, expression: str, source: Source) -> None:
    assert key not in FLANKS
    FLANKS.update([formula(key, name, unit, expression, source)])


_add("g", "factor of the class", "", "2^((A - 5)/2)", tolerances.class_factor)
for _key, _name, _expression in (
    ("fpT", "single pitch, plus and minus", "(0.001*d + 0.4*mn + 5)*g"),
    ("FpT", "total cumulative pitch", "(0.002*d + 0.55*sqrt(d) + 0.7*mn + 12)*g"),
    ("fHalphaT", "profile slope, plus and minus", "(0.4*mn + 0.001*d + 4)*g"),
    ("ffalphaT", "profile form", "(0.55*mn + 5)*g"),
    ("FalphaT", "total profile", "sqrt(fHalphaT^2 + ffalphaT^2)"),
    ("fHbetaT", "helix slope, plus and minus", "(0.05*sqrt(d) + 0.35*sqrt(b) + 4)*g"),
    ("ffbetaT", "helix form", "(0.07*sqrt(d) + 0.45*sqrt(b) + 4)*g"),
    ("FbetaT", "total helix", "sqrt(fHbetaT^2 + ffbetaT^2)"),
    ("FrT", "runout", "0.9*FpT"),
):
    _add(f"{_key}/2013", _name, "um", _expression, tolerances.tolerances_2013)
for _key, _name, _expression in (
    ("fpT", "single pitch, plus and minus", "(0.3*(M + 0.4*sqrt(D)) + 4)*g"),
    ("FpT", "total cumulative pitch", "(0.3*M + 1.25*sqrt(D) + 7)*g"),
    ("fHalphaT", "profile slope, plus and minus", "(2*sqrt(M) + 0.14*sqrt(D) + 0.5)*g"),
    ("ffalphaT", "profile form", "(2.5*sqrt(M) + 0.17*sqrt(D) + 0.5)*g"),
    ("FalphaT", "total profile", "(3.2*sqrt(M) + 0.22*sqrt(D) + 0.7)*g"),
    ("fHbetaT", "helix slope, plus and minus", "(0.07*sqrt(D) + 0.45*sqrt(B) + 3)*g"),
    ("ffbetaT", "helix form", "(0.07*sqrt(D) + 0.45*sqrt(B) + 3)*g"),
    ("FbetaT", "total helix", "(0.1*sqrt(D) + 0.63*sqrt(B) + 4.2)*g"),
    ("FrT", "runout", "0.8*FpT"),
):
    _add(f"{_key}/1995", _name, "um", _expression, tolerances.tolerances_1995)
_add("sh", "arc between the helices for that shift", "mm", "2*eh*tan(beta)", mesh.arc_between_helices)
