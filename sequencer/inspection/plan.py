"""Objects of the inspection plan, with the columns of a control plan."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.errors import Finding
from sequencer.operations import Fact
from sequencer.units import Micrometre


@dataclass(frozen=True)
class Traces:
    """Where teeth are measured.

    Parameters
    ----------
    standard
        Standard, year and class.
    teeth
        Number of teeth that are traced.
    numbers
        Which teeth, counted from the marked one.
    flanks
        Flanks that are traced.
    place
        Where on the tooth.
    evaluation
        Over what it is evaluated.
    """

    standard: str
    teeth: int
    numbers: tuple[int, ...]
    flanks: str
    place: str
    evaluation: str


@dataclass(frozen=True)
class Check:
    """One characteristic measured at one time.

    Parameters
    ----------
    number
        Number of the characteristic; the check before unclamping and the independent one share it.
    feature
        Feature that carries it.
    characteristic
        Product characteristic, such as "wheel: runout to bore".
    specification
        What the drawing says.
    special
        "close" where the ledger holds only statistically or not at all, "apex" or "teeth"; else empty.
    process
        Process characteristic that decides it, such as the indicated runout.
    machine
        Machine that makes it.
    made_by
        Operation that makes it.
    made_in
        Clamping that it is made in.
    step
        Number of the step that measures.
    operation
        Operation that measures.
    clamping
        Where it is measured.
    when
        Before unclamping, after soak, on return or on an independent instrument.
    correctable
        True if it can still be corrected then.
    technique
        What it is measured with.
    tool
        Tool of the shop; empty for instruments that are none.
    alignment
        Datums that the part is aligned to for it.
    temperature
        Difference of temperature at which it may be measured as a fact; None where it does not matter.
    sample
        How many places or teeth on a piece.
    frequency
        Which pieces.
    control
        How the result is kept.
    uncertainty
        Expanded uncertainty (k = 2).
    allowance
        Largest deviation that the drawing allows [um].
    accept
        Largest measured deviation that is accepted: the allowance less the uncertainty.
    reaction
        What follows if it is not accepted.
    traces
        Where teeth are measured; None without teeth.
    """

    number: int
    feature: str
    characteristic: str
    specification: str
    special: str
    process: str
    machine: str
    made_by: str
    made_in: str
    step: int
    operation: str
    clamping: str
    when: str
    correctable: bool
    technique: str
    tool: str
    alignment: tuple[str, ...]
    temperature: Fact | None
    sample: str
    frequency: str
    control: str
    uncertainty: Fact
    allowance: Micrometre
    accept: Fact
    reaction: str
    traces: Traces | None = None

    @property
    def reject_from(self) -> Micrometre:
        """Measured deviation above which the part is proven wrong [um]."""
        return self.allowance + self.uncertainty.value

    def decide(self, measured: Micrometre) -> str:
        """Decide on a measured deviation: "accept", "measure again" or "reject".

        Source: ISO 14253-1, from memory: conformity is proven inside the tolerance less the uncertainty,
        non-conformity outside the tolerance plus the uncertainty

        Parameters
        ----------
        measured
            Deviation to either side, or the width of the zone [um].
        """
        if abs(measured) <= self.accept.value:
            return "accept"
        return "reject" if abs(measured) > self.reject_from else "measure again"


@dataclass(frozen=True)
class StopPoint:
    """A point at which the work stops to measure while it can still be corrected.

    Parameters
    ----------
    before
        Number of the step before which it stops.
    operation
        That step's operation.
    clamping
        Where.
    reason
        Why it is the last chance, and what is looked at.
    checks
        Numbers of the characteristics that are looked at.
    """

    before: int
    operation: str
    clamping: str
    reason: str
    checks: tuple[int, ...]


@dataclass(frozen=True)
class InspectionPlan:
    """What is measured when.

    Parameters
    ----------
    checks
        Checks in the order of the route.
    stops
        Stop points in the order of the route.
    findings
        What cannot be proven, and what is measured too late.
    """

    checks: tuple[Check, ...]
    stops: tuple[StopPoint, ...]
    findings: tuple[Finding, ...]
