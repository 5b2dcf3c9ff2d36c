"""The compiled program gives what full enumeration and the interpreted search give."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.ordering.bound import SMALL_GROUPS
from sequencer.ordering.model import Contradiction, build_model
from sequencer.ordering.problem import LEXICOGRAPHIC, TOTAL_TIME, Alternative, Objective, Problem
from sequencer.ordering.scale import scale_of
from sequencer.ordering.search import Space
from sequencer.ordering.slots import settlements
from sequencer.ordering.solve import solve
from sequencer.ordering.tool_groups import NEVER

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
from gear_parts import gear_part
from random_problems import enumerate_all, random_problem, with_groups

OBJECTIVES = {"lexicographic": LEXICOGRAPHIC, "upper levels": LEXICOGRAPHIC[:3], "total time": TOTAL_TIME}


def _compiled_alone(
    problem: Problem, objective: Objective, width: int
) -> tuple[tuple[int, ...] | None, bool]:
    """Value of the best order by the compiled program alone, and whether its bound proves it."""
    from sequencer.ordering.arrays import fits
    from sequencer.ordering.layered import Layers

    scale = scale_of(problem, objective)
    limit, best, proven = scale.largest + 1, None, True
    for number, slots in enumerate(settlements(problem)):
        try:
            model = build_model(problem, scale, slots)
        except Contradiction:
            continue
        space = Space(model, with_magazine=problem.capacity >= 0, group_size=SMALL_GROUPS)
        if space.root >= NEVER:
            continue
        assert fits(model, space.moves, space.bound)
        outcome = Layers(space, number).run(width, limit, lambda: False, lambda _: None)
        if outcome.plan is not None:
            best, limit = outcome.plan, outcome.plan.cost
        proven = proven and outcome.bound >= limit
    return (scale.split(best.cost) if best else None), proven


@pytest.mark.parametrize("objective", OBJECTIVES.values(), ids=OBJECTIVES)
@given(seed=st.integers(0, 10**9), stress=st.sampled_from([0.1, 0.2, 0.35]))
@settings(deadline=None, derandomize=True, max_examples=150)
def test_it_agrees_with_full_enumeration(objective: Objective, seed: int, stress: float) -> None:
    problem = random_problem(seed, largest=5, stress=stress)
    assert _compiled_alone(problem, objective, 10**5) == (enumerate_all(problem, objective), True)


@pytest.mark.parametrize("travels", [True, False], ids=["travels", "no travel"])
@given(seed=st.integers(0, 10**9), stress=st.sampled_from([0.0, 0.1, 0.2]))
@settings(deadline=None, derandomize=True, max_examples=200)
def test_it_chooses_from_groups_as_full_enumeration_does(travels: bool, seed: int, stress: float) -> None:
    drawn = random_problem(seed, largest=6, stress=stress)
    problem = with_groups(drawn if travels else replace(drawn, positioning=(), home_positioning=()), seed)
    assert _compiled_alone(problem, TOTAL_TIME, 10**5) == (enumerate_all(problem, TOTAL_TIME), True)


@given(seed=st.integers(0, 10**9), stress=st.sampled_from([0.0, 0.1]))
@settings(deadline=None, derandomize=True, max_examples=150)
def test_operations_done_at_once_lose_nothing(seed: int, stress: float) -> None:
    """Without travel, an operation that fits the machine as it stands is done before any other is tried."""
    drawn = random_problem(seed, largest=5, stress=stress)
    problem = replace(drawn, positioning=(), home_positioning=())
    assert _compiled_alone(problem, TOTAL_TIME, 10**5) == (enumerate_all(problem, TOTAL_TIME), True)
    value = enumerate_all(problem, LEXICOGRAPHIC)
    result = solve(problem)
    assert (tuple(level.value for level in result.levels) if result.order else None) == value


def test_upper_levels_are_proven_on_their_own_when_time_stays_open() -> None:
    problem = gear_part(40, 0, 2, 0.6)
    result = solve(problem, state_limit=15_000)
    upper = solve(problem, objective=LEXICOGRAPHIC[:3])
    assert upper.proven
    assert [level.value for level in result.levels[:3]] == [level.value for level in upper.levels]
    assert [level.proven for level in result.levels[:3]] == [True] * 3
    assert result.levels[3].bound <= result.levels[3].value


@pytest.mark.parametrize("seed", range(3))
def test_narrow_layers_give_an_order_and_a_bound_below_it(seed: int) -> None:
    problem = gear_part(30, seed, 2)
    exact = solve(problem, objective=TOTAL_TIME)
    assert exact.proven
    value, _ = _compiled_alone(problem, TOTAL_TIME, 5)
    assert value is not None
    assert value >= (exact.levels[0].value,)
    assert _compiled_alone(problem, TOTAL_TIME, 10**5) == ((exact.levels[0].value,), True)


def test_more_operations_than_one_word_holds() -> None:
    """Seventy operations in two chains on two tools: the tool is changed once."""
    ways = tuple((Alternative(op % 2, 0, 0, 1),) for op in range(70))
    problem = Problem(ways, before=tuple((op, op + 2) for op in range(68)), tool_change=(3, 3))
    assert _compiled_alone(problem, LEXICOGRAPHIC, 1000) == ((0, 1, 0, 73), True)


def test_costs_too_large_for_the_compiled_program_are_left_to_the_other() -> None:
    from sequencer.ordering.arrays import fits

    ways = tuple((Alternative(0, 0, 0, 2**40),) for _ in range(40))
    problem = Problem(ways, clamping_change=((0,),), tool_change=(2**40,))
    model = build_model(problem, scale_of(problem, LEXICOGRAPHIC), tuple((op,) for op in range(40)))
    space = Space(model, with_magazine=False)
    assert not fits(model, space.moves, space.bound)
    assert solve(problem).levels[3].value == 40 * 2**40


def test_compiled_code_is_kept_where_writing_is_possible(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    import os
    import tempfile

    from sequencer.ordering import kernels

    def refused(folder: str, *_: object, **__: object) -> None:
        if "__pycache__" in folder:
            raise PermissionError(folder)
        Path(folder).mkdir(parents=True, exist_ok=True)

    monkeypatch.delenv("NUMBA_CACHE_DIR", raising=False)
    monkeypatch.setattr(tempfile, "gettempdir", lambda: str(tmp_path))
    monkeypatch.setattr(os, "makedirs", refused)
    assert kernels._cache_folder().startswith(str(tmp_path))
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path / "wanted"))
    assert kernels._cache_folder().startswith(str(tmp_path / "wanted"))
    monkeypatch.delenv("NUMBA_CACHE_DIR")
    monkeypatch.setattr(tempfile, "gettempdir", lambda: "/proc/__pycache__")
    assert kernels._cache_folder() == ""


def test_compiled_code_is_kept_by_the_content_of_all_sources(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """A changed kernel gives another folder, whichever module calls it; the same sources the same one."""
    from sequencer.ordering import kernels

    for name in kernels.SOURCES:
        (tmp_path / f"{name}.py").write_text(f"# {name}", encoding="utf-8")
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    monkeypatch.setattr(kernels, "__file__", str(tmp_path / "kernels.py"))
    first = kernels._cache_folder()
    assert kernels._cache_folder() == first
    (tmp_path / "kernels.py").write_text("# another", encoding="utf-8")
    assert kernels._cache_folder() != first


def test_all_modules_with_compiled_functions_count_for_the_folder() -> None:
    from sequencer.ordering import kernels

    folder = Path(kernels.__file__).parent
    compiled = {file.stem for file in folder.glob("*.py") if "\n@compiled" in file.read_text("utf-8")}
    assert compiled == set(kernels.SOURCES)


def test_a_search_does_not_wait_for_the_compilation_when_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    """The compilation goes on beside; the next search waits for the same one."""
    from sequencer.ordering import compiling

    monkeypatch.setattr(compiling, "_COMMAND", "import sys; sys.stdin.read()")
    monkeypatch.setattr(compiling.subprocess, "DEVNULL", compiling.subprocess.PIPE)
    monkeypatch.setattr(compiling, "_running", {})
    assert not compiling.compile_beside("chain", lambda: True, lambda: None)
    beside = compiling._running["chain"]
    told: list[bool] = []

    def tell() -> None:
        told.append(True)
        beside.communicate()

    assert compiling.compile_beside("chain", lambda: False, tell)
    assert told == [True]
    assert beside.returncode == 0
    assert compiling._running == {}


def test_a_small_problem_compiles_all_that_the_search_needs() -> None:
    from sequencer.ordering.compiling import compile_here, is_compiled
    from sequencer.ordering.expansion import expand

    compile_here("layers")
    known = len(expand.signatures)  # type: ignore[attr-defined]
    assert _compiled_alone(gear_part(20, 0, 3), LEXICOGRAPHIC, 1000)[1]
    assert len(expand.signatures) == known == 1  # type: ignore[attr-defined]
    assert is_compiled("layers")
