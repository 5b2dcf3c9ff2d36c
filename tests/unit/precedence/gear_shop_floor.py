"""Small parts, a small shop and hand-made operations for the tests of rules."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from sequencer.operations import (
    BENCH,
    Action,
    Alternative,
    FittedClamping,
    Mode,
    Operation,
    OperationList,
    Reach,
    Stage,
)
from sequencer.part import Part
from sequencer.precedence.arrows import arrows_of, possible_clampings
from sequencer.precedence.context import RuleContext
from sequencer.precedence.dependency import Dependency, Relation, Strength
from sequencer.precedence.graph import DependencyGraph
from sequencer.precedence.make import make_graph
from sequencer.precedence.register import RULE_BY_ID
from sequencer.precedence.rule import RuleResult, apply_rule
from sequencer.shop import Shop

CLASS_7 = {"year": 2013, "class": 7}

_TIMES = (
    *("chip_to_chip", "heavy_tool_change", "manual_tool_change", "mode_change", "positioning", "index"),
    *("synchronise", "clamp", "indicate", "turn_over", "release", "probe", "measure_tooth_system"),
    *("apex_check", "wash", "soak", "receive", "independent_check"),
)

_SHOP: dict[str, Any] = {
    "name": "Test shop",
    "machine": {
        "name": "Turn-mill",
        "table": {
            "load": "5 t",
            "swing": "1500 mm",
            "height": "1000 mm",
            "power": "50 kW",
            "torque": "8000 N m",
            "speed": "400 rpm",
            "synchronous_speed": "300 rpm",
        },
        "spindle": {
            "speed": "8000 rpm",
            "power": "30 kW",
            "torque": "400 N m",
            "tilt_from": "-30 deg",
            "tilt_to": "120 deg",
            "reach_inside": "400 mm",
            "head_diameter": "300 mm",
        },
        "times": dict.fromkeys(_TIMES, "1 min") | {"rapid": "20 m/min"},
        "capability": {
            "linear": "6 um",
            "angular": "6 arcsec",
            "spindle_runout": "3 um",
            "reclamping": "10 um",
            "reclamping_tilt": "12 um",
        },
        "gear_methods": ["hobbing", "power skiving", "disc milling", "end-mill milling"],
    },
    "magazine": {
        "pockets": 60,
        "pitch": "130 mm",
        "diameter_full": "125 mm",
        "diameter_free": "250 mm",
        "length": "500 mm",
        "tool_mass": "25 kg",
        "heavy_from": "12 kg",
        "tilting_moment": "50 N m",
        "total_mass": "600 kg",
    },
    "clamping_means": [
        {
            "name": "soft_jaws",
            "hold": "outside jaws",
            "diameter_from": "100 mm",
            "diameter_to": "1400 mm",
            "count": 6,
            "soft": True,
            "force": "100 kN",
            "mass": "150 kg",
        },
        {
            "name": "hard_jaws",
            "hold": "outside jaws",
            "diameter_from": "100 mm",
            "diameter_to": "1400 mm",
            "count": 3,
            "force": "100 kN",
            "mass": "150 kg",
        },
        {
            "name": "inside_jaws",
            "hold": "inside jaws",
            "diameter_from": "50 mm",
            "diameter_to": "1400 mm",
            "count": 6,
            "soft": True,
            "force": "100 kN",
            "mass": "150 kg",
        },
        {
            "name": "two_bolts",
            "hold": "bolts",
            "diameter_from": "50 mm",
            "diameter_to": "1400 mm",
            "count": 2,
            "force": "100 kN",
            "mass": "150 kg",
        },
        {
            "name": "bolts",
            "hold": "bolts",
            "diameter_from": "50 mm",
            "diameter_to": "1400 mm",
            "count": 8,
            "soft": True,
            "force": "100 kN",
            "mass": "150 kg",
        },
    ],
    "tools": [
        {
            "kind": "end mill",
            "name": "T1",
            "title": "Any tool",
            "body_diameter": "50 mm",
            "functional_length": "150 mm",
            "overall_length": "200 mm",
            "mass": "5 kg",
            "diameter": "20 mm",
            "teeth": 4,
            "reach": "60 mm",
        },
        {
            "kind": "end mill",
            "name": "T2",
            "title": "Heavy tool",
            "body_diameter": "50 mm",
            "functional_length": "150 mm",
            "overall_length": "200 mm",
            "mass": "30 kg",
            "diameter": "20 mm",
            "teeth": 4,
            "reach": "60 mm",
        },
        {
            "kind": "end mill",
            "name": "T3",
            "title": "Loaded by hand",
            "body_diameter": "50 mm",
            "functional_length": "150 mm",
            "overall_length": "200 mm",
            "mass": "5 kg",
            "diameter": "20 mm",
            "teeth": 4,
            "reach": "60 mm",
            "by_hand": True,
        },
    ],
    "materials": [
        {"name": "C45+N", "group": "steel", "kc11": "1700 MPa", "mc": 0.25},
        {"name": "42CrMo4+QT", "group": "quenched and tempered steel", "kc11": "2000 MPa", "mc": 0.25},
        {"name": "18CrNiMo7-6", "group": "case-hardening steel", "kc11": "1900 MPa", "mc": 0.25},
    ],
    "conditions": [
        {
            "method": "turning",
            "tool_material": "carbide",
            "group": "steel",
            "stage": "rough",
            "cutting_speed": "200 m/min",
            "feed": "0.4 mm",
        }
    ],
    "rates": {"machine_hour": 120, "setup_hour": 80, "inspection_hour": 70},
}


def shop(**keys: Any) -> Shop:
    """Make the test shop with some of its keys replaced."""
    return Shop.model_validate(_SHOP | keys)


def house(*changes: Mapping[str, Any], own: Iterable[Mapping[str, Any]] = ()) -> Shop:
    """Make the test shop with house rules."""
    signed = {"owner": "R. Vogel", "date": "2027-02-01", "reason": "proven on this machine"}
    return shop(
        rules={
            "changes": [signed | dict(each) for each in changes],
            "own": [signed | dict(each) for each in own],
        }
    )


def face(name: str, side: str, z: float, **keys: Any) -> dict[str, Any]:
    """Describe a face."""
    return {"name": name, "kind": "face", "side": side, "z": f"{z} mm"} | keys


def zone(name: str, kind: str, z_from: float, z_to: float, diameter: float, **keys: Any) -> dict[str, Any]:
    """Describe a cylinder or groove."""
    ends = {"z_from": f"{z_from} mm", "z_to": f"{z_to} mm", "diameter": f"{diameter} mm"}
    return {"name": name, "kind": kind} | ends | keys


def gear(name: str, z_from: float, z_to: float, teeth: int, module: float, **keys: Any) -> dict[str, Any]:
    """Describe an external spur gear of class 7."""
    ends = {"z_from": f"{z_from} mm", "z_to": f"{z_to} mm", "flank_class": CLASS_7}
    size = {"teeth": teeth, "module": f"{module} mm"}
    return {"name": name, "kind": "external_gear"} | ends | size | keys


def internal(name: str, z_from: float, z_to: float, teeth: int, module: float, **keys: Any) -> dict[str, Any]:
    """Describe an internal spur gear of class 7."""
    return gear(name, z_from, z_to, teeth, module) | {"kind": "internal_gear"} | keys


def double_helical(name: str, **keys: Any) -> dict[str, Any]:
    """Describe a double-helical gear from 0 to 280 mm with a gap from 100 to 180 mm."""
    return {
        "name": name,
        "kind": "double_helical_gear",
        "teeth": 80,
        "module": "6 mm",
        "helix_angle": "20 deg",
        "lower": {"z_from": "0 mm", "z_to": "100 mm", "hand": "left"},
        "upper": {"z_from": "180 mm", "z_to": "280 mm", "hand": "right"},
        "apex_tolerance": "0.05 mm",
        "flank_class": CLASS_7,
    } | keys


def holes(name: str, on: str, circle: float, diameter: float, **keys: Any) -> dict[str, Any]:
    """Describe a circle of eight axial holes."""
    return {
        "name": name,
        "kind": "bolt_circle",
        "on": on,
        "circle_diameter": f"{circle} mm",
        "count": 8,
        "diameter": f"{diameter} mm",
    } | keys


def clamping(name: str, up: str, **keys: Any) -> dict[str, Any]:
    """Describe a clamping in outside jaws on the raw blank."""
    raw = {"hold": "outside jaws", "on": "blank", "rests_on": "blank", "z_from": "60 mm", "z_to": "100 mm"}
    return {"name": name, "up": up} | raw | keys


UNDERSIDE_FIRST = (
    clamping("I", "lower"),
    clamping(
        "II", "upper", hold="face plate", on="lower_face", rests_on="lower_face", z_from=None, z_to=None
    ),
)


def part(*features: Mapping[str, Any], **keys: Any) -> Part:
    """Make a part between two faces 100 mm apart, with two clampings: the underside is made first."""
    tops = [float(f[key].split()[0]) for f in features for key in ("z", "z_to") if key in f]
    usual: dict[str, Any] = {
        "name": "Test part",
        "drawing": "T-1",
        "material": "C45+N",
        "blank": {
            "form": "bar",
            "diameter": "700 mm",
            "bore": "40 mm",
            "z_from": "-3 mm",
            "z_to": f"{max(tops, default=100.0) + 3} mm",
        },
        "features": [dict(feature) for feature in features],
        "clampings": [dict(each) for each in UNDERSIDE_FIRST],
    }
    return Part.model_validate(usual | keys)


def wheel(*more: Mapping[str, Any], **keys: Any) -> Part:
    """Make a plain wheel: two faces, a datum bore and a spur gear from face to face."""
    usual = {"datums": {"A": "bore", "B": "lower_face"}} | keys
    teeth = usual.pop("teeth", {})
    return part(
        face("lower_face", "lower", 0, geometric=[{"characteristic": "flatness", "value": "0.01 mm"}]),
        face("upper_face", "upper", 100),
        zone("bore", "bore", 0, 100, 90, tolerance="H7"),
        gear("teeth", 0, 100, 80, 6, datums=["A", "B"]) | teeth,
        *more,
        **usual,
    )


# -- operations ------------------------------------------------------------------------------------


def op(
    name: str,
    action: Action = Action.TURN,
    stage: Stage = Stage.FINISH,
    where: str = "II",
    *,
    minutes: float = 5.0,
    tool: str = "T1",
    method: str = "turning",
    **keys: Any,
) -> Operation:
    """Make an operation; `where` lists its clampings, separated by spaces."""
    mode = Mode.TURNING if action is Action.TURN else Mode.MILLING
    alternatives = tuple(Alternative(method, tool, each, mode, minutes) for each in where.split())
    feature, word = name.split("/")
    owner = "" if feature == "part" else feature
    return Operation(name, owner, stage, action, word, alternatives, **keys)


_STEPS = {
    "clamp": Action.CLAMP,
    "indicate": Action.INDICATE,
    "release": Action.RELEASE,
    "soak": Action.SOAK,
    "wash": Action.WASH,
    "probe": Action.PROBE,
}


def step(name: str, *, opening: bool = False) -> Operation:
    """Make a step of a clamping itself, such as "II/soak"."""
    clamping_name, word = name.split("/")
    return op(name, _STEPS[word], Stage.PREPARE, clamping_name, tool="", opening=opening)


def usual_operations(made: Part, places: Mapping[str, str] | None = None, steps: str = "") -> list[Operation]:
    """Make the usual operations of all features of a part.

    `places` gives the clampings of a feature or of one operation; everything else is done in II, the lower
    face in I. `steps` lists more steps of clampings, such as "II/soak II/release II/wash".
    """
    found = [op("part/receive", Action.RECEIVE, Stage.PREPARE, BENCH, tool="")]
    for each in made.clampings:
        found += [step(f"{each.name}/{word}", opening=True) for word in ("clamp", "indicate")]
    found += [step(name) for name in steps.split()]
    for feature in made.features:
        usual = "I" if feature.kind == "face" and feature.side == "lower" else "II"
        for made_op in _of_feature(made, feature, usual):
            where = (places or {}).get(made_op.name, (places or {}).get(feature.name, ""))
            found.append(moved(made_op, where) if where else made_op)
    if made.heat_treatment is not None:
        found.append(op("part/heat_treat", Action.HEAT_TREAT, Stage.PREPARE, BENCH, tool=""))
    found.append(op("part/inspect", Action.INSPECT, Stage.MEASURE, BENCH, tool=""))
    return found


def moved(operation: Operation, where: str) -> Operation:
    """Give an operation other clampings."""
    first = operation.alternatives[0]
    return replace(operation, alternatives=tuple(replace(first, clamping=name) for name in where.split()))


def _of_feature(made: Part, feature: Any, where: str) -> list[Operation]:
    name, kind = feature.name, feature.kind
    if kind in ("external_gear", "internal_gear", "spline", "bevel_gear", "double_helical_gear"):
        return _of_gear(made, feature, where)
    if kind == "bolt_circle":
        return _of_holes(feature, where)
    if kind in ("keyway", "flat", "pocket"):
        return [op(f"{name}/finish", Action.MILL, Stage.FINISH, where)]
    if kind == "marking":
        return [op(f"{name}/engrave", Action.ENGRAVE, Stage.FINISH, where)]
    if kind == "thread":
        return [op(f"{name}/finish", Action.THREAD, Stage.FINISH, where)]
    if kind in ("chamfer", "radius"):
        return [op(f"{name}/finish", Action.TURN, Stage.FINISH, where)]
    action = Action.GROOVE if "groove" in kind else Action.TURN
    rough = op(f"{name}/rough", action, Stage.ROUGH, where, heavy=True)
    if made.case_hardened and name in made.datums.values():
        semi = op(f"{name}/semi", action, Stage.SEMI, where, hard=False)
        return [replace(rough, hard=False), semi, op(f"{name}/hard", action, Stage.HARD, where, hard=True)]
    return [rough, op(f"{name}/finish", action, Stage.FINISH, where)]


def _of_gear(made: Part, gear_feature: Any, where: str) -> list[Operation]:
    name = gear_feature.name
    found = []
    if gear_feature.on is None:
        found.append(op(f"{name}/blank_rough", Action.TURN, Stage.ROUGH, where, heavy=True))
        found.append(op(f"{name}/blank_finish", Action.TURN, Stage.FINISH, where))
    soft = False if made.case_hardened else None
    if gear_feature.kind == "double_helical_gear":
        for word, stage in (("rough", Stage.ROUGH), ("finish", Stage.FINISH)):
            for half in ("lower", "upper"):
                heavy = stage is Stage.ROUGH
                cut = op(
                    f"{name}/{word}_{half}", Action.CUT_TEETH, stage, where, half=half, heavy=heavy, hard=soft
                )
                found.append(cut)
        found.append(op(f"{name}/apex_check", Action.APEX_CHECK, Stage.MEASURE, where))
    else:
        found.append(op(f"{name}/rough", Action.CUT_TEETH, Stage.ROUGH, where, heavy=True, hard=soft))
        found.append(op(f"{name}/finish", Action.CUT_TEETH, Stage.FINISH, where, hard=soft))
    found.append(op(f"{name}/deburr", Action.DEBURR, Stage.DEBURR, where, hard=soft))
    if made.case_hardened:
        found.append(op(f"{name}/grind", Action.SEND_OUT, Stage.HARD, BENCH, tool="", hard=True))
    check = BENCH if made.case_hardened else where
    found.append(op(f"{name}/measure", Action.MEASURE, Stage.MEASURE, check))
    return found


def _of_holes(feature: Any, where: str) -> list[Operation]:
    name = feature.name
    found = [op(f"{name}/drill", Action.DRILL, Stage.FINISH, where)]
    if feature.counterbore is not None:
        found.append(op(f"{name}/counterbore", Action.COUNTERBORE, Stage.FINISH, where))
    if feature.ream is not None:
        found.append(op(f"{name}/ream", Action.REAM, Stage.FINISH, where))
    if feature.thread_pitch is not None:
        found.append(op(f"{name}/tap", Action.TAP, Stage.FINISH, where))
    return found


def changed(operations: Iterable[Operation], name: str, **keys: Any) -> list[Operation]:
    """Change one operation of a list."""
    listed_ones = list(operations)
    assert any(each.name == name for each in listed_ones), f"no operation {name}"
    return [replace(each, **keys) if each.name == name else each for each in listed_ones]


def without(operations: Iterable[Operation], *names: str) -> list[Operation]:
    """Leave operations out."""
    return [each for each in operations if each.name not in names]


def listed(
    made: Part,
    operations: Iterable[Operation] | None = None,
    *,
    on: Shop | None = None,
    hidden: str = "",
    means: Mapping[str, str] | None = None,
) -> OperationList:
    """Put part, shop and operations together; `hidden` lists "clamping/feature" pairs out of reach."""
    used = on or shop()
    found = tuple(usual_operations(made) if operations is None else operations)
    unreachable = set(hidden.split())
    fitted = []
    for each in made.clampings:
        wanted = (means or {}).get(each.name, "soft_jaws")
        reach = tuple(
            Reach(feature.name, f"{each.name}/{feature.name}" not in unreachable, "as the test says")
            for feature in made.features
        )
        held = next(one for one in used.clamping_means if one.name == wanted)
        fitted.append(FittedClamping(each, held, reach, False, 300.0, "as the test says", 500.0))
    return OperationList(made, used, tuple(fitted), found)


# -- what rules say --------------------------------------------------------------------------------


def spoken(rule: str, operations: OperationList, *others: str) -> RuleResult:
    """Let one rule speak; `others` are rules whose demands it knows already."""
    known: list[Dependency] = []
    for each in others:
        result = apply_rule(RULE_BY_ID[each], RuleContext(operations))
        known += [*result.dependencies, *(wanted.dependency for wanted in result.wanted)]
    return apply_rule(RULE_BY_ID[rule], RuleContext(operations, tuple(known)))


def demands(result: RuleResult) -> set[str]:
    """Write what a rule demands in short: "a > b" before, "a ~ b" one clamping, "II: a > b" opens ..."""
    found = [*result.dependencies, *(wanted.dependency for wanted in result.wanted)]
    return {in_short(each) for each in found}


def in_short(each: Dependency) -> str:
    """Write one dependency in short; a should ends with "?"."""
    soft = "?" if each.strength is Strength.SHOULD else ""
    texts = {
        Relation.BEFORE: f"{each.first} > {each.second}{soft}",
        Relation.IMMEDIATELY_AFTER: f"{each.first} >> {each.second}",
        Relation.SAME_CLAMPING: f"{each.first} ~ {each.second}",
        Relation.NOT_SAME_CLAMPING: f"{each.first} !~ {each.second}",
        Relation.SAME_ZERO: f"{each.first} = {each.second}",
        Relation.NOT_BETWEEN: f"{each.third} not in {each.first} .. {each.second}",
        Relation.OPENS: f"{each.clamping}: {each.first} > {each.second or 'all'}",
        Relation.CLOSES: f"{each.clamping}: {each.second or 'all'} > {each.first}",
        Relation.NEVER_NEXT: f"{each.first} !> {each.second}",
        Relation.MINIMUM_WAIT: f"{each.first} +{each.minutes:g} {each.second}",
    }
    return texts[each.relation]


def certain_pairs(graph: DependencyGraph) -> set[tuple[str, str]]:
    """Pairs of which the first must come before the second, whatever clampings are chosen."""
    operations = graph.operations.operations
    possible = possible_clampings(operations, graph.dependencies)
    return {
        (arrow.first, arrow.second)
        for arrow in arrows_of(operations, graph.dependencies, possible)
        if arrow.certain and arrow.must
    }


def graph_of(made: Part, operations: Iterable[Operation] | None = None, **keys: Any) -> DependencyGraph:
    """Make the graph of a part with hand-made operations."""
    return make_graph(listed(made, operations, **keys))
