"""Variants of part and shop, each planned from the start and laid side by side."""

from sequencer.studies.read import ReadStudy, read_study, study_from_options
from sequencer.studies.run import StudyResult, run_study
from sequencer.studies.study import Study, Variant, Vary
from sequencer.studies.table import csv_text, study_lines

__all__ = [
    "ReadStudy",
    "Study",
    "StudyResult",
    "Variant",
    "Vary",
    "csv_text",
    "read_study",
    "run_study",
    "study_from_options",
    "study_lines",
]
