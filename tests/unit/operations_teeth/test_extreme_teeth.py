"""Any teeth with any cutter: passed with finite numbers or refused with a sentence, never an error."""

from __future__ import annotations

import math
from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError
from tooth_floor import DISC, HOB, MILL, SKIVER, fitted, part, shop, teeth, tool
from tooth_floor import context as context_of

from sequencer.errors import SequencerError
from sequencer.operations.teeth.methods import Verdicts, try_all
from sequencer.operations.teeth.share import Aim, Share
from sequencer.part import Part
from sequencer.part.tolerances import FlankClass

CLASS_8 = FlankClass.model_validate({"year": 2013, "class": 8})
MODULES = st.sampled_from([0.5, 0.8, 1.0, 2.5, 6.0, 12.0, 25.0, 50.0])
SHARES = st.sampled_from([Share.WHOLE, Share.ROUGH, Share.FINISH])


def gear(internal: bool, module: float, number: int, helix: float, shift: float) -> Part:
    """A gear of any size, free at both ends."""
    size = module * number / math.cos(math.radians(helix))
    keys: dict[str, Any] = {
        "name": "teeth",
        "kind": "internal_gear" if internal else "external_gear",
        "teeth": number,
        "module": f"{module} mm",
        "z_from": "100 mm",
        "z_to": f"{100 + 10 * module} mm",
        "profile_shift": round(shift, 3),
        "flank_class": CLASS_8,
    }
    if helix:
        keys |= {"helix_angle": f"{abs(helix)} deg", "hand": "right" if helix > 0 else "left"}
    outside = size + 20 * module + 40
    blank = {
        "form": "forging",
        "diameter": f"{outside} mm",
        "bore": f"{max(size - 12 * module, 0.2 * size) if internal else 0.2 * size} mm",
        "z_from": "-5 mm",
        "z_to": f"{205 + 10 * module} mm",
    }
    return part(keys, height=200 + 10 * module, outside=outside, blank=blank)


def judged(made: Part, cutter: dict[str, Any], share: Share) -> Verdicts:
    """Try the cutter for some share of the teeth."""
    stock = 0.3 if share is Share.ROUGH else 0.0
    aim = Aim(share, stock=stock, before=0.3 if share is Share.FINISH else 0.0)
    held = fitted(made)
    return try_all(context_of(made, shop(cutter), held), teeth(made, "teeth"), (held,), aim)


def check(verdicts: Verdicts, name: str) -> None:
    """Numbers are finite, refusals are sentences."""
    ways = [*verdicts.alternatives, *verdicts.rejected]
    assert name in {way.tool for way in ways} or any(way.tool == "" for way in verdicts.rejected)
    for way in verdicts.alternatives:
        assert math.isfinite(way.minutes)
        assert way.minutes > 0
    for refused in verdicts.rejected:
        assert refused.sentence.endswith(".")
        assert "nan" not in refused.sentence.lower().split()
    for way in ways:
        for fact in way.facts:
            assert math.isfinite(fact.value), fact


def tried(made: Part, cutter: dict[str, Any], share: Share) -> None:
    """Try and check; what the shop or part file itself refuses is no case."""
    try:
        verdicts = judged(made, cutter, share)
    except (ValidationError, SequencerError):
        return
    check(verdicts, cutter["name"])


GEARS = st.tuples(
    st.booleans(),
    MODULES,
    st.one_of(st.integers(5, 60), st.integers(61, 1000)),
    st.sampled_from([0.0, 0.0, 8.0, -15.0, 30.0, -45.0, 45.0]),
    st.floats(-1.2, 1.2),
)


def made_of(drawn: tuple[bool, float, int, float, float]) -> Part:
    """The gear, where such a part can be written."""
    try:
        made = gear(*drawn)
        teeth(made, "teeth")
    except (ValidationError, SequencerError):
        assume(False)
        raise
    return made


@settings(deadline=None, derandomize=True, max_examples=12)
@given(
    GEARS,
    st.integers(1, 7),
    st.integers(6, 40),
    st.floats(8, 40),
    st.floats(3, 30),
    st.sampled_from(["right", "left"]),
    SHARES,
)
def test_any_hob(drawn, starts, gashes, size, length, hand, share):
    module = drawn[1]
    cutter = tool(
        "H1", HOB, module=f"{module} mm", outside_diameter=f"{size * module} mm", hand=hand, quality="AAA",
        length=f"{length * module} mm", starts=starts, gashes=gashes, body_diameter=f"{size * module} mm",
    )  # fmt: skip
    tried(made_of(drawn), cutter, share)


@settings(deadline=None, derandomize=True, max_examples=12)
@given(GEARS, st.floats(0.05, 1.0), st.sampled_from([0.0, 10.0, 20.0, 30.0, 45.0]), st.booleans(), SHARES)
def test_any_skiving_cutter_near_equal_ones_too(drawn, relation, helix, right, share):
    module, number = drawn[1], max(9, min(200, round(relation * drawn[2])))
    size = module * number / math.cos(math.radians(helix)) + 2.5 * module
    hand = {"hand": "right" if right else "left"} if helix else {}
    cutter = tool(
        "S1", SKIVER, module=f"{module} mm", teeth=number, helix_angle=f"{helix} deg", made_for="both",
        outside_diameter=f"{size} mm", neck_diameter=f"{0.5 * size} mm", holder_diameter=f"{0.5 * size} mm",
        body_diameter=f"{size} mm", thickness=f"{max(3 * module, 5)} mm", **hand,
    )  # fmt: skip
    tried(made_of(drawn), cutter, share)


@settings(deadline=None, derandomize=True, max_examples=10)
@given(GEARS, st.floats(6, 60), st.integers(4, 80), st.floats(0.3, 60), st.floats(0.0, 0.5), SHARES)
def test_any_disc_and_any_end_mill(drawn, size, edges, diameter, corner, share):
    module, made = drawn[1], made_of(drawn)
    disc = tool(
        "D1", DISC, module=f"{module} mm", outside_diameter=f"{size * module} mm", width=f"{3 * module} mm",
        teeth=edges, least_teeth=1, body_diameter=f"{size * module} mm",
    )  # fmt: skip
    mill = tool(
        "M1", MILL, diameter=f"{diameter} mm", corner_radius=f"{corner * diameter} mm",
        reach=f"{4 * diameter} mm", body_diameter=f"{max(30, 1.2 * diameter)} mm",
    )  # fmt: skip
    tried(made, disc, share)
    tried(made, mill, share)
