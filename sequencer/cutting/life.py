"""Tool life: by time (Taylor), by tooth length (hobs), and the number of sister tools."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, one_or_more, within
from sequencer.errors import OutOfRange
from sequencer.units import Deg, MetrePerMinute, Minutes, Mm


def taylor_life(exponent: float, constant: float, speed: MetrePerMinute) -> Minutes:
    """Life of an edge at a cutting speed, T = (C / v)^(1/n).

    Source: F. W. Taylor, v T^n = C.

    Parameters
    ----------
    exponent
        Taylor exponent n [-].
    constant
        Cutting speed for a life of one minute, C [m/min].
    speed
        Cutting speed [m/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the exponent is outside 0.05 to 1.
    """
    above_zero("tool life", constant=constant, cutting_speed=speed)
    within("tool life", 0.05, 1.0, exponent=exponent)
    power = math.log(constant / speed) / exponent
    within("tool life", -200.0, 200.0, logarithm_of_life=power)
    return math.exp(power)


def taylor_speed(exponent: float, constant: float, life: Minutes) -> MetrePerMinute:
    """Cutting speed for a wanted life, v = C / T^n.

    Source: F. W. Taylor, v T^n = C.

    Parameters
    ----------
    exponent
        Taylor exponent n [-].
    constant
        Cutting speed for a life of one minute, C [m/min].
    life
        Life wanted [min].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the exponent is outside 0.05 to 1.
    """
    above_zero("cutting speed for life", constant=constant, life=life)
    within("cutting speed for life", 0.05, 1.0, exponent=exponent)
    return float(constant / life**exponent)


def taylor_constants(
    speed_1: MetrePerMinute, life_1: Minutes, speed_2: MetrePerMinute, life_2: Minutes
) -> tuple[float, float]:
    """Exponent n and constant C from two tests, n = ln(v1/v2) / ln(T2/T1), C = v1 T1^n.

    Source: derived from v T^n = C.

    Parameters
    ----------
    speed_1
        Cutting speed of the first test [m/min].
    life_1
        Life in the first test [min].
    speed_2
        Cutting speed of the second test [m/min].
    life_2
        Life in the second test [min].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the faster test did not wear faster.
    """
    above_zero("Taylor constants", speed_1=speed_1, life_1=life_1, speed_2=speed_2, life_2=life_2)
    if (speed_1 - speed_2) * (life_2 - life_1) <= 0:
        raise OutOfRange(
            f"{speed_1:g} m/min lasts {life_1:g} min and {speed_2:g} m/min lasts {life_2:g} min",
            where="Taylor constants",
            limit="the faster test has the shorter life",
            remedy="Give two tests at different speeds",
        )
    exponent = math.log(speed_1 / speed_2) / math.log(life_2 / life_1)
    return exponent, float(speed_1 * life_1**exponent)


def hob_tooth_metres(
    parts: int, teeth: int, face_width: Mm, helix_angle: Deg, usable_hob_teeth: int = 1
) -> float:
    """Metres of gear tooth that each hob tooth has cut, L_p = p z b / (1000 cos beta) / hob teeth in use.

    Source: common practice, no source (hob life counted as tooth length, shared by shifting).

    Parameters
    ----------
    parts
        Gears cut between two resharpenings, p [-].
    teeth
        Teeth of a gear, z [-].
    face_width
        Face width of a gear, b [mm].
    helix_angle
        Helix angle of the gear [deg].
    usable_hob_teeth
        Hob teeth that share the wear; 1 gives the whole tooth length [-].

    Raises
    ------
    OutOfRange
        When a count is below 1, the width not above 0 or the helix angle beyond 60 deg.
    """
    one_or_more("hob life", parts=parts, teeth=teeth, usable_hob_teeth=usable_hob_teeth)
    above_zero("hob life", face_width=face_width)
    within("hob life", -60.0, 60.0, helix_angle=helix_angle)
    return parts * teeth * face_width / (1000 * math.cos(math.radians(helix_angle))) / usable_hob_teeth


def gears_per_hob(
    metres_per_tooth: float, usable_hob_teeth: int, teeth: int, face_width: Mm, helix_angle: Deg
) -> float:
    """Gears that a hob cuts until it is worn, the tooth length formula solved for p.

    Source: derived from L_p = p z b / (1000 cos beta); below 1 the hob does not finish one gear.

    Parameters
    ----------
    metres_per_tooth
        Tooth length that one hob tooth cuts until it is worn [m].
    usable_hob_teeth
        Hob teeth that share the wear by shifting [-].
    teeth
        Teeth of a gear, z [-].
    face_width
        Face width of a gear, b [mm].
    helix_angle
        Helix angle of the gear [deg].

    Raises
    ------
    OutOfRange
        When a count is below 1, a value not above 0 or the helix angle beyond 60 deg.
    """
    above_zero("hob life", metres_per_tooth=metres_per_tooth)
    return metres_per_tooth / hob_tooth_metres(1, teeth, face_width, helix_angle, usable_hob_teeth)


def tools_needed(parts: int, minutes_per_part: Minutes, life: Minutes, reserve: float = 0.8) -> int:
    """Number of equal tools for a lot, ceil(lot t / (k T)).

    Source: common practice, no source (k from 0.7 to 0.9).

    Parameters
    ----------
    parts
        Parts of the lot or of the unattended time [-].
    minutes_per_part
        Cutting time of the tool in one part [min].
    life
        Life of an edge [min].
    reserve
        Share of the life that is planned for, k [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the parts no whole number or the reserve outside 0.1 to 1.
    """
    one_or_more("number of tools", parts=parts)
    above_zero("number of tools", minutes_per_part=minutes_per_part, life=life)
    within("number of tools", 0.1, 1.0, reserve=reserve)
    return max(1, math.ceil(parts * minutes_per_part / (reserve * life) - 1e-9))
