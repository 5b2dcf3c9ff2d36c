"""How an error of clamping or of the machine's zero shows in the teeth."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, finite, not_negative, within
from sequencer.errors import OutOfRange
from sequencer.units import Deg, Micrometre, Mm


def runout_from_eccentricity(eccentricity: Micrometre) -> Micrometre:
    """Runout of teeth cut or run about an axis that is set off, F_r = 2 e.

    Source: derived.

    Parameters
    ----------
    eccentricity
        Distance of the two axes [um].

    Raises
    ------
    OutOfRange
        When the eccentricity is negative.
    """
    not_negative("runout", eccentricity=eccentricity)
    return 2 * eccentricity


def pitch_from_eccentricity(eccentricity: Micrometre, pressure_angle: Deg) -> Micrometre:
    """Total cumulative pitch deviation of an eccentricity, F_p = 2 e / cos(alpha).

    Source: handbook relation, from memory.

    Parameters
    ----------
    eccentricity
        Distance of the two axes [um].
    pressure_angle
        Transverse pressure angle [deg].

    Raises
    ------
    OutOfRange
        When the eccentricity is negative or the angle outside 5 to 45 deg.
    """
    not_negative("pitch deviation", eccentricity=eccentricity)
    within("pitch deviation", 5.0, 45.0, pressure_angle=pressure_angle)
    return 2 * eccentricity / math.cos(math.radians(pressure_angle))


def helix_slope_from_wobble(wobble: Micrometre, face_width: Mm, wobble_diameter: Mm) -> Micrometre:
    """Helix slope of a tilted axis, b w / D either way, changing once a turn.

    Source: derived: a face that runs out by w over the diameter D tilts the axis by w / D.

    Parameters
    ----------
    wobble
        Axial runout of the face that the part stands on [um].
    face_width
        Face width of the teeth [mm].
    wobble_diameter
        Diameter at which the runout is measured [mm].

    Raises
    ------
    OutOfRange
        When a size is not above 0 or the wobble negative.
    """
    not_negative("helix slope", wobble=wobble)
    above_zero("helix slope", face_width=face_width, wobble_diameter=wobble_diameter)
    return face_width * wobble / wobble_diameter


def largest_wobble(helix_slope: Micrometre, face_width: Mm, wobble_diameter: Mm) -> Micrometre:
    """Axial runout of the supporting face that a helix slope allows, w = f D / b.

    Source: derived, the helix slope formula solved for w.

    Parameters
    ----------
    helix_slope
        Helix slope that the clamping may use up [um].
    face_width
        Face width of the teeth [mm].
    wobble_diameter
        Diameter at which the runout is measured [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("face wobble", helix_slope=helix_slope, face_width=face_width, wobble_diameter=wobble_diameter)
    return helix_slope * wobble_diameter / face_width


def apex_shift_from_angle(angle_error: Deg, radius: Mm, helix_angle: Deg) -> Micrometre:
    """Axial shift of the apex from an angular error between the helices, 1000 r dphi / (2 tan(beta)).

    Source: derived.

    Parameters
    ----------
    angle_error
        Angle by which one helix is turned against the other [deg].
    radius
        Pitch radius [mm].
    helix_angle
        Helix angle without sign [deg].

    Raises
    ------
    OutOfRange
        When the radius is not above 0, the helix angle outside 1 to 60 deg or the error not finite.
    """
    above_zero("apex shift", radius=radius)
    within("apex shift", 1.0, 60.0, helix_angle=helix_angle)
    finite("apex shift", angle_error=angle_error)
    return 1000 * radius * math.radians(angle_error) / (2 * math.tan(math.radians(helix_angle)))


def tangential_shift_from_offset(offset: Micrometre, helix_angle: Deg) -> Micrometre:
    """Tangential error of a flank from an axial offset between two passes, dz tan(beta).

    Source: derived.

    Parameters
    ----------
    offset
        Axial offset between the passes [um].
    helix_angle
        Helix angle [deg].

    Raises
    ------
    OutOfRange
        When the helix angle is beyond 60 deg or the offset not finite.
    """
    within("tangential shift", -60.0, 60.0, helix_angle=helix_angle)
    finite("tangential shift", offset=offset)
    return offset * math.tan(math.radians(helix_angle))


def largest_indicated_runout(tooth_runout: Micrometre, share: float = 1 / 3) -> Micrometre:
    """Runout that may be left when a part is indicated in a later clamping, share of F_r.

    Source: common practice, no source: a third of the runout tolerance of the teeth.

    Parameters
    ----------
    tooth_runout
        Runout tolerance of the teeth, F_r [um].
    share
        Share that the clamping may use [-].

    Raises
    ------
    OutOfRange
        When the tolerance is not above 0 or the share outside 0 to 1.
    """
    above_zero("indicated runout", tooth_runout=tooth_runout)
    if not 0 < share <= 1:
        raise OutOfRange(
            f"share is {share:g}", where="indicated runout", limit="above 0 to 1", remedy="Give a share"
        )
    return share * tooth_runout
