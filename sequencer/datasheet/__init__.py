"""Data of one tooth system as a drawing and an inspector need it, each number with its formula and source."""

from sequencer.datasheet.make import data_sheet, part_data_sheet
from sequencer.datasheet.sheet import DataSheet, Section, Statement
from sequencer.datasheet.wanted import Toothed, Wanted

__all__ = ["DataSheet", "Section", "Statement", "Toothed", "Wanted", "data_sheet", "part_data_sheet"]
