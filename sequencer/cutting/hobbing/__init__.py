"""Hobbing: setting, speeds, travel, time, marks on the flank and chip thickness."""

from sequencer.cutting.hobbing.marks import facet_height, feed_mark_depth, head_chip_thickness, largest_feed
from sequencer.cutting.hobbing.senses import HobSenses, hob_senses, signed_swivel
from sequencer.cutting.hobbing.setting import (
    HANDS,
    differential_rpm,
    differential_turns,
    hob_lead_angle,
    hob_pitch_diameter,
    lead,
    swivel_angle,
    table_rpm,
)
from sequencer.cutting.hobbing.shifting import (
    edges_in_use,
    even_shift,
    metres_for_each_edge,
    shift_range,
)
from sequencer.cutting.hobbing.travel import approach, generating_length, hobbing_time, overrun, total_travel

__all__ = [
    "HANDS",
    "HobSenses",
    "approach",
    "differential_rpm",
    "differential_turns",
    "edges_in_use",
    "even_shift",
    "facet_height",
    "feed_mark_depth",
    "generating_length",
    "head_chip_thickness",
    "hob_lead_angle",
    "hob_pitch_diameter",
    "hob_senses",
    "hobbing_time",
    "largest_feed",
    "lead",
    "metres_for_each_edge",
    "overrun",
    "shift_range",
    "signed_swivel",
    "swivel_angle",
    "table_rpm",
    "total_travel",
]
