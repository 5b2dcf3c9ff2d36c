"""Teeth of a part's features as the formulas know them, and their tip and root for the half-section."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import atan2, cos, radians, sin
from typing import Final

from sequencer.errors import OutOfRange
from sequencer.gears import bevel, diameters
from sequencer.gears.cylindrical import CylindricalGear
from sequencer.gears.mesh import GearMesh
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, Helix, InternalGear
from sequencer.part.turned import Thread
from sequencer.units import Mm

Cylindrical = ExternalGear | InternalGear | DoubleHelicalGear

#: Depth of an ISO metric thread over its pitch: to the root of the bolt, to the minor diameter of the nut.
#: Source: ISO 68-1 and ISO 724, from memory.
_OUTSIDE_THREAD: Final = 1.22687
_INSIDE_THREAD: Final = 1.08253


@dataclass(frozen=True)
class ToothHeight:
    """Diameters of the two ends of teeth.

    Parameters
    ----------
    tip
        Tip diameter: the largest of outside teeth, the smallest of inside teeth [mm].
    root
        Root diameter [mm].
    """

    tip: Mm
    root: Mm

    @property
    def mean(self) -> Mm:
        """Middle between tip and root, at which teeth count as solid [mm]."""
        return (self.tip + self.root) / 2


def normal_module(gear: Cylindrical) -> Mm:
    """Give the normal module of a cylindrical gear.

    Source: ISO 21771, from memory: mn = mt cos beta

    Parameters
    ----------
    gear
        The gear; its module may be written as transverse.
    """
    millimetres = float(gear.module.millimetres)
    if gear.module.system != "transverse":
        return millimetres
    return millimetres * cos(radians(gear.helix_angle))


def gear_height(gear: Cylindrical) -> ToothHeight:
    """Give tip and root of a cylindrical gear; diameters of the drawing win over the basic rack.

    Source: ISO 21771, from memory

    Parameters
    ----------
    gear
        External, internal or double-helical gear.
    """
    internal = isinstance(gear, InternalGear)
    module, shift = normal_module(gear), gear.profile_shift
    reference = diameters.reference_diameter(module, gear.teeth, float(gear.helix_angle))
    tip = diameters.tip_diameter(reference, module, shift, gear.addendum, internal=internal)
    root = diameters.root_diameter(reference, module, shift, gear.dedendum, internal=internal)
    return ToothHeight(float(gear.tip_diameter or tip), float(gear.root_diameter or root))


def cylindrical_gear(gear: Cylindrical, half: Helix | None = None) -> CylindricalGear:
    """Give the teeth of a feature to the formulas of cylindrical gears.

    Source: derived

    Parameters
    ----------
    gear
        External, internal or double-helical gear.
    half
        Which half of a double-helical gear; the lower one if left out.

    Raises
    ------
    OutOfRange
        When teeth of these sizes cannot exist; the message says which size is wrong.
    """
    teeth = (half or gear.lower) if isinstance(gear, DoubleHelicalGear) else gear
    return _made(
        normal_module=normal_module(gear),
        teeth=gear.teeth,
        face_width=float(teeth.length),
        pressure_angle=float(gear.pressure_angle),
        helix_angle=float(gear.helix_angle),
        hand=teeth.hand,
        profile_shift=gear.profile_shift,
        internal=isinstance(gear, InternalGear),
        addendum_factor=gear.addendum,
        dedendum_factor=gear.dedendum,
        given_tip_diameter=_given(gear.tip_diameter),
        given_root_diameter=_given(gear.root_diameter),
    )


#: The same teeth are asked for by the section, the methods and the sheets: made once, with what was derived.
_made = lru_cache(maxsize=256)(CylindricalGear)
_meshed = lru_cache(maxsize=256)(GearMesh)


def _given(diameter: float | None) -> Mm | None:
    return None if diameter is None else float(diameter)


def gear_mesh(gear: Cylindrical, half: Helix | None = None) -> GearMesh | None:
    """Give a gear with the mate that the part file names; None if it names none.

    Source: derived

    Parameters
    ----------
    gear
        External, internal or double-helical gear.
    half
        Which half of a double-helical gear; the lower one if left out.

    Raises
    ------
    OutOfRange
        When the teeth cannot exist or the pair cannot mesh.
    """
    if gear.mate_teeth is None:
        return None
    return _meshed(
        gear=cylindrical_gear(gear, half),
        mate_teeth=gear.mate_teeth,
        given_mate_shift=gear.mate_shift,
        given_centre_distance=_given(gear.centre_distance),
        mate_internal=gear.mate_internal,
        given_mate_tip_diameter=_given(gear.mate_tip_diameter),
    )


def thread_height(thread: Thread) -> ToothHeight:
    """Give crest and root of a thread.

    Source: ISO 68-1 and ISO 724, from memory

    Parameters
    ----------
    thread
        The thread.
    """
    nominal, pitch = float(thread.diameter), float(thread.pitch)
    if thread.place == "outside":
        return ToothHeight(nominal, nominal - _OUTSIDE_THREAD * pitch)
    return ToothHeight(nominal - _INSIDE_THREAD * pitch, nominal)


def bevel_pair(gear: BevelGear) -> bevel.BevelPair:
    """Give a bevel gear and its mate to the formulas of bevel gears.

    Source: derived

    Parameters
    ----------
    gear
        The bevel gear.

    Raises
    ------
    OutOfRange
        When the cones cannot exist.
    """
    return bevel.BevelPair(
        outer_module=float(gear.module.millimetres),
        teeth_1=min(gear.teeth, gear.mate_teeth),
        teeth_2=max(gear.teeth, gear.mate_teeth),
        face_width=float(gear.face_width),
        shaft_angle=float(gear.shaft_angle),
        pressure_angle=float(gear.pressure_angle),
        system="spiral" if gear.form == "spiral" else gear.proportions or "equal addendum",
        spiral_angle=float(gear.spiral_angle),
    )


def bevel_teeth(gear: BevelGear) -> bevel.BevelGear:
    """Give a bevel gear to the formulas of bevel gears.

    Source: derived

    Parameters
    ----------
    gear
        The bevel gear.

    Raises
    ------
    OutOfRange
        When the cones cannot exist.
    """
    pair = bevel_pair(gear)
    return pair.pinion if gear.teeth <= gear.mate_teeth else pair.wheel


@dataclass(frozen=True)
class BevelBody:
    """Frustum that stands for the teeth of a bevel gear.

    Parameters
    ----------
    heel, toe
        Tip and root at the large and the small end [mm].
    """

    heel: ToothHeight
    toe: ToothHeight


def bevel_body(gear: BevelGear) -> BevelBody:
    """Give the frustum of a bevel gear; a plain cone of one module if its cones cannot exist.

    Source: derived: the root shrinks towards the apex as the tip does

    Parameters
    ----------
    gear
        The bevel gear; the checks of the part say what is wrong with one that cannot exist.
    """
    module, teeth = float(gear.module.millimetres), gear.teeth
    try:
        sizes = bevel_teeth(gear)
    except OutOfRange:
        return _plain_cone(module * teeth, module, _cone_angle(gear), float(gear.face_width))
    slope = cos(radians(sizes.pitch_cone_angle))
    heel = ToothHeight(sizes.tip_diameter, sizes.pitch_diameter - 2 * sizes.dedendum * slope)
    shrink = sizes.inner_tip_diameter / sizes.tip_diameter
    return BevelBody(heel, ToothHeight(sizes.inner_tip_diameter, heel.root * shrink))


def _cone_angle(gear: BevelGear) -> float:
    """Pitch cone angle in radians."""
    shaft = radians(gear.shaft_angle)
    return atan2(sin(shaft), gear.mate_teeth / gear.teeth + cos(shaft))


def _plain_cone(pitch_diameter: Mm, module: Mm, cone: float, width: Mm) -> BevelBody:
    shrunk = max(0.0, pitch_diameter - 2 * width * abs(sin(cone)))
    low = max(0.0, pitch_diameter - 2 * module)
    return BevelBody(
        ToothHeight(pitch_diameter + 2 * module, low),
        ToothHeight(shrunk + 2 * module, max(0.0, shrunk - 2 * module)),
    )
