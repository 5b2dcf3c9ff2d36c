"""A plan written by hand: two clampings, steps, dependencies and a magazine, none of it computed."""

from __future__ import annotations

from example_part import example_part
from example_shop import example_shop

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

_T, _M, _G, _R = Mode.TURNING, Mode.MILLING, Mode.GEAR, Mode.REST

#: Operation, stage, action, words, method, tool, clamping, mode, minutes, cutting speed, rpm, feed.
_ROWS: tuple[tuple[str, Stage, Action, str, str, str, str, Mode, float, float, float, float], ...] = (
    ("part/receive", Stage.PREPARE, Action.RECEIVE, "Receive, check stock and hardness", "", "", BENCH, _R, 20.0, 0, 0, 0),
    ("I/clamp", Stage.PREPARE, Action.CLAMP, "Clamp, lower side up", "", "", "I", _R, 35.0, 0, 0, 0),
    ("I/indicate", Stage.PREPARE, Action.INDICATE, "Indicate the blank", "probing", "T63", "I", _R, 15.0, 0, 0, 0),
    ("lower_face/rough", Stage.ROUGH, Action.TURN, "Rough turn the lower face", "turning", "T01", "I", _T, 9.4, 150, 92.3, 0.5),
    ("lower_face/finish", Stage.FINISH, Action.TURN, "Finish turn the lower face", "turning", "T02", "I", _T, 6.2, 200, 123.1, 0.2),
    ("rim/finish", Stage.FINISH, Action.TURN, "Finish turn the lower rim", "turning", "T02", "I", _T, 1.3, 200, 113.7, 0.2),
    ("lower_bolts/drill", Stage.FINISH, Action.DRILL, "Drill 8 holes 17.5", "drilling", "T15", "I", _M, 4.1, 80, 1455.0, 0.22),
    ("lower_bolts/tap", Stage.FINISH, Action.TAP, "Tap 8 threads M20", "tapping", "T26", "I", _M, 2.6, 12, 191.0, 2.5),
    ("II/clamp", Stage.PREPARE, Action.CLAMP, "Turn over, bolt down on risers", "", "", "II", _R, 35.0, 0, 0, 0),
    ("II/indicate", Stage.PREPARE, Action.INDICATE, "Indicate rim and lower face", "probing", "T63", "II", _R, 15.0, 0, 0, 0),
    ("wheel/blank_rough", Stage.ROUGH, Action.TURN, "Rough turn the tip cylinder of the double-helical gear", "turning", "T01", "II", _T, 18.7, 150, 71.8, 0.5),
    ("bore/rough", Stage.ROUGH, Action.TURN, "Rough bore", "boring", "T03", "II", _T, 11.3, 140, 278.0, 0.4),
    ("gap/rough", Stage.ROUGH, Action.GROOVE, "Rough the apex groove", "grooving", "T08", "II", _T, 14.9, 120, 58.7, 0.25),
    ("wheel/rough_lower", Stage.ROUGH, Action.CUT_TEETH, "Rough hob the lower half", "hobbing", "T42", "II", _G, 64.0, 60, 1.75, 3.0),
    ("wheel/rough_upper", Stage.ROUGH, Action.CUT_TEETH, "Rough hob the upper half", "hobbing", "T41", "II", _G, 64.0, 60, 1.75, 3.0),
    ("II/soak", Stage.PREPARE, Action.SOAK, "Let the part cool to the temperature of the shop", "", "", "II", _R, 60.0, 0, 0, 0),
    ("upper_face/finish", Stage.FINISH, Action.TURN, "Finish turn the upper face", "turning", "T02", "II", _T, 4.8, 200, 167.0, 0.2),
    ("wheel/blank_finish", Stage.FINISH, Action.TURN, "Finish turn the tip cylinder of the double-helical gear", "turning", "T02", "II", _T, 7.7, 200, 98.2, 0.2),
    ("spur_groove/finish", Stage.FINISH, Action.GROOVE, "Turn the run-out groove of the spur gear", "grooving", "T08", "II", _T, 5.5, 120, 108.5, 0.15),
    ("bore/finish", Stage.FINISH, Action.TURN, "Finish bore", "boring", "T03", "II", _T, 8.8, 180, 358.0, 0.15),
    ("wheel/finish_lower", Stage.FINISH, Action.CUT_TEETH, "Finish hob the lower half", "hobbing", "T42", "II", _G, 88.0, 75, 2.19, 2.0),
    ("wheel/finish_upper", Stage.FINISH, Action.CUT_TEETH, "Finish hob the upper half", "hobbing", "T41", "II", _G, 88.0, 75, 2.19, 2.0),
    ("wheel/apex_check", Stage.MEASURE, Action.APEX_CHECK, "Check the apex at four places", "probing", "T63", "II", _R, 6.0, 0, 0, 0),
    ("spur/finish", Stage.FINISH, Action.CUT_TEETH, "Skive the spur gear", "power skiving", "T45", "II", _G, 11.6, 110, 87.3, 0.35),
    ("keyway/finish", Stage.FINISH, Action.MILL, "Slot the keyway", "slotting", "T57", "II", _M, 13.1, 0, 0, 0),
    ("wheel/deburr", Stage.DEBURR, Action.DEBURR, "Chamfer the tooth ends of the double-helical gear", "chamfering", "T55", "II", _M, 16.4, 120, 3183.0, 0.1),
    ("II/wash", Stage.MEASURE, Action.WASH, "Wash the part", "washing", "T64", "II", _R, 4.0, 0, 0, 0),
    ("wheel/measure", Stage.MEASURE, Action.MEASURE, "Measure pitch, profile and helix of both halves", "probing", "T63", "II", _R, 24.0, 0, 0, 0),
    ("part/inspect", Stage.MEASURE, Action.INSPECT, "Gear check on an independent instrument", "", "", BENCH, _R, 90.0, 0, 0, 0),
)  # fmt: skip

_CP = "common practice, no source"
#: First, second, rule, strength, reason.
_ARROWS: tuple[tuple[str, str, str, Strength, str], ...] = (
    ("lower_face/rough", "lower_face/finish", "R12", Strength.SHOULD, "heat and forces of roughing stay out of the finish"),
    ("lower_face/finish", "lower_bolts/drill", "R21", Strength.SHOULD, "a drill starts true on a finished face"),
    ("lower_bolts/drill", "lower_bolts/tap", "R20", Strength.MUST, "a thread needs its core hole"),
    ("wheel/blank_rough", "gap/rough", "R12", Strength.SHOULD, "the groove is cut into the turned cylinder"),
    ("gap/rough", "wheel/rough_lower", "R6", Strength.MUST, "the hob runs out into the apex groove"),
    ("gap/rough", "wheel/rough_upper", "R6", Strength.MUST, "the hob runs out into the apex groove"),
    ("bore/rough", "bore/finish", "R12", Strength.SHOULD, "heat and forces of roughing stay out of the finish"),
    ("wheel/rough_lower", "II/soak", "R19", Strength.SHOULD, "the part is warm after hobbing"),
    ("wheel/rough_upper", "II/soak", "R19", Strength.SHOULD, "the part is warm after hobbing"),
    ("II/soak", "bore/finish", "R12", Strength.MUST, "a close bore is finished cold"),
    ("II/soak", "wheel/blank_finish", "R12", Strength.SHOULD, "a close cylinder is finished cold"),
    ("wheel/blank_finish", "wheel/finish_lower", "R1", Strength.MUST, "tooth depth refers to the tip cylinder"),
    ("wheel/blank_finish", "wheel/finish_upper", "R1", Strength.MUST, "tooth depth refers to the tip cylinder"),
    ("bore/finish", "wheel/finish_lower", "R2", Strength.MUST, "the bore is datum A of the teeth"),
    ("bore/finish", "wheel/finish_upper", "R2", Strength.MUST, "the bore is datum A of the teeth"),
    ("wheel/finish_lower", "wheel/finish_upper", "R10", Strength.SHOULD, "the lower half is finished first at the same temperature"),
    ("wheel/finish_lower", "wheel/apex_check", "R11", Strength.MUST, "the apex can only be seen when both halves are finished"),
    ("wheel/finish_upper", "wheel/apex_check", "R11", Strength.MUST, "the apex can only be seen when both halves are finished"),
    ("spur_groove/finish", "spur/finish", "R7", Strength.MUST, "the cutter runs out into the groove"),
    ("bore/finish", "spur/finish", "R2", Strength.MUST, "the bore is datum A of the teeth"),
    ("bore/finish", "keyway/finish", "R28", Strength.SHOULD, "a keyway interrupts the bore"),
    ("wheel/apex_check", "keyway/finish", "R27", Strength.MUST, "the keyway is timed to the teeth"),
    ("wheel/finish_upper", "wheel/deburr", "R33", Strength.MUST, "burrs stand on cut teeth"),
    ("wheel/deburr", "II/wash", "R36", Strength.MUST, "chips falsify the measurement"),
    ("II/wash", "wheel/measure", "R36", Strength.MUST, "chips falsify the measurement"),
    ("wheel/measure", "part/inspect", "R37", Strength.MUST, "the last check sees the part as it leaves"),
)  # fmt: skip
_BROKEN = Dependency(
    Relation.BEFORE, "keyway/finish", "spur/finish", strength=Strength.SHOULD, rule="H1", penalty=4.0,
    reason="this shop slots before it skives", source="house rule",
)  # fmt: skip
_REJECTED = {
    "spur/finish": (
        Rejection("hobbing", "T41", "II", "module 7 mm of the hob is not the gear's 5 mm"),
        Rejection("hobbing", "", "II", "needs 36.4 mm of run-out, has 22 mm against wheel", "widen spur_groove to 37 mm"),
        Rejection("end-mill milling", "T50", "II", "needs 412 min; flank class 7 is reached, but power skiving takes 11.6 min"),
    ),
    "wheel/finish_lower": (
        Rejection("hobbing", "T41", "II", "the right-hand hob needs 91.2 mm of gap on the left-hand half, has 80 mm", "use a left-hand hob"),
        Rejection("power skiving", "T45", "", "module 5 mm of the cutter is not the gear's 7 mm"),
    ),
}  # fmt: skip


def _facts(row: tuple[str, Stage, Action, str, str, str, str, Mode, float, float, float, float]) -> tuple[Fact, ...]:
    minutes, speed, rpm, feed = row[8:]
    facts = []
    if speed:
        facts.append(Fact("cutting speed", speed, "m/min", source="shop file, starting values", estimate=True))
    if rpm:
        formula = f"n = 1000 vc / (pi d) = {rpm} rpm"
        facts.append(Fact("revolutions", rpm, "rpm", formula, "derived"))
    if feed:
        facts.append(Fact("feed", feed, "mm/rev", source="shop file, starting values", estimate=True))
    return (*facts, Fact("time", minutes, "min", f"t = {minutes} min", "derived"))


def _operation(row: tuple[str, Stage, Action, str, str, str, str, Mode, float, float, float, float]) -> Operation:
    name, stage, action, title, method, tool, clamping, mode, minutes = row[:9]
    feature = "" if name.startswith("part/") else name.split("/")[0]
    half = next((half for half in ("lower", "upper") if name.endswith(half)), "")
    best = Alternative(method, tool, clamping, mode, minutes, _facts(row), f"{method or title} works here")
    others = ()
    if name == "spur/finish":
        others = (Alternative("end-mill milling", "T50", "II", _M, 412.0, reason="slow, but the mill is there"),)
    return Operation(
        name, feature, stage, action, title, (best, *others), _REJECTED.get(name, ()), half,
        heavy=stage is Stage.ROUGH, opening=action in (Action.CLAMP, Action.INDICATE),
    )  # fmt: skip


def _dependencies() -> tuple[Dependency, ...]:
    made = [
        Dependency(Relation.BEFORE, first, second, strength=strength, rule=rule, reason=reason, source=_CP,
                   penalty=2.0 if strength is Strength.SHOULD else 0.0)
        for first, second, rule, strength, reason in _ARROWS
    ]  # fmt: skip
    for clamping in ("I", "II"):
        for word in ("clamp", "indicate"):
            made.append(
                Dependency(Relation.OPENS, f"{clamping}/{word}", clamping=clamping, rule="R18",
                           reason="nothing is cut before the part is held and found", source=_CP)
            )  # fmt: skip
    made.append(
        Dependency(Relation.BEFORE, "part/receive", "I/clamp", rule="R45", source=_CP,
                   reason="the blank is checked before it is clamped")
    )  # fmt: skip
    made.append(
        Dependency(Relation.SAME_ZERO, "wheel/finish_lower", "wheel/finish_upper", rule="R9", source=_CP,
                   reason="the apex lies where both halves say")
    )  # fmt: skip
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
        because = tuple(d for d in dependencies if d.second == operation.name and d.relation is Relation.BEFORE)
        if operation.name == "spur/finish":
            because = tuple(d for d in because if d is not _BROKEN)
        steps.append(Step(10 * number, operation, best, visits[best.clamping], start, changes, because))
    return tuple(steps)


def _clampings() -> tuple[FittedClamping, ...]:
    part, shop = example_part(), example_shop()
    reach = tuple(Reach(feature.name, True, "seen from above") for feature in part.features)
    return (
        FittedClamping(part.clampings[0], shop.clamping_means[0], reach, False, 212.0,
                       "jaw force 160 kN keeps a third at 212 rpm", 871.4),
        FittedClamping(part.clampings[1], shop.clamping_means[1], reach, True, 320.0,
                       "table 320 rpm up to 1000 kg", 842.0),
    )  # fmt: skip


def _magazine(steps: tuple[Step, ...]) -> MagazineTable:
    used: dict[str, list[Step]] = {}
    for step in steps:
        if step.alternative.tool:
            used.setdefault(step.alternative.tool, []).append(step)
    uses = tuple(
        ToolUse(tool, tuple(step.number for step in listed), sum(step.alternative.minutes for step in listed),
                2 if tool == "T01" else 1, f"{sum(s.alternative.minutes for s in listed) * 3:.1f} min for 3 pieces")
        for tool, listed in used.items()
    )  # fmt: skip
    loaded = [("T63", 0), ("T64", 0), *((use.tool, sister) for use in uses for sister in range(use.needed)
                                        if use.tool not in ("T63", "T64", "T57"))]  # fmt: skip
    pockets: list[Pocket] = []
    for tool, sister in loaded:
        pockets.append(Pocket(len(pockets) + 1, tool, sister, (), tool in ("T63", "T64")))
        if tool in ("T41", "T42", "T45"):
            pockets.append(Pocket(len(pockets) + 1, "", 0, (tool,), False))
    needed = len(pockets)
    while len(pockets) < 30:
        pockets.append(Pocket(len(pockets) + 1, "", 0, (), False))
    findings = (
        Finding(Severity.WARNING, "T42", "the shop owns 0, the plan needs 1", "lead time 60 d, 90 d left",
                "order it with the release of the plan", "magazine"),
    )  # fmt: skip
    return MagazineTable(tuple(pockets), uses, needed, 30, ("T57",), findings)


def example_plan(units: str = "mm") -> Plan:
    """The plan.

    Parameters
    ----------
    units
        Unit of length on its sheets.
    """
    part, shop = example_part(units), example_shop()
    operations = tuple(_operation(row) for row in _ROWS)
    dependencies = _dependencies()
    findings = (
        Finding(Severity.NOTE, "wheel", "cutting speed 75 m/min is a starting value", "",
                "give conditions in the part file", "method"),
        Finding(Severity.ERROR, "keyway", "no slotting tool is left in the magazine", "1 pocket is missing",
                "load T57 by hand", "magazine"),
    )  # fmt: skip
    listed = OperationList(part, shop, _clampings(), operations, findings)
    steps = _steps(operations, dependencies)
    levels = (
        Level("clampings", 2, 2, True),
        Level("tool changes", 22, 22, True),
        Level("mode changes", 8, 7, False),
        Level("minutes", steps[-1].end, 790.25, False),
    )
    sequence = Sequence(
        steps, "clampings, tool changes, mode changes, minutes", levels, False,
        "Clampings and tool changes are proven least; 8 mode changes are the best found, 7 cannot be ruled out.",
        (_BROKEN,), ("waiting of the crane",),
    )  # fmt: skip
    return Plan(
        part, shop, make_section(part), listed, DependencyGraph(listed, dependencies), sequence, _magazine(steps)
    )
