"""Tolerances of the drawing: those that fit their feature, and limits that leave the size what it is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sequencer.cutting import iso286
from sequencer.errors import OutOfRange
from sequencer.part.checks.checked import Checked, mm
from sequencer.part.fault import Fault
from sequencer.part.feature import Feature
from sequencer.part.milled import BoltCircle, Flat, Keyway, Pocket
from sequencer.part.tolerances import SizeTolerance
from sequencer.part.turned import (
    ApexGroove,
    Bore,
    Face,
    FaceGroove,
    Groove,
    RunOutGroove,
    Taper,
    TurnedDiameter,
)
from sequencer.units import Mm

#: Deviations larger than this share of the size are slips; common practice, no source.
LARGEST_SHARE: Final = 0.1
#: Small sizes may deviate this much: class v of ISO 2768-1 allows it up to 6 mm, from memory [mm].
SMALL_SIZES: Final = 0.5

_FLAT_KINDS: Final = ("face", "flat", "face_groove", "pocket", "keyway")
_NOT_ON_FACES: Final = ("roundness", "cylindricity", "concentricity")


def drawing_faults(checked: Checked) -> Iterator[Fault]:
    """Check tolerances against the features that carry them.

    Source: derived

    Parameters
    ----------
    checked
        The part.
    """
    for feature in checked.features:
        yield from _geometric(checked, feature)
        size = _size(checked, feature)
        tolerance = getattr(feature, "tolerance", None)
        if size is not None and isinstance(tolerance, SizeTolerance):
            yield from _deviations(checked, feature, "tolerance", tolerance, size)
        if isinstance(feature, BoltCircle) and feature.ream is not None:
            yield from _deviations(checked, feature, "ream", feature.ream, float(feature.diameter))
            yield from _reamed(checked, feature, feature.ream)


def _size(checked: Checked, feature: Feature) -> Mm | None:
    """The size that the limits of a feature belong to; the position of a face counts as the part's height."""
    if isinstance(feature, TurnedDiameter | Bore):
        return float(feature.diameter)
    if isinstance(feature, Taper):
        return float(min(feature.lower_diameter, feature.upper_diameter))
    if isinstance(feature, Groove | ApexGroove | RunOutGroove):
        return feature.length
    if isinstance(feature, FaceGroove | Keyway):
        return float(feature.width)
    if isinstance(feature, Flat):
        return float(feature.distance)
    if isinstance(feature, Pocket):
        return float(min(feature.width, feature.length))
    return checked.section.z_to - checked.section.z_from if isinstance(feature, Face) else None


def _deviations(
    checked: Checked, feature: Feature, key: str, tolerance: SizeTolerance, size: Mm
) -> Iterator[Fault]:
    if tolerance.upper is None or tolerance.lower is None:
        return
    largest, allowed = max(abs(tolerance.upper), abs(tolerance.lower)), max(LARGEST_SHARE * size, SMALL_SIZES)
    if largest > allowed:
        what = f"{tolerance.text} lets a size of {mm(size)} deviate by {mm(largest)}"
        limit = f"at most a tenth of the size, here {mm(allowed)}"
        path = ("features", checked.position[feature.name], key)
        yield Fault(path, what, limit, "check the number and its unit")


def _reamed(checked: Checked, holes: BoltCircle, ream: SizeTolerance) -> Iterator[Fault]:
    if not ream.code:
        return
    path = checked.path(holes, "ream")
    if not ream.code[0].isupper():
        what = f"{ream.code} is a tolerance of a shaft, this is a hole"
        limit = "ISO 286: capital letters for holes, small ones for shafts"
        yield Fault(path, what, limit, f"write {ream.code.upper()}")
        return
    try:
        iso286.limits(ream.code, float(holes.diameter))
    except OutOfRange as error:
        yield Fault(path, error.what, error.limit, error.remedy)


def _geometric(checked: Checked, feature: Feature) -> Iterator[Fault]:
    """Tolerances of form belong to surfaces of that form (ISO 1101, from memory)."""
    kind = checked.named(feature.name)
    if kind is None:
        return
    for at, tolerance in enumerate(feature.geometric):
        word, limit = tolerance.characteristic, ""
        if word in _NOT_ON_FACES and kind.kind in _FLAT_KINDS:
            limit = f"{word} belongs to a round surface"
        elif word == "flatness" and kind.kind not in _FLAT_KINDS:
            limit = "flatness belongs to a plane"
        elif word == "cylindricity" and (isinstance(kind, Taper) or _is_edge(kind)):
            limit = "cylindricity belongs to a cylinder"
        if limit:
            what = f"{word} of a feature of kind {kind.kind}"
            path = ("features", checked.position[feature.name], "geometric", at, "characteristic")
            remedy = "choose another characteristic, or give it at the feature that is meant"
            yield Fault(path, what, limit, remedy)


def _is_edge(feature: Feature) -> bool:
    return getattr(feature, "kind", "") in ("chamfer", "radius", "marking")
