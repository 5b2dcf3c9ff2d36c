"""Rules of the trade, which together give the dependencies between operations."""

from sequencer.precedence.dependency import Dependency, Relation, Strength

__all__ = ["Dependency", "Relation", "Strength"]
