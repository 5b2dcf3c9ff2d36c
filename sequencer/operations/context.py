"""What every feature needs to become operations: part, shop, section, clampings and conditions."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sequencer.errors import SequencerError
from sequencer.operations.operation import FittedClamping
from sequencer.part import AnyFeature, Part
from sequencer.part.section import Section
from sequencer.shop import AnyTool, Material, Shop


@dataclass(frozen=True)
class ChosenConditions:
    """Cutting conditions with the place that they come from.

    Parameters
    ----------
    cutting_speed
        Cutting speed [m/min].
    feed
        Feed per revolution or per tooth [mm].
    depth
        Depth of cut or infeed [mm]; None where the method has none.
    source
        "part file", "shop file, tool T12" or "shop file, table of conditions (...)".
    estimate
        True if they come from a table of starting values.
    """

    cutting_speed: float
    feed: float
    depth: float | None
    source: str
    estimate: bool


@dataclass(frozen=True)
class Context:
    """Part and shop together, as the operations of one feature see them.

    Parameters
    ----------
    part, shop
        As read.
    section
        Half-section of the part.
    clampings
        Clampings with their means and reach.
    """

    part: Part
    shop: Shop
    section: Section
    clampings: tuple[FittedClamping, ...]

    @cached_property
    def material(self) -> Material:
        """Material of the part in this shop.

        Raises
        ------
        SequencerError
            When the shop does not know the material.
        """
        for material in self.shop.materials:
            if material.name == self.part.material:
                return material
        known = ", ".join(material.name for material in self.shop.materials)
        raise SequencerError(
            f"material {self.part.material!r} is not in the shop file",
            where="material",
            remedy=f"use one of {known}, or add it to the shop's materials",
        )

    def reaching(self, feature: AnyFeature) -> tuple[FittedClamping, ...]:
        """Clampings in which the feature can be reached and which the planner allows for it.

        Parameters
        ----------
        feature
            Feature of the part.
        """
        return tuple(
            clamping
            for clamping in self.clampings
            if clamping.reach_by_feature[feature.name].reachable
            and (feature.clamping is None or feature.clamping == clamping.name)
        )

    def conditions(
        self, method: str, tool: AnyTool, stage: str, feature: AnyFeature, wished: bool | None = None
    ) -> ChosenConditions | None:
        """Cutting conditions: the part file wins over the tool's own, these over the shop's table.

        Parameters
        ----------
        method
            Method as in the shop's table of conditions.
        tool
            The tool.
        stage
            "rough" or "finish".
        feature
            The feature that is cut; its own conditions hold for its finish.
        wished
            Whether the feature's own conditions hold for this cut; if left out, for stage "finish" only.
        """
        row = next(
            (
                row
                for row in self.shop.conditions
                if row.method == method
                and row.tool_material == tool.material
                and row.group == self.material.group
                and row.stage == stage
            ),
            None,
        )
        holds = stage == "finish" if wished is None else wished
        given = feature.conditions if holds else None
        table = f"shop file, starting values for {method}, {tool.material}, {self.material.group}, {stage}"
        own = f"shop file, tool {tool.name}"
        speed = _first(
            (given.cutting_speed if given else None, "part file"),
            (tool.cutting_speed, own),
            (row.cutting_speed if row else None, table),
        )
        feed = _first(
            ((given.feed or given.feed_per_tooth) if given else None, "part file"),
            (tool.feed, own),
            (row.feed if row else None, table),
        )
        if speed is None or feed is None:
            return None
        depth = _first((given.depth if given else None, "part file"), (row.depth if row else None, table))
        source = speed[1] if speed[1] == feed[1] else f"cutting speed: {speed[1]}; feed: {feed[1]}"
        return ChosenConditions(
            speed[0], feed[0], depth[0] if depth else None, source, table in (speed[1], feed[1])
        )


def _first(*candidates: tuple[float | None, str]) -> tuple[float, str] | None:
    """Give the first value that there is, with its place."""
    return next(((float(value), place) for value, place in candidates if value is not None), None)
