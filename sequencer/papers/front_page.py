"""The front page of a pack: what it is, what it comes to, what must be looked at first, and its contents."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import short_entries, stamp_of
from sequencer.papers.model import Entry, Section, Sheet
from sequencer.papers.summary import summary_lines

if TYPE_CHECKING:
    from sequencer.plan import Plan

#: What each sheet is for.
PURPOSE: Final = {
    "Route sheet": "what is done, in which order, how long it takes, and why",
    "Set-up sheets": "how the part is held, indicated and lifted; hang them at the machine",
    "Tool list": "what is loaded, where, how long it lasts",
    "Methods of the tooth systems": "which methods pass and why the others fail",
    "Gear data": "numbers of the teeth with formulas and sources",
    "Inspection plan": "what is measured when, and what follows",
    "Tolerance ledger": "how each tolerance is used up",
    "Datums, process dimensions, stock": "who makes each datum, and what each stage leaves",
    "Time": "first piece, following pieces, lot",
    "Make or buy, cost": "what is made here, what it costs, what is at risk",
    "Review": "the questions of a review, answered",
    "Findings and estimates": "what must be decided, and which numbers nobody gave",
    "Sources": "where rules and numbers come from",
    "Dependencies": "all steps with the rules between them",
}


def front_page(plan: Plan, sheets: tuple[Sheet, ...]) -> Sheet:
    """Make the front page of a pack.

    Parameters
    ----------
    plan
        The plan.
    sheets
        The sheets that follow, in order.
    """
    lines = summary_lines(plan)[1:]
    results = tuple(line for line in lines if not line.startswith(("error: ", "warning: ", "Breaks ")))
    first = tuple(line for line in lines if line.startswith(("error: ", "warning: ", "Breaks ")))
    sections = [
        Section(
            "Contents",
            contents=tuple(Entry(sheet.title, PURPOSE.get(sheet.title, "")) for sheet in sheets),
        ),
    ]
    if first:
        sections.append(Section("Look at this first", paragraphs=first))
    sections.append(Section("Result", paragraphs=results))
    sections.append(Section("", cautions=(LAST_WORD,)))
    return Sheet("Front page", stamp_of(plan), short_entries(plan), tuple(sections))
