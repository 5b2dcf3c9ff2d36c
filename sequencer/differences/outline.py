"""The outline of a plan: what of it is compared with another one, small enough to be kept by the thousand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from math import fsum
from typing import TYPE_CHECKING, Any

from sequencer.units import Minutes

if TYPE_CHECKING:
    from sequencer.plan import Plan


@dataclass(frozen=True)
class OutlineStep:
    """One step of an outline.

    Parameters
    ----------
    operation
        Name of the operation.
    method, tool, clamping
        How and where it is done.
    minutes
        Own time [min].
    changes
        Time that passes before it [min].
    """

    operation: str
    method: str
    tool: str
    clamping: str
    minutes: Minutes
    changes: Minutes


@dataclass(frozen=True)
class Outline:
    """What of a plan is compared.

    Parameters
    ----------
    steps
        All steps in order.
    clampings
        Names of the clampings in the order of their visits.
    tool_changes, mode_changes
        How many there are.
    pockets
        Pockets that the tools take.
    cost
        Cost of one piece.
    currency
        Its currency.
    """

    steps: tuple[OutlineStep, ...]
    clampings: tuple[str, ...]
    tool_changes: int
    mode_changes: int
    pockets: int
    cost: float
    currency: str

    @cached_property
    def by_operation(self) -> dict[str, OutlineStep]:
        """Steps by the name of their operation; of a repeated one the first."""
        found: dict[str, OutlineStep] = {}
        for step in self.steps:
            found.setdefault(step.operation, step)
        return found

    @property
    def minutes(self) -> Minutes:
        """Time of all steps [min]."""
        return fsum(step.minutes + step.changes for step in self.steps)

    @property
    def tools(self) -> tuple[str, ...]:
        """Tools in the order of their first use."""
        return tuple(dict.fromkeys(step.tool for step in self.steps if step.tool))

    def as_dict(self) -> dict[str, Any]:
        """Give the outline as plain values."""
        return {
            "steps": [
                [s.operation, s.method, s.tool, s.clamping, _figures(s.minutes), _figures(s.changes)]
                for s in self.steps
            ],
            "clampings": list(self.clampings),
            "tool_changes": self.tool_changes,
            "mode_changes": self.mode_changes,
            "pockets": self.pockets,
            "cost": _figures(self.cost),
            "currency": self.currency,
        }


def _figures(value: float) -> float:
    """Keep twelve figures: the last ones of a sum differ from one version of Python to another."""
    return float(f"{value:.12g}")


def outline_from_dict(values: Mapping[str, Any]) -> Outline:
    """Give an outline back from its plain values.

    Parameters
    ----------
    values
        What `Outline.as_dict` gave.
    """
    return Outline(
        tuple(OutlineStep(*step) for step in values["steps"]),
        tuple(values["clampings"]),
        values["tool_changes"],
        values["mode_changes"],
        values["pockets"],
        values["cost"],
        values["currency"],
    )


def outline_of(plan: Plan) -> Outline:
    """Give the outline of a plan.

    Parameters
    ----------
    plan
        The plan.
    """
    sequence = plan.sequence
    steps = tuple(
        OutlineStep(
            step.operation.name,
            step.alternative.method,
            step.alternative.tool,
            step.alternative.clamping,
            step.alternative.minutes,
            step.change_minutes,
        )
        for step in sequence.steps
    )
    account = plan.costing.account
    return Outline(
        steps,
        tuple(name for name, visited in sequence.visits if visited[0].visit),
        sequence.count("tool change"),
        sequence.count("mode change"),
        plan.magazine.needed,
        account.per_piece,
        account.currency,
    )


def outline_of_json(values: Mapping[str, Any]) -> Outline:
    """Give the outline of a plan that was written as plan.json.

    Parameters
    ----------
    values
        What the file holds.
    """
    steps = values["sequence"]["steps"]
    made = tuple(
        OutlineStep(
            step["operation"],
            step["method"],
            step["tool"],
            step["clamping"],
            step["own_minutes"],
            step["change_minutes"],
        )
        for step in steps
    )
    changes = [change["name"] for step in steps for change in step["changes"]]
    visits: list[tuple[int, str]] = []
    for step in steps:
        place = (step["visit"], step["clamping"])
        if step["visit"] and (not visits or visits[-1] != place):
            visits.append(place)
    account = values["costing"]["account"]
    return Outline(
        made,
        tuple(name for _, name in visits),
        changes.count("tool change"),
        changes.count("mode change"),
        values["magazine"]["needed"],
        account["total"]["value"],
        account["currency"],
    )
