"""Clampings of a part on a shop: given or proposed, with means, mass, table speed and reach."""

from __future__ import annotations

from sequencer.operations.fitting import Fitted, fit
from sequencer.operations.proposal import note_of, propose_clampings
from sequencer.part import Clamping, Part
from sequencer.part.section import Section
from sequencer.shop import Shop


def fit_clampings(part: Part, shop: Shop, section: Section, proposed: tuple[Clamping, ...] = ()) -> Fitted:
    """Fit the clampings of a part to the means of a shop; propose some where the planner gives none.

    Parameters
    ----------
    part, shop, section
        Part, shop and half-section.
    proposed
        Clampings that were found otherwise; proposed here if left out.

    Returns
    -------
    clampings, findings
        Clampings that something can hold, in file order; findings for those that nothing holds, for limits
        of the table and for a proposal.
    """
    if part.clampings:
        return fit(part, shop, section, part.clampings, proposed=False)
    if proposed:
        clampings, note = proposed, note_of(proposed)
    else:
        clampings, note = propose_clampings(part, shop, section)
    fitted, findings = fit(part, shop, section, clampings, proposed=True)
    return fitted, (note, *findings)
