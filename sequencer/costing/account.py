"""The account of a plan: what each step costs, and lines for one piece, one lot and the series."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Final

from sequencer.costing.assumptions import Assumptions
from sequencer.costing.times import StepTime, TimeTable
from sequencer.costing.tools import ToolCost, loaded_of, tool_cost
from sequencer.magazine import MagazineTable
from sequencer.operations import Action, Fact, OperationList, Stage
from sequencer.part import Quote
from sequencer.units import shown

#: Actions by which a tooth system itself is made and proved.
TOOTH_ACTIONS: Final = (Action.CUT_TEETH, Action.DEBURR, Action.MEASURE, Action.APEX_CHECK)


@dataclass(frozen=True)
class Line:
    """One line of an account.

    Parameters
    ----------
    name
        What it is for.
    per
        "piece", "lot" or "series".
    amount
        The money.
    """

    name: str
    per: str
    amount: Fact


@dataclass(frozen=True)
class Account:
    """Lines that add up.

    Parameters
    ----------
    lines
        The lines; of each kind the dearest need not come first.
    lot
        Pieces of the lot.
    series
        Pieces over which the lines of the series are spread.
    currency
        Currency.
    """

    lines: tuple[Line, ...]
    lot: float
    series: float
    currency: str

    def sum(self, per: str) -> float:
        """Sum of the lines of one kind.

        Parameters
        ----------
        per
            "piece", "lot" or "series".
        """
        return math.fsum(line.amount.value for line in self.lines if line.per == per)

    @property
    def per_piece(self) -> float:
        """Cost of one piece of this lot."""
        return self.sum("piece") + self.sum("lot") / self.lot + self.sum("series") / self.series

    @property
    def total(self) -> Fact:
        """Cost of one piece of this lot as a fact."""
        piece, lot, series = self.sum("piece"), self.sum("lot"), self.sum("series")
        words = (
            f"c = piece + lot/Q + series/N = {shown(piece, 2)} + {shown(lot, 2)}/{shown(self.lot, 1)} + "
            f"{shown(series, 2)}/{shown(self.series, 1)} = {shown(self.per_piece, 2)} {self.currency}"
        )
        guess = any(line.amount.estimate for line in self.lines)
        return Fact("cost of one piece", self.per_piece, self.currency, words, "derived", guess)


@dataclass(frozen=True)
class Basis:
    """What all accounts of a plan are made from.

    Parameters
    ----------
    operations, magazine, times
        Stages of the plan.
    loose
        Steps that are left out of the account, by number.
    wear
        What each step with a tool wears off at the lives of the shop file, by number of the step.
    """

    operations: OperationList
    magazine: MagazineTable
    times: TimeTable
    loose: frozenset[int] = field(default_factory=frozenset)
    wear: tuple[tuple[int, float], ...] = ()

    @property
    def steps(self) -> tuple[StepTime, ...]:
        """Steps that count."""
        return tuple(step for step in self.times.steps if step.step.number not in self.loose)

    def only(self, numbers: frozenset[int]) -> Basis:
        """Leave all other steps out.

        Parameters
        ----------
        numbers
            Numbers of the steps that stay.
        """
        every = frozenset(step.step.number for step in self.times.steps)
        return replace(self, loose=every - numbers)


def make_basis(operations: OperationList, magazine: MagazineTable, times: TimeTable) -> Basis:
    """Collect what all accounts of a plan are made from.

    Parameters
    ----------
    operations, magazine, times
        Stages of the plan.
    """
    wear = tuple(
        (
            step.step.number,
            tool_cost(how.tool, (how,), operations.shop, loaded_of(magazine, how.tool)).per_piece,
        )
        for step in times.steps
        if (how := step.step.alternative).tool
    )
    return Basis(operations, magazine, times, wear=wear)


@dataclass(frozen=True)
class StepCost:
    """What one step adds to the value of a piece.

    Parameters
    ----------
    step
        The step with its times.
    machine
        Machine, operator included.
    bench
        Work beside the machine.
    tools
        Wear of tools.
    outside
        Price of work outside.
    chance
        Share of pieces that the step scraps.
    """

    step: StepTime
    machine: float
    bench: float
    tools: float
    outside: float
    chance: float

    @property
    def added(self) -> float:
        """Value that it adds."""
        return self.machine + self.bench + self.tools + self.outside


def quote_of(operations: OperationList, step: StepTime) -> Quote | None:
    """Give the quotation for work that a step sends out.

    Parameters
    ----------
    operations
        Operations with the part.
    step
        The step.
    """
    operation = step.step.operation
    for quote in operations.part.quotes:
        if operation.action is Action.HEAT_TREAT and quote.work == "heat treatment":
            return quote
        wanted = "grinding" if step.step.alternative.method == "grinding" else "teeth"
        if operation.action is Action.SEND_OUT and (quote.work, quote.of) == (wanted, operation.feature):
            return quote
    return None


def step_costs(basis: Basis, given: Assumptions) -> tuple[StepCost, ...]:
    """Cost each step.

    Parameters
    ----------
    basis
        The plan's steps.
    given
        Rates, prices and risks.
    """
    made = []
    worn = dict(basis.wear)
    for step in basis.steps:
        minutes = step.minutes * given.time_factor
        wear = worn.get(step.step.number, 0.0) / given.life_factor
        quote = quote_of(basis.operations, step)
        made.append(
            StepCost(
                step,
                minutes * given.machine_hour / 60 if step.on_machine else 0.0,
                0.0 if step.on_machine else minutes * given.inspection_hour / 60,
                wear,
                quote.price * given.outside_factor if quote else 0.0,
                chance_of(step, given, quote),
            )
        )
    return tuple(made)


def chance_of(step: StepTime, given: Assumptions, quote: Quote | None) -> float:
    """Give the share of pieces that a step scraps.

    Parameters
    ----------
    step
        The step.
    given
        Risks.
    quote
        Quotation of work that is sent out, if there is one.
    """
    operation, risks = step.step.operation, given.risks
    if operation.action in (Action.SEND_OUT, Action.HEAT_TREAT):
        base = quote.loss if quote is not None and quote.loss else risks.outside
    elif not operation.cuts:
        base = 0.0
    elif operation.stage in (Stage.ROUGH, Stage.SEMI, Stage.DEBURR, Stage.PREPARE):
        base = risks.rough
    elif operation.action is Action.CUT_TEETH:
        base = risks.teeth
    else:
        base = risks.finish
    return min(base * given.risk_factor, 1.0)


@dataclass(frozen=True)
class RiskPoint:
    """What stands to be lost at one step.

    Parameters
    ----------
    number, operation
        The step.
    value
        Value of the piece when it is done.
    chance
        Share of pieces that it scraps.
    loss
        Chance times value.
    """

    number: int
    operation: str
    value: Fact
    chance: float
    loss: Fact


def values_so_far(basis: Basis, given: Assumptions) -> list[tuple[int, float, float]]:
    """Give number, value when it is done, and expected loss of each step.

    Source: expected loss = chance times value so far; small chances are added

    Parameters
    ----------
    basis
        The plan's steps.
    given
        Rates, prices and risks.
    """
    value, found = given.blank or 0.0, []
    for cost in step_costs(basis, given):
        value += cost.added
        found.append((cost.step.step.number, value, cost.chance * value))
    return found


def expected_loss(basis: Basis, given: Assumptions) -> float:
    """Give the loss by scrap that one piece must carry.

    Source: sum of chance times value along the route

    Parameters
    ----------
    basis
        The plan's steps.
    given
        Rates, prices and risks.
    """
    return math.fsum(loss for _, _, loss in values_so_far(basis, given))


def risk_curve(basis: Basis, given: Assumptions) -> tuple[RiskPoint, ...]:
    """Give the value at risk along the route.

    Source: expected loss = chance times value so far; small chances are added

    Parameters
    ----------
    basis
        The plan's steps.
    given
        Rates, prices and risks.
    """
    points: list[RiskPoint] = []
    value, currency = given.blank or 0.0, given.currency
    blank = "" if given.blank is not None else " (the blank is not priced)"
    for cost in step_costs(basis, given):
        before, value = value, value + cost.added
        loss = cost.chance * value
        words = f"{shown(before, 2)} + {shown(cost.added, 2)} = {shown(value, 2)} {currency}{blank}"
        points.append(
            RiskPoint(
                cost.step.step.number,
                cost.step.step.operation.name,
                Fact("value so far", value, currency, words, "derived", True),
                cost.chance,
                Fact(
                    "expected loss",
                    loss,
                    currency,
                    f"p V = {shown(cost.chance, 5)}*{shown(value, 2)} = {shown(loss, 2)} {currency}",
                    "derived",
                    given.risks_guessed,
                ),
            )
        )
    return tuple(points)


def tool_costs(basis: Basis, given: Assumptions) -> tuple[ToolCost, ...]:
    """Give what the tools cost that the steps use, in the order of their first use.

    Parameters
    ----------
    basis
        The plan's steps.
    given
        Rates and factors.
    """
    ways: dict[str, list[StepTime]] = {}
    for step in basis.steps:
        if step.step.alternative.tool:
            ways.setdefault(step.step.alternative.tool, []).append(step)
    return tuple(
        tool_cost(
            name,
            tuple(step.step.alternative for step in steps),
            basis.operations.shop,
            loaded_of(basis.magazine, name),
            given.life_factor,
        )
        for name, steps in ways.items()
    )
