"""Tolerances as a drawing gives them: size, geometry, phase and flank class."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any, Final, Literal

from pydantic import BeforeValidator, ConfigDict, Field, PlainSerializer, WithJsonSchema

from sequencer.gears.thickness_limits import DIN_3967_ALLOWANCES, DIN_3967_TOLERANCES
from sequencer.part.quantities import Angle, Name, PositiveLength, Record, ToleranceZone
from sequencer.units import Mm, parse, refuse_other_digits

_CODE = re.compile(r"^([A-Za-z]{1,2})([0-9]{1,2})$")
_EVEN = re.compile(r"^(?:±|\+/-|\+-)\s*(.+)$")
_PAIR = re.compile(r"^([+-]?\s*[0-9./]+)\s*/\s*([+-]?\s*[0-9.]+)\s*([^0-9\s].*)$")


@dataclass(frozen=True)
class SizeTolerance:
    """Limits of a size: an ISO 286 code, or deviations as written.

    Parameters
    ----------
    text
        As written, such as "H7", "±0.05 mm" or "+0.02/-0.01 mm".
    code
        The ISO 286 code, or empty.
    upper, lower
        Deviations [mm]; None where a code gives them.
    """

    text: str
    code: str = ""
    upper: Mm | None = None
    lower: Mm | None = None

    def __str__(self) -> str:
        return self.text

    @property
    def grade(self) -> int | None:
        """Tolerance grade number of the code, or None."""
        match = _CODE.match(self.code)
        return int(match[2]) if match else None

    @property
    def width(self) -> Mm | None:
        """Upper less lower deviation [mm], or None where a code gives them."""
        return None if self.upper is None or self.lower is None else self.upper - self.lower


def read_size_tolerance(written: Any) -> SizeTolerance:
    """Read "H7", "±0.05 mm" or "+0.02/-0.01 mm".

    Parameters
    ----------
    written
        The value of the file.

    Raises
    ------
    ValueError
        When it is none of the three forms.
    """
    if isinstance(written, SizeTolerance):
        return written
    text = str(written).strip()
    refuse_other_digits(text)
    if match := _CODE.match(text):
        return SizeTolerance(text, code=text)
    if match := _EVEN.match(text):
        half = float(parse(match[1], "length"))
        if half <= 0:
            msg = f"{text!r}: half the width of a tolerance is above 0"
            raise ValueError(msg)
        return SizeTolerance(text, upper=half, lower=-half)
    if match := _PAIR.match(text):
        deviations = [float(parse(f"{match[i].replace(' ', '')} {match[3]}", "length")) for i in (1, 2)]
        upper, lower = max(deviations), min(deviations)
        if deviations[0] < deviations[1]:
            parts = f"{match[2].replace(' ', '')}/{match[1].replace(' ', '')} {match[3]}"
            msg = f'{text!r} has the lower deviation first; the upper one comes first: write "{parts}"'
            raise ValueError(msg)
        if upper == lower:
            msg = f"{text!r}: upper and lower deviation are equal"
            raise ValueError(msg)
        return SizeTolerance(text, upper=upper, lower=lower)
    msg = f'{text!r} is not a tolerance; write an ISO 286 code "H7", "±0.05 mm" or "+0.02/-0.01 mm"'
    raise ValueError(msg)


SizeToleranceField = Annotated[
    SizeTolerance,
    BeforeValidator(read_size_tolerance),
    PlainSerializer(str, return_type=str),
    WithJsonSchema(
        {"type": "string", "description": 'limits of a size: "H7", "±0.05 mm" or "+0.02/-0.01 mm"'}
    ),
]

_ALLOWANCE: Final = "|".join(sorted(DIN_3967_ALLOWANCES, key=len, reverse=True))
_THICKNESS: Final = re.compile(
    rf"^(?:DIN\s*3967\s*:?\s*)?(?:([0-9]{{2}})\s*({_ALLOWANCE})|({_ALLOWANCE})\s*([0-9]{{2}}))$"
)


@dataclass(frozen=True)
class ThicknessClass:
    """Series of the tooth thickness allowances and tolerances of DIN 3967.

    Parameters
    ----------
    text
        As written, such as "27cd".
    allowance
        Series of the upper allowance, "a" to "h".
    tolerance
        Series of the tolerance, 21 to 30.
    """

    text: str
    allowance: str
    tolerance: int

    def __str__(self) -> str:
        return self.text


def read_thickness_class(written: Any) -> ThicknessClass:
    """Read "27cd", "cd 27" or "DIN 3967 27cd".

    Parameters
    ----------
    written
        The value of the file.

    Raises
    ------
    ValueError
        When it is none of these.
    """
    if isinstance(written, ThicknessClass):
        return written
    text = str(written).strip()
    refuse_other_digits(text)
    match = _THICKNESS.match(text)
    tolerance = int(match[1] or match[4]) if match else 0
    if match is None or tolerance not in DIN_3967_TOLERANCES:
        msg = (
            f"{text!r} is no series of DIN 3967; write the tolerance 21 to 30 and the allowance "
            f'{", ".join(DIN_3967_ALLOWANCES)}: "27cd"'
        )
        raise ValueError(msg)
    return ThicknessClass(text, match[2] or match[3], tolerance)


ThicknessClassField = Annotated[
    ThicknessClass,
    BeforeValidator(read_thickness_class),
    PlainSerializer(str, return_type=str),
    WithJsonSchema({"type": "string", "description": 'series of tolerance and allowance: "27cd"'}),
]

Characteristic = Literal[
    "runout",
    "total runout",
    "position",
    "concentricity",
    "parallelism",
    "perpendicularity",
    "flatness",
    "roundness",
    "cylindricity",
]


class GeometricTolerance(Record):
    """A tolerance of form, orientation, location or runout (ISO 1101)."""

    characteristic: Characteristic = Field(description="Which characteristic of ISO 1101 is limited.")
    value: ToleranceZone = Field(description="Width of the tolerance zone.")
    to: tuple[Name, ...] = Field(
        default=(), description="Datums that it refers to; none for form tolerances."
    )


class Phase(Record):
    """An angular relation to another feature."""

    to: Name = Field(description="Feature whose tooth, hole or keyway the angle is counted from.")
    angle: Angle = Field(
        default=parse(0, "angle"), description="Angle between the two, seen from above, counter-clockwise."
    )
    tolerance: PositiveLength = Field(description="Allowed shift along the circumference of this feature.")
    tooth: Literal["tooth", "space"] = Field(
        default="tooth",
        description="What of a tooth system the angle is counted to: the middle of a tooth or of a space.",
    )


class FlankClass(Record):
    """Class of flank tolerances, with the standard and its year."""

    model_config = ConfigDict(validate_by_name=True, validate_by_alias=True, serialize_by_alias=True)

    standard: Literal["ISO 1328-1"] = Field(
        default="ISO 1328-1", description="Standard that defines the class."
    )
    year: Literal[1995, 2013] = Field(description="Edition of the standard; the editions give other values.")
    number: int = Field(alias="class", ge=0, le=12, description="Flank class; a smaller number is better.")

    def __str__(self) -> str:
        return f"{self.standard}:{self.year} class {self.number}"
