"""Skiving and hobbing played through in space: what the cutter really leaves, against the wanted involute.

Nothing here rests on the formulas of `skiving` and `hobbing`; a set-up made from them proves or refutes them.
"""

from sequencer.cutting.simulation.deviation import Deviation, describe
from sequencer.cutting.simulation.grain import COARSE, FINE, Grain
from sequencer.cutting.simulation.hobbing import simulate_hobbing
from sequencer.cutting.simulation.hobbing_setup import HobbingSetup, hobbing_setup
from sequencer.cutting.simulation.moving_edge import cutter_turns_anticlockwise
from sequencer.cutting.simulation.pass_angles import (
    FinishingAngle,
    PassAngles,
    finishing_angles,
    pass_angles,
)
from sequencer.cutting.simulation.profile import Profile, profile_of
from sequencer.cutting.simulation.skiving import simulate_skiving
from sequencer.cutting.simulation.skiving_cutter import (
    PartlyCut,
    SkivingCutter,
    ideal_cutter,
    involute_cutter,
)
from sequencer.cutting.simulation.skiving_setup import SkivingSetup, skiving_setup

__all__ = [
    "COARSE",
    "FINE",
    "Deviation",
    "FinishingAngle",
    "Grain",
    "HobbingSetup",
    "PartlyCut",
    "PassAngles",
    "Profile",
    "SkivingCutter",
    "SkivingSetup",
    "cutter_turns_anticlockwise",
    "describe",
    "finishing_angles",
    "hobbing_setup",
    "ideal_cutter",
    "involute_cutter",
    "pass_angles",
    "profile_of",
    "simulate_hobbing",
    "simulate_skiving",
    "skiving_setup",
]
