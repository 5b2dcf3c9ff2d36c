"""The part file of the answers, with a remark where a key appears first."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from sequencer.files.fields import keys_of
from sequencer.files.starter.draft import (
    DOUBLE,
    NONE,
    SPLINE,
    SPLINE_MODULE,
    STOCK,
    THREADS,
    Answers,
    Inside,
    Outside,
    hole_depth,
    inside_system,
    length,
    outside_systems,
    room_above,
    spline_teeth,
)
from sequencer.part.milled import BoltCircle
from sequencer.part.part import Blank, Clamping, Part
from sequencer.part.quantities import Record
from sequencer.part.toothed import DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.part.turned import ApexGroove, Bore, Chamfer, Face, RunOutGroove, TurnedDiameter
from sequencer.units import Mm, parse, shown

_HEAD = """\
# yaml-language-server: $schema=../docs/part.schema.json
# A first part file. Every value can be changed; `sequencer check` says what does not fit.
# z runs up the axis, 0 is the lower finished face; diameters are diameters; each quantity has its unit.
# All kinds and keys: docs/part-file.md. Take a line out to leave a key at its default.
"""
#: Pitches from the end of a thread to the bottom of its hole: the lead of a tap and a little more.
_BELOW_THREAD = 4
#: Column in which remarks begin.
_REMARK = 44
_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9_./()-]*( [A-Za-z0-9_./()-]+)*")
_WORDS = ("true", "false", "null", "yes", "no", "on", "off", "y", "n")


@dataclass
class _Writer:
    """Collects lines; says what a key means where it appears first."""

    lines: list[str] = field(default_factory=list)
    told: set[str] = field(default_factory=set)

    def line(self, text: str, remark: str = "") -> None:
        """Add a line with a remark beside it."""
        self.lines.append(f"{text:<{_REMARK}}  # {remark}" if remark else text)

    def remark(self, record: type[Record], key: str) -> str:
        """Meaning of a key; empty where it was told before."""
        meaning = keys_of(record)[key].meaning
        if meaning in self.told:
            return ""
        self.told.add(meaning)
        return meaning

    def keys(self, record: type[Record], indent: str, pairs: dict[str, str]) -> None:
        """Add keys with their values."""
        for key, value in pairs.items():
            self.line(f"{indent}{key}: {value}", self.remark(record, key))
            indent = indent.replace("-", " ")


def part_text(answers: Answers) -> str:
    """Write the part file.

    Parameters
    ----------
    answers
        Answers to all questions.
    """
    writer = _Writer()
    writer.lines += _HEAD.splitlines()
    _order(writer, answers)
    _blank(writer, answers)
    writer.line("")
    writer.line("datums:", keys_of(Part)["datums"].meaning)
    writer.lines += ["  A: bore", "  B: lower_face", "", "features:"]
    for record, pairs, title in _features(answers):
        if title:
            writer.line(f"  # {title}")
        writer.keys(record, "  - ", pairs)
    _clampings(writer, answers)
    return "\n".join(writer.lines) + "\n"


def _quoted(text: str) -> str:
    """A text as YAML: plain if it is a simple word, else in double quotes."""
    if _PLAIN.fullmatch(text) and text.lower() not in _WORDS:
        return text
    return json.dumps(text, ensure_ascii=False)


def _mm(value: Mm) -> str:
    return f"{shown(value)} mm"


def _order(writer: _Writer, answers: Answers) -> None:
    inches = bool(re.search(r"(in|inch|\"|ft)$", answers["diameter"]))
    pairs = {
        "name": _quoted(answers["name"]),
        "drawing": _quoted(answers["drawing"]),
        "lot": answers["lot"],
        "units": "in" if inches else "mm",
        "material": _quoted(answers["material"]),
    }
    writer.keys(Part, "", pairs)


def _blank(writer: _Writer, answers: Answers) -> None:
    writer.line("blank:", keys_of(Part)["blank"].meaning)
    pairs = {
        "form": answers["form"],
        "diameter": answers["diameter"],
        "bore": answers["raw_bore"],
        "z_from": _mm(-STOCK),
        "z_to": _mm(length(answers, "height") + STOCK),
    }
    writer.keys(Blank, "  ", pairs)


_Feature = tuple[type[Record], dict[str, str], str]


def _features(answers: Answers) -> Iterator[_Feature]:
    height, systems, inside = length(answers, "height"), outside_systems(answers), inside_system(answers)
    yield Face, {"name": "lower_face", "kind": "face", "side": "lower", "z": "0 mm"}, "The ends."
    yield Face, {"name": "upper_face", "kind": "face", "side": "upper", "z": _mm(height)}, ""
    bore_to = height - (inside.width + inside.groove if inside else 0.0)
    bore = {
        "name": "bore",
        "kind": "bore",
        "diameter": answers["bore"],
        "z_from": "0 mm",
        "z_to": _mm(bore_to),
    }
    yield Bore, {**bore, "tolerance": "H7", "roughness": "1.6 um"}, "The main datum."
    for system in systems:
        yield from _outside(answers, system)
    if room_above(answers) > 0.02:
        z_from = height - room_above(answers)
        rest = {"name": "hub" if systems else "rim", "kind": "turned_diameter"}
        ends = {"diameter": answers["rest_diameter"], "z_from": _mm(z_from), "z_to": _mm(height)}
        yield TurnedDiameter, {**rest, **ends}, "The outside that has no teeth."
    if inside is not None:
        yield from _inside(answers, inside, height)
    if answers.get("threads", NONE) != NONE:
        yield BoltCircle, _bolts(answers), "Threads in the lower face; the second clamping uses them."
    chamfer = {"name": "bore_chamfer", "kind": "chamfer", "on": "bore", "edge": "lower", "size": "2 mm"}
    yield Chamfer, chamfer, "Edges."


def _flanks(answers: Answers) -> str:
    return f"{{year: 2013, class: {answers['flank_class']}}}"


def _outside(answers: Answers, system: Outside) -> Iterator[_Feature]:
    number, name = system.number, f"gear_{system.number}"
    helix = answers[f"helix_{number}"]
    size = {"teeth": answers[f"teeth_{number}"], "module": answers[f"module_{number}"]}
    close = {"flank_class": _flanks(answers), "datums": "[A, B]"}
    if system.kind == DOUBLE:
        hand = answers[f"hand_{number}"]
        middle, start = system.z_from + system.width, system.z_from + system.width + system.gap
        halves = {
            "lower": f"{{z_from: {_mm(system.z_from)}, z_to: {_mm(middle)}, hand: {hand}}}",
            "upper": f"{{z_from: {_mm(start)}, z_to: {_mm(system.teeth_to)}, hand: {_other(hand)}}}",
            "apex_tolerance": "0.05 mm",
        }
        pairs = {"name": name, "kind": "double_helical_gear", **size, "helix_angle": helix, **halves, **close}
        yield DoubleHelicalGear, pairs, f"Tooth system {number}, tip diameter {_mm(system.tip)}."
        gap = {"name": f"apex_{number}", "kind": "apex_groove", "gear": name}
        ends = {"z_from": _mm(middle), "z_to": _mm(start), "diameter": _mm(system.floor)}
        yield ApexGroove, {**gap, **ends}, ""
    else:
        turned = parse(helix, "angle") > 0
        slope = {"helix_angle": helix, "hand": answers[f"hand_{number}"]} if turned else {}
        ends = {"z_from": _mm(system.z_from), "z_to": _mm(system.teeth_to)}
        pairs = {"name": name, "kind": "external_gear", **size, **slope, **ends, **close}
        yield ExternalGear, pairs, f"Tooth system {number}, tip diameter {_mm(system.tip)}."
    if system.groove > 0:
        groove = {"name": f"groove_{number}", "kind": "run_out_groove", "gear": name}
        ends = {"z_from": _mm(system.teeth_to), "z_to": _mm(system.z_to), "diameter": _mm(system.floor)}
        yield RunOutGroove, {**groove, **ends}, ""


def _other(hand: str) -> str:
    return "left" if hand == "right" else "right"


def _inside(answers: Answers, inside: Inside, height: Mm) -> Iterator[_Feature]:
    z_from = height - inside.width
    ends = {"z_from": _mm(z_from), "z_to": _mm(height)}
    if inside.kind == SPLINE:
        size = {
            "place": "inside",
            "standard": "DIN 5480",
            "teeth": str(spline_teeth(answers)),
            "module": _mm(SPLINE_MODULE),
            "reference_diameter": answers["reference_diameter"],
        }
        pairs = {"name": "spline", "kind": "spline", **size, **ends, "datums": "[A]"}
        yield Spline, pairs, f"The spline inside, minor diameter {_mm(inside.tip)}."
    else:
        size = {"teeth": answers["inside_teeth"], "module": answers["inside_module"]}
        close = {"flank_class": _flanks(answers), "datums": "[A, B]"}
        pairs = {"name": "inner_gear", "kind": "internal_gear", **size, **ends, **close}
        yield InternalGear, pairs, f"The internal gear, tip diameter {_mm(inside.tip)}."
    if inside.groove > 0:
        name = "spline" if inside.kind == SPLINE else "inner_gear"
        groove = {"name": "inner_groove", "kind": "run_out_groove", "gear": name, "place": "inside"}
        ends = {"z_from": _mm(z_from - inside.groove), "z_to": _mm(z_from), "diameter": _mm(inside.floor)}
        yield RunOutGroove, {**groove, **ends}, ""


def _bolts(answers: Answers) -> dict[str, str]:
    size, pitch = float(answers["threads"][1:]), THREADS[answers["threads"]]
    depth = hole_depth(answers, size)
    return {
        "name": "bolts",
        "kind": "bolt_circle",
        "on": "lower_face",
        "circle_diameter": answers["circle"],
        "count": answers["count"],
        "diameter": _mm(size),
        "depth": _mm(depth),
        "thread_pitch": _mm(pitch),
        "thread_depth": _mm(depth - _BELOW_THREAD * pitch),
        "use": "clamping",
        "datums": "[A]",
    }


def _clampings(writer: _Writer, answers: Answers) -> None:
    """First the underside on the raw blank, then everything else from the finished underside."""
    top = length(answers, "height") + STOCK
    band = min(50.0, 0.3 * top)
    writer.lines += ["", "clampings:"]
    writer.line("  # First the lower side, on the raw blank; then everything else from that side.")
    first = {"name": "I", "up": "lower", "hold": "outside jaws", "on": "blank", "rests_on": "blank"}
    writer.keys(Clamping, "  - ", {**first, "z_from": _mm(top - band), "z_to": _mm(top)})
    second = {"name": "II", "up": "upper"}
    if answers.get("threads", NONE) != NONE:
        second |= {"hold": "bolts", "on": "bolts", "rests_on": "lower_face"}
    else:
        inside = inside_system(answers)
        bore = length(answers, "height") - (inside.width + inside.groove if inside else 0.0)
        reach = min(50.0, 0.4 * bore)
        second |= {"hold": "inside jaws", "on": "bore", "rests_on": "lower_face"}
        second |= {"z_from": "0 mm", "z_to": _mm(reach)}
    writer.keys(Clamping, "  - ", {**second, "riser": "200 mm"})
