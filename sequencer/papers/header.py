"""Header lines that several sheets share."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sequencer.papers.model import Entry, Stamp
from sequencer.pictures.rounding import quantity_words
from sequencer.pictures.wording import blank_words

if TYPE_CHECKING:
    from sequencer.part import Part
    from sequencer.plan import Plan

MINUTES_A_DAY: Final = 1440.0


def stamp_of(plan: Plan) -> Stamp:
    """Give what stands on every page; the date is the planner's, never the clock's.

    Parameters
    ----------
    plan
        The plan.
    """
    return part_stamp(plan.part)


def part_stamp(part: Part) -> Stamp:
    """Give what stands on every page about a part.

    Parameters
    ----------
    part
        The part.
    """
    date = part.order_date.isoformat() if part.order_date else ""
    return Stamp(part.name, part.drawing, part.revision, date)


def masses(plan: Plan) -> tuple[Entry, Entry]:
    """Give the mass of blank and finished part; a weighed blank as written, a computed one as estimate.

    Parameters
    ----------
    plan
        The plan.
    """
    density = next((m.density for m in plan.shop.materials if m.name == plan.part.material), None)
    weighed = plan.part.blank.mass
    if density is None:
        return (
            Entry("Mass in", weighed.text if weighed is not None else "not known"),
            Entry("Mass out", "not known"),
        )
    mass_in = (
        Entry("Mass in", weighed.text)
        if weighed is not None
        else Entry("Mass in", quantity_words(plan.section.stock_mass(density), "kg"), estimate=True)
    )
    return mass_in, Entry("Mass out", quantity_words(plan.section.mass(density), "kg"), estimate=True)


def part_entries(plan: Plan) -> tuple[Entry, ...]:
    """Give the header of the part: what the drawing and the order say.

    Parameters
    ----------
    plan
        The plan.
    """
    part, shop = plan.part, plan.shop
    lot = f"{part.lot} pieces" if part.lot > 1 else "1 piece"
    entries = [
        Entry("Part", part.name),
        Entry("Drawing", part.drawing),
        Entry("Revision", part.revision),
        Entry("Lot", f"{lot}, {part.per_year} a year" if part.per_year else lot),
        Entry("Material", part.material),
        Entry("Condition", part.condition),
        Entry("Blank", blank_words(part.blank)),
        *masses(plan),
        Entry("Heat treatment", part.heat_treatment.kind if part.heat_treatment else ""),
        Entry("Shop", shop.name),
        Entry("Machine", shop.machine.name),
        Entry("Author", part.author),
        Entry("Date", part.order_date.isoformat() if part.order_date else ""),
        Entry("Due", part.due.isoformat() if part.due else ""),
    ]
    return tuple(entry for entry in entries if entry.words)


def short_entries(plan: Plan) -> tuple[Entry, ...]:
    """Give the header of the sheets that go with the route sheet.

    Parameters
    ----------
    plan
        The plan.
    """
    names = ("Part", "Drawing", "Revision", "Lot", "Material", "Shop", "Machine")
    return tuple(entry for entry in part_entries(plan) if entry.name in names)


def days_away(plan: Plan) -> float:
    """Give the days that the part is away from the shop, all steps one after the other [d].

    Parameters
    ----------
    plan
        The plan.
    """
    return plan.sequence.time_away / MINUTES_A_DAY
