"""Values of handbook tables as they stand on the gear data sheet, from the words of the drawing to the print.

Books: "Elements of Metric Gear Technology" (tables 4-4, 6-1, 10-1 to 10-16) and "Machinery's Handbook"
(measurement over wires); values recalled unless the tests of the formulas say seen. Tolerance: half a unit
of the last printed digit.
"""

from __future__ import annotations

import pytest

from sequencer.datasheet import DataSheet, data_sheet
from sequencer.datasheet.options import wanted_from_options
from sequencer.papers.gear_sheet import gear_lines


def sheet(**words: str) -> DataSheet:
    return data_sheet(wanted_from_options({"face_width": "30 mm", **words}))


def shown(made: DataSheet, name: str) -> str:
    """What the page shows behind a name."""
    return next(line for line in gear_lines(made) if line.startswith(f"  {name}:")).split(":", 1)[1].strip()


def number(made: DataSheet, name: str) -> float:
    return next(fact.value for fact in made.facts if fact.name == name)


def test_span_of_a_handbook_gear() -> None:
    """Table 10-7: module 3, 24 teeth, x 0.4: over 4 teeth 32.8266 mm; the page rounds to 0.001 mm."""
    made = sheet(teeth="24", module="3 mm", profile_shift="0.4")
    assert shown(made, "teeth spanned").startswith("4 ")
    assert shown(made, "span, nominal") == "32.827 mm"
    assert number(made, "span, nominal") == pytest.approx(32.8266, abs=5e-5)


def test_chordal_thickness_of_a_handbook_gear() -> None:
    """Tables 10-1 to 10-4 (seen): mn 5, 16 teeth, 25 deg, x 0.2: 8.5728 mm at 6.1712 mm."""
    made = sheet(teeth="16", module="5 mm", helix_angle="25 deg", hand="right", profile_shift="0.2")
    assert number(made, "chordal thickness, nominal") == pytest.approx(8.5728, abs=5e-5)
    assert number(made, "height of the tip over the chord") == pytest.approx(6.1712, abs=5e-5)
    assert number(made, "normal tooth thickness") == pytest.approx(8.5819, abs=5e-5)


@pytest.mark.parametrize(
    ("teeth", "angle", "measurement"),
    [("10", "20 deg", 12.3445), ("12", "14.5 deg", 14.3590), ("28", "14.5 deg", 30.4374)],
)
def test_measurement_over_wires_of_one_diametral_pitch(teeth: str, angle: str, measurement: float) -> None:
    """Machinery's Handbook, external spur gears, 1 DP, wires of 1.728 in, in inches."""
    made = sheet(
        teeth=teeth,
        module="DP 1",
        pressure_angle=angle,
        face_width="3 in",
        ball_diameter="1.728 in",
        dedendum="1.157",
        units="in",
    )
    assert shown(made, "measurement over balls, nominal") == f"{measurement:g} in"


def test_pair_in_the_normal_system() -> None:
    """Table 6-1: mn 3, 12/60 teeth, 30 deg, x1 0.09809, a 125 mm."""
    made = sheet(
        teeth="12",
        module="3 mm",
        helix_angle="30 deg",
        hand="right",
        profile_shift="0.09809",
        face_width="20 mm",
        mate_teeth="60",
        mate_shift="0",
    )
    assert number(made, "transverse pressure angle") == pytest.approx(22.79588, abs=5e-6)
    assert number(made, "working pressure angle") == pytest.approx(23.1126, abs=5e-5)
    assert number(made, "centre distance without backlash") == pytest.approx(125.0, abs=5e-4)
    assert number(made, "working pitch diameter, gear 1") == pytest.approx(41.667, abs=5e-4)
    assert number(made, "working pitch diameter, gear 2") == pytest.approx(208.333, abs=5e-4)
    assert number(made, "overlap ratio") == pytest.approx(1.061, abs=5e-4)


def test_profile_shift_from_the_centre_distance() -> None:
    """Table 4-4: module 3, 12/24 teeth, a 56.5 mm: angle 26.0888 deg, sum of the shifts 0.96."""
    made = sheet(teeth="12", module="3 mm", profile_shift="0.6", mate_teeth="24", centre_distance="56.5 mm")
    assert number(made, "working pressure angle") == pytest.approx(26.0888, abs=5e-5)
    assert number(made, "sum of the profile shifts without backlash") == pytest.approx(0.96, abs=5e-4)
    assert number(made, "profile shift of the mate") == pytest.approx(0.36, abs=5e-4)


def test_internal_pair() -> None:
    """Table 5-1: module 3, pinion 16, internal gear 24 with shift 0.5: a 13.1683 mm."""
    made = sheet(
        kind="internal_gear", teeth="24", module="3 mm", profile_shift="0.5", mate_teeth="16", mate_shift="0"
    )
    assert number(made, "centre distance without backlash") == pytest.approx(13.1683, abs=5e-5)
    assert number(made, "working pitch diameter, gear 1") == pytest.approx(52.673, abs=5e-4)
    assert number(made, "working pitch diameter, gear 2") == pytest.approx(79.010, abs=5e-4)
    assert (number(made, "tip diameter"), number(made, "root diameter")) == pytest.approx((69.0, 82.5))


@pytest.mark.parametrize(
    ("teeth", "mate", "values"),
    [
        ("20", "40", (26.56505, 67.08204, 4.035, 2.529, 30.48699, 24.40602, 67.218, 58.1955, 44.8425)),
        ("40", "20", (63.43495, 67.08204, 1.965, 4.599, 65.59398, 59.51301, 121.7575, 28.2425, 81.6609)),
    ],
)
def test_straight_bevel_pair(teeth: str, mate: str, values: tuple[float, ...]) -> None:
    """Elements of Metric Gear Technology, table 8-3 (from memory): module 3, 20/40, face 22 mm, 90 deg."""
    sheet = data_sheet(
        wanted_from_options({
            "kind": "bevel_gear", "teeth": teeth, "mate_teeth": mate, "module": "3 mm",
            "face_width": "22 mm", "mounting_distance": "100 mm", "proportions": "unequal addendum",
        })
    )  # fmt: skip
    found = {fact.name: fact.value for fact in sheet.facts}
    names = (
        "pitch cone angle", "outer cone distance", "outer addendum", "outer dedendum", "tip cone angle",
        "root cone angle", "tip diameter, outer end", "cone apex to crown", "tip diameter, inner end",
    )  # fmt: skip
    assert tuple(found[name] for name in names) == pytest.approx(values, abs=1e-4)


def test_start_of_active_profile_of_equal_gears() -> None:
    """Derived: two equal gears touch symmetrically, so the active profile starts where the path is left over.

    z 30, module 5: a 150, awt 20 deg; L = a sin awt - sqrt(ra^2 - rb^2) with ra 80, rb 75 cos 20.
    """
    made = sheet(teeth="30", module="5 mm", mate_teeth="30", mate_shift="0")
    rest = 150 * 0.3420201433 - (80**2 - (75 * 0.9396926208) ** 2) ** 0.5
    assert number(made, "tangent where the tip of gear 2 meets gear 1") == pytest.approx(rest, abs=1e-6)
    assert number(made, "start of active profile, gear 1") == pytest.approx(
        2 * ((75 * 0.9396926208) ** 2 + rest**2) ** 0.5, abs=1e-6
    )
    assert number(made, "tip clearance of gear 1") == pytest.approx(1.25)
