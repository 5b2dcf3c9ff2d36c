"""Field types of part and shop files: quantities with the unit as written."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any, Final

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    GetJsonSchemaHandler,
    PlainSerializer,
    WithJsonSchema,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from sequencer.errors import OutOfRange
from sequencer.units import HOUSE_UNIT, Module, Quantity, parse, parse_module

NAME_PATTERN = r"^[A-Za-z][A-Za-z0-9_-]*$"
LONGEST_NAME = 60


class Record(BaseModel):
    """Base of everything that is read from a file: frozen, and no key is unknown."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", arbitrary_types_allowed=True, str_strip_whitespace=True
    )


@dataclass(frozen=True)
class Bounds:
    """What a quantity of one dimension can be on a part or in a shop; beyond it lies a slip of the keyboard.

    Parameters
    ----------
    most
        The largest value, as a planner would write it.
    least
        The smallest value that is not 0, as a planner would write it.
    """

    most: str
    least: str


#: Common practice, no source: wider than any job shop by far.
BOUNDS: Final[dict[str, Bounds]] = {
    "length": Bounds("100 m", "0.001 um"),
    "angle": Bounds("3600 deg", "0 deg"),
    "mass": Bounds("1000 t", "0.001 g"),
    "time": Bounds("3650 d", "0.001 s"),
    "force": Bounds("100000 kN", "0.1 N"),
    "torque": Bounds("100000 kN m", "0.001 N m"),
    "power": Bounds("100000 kW", "0.1 W"),
    "speed": Bounds("1000000 rpm", "0.001 rpm"),
    "cutting speed": Bounds("5000 m/min", "0.1 m/min"),
    "feed": Bounds("50 mm", "0.001 mm"),
    "feed rate": Bounds("1000 m/min", "0.1 mm/min"),
    "pressure": Bounds("20000 MPa", "100 MPa"),
    "moment of mass": Bounds("1000000 kg m", "0.000001 kg m"),
    "temperature difference": Bounds("2000 K", "0 K"),
}


@dataclass(frozen=True)
class Dimension:
    """Makes a field read a quantity of one dimension within limits.

    Parameters
    ----------
    name
        A key of `sequencer.units.UNITS`.
    above
        The value must be greater than this, in the house unit.
    least
        The value must be at least this, in the house unit.
    bounds
        Narrower bounds than those of the dimension.
    """

    name: str
    above: float | None = None
    least: float | None = None
    bounds: Bounds | None = None

    def read(self, written: Any) -> Quantity:
        """Turn the text of the file into a quantity.

        Parameters
        ----------
        written
            The value of the file.

        Raises
        ------
        ValueError
            When it is no quantity of this dimension.
        OutOfRange
            When it is outside the limits.
        """
        quantity = parse(written, self.name)
        unit = HOUSE_UNIT[self.name]
        if self.above is not None and not quantity > self.above:
            msg = f"{quantity.text!r} must be above {self.above:g} {unit}"
            raise ValueError(msg)
        if self.least is not None and quantity < self.least:
            msg = f"{quantity.text!r} must be at least {self.least:g} {unit}"
            raise ValueError(msg)
        self._bounded(quantity)
        return quantity

    def _bounded(self, quantity: Quantity) -> None:
        bounds = self.bounds or BOUNDS[self.name]
        if abs(quantity) > parse(bounds.most, self.name):
            what, limit = f"{quantity.text!r} is too much", f"at most {bounds.most}"
            raise OutOfRange(what, limit=limit, remedy="check the number and its unit")
        if 0 < abs(quantity) < parse(bounds.least, self.name):
            what, limit = f"{quantity.text!r} is too little", f"at least {bounds.least}"
            raise OutOfRange(what, limit=limit, remedy="check the number and its unit")

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read,
            serialization=core_schema.plain_serializer_function_ser_schema(
                lambda value: value.text, return_schema=core_schema.str_schema()
            ),
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        example = f"1 {HOUSE_UNIT[self.name]}"
        return {
            "type": ["string", "number"],
            "description": f'a {self.name} with its unit, such as "{example}"',
        }


#: Largest size of teeth that a part or a tool has; common practice, no source [mm].
_MODULES: Final = (0.05, 500.0)

Length = Annotated[Quantity, Dimension("length")]
PositiveLength = Annotated[Quantity, Dimension("length", above=0.0)]
NotNegativeLength = Annotated[Quantity, Dimension("length", least=0.0)]
Angle = Annotated[Quantity, Dimension("angle")]
Mass = Annotated[Quantity, Dimension("mass", above=0.0)]
Duration = Annotated[Quantity, Dimension("time", least=0.0)]
#: Life of an edge: it cuts for a moment at least.
Life = Annotated[Quantity, Dimension("time", above=0.0, bounds=Bounds("3650 d", "1 s"))]
#: Minutes that a broken should costs; more than this no plan takes.
Penalty = Annotated[Quantity, Dimension("time", least=0.0, bounds=Bounds("100 d", "0.001 s"))]
#: Depth of cut or infeed of one pass.
CutDepth = Annotated[Quantity, Dimension("length", above=0.0, bounds=Bounds("200 mm", "0.001 mm"))]
#: Half width of a size without a tolerance of its own.
GeneralTolerance = Annotated[Quantity, Dimension("length", above=0.0, bounds=Bounds("10 mm", "1 um"))]
#: Width of a tolerance zone of form, orientation, location or runout.
ToleranceZone = Annotated[Quantity, Dimension("length", above=0.0, bounds=Bounds("10 mm", "0.1 um"))]
#: Depth of a hard case.
CaseDepth = Annotated[Quantity, Dimension("length", above=0.0, bounds=Bounds("10 mm", "1 um"))]
#: Teeth cut by one cutter in its life, all their lengths together.
CutLength = Annotated[Quantity, Dimension("length", above=0.0, bounds=Bounds("100000 m", "1 mm"))]
Force = Annotated[Quantity, Dimension("force", above=0.0)]
Torque = Annotated[Quantity, Dimension("torque", above=0.0)]
Power = Annotated[Quantity, Dimension("power", above=0.0)]
RotationSpeed = Annotated[Quantity, Dimension("speed", above=0.0)]
CuttingSpeed = Annotated[Quantity, Dimension("cutting speed", above=0.0)]
Feed = Annotated[Quantity, Dimension("feed", above=0.0)]
FeedRate = Annotated[Quantity, Dimension("feed rate", above=0.0)]
Pressure = Annotated[Quantity, Dimension("pressure", above=0.0)]
#: Difference of temperature between a part and its machine; more than this is no state to finish in.
TemperatureDifference = Annotated[
    Quantity, Dimension("temperature difference", least=0.0, bounds=Bounds("200 K", "0 K"))
]
MomentOfMass = Annotated[Quantity, Dimension("moment of mass", least=0.0)]


def _read_module(written: Any) -> Module:
    module, (least, most) = parse_module(written), _MODULES
    if not least <= module.millimetres <= most:
        what = f"{module.text!r} is a module of {module.millimetres:.6g} mm"
        remedy = "check the number and its unit"
        raise OutOfRange(what, limit=f"{least:g} mm to {most:g} mm", remedy=remedy)
    return module


def _module_shown(value: Module) -> str:
    return value.text


ModuleField = Annotated[
    Module,
    BeforeValidator(_read_module),
    PlainSerializer(_module_shown, return_type=str),
    WithJsonSchema(
        {
            "type": "string",
            "description": 'size of the teeth: a module "8 mm" or a diametral pitch "DP 4", "NDP 4", "TDP 4"',
        }
    ),
]


def _is_name(text: str) -> str:
    if not re.match(NAME_PATTERN, text) or len(text) > LONGEST_NAME:
        msg = (
            f"{text!r} is not a name; a name starts with a letter and holds letters, digits, _ and - "
            f"(at most {LONGEST_NAME})"
        )
        raise ValueError(msg)
    return text


Name = Annotated[
    str,
    AfterValidator(_is_name),
    WithJsonSchema({"type": "string", "pattern": NAME_PATTERN, "maxLength": LONGEST_NAME}),
]
