"""Teeth: every method on every cutter in every clamping; what passes, and why the rest fails."""
