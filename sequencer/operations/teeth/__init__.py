"""Teeth: every method on every cutter in every clamping; what passes, and why the rest fails."""

from sequencer.operations.teeth.operations import tooth_operations
from sequencer.operations.teeth.table import MethodRow, MethodTable, method_table

__all__ = ["MethodRow", "MethodTable", "method_table", "tooth_operations"]
