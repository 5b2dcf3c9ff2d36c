"""Cutting times of turning, hole making and plain milling [min]."""

from sequencer.cutting.times.holes import drill_point_length, drilling_time, reaming_time, tapping_time
from sequencer.cutting.times.milling import (
    keyway_milling_time,
    keyway_slotting_time,
    milling_time,
    slab_approach,
    tooth_edge_chamfer_time,
)
from sequencer.cutting.times.turning import (
    chamfer_turning_time,
    cuts_for_stock,
    face_groove_time,
    facing_time,
    grooving_plunges,
    radial_groove_time,
    turning_time,
)

__all__ = [
    "chamfer_turning_time",
    "cuts_for_stock",
    "drill_point_length",
    "drilling_time",
    "face_groove_time",
    "facing_time",
    "grooving_plunges",
    "keyway_milling_time",
    "keyway_slotting_time",
    "milling_time",
    "radial_groove_time",
    "reaming_time",
    "slab_approach",
    "tapping_time",
    "tooth_edge_chamfer_time",
    "turning_time",
]
