"""The route sheet: header, cautions, one block a clamping visit, totals and the reasons for the order."""

from __future__ import annotations

from dataclasses import replace
from math import fsum
from typing import TYPE_CHECKING, Final

from sequencer.operations import BENCH, Action, FittedClamping
from sequencer.papers.cautions import clamping_cautions, general_cautions
from sequencer.papers.header import MINUTES_A_DAY, days_away, masses, part_entries, stamp_of
from sequencer.papers.localise import sheet_units
from sequencer.papers.model import Amount, Cell, Column, Entry, Figure, Row, Section, Sheet, Table
from sequencer.pictures.keys import feature_key, step_key
from sequencer.pictures.rounding import in_units, quantity_words
from sequencer.pictures.wording import band_words, hold_words, size_words
from sequencer.precedence import Dependency, Relation, Strength

if TYPE_CHECKING:
    from sequencer.plan import Plan
    from sequencer.sequencing import Step

#: Work after which nothing goes on before someone has looked at the result.
_HOLDS: Final = frozenset({Action.APEX_CHECK, Action.MEASURE, Action.INSPECT})
_MEASURES: Final = frozenset({Action.INDICATE, Action.PROBE, Action.RECEIVE})


def route_sheet(plan: Plan, figures: tuple[Figure, ...] = ()) -> Sheet:
    """Make the route sheet of a plan.

    Parameters
    ----------
    plan
        The plan.
    figures
        Pictures of the part, after the cautions.
    """
    mass_in, mass_out = masses(plan)
    sections = [
        _result(plan),
        Section("Cautions", cautions=general_cautions(plan, mass_in.words, mass_out.words)),
    ]
    sections += [Section(figure.title, figures=(figure,), new_page=True) for figure in figures]
    sections += _visits(plan)
    sections += [_reasons(plan)]
    return Sheet("Route sheet", stamp_of(plan), part_entries(plan), tuple(sections))


def _result(plan: Plan) -> Section:
    """Objective, proof and totals."""
    sequence, lot = plan.sequence, plan.part.lot
    units = {"minutes and penalties": "min"}
    levels = Table(
        "Objective and proof",
        (
            Column("Level", share=2.2),
            Column("This order", number=True),
            Column("No order has less than", number=True, share=1.4),
            Column("Proven least", share=1.2),
        ),
        tuple(
            Row(
                (
                    level.name,
                    Amount(level.value, units.get(level.name, "")),
                    Amount(level.bound, units.get(level.name, "")),
                    "yes" if level.proven else "no",
                )
            )
            for level in sequence.levels
        ),
    )
    machine = fsum(step.minutes for step in sequence.steps if step.visit)
    rows: tuple[tuple[str, Cell], ...] = (
        ("Clampings", sequence.clampings),
        ("Tool changes", sequence.count("tool change")),
        ("Mode changes", sequence.count("mode change")),
        ("Minutes per piece, on the machine", Amount(machine, "min")),
        ("Minutes per piece, bench work included", Amount(sequence.minutes, "min")),
        (f"Minutes per lot of {lot}, on the machine", Amount(machine * lot, "min")),
        ("Shoulds that this order breaks", len(sequence.broken)),
    )
    if days_away(plan) > 0:
        rows = (*rows, ("Days away from the shop, one after the other", Amount(days_away(plan), "d")))
    totals = Table(
        "Totals", (Column("What", share=3), Column("Value", number=True)), tuple(Row(row) for row in rows)
    )
    paragraphs = [f"Objective: {sequence.objective}. {sequence.sentence}"]
    if sequence.ignored:
        paragraphs.append(f"The bound leaves out: {'; '.join(sequence.ignored)}.")
    errors = sum(1 for finding in plan.findings if finding.severity == "error")
    warnings = sum(1 for finding in plan.findings if finding.severity == "warning")
    if errors or warnings:
        paragraphs.append(f"See the findings sheet. Errors: {errors}; warnings: {warnings}.")
    return Section("Result", paragraphs=tuple(paragraphs), tables=(totals, levels))


def _visits(plan: Plan) -> list[Section]:
    sections = [Section("Steps", paragraphs=_READING, new_page=True)]
    numbers = _numbers(plan)
    cumulated = 0.0
    for name, steps in plan.sequence.visits:
        fitted = plan.operations.clamping_by_name.get(name)
        table = _step_table(plan, steps, numbers, cumulated)
        cumulated += fsum(step.minutes for step in steps)
        if fitted is None:
            title = "Bench" if name == BENCH else name
            sections.append(Section(title, tables=(table,)))
            continue
        visit, visits = steps[0].visit, plan.sequence.clampings
        sections.append(
            Section(
                f"Clamping {name}, visit {visit} of {visits}",
                entries=_clamping_entries(fitted),
                cautions=clamping_cautions(fitted),
                tables=(table,),
            )
        )
    return sections


def _clamping_entries(fitted: FittedClamping) -> tuple[Entry, ...]:
    clamping = fitted.clamping
    rests = "the raw face of the blank" if clamping.rests_on == "blank" else clamping.rests_on
    entries = (
        Entry("Held by", f"{hold_words(clamping)} ({fitted.means.name})", estimate=fitted.proposed),
        Entry("Up", f"{clamping.up} side of the drawing"),
        Entry("Rests on", rests),
        Entry("Riser", clamping.riser.text if clamping.riser > 0 else "none"),
        Entry("Jaws cover", band_words(clamping)),
        Entry("Mass as clamped", quantity_words(fitted.mass, "kg"), estimate=True),
        Entry("Table speed cap", quantity_words(fitted.table_speed, "rpm")),
    )
    return tuple(entry for entry in entries if entry.words)


def _columns(units: str) -> tuple[Column, ...]:
    speed, feed = ("ft/min", "in") if units == "in" else ("m/min", "mm")
    return (
        Column("Step", number=True, share=0.6, bold=True),
        Column("Operation", share=3.2, bold=True),
        Column("Feature", share=3.2, under=True),
        Column("Remark", share=3.2, under=True),
        Column("Tool", share=2.4),
        Column("Method", share=2.4, under=True),
        Column("Mode", share=1.3),
        Column("Stage", share=1.2, under=True),
        Column("Datums", share=0.85),
        Column("vc", speed, number=True, share=0.75),
        Column("n", "rpm", number=True, share=0.75),
        Column("f", feed, number=True, share=0.75),
        Column("Change", "min", number=True, share=0.85),
        Column("Own", "min", number=True, share=0.8),
        Column("Sum", "min", number=True, share=0.9),
        Column("Why not earlier", share=2.2),
        Column("Mark", share=1.15),
    )


def _step_table(plan: Plan, steps: tuple[Step, ...], numbers: dict[str, int], before: float) -> Table:
    rows = []
    cumulated = before
    for step in steps:
        cumulated += step.minutes
        feature = step.operation.feature
        keys = (step_key(step.number), feature_key(feature)) if feature else (step_key(step.number),)
        rows.append(Row(_cells(plan, step, numbers, cumulated), keys=keys))
    changes = fsum(step.change_minutes for step in steps)
    own = fsum(step.alternative.minutes for step in steps)
    columns = _columns(sheet_units(plan))
    total: list[Cell] = [None] * len(columns)
    names = [column.name for column in columns]
    total[names.index("Operation")] = "1 step" if len(steps) == 1 else f"{len(steps)} steps"
    total[names.index("Change")], total[names.index("Own")] = changes, own
    total[names.index("Sum")] = cumulated
    return Table("", columns, (*rows, Row(tuple(total), strong=True)))


_READING: Final = (
    "Change: minutes for re-clamping, tool, mode, positioning and waiting before the step. "
    "Own: the step itself. Sum: from the start of the plan.",
    "E: holds an estimate, see the findings sheet. MEASURE: probe or indicate. "
    "HOLD: go on only when the result is accepted. SENT OUT: leaves the shop.",
)


def _cells(plan: Plan, step: Step, numbers: dict[str, int], cumulated: float) -> tuple[Cell, ...]:
    operation, how, units = step.operation, step.alternative, sheet_units(plan)
    feature = plan.part.by_name.get(operation.feature)
    return (
        step.number,
        operation.title,
        f"{feature.name}: {size_words(feature, short=True)}" if feature is not None else None,
        _remark(plan, step) or None,
        _tool_words(plan, how.tool) or None,
        how.method or None,
        str(how.mode),
        str(operation.stage),
        _datum_words(plan, step) or None,
        _shown_fact(step, units, ("m/min",)),
        _shown_fact(step, units, ("rpm",)),
        _shown_fact(step, units, ("mm", "mm/rev", "mm/tooth"), "feed"),
        step.change_minutes or None,
        how.minutes,
        cumulated,
        _why_words(step.because, numbers) or None,
        " ".join(_marks(step)) or None,
    )


def _remark(plan: Plan, step: Step) -> str:
    """The planner's note at the finish of a feature, and how long the part is away."""
    feature = plan.part.by_name.get(step.operation.feature)
    words = (
        [feature.note] if feature is not None and feature.note and step.operation.stage == "finish" else []
    )
    if step.alternative.lead_time > 0:
        words.append(f"away {quantity_words(step.alternative.lead_time / MINUTES_A_DAY, 'd')}")
    return "; ".join(words)


def _tool_words(plan: Plan, name: str) -> str:
    tool = plan.shop.tool_by_name.get(name)
    return f"{name} {tool.title}" if tool is not None else name


def _shown_fact(step: Step, units: str, wanted: tuple[str, ...], word: str = "") -> Cell:
    """First number of a cut with one of the wanted units, and the word in its name."""
    if not step.operation.cuts:
        return None
    facts = step.alternative.facts
    found = next((fact for fact in facts if fact.unit in wanted and word in fact.name), None)
    return None if found is None else in_units(found.value, found.unit, units)[0]


def _datum_words(plan: Plan, step: Step) -> str:
    feature = plan.part.by_name.get(step.operation.feature)
    return " ".join(feature.datums) if feature is not None else ""


def _numbers(plan: Plan) -> dict[str, int]:
    """Step numbers by operation; of a repeated opening step the first."""
    return {name: step.number for name, step in plan.sequence.by_operation.items()}


def _why_words(because: tuple[Dependency, ...], numbers: dict[str, int]) -> str:
    """Nearest reasons, rule and step; that the clamping is open is said only where nothing else is."""
    closer = [each for each in because if each.relation is not Relation.OPENS]
    opening = [each for each in because if each.relation is Relation.OPENS]
    opening.sort(key=lambda each: -numbers.get(each.first, 0))
    return "; ".join(dict.fromkeys(_why(each, numbers) for each in closer or opening[:1]))


def _why(dependency: Dependency, numbers: dict[str, int]) -> str:
    number = numbers.get(dependency.first)
    after = f"after {number}" if number is not None else dependency.first
    if dependency.relation is Relation.MINIMUM_WAIT:
        after = f"{quantity_words(dependency.minutes, 'min')} {after}"
    kind = "" if dependency.strength is Strength.MUST else " (should)"
    return f"{dependency.rule} {after}{kind}".strip()


def _marks(step: Step) -> list[str]:
    marks = []
    if step.operation.action in _HOLDS:
        marks.append("HOLD")
    elif step.operation.action in _MEASURES:
        marks.append("MEASURE")
    if step.operation.action is Action.SEND_OUT or step.alternative.lead_time > 0:
        marks.append("SENT OUT")
    if any(fact.estimate for fact in step.alternative.facts):
        marks.append("E")
    return marks


def _reasons(plan: Plan) -> Section:
    """Full sentences behind the short reasons of the steps; steps with one reason share a row."""
    numbers = _numbers(plan)
    held: dict[Dependency, list[int]] = {}
    for step in plan.sequence.steps:
        for each in step.because:
            held.setdefault(replace(each, second="", third=""), []).append(step.number)
    order = sorted(held, key=lambda each: (numbers.get(each.first, 0), held[each], each.rule))
    rows = [
        Row(
            (
                numbers.get(each.first),
                each.first,
                ", ".join(str(number) for number in held[each]),
                each.rule,
                str(each.strength),
                each.reason,
                each.source,
            )
        )
        for each in order
    ]
    table = Table(
        "Nearest reasons",
        (
            Column("Step", number=True, share=0.6),
            Column("Operation", share=1.9),
            Column("Stands before steps", share=2.4),
            Column("Rule", share=0.6),
            Column("Strength", share=0.8),
            Column("Reason", share=4.2),
            Column("Source", share=2.4),
        ),
        tuple(rows),
    )
    return Section("Why this order", tables=(table,) if rows else (), new_page=True)
