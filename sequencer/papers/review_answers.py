"""Answers to the questions that a review asks, each made of what the plan holds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from sequencer.operations import Action, Stage
from sequencer.precedence import Strength

if TYPE_CHECKING:
    from sequencer.plan import Plan


@dataclass(frozen=True)
class Answer:
    """The answer to one question.

    Parameters
    ----------
    words
        The answer, a sentence or several.
    steps
        Numbers of the steps that it is about.
    """

    words: str
    steps: tuple[int, ...] = ()


@dataclass(frozen=True)
class Question:
    """A question of a review.

    Parameters
    ----------
    words
        The question.
    sheet
        Title of the sheet that shows the numbers.
    answer
        Answers it from a plan.
    """

    words: str
    sheet: str
    answer: Callable[[Plan], Answer]


def listed(words: Iterable[str], none: str) -> str:
    """Join words, each once; say something else if there are none.

    Parameters
    ----------
    words
        The words.
    none
        What stands there if there are none.
    """
    text = "; ".join(dict.fromkeys(words))
    return f"{text.rstrip('.')}." if text else none


def order(plan: Plan) -> Answer:
    """Say how many rules and costs set the order, and which shoulds it breaks."""
    counts = Counter(each.strength for each in plan.graph.dependencies)
    broken = plan.sequence.broken
    text = (
        f"{counts[Strength.MUST]} musts and {counts[Strength.SHOULD]} shoulds set the order of "
        f"{len(plan.sequence.steps)} steps; the nearest reasons stand at each step. {plan.sequence.sentence} "
    )
    text += listed(
        (f"Breaks the should {each.rule}: {each.first} before {each.second}" for each in broken),
        "No should that can be kept is broken.",
    )
    places = plan.sequence.by_operation
    return Answer(text, tuple(places[each.second].number for each in broken if each.second in places))


def ways(plan: Plan) -> Answer:
    """Say what each tooth system costs by other methods."""
    return Answer(listed((each.answer for each in plan.costing.ways), "No teeth are cut here."), _teeth(plan))


def crossing(plan: Plan) -> Answer:
    """Say which tolerances cross clampings and how much is used up."""
    entries = [each for each in plan.ledger.entries if each.crosses]
    words = (f"{each.name} {each.verdict}, {each.budget.numbers}" for each in entries)
    none = f"None of {len(plan.ledger.entries)} toleranced relations crosses clampings."
    return Answer(listed(words, none))


def datums(plan: Plan) -> Answer:
    """Say who made each datum and whether it is still true."""
    words = []
    for each in plan.datums.datums:
        made = f"made at step {each.step} in {each.clamping}" if each.step else "cut by nothing"
        lost = [f"{truth.event} ({truth.step}): {truth.reason}" for truth in each.truths if not truth.true]
        words.append(f"{each.letter} ({each.feature}) {made}, {', '.join(lost) or 'stays true'}")
    steps = tuple(dict.fromkeys(each.step for each in plan.datums.datums if each.step))
    return Answer(listed(words, "The drawing has no datums."), steps)


def clampings(plan: Plan) -> Answer:
    """Say how few clampings the part needs, with proof."""
    least = plan.least
    text = f"Planned {least.planned}; least {least.sentence}."
    return Answer(f"{text} Fewer would do with: {least.fewer}." if least.fewer else text)


def run_out(plan: Plan) -> Answer:
    """Say how much room each cutter of teeth needs and has."""
    words, steps = [], []
    for step in plan.sequence.steps:
        for each in step.alternative.run_out:
            if each.kind:
                steps.append(step.number)
                words.append(
                    f"{step.operation.name} {each.side}: needs {each.needed:.1f} mm, "
                    f"has {each.has:.1f} mm to {each.neighbour}"
                )
    none = "Nothing limits the run-out of the chosen cutters." if _teeth(plan) else "No teeth are cut here."
    return Answer(listed(words, none), tuple(dict.fromkeys(steps)))


def speeds(plan: Plan) -> Answer:
    """Say what caps the table speed in each clamping."""
    words = (
        f"{each.name}: never above {each.speed_cap:.0f} rpm, {each.speed_reason}" for each in plan.set_ups
    )
    return Answer(listed(words, "Nothing is clamped."))


def bought(plan: Plan) -> Answer:
    """Say which tools are bought and when they arrive."""
    words: list[str] = []
    steps: list[int] = []
    uses = {use.tool: use for use in plan.magazine.uses}
    for cost in plan.costing.tools:
        tool = plan.shop.tool_by_name.get(cost.tool)
        if cost.bought and tool is not None:
            lead = f"lead time {tool.lead_time}" if tool.lead_time > 0 else "lead time not given"
            words.append(f"{cost.tool} {tool.title}: {cost.bought} to buy, {lead}")
            steps += uses[cost.tool].steps if cost.tool in uses else ()
    due = f" Due {plan.part.due.isoformat()}." if plan.part.due else ""
    return Answer(listed(words, "None: the shop owns all of them.") + due, tuple(sorted(set(steps))))


def magazine(plan: Plan) -> Answer:
    """Say whether all tools fit, sisters and probes included."""
    table = plan.magazine
    sisters = [f"{use.tool} {use.loaded} times" for use in table.uses if use.loaded > 1]
    fits = "everything fits" if table.fits else f"{table.over} pockets are missing"
    text = f"{table.needed} of {table.available} pockets are needed, {fits}. "
    text += f"Sisters: {', '.join(sisters) or 'none'}. Loaded by hand: {', '.join(table.by_hand) or 'none'}."
    return Answer(text, tuple(stop.step for stop in table.stops))


def failing(plan: Plan) -> Answer:
    """Say what is lost and what stands ready if a cutter fails in the teeth."""
    values = {point.number: point.value for point in plan.costing.risk}
    uses = {use.tool: use for use in plan.magazine.uses}
    words, steps = [], []
    for step in plan.sequence.steps:
        how = step.alternative
        if step.operation.action is not Action.CUT_TEETH or not step.visit or how.tool not in uses:
            continue
        use = uses[how.tool]
        value = values.get(step.number)
        worth = f", {value.value:.0f} {value.unit} are in the part" if value is not None else ""
        lasts = "an edge lasts a gear" if use.lasts else "an edge does not last a gear: plan the change"
        steps.append(step.number)
        words.append(f"{step.operation.name} ({how.tool}): {use.loaded} loaded, {lasts}{worth}")
    text = listed(words, "No teeth are cut here.")
    if words:
        text += (
            " Retract, measure what is cut, exchange the cutter, find the space again before the next cut."
        )
    return Answer(text, tuple(steps))


def stops(plan: Plan) -> Answer:
    """Say where the work stops to measure and correct."""
    points = plan.inspection.stops
    words = (f"before {each.before} ({each.operation})" for each in points)
    text = listed(words, "Nowhere: no characteristic can be corrected in its clamping.")
    return Answer(text, tuple(each.before for each in points))


def distortion(plan: Plan) -> Answer:
    """Say what springs at release and what moves in heat treatment."""
    words = [
        f"{each.name}: ring {each.ovality.deviation:.1f} um out of round after release at the force for "
        "finishing"
        for each in plan.set_ups
        if each.ovality is not None
    ]
    words += [
        f"{datum.letter} ({datum.feature}), {truth.event}: {truth.reason}"
        for datum in plan.datums.datums
        for truth in datum.truths
        if truth.event.startswith("let go") or "treat" in truth.event or "harden" in truth.event
    ]
    kinds = [
        step for step in plan.sequence.steps if step.operation.action in (Action.RELEASE, Action.HEAT_TREAT)
    ]
    return Answer(listed(words, "Nothing that the ledger knows of."), tuple(step.number for step in kinds))


def phase(plan: Plan) -> Answer:
    """Say how apex and phase relations are proven."""
    from sequencer.tolerancing import Kind

    wanted = [e for e in plan.ledger.entries if e.budget.relation.kind in (Kind.APEX, Kind.PHASE)]
    names = {entry.name for entry in wanted}
    checks = [check for check in plan.inspection.checks if check.characteristic in names]
    words = [f"{each.name} {each.verdict}, {each.budget.numbers}" for each in wanted]
    words += [
        f"{check.characteristic} is measured at step {check.step}, {check.when}, with {check.technique}, "
        f"accepted to {check.accept.value:.1f} um"
        for check in checks
    ]
    text = listed(words, "The drawing asks for no apex and no phase.")
    return Answer(text, tuple(dict.fromkeys(check.step for check in checks)))


def leaving(plan: Plan) -> Answer:
    """Say what leaves the shop and what is checked when it is back."""
    out = [s for s in plan.sequence.steps if s.alternative.lead_time > 0 or s.operation.action in _AWAY]
    words = [
        f"{step.operation.title} ({step.number}), away {step.alternative.lead_time / 1440:.1f} d"
        for step in out
    ]
    back = [check for check in plan.inspection.checks if "return" in check.when]
    words += [f"on return {check.characteristic}, {check.specification}" for check in back]
    return Answer(listed(words, "Nothing leaves the shop."), tuple(step.number for step in out))


_AWAY: Final = (Action.SEND_OUT, Action.HEAT_TREAT)


def heat(plan: Plan) -> Answer:
    """Say where the part is left to cool and how long."""
    words, steps = [], []
    for step in plan.sequence.steps:
        waits = [change for change in step.changes if change.name == "waiting"]
        if step.operation.action is Action.SOAK:
            steps.append(step.number)
            words.append(f"{step.operation.title}: {step.alternative.minutes:.0f} min")
        for change in waits:
            steps.append(step.number)
            words.append(f"before {step.operation.name} {change.minutes:.0f} min, {change.reason}")
    kept = {
        f"{check.characteristic} within {check.temperature.value:.1f} K"
        for check in plan.inspection.checks
        if check.temperature is not None
    }
    text = listed(words, "No step waits for the part to cool.")
    if kept:
        text += f" Measured at one temperature: {', '.join(sorted(kept))}."
    return Answer(text, tuple(dict.fromkeys(steps)))


def riskiest(plan: Plan) -> Answer:
    """Say which step scraps the most."""
    point = plan.costing.riskiest
    if point is None:
        return Answer("The shop file gives no step a chance of scrap.")
    text = (
        f"{point.operation}: {point.value.value:.0f} {point.value.unit} are in the part by then, expected "
        f"loss {point.loss.value:.2f} {point.loss.unit} a piece."
    )
    return Answer(text, (point.number,))


def estimates(plan: Plan) -> Answer:
    """Say how much of the plan rests on numbers that nobody gave."""
    steps = tuple(
        step.number
        for step in plan.sequence.steps
        if any(fact.estimate and fact.source != "derived" for fact in step.alternative.facts)
    )
    shares = [share for entry in plan.ledger.entries for share in entry.budget.shares]
    guessed = {
        share.change.removeprefix("shop file, key ")
        for share in shares
        if share.fact.estimate and share.change
    }
    text = f"{len(steps)} of {len(plan.sequence.steps)} steps use a number that nobody gave. "
    text += f"In the ledger, by key: {', '.join(sorted(guessed))}." if guessed else "The ledger uses none."
    return Answer(text, steps)


def changed(plan: Plan) -> Answer:
    """Say which revision this is; another one is compared with it on demand."""
    part = plan.part
    date = f" of {part.order_date.isoformat()}" if part.order_date else ""
    return Answer(
        f"This plan is for drawing {part.drawing}, revision {part.revision}{date}. It holds no earlier one: "
        "sequencer compare OLD NEW tells two revisions apart and marks the sheets."
    )


def lifting(plan: Plan) -> Answer:
    """Say how often the part is lifted, with what and by which points."""
    words = []
    for each in plan.set_ups:
        how = each.lifting
        points = ", ".join(point.name for point in how.points) or "no lifting points named"
        turned = ", turned over" if how.turned_over else ""
        words.append(
            f"onto {each.name}: {each.before.mass:.0f} kg, {how.mass_class}{turned}, {points}, "
            f"{each.after.mass:.0f} kg when it leaves"
        )
    text = listed(words, "Nothing is clamped.")
    steps = tuple(step.number for step in plan.sequence.steps if step.operation.action is Action.CLAMP)
    return Answer(f"{text} By people trained and authorised for it.", steps)


def accepting(plan: Plan) -> Answer:
    """Say on which instrument the teeth are accepted, and when."""
    checks = [check for check in plan.inspection.checks if check.traces is not None]
    last = [check for check in checks if not check.correctable] or checks
    words = (
        f"{check.feature} with {check.technique}, {check.when} (step {check.step})"
        + (f", {check.traces.standard}" if check.traces is not None else "")
        for check in last
    )
    none = "The part has no teeth with a class." if not _teeth(plan) else "No check of the teeth is planned."
    return Answer(listed(words, none), tuple(dict.fromkeys(check.step for check in last)))


def _teeth(plan: Plan) -> tuple[int, ...]:
    return tuple(
        step.number
        for step in plan.sequence.steps
        if step.operation.action is Action.CUT_TEETH and step.operation.stage in (Stage.FINISH, Stage.HARD)
    )
