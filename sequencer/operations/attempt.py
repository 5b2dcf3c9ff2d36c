"""One attempt to cut a feature in one clamping, before it is known whether it works."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from sequencer.operations.context import ChosenConditions, Context
from sequencer.operations.operation import FittedClamping, Rejection
from sequencer.operations.standing import Standing, standing_in
from sequencer.part import AnyFeature
from sequencer.shop import AnyTool


@dataclass(frozen=True)
class Attempt:
    """A feature in a clamping, to be tried with one tool after the other.

    Parameters
    ----------
    context
        Part and shop.
    feature
        The feature.
    clamping
        The clamping.
    wished
        Whether the feature's own conditions and wishes hold for this cut.
    """

    context: Context
    feature: AnyFeature
    clamping: FittedClamping
    wished: bool

    @cached_property
    def standing(self) -> Standing:
        """The part as it stands in the clamping."""
        return standing_in(self.context, self.clamping)

    def conditions(self, tool: AnyTool, tries: Sequence[tuple[str, str]]) -> ChosenConditions | None:
        """Give the conditions of the first method and stage that the part file, the tool or the shop knows.

        Parameters
        ----------
        tool
            The tool.
        tries
            Pairs of method and stage, the best first.
        """
        for method, stage in tries:
            chosen = self.context.conditions(method, tool, stage, self.feature, self.wished)
            if chosen is not None:
                return chosen
        return None

    def reject(self, method: str, tool: AnyTool, sentence: str, remedy: str = "") -> Rejection:
        """Reject a tool in this clamping.

        Parameters
        ----------
        method, tool
            What was tried.
        sentence, remedy
            Why it fails, and the nearest thing that would make it work.
        """
        remedy = remedy[:1].upper() + remedy[1:]
        return Rejection(method, tool.name, self.clamping.name, sentence, remedy)

    def no_conditions(self, method: str, tool: AnyTool, stage: str) -> Rejection:
        """Reject a tool for which nobody gives cutting conditions.

        Parameters
        ----------
        method, tool
            What was tried.
        stage
            "rough" or "finish".
        """
        group = self.context.material.group
        return self.reject(
            method,
            tool,
            f"no cutting conditions for {method}, {tool.material}, {group}, {stage}",
            "add a row to the conditions of the shop file, or give conditions for the feature",
        )
