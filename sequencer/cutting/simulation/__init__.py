"""Skiving and hobbing played through in space: what the cutter really leaves, against the wanted involute.

Nothing here rests on the formulas of `skiving` and `hobbing`; a set-up made from them proves or refutes them.
"""

from sequencer.cutting.simulation.deviation import Deviation, describe
from sequencer.cutting.simulation.hobbing import simulate_hobbing
from sequencer.cutting.simulation.hobbing_setup import HobbingSetup, hobbing_setup
from sequencer.cutting.simulation.profile import Profile, profile_of
from sequencer.cutting.simulation.skiving import simulate_skiving
from sequencer.cutting.simulation.skiving_cutter import SkivingCutter, ideal_cutter, involute_cutter
from sequencer.cutting.simulation.skiving_setup import SkivingSetup, skiving_setup

__all__ = [
    "Deviation",
    "HobbingSetup",
    "Profile",
    "SkivingCutter",
    "SkivingSetup",
    "describe",
    "hobbing_setup",
    "ideal_cutter",
    "involute_cutter",
    "profile_of",
    "simulate_hobbing",
    "simulate_skiving",
    "skiving_setup",
]
