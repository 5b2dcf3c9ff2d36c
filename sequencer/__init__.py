"""Plans how a heavy gear part is made complete in few clampings on a vertical turn-mill."""

__version__ = "0.1.0"
