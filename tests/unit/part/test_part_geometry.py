"""Parts that cannot exist: each fault says where it is, which limit is broken and what to do."""

from __future__ import annotations

from typing import Any

import pytest

_F = "features."
_RIM = {"name": "rim", "kind": "turned_diameter", "z_from": 0, "z_to": "330 mm"}
_HUB = {"name": "hub2", "kind": "turned_diameter", "z_from": "430 mm", "z_to": "440 mm"}
_WEB = {
    "name": "web2", "kind": "face_groove", "on": "lower_face", "side": "lower",
    "outer_diameter": "700 mm", "inner_diameter": "640 mm", "depth": "280 mm",
}  # fmt: skip
_PINS = {
    "name": "pins", "kind": "bolt_circle", "on": "lower_face", "circle_diameter": "570 mm",
    "count": 4, "diameter": "12 mm", "depth": "30 mm",
}  # fmt: skip
_INNER = {
    "name": "inner", "kind": "internal_gear", "teeth": 100, "module": "4 mm", "z_from": "380 mm",
    "z_to": "440 mm", "flank_class": {"year": 2013, "class": 7},
}  # fmt: skip

WHEEL = [
    ("face outside the blank", [(_F + "upper_face.z", "460 mm")], "upper_face.z",
     "the face at z 460 mm lies outside the blank; blank from -8 mm to 448 mm; correct z, or order a "
     "longer blank"),
    ("gear larger than the blank", [(_F + "wheel.tip_diameter", "940 mm")], "wheel.tip_diameter",
     "its diameter 940 mm is larger than the blank; blank diameter 930 mm"),
    ("cylinder larger than the blank", [(_F + "hub.diameter", "931 mm")], "hub.diameter",
     "its diameter 931 mm is larger than the blank"),
    ("bore smaller than the raw bore", [(_F + "bore.diameter", "170 mm")], "bore.diameter",
     "its diameter 170 mm is smaller than the bore of the blank; blank bore 180 mm"),
    ("bore below the part", [(_F + "bore.z_from", "-4 mm")], "bore.z_from",
     "it begins at z -4 mm, below the part; the face lower_face at 0 mm"),
    ("hub above the part", [(_F + "hub.z_to", "445 mm")], "hub.z_to",
     "it ends at z 445 mm, above the part; the face upper_face at 440 mm"),
    ("half a gear below the part", [(_F + "wheel.lower.z_from", "-2 mm")], "wheel.lower.z_from",
     "it begins at z -2 mm, below the part"),
    ("the face that ends the part forgotten", [(_F + "upper_face", ...)], "spur.z_to",
     "it ends at z 425 mm, above the part; the face shoulder_face at 330 mm; "
     "correct its ends or the position of the face, or add the face that ends the part"),
    ("face where the section has none", [(_F + "shoulder_face.z", "335 mm")], "shoulder_face.z",
     "at z 335 mm the section has no face that looks to the upper side; "
     "the nearest upper step of the section is at z 330 mm"),
    ("face wider than the part", [(_F + "shoulder_face.outer_diameter", "950 mm")],
     "shoulder_face.outer_diameter", "outer_diameter 950 mm is larger than the part; outside diameter "
     "901.396 mm"),
    ("face with its edges exchanged",
     [(_F + "shoulder_face.outer_diameter", "800 mm"), (_F + "shoulder_face.inner_diameter", "900 mm")],
     "shoulder_face.inner_diameter", "inner_diameter 900 mm is not below outer_diameter 800 mm"),
    ("chamfer of a face", [(_F + "bore_chamfer.on", "lower_face")], "bore_chamfer.on",
     "'lower_face' is of kind face, which has no round edge of its own; name the cylinder"),
    ("radius longer than its cylinder", [(_F + "hub_radius.size", "16 mm")], "hub_radius.size",
     "radius of 16 mm on one edge; 'hub' is 15 mm long; make it smaller"),
    ("chamfers on both edges meet", [(_F + "hub_radius.size", "8 mm"), (_F + "hub_radius.edge", "both")],
     "hub_radius.size", "radius of 8 mm on both edges; 'hub' is 15 mm long"),
    ("flat angle of a chamfer", [(_F + "bore_chamfer.angle", "95 deg")], "bore_chamfer.angle",
     "angle 95 deg; above 0 deg and below 90 deg"),
    ("chamfer through the wall", [(_F + "bore_chamfer.size", "90 mm"), (_F + "bore_chamfer.angle", "76 deg")],
     "bore_chamfer.size", "the chamfer goes 360.97"),
    ("hub cuts teeth", [(_F + "hub.z_from", "420 mm")], "hub.diameter",
     "'hub' of 460 mm cuts the teeth of 'spur'; tip diameter 492 mm, root 465 mm; end 'hub' at the teeth"),
    ("cylinder over teeth, not their carrier", [(_F + "+", {**_RIM, "diameter": "920 mm"})], "wheel",
     "'rim' and 'wheel' both say what the outside is at z 0 to 120 mm; one feature at each height; "
     "end 'rim' at the teeth, or write on: rim at 'wheel'"),
    ("carrier smaller than its teeth",
     [(_F + "+", {**_RIM, "diameter": "880 mm"}), (_F + "wheel.on", "rim")], "rim.diameter",
     "'rim' of 880 mm cuts the teeth of 'wheel'; tip diameter 901.396 mm"),
    ("teeth over teeth", [(_F + "spur.z_from", "320 mm")], "spur",
     "'wheel' and 'spur' both say what the outside is at z 320 to 330 mm"),
    ("step that never comes to light", [(_F + "+", {**_HUB, "diameter": "470 mm"})], "hub2",
     "nothing is left of 'hub2': the other feature at z 430 to 440 mm cuts it away; 'hub' is the deeper cut"),
    ("cylinder that is turned away", [(_F + "+", {**_HUB, "z_from": "425 mm", "diameter": "450 mm"})], "hub",
     "nothing is left of 'hub': the other feature at z 425 to 440 mm cuts it away; 'hub2' is the deeper cut"),
    ("bore cuts the spline", [(_F + "bore.diameter", "250 mm")], "bore.diameter",
     "'bore' of 250 mm cuts the teeth of 'spline'; tip diameter 232 mm, root 240 mm"),
    ("bore as wide as the hub", [(_F + "bore.diameter", "460 mm")], "hub",
     "no wall is left between 'hub' (460 mm) and 'bore' (460 mm)"),
    ("rim under teeth too thin", [(_F + "bore.diameter", "460 mm"), (_F + "bore.z_to", "380 mm")], "spur",
     "only 2.5 mm of wall is left between 'spur' (465 mm) and 'bore' (460 mm); "
     "floors of grooves and roots of teeth counted; half a module is 3 mm"),
    ("groove through to the bore", [(_F + "spur_groove.diameter", "200 mm")], "spur_groove",
     "no wall is left between 'spur_groove' (200 mm) and 'bore' (200 mm)"),
    ("root of an internal gear outside the part", [(_F + "+", {**_INNER, "teeth": 113}), (_F + "spline",
    ...)],
     "spur", "only 1.5 mm of wall is left between 'spur' (465 mm) and 'inner' (462 mm)"),
    ("groove above the surface", [(_F + "oil_groove.diameter", "190 mm")], "oil_groove.diameter",
     "its floor of 190 mm is not outside the surface around it; the surface there has 200 mm"),
    ("face groove in a bore", [(_F + "web_groove.on", "bore")], "web_groove.on",
     "'bore' is of kind bore, no face; name the face"),
    ("face groove that looks the other way", [(_F + "web_groove.side", "lower")], "web_groove.side",
     "side lower, but 'shoulder_face' looks to the upper side"),
    ("face groove outside its face", [(_F + "web_groove.outer_diameter", "910 mm")],
     "web_groove.outer_diameter", "outer_diameter 910 mm lies outside 'shoulder_face'; the face ends at "
     "901.396 mm"),
    ("face groove in the bore of its face", [(_F + "web_groove.inner_diameter", "450 mm")],
     "web_groove.inner_diameter", "lies inside the bore of 'shoulder_face'; the face begins at 462 mm"),
    ("face groove through the part", [(_F + "web_groove.depth", "330 mm")], "web_groove.depth",
     "depth 330 mm goes through the material below 'shoulder_face'; 330 mm of material; make it less deep"),
    ("face groove breaks into the tooth root", [(_F + "web_groove.outer_diameter", "866 mm")],
     "web_groove.outer_diameter", "breaks through into 'wheel'; its floor or tooth root has 865.396 mm"),
    ("face grooves meet", [(_F + "+", _WEB)], "web2",
     "it runs into 'web_groove'; web_groove z 270 to 330 mm, 620 mm to 700 mm"),
    ("root above the tip", [(_F + "wheel.root_diameter", "920 mm")], "wheel.root_diameter",
     "tip diameter 901.396 mm and root diameter 920 mm; the tip of an external gear is the larger one"),
    ("tip below the root", [(_F + "wheel.tip_diameter", "860 mm")], "wheel.tip_diameter",
     "tip diameter 860 mm and root diameter 865.396 mm"),
    ("tip above the root of an internal gear", [(_F + "+", {**_INNER, "tip_diameter": "420 mm"})],
     "inner.tip_diameter", "the tip of an internal gear is the smaller one"),
    ("pointed teeth", [(_F + "spur.tip_diameter", "530 mm"), (_F + "spur.addendum", 2.0)],
    "spur.tip_diameter",
     "tooth is pointed: tip thickness"),
    ("allowance larger than the tooth",
     [(_F + "wheel.thickness_upper", "-1 mm"), (_F + "wheel.thickness_lower", "-10 mm")],
     "wheel.thickness_lower", "a thickness allowance of -10 mm leaves no tooth; half a module is 4 mm; "
     "check its unit"),
    ("chamfer larger than the teeth", [(_F + "spur.tooth_chamfer", "8 mm")], "spur.tooth_chamfer",
     "a tooth_chamfer of 8 mm takes away the tooth ends; at most one module, 6 mm"),
    ("gap without a groove", [(_F + "apex", ...), (_F + "oil_holes", ...)], "wheel",
     "the gap between its halves (z 120 to 210 mm) has no apex_groove; add a feature of kind apex_groove"),
    ("two grooves in one gap", [(_F + "+", {"name": "apex2", "kind": "apex_groove", "gear": "wheel",
                                            "z_from": "120 mm", "z_to": "210 mm", "diameter": "864 mm"})],
     "apex2.gear", "'wheel' has an apex groove already: 'apex'"),
    ("apex groove not between the helices", [(_F + "apex.z_from", "121 mm")], "apex.z_from",
     "z_from 121 mm: the gap between the helices is z 120 to 210 mm; write z_from: 120 mm, or correct the "
     "halves"),
    ("apex groove too long", [(_F + "apex.z_to", "211 mm")], "apex.z_to", "write z_to: 210 mm"),
    ("apex groove above the root", [(_F + "apex.diameter", "870 mm")], "apex.diameter",
     "its floor of 870 mm does not reach the tooth root, the cutter would run into it; "
     "root diameter of 'wheel' 865.396 mm; make it smaller than the root"),
    ("run-out groove above the root", [(_F + "spur_groove.diameter", "470 mm")], "spur_groove.diameter",
     "root diameter of 'spur' 465 mm"),
    ("run-out groove inside above the root", [(_F + "spline_groove.diameter", "236 mm")],
     "spline_groove.diameter", "root diameter of 'spline' 240 mm; make it larger than the root"),
    ("run-out groove beside nothing", [(_F + "spur_groove.z_to", "350 mm")], "spur_groove.z_from",
     "at z 330 to 350 mm it is not at an end of 'spur'; teeth z 355 to 425 mm; "
     "let it end at z 355 mm or begin at z 425 mm"),
    ("run-out groove on the other side of the wall", [(_F + "spline_groove.place", "outside")],
     "spline_groove.place", "it lies outside, the teeth of 'spline' lie inside; write place: inside"),
    ("spline that DIN 5480 does not have", [(_F + "spline.teeth", 50)], "spline.teeth",
     "50 teeth need a profile shift factor of 4.450; -0.05 to 0.45; Use 58 teeth"),
    ("pressure angle that DIN 5480 does not have", [(_F + "spline.pressure_angle", "45 deg")],
     "spline.pressure_angle", "pressure angle is 45 deg; 30 deg"),
    ("pitch larger than a hole", [(_F + "bolts.thread_pitch", "8 mm")], "bolts.thread_pitch",
     "thread_pitch 8 mm of a thread of 20 mm; at most a third of the diameter"),
    ("thread deeper than its hole", [(_F + "bolts.thread_depth", "60 mm")], "bolts.thread_depth",
     "thread_depth 60 mm is deeper than the hole; depth 50 mm"),
    ("thread depth without a thread", [(_F + "bolts.thread_pitch", ...)], "bolts.thread_depth",
     "thread_depth is given but no thread_pitch"),
    ("counterbore as deep as the hole",
     [(_F + "bolts.counterbore", {"diameter": "33 mm", "depth": "50 mm"})], "bolts.counterbore.depth",
     "the counterbore of 50 mm is as deep as the hole"),
    ("holes cut each other", [(_F + "bolts.count", 90)], "bolts.count",
     "90 holes of 20 mm on a circle of 560 mm cut each other; from hole to hole 19.544 mm"),
    ("bolt circle outside its face", [(_F + "bolts.circle_diameter", "890 mm")], "bolts.circle_diameter",
     "holes of 20 mm on a circle of 890 mm do not lie in 'lower_face'; the face reaches from 200 mm to "
     "901.396 mm"),
    ("bolt circle in the bore", [(_F + "bolts.circle_diameter", "215 mm")], "bolts.circle_diameter",
     "holes of 20 mm on a circle of 215 mm do not lie in 'lower_face'"),
    ("holes break into the tooth root", [(_F + "bolts.circle_diameter", "860 mm")], "bolts.circle_diameter",
     "the holes break out at the side into 'wheel'; its floor or tooth root has 865.396 mm, z 0 to 50 mm"),
    ("holes break into the spline groove",
     [(_F + "bolts.on", "upper_face"), (_F + "bolts.circle_diameter", "262 mm"), (_F + "bolts.depth", "90 "
     "mm")],
     "bolts.circle_diameter", "the holes break out at the side into 'spline_groove'"),
    ("blind holes through the part", [(_F + "bolts.depth", "335 mm")], "bolts.depth",
     "depth 335 mm goes through the material; 330 mm of material on that circle"),
    ("holes cut a face groove", [(_F + "bolts.depth", "300 mm"), (_F + "bolts.circle_diameter", "610 mm")],
     "bolts.circle_diameter", "the holes cut the wall of 'web_groove'"),
    ("axial holes in a bore", [(_F + "bolts.on", "bore")], "bolts.on",
     "axial holes enter a face; 'bore' is of kind bore; name a face, or write direction: radial"),
    ("holes of two circles meet", [(_F + "+", _PINS), (_F + "bolts.phase", ...)], "pins.circle_diameter",
     "its holes meet those of 'bolts'; nearest centres 5 mm apart, 16 mm needed"),
    ("radial holes outside their cylinder", [(_F + "oil_holes.z", "123 mm")], "oil_holes.z",
     "holes of 10 mm at z 123 mm do not lie in 'apex'; apex z 120 to 210 mm"),
    ("radial holes in a face", [(_F + "oil_holes.on", "lower_face")], "oil_holes.on",
     "radial holes enter a cylinder; 'lower_face' is none"),
    ("radial holes through the wall", [(_F + "oil_holes.depth", "400 mm")], "oil_holes.depth",
     "depth 400 mm goes through the wall; wall 332 mm"),
    ("radial holes cut each other", [(_F + "oil_holes.count", 360)], "oil_holes.count",
     "360 holes of 10 mm on a circle of 864 mm cut each other"),
    ("keyway on a face", [(_F + "keyway.on", "lower_face")], "keyway.on",
     "'lower_face' is of kind face; a keyway lies on a bore or a diameter"),
    ("keyway longer than the bore", [(_F + "keyway.z_to", "450 mm")], "keyway.z_to",
     "at z 0 to 450 mm it reaches beyond 'bore'; bore z 0 to 440 mm"),
    ("keyway wider than the bore", [(_F + "keyway.width", "210 mm")], "keyway.width",
     "width 210 mm in 'bore' of 200 mm; narrower than the diameter"),
    ("keyway through the wall", [(_F + "keyway.depth", "340 mm")], "keyway.depth",
     "depth 340 mm goes through the wall into 'wheel'; floor of the keyway at 880 mm"),
    ("keyway outside through to the bore", [(_F + "keyway.on", "hub"), (_F + "keyway.z_from", "425 mm"),
                                            (_F + "keyway.z_to", "440 mm"), (_F + "keyway.depth", "112 mm")],
     "keyway.depth", "goes through the wall into 'spline'; floor of the keyway at 236 mm"),
    ("flat in a bore", [(_F + "flat.on", "bore")], "flat.on", "a flat lies on an outside diameter"),
    ("flat that does not touch", [(_F + "flat.distance", "240 mm")], "flat.distance",
     "distance 240 mm from the axis does not touch 'hub'; radius 230 mm"),
    ("flat through to the spline", [(_F + "flat.distance", "110 mm")], "flat.distance",
     "distance 110 mm from the axis breaks through into 'spline'; radius there 120 mm"),
    ("corner radius too large", [(_F + "pocket.corner_radius", "18 mm")], "pocket.corner_radius",
     "corner_radius 18 mm does not fit; at most half of 30 mm"),
    ("pockets without a circle", [(_F + "pocket.circle_diameter", ...)], "pocket",
     "circle_diameter is missing: several pockets in a face lie on a circle"),
    ("pockets outside their face", [(_F + "pocket.circle_diameter", "890 mm")], "pocket.circle_diameter",
     "pockets 30 mm wide on a circle of 890 mm do not lie in 'shoulder_face'"),
    ("pocket through the part", [(_F + "pocket.depth", "340 mm")], "pocket.depth",
     "depth 340 mm is more than the material; 330 mm of material there"),
    ("pocket without a height", [(_F + "pocket.on", "hub")], "pocket",
     "z is missing: a pocket in a diameter has its middle at a height; add z"),
    ("pocket beside its cylinder", [(_F + "pocket.on", "hub"), (_F + "pocket.z", "428 mm")], "pocket.z",
     "at z 428 mm it reaches beyond 'hub'; hub z 425 to 440 mm"),
    ("pocket through the wall",
     [(_F + "pocket.on", "wheel"), (_F + "pocket.z", "60 mm"), (_F + "pocket.depth", "500 mm")],
     "pocket.depth", "depth 500 mm is more than the wall; wall 350.698 mm"),
    ("pocket in a mark", [(_F + "pocket.on", "mark")], "pocket.on", "a pocket lies in a face or a diameter"),
    ("mark in a keyway", [(_F + "mark.on", "keyway")], "mark.on", "text is engraved on a face or a diameter"),
    ("letters larger than the surface", [(_F + "mark.on", "hub"), (_F + "mark.height", "20 mm")],
    "mark.height",
     "letters of 20 mm do not fit on 'hub'; 15 mm of room"),
    ("not next to each other", [(_F + "spur.next_to", ["hub", "apex"])], "spur.next_to.1",
     "'apex' is 145 mm away along the axis; spur z 355 to 425 mm, apex z 120 to 210 mm"),
    ("roughness in mm", [(_F + "bore.roughness", "1.6 mm")], "bore.roughness",
     "a roughness Ra of 1.6 mm; at most 100 um; write it in um"),
    ("runout without a datum", [(_F + "wheel.geometric.0.to", [])], "wheel.geometric.0",
     "runout refers to a datum, none is given; ISO 1101; add to: [A]"),
    ("flatness with a datum", [(_F + "wheel.geometric.0.characteristic", "flatness")], "wheel.geometric.0.to",
     "flatness is a tolerance of form and has no datum; ISO 1101"),
    ("shaft tolerance of a bore", [(_F + "bore.tolerance", "h7")], "bore.tolerance",
     "h7 is a tolerance of a shaft, this lies inside; ISO 286: capital letters for holes, small ones for "
     "shafts; "
     "write H7"),
    ("hole tolerance of a shaft", [(_F + "hub.tolerance", "H7")], "hub.tolerance",
     "H7 is a tolerance of a hole, this lies outside"),
    ("unknown tolerance letter", [(_F + "hub.tolerance", "q7")], "hub.tolerance", 'letter "q" of class "q7"'),
    ("unknown tolerance grade", [(_F + "hub.tolerance", "h19")], "hub.tolerance", "IT1"),
    ("hard finish without hardening", [(_F + "spur.hard_finish", True)], "spur.hard_finish",
     "hard_finish is asked, but the part has no heat_treatment"),
]  # fmt: skip

SHAFT = [
    ("coarse pitch", [(_F + "thread.pitch", "30 mm")], "thread.pitch",
     "pitch 30 mm of a thread of 100 mm; at most a quarter of the diameter"),
    ("cylinder runs into a cone", [(_F + "neck.z_to", "62 mm")], "cone",
     "'neck' and 'cone' both say what the outside is at z 60 to 62 mm; one feature at each height; "
     "correct the end of one of them"),
    ("groove larger than its cylinder", [(_F + "ring_groove.diameter", "185 mm")], "ring_groove.diameter",
     "its floor of 185 mm is not below the surface around it; the surface there has 180 mm"),
    ("groove longer than its carrier", [(_F + "ring_groove.z_from", "90 mm"), (_F + "ring_groove.on",
    "body")],
     "ring_groove.z_from", "at z 90 to 150 mm it reaches beyond 'body'; body z 100 to 200 mm"),
    ("groove carried by a face", [(_F + "ring_groove.on", "low")], "ring_groove.on",
     "it lies outside, 'low' does not; name the cylinder or bore"),
    ("bevel teeth longer than their zone", [(_F + "bevel.face_width", "80 mm")], "bevel.z_to",
     "its teeth take 70.221 mm of the axis, z 240 to 300 mm is less"),
    ("bevel gear mounted on a cylinder", [(_F + "bevel.mounting_face", "body")], "bevel.mounting_face",
     "'body' is of kind turned_diameter, no face"),
    ("unknown mounting face", [(_F + "bevel.mounting_face", "lo")], "bevel.mounting_face",
     "there is no feature 'lo'; did you mean 'low'?"),
    ("cone apex inside the teeth", [(_F + "bevel.mounting_distance", "290 mm")], "bevel.mounting_distance",
     "the mounting distance 290 mm puts the cone apex at z 290 mm; the apex lies above the teeth, z 240 "
     "to 300 mm"),
    ("cones that cannot exist", [(_F + "bevel.shaft_angle", "179 deg")], "bevel.teeth", "pitch cone angle"),
    ("face width beyond the apex", [(_F + "bevel.face_width", "400 mm")], "bevel.face_width", "face width"),
]  # fmt: skip

CLAMPINGS = [
    ("jaws beyond the blank", [("clampings.I.z_to", "460 mm")], "clampings.I.z_to",
     "the jaws cover z 380 to 460 mm, beyond the blank; the blank z -8 to 448 mm"),
    ("jaws beyond what they grip", [("clampings.I.on", "hub")], "clampings.I.z_from",
     "the jaws cover z 380 to 448 mm, beyond 'hub'; hub z 425 to 440 mm; correct the band, or on"),
    ("inside jaws in a solid blank", [("blank.bore", "0 mm"), ("clampings.I.hold", "inside jaws")],
     "clampings.I.hold", "the blank is solid, there is no bore to grip"),
    ("blind holes that look up", [("clampings.II.up", "lower"), ("clampings.II.rests_on", "upper_face")],
     "clampings.II.on", "the blind holes of 'bolts' open to the lower side, which is up in this clamping"),
    ("bolts in radial holes", [("clampings.II.on", "oil_holes")], "clampings.II.on", "'oil_holes' has "
    "radial holes"),
    ("due before the order", [("due", "2026-12-31")], "due",
     "due 2026-12-31 lies before order_date; order_date 2027-01-04; correct one of the two dates"),
]  # fmt: skip


def _check(faults_of: Any, place: Any, document: Any, edits: Any, where: str, words: str) -> None:
    changed, faults = faults_of(document, *edits)
    said = [(f.path, "; ".join(w for w in (f.what, f.limit, f.remedy) if w)) for f in faults]
    path = place(changed, where)
    assert [text for at, text in said if at == path and words in text], said


def _table(cases: list[Any]) -> Any:
    return pytest.mark.parametrize(
        ("edits", "where", "words"), [case[1:] for case in cases], ids=[case[0] for case in cases]
    )


@_table(WHEEL)
def test_impossible_wheel(wheel: Any, faults_of: Any, place: Any, edits: Any, where: str, words: str) -> None:
    _check(faults_of, place, wheel, edits, "features." + where, words)


@_table(SHAFT)
def test_impossible_shaft(shaft: Any, faults_of: Any, place: Any, edits: Any, where: str, words: str) -> None:
    _check(faults_of, place, shaft, edits, "features." + where, words)


@_table(CLAMPINGS)
def test_impossible_clamping(
    wheel: Any, faults_of: Any, place: Any, edits: Any, where: str, words: str
) -> None:
    _check(faults_of, place, wheel, edits, where, words)


ALLOWED = [
    ("teeth on the cylinder that makes their tip", [(_F + "+", {**_RIM, "diameter": "902 mm"}),
    (_F + "wheel.on", "rim")]),
    ("teeth on a cylinder of their tip, on not written", [(_F + "+", {**_RIM, "diameter": "902 mm"})]),
    ("teeth on a larger cylinder that carries them", [(_F + "+", {**_RIM, "diameter": "920 mm"}),
    (_F + "wheel.on", "rim")]),
    ("a step in a longer cylinder", [(_F + "+", {**_HUB, "diameter": "450 mm"}), (_F + "flat", ...),
    (_F + "hub_radius.on", "hub2")]),
    ("rounded sizes", [(_F + "apex.z_from", "120.01 mm"), (_F + "shoulder_face.z", "330.01 mm")]),
    ("floor of a groove just at the root", [(_F + "spur_groove.diameter", "465 mm")]),
    ("holes timed to teeth have no fixed angle", [(_F + "+", _PINS)]),
    ("through holes", [(_F + "bolts.depth", ...), (_F + "bolts.circle_diameter", "580 mm")]),
    ("no clampings", [("clampings", []), (_F + "spur.clamping", "II")]),
    ("hard finish of a hardened part",
     [(_F + "spur.hard_finish", True), ("heat_treatment", {"kind": "case hardening"})]),
]  # fmt: skip


@pytest.mark.parametrize("edits", [case[1] for case in ALLOWED], ids=[case[0] for case in ALLOWED])
def test_right_parts_give_no_fault(wheel: Any, faults_of: Any, edits: Any) -> None:
    assert faults_of(wheel, *edits)[1] == ()


def test_all_faults_come_at_once(wheel: Any, faults_of: Any) -> None:
    _, faults = faults_of(
        wheel,
        ("features.keyway.on", "bor"),
        ("features.spur_groove.diameter", "470 mm"),
        ("features.bore.roughness", "1.6 mm"),
        ("clampings.I.z_to", "460 mm"),
    )
    assert [fault.path for fault in faults] == [
        ("features", 14, "on"),
        ("features", 6, "diameter"),
        ("clampings", 0, "z_to"),
        ("features", 3, "roughness"),
    ]


def test_a_large_part_is_checked(faults_of: Any) -> None:
    """The largest part that is read: many steps, holes and faces."""
    steps = [{"name": f"d{i}", "kind": "turned_diameter", "z_from": f"{i} mm", "z_to": f"{i + 1} mm",
              "diameter": f"{900 - i} mm"} for i in range(250)]  # fmt: skip
    holes = [{"name": f"h{i}", "kind": "bolt_circle", "on": "low", "circle_diameter": f"{100 + 2 * i} mm",
              "count": 36, "diameter": "4 mm", "depth": "10 mm"} for i in range(248)]  # fmt: skip
    faces = [{"name": "low", "kind": "face", "side": "lower", "z": 0},
             {"name": "up", "kind": "face", "side": "upper", "z": "250 mm"}]  # fmt: skip
    blank = {"form": "bar", "diameter": "900 mm", "z_from": "-1 mm", "z_to": "251 mm"}
    document = {
        "name": "x",
        "drawing": "x",
        "material": "x",
        "blank": blank,
        "features": steps + holes + faces,
    }
    faults = faults_of(document)[1]
    assert len(faults) > 200
    assert {fault.what.split(" of ")[0] for fault in faults} == {"its holes meet those"}
