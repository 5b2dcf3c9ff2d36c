"""A plan written by hand: two clampings, steps, dependencies and a magazine, none of it computed."""

from __future__ import annotations

from example_part import example_part
from example_shop import example_shop
from example_steps import ARROWS, ROWS, TITLES

from sequencer.errors import Finding, Severity
from sequencer.magazine import MagazineTable, Pocket, ToolUse
from sequencer.operations import (
    BENCH,
    Action,
    Alternative,
    Fact,
    FittedClamping,
    Mode,
    Operation,
    OperationList,
    Reach,
    Rejection,
    Stage,
)
from sequencer.part.section import make_section
from sequencer.plan import Plan
from sequencer.precedence import Dependency, Relation, Strength
from sequencer.precedence.graph import DependencyGraph
from sequencer.sequencing import Change, Level, Sequence, Step

_CP = "common practice, no source"
_BROKEN = Dependency(
    Relation.BEFORE,
    "keyway/finish",
    "spur/finish",
    strength=Strength.SHOULD,
    rule="H1",
    penalty=4.0,
    reason="this shop slots before it skives",
    source="house rule",
)
_REJECTED = {
    "spur/finish": (
        Rejection("hobbing", "T41", "II", "module 7 mm of the hob is not the gear's 5 mm"),
        Rejection(
            "hobbing",
            "",
            "II",
            "needs 36.4 mm of run-out, has 22 mm against wheel",
            "widen spur_groove to 37 mm",
        ),
        Rejection(
            "end-mill milling",
            "T50",
            "II",
            "needs 412 min; flank class 7 is reached, but power skiving takes 11.6 min",
        ),
    ),
    "wheel/finish_lower": (
        Rejection(
            "hobbing",
            "T41",
            "II",
            "the right-hand hob needs 91.2 mm of gap on the left-hand half, has 80 mm",
            "use a left-hand hob",
        ),
        Rejection("power skiving", "T45", "", "module 5 mm of the cutter is not the gear's 7 mm"),
    ),
}


def _table(text: str, separator: str) -> list[list[str]]:
    rows = [[cell.strip() for cell in line.split(separator)] for line in text.strip().splitlines()]
    return [["" if cell == "-" else cell for cell in row] for row in rows]


def _facts(minutes: str, speed: str, rpm: str, feed: str) -> tuple[Fact, ...]:
    start = "shop file, starting values"
    facts = []
    if speed:
        facts.append(Fact("cutting speed", float(speed), "m/min", source=start, estimate=True))
    if rpm:
        facts.append(Fact("revolutions", float(rpm), "rpm", f"n = 1000 vc / (pi d) = {rpm} rpm", "derived"))
    if feed:
        facts.append(Fact("feed", float(feed), "mm/rev", source=start, estimate=True))
    return (*facts, Fact("time", float(minutes), "min", f"t = {minutes} min", "derived"))


def _operation(row: list[str], title: str) -> Operation:
    name, stage, action, method, tool, clamping, mode = row[:7]
    feature = "" if name.startswith("part/") else name.split("/")[0]
    ways = [
        Alternative(
            method,
            tool,
            clamping,
            Mode(mode),
            float(row[7]),
            _facts(*row[7:]),
            f"{method or title} works here",
        )
    ]
    if name == "spur/finish":
        ways.append(
            Alternative(
                "end-mill milling", "T50", "II", Mode.MILLING, 412.0, reason="slow, but the mill is there"
            )
        )
    return Operation(
        name,
        feature,
        Stage(stage),
        Action(action),
        title,
        tuple(ways),
        _REJECTED.get(name, ()),
        next((half for half in ("lower", "upper") if name.endswith(half)), ""),
        heavy=stage == "rough",
        opening=action in ("clamp", "indicate"),
    )


def _operations() -> tuple[Operation, ...]:
    titles = dict(_table(TITLES, ": "))
    return tuple(_operation(row, titles[row[0]]) for row in _table(ROWS, "|"))


def _dependencies() -> tuple[Dependency, ...]:
    made = []
    for rule, first, second, reason in _table(ARROWS, "|"):
        strength = Strength(rule.split()[1])
        made.append(
            Dependency(
                Relation.BEFORE,
                first,
                second,
                strength=strength,
                rule=rule.split()[0],
                reason=reason,
                source=_CP,
                penalty=2.0 if strength is Strength.SHOULD else 0.0,
            )
        )
    for clamping in ("I", "II"):
        for word in ("clamp", "indicate"):
            made.append(
                Dependency(
                    Relation.OPENS,
                    f"{clamping}/{word}",
                    clamping=clamping,
                    rule="R18",
                    reason="nothing is cut before the part is held and found",
                    source=_CP,
                )
            )
    made.append(
        Dependency(
            Relation.BEFORE,
            "part/receive",
            "I/clamp",
            rule="R45",
            source=_CP,
            reason="the blank is checked before it is clamped",
        )
    )
    made.append(
        Dependency(
            Relation.SAME_ZERO,
            "wheel/finish_lower",
            "wheel/finish_upper",
            rule="R9",
            source=_CP,
            reason="the apex lies where both halves say",
        )
    )
    return (*made, _BROKEN)


def _changes(before: Step | None, alternative: Alternative, opening: bool) -> tuple[Change, ...]:
    made = []
    last = before.alternative if before else None
    if last and last.clamping == "I" and alternative.clamping == "II":
        made.append(Change("re-clamping", 45.0, "I to II, turned over with the crane"))
    if alternative.tool and (last is None or last.tool != alternative.tool):
        minutes = 0.5 if alternative.tool in ("T41", "T42", "T45") else 0.25
        made.append(Change("tool change", minutes, f"to {alternative.tool}"))
    if last and alternative.mode is not Mode.REST and last.mode is not alternative.mode:
        made.append(Change("mode change", 0.333, f"{last.mode} to {alternative.mode}"))
    return tuple(made)


def _steps(operations: tuple[Operation, ...], dependencies: tuple[Dependency, ...]) -> tuple[Step, ...]:
    visits = {BENCH: 0, "I": 1, "II": 2}
    steps: list[Step] = []
    for number, operation in enumerate(operations, start=1):
        best = operation.alternatives[0]
        changes = _changes(steps[-1] if steps else None, best, operation.opening)
        start = steps[-1].end if steps else 0.0
        because = tuple(
            d for d in dependencies if d.second == operation.name and d.relation is Relation.BEFORE
        )
        if operation.name == "spur/finish":
            because = tuple(d for d in because if d is not _BROKEN)
        steps.append(Step(10 * number, operation, best, visits[best.clamping], start, changes, because))
    return tuple(steps)


def _clampings() -> tuple[FittedClamping, ...]:
    part, shop = example_part(), example_shop()
    reach = tuple(Reach(feature.name, True, "seen from above") for feature in part.features)
    return (
        FittedClamping(
            part.clampings[0],
            shop.clamping_means[0],
            reach,
            False,
            212.0,
            "jaw force 160 kN keeps a third at 212 rpm",
            871.4,
        ),
        FittedClamping(
            part.clampings[1],
            shop.clamping_means[1],
            reach,
            True,
            320.0,
            "table 320 rpm up to 1000 kg",
            842.0,
        ),
    )


def _magazine(steps: tuple[Step, ...]) -> MagazineTable:
    used: dict[str, list[Step]] = {}
    for step in steps:
        if step.alternative.tool:
            used.setdefault(step.alternative.tool, []).append(step)
    uses = tuple(
        ToolUse(
            tool,
            tuple(step.number for step in listed),
            sum(step.alternative.minutes for step in listed),
            2 if tool == "T01" else 1,
            2 if tool == "T01" else 1,
            f"{sum(s.alternative.minutes for s in listed) * 3:.1f} min for 3 pieces",
        )
        for tool, listed in used.items()
    )
    loaded = [
        ("T63", 0),
        ("T64", 0),
        *(
            (use.tool, sister)
            for use in uses
            for sister in range(use.loaded)
            if use.tool not in ("T63", "T64", "T57")
        ),
    ]
    pockets: list[Pocket] = []
    for tool, sister in loaded:
        pockets.append(Pocket(len(pockets) + 1, tool, sister, (), tool in ("T63", "T64")))
        if tool in ("T41", "T42", "T45"):
            pockets.append(Pocket(len(pockets) + 1, "", 0, (tool,), False))
    needed = len(pockets)
    while len(pockets) < 30:
        pockets.append(Pocket(len(pockets) + 1, "", 0, (), False))
    findings = (
        Finding(
            Severity.WARNING,
            "T42",
            "the shop owns 0, the plan needs 1",
            "lead time 60 d, 90 d left",
            "order it with the release of the plan",
            "magazine",
        ),
    )
    return MagazineTable(
        tuple(pockets), uses, needed, 30, ("T57",), findings, bound=needed, mass=127.0, imbalance=17.5
    )


def example_plan(units: str = "mm") -> Plan:
    """The plan.

    Parameters
    ----------
    units
        Unit of length on its sheets.
    """
    part, shop = example_part(units), example_shop()
    operations = _operations()
    dependencies = _dependencies()
    findings = (
        Finding(
            Severity.NOTE,
            "wheel",
            "cutting speed 75 m/min is a starting value",
            "",
            "give conditions in the part file",
            "method",
        ),
        Finding(
            Severity.ERROR,
            "keyway",
            "no slotting tool is left in the magazine",
            "1 pocket is missing",
            "load T57 by hand",
            "magazine",
        ),
    )
    listed = OperationList(part, shop, _clampings(), operations, findings)
    steps = _steps(operations, dependencies)
    levels = (
        Level("clampings", 2, 2, True),
        Level("tool changes", 22, 22, True),
        Level("mode changes", 8, 7, False),
        Level("minutes", steps[-1].end, 790.25, False),
    )
    sequence = Sequence(
        steps,
        "clampings, tool changes, mode changes, minutes",
        levels,
        False,
        "Clampings and tool changes are proven least; 8 mode changes are the best found, "
        "7 cannot be ruled out.",
        (_BROKEN,),
        ("waiting of the crane",),
    )
    return Plan(
        part,
        shop,
        make_section(part),
        listed,
        DependencyGraph(listed, dependencies),
        sequence,
        _magazine(steps),
    )
