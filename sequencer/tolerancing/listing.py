"""The toleranced relations of a part, from its sizes, geometric tolerances, phases and tooth classes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sequencer.errors import OutOfRange
from sequencer.operations import Fact
from sequencer.operations.closeness import size_of, tolerance_of, width_of
from sequencer.operations.context import Context
from sequencer.operations.teeth.zone import Teeth, teeth_of
from sequencer.part import AnyFeature
from sequencer.part.milled import BoltCircle, Flat, Keyway, Pocket
from sequencer.part.toothed import DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.part.turned import Bore, Face, FaceGroove, Taper, TurnedDiameter
from sequencer.tolerancing.relation import Kind, TolerancedRelation
from sequencer.units import Micrometre, Mm, shown

_AXES = (Bore, TurnedDiameter, Taper, ExternalGear, InternalGear, DoubleHelicalGear, Spline)
_WIDTHS = (Keyway, Flat, Pocket, FaceGroove)
_CYLINDRICAL = (ExternalGear, InternalGear, DoubleHelicalGear, Spline)


def relations_of(context: Context) -> tuple[TolerancedRelation, ...]:
    """Give all toleranced relations of a part, in file order of their features.

    Source: ISO 286-1, ISO 1101 and ISO 1328-1, as the part file gives them

    Parameters
    ----------
    context
        Part and shop.
    """
    found: list[TolerancedRelation] = []
    for feature in context.part.features:
        found += _size(context, feature)
        found += _geometric(context, feature)
        found += _phase(context, feature)
        found += _teeth(context, feature)
    return tuple(found)


@dataclass(frozen=True)
class _Datums:
    axis: str
    face: str


def _datums(context: Context, own: str, letters: tuple[str, ...]) -> _Datums:
    axis = face = ""
    for letter in letters:
        name = context.part.datums.get(letter, letter)
        feature = context.part.by_name.get(name)
        if feature is None or name == own:
            continue
        if isinstance(feature, Face):
            face = face or name
        elif isinstance(feature, _AXES):
            axis = axis or name
    return _Datums(axis, face)


def middle_of(context: Context, name: str, half: str = "") -> Mm:
    """Middle of a feature along the axis [mm].

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    name
        The feature.
    half
        Half of a double-helical gear.
    """
    feature = context.part.by_name[name]
    if half and isinstance(feature, DoubleHelicalGear):
        one = feature.lower if half == "lower" else feature.upper
        return (float(one.z_from) + float(one.z_to)) / 2
    extent = context.section.extent(name)
    return (extent.z_from + extent.z_to) / 2


def _lever(context: Context, name: str, datum: str, half: str = "") -> Mm:
    return abs(middle_of(context, name, half) - middle_of(context, datum)) if datum else 0.0


def _given(name: str, allowance: Micrometre, formula: str, source: str) -> Fact:
    return Fact(name, allowance, "um", formula, source)


# -- sizes ---------------------------------------------------------------------------------------------


def _size(context: Context, feature: AnyFeature) -> Iterator[TolerancedRelation]:
    tolerance = tolerance_of(feature)
    if tolerance is None:
        return
    size = float(feature.diameter) if isinstance(feature, BoltCircle) else abs(size_of(feature))
    width = width_of(tolerance, size)
    if width is None or width <= 0:
        return
    half = width / 2
    formula = f"T/2 = {shown(width, 1)} um/2 = {shown(half, 1)} um"
    source = "ISO 286-1" if tolerance.code else "part file"
    if isinstance(feature, Face):
        yield _height(context, feature, half, formula, source, str(tolerance))
        return
    diametral = isinstance(feature, Bore | TurnedDiameter | Taper)
    given = _given("half of the size tolerance", half, formula, source)
    yield TolerancedRelation(
        feature.name, Kind.SIZE, half, given, str(tolerance), size=size, diametral=diametral,
        length=_length(context, feature),
    )  # fmt: skip


def _length(context: Context, feature: AnyFeature) -> Mm:
    extent = context.section.extent(feature.name)
    return extent.z_to - extent.z_from


def _height(
    context: Context, face: Face, half: Micrometre, formula: str, source: str, written: str
) -> TolerancedRelation:
    """A face counts from its datum face, else from the lower finished face, where z is 0."""
    datums = _datums(context, face.name, face.datums)
    lower = context.section.lower_face
    other = datums.face or (lower if lower != face.name else context.section.upper_face)
    distance = abs(float(face.z) - middle_of(context, other)) if other else abs(float(face.z))
    given = _given("half of the tolerance of z", half, formula, source)
    size = context.section.extent(face.name).outer
    return TolerancedRelation(
        face.name, Kind.HEIGHT, half, given, written, other=other, size=size, lever=distance, flat=True
    )


# -- geometry ------------------------------------------------------------------------------------------


def _geometric(context: Context, feature: AnyFeature) -> Iterator[TolerancedRelation]:
    for each in feature.geometric:
        kind = Kind(each.characteristic)
        letters = each.to
        datums = _datums(context, feature.name, letters)
        allowance = 1000 * float(each.value)
        extent = context.section.extent(feature.name)
        size = float(getattr(feature, "circle_diameter", None) or extent.outer)
        yield TolerancedRelation(
            feature=feature.name,
            kind=kind,
            allowance=allowance,
            given=_given(f"{kind} of the drawing", allowance, "", "part file"),
            written=each.value.text,
            axis=datums.axis,
            face=datums.face,
            letters=letters,
            size=size,
            length=extent.z_to - extent.z_from,
            lever=_lever(context, feature.name, datums.axis),
            flat=isinstance(feature, Face | FaceGroove),
        )


def _phase(context: Context, feature: AnyFeature) -> Iterator[TolerancedRelation]:
    phase = feature.phase
    if phase is None:
        return
    other = context.part.datums.get(phase.to, phase.to)
    if other not in context.part.by_name:
        return
    allowance = 1000 * float(phase.tolerance)
    helical = context.part.by_name[other]
    beta = float(getattr(feature, "helix_angle", 0.0) or getattr(helical, "helix_angle", 0.0))
    if isinstance(helical, DoubleHelicalGear):
        beta = 0.0  # timed to the apex: an axial shift of both halves does not turn it
    yield TolerancedRelation(
        feature=feature.name,
        kind=Kind.PHASE,
        allowance=allowance,
        given=_given("phase of the drawing", allowance, "", "part file"),
        written=phase.tolerance.text,
        other=other,
        size=_phase_diameter(context, feature),
        helix_angle=beta,
    )


def _phase_diameter(context: Context, feature: AnyFeature) -> Mm:
    if isinstance(feature, _CYLINDRICAL):
        return teeth_of(context.section, feature)[0].gear.reference_diameter
    if isinstance(feature, Keyway):
        return context.section.extent(feature.on).outer
    circle = getattr(feature, "circle_diameter", None)
    return float(circle) if circle else context.section.extent(feature.name).outer


# -- teeth ---------------------------------------------------------------------------------------------


def _teeth(context: Context, feature: AnyFeature) -> Iterator[TolerancedRelation]:
    if not isinstance(feature, _CYLINDRICAL):
        return
    try:
        runs = teeth_of(context.section, feature)
        for teeth in runs:
            yield from _deviations(context, feature, teeth)
    except OutOfRange:
        return  # teeth that cannot exist are refused where they are cut
    yield from _thickness(feature, runs[0])
    if isinstance(feature, DoubleHelicalGear):
        allowance = 1000 * float(feature.apex_tolerance)
        yield TolerancedRelation(
            feature=feature.name,
            kind=Kind.APEX,
            allowance=allowance,
            given=_given("apex tolerance", allowance, "", "part file"),
            written=feature.apex_tolerance.text,
            size=runs[0].gear.reference_diameter,
            helix_angle=float(feature.helix_angle),
        )


def _deviations(context: Context, feature: AnyFeature, teeth: Teeth) -> Iterator[TolerancedRelation]:
    values = teeth.tolerances
    if values is None:
        return
    datums = _datums(context, feature.name, feature.datums)
    kinds = [
        (Kind.TOOTH_PITCH, values.total_cumulative_pitch, "F_p"),
        (Kind.HELIX_SLOPE, values.helix_slope, "f_Hbeta"),
    ]
    if not any(each.characteristic in ("runout", "total runout") for each in feature.geometric):
        kinds.insert(1, (Kind.TOOTH_RUNOUT, values.runout, "F_r"))
    for kind, allowance, symbol in kinds:
        formula = f"{symbol} = {shown(allowance, 1)} um at d {shown(teeth.gear.reference_diameter, 1)} mm"
        yield TolerancedRelation(
            feature=feature.name,
            kind=kind,
            allowance=allowance,
            given=_given(symbol, allowance, formula, str(teeth.flank_class)),
            written=str(teeth.flank_class),
            axis=datums.axis,
            face=datums.face,
            letters=feature.datums,
            half=teeth.half,
            size=teeth.gear.reference_diameter,
            length=teeth.face_width,
            lever=_lever(context, feature.name, datums.axis, teeth.half),
            pressure_angle=teeth.gear.transverse_pressure_angle,
            helix_angle=teeth.helix_angle,
        )


def _thickness(feature: AnyFeature, teeth: Teeth) -> Iterator[TolerancedRelation]:
    upper, lower = getattr(feature, "thickness_upper", None), getattr(feature, "thickness_lower", None)
    if upper is None or lower is None:
        return
    half = 1000 * (float(upper) - float(lower)) / 2
    formula = (
        f"(Asne - Asni)/2 = ({shown(1000 * upper, 1)} - {shown(1000 * lower, 1)}) um/2 = {shown(half, 1)} um"
    )
    yield TolerancedRelation(
        feature=feature.name,
        kind=Kind.THICKNESS,
        allowance=half,
        given=_given("half of the thickness tolerance", half, formula, "part file"),
        written=f"{upper.text} to {lower.text}",
        size=teeth.gear.reference_diameter,
        length=teeth.face_width,
        pressure_angle=teeth.gear.transverse_pressure_angle,
        helix_angle=teeth.helix_angle,
    )
