"""Plans how a heavy gear part is made complete in few clampings on a vertical turn-mill.

The names below are the interface for scripts; each is imported when it is first used, so that the command
line starts quickly.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sequencer.errors import BadFile, Finding, NoPlan, SequencerError
    from sequencer.files import read_part, read_part_and_shop, read_shop
    from sequencer.papers.write import write_papers
    from sequencer.part import Part
    from sequencer.plan import Plan, make_plan
    from sequencer.sequencing import explain_pair
    from sequencer.shop import Shop

__version__ = "0.1.0"

_HOMES = {
    "BadFile": "sequencer.errors",
    "Finding": "sequencer.errors",
    "NoPlan": "sequencer.errors",
    "Part": "sequencer.part",
    "Plan": "sequencer.plan",
    "SequencerError": "sequencer.errors",
    "Shop": "sequencer.shop",
    "explain_pair": "sequencer.sequencing",
    "make_plan": "sequencer.plan",
    "read_part": "sequencer.files",
    "read_part_and_shop": "sequencer.files",
    "read_shop": "sequencer.files",
    "write_papers": "sequencer.papers.write",
}

__all__ = [
    "BadFile",
    "Finding",
    "NoPlan",
    "Part",
    "Plan",
    "SequencerError",
    "Shop",
    "explain_pair",
    "make_plan",
    "read_part",
    "read_part_and_shop",
    "read_shop",
    "write_papers",
]


def __getattr__(name: str) -> Any:
    """Import a name of the interface when it is first used."""
    if name not in _HOMES:
        msg = f"module 'sequencer' has no attribute {name!r}"
        raise AttributeError(msg)
    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    """List the interface."""
    return sorted([*__all__, "__version__"])
