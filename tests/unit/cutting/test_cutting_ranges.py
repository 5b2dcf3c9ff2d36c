"""No formula of cutting ever answers with an infinity, a not-a-number or an arithmetic error."""

from __future__ import annotations

import importlib
import inspect
import itertools
import math

import pytest

from sequencer.errors import OutOfRange

MODULES = (
    "chains",
    "end_milling",
    "forces",
    "form_milling",
    "hobbing",
    "holding",
    "life",
    "mass",
    "reclamping",
    "roughness",
    "skiving",
    "speeds",
    "thermal",
    "times",
)
PLAIN = (
    "float",
    "Mm",
    "Deg",
    "Kg",
    "Minutes",
    "Newton",
    "NewtonMetre",
    "Kilowatt",
    "Rpm",
    "MetrePerMinute",
    "Micrometre",
)
STRANGE = (0.0, -1.0, math.nan, math.inf, -math.inf, 1e-12, 1e9)


def formulas():
    """Every public function whose parameters are numbers and flags alone."""
    for name in MODULES:
        module = importlib.import_module(f"sequencer.cutting.{name}")
        for attribute, function in sorted(vars(module).items()):
            if (
                inspect.isfunction(function)
                and function.__module__.startswith(module.__name__)
                and attribute[0] != "_"
            ):
                kinds = [p.annotation for p in inspect.signature(function).parameters.values()]
                if all(kind in (*PLAIN, "int", "bool") for kind in kinds):
                    yield pytest.param(function, kinds, id=f"{name}.{attribute}")


def answered(function, arguments):
    try:
        return None, function(*arguments)
    except OutOfRange as refusal:
        return refusal, None


def numbers(answer):
    if isinstance(answer, int | float):
        return [answer]
    if isinstance(answer, tuple):
        return list(answer)
    return [
        value
        for value in vars(answer).values()
        for value in (value if isinstance(value, tuple) else (value,))
    ]


@pytest.mark.parametrize(("function", "kinds"), list(formulas()))
def test_strange_numbers_give_a_finite_answer_or_are_refused(function, kinds):
    """One or two arguments at a time are strange; the others sensible."""
    sensible = {"int": (3, 40), "bool": (True, False)}
    base = [sensible.get(kind, (2.0, 21.0)) for kind in kinds]
    strange = [(0, -2, 10**6) if kind == "int" else (True,) if kind == "bool" else STRANGE for kind in kinds]
    for start in (0, 1):
        usual = [values[start] for values in base]
        for i, j in itertools.combinations_with_replacement(range(len(kinds)), 2):
            for a, b in itertools.product(strange[i], strange[j]):
                arguments = list(usual)
                arguments[i], arguments[j] = a, b
                refused, answer = answered(function, arguments)
                if refused is None:
                    assert all(math.isfinite(value) for value in numbers(answer)), arguments
                else:
                    assert refused.limit, arguments
                    assert refused.remedy, arguments


def test_there_are_formulas_to_try():
    assert len(list(formulas())) > 80


@pytest.mark.parametrize("name", [*MODULES, "run_out", "cutter_setting", "cutter_bodies", "iso286"])
def test_every_function_names_its_source_on_the_second_line(name):
    module = importlib.import_module(f"sequencer.cutting.{name}")
    for attribute, function in vars(module).items():
        if (
            inspect.isfunction(function)
            and function.__module__.startswith(module.__name__)
            and attribute[0] != "_"
        ):
            lines = inspect.getdoc(function).splitlines()
            assert lines[1] == "", attribute
            assert lines[2].startswith("Source: "), attribute
