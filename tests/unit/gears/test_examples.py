"""The worked examples in the docstrings of the tooth formulas."""

from __future__ import annotations

import doctest
import pkgutil
from importlib import import_module

import sequencer.gears


def test_docstring_examples_are_right() -> None:
    tried = 0
    for module in pkgutil.iter_modules(sequencer.gears.__path__, "sequencer.gears."):
        result = doctest.testmod(import_module(module.name))
        assert result.failed == 0, module.name
        tried += result.attempted
    assert tried >= 2
