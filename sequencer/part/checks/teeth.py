"""Teeth: sizes that can exist, grooves that let the cutter run out."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.errors import OutOfRange
from sequencer.part.checks.checked import ROUNDING, Checked, mm, span
from sequencer.part.fault import Fault
from sequencer.part.part import AnyFeature
from sequencer.part.spline_teeth import spline_dimensions
from sequencer.part.surfaces import place_of
from sequencer.part.teeth import (
    Cylindrical,
    bevel_teeth,
    cylindrical_gear,
    gear_height,
    gear_mesh,
    normal_module,
)
from sequencer.part.thickness import thickness_allowances
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.part.turned import ApexGroove, Face, RunOutGroove
from sequencer.units import Mm

_KEYS = {
    "teeth of the mate": "mate_teeth",
    "centre distance": "centre_distance",
    "working pressure angle": "mate_shift",
    "tip diameter": "tip_diameter",
    "root diameter": "root_diameter",
    "profile shift": "profile_shift",
    "addendum": "addendum",
    "dedendum": "dedendum",
    "helix angle": "helix_angle",
    "pressure angle": "pressure_angle",
    "reference diameter": "reference_diameter",
    "shaft angle": "shaft_angle",
    "spiral angle": "spiral_angle",
    "face width": "face_width",
    "number of teeth": "teeth",
    "teeth": "teeth",
    "module": "module",
}


def tooth_faults(checked: Checked) -> Iterator[Fault]:
    """Check all teeth and the grooves that they run out into.

    Source: derived

    Parameters
    ----------
    checked
        The part.
    """
    for feature in checked.features:
        if isinstance(feature, ExternalGear | InternalGear | DoubleHelicalGear):
            yield from _cylindrical(checked, feature)
        if isinstance(feature, DoubleHelicalGear):
            yield from _gap(checked, feature)
        if isinstance(feature, Spline):
            yield from _spline(checked, feature)
        if isinstance(feature, BevelGear):
            yield from _bevel(checked, feature)
        if isinstance(feature, ApexGroove):
            yield from _apex_groove(checked, feature)
        if isinstance(feature, RunOutGroove):
            yield from _run_out_groove(checked, feature)


def _out_of_range(checked: Checked, feature: AnyFeature, error: OutOfRange) -> Fault:
    """Point at the key that the formula complains about first."""
    keys = [key for words, key in _KEYS.items() if words in error.what and hasattr(feature, key)]
    given = [key for key in keys if key in feature.model_fields_set]
    path = checked.path(feature, given[0]) if given else checked.path(feature)
    return Fault(path, error.what, error.limit, error.remedy)


def _cylindrical(checked: Checked, gear: Cylindrical) -> Iterator[Fault]:
    height = gear_height(gear)
    internal = isinstance(gear, InternalGear)
    if (height.tip - height.root) * (-1 if internal else 1) <= 0:
        key = next((k for k in ("tip_diameter", "root_diameter") if getattr(gear, k) is not None), "teeth")
        what = f"tip diameter {mm(height.tip)} and root diameter {mm(height.root)}"
        limit = f"the tip of {'an internal' if internal else 'an external'} gear is the "
        limit += "smaller one" if internal else "larger one"
        yield Fault(checked.path(gear, key), what, limit, "correct them")
        return
    try:
        cylindrical_gear(gear)
        gear_mesh(gear)
    except OutOfRange as error:
        yield _out_of_range(checked, gear, error)
    chamfer = gear.tooth_chamfer
    if chamfer is not None and chamfer > normal_module(gear):
        limit = f"at most one module, {mm(normal_module(gear))}"
        what = f"a tooth_chamfer of {chamfer} takes away the tooth ends"
        yield Fault(checked.path(gear, "tooth_chamfer"), what, limit, "check its unit")
    yield from _thickness(checked, gear)


def _thickness(checked: Checked, gear: Cylindrical) -> Iterator[Fault]:
    keys = ("thickness_lower", "thickness_class", "thickness_tolerance")
    key = next((each for each in keys if getattr(gear, each) is not None), None)
    if key is None:
        return
    try:
        allowances, teeth = thickness_allowances(gear), cylindrical_gear(gear)
    except OutOfRange as error:
        yield Fault(checked.path(gear, key), error.what, error.limit, error.remedy)
        return
    if allowances is None:
        return
    what = f"a thickness allowance of {gear.thickness_lower or mm(allowances.lower)} leaves no tooth"
    if -allowances.lower > teeth.normal_module / 2:
        limit = f"half a module is {mm(teeth.normal_module / 2)}"
        yield Fault(checked.path(gear, key), what, limit, "check its unit")
    elif -allowances.lower >= teeth.normal_tooth_thickness:
        limit = f"the normal tooth thickness is {mm(teeth.normal_tooth_thickness)}"
        yield Fault(checked.path(gear, key), what, limit, "use a smaller allowance or more profile shift")


def _gap(checked: Checked, gear: DoubleHelicalGear) -> Iterator[Fault]:
    grooves = [f for f in checked.features if isinstance(f, ApexGroove) and f.gear == gear.name]
    gap = span(gear.lower.z_to, gear.upper.z_from)
    if not grooves:
        what = f"the gap between its halves ({gap}) has no apex_groove"
        remedy = f"add a feature of kind apex_groove with gear: {gear.name}, its floor below the tooth root"
        yield Fault(checked.path(gear), what, "", remedy)
    for groove in grooves[1:]:
        what = f"{gear.name!r} has an apex groove already: {grooves[0].name!r}"
        yield Fault(checked.path(groove, "gear"), what, "one gap, one groove", "take one of them out")


def _spline(checked: Checked, spline: Spline) -> Iterator[Fault]:
    try:
        spline_dimensions(spline)
    except OutOfRange as error:
        yield _out_of_range(checked, spline, error)


def _bevel(checked: Checked, gear: BevelGear) -> Iterator[Fault]:
    try:
        sizes = bevel_teeth(gear)
    except OutOfRange as error:
        yield _out_of_range(checked, gear, error)
        return
    if sizes.axial_face_width > gear.length + ROUNDING:
        what = (
            f"its teeth take {mm(sizes.axial_face_width)} of the axis, {span(gear.z_from, gear.z_to)} is less"
        )
        limit = f"face width {gear.face_width} on a cone of {sizes.tip_cone_angle:.2f} deg"
        yield Fault(checked.path(gear, "z_to"), what, limit, "correct z_from and z_to, or face_width")
    face = checked.named(gear.mounting_face)
    if face is None:
        return
    if not isinstance(face, Face):
        what = f"{gear.mounting_face!r} is of kind {face.kind}, no face"
        yield Fault(checked.path(gear, "mounting_face"), what, "", "name the face it is mounted on")
        return
    up = gear.apex == "upper"
    apex = float(face.z) + (gear.mounting_distance if up else -gear.mounting_distance)
    if (apex <= gear.z_to) if up else (apex >= gear.z_from):
        what = f"the mounting distance {gear.mounting_distance} puts the cone apex at z {mm(apex)}"
        limit = f"the apex lies {'above' if up else 'below'} the teeth, {span(gear.z_from, gear.z_to)}"
        remedy = "correct mounting_distance, mounting_face or apex"
        yield Fault(checked.path(gear, "mounting_distance"), what, limit, remedy)


def _apex_groove(checked: Checked, groove: ApexGroove) -> Iterator[Fault]:
    gear = checked.named(groove.gear)
    if not isinstance(gear, DoubleHelicalGear):
        return
    low, high = gear.lower.z_to, gear.upper.z_from
    for key, end, wanted in (("z_from", groove.z_from, low), ("z_to", groove.z_to, high)):
        if abs(end - wanted) > ROUNDING:
            what = f"{key} {end}: the gap between the helices is {span(low, high)}"
            yield Fault(
                checked.path(groove, key), what, "", f"write {key}: {mm(wanted)}, or correct the halves"
            )
    root = gear_height(gear).root
    yield from _below_root(checked, groove, groove.diameter, root, "outside", gear.name)


def _below_root(
    checked: Checked, groove: AnyFeature, floor: Mm, root: Mm, place: str, gear: str
) -> Iterator[Fault]:
    short = floor - root if place == "outside" else root - floor
    if short > ROUNDING:
        what = f"its floor of {mm(floor)} does not reach the tooth root, the cutter would run into it"
        limit = f"root diameter of {gear!r} {mm(root)}"
        side = "smaller" if place == "outside" else "larger"
        yield Fault(checked.path(groove, "diameter"), what, limit, f"make it {side} than the root")


def _run_out_groove(checked: Checked, groove: RunOutGroove) -> Iterator[Fault]:
    gear = checked.named(groove.gear)
    if not isinstance(gear, ExternalGear | InternalGear | DoubleHelicalGear | Spline | BevelGear):
        return
    if place_of(gear) != groove.place:
        what = f"it lies {groove.place}, the teeth of {gear.name!r} lie {place_of(gear)}"
        yield Fault(checked.path(groove, "place"), what, "", f"write place: {place_of(gear)}")
        return
    teeth = checked.extent(gear)
    if abs(groove.z_to - teeth.z_from) > ROUNDING and abs(groove.z_from - teeth.z_to) > ROUNDING:
        what = f"at {span(groove.z_from, groove.z_to)} it is not at an end of {gear.name!r}"
        limit = f"teeth {span(teeth.z_from, teeth.z_to)}"
        remedy = f"let it end at z {mm(teeth.z_from)} or begin at z {mm(teeth.z_to)}"
        yield Fault(checked.path(groove, "z_from"), what, limit, remedy)
    if isinstance(gear, BevelGear):
        return
    root = teeth.inner if groove.place == "outside" else teeth.outer
    yield from _below_root(checked, groove, groove.diameter, root, groove.place, gear.name)
