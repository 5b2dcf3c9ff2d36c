"""Power skiving played through: the edges of a cutter swept over the work."""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

from sequencer.cutting.simulation.axis_frame import AxisFrame
from sequencer.cutting.simulation.deviation import Deviation
from sequencer.cutting.simulation.grain import FINE, Grain
from sequencer.cutting.simulation.profile import Profile, profile_of
from sequencer.cutting.simulation.skiving_cutter import REACH, SkivingCutter, ideal_cutter
from sequencer.cutting.simulation.skiving_setup import SkivingSetup
from sequencer.cutting.simulation.sweep import Tracks, cut_flanks, into_section
from sequencer.gears import CylindricalGear

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]


def simulate_skiving(
    gear: CylindricalGear,
    setup: SkivingSetup,
    cutter: SkivingCutter | None = None,
    profile: Profile | None = None,
    grain: Grain = FINE,
) -> Deviation:
    """Cut a tooth space with the moving edges and compare it with the involute.

    Source: derived; positions of the edges by rotation of cutter and table, table turns differing by the
    differential for each mm of feed. The feed is taken as small: feed marks are left out.

    Parameters
    ----------
    gear
        The wanted gear.
    setup
        How the cutter moves.
    cutter
        Its edges; None for the ideal ones of this very set-up.
    profile
        The part of the involute that is compared; None for all of it.
    grain
        How finely it is played through.

    Raises
    ------
    OutOfRange
        When no ideal cutter exists for this set-up.
    """
    profile = profile_of(gear) if profile is None else profile
    cutter = ideal_cutter(profile, setup, grain) if cutter is None else cutter
    frame = AxisFrame.of(setup, gear.internal)
    return cut_flanks(
        profile,
        (
            _passage(setup, cutter, frame, phase, grain.steps)
            for phase in _phases(setup, cutter.teeth, grain.table_turns)
        ),
    )


def _phases(setup: SkivingSetup, cutter_teeth: int, turns: int) -> tuple[float, ...]:
    """Turn of the cutter tooth that enters the space, at each of the first table turns, each value once."""
    pitch = 2 * pi / cutter_teeth
    found: list[float] = []
    for turn in range(min(turns, cutter_teeth)):
        share = turn * cutter_teeth / setup.ratio
        phase = (share - round(share)) * pitch
        if all(abs(phase - other) > 1e-9 for other in found):
            found.append(phase)
    return tuple(found)


def _passage(
    setup: SkivingSetup, cutter: SkivingCutter, frame: AxisFrame, phase: float, steps: int
) -> Tracks:
    """Paths of both edges of one tooth through the space."""
    import numpy as np

    turn = np.linspace(-REACH, REACH, steps)
    edges = np.array((cutter.upper, cutter.lower))
    places = frame.places(edges[..., 0, None], edges[..., 1, None], turn + phase)
    return into_section(
        *places,
        setup.ratio * turn,
        setup.differential,
    )
