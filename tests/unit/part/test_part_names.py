"""Names in a part: each fault says where it is and what to do."""

from __future__ import annotations

from typing import Any

import pytest

from sequencer.part.references import check_names

_F = "features."
CASES = [
    ("two features of one name", [(_F + "+", {"name": "bore", "kind": "face", "side": "upper", "z": "440 "
    "mm"})],
     "features.21.name", "name 'bore' is used twice; features[3] has it already; give each its own name"),
    ("a feature called blank", [(_F + "hub.name", "blank")],
     "features.8.name", "'blank' means the raw surface of the blank; choose another name"),
    ("two clampings of one name", [("clampings.II.name", "I")],
     "clampings.1.name", "name 'I' is used twice; clampings[0] has it already"),
    ("datum of an unknown feature", [("datums.D", "boore")],
     "datums.D", "there is no feature 'boore'; did you mean 'bore'?"),
    ("unknown datum letter", [(_F + "spline.datums", ["A", "E"])],
     _F + "spline.datums.1", "there is no datum 'E'; datums of this part: A, B, C"),
    ("feature instead of a datum letter", [(_F + "spline.datums", ["bore"])],
     _F + "spline.datums.0", "there is no datum 'bore'; give the feature a letter under datums"),
    ("unknown datum of a tolerance", [(_F + "wheel.geometric.0.to", ["X"])],
     _F + "wheel.geometric.0.to.0", "there is no datum 'X'; datums of this part: A, B, C"),
    ("unknown carrier", [(_F + "keyway.on", "bor")],
     _F + "keyway.on", "there is no feature 'bor'; did you mean 'bore'?"),
    ("unknown carrier without a near miss", [(_F + "keyway.on", "zzz")],
     _F + "keyway.on", "there is no feature 'zzz'; features: lower_face, upper_face"),
    ("unknown neighbour", [(_F + "spur.next_to", ["hubb"])],
     _F + "spur.next_to.0", "there is no feature 'hubb'; did you mean 'hub'?"),
    ("next to itself", [(_F + "spur.next_to", ["spur"])],
     _F + "spur.next_to.0", "a feature is not next to itself"),
    ("phase to an unknown feature", [(_F + "bolts.phase.to", "weel")],
     _F + "bolts.phase.to", "there is no feature 'weel'; did you mean 'wheel'?"),
    ("phase to itself", [(_F + "bolts.phase.to", "bolts")],
     _F + "bolts.phase.to", "the phase refers to the feature itself"),
    ("phase to something round", [(_F + "bolts.phase.to", "bore")],
     _F + "bolts.phase.to", "'bore' is of kind bore: it is round and has no angle; time it to a gear"),
    ("phase of something round", [(_F + "hub.phase", {"to": "wheel", "tolerance": "1 mm"})],
     _F + "hub.phase", "a feature of kind turned_diameter is round and has no angle"),
    ("apex groove of an unknown gear", [(_F + "apex.gear", "wheell")],
     _F + "apex.gear", "there is no double-helical gear 'wheell'; did you mean 'wheel'?"),
    ("apex groove of a single gear", [(_F + "apex.gear", "spur")],
     _F + "apex.gear", "'spur' is of kind external_gear, no double-helical gear; double-helical gears of "
     "this part: wheel"),
    ("run-out groove of a cylinder", [(_F + "spur_groove.gear", "hub")],
     _F + "spur_groove.gear", "'hub' is of kind turned_diameter, no gear or spline; gears and splines of "
     "this part: "),
    ("unknown clamping", [(_F + "spur.clamping", "Z")],
     _F + "spur.clamping", "there is no clamping 'Z'; clampings: I, II"),
    ("clamping on an unknown feature", [("clampings.I.on", "hubb")],
     "clampings.I.on", "there is no feature 'hubb'; did you mean 'hub'?"),
    ("outside jaws in a bore", [("clampings.I.on", "bore")],
     "clampings.I.on", "outside jaws cannot hold on 'bore', which is of kind bore; name a turned_diameter"),
    ("inside jaws on a hub", [("clampings.I.on", "hub"), ("clampings.I.hold", "inside jaws")],
     "clampings.I.on", "inside jaws cannot hold on 'hub', which is of kind turned_diameter; name a bore"),
    ("bolts on a hub", [("clampings.II.on", "hub")],
     "clampings.II.on", "bolts cannot hold on 'hub', which is of kind turned_diameter; name a bolt_circle"),
    ("bolts through the raw blank", [("clampings.II.on", "blank")],
     "clampings.II.on", "the raw blank has no holes to bolt through"),
    ("standing on a bore", [("clampings.II.rests_on", "bore")],
     "clampings.II.rests_on", "'bore' is of kind bore, no face; faces: lower_face, upper_face, "
     "shoulder_face, blank"),
    ("standing on the face that is up", [("clampings.II.rests_on", "upper_face")],
     "clampings.II.rests_on", "'upper_face' looks to the upper side, which is up in this clamping"),
    ("wish about an unknown feature", [("order", {"before": [["bore/finish", "hubb/finish"]]})],
     "order.before.0.1", "there is no feature or clamping 'hubb'; did you mean 'hub'?"),
    ("wish without an operation", [("order", {"never_next": [["bore", "hub/finish"]]})],
     "order.never_next.0.0", "'bore' is no operation; write feature/word"),
    ("wish of an operation with itself", [("order", {"before": [["bore/finish", "bore/finish"]]})],
     "order.before.0", "'bore/finish' is paired with itself"),
    ("contrary wishes", [("order", {"before": [["a/b", "c/d"], ["c/d", "a/b"]]})],
     "order.before.1", "'c/d' is wanted before and after 'a/b'; take one of the two wishes out"),
    ("datum by itself", [(_F + "bore.datums", ["A"])],
     _F + "bore.datums", "a circle: bore is located by bore; let the first datum stand by itself"),
    ("datums in a circle", [(_F + "bore.datums", ["B"]), (_F + "lower_face.datums", ["A"])],
     _F + "lower_face.datums", "a circle: lower_face is located by bore, bore is located by lower_face"),
    ("a tolerance in a circle of datums",
     [(_F + "bore.datums", ["B"]),
      (_F + "lower_face.geometric", [{"characteristic": "perpendicularity", "value": "1 mm", "to": ["A"]}])],
     _F + "lower_face.geometric", "a circle: lower_face is located by bore, bore is located by lower_face"),
    ("carriers in a circle", [(_F + "hub.on", "mark"), (_F + "mark.on", "hub")],
     _F + "hub.on", "a circle: hub is carried by mark, mark is carried by hub; name what really carries it"),
]  # fmt: skip


@pytest.mark.parametrize(("edits", "where", "words"), [case[1:] for case in CASES], ids=[c[0] for c in CASES])
def test_fault_of_names(
    wheel: dict[str, Any], change: Any, place: Any, edits: list[Any], where: str, words: str
) -> None:
    document = change(wheel, *edits)
    found = {f.path: "; ".join(w for w in (f.what, f.limit, f.remedy) if w) for f in check_names(document)}
    path = place(document, where)
    assert path in found, found
    assert words in found[path]


def test_right_names_give_no_fault(wheel: dict[str, Any], shaft: dict[str, Any]) -> None:
    assert check_names(wheel) == check_names(shaft) == ()


def test_three_datums_in_a_circle_are_told_once(wheel: dict[str, Any], change: Any) -> None:
    document = change(
        wheel,
        ("datums", {"A": "bore", "B": "lower_face", "C": "hub"}),
        ("features.bore.datums", ["B"]),
        ("features.lower_face.datums", ["C"]),
        ("features.hub.datums", ["A"]),
        ("features.spline.datums", ["A", "B"]),
        ("features.wheel.datums", []),
    )
    circles = [fault.what for fault in check_names(document)]
    assert circles == [
        "a circle: lower_face is located by hub, hub is located by bore, bore is located by lower_face"
    ]


@pytest.mark.parametrize("document", [None, 5, "x", [], {}, {"features": 5}, {"features": [1, {"name": []}]}])
def test_names_of_nonsense(document: Any) -> None:
    assert check_names(document) == ()
