"""Tip and root of every feature that has teeth or turns, as the section and the checks need them."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, radians, sin
from typing import Final

from sequencer.gears import diameters
from sequencer.part.toothed import (
    BevelGear,
    DoubleHelicalGear,
    ExternalGear,
    InternalGear,
    Spline,
    ToothSystem,
)
from sequencer.part.turned import Thread
from sequencer.units import Deg, Mm

#: Depth of an ISO metric thread over its pitch: to the root of the bolt, to the minor diameter of the nut.
#: Source: ISO 68-1 and ISO 724, from memory.
_OUTSIDE_THREAD: Final = 1.22687
_INSIDE_THREAD: Final = 1.08253

#: Tip and root over the pitch diameter, in modules, of a 30, 37.5 and 45 deg spline (ISO 4156, fillet root).
#: Source: ISO 4156-1 and ANSI B92.1, from memory.
_OUTSIDE_SPLINE: Final = {30.0: (1.0, -1.8), 37.5: (0.9, -1.4), 45.0: (0.8, -1.2)}
_INSIDE_SPLINE: Final = {30.0: (-1.0, 1.8), 37.5: (-0.8, 1.4), 45.0: (-0.6, 1.2)}


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


def normal_module(gear: ToothSystem) -> Mm:
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
    return millimetres * cos(radians(helix_angle(gear)))


def helix_angle(gear: ToothSystem) -> Deg:
    """Give the helix angle of a cylindrical gear without sign.

    Source: derived

    Parameters
    ----------
    gear
        The gear.
    """
    if isinstance(gear, ExternalGear | InternalGear | DoubleHelicalGear):
        return float(gear.helix_angle)
    return 0.0


def gear_height(gear: ToothSystem) -> ToothHeight:
    """Give tip and root of a cylindrical gear; diameters of the drawing win over the basic rack.

    Source: ISO 21771, from memory

    Parameters
    ----------
    gear
        External, internal or double-helical gear.
    """
    internal = isinstance(gear, InternalGear)
    module = normal_module(gear)
    reference = diameters.reference_diameter(module, gear.teeth, helix_angle(gear))
    shift = gear.profile_shift
    tip = diameters.tip_diameter(reference, module, shift, gear.addendum, internal=internal)
    root = diameters.root_diameter(reference, module, shift, gear.dedendum, internal=internal)
    return ToothHeight(float(gear.tip_diameter or tip), float(gear.root_diameter or root))


def spline_height(spline: Spline) -> ToothHeight:
    """Give tip and root of an involute spline.

    Source: DIN 5480-1, ISO 4156-1, ANSI B92.1, from memory

    Parameters
    ----------
    spline
        The spline.
    """
    module = float(spline.module.millimetres)
    if spline.standard == "DIN 5480" and spline.reference_diameter is not None:
        reference = float(spline.reference_diameter)
        if spline.place == "outside":
            return ToothHeight(reference - 0.2 * module, reference - 2.3 * module)
        return ToothHeight(reference - 2.0 * module, reference)
    table = _OUTSIDE_SPLINE if spline.place == "outside" else _INSIDE_SPLINE
    tip, root = table[float(spline.pressure_angle)]
    pitch_diameter = module * spline.teeth
    return ToothHeight(pitch_diameter + tip * module, pitch_diameter + root * module)


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


@dataclass(frozen=True)
class BevelBody:
    """Frustum that stands for the teeth of a bevel gear.

    Parameters
    ----------
    cone_angle
        Pitch cone angle [deg].
    cone_distance
        Outer cone distance [mm].
    heel, toe
        Tip and root at the large and the small end [mm].
    axial_width
        Axial length of the teeth along the pitch cone [mm].
    """

    cone_angle: Deg
    cone_distance: Mm
    heel: ToothHeight
    toe: ToothHeight
    axial_width: Mm


def bevel_body(gear: BevelGear) -> BevelBody:
    """Give the frustum of a bevel gear with equal addenda and a depth that shrinks to the apex.

    Source: derived from the pitch cone: tan d = sin S / (z2 / z1 + cos S)

    Parameters
    ----------
    gear
        The bevel gear.
    """
    module = float(gear.module.millimetres)
    shaft = radians(gear.shaft_angle)
    cone = atan2(sin(shaft), gear.mate_teeth / gear.teeth + cos(shaft))
    pitch_diameter = module * gear.teeth
    distance = pitch_diameter / 2 / sin(cone)
    heel = ToothHeight(pitch_diameter + 2 * module * cos(cone), pitch_diameter - 2 * 1.2 * module * cos(cone))
    shrink = max(0.0, 1 - float(gear.face_width) / distance)
    toe = ToothHeight(heel.tip * shrink, heel.root * shrink)
    return BevelBody(degrees(cone), distance, heel, toe, float(gear.face_width) * cos(cone))
