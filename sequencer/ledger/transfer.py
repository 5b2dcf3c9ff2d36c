"""Process dimensions of faces, and the stock that stages meet: the objects."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.cutting.chains import Link, root_sum_square, worst_case
from sequencer.errors import Finding
from sequencer.operations import Fact
from sequencer.units import Micrometre, Mm


@dataclass(frozen=True)
class ProcessDimension:
    """A dimension that is worked to in one clamping.

    Parameters
    ----------
    first, second
        Surfaces that it lies between; the second is the one that it counts from.
    nominal
        Nominal dimension [mm].
    tolerance
        Half of the tolerance that it gets of the drawing's [um].
    reached
        What the shop reaches, as a fact [um].
    clamping
        Where it is worked to.
    operation
        Operation that works to it.
    """

    first: str
    second: str
    nominal: Mm
    tolerance: Micrometre
    reached: Fact
    clamping: str
    operation: str


@dataclass(frozen=True)
class Transfer:
    """A dimension of the drawing that no clamping works to: it closes a chain of process dimensions.

    Parameters
    ----------
    face, datum
        Surfaces of the drawing's dimension.
    dimension
        Nominal dimension [mm].
    tolerance
        Half of its tolerance as a fact [um].
    chain
        Process dimensions that close with it.
    finding
        Set if the shop does not reach what they get.
    """

    face: str
    datum: str
    dimension: Mm
    tolerance: Fact
    chain: tuple[ProcessDimension, ...]
    finding: Finding | None = None

    @property
    def worst(self) -> Micrometre:
        """What the shop reaches of the closing dimension with all links at their limits [um]."""
        return 1000 * worst_case(self._links)

    @property
    def rss(self) -> Micrometre:
        """The same as root-sum-square [um]."""
        return 1000 * root_sum_square(self._links)

    @property
    def _links(self) -> tuple[Link, ...]:
        return tuple(Link(each.nominal, each.reached.value / 1000) for each in self.chain)


@dataclass(frozen=True)
class StockStage:
    """The stock that one stage of a surface meets and leaves, per side.

    Parameters
    ----------
    surface
        The surface; of teeth a flank.
    operation
        The stage.
    step
        Its number.
    clamping
        Where it is done.
    nominal
        Stock that it takes off [mm].
    least, most
        Stock that it may meet, tolerances of the stages before, shift and distortion counted [mm].
    left
        Stock that it leaves [mm].
    because
        What makes it uneven, each with its share [mm].
    finding
        Set if the stage may not clean the surface up.
    """

    surface: str
    operation: str
    step: int
    clamping: str
    nominal: Mm
    least: Mm
    most: Mm
    left: Mm
    because: tuple[Fact, ...]
    finding: Finding | None = None
