"""Parts that a tolerance forces into one clamping; their least number of clampings is known by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.errors import NoPlan
from sequencer.files import read_part_and_shop
from sequencer.plan import Plan, make_plan
from sequencer.precedence.together import bound_to_one_clamping
from sequencer.setups import least_findings

SHOP = Path(__file__).parents[3] / "parts" / "shop.yaml"

#: Rim and bore run true to each other over the whole height: only bolts or a plate leave both free. Bolt
#: heads then cover the upper face, which takes a third clamping.
DISC = """
name: Register disc
drawing: RD-1
material: 42CrMo4+QT
blank: {{form: forging, diameter: 512 mm, bore: 190 mm, z_from: -4 mm, z_to: 84 mm, stress: low}}
datums: {{A: bore, B: lower_face}}
features:
  - {{name: lower_face, kind: face, side: lower, z: 0 mm}}
  - {{name: upper_face, kind: face, side: upper, z: 80 mm}}
  - {{name: bore, kind: bore, diameter: 200 mm, z_from: 0 mm, z_to: 80 mm, tolerance: H7}}
  - name: rim
    kind: turned_diameter
    diameter: 500 mm
    z_from: 0 mm
    z_to: 80 mm
    tolerance: h7
    geometric: [{{characteristic: runout, value: {runout} mm, to: [A]}}]
  - name: holes
    kind: bolt_circle
    on: lower_face
    circle_diameter: 400 mm
    count: 8
    diameter: 22 mm
    use: clamping
"""


def planned(tmp_path: Path, runout: str, *, plate: bool = False, bolts: bool = True) -> Plan:
    """The disc with its runout; the shop with or without a face plate."""
    part = DISC.format(runout=runout)
    if not bolts:
        part = part[: part.index("  - name: holes")]
    lines = SHOP.read_text(encoding="utf-8").splitlines()
    shop = "\n".join(line for line in lines if plate or "hold: face plate" not in line)
    (tmp_path / "part.yaml").write_text(part, encoding="utf-8")
    (tmp_path / "shop.yaml").write_text(shop, encoding="utf-8")
    return make_plan(*read_part_and_shop(tmp_path / "part.yaml", tmp_path / "shop.yaml"), seconds=3)


@pytest.fixture(scope="module")
def close(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The disc with a runout that no re-clamping leaves."""
    return planned(tmp_path_factory.mktemp("close"), "0.012")


def test_a_runout_that_no_reclamping_leaves_forces_a_third_clamping(close: Plan) -> None:
    assert (close.sequence.clampings, close.least.number, close.least.proven) == (3, 3, True)
    place = {step.operation.name: step.visit for step in close.sequence.steps}
    assert place["rim/finish"] == place["bore/finish"] != place["upper_face/finish"]


def test_a_wider_runout_saves_that_clamping(tmp_path: Path) -> None:
    assert planned(tmp_path, "0.08").sequence.clampings == 2


def test_the_answer_names_the_tolerance_with_its_numbers(close: Plan) -> None:
    third = next(f for f in least_findings(close.least) if "number 3" in f.what)
    assert (
        "rim: runout to bore does not hold if bore is made in another clamping: 12 um allowed" in third.what
    )
    assert "but for that 2 would do" in third.what
    assert "a face plate with spigot and straps" in third.remedy


def test_a_face_plate_holds_both_in_two_clampings(tmp_path: Path) -> None:
    plan = planned(tmp_path, "0.012", plate=True, bolts=False)
    assert plan.sequence.clampings == 2
    assert [clamping.clamping.hold for clamping in plan.operations.clampings] == [
        "outside jaws",
        "face plate",
    ]


def test_without_bolts_and_plate_no_plan_holds_the_tolerance(tmp_path: Path) -> None:
    with pytest.raises(NoPlan, match="rim/finish and bore/finish must share a clamping"):
        planned(tmp_path, "0.012", bolts=False)


def test_what_is_bound_is_known_before_any_order(close: Plan) -> None:
    bound = bound_to_one_clamping(close.operations)
    assert {frozenset((each.first, each.second)) for each in bound} == {
        frozenset(("rim/finish", "bore/finish"))
    }
