"""The inspection plan: what is measured when, with what, how it is decided, and what follows."""

from sequencer.inspection.make import make_inspection
from sequencer.inspection.plan import Check, InspectionPlan, StopPoint, Traces

__all__ = ["Check", "InspectionPlan", "StopPoint", "Traces", "make_inspection"]
