"""Which question comes next, and the whole conversation."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sequencer.files.starter import asked
from sequencer.files.starter.draft import Answers
from sequencer.files.starter.question import Question
from sequencer.files.starter.text import part_text

__all__ = ["Answers", "answered", "interview", "next_question", "questions", "template", "write_part"]


def next_question(answers: Answers) -> Question | None:
    """Give the next question, or None when all are answered.

    Parameters
    ----------
    answers
        Answers so far, by the keys of their questions.
    """
    return next((question for question in asked.all_questions(answers) if question.key not in answers), None)


def answered(answers: Answers, written: str) -> Answers:
    """Answer the next question and give all answers so far.

    Parameters
    ----------
    answers
        Answers so far.
    written
        What was typed; empty for the default.

    Raises
    ------
    ValueError
        With a sentence when the answer cannot be taken, or when no question is open.
    """
    question = next_question(answers)
    if question is None:
        raise ValueError("All questions are answered.")
    return {**answers, question.key: question.read(written)}


def questions() -> tuple[Question, ...]:
    """Give the questions of a conversation in which every default is taken."""
    return tuple(_by_default())


def template() -> str:
    """Write the part file of a conversation in which every default is taken."""
    answers: Answers = {question.key: question.default for question in questions()}
    return write_part(answers)


def _by_default() -> Iterator[Question]:
    answers: Answers = {}
    while (question := next_question(answers)) is not None:
        answers = answered(answers, "")
        yield question


def interview(ask: Callable[[Question, str], str]) -> str:
    """Ask until all is answered and write the part file.

    Parameters
    ----------
    ask
        Shows a question and gives what was typed; its second argument is a sentence about the answer before,
        empty if that was taken.
    """
    answers: Answers = {}
    complaint = ""
    while (question := next_question(answers)) is not None:
        try:
            answers, complaint = answered(answers, ask(question, complaint)), ""
        except ValueError as error:
            complaint = str(error)
    return write_part(answers)


def write_part(answers: Answers) -> str:
    """Write a part file with a remark at each key.

    Parameters
    ----------
    answers
        Answers to all questions.

    Raises
    ------
    ValueError
        When a question is still open.
    """
    question = next_question(answers)
    if question is not None:
        raise ValueError(f"The question {question.key!r} is still open.")
    return part_text(answers)
