"""Several parts and one magazine: the order of a week, what stays loaded, what is exchanged, pallets."""

from sequencer.rotation.make import make_week
from sequencer.rotation.pallets import LotTime, lot_time, lot_times
from sequencer.rotation.week import Loading, Week, WeekPart, unit_words

__all__ = ["Loading", "LotTime", "Week", "WeekPart", "lot_time", "lot_times", "make_week", "unit_words"]
