"""The starter: a few questions, and a first part file that explains itself."""

from sequencer.files.starter.interview import (
    Answers,
    answered,
    interview,
    next_question,
    questions,
    template,
    write_part,
)
from sequencer.files.starter.question import Question
from sequencer.files.writing import refuse_existing

__all__ = [
    "Answers",
    "Question",
    "answered",
    "interview",
    "next_question",
    "questions",
    "refuse_existing",
    "template",
    "write_part",
]
