"""How close the tolerances of a feature are, and whether it is a datum."""

from __future__ import annotations

import re

from sequencer.cutting import iso286
from sequencer.errors import OutOfRange
from sequencer.part import AnyFeature, Part
from sequencer.part.tolerances import SizeTolerance
from sequencer.shop import Shop
from sequencer.units import Micrometre, Mm

_PROCESS_DATUM = re.compile(r"^P\d+$")
_ROUGHEST_GRADE = 16


def size_of(feature: AnyFeature) -> Mm:
    """Nominal size that a feature's size tolerance belongs to [mm].

    Parameters
    ----------
    feature
        Feature of the part.
    """
    if feature.kind in ("groove", "apex_groove", "run_out_groove", "face_groove", "keyway", "pocket"):
        return float(getattr(feature, "width", 0.0) or getattr(feature, "length", 0.0))
    for key in ("diameter", "upper_diameter", "distance", "z"):
        value = getattr(feature, key, None)
        if value:
            return float(value)
    return 1.0


def tolerance_of(feature: AnyFeature) -> SizeTolerance | None:
    """Size tolerance of a feature, of reamed holes the one of the reamer; None if it has none.

    Parameters
    ----------
    feature
        Feature of the part.
    """
    tolerance: SizeTolerance | None = getattr(feature, "tolerance", None) or getattr(feature, "ream", None)
    return tolerance


def width_of(tolerance: SizeTolerance, size: Mm) -> Micrometre | None:
    """Width of a size tolerance; None where a code gives one outside the tables [um].

    Parameters
    ----------
    tolerance
        The tolerance.
    size
        Nominal size [mm].
    """
    if tolerance.width is not None:
        return 1000 * tolerance.width
    if tolerance.grade is None:
        return None
    try:
        return iso286.standard_tolerance(tolerance.grade, abs(size))
    except OutOfRange:
        return None


def grade_of(feature: AnyFeature) -> int | None:
    """ISO 286 grade of a feature's size; for deviations the coarsest grade that is no wider.

    Source: ISO 286-1:2010, table 1

    Parameters
    ----------
    feature
        Feature of the part.
    """
    tolerance = tolerance_of(feature)
    if tolerance is None:
        return None
    if tolerance.grade is not None:
        return tolerance.grade
    size, width = abs(size_of(feature)), width_of(tolerance, abs(size_of(feature)))
    if width is None:
        return None
    grade = 1
    for one in range(1, _ROUGHEST_GRADE + 1):
        try:
            if iso286.standard_tolerance(one, size) <= width + 1e-9:
                grade = one
        except OutOfRange:
            return None
    return grade


def has_close_size(feature: AnyFeature, shop: Shop) -> bool:
    """Whether the size tolerance of a feature is close in this house.

    Parameters
    ----------
    feature
        Feature of the part.
    shop
        The shop with its limit.
    """
    grade = grade_of(feature)
    return grade is not None and grade <= shop.limits.close_grade


def is_close(feature: AnyFeature, shop: Shop) -> bool:
    """Whether a feature has a close size, a geometric tolerance or a fine surface.

    Parameters
    ----------
    feature
        Feature of the part.
    shop
        The shop with its limits.
    """
    fine = feature.roughness is not None and feature.roughness <= shop.limits.close_roughness
    return has_close_size(feature, shop) or bool(feature.geometric) or fine


def is_datum(feature: AnyFeature, part: Part) -> bool:
    """Whether a feature is a datum of the drawing; process datums P1, P2 ... do not count.

    Parameters
    ----------
    feature
        Feature of the part.
    part
        The part.
    """
    return any(
        name == feature.name and not _PROCESS_DATUM.match(letter) for letter, name in part.datums.items()
    )


def hard_finished(feature: AnyFeature, part: Part, shop: Shop) -> bool:
    """Whether a turned feature is made again after case hardening: datums and close sizes.

    Source: common practice, no source: hardening distorts, datums are made again from the teeth.

    Parameters
    ----------
    feature
        Feature of the part.
    part, shop
        Part and shop.
    """
    return part.case_hardened and (is_datum(feature, part) or has_close_size(feature, shop))
