"""All checks of a part beyond single values: names, and whether the part can exist."""

from __future__ import annotations

from sequencer.part.checks.checked import Checked
from sequencer.part.checks.drawing import drawing_faults
from sequencer.part.checks.edges import edge_faults
from sequencer.part.checks.grooves import groove_faults
from sequencer.part.checks.holes import hole_faults
from sequencer.part.checks.meetings import meeting_faults
from sequencer.part.checks.milled import milled_faults
from sequencer.part.checks.order import order_faults
from sequencer.part.checks.teeth import tooth_faults
from sequencer.part.checks.turned import turned_faults
from sequencer.part.fault import Fault
from sequencer.part.names import check_names
from sequencer.part.part import Part
from sequencer.part.section import make_section

__all__ = ["Fault", "check_names", "check_references"]

_CHECKS = (
    turned_faults,
    edge_faults,
    groove_faults,
    tooth_faults,
    hole_faults,
    milled_faults,
    meeting_faults,
    drawing_faults,
    order_faults,
)


def check_references(part: Part) -> tuple[Fault, ...]:
    """Check names and geometry of a part; all faults at once, each with its path in the document.

    Source: derived

    Parameters
    ----------
    part
        The part.
    """
    faults = list(check_names(part.model_dump(mode="json", by_alias=True)))
    if len(part.by_name) < len(part.features):
        return tuple(faults)
    checked = Checked(part, make_section(part))
    for check in _CHECKS:
        faults += check(checked)
    return tuple(dict.fromkeys(faults))
