"""Power skiving: crossed axes, speeds, senses of rotation, infeed passes, engagement and entry.

Helix angles carry a sign: right hand positive, left hand negative, spur 0.
"""

from sequencer.cutting.skiving.access import engagement_reach, largest_cutter_teeth, largest_entering_diameter
from sequencer.cutting.skiving.kinematics import (
    LEAST_SIGMA,
    Sliding,
    crossed_axes_angle,
    cutter_helix_for,
    cutter_rpm,
    cutting_speed_at,
    differential_rpm,
    pitch_diameter,
    sine_of_sigma,
    sliding,
    speed_ratio,
    table_rpm,
)
from sequencer.cutting.skiving.passes import Infeeds, infeed_passes, passes_time
from sequencer.cutting.skiving.senses import SkivingSenses, skiving_senses

__all__ = [
    "LEAST_SIGMA",
    "Infeeds",
    "SkivingSenses",
    "Sliding",
    "crossed_axes_angle",
    "cutter_helix_for",
    "cutter_rpm",
    "cutting_speed_at",
    "differential_rpm",
    "engagement_reach",
    "infeed_passes",
    "largest_cutter_teeth",
    "largest_entering_diameter",
    "passes_time",
    "pitch_diameter",
    "sine_of_sigma",
    "skiving_senses",
    "sliding",
    "speed_ratio",
    "table_rpm",
]
