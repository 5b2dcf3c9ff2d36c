"""The whole answer: runs the chain from part and shop to the plan, and keeps every stage."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sequencer.errors import Finding
from sequencer.magazine import MagazineTable
from sequencer.operations import OperationList
from sequencer.part import Part
from sequencer.part.section import Section
from sequencer.precedence.graph import DependencyGraph
from sequencer.sequencing import Sequence
from sequencer.shop import Shop


@dataclass(frozen=True)
class Plan:
    """A plan with all the stages that led to it.

    Parameters
    ----------
    part, shop
        What was asked.
    section
        Half-section of the part.
    operations
        Operations with alternatives and rejections.
    graph
        Dependencies.
    sequence
        The order.
    magazine
        Tools and pockets.
    """

    part: Part
    shop: Shop
    section: Section
    operations: OperationList
    graph: DependencyGraph
    sequence: Sequence
    magazine: MagazineTable

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, errors first."""
        order = {"error": 0, "warning": 1, "note": 2}
        found = (*self.operations.findings, *self.magazine.findings)
        return tuple(sorted(found, key=lambda finding: order[finding.severity]))
