"""Field types of part and shop files: quantities with the unit as written."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any

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

from sequencer.units import HOUSE_UNIT, Module, Quantity, parse, parse_module

NAME_PATTERN = r"^[A-Za-z][A-Za-z0-9_-]*$"
LONGEST_NAME = 60


class Record(BaseModel):
    """Base of everything that is read from a file: frozen, and no key is unknown."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", arbitrary_types_allowed=True, str_strip_whitespace=True
    )


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
    """

    name: str
    above: float | None = None
    least: float | None = None

    def read(self, written: Any) -> Quantity:
        """Turn the text of the file into a quantity.

        Parameters
        ----------
        written
            The value of the file.

        Raises
        ------
        ValueError
            When it is no quantity of this dimension or outside the limits.
        """
        quantity = parse(written, self.name)
        unit = HOUSE_UNIT[self.name]
        if self.above is not None and not quantity > self.above:
            msg = f"{quantity.text!r} must be above {self.above:g} {unit}"
            raise ValueError(msg)
        if self.least is not None and quantity < self.least:
            msg = f"{quantity.text!r} must be at least {self.least:g} {unit}"
            raise ValueError(msg)
        return quantity

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


Length = Annotated[Quantity, Dimension("length")]
PositiveLength = Annotated[Quantity, Dimension("length", above=0.0)]
NotNegativeLength = Annotated[Quantity, Dimension("length", least=0.0)]
Angle = Annotated[Quantity, Dimension("angle")]
Mass = Annotated[Quantity, Dimension("mass", above=0.0)]
Duration = Annotated[Quantity, Dimension("time", least=0.0)]
Force = Annotated[Quantity, Dimension("force", above=0.0)]
Torque = Annotated[Quantity, Dimension("torque", above=0.0)]
Power = Annotated[Quantity, Dimension("power", above=0.0)]
RotationSpeed = Annotated[Quantity, Dimension("speed", above=0.0)]
CuttingSpeed = Annotated[Quantity, Dimension("cutting speed", above=0.0)]
Feed = Annotated[Quantity, Dimension("feed", above=0.0)]
FeedRate = Annotated[Quantity, Dimension("feed rate", above=0.0)]
Pressure = Annotated[Quantity, Dimension("pressure", above=0.0)]
MomentOfMass = Annotated[Quantity, Dimension("moment of mass", least=0.0)]


def _module_shown(value: Module) -> str:
    return value.text


ModuleField = Annotated[
    Module,
    BeforeValidator(parse_module),
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
