"""The questions in their order; bounds and defaults follow from the answers before."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from math import ceil, floor

from sequencer.files.starter.draft import (
    DOUBLE,
    EXTERNAL,
    INTERNAL,
    NONE,
    RESERVE,
    SPLINE,
    SPLINE_MODULE,
    THREADS,
    Answers,
    cosine,
    hole_depth,
    inside_system,
    length,
    lower_ring,
    normal_module,
    outside_systems,
    room_above,
    smallest_floor,
)
from sequencer.files.starter.question import Question
from sequencer.units import Mm, parse, parse_module, shown


class _HelicalModule(Question):
    """The module of a helical gear: a diametral pitch must say in which section it is taken."""

    def read(self, written: str) -> str:
        """Check an answer; see `Question.read`."""
        text = super().read(written)
        if parse_module(text).system == "either":
            raise ValueError(
                f'{text!r} does not say in which section; type "N{text}" (normal) or "T{text}" (transverse).'
            )
        return text


def all_questions(answers: Answers) -> Iterator[Question]:
    """Give the questions in their order, up to the first open one and perhaps further.

    Parameters
    ----------
    answers
        Answers so far; a question that depends on an open one is not given yet.
    """
    groups = (
        _order(),
        _blank(answers),
        _datum(answers),
        _outside(answers),
        _inside(answers),
        _rest(answers),
        _bolts(answers),
    )
    for question in chain.from_iterable(groups):
        yield question
        if question.key not in answers:
            return


def _mm(value: Mm) -> str:
    return f"{shown(value)} mm"


def _order() -> Iterator[Question]:
    yield Question("name", "Name of the part", "It heads every sheet.", "My wheel", "text", longest=80)
    yield Question("drawing", "Drawing number", "Sheets and drawing are compared by it.", "D-1", "text")
    yield Question(
        "material",
        "Material, by its name in the shop file",
        "Cutting speeds, forces and the mass follow from it.",
        "42CrMo4+QT",
        "text",
        longest=60,
    )
    yield Question(
        "lot",
        "Pieces in this lot",
        "Clamping and set-up times are shared among them.",
        "4",
        "count",
        least=1,
        most=100000,
    )


def _blank(answers: Answers) -> Iterator[Question]:
    forms = ("bar", "ring", "forging", "casting", "plate", "weldment")
    why = (
        "It decides how much stress is expected in the material, and so the order of roughing and finishing."
    )
    yield Question("form", "Form of the blank", why, "forging", "choice", choices=forms)
    yield Question(
        "diameter",
        "Outside diameter of the blank, with its unit",
        "All outside features must lie inside it, and the table must hold it.",
        "420 mm",
        "length",
        least=100,
        most=3000,
    )
    across = length(answers, "diameter")
    yield Question(
        "raw_bore",
        "Bore of the blank, 0 if it is solid",
        "A solid blank is drilled before it is bored.",
        "0 mm" if across < 450 else _mm(10 * floor(across / 60)),
        "length",
        least=0,
        most=across - 80,
    )
    yield Question(
        "height",
        "Height of the finished part",
        "Heights count upwards from the lower finished face.",
        "140 mm",
        "length",
        least=30,
        most=3000,
    )


def _datum(answers: Answers) -> Iterator[Question]:
    outer, raw = length(answers, "diameter"), length(answers, "raw_bore")
    usual = max(raw + 10, min(0.3 * outer, outer - 60))
    yield Question(
        "bore",
        "Diameter of the bore that is the main datum",
        "It is finished with the faces; teeth and holes are located by it.",
        _mm(floor(min(usual, outer - 60))) if floor(min(usual, outer - 60)) >= raw else _mm(outer - 60),
        "length",
        least=max(raw, 10),
        most=outer - 60,
    )
    yield Question(
        "flank_class",
        "Flank class to ISO 1328-1:2013",
        "It decides which cutters and methods may finish the teeth.",
        "8",
        "count",
        least=1,
        most=11,
    )


def _outside(answers: Answers) -> Iterator[Question]:
    most = min(4, floor(length(answers, "height") / RESERVE))
    yield Question(
        "outside_count",
        "Tooth systems on the outside",
        "Each becomes a gear; they are stacked upwards from the lower face.",
        str(min(1, most)),
        "count",
        least=0,
        most=most,
    )
    for number in range(1, int(answers["outside_count"]) + 1):
        later = int(answers["outside_count"]) - number
        yield from _gear(answers, number, later)


def _gear(answers: Answers, number: int, later: int) -> Iterator[Question]:
    """Questions about one outside tooth system; each question sees the answers before it."""
    before = {k: v for k, v in answers.items() if not k.endswith(tuple(f"_{n}" for n in range(number, 5)))}
    room = room_above(before) - later * RESERVE
    kinds = (EXTERNAL, DOUBLE) if room >= RESERVE else (EXTERNAL,)
    here = f"tooth system {number}"
    why = "A double-helical gear needs an apex groove and one zero for both halves."
    yield Question(f"kind_{number}", f"Kind of {here}", why, EXTERNAL, "choice", choices=kinds)
    double = answers[f"kind_{number}"] == DOUBLE
    yield Question(
        f"helix_{number}",
        f"Helix angle of {here}" + ("" if double else ", 0 deg for a spur gear"),
        "It turns the cutter, which then needs more room to run out.",
        "20 deg" if double else "0 deg",
        "angle",
        least=5 if double else 0,
        most=45,
    )
    if double or parse(answers[f"helix_{number}"], "angle") > 0:
        half = " of the lower half" if double else ""
        yield Question(
            f"hand_{number}",
            f"Hand{half} of {here}",
            "Hobs cut well only their own hand.",
            "right",
            "choice",
            choices=("right", "left"),
        )
    yield from _tooth_size(answers, number)
    yield from _widths(answers, number, room, double)


def _tooth_size(answers: Answers, number: int) -> Iterator[Question]:
    outer, bore = length(answers, "diameter"), length(answers, "bore")
    most = min((outer - bore - 12) / 12, outer / 30, 40)
    usual = next((m for m in (7, 6, 5, 4, 3, 2) if m <= most and outer / m >= 55), 1)
    helical = cosine(answers, number) < 1
    yield (_HelicalModule if helical else Question)(
        f"module_{number}",
        f'Module of tooth system {number}, such as "6 mm", or its diametral pitch',
        "Only cutters of this module can cut it.",
        f"{usual} mm",
        "module",
        least=max(0.5, outer / 1900),
        most=most,
    )
    module, slope = normal_module(answers, number), cosine(answers, number)
    fewest = max(17, ceil(((bore + 12) / module + 6.5) * slope))
    largest = min(2000, floor((outer / module - 2) * slope))
    usual_teeth = min(max(fewest, floor(((outer - 10) / module - 2) * slope)), largest)
    yield Question(
        f"teeth_{number}",
        f"Number of teeth of tooth system {number}",
        "With the module it gives the tip diameter, which must lie inside the blank.",
        str(usual_teeth),
        "count",
        least=fewest,
        most=largest,
    )


def _widths(answers: Answers, number: int, room: Mm, double: bool) -> Iterator[Question]:
    widest = (room - 20) / 2 if double else room
    usual = min(60.0, floor(0.6 * widest)) if not double else min(60.0, floor(0.3 * room))
    yield Question(
        f"width_{number}",
        f"Face width of {'one half of ' if double else ''}tooth system {number}",
        "Cutting time grows with it.",
        _mm(max(5.0, usual)),
        "length",
        least=5,
        most=widest,
    )
    left = room - (2 if double else 1) * length(answers, f"width_{number}")
    if double:
        yield Question(
            f"gap_{number}",
            f"Width of the apex groove of tooth system {number}",
            "Between the halves the cutter runs out; a hob needs much more room than an end mill.",
            _mm(max(20.0, min(90.0, floor(left)))) if left >= 20 else _mm(left),
            "length",
            least=min(10.0, left),
            most=left,
        )
        left -= length(answers, f"gap_{number}")
    if left >= 10:
        yield Question(
            f"groove_{number}",
            f"Width of the run-out groove above tooth system {number}, 0 for none",
            "Next to a larger shoulder the cutter can only run out into a groove.",
            _mm(min(25.0, floor(left / 2))),
            "length",
            least=0,
            most=left,
        )


def _inside(answers: Answers) -> Iterator[Question]:
    height, bore, most = length(answers, "height"), length(answers, "bore"), smallest_floor(answers)
    if height < RESERVE or most - bore < 60:
        return
    kinds = (NONE, SPLINE, INTERNAL) if bore <= 460 else (NONE, INTERNAL)
    why = "Teeth in a bore must let the cutter in and out; they lie at the upper end here."
    yield Question("inside", "Tooth system inside", why, NONE, "choice", choices=kinds)
    if answers["inside"] == NONE:
        return
    if answers["inside"] == SPLINE:
        yield from _spline(bore, most)
    else:
        yield from _internal_gear(answers, bore, most)
    yield Question(
        "inside_width",
        "Face width of the teeth inside",
        "Cutting time grows with it.",
        _mm(floor(min(60.0, 0.4 * height))),
        "length",
        least=5,
        most=0.5 * height,
    )
    yield Question(
        "inside_groove",
        "Width of the run-out groove below the teeth inside, 0 for none",
        "In a blind bore the cutter can only run out into a groove.",
        _mm(floor(min(25.0, 0.2 * height))),
        "length",
        least=0,
        most=0.3 * height,
    )


def _spline(bore: Mm, most: Mm) -> Iterator[Question]:
    least, largest = max(30.0, bore + 2 * SPLINE_MODULE + 1), min(500.0, most - 35)
    yield Question(
        "reference_diameter",
        "Reference diameter of the spline to DIN 5480",
        "DIN 5480 names a spline by it; module and teeth are proposed and can be changed in the file.",
        _mm(min(ceil((bore + 10) / 10) * 10, floor(largest))),
        "length",
        least=least,
        most=largest,
    )


def _internal_gear(answers: Answers, bore: Mm, most: Mm) -> Iterator[Question]:
    largest = min((most - bore - 30) / 10, (most - 30) / 42, 40)
    usual = next((m for m in (4, 3, 2) if m <= largest), 1)
    yield Question(
        "inside_module",
        "Module of the internal gear",
        "Only cutters of this module can cut it.",
        f"{usual} mm" if usual <= largest else _mm(floor(largest * 10) / 10),
        "module",
        least=max(0.5, bore / 1900),
        most=largest,
    )
    module = parse_module(answers["inside_module"]).millimetres
    fewest = max(34, ceil(bore / module + 2))
    highest = min(2000, floor((most - 30) / module - 6.5))
    yield Question(
        "inside_teeth",
        "Number of teeth of the internal gear",
        "The bore must let its tips stand, the outside must leave a rim.",
        str(min(max(fewest, floor(bore / module + 4)), highest)),
        "count",
        least=fewest,
        most=highest,
    )


def _rest(answers: Answers) -> Iterator[Question]:
    room = room_above(answers)
    if room <= 0.02:
        return
    systems, inside = outside_systems(answers), inside_system(answers)
    least = length(answers, "bore") + 20
    if inside is not None:
        least = inside.floor + max(20.0, (inside.root - inside.tip) / 2)
    most = length(answers, "diameter")
    usual = (systems[-1].floor if systems else most) - 10
    yield Question(
        "rest_diameter",
        f"Outside diameter {'above the teeth' if systems else 'of the part'}, over {_mm(room)}",
        "A diameter below the tooth root lets the cutter run out freely.",
        _mm(floor(max(least, usual))) if floor(max(least, usual)) >= least else _mm(least),
        "length",
        least=least,
        most=most,
    )


def _bolts(answers: Answers) -> Iterator[Question]:
    bore, outer = lower_ring(answers)
    fitting = [
        name
        for name in THREADS
        if 6 * _size(name) <= outer - bore and hole_depth(answers, _size(name)) >= 1.8 * _size(name)
    ]
    if not fitting:
        return
    yield Question(
        "threads",
        "Threads in the lower face",
        "The part can be bolted down by them for the second clamping, free at the outside.",
        "M12" if "M12" in fitting else fitting[-1],
        "choice",
        choices=(NONE, *fitting),
    )
    if answers["threads"] == NONE:
        return
    size = _size(answers["threads"])
    least, most = bore + 2.5 * size, outer - 2.5 * size
    yield Question(
        "circle",
        "Diameter of their circle",
        "It must lie between bore and tooth root.",
        _mm(min(max(ceil(least), 10 * floor((bore + outer) / 20)), most)),
        "length",
        least=least,
        most=most,
    )
    fits = max(3, min(36, floor(3.14 * length(answers, "circle") / (3 * size))))
    yield Question(
        "count",
        "Number of threads",
        "More bolts hold more force.",
        str(min(8, fits)),
        "count",
        least=3,
        most=fits,
    )


def _size(thread: str) -> Mm:
    return float(thread[1:])
