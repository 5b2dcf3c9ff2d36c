"""Invented gear parts as ordering problems: sizes and shapes as on a planner's desk, no real part.

Times in 0.01 min. Common practice, no source: two or three clampings, a change of clamping some 30 to 60 min,
a tool change 0.3 to 1.5 min, a mode change 0.3 min, travel 0.02 to 0.3 min.

    python tests/benchmarks/gear_parts.py --seconds 10 --json gear_parts.json

compares the engine with a plain constraint-programming model on such parts and on the shipped parts repeated
to the same sizes; run by hand, it passes or fails nothing. Both get the same problem: operations that need a
tool, with before, same clamping and penalties.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import count, islice

from published import Row, measured, options, show

from sequencer.ordering.problem import LEXICOGRAPHIC, TOTAL_TIME, Alternative, Objective, Problem

TURNING, MILLING, GEARING = 0, 1, 2


@dataclass
class _Draft:
    """A part being drawn up."""

    random: random.Random
    clampings: int
    operations: list[tuple[Alternative, ...]] = field(default_factory=list)
    before: list[tuple[int, int]] = field(default_factory=list)
    same_clamping: list[tuple[int, int]] = field(default_factory=list)
    same_zero: list[tuple[int, int]] = field(default_factory=list)
    re_references: list[int] = field(default_factory=list)
    immediately_after: list[tuple[int, int]] = field(default_factory=list)
    soft_before: list[tuple[int, int, int]] = field(default_factory=list)
    tools: list[int] = field(default_factory=list)
    pool: dict[str, list[int]] = field(default_factory=dict)
    stage: list[tuple[int, int]] = field(default_factory=list)
    before_teeth: list[int] = field(default_factory=list)
    places: int = 0

    def tool(self, family: str, spread: int, change: int) -> int:
        """Take a tool of a family that holds at most `spread` different ones."""
        owned = self.pool.setdefault(family, [])
        if len(owned) < spread and (not owned or self.random.random() < 0.5):
            self.tools.append(change)
            owned.append(len(self.tools) - 1)
            return owned[-1]
        return self.random.choice(owned)

    def add(
        self, tools: list[int], clampings: list[int], mode: int, minutes: int, place: int, *after: int
    ) -> int:
        """Add an operation with each tool in each clamping; later tools are slower."""
        ways = [
            Alternative(tool, clamping, mode, int(minutes * (1 + 0.15 * number)), place)
            for clamping in clampings
            for number, tool in enumerate(dict.fromkeys(tools))
        ]
        self.operations.append(tuple(ways))
        op = len(self.operations) - 1
        level = max((self.stage[earlier][1] for earlier in after), default=-1) + 1
        self.stage.append((clampings[0], level))
        self.before.extend((earlier, op) for earlier in after)
        return op


def gear_part(size: int, seed: int = 0, clampings: int = 2, layered: float = 0.3) -> Problem:
    """Draw a gear part of about `size` operations.

    Parameters
    ----------
    size
        Operations wanted; the part stops growing when it has them.
    seed
        Chooses the part.
    clampings
        Number of ways to hold it.
    layered
        Part of the pairs of an early and a late stage in one clamping that are put in order.
    """
    draft = _Draft(random.Random(f"{size} {seed} {clampings}"), clampings)
    rnd = draft.random
    faces = _blank(draft)
    teeth: list[int] = []
    while len(draft.operations) < size:
        clamping = rnd.randrange(clampings)
        either = [clamping] if rnd.random() < 0.5 else sorted({clamping, rnd.randrange(clampings)})
        grow = rnd.choice([_gear, _gear, _holes, _holes, _bore, _groove, _keyway])
        grow(draft, either, faces[clamping], teeth)
    _order_of_stages(draft, teeth, layered)
    return _close(draft)


def _blank(draft: _Draft) -> list[tuple[int, int]]:
    """Indicate, face and turn each side; the first side carries the datum of the others."""
    rough, finish = draft.tool("turn rough", 2, 40), draft.tool("turn finish", 2, 40)
    sides: list[tuple[int, int]] = []
    for clamping in range(draft.clampings):
        datum = [sides[0][1]] if sides else []
        place = draft.places
        draft.places += 2
        indicate = draft.add([-1], [clamping], -1, 500, place, *datum)
        draft.re_references.append(indicate)
        roughed = draft.add([rough], [clamping], TURNING, 3000, place, indicate)
        outside = draft.add([rough], [clamping], TURNING, 4000, place + 1, indicate)
        face = draft.add([finish], [clamping], TURNING, 1200, place, roughed)
        draft.add([finish], [clamping], TURNING, 1500, place + 1, outside, roughed)
        sides.append((indicate, face))
    return sides


def _gear(draft: _Draft, clampings: list[int], face: tuple[int, int], teeth: list[int]) -> None:
    rnd, place = draft.random, draft.places
    draft.places += 1
    hob = [draft.tool("hob", 4, 150)]
    if rnd.random() < 0.4:
        hob.append(draft.tool("skive", 3, 120))
    blank = draft.add([draft.tool("turn finish", 2, 40)], clampings, TURNING, 900, place, face[1])
    rough = draft.add(hob, clampings, GEARING, rnd.randrange(3000, 20000), place, blank)
    edges = draft.add([draft.tool("chamfer", 2, 50)], clampings, MILLING, 800, place, rough)
    finish = draft.add(hob, clampings, GEARING, rnd.randrange(3000, 12000), place, rough)
    if rnd.random() < 0.7:
        draft.before.append((edges, finish))
    draft.soft_before.append((edges, finish, 300))
    draft.same_clamping.append((rough, finish))
    if rnd.random() < 0.6:
        measure = draft.add([draft.tool("probe", 1, 30)], clampings, MILLING, 400, place, finish)
        if rnd.random() < 0.5:
            draft.same_zero.append((finish, measure))
    draft.before.extend((earlier, finish) for earlier in draft.before_teeth)
    draft.before_teeth.clear()
    teeth.extend((rough, finish))


def _holes(draft: _Draft, clampings: list[int], face: tuple[int, int], teeth: list[int]) -> None:
    rnd, place = draft.random, draft.places
    draft.places += 1
    spots = [draft.tool("spot", 1, 30), draft.tool("drill", 6, 35)]
    spot = draft.add(spots, clampings, MILLING, rnd.randrange(100, 400), place, face[1])
    drill = draft.add(
        [draft.tool("drill", 6, 35)], clampings, MILLING, rnd.randrange(300, 2000), place, face[1], spot
    )
    if rnd.random() < 0.6:
        taps = [draft.tool("tap", 5, 35), draft.tool("thread mill", 2, 35)]
        draft.add(taps, clampings, MILLING, rnd.randrange(300, 900), place, drill)
    if rnd.random() < 0.3:
        draft.before_teeth.append(drill)


def _bore(draft: _Draft, clampings: list[int], face: tuple[int, int], teeth: list[int]) -> None:
    place = draft.places
    draft.places += 1
    rough = draft.add([draft.tool("bar rough", 2, 60)], clampings, TURNING, 2500, place, face[0])
    finish = draft.add([draft.tool("bar finish", 2, 60)], clampings, TURNING, 1500, place, rough, face[1])
    if draft.random.random() < 0.4:
        probe = draft.add([draft.tool("probe", 1, 30)], clampings, MILLING, 300, place, finish)
        draft.immediately_after.append((finish, probe))
    if draft.random.random() < 0.4:
        draft.same_clamping.append((face[1], finish))


def _groove(draft: _Draft, clampings: list[int], face: tuple[int, int], teeth: list[int]) -> None:
    place = draft.places
    draft.places += 1
    blade = draft.tool("groove", 3, 40)
    rough = draft.add([blade], clampings, TURNING, 1200, place, face[0])
    draft.add([blade, draft.tool("groove", 3, 40)], clampings, TURNING, 600, place, rough, face[1])
    if draft.random.random() < 0.5:
        draft.before_teeth.append(rough)


def _keyway(draft: _Draft, clampings: list[int], face: tuple[int, int], teeth: list[int]) -> None:
    place = draft.places
    draft.places += 1
    mills = [draft.tool("end mill", 4, 35) for _ in range(3)]
    rough = draft.add(mills, clampings, MILLING, 900, place, face[1])
    draft.add(mills[1:], clampings, MILLING, 500, place, rough)
    if teeth and draft.random.random() < 0.3:
        draft.before.append((teeth[-1], rough))


def _order_of_stages(draft: _Draft, teeth: list[int], layered: float) -> None:
    """Put some roughing before some finishing; arrows follow the numbering, so no loop can arise."""
    rnd = draft.random
    for earlier, (clamping, stage) in enumerate(draft.stage):
        for later in range(earlier + 1, len(draft.stage)):
            same_side = draft.stage[later][0] == clamping and draft.stage[later][1] > stage
            if (same_side and rnd.random() < layered) or (later in teeth and rnd.random() < 0.08):
                draft.before.append((earlier, later))


def _close(draft: _Draft) -> Problem:
    rnd, count = draft.random, draft.clampings
    travel = [(rnd.randrange(200), rnd.randrange(200)) for _ in range(draft.places)]
    positioning = tuple(
        tuple(
            0 if a == b else 2 + int(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5) // 10 for b in travel
        )
        for a in travel
    )
    return Problem(
        operations=tuple(draft.operations),
        before=tuple(dict.fromkeys(draft.before)),
        clamping_change=tuple(
            tuple(0 if a == b else 4500 + 500 * abs(a - b) for b in range(count)) for a in range(count)
        ),
        tool_change=tuple(draft.tools),
        mode_change=tuple(tuple(0 if a == b else 30 for b in range(3)) for a in range(3)),
        positioning=positioning,
        home_positioning=tuple(5 + (x + y) // 20 for x, y in travel),
        immediately_after=tuple(draft.immediately_after),
        same_clamping=tuple(draft.same_clamping),
        same_zero=tuple(draft.same_zero),
        re_references=tuple(draft.re_references),
        soft_before=tuple(dict.fromkeys(draft.soft_before)),
    )


def first_operations(problem: Problem, count: int) -> Problem:
    """Cut a part down to its first operations, with the constraints among them.

    Parameters
    ----------
    problem
        The part.
    count
        Operations that stay.
    """
    pairs = ("before", "immediately_after", "same_clamping", "same_zero", "soft_before")
    kept = {
        name: tuple(entry for entry in getattr(problem, name) if max(entry[:2]) < count) for name in pairs
    }
    stays = tuple(op for op in problem.re_references if op < count)
    return replace(problem, operations=problem.operations[:count], re_references=stays, **kept)


OBJECTIVES = {"lexicographic": LEXICOGRAPHIC, "total time": TOTAL_TIME}

COLUMNS = (
    "operations", "part", "objective", "solver", "values", "first open level", "bound",
    "gap %", "proven", "seconds", "processor", "megabytes",
)  # fmt: skip


def _row(objective: Objective, values: tuple[int, ...], bounds: tuple[int, ...], *, proven: bool) -> Row:
    row: Row = {"values": " ".join(map(str, values)), "proven": proven}
    level = next((at for at, (one, low) in enumerate(zip(values, bounds, strict=False)) if low < one), -1)
    if level >= 0:
        gap = 100 * (values[level] - bounds[level]) / values[level]
        row |= {
            "first open level": objective[level].name,
            "bound": bounds[level],
            "gap %": round(gap, 2),
        }
    elif not proven:
        row |= {"first open level": objective[len(values)].name, "fault": "no order found"}
    return row


def by_engine(problem: Problem, objective: Objective, seconds: float) -> Row:
    """Solve with the engine.

    Parameters
    ----------
    problem, objective
        What is solved.
    seconds
        Time limit [s].
    """
    from sequencer.ordering.solve import solve

    result = solve(problem, objective=objective, seconds=seconds)
    values = tuple(level.value for level in result.levels) if result.order else ()
    bounds = tuple(level.bound for level in result.levels)
    return _row(objective, values, bounds, proven=result.proven)


def by_circuit(problem: Problem, objective: Objective, seconds: float) -> Row:
    """Solve with the plain constraint-programming model.

    Parameters
    ----------
    problem, objective
        What is solved.
    seconds
        Time limit [s].
    """
    from circuit import solved

    answer = solved(problem, objective, seconds)
    return _row(objective, answer.values, answer.bounds, proven=answer.proven)


def drawn_parts(size: int, seeds: int) -> Iterator[tuple[str, Problem]]:
    """Draw invented parts; those whose constraints contradict each other are left out.

    Parameters
    ----------
    size
        Operations that need a tool.
    seeds
        Number of parts.
    """
    from circuit import without_extras

    from sequencer.ordering.explain import is_possible

    parts = (
        (f"invented {seed}", without_extras(gear_part(size + size // 4 + 8, seed, 2 + seed % 2, 1.0), size))
        for seed in count()
    )
    yield from islice(((name, part) for name, part in parts if is_possible(part) is not False), seeds)


def comparison(kinds: list[str], sizes: list[int], seeds: int, seconds: float, only: str) -> Iterator[Row]:
    """Solve each part by both; shipped parts also with all their rules, which the plain model does not know.

    Parameters
    ----------
    kinds
        "invented", "shipped" or both.
    sizes
        Numbers of operations.
    seeds
        Invented parts of each size.
    seconds
        Time limit of each run [s].
    only
        Part of the name of the solvers wanted.
    """
    from circuit import without_extras
    from shipped_parts import repeated, shipped_names

    solvers = {"engine": by_engine, "circuit": by_circuit}
    for size in sizes:
        runs: list[tuple[str, Problem, str]] = []
        if "invented" in kinds:
            runs += [(name, part, each) for name, part in drawn_parts(size, seeds) for each in solvers]
        for name in shipped_names() if "shipped" in kinds else ():
            whole = repeated(name, size)
            plain = without_extras(_in_one_place(replace(whole, **dict.fromkeys(RULES, ()))), whole.size)
            runs += [(name, plain, each) for each in solvers] + [(f"{name}, all rules", whole, "engine")]
        for name, part, solver in runs:
            for objective, levels in OBJECTIVES.items():
                if only in solver:
                    row: Row = {"operations": part.size, "part": name, "objective": objective}
                    row["solver"] = solver
                    yield row | measured(partial(solvers[solver], part, levels, seconds), seconds)


#: Rules of the shipped parts that the plain model does not know.
RULES = (
    "opens",
    "closes",
    "opens_for",
    "closes_for",
    "not_between",
    "forbidden_neighbours",
    "minimum_wait",
)


def _in_one_place(problem: Problem) -> Problem:
    """The same, since the plain model wants a place for each operation: no travel."""
    ways = tuple(tuple(replace(way, place=0) for way in of_op) for of_op in problem.operations)
    return replace(problem, operations=ways, positioning=((0,),), home_positioning=(0,))


def main() -> None:
    """Print the table."""
    parser = options("Gear parts: the engine beside a plain constraint-programming model")
    parser.add_argument("--sizes", type=int, nargs="+", default=[20, 40, 80, 150], help="operations")
    parser.add_argument("--seeds", type=int, default=1, help="invented parts of each size")
    parser.add_argument("--kinds", nargs="+", default=["invented", "shipped"], help="which parts")
    given = parser.parse_args()
    rows = show(
        comparison(given.kinds, given.sizes, given.seeds, given.seconds, given.only), COLUMNS, given.json
    )
    for solver in ("engine", "circuit"):
        own = [row for row in rows if row["solver"] == solver]
        print(f"{solver}: {sum(bool(row.get('proven')) for row in own)} of {len(own)} proven")


if __name__ == "__main__":
    main()
