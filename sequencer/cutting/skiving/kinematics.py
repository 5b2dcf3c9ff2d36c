"""Crossed-axes angle, speeds and senses of rotation in power skiving.

Helix angles carry a sign: right hand positive, left hand negative, spur 0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sequencer.cutting._ranges import above_zero, one_or_more, within
from sequencer.errors import OutOfRange
from sequencer.units import Deg, MetrePerMinute, Mm, Rpm

#: Below this crossed-axes angle there is no useful sliding along the tooth, v_c goes to 0 with sin(Sigma).
LEAST_SIGMA: Final[Deg] = 1.0


Vector = tuple[float, float, float]


def crossed_axes_angle(cutter_helix: Deg, gear_helix: Deg, internal: bool) -> Deg:
    """Crossed-axes angle with sign: external beta_t + beta_w, internal beta_t - beta_w.

    Source: derived by velocity vectors (the sliding lies along the tooth only with these signs).

    Parameters
    ----------
    cutter_helix
        Helix angle of the cutter, right hand positive [deg].
    gear_helix
        Helix angle of the gear, right hand positive [deg].
    internal
        Whether the gear is internal [-].

    Raises
    ------
    OutOfRange
        When a helix angle is beyond 60 deg.
    """
    within("crossed-axes angle", -60.0, 60.0, cutter_helix=cutter_helix, gear_helix=gear_helix)
    return cutter_helix - gear_helix if internal else cutter_helix + gear_helix


def cutter_helix_for(sigma: Deg, gear_helix: Deg, internal: bool) -> Deg:
    """Helix angle that a cutter needs for a wanted crossed-axes angle.

    Source: derived, the crossed-axes formula solved for beta_t.

    Parameters
    ----------
    sigma
        Crossed-axes angle with sign [deg].
    gear_helix
        Helix angle of the gear, right hand positive [deg].
    internal
        Whether the gear is internal [-].

    Raises
    ------
    OutOfRange
        When an angle is beyond 60 deg.
    """
    within("cutter helix", -60.0, 60.0, sigma=sigma, gear_helix=gear_helix)
    return sigma + gear_helix if internal else sigma - gear_helix


def speed_ratio(cutter_teeth: int, gear_teeth: int, internal: bool) -> float:
    """Table turns for one cutter turn, z_t / z_w, positive when both turn the same way.

    Source: derived by velocity vectors: internal work turns the same way, external work the opposite way,
    seen along the nearly parallel axes.

    Parameters
    ----------
    cutter_teeth
        Teeth of the cutter [-].
    gear_teeth
        Teeth of the gear [-].
    internal
        Whether the gear is internal [-].

    Raises
    ------
    OutOfRange
        When a tooth number is below 1 or an internal gear has no more teeth than the cutter.
    """
    one_or_more("skiving ratio", cutter_teeth=cutter_teeth, gear_teeth=gear_teeth)
    if internal and cutter_teeth >= gear_teeth:
        raise OutOfRange(
            f"cutter has {cutter_teeth} teeth, internal gear {gear_teeth}",
            where="skiving ratio",
            limit="cutter below gear",
            remedy="Take a cutter with fewer teeth",
        )
    ratio = cutter_teeth / gear_teeth
    return ratio if internal else -ratio


def pitch_diameter(module: Mm, teeth: int, helix_angle: Deg) -> Mm:
    """Pitch diameter of cutter or gear, d = m_n z / cos(beta).

    Source: ISO 21771.

    Parameters
    ----------
    module
        Normal module [mm].
    teeth
        Teeth [-].
    helix_angle
        Helix angle [deg].

    Raises
    ------
    OutOfRange
        When module or teeth are not above 0 or the helix angle is beyond 60 deg.
    """
    above_zero("pitch diameter", module=module)
    one_or_more("pitch diameter", teeth=teeth)
    within("pitch diameter", -60.0, 60.0, helix_angle=helix_angle)
    return module * teeth / math.cos(math.radians(helix_angle))


def cutter_rpm(speed: MetrePerMinute, cutter_pitch_diameter: Mm, sigma: Deg, gear_helix: Deg) -> Rpm:
    """Cutter revolutions, n_t = 1000 v_c cos(beta_w) / (pi d_t sin(Sigma)).

    Source: Gear Technology 2021, Gear Skiving - A Step Changing Manufacturing Process, as quoted; confirmed
    by velocity vectors at the pitch point.

    Parameters
    ----------
    speed
        Cutting speed along the tooth [m/min].
    cutter_pitch_diameter
        Pitch diameter of the cutter, d_t [mm].
    sigma
        Crossed-axes angle [deg].
    gear_helix
        Helix angle of the gear [deg].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the crossed-axes angle below 1 deg or an angle too large.
    """
    above_zero("skiving revolutions", cutting_speed=speed, cutter_pitch_diameter=cutter_pitch_diameter)
    sine = sine_of_sigma(sigma)
    within("skiving revolutions", -60.0, 60.0, gear_helix=gear_helix)
    return 1000 * speed * math.cos(math.radians(gear_helix)) / (math.pi * cutter_pitch_diameter * sine)


def table_rpm(speed_of_cutter: Rpm, cutter_teeth: int, gear_teeth: int) -> Rpm:
    """Table revolutions without sign, n_w = n_t z_t / z_w.

    Source: Gear Technology 2021, Gear Skiving - A Step Changing Manufacturing Process, as quoted.

    Parameters
    ----------
    speed_of_cutter
        Cutter revolutions, n_t [1/min].
    cutter_teeth
        Teeth of the cutter [-].
    gear_teeth
        Teeth of the gear [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("table revolutions", cutter_rpm=speed_of_cutter)
    one_or_more("table revolutions", cutter_teeth=cutter_teeth, gear_teeth=gear_teeth)
    return speed_of_cutter * cutter_teeth / gear_teeth


def cutting_speed_at(gear_rpm: Rpm, gear_pitch_diameter: Mm, sigma: Deg, cutter_helix: Deg) -> MetrePerMinute:
    """Cutting speed that table revolutions give, v_c = v_w sin(Sigma) / cos(beta_t).

    Source: confirmed by velocity vectors at the pitch point; use it when the table cap decides.

    Parameters
    ----------
    gear_rpm
        Table revolutions [1/min].
    gear_pitch_diameter
        Pitch diameter of the gear [mm].
    sigma
        Crossed-axes angle [deg].
    cutter_helix
        Helix angle of the cutter [deg].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the crossed-axes angle below 1 deg or an angle too large.
    """
    above_zero("skiving cutting speed", table_rpm=gear_rpm, gear_pitch_diameter=gear_pitch_diameter)
    sine = sine_of_sigma(sigma)
    within("skiving cutting speed", -60.0, 60.0, cutter_helix=cutter_helix)
    surface = math.pi * gear_pitch_diameter * gear_rpm / 1000
    return surface * sine / math.cos(math.radians(cutter_helix))


@dataclass(frozen=True)
class Sliding:
    """Velocity of the edge against the work at the pitch point.

    Parameters
    ----------
    speed
        Cutting speed [m/min].
    along_tooth
        Share of it that lies along the tooth; 1 when the set-up is right [-].
    """

    speed: MetrePerMinute
    along_tooth: float


def sliding(
    module: Mm,
    cutter_teeth: int,
    gear_teeth: int,
    cutter_helix: Deg,
    gear_helix: Deg,
    internal: bool,
    speed_of_cutter: Rpm,
) -> Sliding:
    """Cutting speed as the difference of the two surface velocities, by vectors in space.

    Source: derived; work axis z, pitch point on x, cutter axis tilted about x by the crossed-axes angle.

    Parameters
    ----------
    module
        Normal module [mm].
    cutter_teeth
        Teeth of the cutter [-].
    gear_teeth
        Teeth of the gear [-].
    cutter_helix
        Helix angle of the cutter, right hand positive [deg].
    gear_helix
        Helix angle of the gear, right hand positive [deg].
    internal
        Whether the gear is internal [-].
    speed_of_cutter
        Cutter revolutions [1/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the crossed-axes angle below 1 deg.
    """
    above_zero("skiving vectors", cutter_rpm=speed_of_cutter)
    sigma = crossed_axes_angle(cutter_helix, gear_helix, internal)
    sine_of_sigma(sigma)
    turn = math.radians(sigma)
    ratio = speed_ratio(cutter_teeth, gear_teeth, internal)
    gear_radius = pitch_diameter(module, gear_teeth, gear_helix) / 2
    radius = pitch_diameter(module, cutter_teeth, cutter_helix) / 2
    # The table turns anticlockwise; the cutter axis leans with the tooth it meshes with.
    gear_turn = 2 * math.pi * speed_of_cutter * abs(ratio)
    cutter_turn = math.copysign(2 * math.pi * speed_of_cutter, ratio)
    lean = -math.sin(turn) if internal else math.sin(turn)
    cutter_axis: Vector = (0.0, lean, math.cos(turn))
    arm = radius if internal else -radius
    v_cutter = _cross(_times(cutter_axis, cutter_turn), (arm, 0.0, 0.0))
    v_gear = _cross((0.0, 0.0, gear_turn), (gear_radius, 0.0, 0.0))
    slide: Vector = (v_cutter[0] - v_gear[0], v_cutter[1] - v_gear[1], v_cutter[2] - v_gear[2])
    size = math.hypot(*slide)
    angle = math.radians(gear_helix)
    along = abs(slide[1] * math.sin(angle) + slide[2] * math.cos(angle))
    return Sliding(size / 1000, along / size)


def differential_rpm(feed: Mm, gear_rpm: Rpm, module: Mm, gear_teeth: int, gear_helix: Deg) -> Rpm:
    """Revolutions added to the table while feeding axially, f_a n_w sin(beta_w) / (pi m_n z_w).

    Source: derived; extra work turns for each mm are the reciprocal of the lead; 0 for spur work. Positive is
    anticlockwise from above for a downward feed; `skiving_senses` gives the signs of every case.

    Parameters
    ----------
    feed
        Axial feed per table revolution [mm].
    gear_rpm
        Table revolutions [1/min].
    module
        Normal module [mm].
    gear_teeth
        Teeth of the gear [-].
    gear_helix
        Helix angle of the gear, right hand positive [deg].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the helix angle is beyond 60 deg.
    """
    above_zero("skiving differential", feed=feed, table_rpm=gear_rpm, module=module)
    one_or_more("skiving differential", gear_teeth=gear_teeth)
    within("skiving differential", -60.0, 60.0, gear_helix=gear_helix)
    return feed * gear_rpm * math.sin(math.radians(gear_helix)) / (math.pi * module * gear_teeth)


def sine_of_sigma(sigma: Deg) -> float:
    """Sine of the size of the crossed-axes angle, refused near 0.

    Source: derived; without a crossed-axes angle nothing slides along the tooth.

    Parameters
    ----------
    sigma
        Crossed-axes angle [deg].

    Raises
    ------
    OutOfRange
        When the size of the angle is outside 1 to 60 deg.
    """
    within(
        "skiving",
        LEAST_SIGMA,
        60.0,
        "Choose a cutter with another helix angle: without a crossed-axes angle the edge does not slide",
        crossed_axes_angle=abs(sigma),
    )
    return math.sin(math.radians(abs(sigma)))


def _cross(a: Vector, b: Vector) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _times(a: Vector, factor: float) -> Vector:
    return (a[0] * factor, a[1] * factor, a[2] * factor)
