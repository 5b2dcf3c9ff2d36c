"""The review page: the questions of a design and process review, answered from the plan."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sequencer.papers import review_answers as answers
from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import short_entries, stamp_of
from sequencer.papers.model import Column, Row, Section, Sheet, Table
from sequencer.papers.review_answers import Question
from sequencer.pictures.keys import step_key

if TYPE_CHECKING:
    from sequencer.plan import Plan

#: Questions of a review with the sheet that shows the numbers; common practice, no source.
QUESTIONS: Final = (
    Question("Why is this before that, must or should, and what if swapped?", "Route sheet", answers.order),
    Question("Another method for the teeth: time, cost, lead time?", "Make or buy, cost", answers.ways),
    Question(
        "Which tolerances cross clampings, and how much is used up?", "Tolerance ledger", answers.crossing
    ),
    Question(
        "Who made each datum, and is it still true?", "Datums, process dimensions, stock", answers.datums
    ),
    Question("Can a clamping be avoided?", "Route sheet", answers.clampings),
    Question("Does each cutter run out freely?", "Methods of the tooth systems", answers.run_out),
    Question(
        "Does the table allow the speed with this mass and these jaws?", "Set-up sheets", answers.speeds
    ),
    Question("Which tools are bought, and when do they arrive?", "Tool list", answers.bought),
    Question("Does everything fit the magazine, sisters and probes included?", "Tool list", answers.magazine),
    Question("What if a cutter fails in the teeth?", "Make or buy, cost", answers.failing),
    Question("Where can we still stop, measure and correct?", "Inspection plan", answers.stops),
    Question(
        "What distorts at release, what at heat treatment?",
        "Datums, process dimensions, stock",
        answers.distortion,
    ),
    Question("How are apex and phase proven?", "Inspection plan", answers.phase),
    Question("What leaves the shop, and what is checked on return?", "Route sheet", answers.leaving),
    Question("Where is the heat, and how long do we wait?", "Time", answers.heat),
    Question("Which single step scraps the most value?", "Make or buy, cost", answers.riskiest),
    Question("Which numbers are estimates?", "Findings and estimates", answers.estimates),
    Question("What changed since the last revision?", "Route sheet", answers.changed),
    Question("Who lifts it, how, how often?", "Set-up sheets", answers.lifting),
    Question("Who accepts the teeth, on which instrument?", "Inspection plan", answers.accepting),
)


def review_sheet(plan: Plan) -> Sheet:
    """Make the review page of a plan.

    Parameters
    ----------
    plan
        The plan.
    """
    rows = []
    for place, question in enumerate(QUESTIONS, start=1):
        answer = question.answer(plan)
        cells = (
            place,
            question.words,
            answer.words,
            question.sheet,
            ", ".join(map(str, answer.steps)) or None,
        )
        rows.append(Row(cells, keys=tuple(step_key(number) for number in answer.steps)))
    table = Table(
        "Questions and answers",
        (
            Column("No.", number=True, share=0.4),
            Column("Question", share=2.2, bold=True),
            Column("Answer", share=6.6),
            Column("Sheet", share=1.4),
            Column("Steps", share=1.4),
        ),
        tuple(rows),
    )
    sections = (Section("", tables=(table,)), Section("", cautions=(LAST_WORD,)))
    return Sheet("Review", stamp_of(plan), short_entries(plan), sections)
