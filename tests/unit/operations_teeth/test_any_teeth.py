"""Properties of the verdicts over many gears, hobs and gaps."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from tooth_floor import HOB, MILL, SKIVER, double_wheel, fact, shop, spur, tool, tried

from sequencer.operations.teeth.methods import Verdicts

MODULES = st.sampled_from([1.5, 2.0, 3.0, 4.5, 6.0, 8.0, 10.0, 14.0])


def _wheel(module: float, teeth: int, helix: float, gap: float) -> Verdicts:
    made = double_wheel(gap=gap, module=f"{module} mm", teeth=teeth, helix_angle=f"{helix} deg")
    floor = shop(
        tool("H1", HOB, module=f"{module} mm", outside_diameter=f"{18 * module} mm", length="160 mm"),
        tool("S1", SKIVER, module=f"{module} mm", outside_diameter=f"{29 * module} mm"),
        tool("E1", MILL),
    )
    return tried(made, floor, "wheel", "upper")


@settings(deadline=None, derandomize=True, max_examples=40)
@given(MODULES, st.integers(20, 110), st.floats(5, 44), st.floats(15, 250))
def test_any_double_helical_gear_gets_a_verdict_for_every_tool(
    module: float, teeth: int, helix: float, gap: float
) -> None:
    """No size makes the tries break off; each tool is passed or refused with a sentence."""
    verdicts = _wheel(module, teeth, helix, gap)
    judged = {way.tool for way in verdicts.alternatives} | {way.tool for way in verdicts.rejected}
    assert {"H1", "S1", "E1"} <= judged
    for refused in verdicts.rejected:
        assert refused.sentence.endswith(".")
    for passed in verdicts.alternatives:
        assert passed.minutes > 0
        for side in ("below", "above"):
            names = {one.name for one in passed.facts}
            if f"run-out room {side}" in names:
                assert fact(passed, f"run-out needed {side}") <= fact(passed, f"run-out room {side}") + 1e-6


@settings(deadline=None, derandomize=True, max_examples=15)
@given(st.sampled_from([4.0, 6.0, 8.0]), st.floats(10, 30), st.floats(20, 120), st.floats(5, 80))
def test_a_wider_gap_never_shuts_a_tool_out(module: float, helix: float, gap: float, more: float) -> None:
    narrow = {way.tool for way in _wheel(module, 100, helix, gap).alternatives}
    wide = {way.tool for way in _wheel(module, 100, helix, gap + more).alternatives}
    assert narrow <= wide


@settings(deadline=None, derandomize=True, max_examples=15)
@given(st.floats(460, 690), st.floats(1, 120))
def test_a_higher_shoulder_never_lets_a_tool_in(shoulder: float, more: float) -> None:
    floor = shop(tool("H6", HOB, module="6 mm", outside_diameter="125 mm"))
    low = tried(spur(groove=50, shoulder=round(shoulder, 2)), floor, "pinion").alternatives
    high = tried(spur(groove=50, shoulder=round(shoulder + more, 2)), floor, "pinion").alternatives
    assert bool(high) <= bool(low)
