"""Set-up sheets: one for each clamping visit, with its picture, and the storyboard of all of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.papers.header import short_entries, stamp_of
from sequencer.papers.localise import sheet_units
from sequencer.papers.model import Amount, Cell, Column, Entry, Figure, Row, Section, Sheet, Table
from sequencer.pictures.keys import feature_key, step_key
from sequencer.pictures.rounding import in_units, quantity_words

if TYPE_CHECKING:
    from sequencer.plan import Plan
    from sequencer.setups import Grip, Note, SetUp


def setup_sheets(plan: Plan, pictures: dict[str, str]) -> Sheet:
    """Make the set-up sheets of a plan.

    Parameters
    ----------
    plan
        The plan.
    pictures
        SVG by name: "storyboard", and "visit 1" for the first clamping visit.
    """
    story = Figure(
        "Storyboard",
        pictures["storyboard"],
        "All clamping visits side by side: what holds the part, what is cut away, what is finished.",
    )
    sections = [Section("Storyboard", figures=(story,))]
    for set_up in plan.set_ups:
        sections += _visit(plan, set_up, pictures[f"visit {set_up.visit}"])
    return Sheet("Set-up sheets", stamp_of(plan), short_entries(plan), tuple(sections))


def _visit(plan: Plan, set_up: SetUp, picture: str) -> list[Section]:
    """Two pages: picture, cautions and surfaces; then what is indicated and checked, holding, steps."""
    title = f"Clamping {set_up.name}, visit {set_up.visit} of {len(plan.set_ups)}"
    figure = Figure(
        title,
        picture,
        f"Half-section of the part in clamping {set_up.name}; finished here: {', '.join(set_up.finished)}.",
    )
    return [
        Section(
            title,
            entries=_entries(plan, set_up),
            cautions=(*set_up.lifting.cautions, *set_up.cautions),
            tables=(_surfaces(set_up),),
            figures=(figure,),
            new_page=True,
            beside=True,
        ),
        Section(
            f"Clamping {set_up.name}: indicate, check, hold",
            tables=(_targets(set_up), _checks(set_up), _grips(set_up), _machine(set_up)),
            new_page=True,
        ),
        Section(f"Clamping {set_up.name}: steps", tables=(_steps(plan, set_up), _hidden(set_up))),
    ]


def _entries(plan: Plan, set_up: SetUp) -> tuple[Entry, ...]:
    fitted = set_up.clamping
    clamping, means, zero = fitted.clamping, fitted.means, set_up.zero
    units = sheet_units(plan)

    def length(millimetres: float) -> str:
        return quantity_words(*in_units(millimetres, "mm", units))

    entries = (
        Entry("Means", f"{means.name}: {clamping.hold}", estimate=fitted.proposed),
        Entry("Up", f"{clamping.up} side of the drawing"),
        Entry("Force, roughing", str(means.force)),
        Entry("Force, finishing", str(means.finishing_force or means.force)),
        Entry("Riser", length(set_up.riser) if set_up.riser > 0 else "none"),
        Entry("Free height below", length(set_up.free_height)),
        Entry("Zero of the axis", zero.axis),
        Entry("Zero of Z", zero.height),
        Entry("Zero of C", zero.angle),
        Entry("Mass in, out", _masses(set_up), estimate=True),
        Entry("Centre of gravity above the table", length(float(round(set_up.before.centre))), estimate=True),
        Entry("Lifting", _lifting(set_up)),
        Entry("Table speed cap", quantity_words(set_up.speed_cap, "rpm")),
        Entry("Run-up to that speed", f"{set_up.run_up:.1f} s"),
    )
    return tuple(entry for entry in entries if entry.words)


def _masses(set_up: SetUp) -> str:
    return f"{quantity_words(set_up.before.mass, 'kg')}, {quantity_words(set_up.after.mass, 'kg')}"


def _lifting(set_up: SetUp) -> str:
    lifting = set_up.lifting
    points = "; ".join(f"{point.name}: {point.reason}" for point in lifting.points)
    words = [lifting.mass_class, "turned over before" if lifting.turned_over else "", points]
    return "; ".join(word for word in words if word)


def _surfaces(set_up: SetUp) -> Table:
    roles: tuple[tuple[str, tuple[Note, ...]], ...] = (
        ("held", set_up.held),
        ("located on", set_up.located),
        ("covered", set_up.covered),
    )
    rows = [
        Row((role, note.name, note.reason), keys=(feature_key(note.name),))
        for role, notes in roles
        for note in notes
    ]
    return Table(
        "Held, located, covered",
        (Column("Surface is", share=1.4), Column("Feature", share=1.4, bold=True), Column("How", share=5.0)),
        tuple(rows),
    )


def _targets(set_up: SetUp) -> Table:
    rows = [Row((target.name, target.what, target.limit, None, target.reason)) for target in set_up.targets]
    return Table(
        "Indicate before the first cut",
        (
            Column("Where", share=1.5, bold=True),
            Column("What", share=2.6),
            Column("At most", "um", number=True, share=0.8),
            Column("Found", "um", number=True, share=0.8),
            Column("Why this limit", share=4.0),
        ),
        tuple(rows),
    )


def _checks(set_up: SetUp) -> Table:
    rows = [Row((place, words, None)) for place, words in enumerate(set_up.checks, start=1)]
    return Table(
        "First checks, in this order",
        (Column("No.", number=True, share=0.4), Column("Check", share=6.4), Column("Done by", share=1.0)),
        tuple(rows),
    )


def _grips(set_up: SetUp) -> Table:
    def row(name: str, grip: Grip) -> Row:
        cells: tuple[Cell, ...] = (
            name,
            grip.at_rest / 1000,
            grip.rpm,
            grip.at_speed / 1000,
            grip.torque_needed,
            grip.torque_held,
            "holds" if grip.holds else "does not hold",
            grip.heaviest or None,
        )
        return Row(cells, strong=not grip.holds)

    return Table(
        "Holding against the heaviest cut",
        (
            Column("Force for", share=1.1),
            Column("At rest", "kN", number=True, share=0.8),
            Column("At", "rpm", number=True, share=0.8),
            Column("Left", "kN", number=True, share=0.8),
            Column("Cut asks", "N m", number=True, share=0.9),
            Column("Grip holds", "N m", number=True, share=0.9),
            Column("Answer", share=1.0),
            Column("Heaviest cut", share=2.0),
        ),
        (row("roughing", set_up.rough), row("finishing", set_up.finish)),
        note="Grip: force with centrifugal share and safety factors taken off, times friction and radius.",
    )


def _machine(set_up: SetUp) -> Table:
    rows = [
        Row(
            (
                use.name,
                Amount(use.value, use.unit),
                Amount(use.limit, use.unit) if use.limit > 0 else "not given",
                use.unit,
                use.formula or None,
            )
        )
        for use in set_up.table
    ]
    return Table(
        "Room on the machine",
        (
            Column("What", share=1.6),
            Column("Needed", number=True, share=1.0),
            Column("Limit", number=True, share=1.0),
            Column("Unit", share=0.8),
            Column("Formula with its numbers", share=4.6),
        ),
        tuple(rows),
    )


def _steps(plan: Plan, set_up: SetUp) -> Table:
    steps = [step for step in plan.sequence.steps if step.visit == set_up.visit]
    tools = plan.shop.tool_by_name
    rows = [
        Row(
            (
                step.number,
                step.operation.title,
                step.alternative.tool or None,
                tools[step.alternative.tool].title if step.alternative.tool in tools else None,
                step.minutes,
            ),
            keys=(step_key(step.number),),
        )
        for step in steps
    ]
    return Table(
        "Steps",
        (
            Column("Step", number=True, share=0.6, bold=True),
            Column("Operation", share=4.0),
            Column("Tool", share=0.8),
            Column("Name of the tool", share=3.2),
            Column("Time", "min", number=True, share=0.8),
        ),
        tuple(rows),
    )


def _hidden(set_up: SetUp) -> Table:
    notes = [(note, "no") for note in set_up.hidden] + [(note, "yes") for note in set_up.reached]
    rows = [Row((note.name, answer, note.reason), keys=(feature_key(note.name),)) for note, answer in notes]
    return Table(
        "What a tool gets at here",
        (Column("Feature", share=1.6), Column("Reached", share=0.8), Column("Why", share=5.2)),
        tuple(rows),
    )
