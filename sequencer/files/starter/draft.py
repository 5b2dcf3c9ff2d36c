"""What the answers so far say about the part: sizes, heights and the room that is left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, cos, floor, radians
from typing import Final

from sequencer.gears.din_5480 import din_5480_teeth
from sequencer.units import Mm, Module, parse, parse_module

Answers = Mapping[str, str]

EXTERNAL: Final = "external gear"
DOUBLE: Final = "double-helical gear"
SPLINE: Final = "spline"
INTERNAL: Final = "internal gear"
NONE: Final = "none"

#: Stock on each face, and how much deeper than the tooth root a run-out groove is made [mm].
STOCK: Final = 5.0
BELOW_ROOT: Final = 3.0
#: Room that a later tooth system needs at least [mm].
RESERVE: Final = 60.0
#: Module of the spline that the starter proposes [mm].
SPLINE_MODULE: Final = 3.0
#: Pitch of coarse threads (ISO 262, from memory) [mm].
THREADS: Final = {"M8": 1.25, "M10": 1.5, "M12": 1.75, "M16": 2.0, "M20": 2.5}


def length(answers: Answers, key: str) -> Mm:
    """Give an answer that is a length [mm].

    Parameters
    ----------
    answers
        Answers so far.
    key
        Name of the answer.
    """
    return float(parse(answers[key], "length"))


@dataclass(frozen=True)
class Outside:
    """One tooth system on the outside.

    Parameters
    ----------
    number
        Counted from 1.
    kind
        External or double-helical gear.
    z_from
        Lower end of its teeth [mm].
    width
        Face width; of one half if double-helical [mm].
    gap
        Gap between the halves; 0 for a single gear [mm].
    groove
        Width of the run-out groove above it; 0 for none [mm].
    tip, root
        Diameters [mm].
    """

    number: int
    kind: str
    z_from: Mm
    width: Mm
    gap: Mm
    groove: Mm
    tip: Mm
    root: Mm

    @property
    def teeth_to(self) -> Mm:
        """Upper end of its teeth [mm]."""
        return self.z_from + (2 * self.width + self.gap if self.kind == DOUBLE else self.width)

    @property
    def z_to(self) -> Mm:
        """Upper end, run-out groove included [mm]."""
        return self.teeth_to + self.groove

    @property
    def floor(self) -> Mm:
        """Diameter of its grooves, below the root [mm]."""
        return floor(self.root) - BELOW_ROOT


@dataclass(frozen=True)
class Inside:
    """The tooth system inside, at the upper end.

    Parameters
    ----------
    kind
        Spline or internal gear.
    width
        Face width [mm].
    groove
        Width of the run-out groove below it; 0 for none [mm].
    tip, root
        Diameters [mm].
    """

    kind: str
    width: Mm
    groove: Mm
    tip: Mm
    root: Mm

    @property
    def floor(self) -> Mm:
        """Diameter of its groove, outside the root [mm]."""
        return ceil(self.root) + BELOW_ROOT


def normal_module(answers: Answers, number: int) -> Mm:
    """Give the normal module of an outside tooth system [mm].

    Parameters
    ----------
    answers
        Answers so far.
    number
        Counted from 1.
    """
    module: Module = parse_module(answers[f"module_{number}"])
    return module.millimetres * (cosine(answers, number) if module.system == "transverse" else 1.0)


def cosine(answers: Answers, number: int) -> float:
    """Give the cosine of the helix angle of an outside tooth system.

    Parameters
    ----------
    answers
        Answers so far.
    number
        Counted from 1.
    """
    return cos(radians(parse(answers[f"helix_{number}"], "angle")))


def outside_systems(answers: Answers) -> tuple[Outside, ...]:
    """Give the outside tooth systems whose questions are all answered.

    Parameters
    ----------
    answers
        Answers so far.
    """
    found: list[Outside] = []
    for number in range(1, int(answers.get("outside_count", "0")) + 1):
        if f"width_{number}" not in answers:
            break
        module = normal_module(answers, number)
        reference = int(answers[f"teeth_{number}"]) * module / cosine(answers, number)
        gap, groove = f"gap_{number}", f"groove_{number}"
        found.append(
            Outside(
                number,
                answers[f"kind_{number}"],
                found[-1].z_to if found else 0.0,
                length(answers, f"width_{number}"),
                length(answers, gap) if gap in answers else 0.0,
                length(answers, groove) if groove in answers else 0.0,
                reference + 2 * module,
                reference - 2.5 * module,
            )
        )
    return tuple(found)


def room_above(answers: Answers) -> Mm:
    """Give the height that the answered outside tooth systems leave above them [mm].

    Parameters
    ----------
    answers
        Answers so far.
    """
    systems = outside_systems(answers)
    return length(answers, "height") - (systems[-1].z_to if systems else 0.0)


def smallest_floor(answers: Answers) -> Mm:
    """Give the smallest outside diameter that teeth and grooves leave, the blank without any [mm].

    Parameters
    ----------
    answers
        Answers so far.
    """
    return min([system.floor for system in outside_systems(answers)], default=length(answers, "diameter"))


def spline_teeth(answers: Answers) -> int:
    """Give the number of teeth that DIN 5480 pairs with the reference diameter.

    Parameters
    ----------
    answers
        Answers so far.
    """
    return din_5480_teeth(length(answers, "reference_diameter"), SPLINE_MODULE)


def inside_system(answers: Answers) -> Inside | None:
    """Give the tooth system inside; None if there is none or its questions are not all answered.

    Parameters
    ----------
    answers
        Answers so far.
    """
    if "inside_groove" not in answers:
        return None
    width, groove = length(answers, "inside_width"), length(answers, "inside_groove")
    if answers["inside"] == SPLINE:
        reference = length(answers, "reference_diameter")
        return Inside(SPLINE, width, groove, reference - 2 * SPLINE_MODULE, reference)
    module = parse_module(answers["inside_module"]).millimetres
    teeth = int(answers["inside_teeth"])
    return Inside(INTERNAL, width, groove, (teeth - 2) * module, (teeth + 2.5) * module)


def hole_depth(answers: Answers, size: Mm) -> Mm:
    """Give the depth of holes from the lower face: two and a half diameters where the part allows it [mm].

    Parameters
    ----------
    answers
        Answers so far.
    size
        Diameter of the hole [mm].
    """
    systems, inside = outside_systems(answers), inside_system(answers)
    room = systems[0].z_to if systems else length(answers, "height")
    if inside is not None:
        room = min(room, length(answers, "height") - inside.width - inside.groove)
    return min(2.5 * size, 0.6 * room)


def lower_ring(answers: Answers) -> tuple[Mm, Mm]:
    """Give bore and smallest outside diameter at the lower face [mm].

    Parameters
    ----------
    answers
        Answers so far.
    """
    systems = outside_systems(answers)
    outer = systems[0].floor if systems else length(answers, "rest_diameter")
    return length(answers, "bore"), outer
