"""The magazine: which tools the plan needs, in which pockets, whether they fit, and what helps if not."""

from sequencer.magazine.fewest import Fewest, fewest_pockets
from sequencer.magazine.layout import Layout, loaded_tools, make_layout
from sequencer.magazine.make import make_magazine, with_remedies
from sequencer.magazine.other_tools import other_tools, tool_places
from sequencer.magazine.room import Loaded, pockets_apart
from sequencer.magazine.table import MagazineTable, ManualStop, Pocket, Remedy, ToolUse

__all__ = [
    "Fewest",
    "Layout",
    "Loaded",
    "MagazineTable",
    "ManualStop",
    "Pocket",
    "Remedy",
    "ToolUse",
    "fewest_pockets",
    "loaded_tools",
    "make_layout",
    "make_magazine",
    "other_tools",
    "pockets_apart",
    "tool_places",
    "with_remedies",
]
