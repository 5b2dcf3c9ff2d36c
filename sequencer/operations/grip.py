"""Whether the friction of jaws or bolts holds a cut against turning; what slips for certain is rejected.

Between what holds with all safety factors and what slips without any lies a warning of the set-up.
"""

from __future__ import annotations

import re
from math import pi, radians, sin
from typing import Final

from sequencer.cutting import holding
from sequencer.operations.operation import (
    Alternative,
    FittedClamping,
    Mode,
)
from sequencer.operations.standing import Standing
from sequencer.part import AnyFeature
from sequencer.part.milled import BoltCircle
from sequencer.units import Mm, Newton, NewtonMetre, Rpm

#: Share of the cutting force square to the tooth when cutting along it; common practice, no source.
SIDE_SHARE: Final = 0.3

_ALONG_THE_TOOTH: Final = ("hobbing", "power skiving", "disc milling")
_TABLE_TURNS: Final = re.compile(r"^(table revolutions|revolutions at the outside)")


def table_rpm(way: Alternative) -> Rpm:
    """Table speed of a cut; 0 while the table stands or only positions [rpm].

    Parameters
    ----------
    way
        How it is cut.
    """
    turning = way.mode is Mode.TURNING
    found = [
        fact.value
        for fact in way.facts
        if fact.unit == "rpm" and (_TABLE_TURNS.match(fact.name) or (turning and fact.name == "revolutions"))
    ]
    return max(found, default=0.0)


def torque_on_part(standing: Standing, feature: AnyFeature, way: Alternative) -> NewtonMetre:
    """Torque of a cut about the table axis [N m].

    Source: derived; turning: force times radius. Driven tools: force from the spindle's torque and the tool's
    radius, at the radius of the feature; along teeth only F (sin(beta) + 0.3) acts round the axis (the 0.3 is
    common practice, no source); a drill along the axis gives its own torque alone

    Parameters
    ----------
    standing
        The part in the clamping.
    feature
        The feature.
    way
        How it is cut.
    """
    outer = standing.section.extent(feature.name).outer
    facts = {fact.name: fact.value for fact in way.facts}
    if way.mode is Mode.TURNING:
        return facts.get("cutting force", 0.0) * _turned_diameter(facts, outer) / 2000
    torque = max((value for name, value in facts.items() if name.startswith("spindle torque")), default=0.0)
    across = _across(standing, way.tool)
    if torque <= 0 or across <= 0:
        return 0.0
    if isinstance(feature, BoltCircle) and feature.direction == "axial":
        return torque
    share = 1.0
    if way.method in _ALONG_THE_TOOTH:
        share = min(1.0, sin(radians(abs(float(getattr(feature, "helix_angle", 0.0))))) + SIDE_SHARE)
    return torque / across * outer * share


def _turned_diameter(facts: dict[str, float], outer: Mm) -> Mm:
    """Diameter that is turned: from cutting speed and revolutions, else that of the feature [mm]."""
    rpm = facts.get("revolutions", facts.get("revolutions at the outside", 0.0))
    speed = facts.get("cutting speed", 0.0)
    return 1000 * speed / (pi * rpm) if rpm > 0 and speed > 0 else outer


def _across(standing: Standing, name: str) -> Mm:
    tool = next((tool for tool in standing.shop.tools if tool.name == name), None)
    for key in ("outside_diameter", "diameter", "reference_diameter"):
        value = getattr(tool, key, None)
        if value:
            return float(value)
    return 0.0


def force_left(clamping: FittedClamping, at_rest: Newton, rpm: Rpm, safety: float) -> Newton:
    """Force of the means that is surely left at a table speed; only outside jaws lose some [N].

    Source: VDI 3106 as quoted in chuck manuals

    Parameters
    ----------
    clamping
        The clamping with its means.
    at_rest
        Force at rest [N].
    rpm
        Table speed [rpm].
    safety
        Safety factor of the jaw force.
    """
    outside = clamping.clamping.hold == "outside jaws"
    moment = float(clamping.means.jaw_moment) if outside else 0.0
    return max(0.0, holding.force_at_speed(at_rest, moment, rpm, not outside, safety))


def torque_held(standing: Standing, force: Newton) -> NewtonMetre:
    """Torque that friction holds, the safety factor of cutting taken off [N m].

    Source: derived, M = F mu D/(2000 Sz)

    Parameters
    ----------
    standing
        The part in the clamping.
    force
        Force of the means [N].
    """
    limits = standing.shop.limits
    return force * limits.jaw_friction * standing.grip_diameter / 2000 / limits.jaw_safety
