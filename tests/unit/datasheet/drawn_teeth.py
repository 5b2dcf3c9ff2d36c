"""Invented teeth in the words of the options, one for each kind of sheet."""

from __future__ import annotations

from sequencer.datasheet import DataSheet, data_sheet
from sequencer.datasheet.options import wanted_from_options

COMMON = {
    "face_width": "50 mm",
    "thickness_upper": "-0.06 mm",
    "thickness_lower": "-0.11 mm",
    "flank_class": "ISO 1328-1:2013 class 7",
}
EXTERNAL = {
    **COMMON,
    "teeth": "40",
    "module": "4 mm",
    "helix_angle": "15 deg",
    "hand": "right",
    "profile_shift": "0.3",
    "mate_teeth": "61",
    "mate_shift": "-0.1",
}
INTERNAL = {
    **COMMON,
    "kind": "internal_gear",
    "teeth": "81",
    "module": "5 mm",
    "mate_teeth": "30",
    "centre_distance": "128 mm",
    "flank_class": "ISO 1328-1:1995 grade 6",
}
DOUBLE = {
    **COMMON,
    "kind": "double_helical_gear",
    "teeth": "80",
    "module": "7 mm",
    "helix_angle": "25 deg",
    "hand": "left",
    "face_width": "95 mm",
    "gap": "70 mm",
    "apex_tolerance": "0.05 mm",
}
INCH = {
    **COMMON,
    "units": "in",
    "teeth": "50",
    "module": "TDP 5",
    "helix_angle": "22°30'",
    "hand": "left",
    "face_width": "2.5 in",
    "thickness_upper": "-0.003 in",
    "thickness_lower": "-0.006 in",
}
UNDERCUT = {**COMMON, "teeth": "9", "module": "5 mm"}
DIN_HUB = {
    "kind": "spline", "standard": "DIN 5480", "teeth": "62", "module": "3 mm", "reference_diameter": "190 mm",
    "face_width": "60 mm", "place": "inside", "tolerance_class": "9H",
}  # fmt: skip
DIN_SHAFT = {**DIN_HUB, "place": "outside", "tolerance_class": "8f"}
ISO_SHAFT = {
    "kind": "spline", "standard": "ISO 4156", "teeth": "31", "module": "3 mm", "face_width": "60 mm",
    "tolerance_class": "5f",
}  # fmt: skip
ISO_HUB = {
    **ISO_SHAFT,
    "teeth": "32",
    "place": "inside",
    "tolerance_class": "H/6",
    "pressure_angle": "45 deg",
}
ANSI_HUB = {
    "kind": "spline", "standard": "ANSI B92.1", "teeth": "32", "module": "DP 8", "face_width": "2 in",
    "place": "inside", "units": "in",
}  # fmt: skip
ANSI_SHAFT = {**ANSI_HUB, "place": "outside", "teeth": "33", "module": "DP 16", "pressure_angle": "45 deg"}
_TOLERANCES = {"actual_tolerance": "0.040 mm", "effective_tolerance": "0.023 mm"}
DIN_SHAFT_LIMITS = {**DIN_SHAFT, **_TOLERANCES, "size_deviation": "-0.032 mm"}
DIN_HUB_LIMITS = {**DIN_HUB, **_TOLERANCES}
ANSI_MAJOR = {**ANSI_HUB, **_TOLERANCES, "root": "flat major", "teeth": "33"}
ANSI_FILLET = {**ANSI_HUB, "place": "outside", "root": "fillet"}
ISO_FILLET = {**ISO_SHAFT, "root": "fillet"}
STRAIGHT_BEVEL = {
    "kind": "bevel_gear", "teeth": "20", "mate_teeth": "41", "module": "5 mm", "face_width": "30 mm",
    "mounting_distance": "120 mm",
}  # fmt: skip
SPIRAL_BEVEL = {
    **STRAIGHT_BEVEL,
    "teeth": "41",
    "mate_teeth": "20",
    "spiral_angle": "35 deg",
    "hand": "right",
}

_NO_LIMITS = {key: text for key, text in EXTERNAL.items() if not key.startswith("thickness")}
BY_CLASS = {**_NO_LIMITS, "thickness_class": "27cd"}
BY_BACKLASH = {**_NO_LIMITS, "backlash": "0.2 mm", "thickness_tolerance": "0.05 mm", "backlash_share": "0.4"}
AROUND = {**BY_BACKLASH, "backlash_kind": "circumferential"}
RECOMMENDED = {
    **{key: text for key, text in INTERNAL.items() if not key.startswith("thickness")},
    "backlash_system": "ISO/TR 10064-2",
    "thickness_tolerance": "0.06 mm",
}
AT_REFERENCE = {key: text for key, text in AROUND.items() if not key.startswith("mate")}
IN_A_RING = {
    **COMMON,
    "teeth": "21",
    "module": "4 mm",
    "profile_shift": "0.3",
    "mate_teeth": "62",
    "mate_internal": "yes",
    "mate_tip_diameter": "242.4 mm",
    "centre_distance": "83 mm",
}

UNEQUAL_BEVEL = {**STRAIGHT_BEVEL, "proportions": "unequal addendum"}

ALL = {
    "unequal_bevel": UNEQUAL_BEVEL,
    "by_class": BY_CLASS,
    "by_backlash": BY_BACKLASH,
    "around": AROUND,
    "at_reference": AT_REFERENCE,
    "recommended": RECOMMENDED,
    "in_a_ring": IN_A_RING,
    "external": EXTERNAL,
    "internal": INTERNAL,
    "double": DOUBLE,
    "inch": INCH,
    "undercut": UNDERCUT,
    "din_hub": DIN_HUB,
    "din_shaft": DIN_SHAFT,
    "iso_shaft": ISO_SHAFT,
    "iso_hub": ISO_HUB,
    "ansi_hub": ANSI_HUB,
    "ansi_shaft": ANSI_SHAFT,
    "din_shaft_limits": DIN_SHAFT_LIMITS,
    "din_hub_limits": DIN_HUB_LIMITS,
    "ansi_major": ANSI_MAJOR,
    "ansi_fillet": ANSI_FILLET,
    "iso_fillet": ISO_FILLET,
    "straight_bevel": STRAIGHT_BEVEL,
    "spiral_bevel": SPIRAL_BEVEL,
}


def sheet_of(words: dict[str, str], **more: str) -> DataSheet:
    """The data sheet of teeth in words.

    Parameters
    ----------
    words
        Options by key.
    more
        Further options; they win.
    """
    return data_sheet(wanted_from_options({**words, **more}))


def value(sheet: DataSheet, name: str) -> float:
    """The first number of a name on a sheet.

    Parameters
    ----------
    sheet
        The sheet.
    name
        Name of the number.
    """
    return next(fact.value for fact in sheet.facts if fact.name == name)


def words_of(sheet: DataSheet, name: str) -> str:
    """The first statement of a name on a sheet.

    Parameters
    ----------
    sheet
        The sheet.
    name
        Name of the statement.
    """
    return next(
        line.words
        for section in sheet.sections
        for line in section.lines
        if line.name == name and hasattr(line, "words")
    )
