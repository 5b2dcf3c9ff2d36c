"""Time and money of a plan: the account, the risk along the route, make or buy, and what drives it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sequencer.costing.account import Account, Basis, RiskPoint, make_basis, quote_of, risk_curve, tool_costs
from sequencer.costing.advice import Advice, advise
from sequencer.costing.assumptions import Assumptions, assumptions_of
from sequencer.costing.choice import Choice, buy_account, choose, make_account
from sequencer.costing.drivers import Driver, drivers_of
from sequencer.costing.lines import whole_account
from sequencer.costing.subjects import WHOLE_PART, Subject, subjects
from sequencer.costing.times import TimeTable, make_times
from sequencer.costing.tools import ToolCost
from sequencer.costing.ways import ToothWays, tooth_ways
from sequencer.errors import Finding, Severity
from sequencer.magazine import MagazineTable
from sequencer.operations import Action, OperationList
from sequencer.part import Quote
from sequencer.precedence import Relation, Strength
from sequencer.precedence.graph import DependencyGraph
from sequencer.sequencing import Sequence
from sequencer.units import shown


@dataclass(frozen=True)
class Tornado:
    """The strongest drivers of one answer.

    Parameters
    ----------
    subject
        What is looked at: "cost of one piece", or what making a subject saves.
    now
        The answer as it is.
    drivers
        The strongest first.
    """

    subject: str
    now: float
    drivers: tuple[Driver, ...]


@dataclass(frozen=True)
class Costing:
    """Time and money of a plan.

    Parameters
    ----------
    times
        Where the time goes.
    account
        What a piece, a lot and the series cost.
    tools
        What each tool costs.
    risk
        Value at risk along the route.
    choices
        Make or buy: each tooth system, then the whole part.
    ways
        Other ways to cut each tooth system.
    tornadoes
        What drives the cost of a piece, and each choice that has a quotation.
    advice
        The recommendation.
    findings
        What is not priced, and what is no choice.
    """

    times: TimeTable
    account: Account
    tools: tuple[ToolCost, ...]
    risk: tuple[RiskPoint, ...]
    choices: tuple[Choice, ...]
    ways: tuple[ToothWays, ...]
    tornadoes: tuple[Tornado, ...]
    advice: Advice
    findings: tuple[Finding, ...]

    @cached_property
    def riskiest(self) -> RiskPoint | None:
        """The step that scraps the most value; None if no step scraps anything."""
        points = [point for point in self.risk if point.loss.value > 0]
        return max(points, key=lambda point: point.loss.value) if points else None

    @property
    def lead_days(self) -> float:
        """Days until the lot is ready when it is made here."""
        return next(choice.make_days.value for choice in self.choices if choice.subject == WHOLE_PART)


def make_costing(
    operations: OperationList, graph: DependencyGraph, sequence: Sequence, magazine: MagazineTable
) -> Costing:
    """Cost a plan.

    Parameters
    ----------
    operations, graph, sequence, magazine
        Stages of the plan.
    """
    given = assumptions_of(operations)
    basis = make_basis(operations, magazine, make_times(operations, sequence, magazine))
    listed = subjects(basis, _followers(operations, graph, sequence))
    choices = tuple(_choose(basis, subject, given) for subject in listed)
    quotes = {choice.subject: choice.quote for choice in choices}
    return Costing(
        basis.times,
        whole_account(basis, given),
        tool_costs(basis, given),
        risk_curve(basis, given),
        choices,
        tooth_ways(operations, sequence, given),
        _tornadoes(basis, listed, quotes, given),
        advise(operations, sequence, choices),
        (*_late(choices), *_findings(basis, given)),
    )


def _choose(basis: Basis, subject: Subject, given: Assumptions) -> Choice:
    """Compare with the cheapest quotation against which nothing stands, else with the cheapest."""
    wanted = ("whole part", None) if subject.name == WHOLE_PART else ("teeth", subject.name)
    fitting = [quote for quote in basis.operations.part.quotes if (quote.work, quote.of) == wanted]
    found = [choose(basis, subject, quote, given) for quote in fitting]
    if not found:
        return choose(basis, subject, None, given)
    return min(
        found, key=lambda choice: (bool(choice.obstacles), choice.buy.per_piece if choice.buy else 0.0)
    )


def _late(choices: tuple[Choice, ...]) -> tuple[Finding, ...]:
    """Say that the lot is not made by its due date."""
    whole = next(choice for choice in choices if choice.subject == WHOLE_PART)
    if not whole.late:
        return ()
    remedy = "work more hours a day, split the lot, send work out, or move the date"
    formula = whole.make_days.formula
    return (Finding(Severity.WARNING, "due date", whole.late, formula, remedy, "costing"),)


def _followers(operations: OperationList, graph: DependencyGraph, sequence: Sequence) -> dict[str, str]:
    """For each tooth system, the first step on the machine that must come after its teeth."""
    after: dict[str, set[str]] = {}
    for each in graph.dependencies:
        binding = each.relation in (Relation.BEFORE, Relation.IMMEDIATELY_AFTER, Relation.MINIMUM_WAIT)
        if binding and each.strength is Strength.MUST:
            after.setdefault(each.first, set()).add(each.second)
    found: dict[str, str] = {}
    for operation in operations.operations:
        if operation.action is not Action.CUT_TEETH or operation.feature in found:
            continue
        reached, front = set[str](), [operation.name]
        while front:
            for name in after.get(front.pop(), ()):
                if name not in reached:
                    reached.add(name)
                    front.append(name)
        for step in sequence.steps:
            other = step.operation
            if other.name in reached and other.feature != operation.feature and other.cuts and step.visit:
                found[operation.feature] = other.name
                break
    return found


def _tornadoes(
    basis: Basis, listed: tuple[Subject, ...], quotes: dict[str, Quote | None], given: Assumptions
) -> tuple[Tornado, ...]:
    def cost(changed: Assumptions) -> float:
        return whole_account(basis, changed).per_piece

    found = [Tornado("cost of one piece", cost(given), drivers_of(cost, given))]
    for subject in listed:
        quote = quotes[subject.name]
        if quote is None:
            continue

        def saved(changed: Assumptions, subject: Subject = subject, quote: Quote = quote) -> float:
            bought = buy_account(basis, subject, quote, changed).per_piece
            return bought - make_account(basis, subject, changed).per_piece

        found.append(Tornado(f"saved by making: {subject.name}", saved(given), drivers_of(saved, given)))
    return tuple(found)


def _findings(basis: Basis, given: Assumptions) -> tuple[Finding, ...]:
    """Say what is missing in the account; nothing is put in its place."""
    found = []
    if given.blank is None:
        found.append(_unpriced("blank", "the blank is not priced; costs are without it", given.blank_words))
    for step in basis.steps:
        operation = step.step.operation
        sent = operation.action in (Action.SEND_OUT, Action.HEAT_TREAT)
        if sent and quote_of(basis.operations, step) is None:
            what = f"{operation.title.lower()} is not priced; costs are without it"
            found.append(_unpriced(operation.name, what, "give a quotation: key quotes of the part file"))
    free = [
        tool.tool
        for tool in tool_costs(basis, given)
        if tool.price == 0 and (tool.lives.value or tool.bought)
    ]
    if free:
        what = f"tools without a price count nothing: {', '.join(free)}"
        found.append(_unpriced("tools", what, "give price, uses and renewal_price in the shop file"))
    once = [
        tool.tool
        for tool in tool_costs(basis, given)
        if tool.per_piece > 0 and "uses" not in basis.operations.shop.tool_by_name[tool.tool].model_fields_set
    ]
    if once:
        what = f"the shop file does not say how often they are used, so one life each: {', '.join(once)}"
        found.append(_unpriced("tools", what, "give uses and renewal_price in the shop file"))
    for quote in basis.operations.part.quotes:
        order = basis.operations.part.order_date
        if quote.valid_until and order and quote.valid_until < order:
            what = f"it lapsed on {quote.valid_until}, before the order of {order}"
            found.append(_unpriced(f"quotation {quote.source}", what, "ask for a new one"))
    return tuple(found)


def _unpriced(where: str, what: str, remedy: str) -> Finding:
    return Finding(Severity.NOTE, where, what, remedy=remedy.removeprefix("not priced: "), subject="costing")


def cost_words(costing: Costing) -> str:
    """Give the cost of a piece in words, with what it leaves out.

    Parameters
    ----------
    costing
        The costing.
    """
    account = costing.account
    missing = [finding.where for finding in costing.findings if "not priced" in finding.what]
    without = f", without {', '.join(missing)} (not priced)" if missing else ""
    price = f"{shown(account.per_piece, 0)} {account.currency}"
    return f"{price} a piece in a lot of {shown(account.lot, 0)}{without}"
