"""A tooth system from options alone: the words of the part file, all faults at once."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from pydantic import ValidationError

from sequencer.datasheet.wanted import Toothed, Wanted
from sequencer.errors import BadFile, Finding, OutOfRange, Severity
from sequencer.files.wording import faults_of
from sequencer.part.fault import near
from sequencer.part.spline_teeth import spline_dimensions
from sequencer.part.teeth import bevel_teeth, cylindrical_gear, gear_mesh
from sequencer.part.thickness import thickness_allowances
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.units import parse

_MODELS: Final[dict[str, type[Toothed]]] = {
    "external_gear": ExternalGear,
    "internal_gear": InternalGear,
    "double_helical_gear": DoubleHelicalGear,
    "spline": Spline,
    "bevel_gear": BevelGear,
}
_GEAR: Final = (
    *("teeth", "module", "pressure_angle", "helix_angle", "hand", "profile_shift", "addendum", "dedendum"),
    *("tip_diameter", "root_diameter", "face_width", "thickness_upper", "thickness_lower", "flank_class"),
    *("thickness_class", "backlash", "backlash_kind", "backlash_system", "backlash_share"),
    *("thickness_tolerance", "mate_teeth", "mate_shift", "mate_internal", "mate_tip_diameter"),
    "centre_distance",
)
#: Options by kind; `face_width` and `gap` become ends on the axis.
OPTIONS: Final[dict[str, tuple[str, ...]]] = {
    "external_gear": _GEAR,
    "internal_gear": _GEAR,
    "double_helical_gear": (*_GEAR, "gap", "apex_tolerance"),
    "spline": (
        *("teeth", "module", "pressure_angle", "standard", "place", "reference_diameter"),
        *("root", "tolerance_class", "size_deviation", "actual_tolerance", "effective_tolerance"),
        *("face_width", "flank_class"),
    ),
    "bevel_gear": (
        *("teeth", "module", "mate_teeth", "shaft_angle", "pressure_angle", "spiral_angle", "hand"),
        *("proportions", "face_width", "mounting_distance", "flank_class"),
    ),
}
#: Options of the inspector, for every kind.
CHOICES: Final = ("teeth_spanned", "ball_diameter", "units")
_WHOLE: Final = ("teeth", "mate_teeth")
_NUMBERS: Final = ("profile_shift", "addendum", "dedendum", "mate_shift", "backlash_share")
_YES_OR_NO: Final = {"yes": True, "no": False}
_FLANK: Final = re.compile(r"^\s*(.+?)\s*:\s*(\d{4})\s*,?\s+(?:class|grade)\s+(\d+)\s*$")
_INTEGER: Final = re.compile(r"\s*[+-]?\d{1,9}\s*")
_DECIMAL: Final = re.compile(r"\s*[+-]?(\d{1,15}(\.\d*)?|\.\d+)\s*")
_NO_CLASS: Final = {"year": 2013, "class": 7}
_NAME: Final = "gear"


@dataclass(frozen=True)
class _Read:
    """Options turned into the document of a feature.

    Parameters
    ----------
    kind
        Kind of feature.
    document
        Plain values of the feature, as a file would hold them.
    faults
        What is wrong so far.
    """

    kind: str
    document: dict[str, Any]
    faults: tuple[Finding, ...]


def option(key: str) -> str:
    """Give the option of a key.

    Parameters
    ----------
    key
        Key of the part file.
    """
    return f"--{key.replace('_', '-')}"


def wanted_from_options(values: Mapping[str, str], *, internal: bool = False) -> Wanted:
    """Read a tooth system from options.

    Parameters
    ----------
    values
        Texts by key; keys that were not given are left out.
    internal
        Whether the teeth point inwards.

    Raises
    ------
    BadFile
        With every fault of the options.
    """
    kind, faults = _kind(values, internal)
    if kind is None:
        raise BadFile(tuple(faults))
    read = _document(kind, values, internal)
    every = [*faults, *_misplaced(kind, values), *read.faults]
    feature = _feature(read, values, every)
    choices = _choices(values, every)
    if feature is None or every:
        raise BadFile(tuple(dict.fromkeys(every)))
    return Wanted(
        feature=feature,
        given_by="options",
        graded=feature.flank_class is not None and "flank_class" in values,
        units=values.get("units", "mm"),
        teeth_spanned=choices["teeth_spanned"],
        ball_diameter=choices["ball_diameter"],
    )


def choices_of(values: Mapping[str, str]) -> tuple[int | None, float | None]:
    """Read the inspector's choices: number of teeth spanned, and diameter of balls or pins [mm].

    Parameters
    ----------
    values
        Texts by key.

    Raises
    ------
    BadFile
        With every fault of these options.
    """
    faults: list[Finding] = []
    read = _choices(values, faults)
    if faults:
        raise BadFile(tuple(faults))
    return read["teeth_spanned"], read["ball_diameter"]


def _fault(key: str, what: str, limit: str = "", remedy: str = "") -> Finding:
    return Finding(Severity.ERROR, option(key), what, limit, remedy, "options")


def _kind(values: Mapping[str, str], internal: bool) -> tuple[str | None, list[Finding]]:
    kind = values.get("kind")
    if kind is None:
        return ("internal_gear" if internal else "external_gear"), []
    if kind not in _MODELS:
        limit = f"one of {', '.join(_MODELS)}"
        close = near(kind, _MODELS)
        remedy = f"did you mean {close!r}?" if close else ""
        return None, [_fault("kind", f"{kind!r} is no kind of teeth", limit, remedy)]
    if internal and kind not in ("internal_gear", "spline"):
        what = f"--internal does not go with kind {kind}"
        return kind, [_fault("kind", what, "", "leave one of the two out")]
    return kind, []


def _misplaced(kind: str, values: Mapping[str, str]) -> Iterator[Finding]:
    known = (*OPTIONS[kind], *CHOICES, "kind")
    for key in values:
        if key not in known:
            limit = f"options of it: {', '.join(option(name) for name in OPTIONS[kind])}"
            yield _fault(key, f"a {kind} has none", limit)


def _document(kind: str, values: Mapping[str, str], internal: bool) -> _Read:
    document: dict[str, Any] = {"name": _NAME, "kind": kind}
    faults: list[Finding] = []
    for key in OPTIONS[kind]:
        if key in values and key not in ("face_width", "gap", "flank_class"):
            document[key] = _plain(key, values[key])
    if "flank_class" in values:
        match = _FLANK.match(values["flank_class"])
        if match is None:
            what = f"{values['flank_class']!r} is no class of flank tolerances"
            remedy = 'write standard, year and class: "ISO 1328-1:2013 class 7"'
            faults.append(_fault("flank_class", what, "", remedy))
        else:
            document["flank_class"] = {
                "standard": match[1],
                "year": int(match[2]),
                "class": int(match[3]),
            }
    if "flank_class" not in document and kind not in ("spline", "bevel_gear"):
        document["flank_class"] = dict(_NO_CLASS)
    _ends(kind, values, document, faults)
    if kind == "spline":
        document.setdefault("place", "inside" if internal else "outside")
    if kind == "bevel_gear":
        document |= {"apex": "upper", "mounting_face": "face"}
        document["form"] = "spiral" if "spiral_angle" in values else "straight"
    return _Read(kind, document, tuple(faults))


def _plain(key: str, text: str) -> str | int | float | bool:
    """A number where the file has a bare number; what is none stays text and is refused as such."""
    if key == "mate_internal":
        return _YES_OR_NO.get(text, text)
    if key in _WHOLE and _INTEGER.fullmatch(text):
        return int(text)
    if key in _NUMBERS and _DECIMAL.fullmatch(text):
        return float(text)
    return text


def _ends(kind: str, values: Mapping[str, str], document: dict[str, Any], faults: list[Finding]) -> None:
    """Turn face width and gap into ends on the axis."""
    width = _length("face_width", values, faults)
    if kind == "bevel_gear":
        document |= {"face_width": values.get("face_width", "1 mm"), "z_from": 0, "z_to": "1 mm"}
    elif kind != "double_helical_gear":
        document |= {"z_from": 0, "z_to": _mm(width)}
    else:
        gap = _length("gap", values, faults)
        hand = document.pop("hand", None)
        if hand is None:
            faults.append(_fault("hand", "missing", "", "hand of the lower half: right or left"))
        other = {"right": "left", "left": "right"}.get(str(hand), "left")
        document["lower"] = {"z_from": 0, "z_to": _mm(width), "hand": hand or "right"}
        document["upper"] = {"z_from": _mm(width + gap), "z_to": _mm(2 * width + gap), "hand": other}


def _mm(value: float) -> str:
    return f"{value!r} mm"


def _length(key: str, values: Mapping[str, str], faults: list[Finding]) -> float:
    """A length above 0; 1 mm stands for one that is at fault."""
    if key not in values:
        words = "face width of one half or of the teeth" if key == "face_width" else "gap between the helices"
        faults.append(_fault(key, "missing", "", words))
        return 1.0
    try:
        value = float(parse(values[key], "length"))
    except ValueError as error:
        faults.append(_fault(key, str(error)))
        return 1.0
    if value <= 0:
        faults.append(_fault(key, f"{values[key]!r} must be above 0 mm"))
        return 1.0
    return value


def _feature(read: _Read, values: Mapping[str, str], every: list[Finding]) -> Toothed | None:
    """Make the feature; add what its model and its formulas refuse."""
    model = _MODELS[read.kind]
    try:
        feature = model.model_validate_json(json.dumps(read.document), strict=True)
    except ValidationError as error:
        for fault in faults_of(model, read.document, error.errors(include_url=False)):
            key = _key_of(fault.path, values)
            every.append(_fault(key, fault.what, fault.limit, fault.remedy))
        return None
    if every:
        return feature
    try:
        _exists(feature)
    except OutOfRange as error:
        every.append(Finding(Severity.ERROR, _NAME, error.what, error.limit, error.remedy, "options"))
    return feature


def _key_of(path: tuple[str | int, ...], values: Mapping[str, str]) -> str:
    """The option that a place in the document came from."""
    words = [str(step) for step in path]
    if words and words[0] in ("lower", "upper"):
        return "hand" if words[-1] == "hand" else "face_width"
    if words and words[0] in ("z_from", "z_to"):
        return "face_width"
    if words and words[0] == "form":
        return "spiral_angle"
    return words[0] if words else next(iter(values), "kind")


def _exists(feature: Toothed) -> None:
    if isinstance(feature, Spline):
        spline_dimensions(feature)
    elif isinstance(feature, BevelGear):
        bevel_teeth(feature).crown_to_back(float(feature.mounting_distance))
    else:
        cylindrical_gear(feature)
        gear_mesh(feature)
        thickness_allowances(feature)


def _choices(values: Mapping[str, str], faults: list[Finding]) -> dict[str, Any]:
    spanned: int | None = None
    if "teeth_spanned" in values:
        text = values["teeth_spanned"]
        if _INTEGER.fullmatch(text) and int(text) >= 2:
            spanned = int(text)
        else:
            faults.append(_fault("teeth_spanned", f"{text!r} is not a whole number of at least 2"))
    ball = _length("ball_diameter", values, faults) if "ball_diameter" in values else None
    if values.get("units", "mm") not in ("mm", "in"):
        faults.append(_fault("units", f"{values['units']!r} is no unit of the sheet", "one of mm, in"))
    return {"teeth_spanned": spanned, "ball_diameter": ball}
