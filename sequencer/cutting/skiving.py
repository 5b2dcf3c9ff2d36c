"""Power skiving: crossed axes, speeds, senses of rotation, infeed passes, engagement and entry.

Helix angles carry a sign: right hand positive, left hand negative, spur 0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sequencer.cutting._ranges import above_zero, not_negative, one_or_more, within
from sequencer.errors import OutOfRange
from sequencer.units import Deg, MetrePerMinute, Minutes, Mm, Rpm

#: Below this crossed-axes angle there is no useful sliding along the tooth, v_c goes to 0 with sin(Sigma).
LEAST_SIGMA: Final[Deg] = 1.0

#: More passes than this are no plan but a slip in the numbers.
_MOST_PASSES: Final = 500

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
    sine = _sine(sigma)
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
    sine = _sine(sigma)
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
    _sine(sigma)
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

    Source: derived; extra work turns for each mm are the reciprocal of the lead; 0 for spur work.

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


@dataclass(frozen=True)
class Infeeds:
    """Radial infeeds of the passes, first to last.

    Parameters
    ----------
    infeeds
        Infeed of each pass [mm].
    """

    infeeds: tuple[Mm, ...]

    @property
    def passes(self) -> int:
        """Number of passes."""
        return len(self.infeeds)

    @property
    def depth(self) -> Mm:
        """Depth after the last pass [mm]."""
        return math.fsum(self.infeeds)


def infeed_passes(
    depth: Mm,
    tip_width: Mm,
    pressure_angle: Deg,
    largest: Mm,
    smallest: Mm,
    finish: Mm = 0.0,
) -> Infeeds:
    """Decreasing radial infeeds that each cut about the same area of the tooth gap, down to a chip limit.

    Source: derived; gap area to depth y is A = w y + y^2 tan(alpha), the passes share it evenly, the first
    takes at most the largest infeed and none less than the smallest, below which an edge rubs.

    Parameters
    ----------
    depth
        Whole depth of the teeth [mm].
    tip_width
        Width of the gap at its bottom, w [mm].
    pressure_angle
        Pressure angle, alpha [deg].
    largest
        Largest infeed of a pass [mm].
    smallest
        Smallest infeed of a pass [mm].
    finish
        Infeed of one finishing pass at the end; 0 for none [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the largest infeed below twice the smallest, the finish not below the
        depth, or more than 500 passes come out.
    """
    where = "skiving infeeds"
    above_zero(where, depth=depth, tip_width=tip_width, largest_infeed=largest, smallest_infeed=smallest)
    within(where, 0.0, 45.0, pressure_angle=pressure_angle)
    within(where, 0.0, largest / 2, "Keep it at most half the largest infeed", smallest_infeed=smallest)
    within(where, 0.0, depth * (1 - 1e-9), finish_infeed=finish)
    rough = depth - finish
    slope = math.tan(math.radians(pressure_angle))
    share = largest * (tip_width + slope * largest)
    total = rough * (tip_width + slope * rough)
    passes = math.ceil(total / share - 1e-9)
    most = min(passes, math.ceil(rough / smallest))
    within(where, 1, _MOST_PASSES, "Raise the infeeds", passes=most)
    share = total / passes
    infeeds: list[Mm] = []
    done = 0.0
    while rough - done > 1e-9:
        infeed = max(_depth_for(done * (tip_width + slope * done) + share, tip_width, slope) - done, smallest)
        left = rough - done
        if left - infeed < smallest:
            infeed = left if left <= largest + 1e-9 else left / 2
        infeeds.append(infeed)
        done += infeed
    return Infeeds((*infeeds, finish) if finish > 0 else tuple(infeeds))


def passes_time(face_width: Mm, approach: Mm, overrun: Mm, feeds: tuple[Mm, ...], gear_rpm: Rpm) -> Minutes:
    """Time of all skiving passes, T = sum of (b + approach + overrun) / (f_a n_w).

    Source: Gear Technology 2021, as quoted; the passes may have feeds of their own.

    Parameters
    ----------
    face_width
        Face width along the axis [mm].
    approach
        Axial feed path before the teeth [mm].
    overrun
        Axial feed path behind the teeth [mm].
    feeds
        Axial feed per table revolution of each pass [mm].
    gear_rpm
        Table revolutions [1/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0, a path negative or there is no pass.
    """
    above_zero("skiving time", face_width=face_width, table_rpm=gear_rpm)
    not_negative("skiving time", approach=approach, overrun=overrun)
    one_or_more("skiving time", passes=len(feeds))
    for feed in feeds:
        above_zero("skiving time", feed=feed)
    return math.fsum((face_width + approach + overrun) / (feed * gear_rpm) for feed in feeds)


def engagement_reach(
    limit_diameter: Mm, root_diameter: Mm, cutter_diameter: Mm, sigma: Deg, internal: bool
) -> Mm:
    """Axial half extent of the cutter tip circle inside a limiting diameter, at full depth.

    Source: derived; external rho^2 = (a - r cos phi)^2 + (r sin phi cos Sigma)^2 with a = r_f + r, internal
    (a + r cos phi)^2 + ... with a = r_f - r, set equal to the limiting radius; reach = r sin phi sin Sigma.

    Parameters
    ----------
    limit_diameter
        Tip diameter of the gear, or diameter of the shoulder or bore next to it [mm].
    root_diameter
        Root diameter of the gear [mm].
    cutter_diameter
        Tip circle diameter of the cutter [mm].
    sigma
        Crossed-axes angle [deg].
    internal
        Whether the gear is internal [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the crossed-axes angle is below 1 deg, an internal cutter is not
        smaller than the root circle, or the limiting diameter is on the wrong side of the root.
    """
    where = "skiving reach"
    above_zero(where, root_diameter=root_diameter, cutter_diameter=cutter_diameter)
    above_zero(where, limit_diameter=limit_diameter)
    sine = _sine(sigma)
    if internal:
        within(where, 0.0, root_diameter, limit_diameter=limit_diameter)
        within(
            where, 0.0, root_diameter * (1 - 1e-9), "Take a smaller cutter", cutter_diameter=cutter_diameter
        )
    else:
        within(where, root_diameter, math.inf, limit_diameter=limit_diameter)
    radius, limit, root = cutter_diameter / 2, limit_diameter / 2, root_diameter / 2
    axis = root - radius if internal else root + radius
    # rho^2 - limit^2 = a x^2 +- 2 b x + c, x = cos(phi) counted from the point of deepest engagement
    a = radius**2 * sine**2
    b = axis * radius
    c = axis**2 + radius**2 * (1 - sine**2) - limit**2
    inside = b * b - a * c
    # An internal tip circle that lies wholly beyond the limit has no crossing: all of it counts.
    way = -1.0 if internal else 1.0
    cosine = way * (b - math.sqrt(inside)) / a if inside >= 0 else -1.0
    cosine = max(-1.0, min(1.0, cosine))
    return radius * sine * (1.0 if cosine < 0 else math.sqrt(1 - cosine**2))


def largest_entering_diameter(tip_diameter: Mm, clearance: Mm = 1.0) -> Mm:
    """Largest cutter outside diameter that can be lowered into an internal gear, d_a - 2 clearance.

    Source: derived; lowered with its middle on the work axis a tilted cutter fills its own diameter.

    Parameters
    ----------
    tip_diameter
        Tip diameter of the internal gear, or a narrower bore above it [mm].
    clearance
        Clearance all round [mm].

    Raises
    ------
    OutOfRange
        When the diameter is not above 0 or the clearance negative or too large.
    """
    above_zero("cutter entry", tip_diameter=tip_diameter)
    within("cutter entry", 0.0, tip_diameter / 2 * (1 - 1e-9), clearance=clearance)
    return tip_diameter - 2 * clearance


def largest_cutter_teeth(gear_teeth: int, share: float = 0.65) -> int:
    """Largest number of cutter teeth for an internal gear, floor(share z_w).

    Source: common practice, no source: 0.6 to 0.7 of the gear keeps the flanks free at entry and exit.

    Parameters
    ----------
    gear_teeth
        Teeth of the internal gear [-].
    share
        Share of the gear teeth allowed [-].

    Raises
    ------
    OutOfRange
        When the teeth are below 1 or the share outside 0.1 to 0.95.
    """
    one_or_more("cutter teeth", gear_teeth=gear_teeth)
    within("cutter teeth", 0.1, 0.95, share=share)
    return math.floor(share * gear_teeth + 1e-9)


def _sine(sigma: Deg) -> float:
    """Sine of the size of the crossed-axes angle, refused near 0."""
    within(
        "skiving",
        LEAST_SIGMA,
        60.0,
        "Choose a cutter with another helix angle: without a crossed-axes angle the edge does not slide",
        crossed_axes_angle=abs(sigma),
    )
    return math.sin(math.radians(abs(sigma)))


def _depth_for(area: float, width: Mm, slope: float) -> Mm:
    """Depth at which a gap with straight flanks has a given area."""
    if slope < 1e-12:
        return area / width
    return (-width + math.sqrt(width * width + 4 * slope * area)) / (2 * slope)


def _cross(a: Vector, b: Vector) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _times(a: Vector, factor: float) -> Vector:
    return (a[0] * factor, a[1] * factor, a[2] * factor)
