"""Gears, splines and bevel gears for the tests of the data sheets."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
