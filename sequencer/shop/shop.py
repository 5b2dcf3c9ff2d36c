"""The shop: machine, magazine, tools, materials, conditions, rates and house rules."""

from __future__ import annotations

import datetime
from functools import cached_property
from typing import Final, Literal, Self

from pydantic import Field, field_validator, model_validator

from sequencer.language import languages
from sequencer.part.quantities import (
    Angle,
    CutDepth,
    CuttingSpeed,
    Feed,
    GeneralTolerance,
    Name,
    NotNegativeLength,
    Penalty,
    PositiveLength,
    Pressure,
    Record,
)
from sequencer.shop.accuracy import Accuracy
from sequencer.shop.machine import ClampingMeans, Machine
from sequencer.shop.magazine import Magazine
from sequencer.shop.money import Effort, Rates, Risks, WorkingTime
from sequencer.shop.tools import AnyTool
from sequencer.units import parse


class Material(Record):
    """A work material with what cutting needs to know of it."""

    name: str = Field(min_length=1, max_length=60, description="Name by which part files call it.")
    group: Literal[
        "steel", "quenched and tempered steel", "case-hardening steel", "cast iron", "stainless", "bronze"
    ] = Field(description="Group in the table of cutting conditions.")
    kc11: Pressure = Field(description="Specific cutting force kc1.1 at chip thickness 1 mm and width 1 mm.")
    mc: float = Field(ge=0.0, le=0.6, description="Rise of the specific cutting force with thinner chips.")
    density: float = Field(default=7.85, gt=0.5, le=20.0, description="Density in kg/dm3.")
    expansion: float = Field(default=11.5, gt=0.0, le=30.0, description="Thermal expansion in um/(m K).")
    price_per_kg: float | None = Field(
        default=None, gt=0.0, le=1e6, description="Price of a blank of it per kg, in the shop's currency."
    )
    source: str = Field(default="", max_length=200, description="Where the values come from.")


class Condition(Record):
    """Starting values for a method on a group of materials."""

    method: str = Field(description="Method, such as turning or hobbing.")
    tool_material: Literal["HSS", "HSS-PM", "carbide", "cermet", "ceramic", "CBN"] = Field(
        description="Cutting material."
    )
    group: str = Field(description="Material group.")
    stage: Literal["rough", "finish"] = Field(description="Roughing or finishing.")
    cutting_speed: CuttingSpeed = Field(description="Cutting speed.")
    feed: Feed = Field(description="Feed per revolution (turning, drilling, hobbing, skiving) or per tooth.")
    depth: CutDepth | None = Field(default=None, description="Depth of cut or infeed.")
    source: str = Field(default="", max_length=200, description="Where the values come from.")


class Stock(Record):
    """Stock that each stage leaves."""

    turning: PositiveLength = Field(
        default=parse("0.5 mm", "length"), description="On a turned surface, per side."
    )
    bore: PositiveLength = Field(default=parse("0.4 mm", "length"), description="On a bore, per side.")
    face: PositiveLength = Field(default=parse("0.3 mm", "length"), description="On a face.")
    flank: PositiveLength = Field(default=parse("0.3 mm", "length"), description="On a tooth flank.")
    grinding: PositiveLength = Field(
        default=parse("0.25 mm", "length"), description="On a tooth flank before hard finishing."
    )


class Limits(Record):
    """Choices of this house that other shops make otherwise."""

    hob_margin: PositiveLength = Field(
        default=parse("2 mm", "length"), description="Added to the computed run-out of hobs and discs."
    )
    skiving_margin: PositiveLength = Field(
        default=parse("2 mm", "length"), description="Added to the computed run-out of skiving cutters."
    )
    end_mill_margin: PositiveLength = Field(
        default=parse("1 mm", "length"), description="Added to the computed run-out of end mills."
    )
    groove_below_root: PositiveLength = Field(
        default=parse("0.3 mm", "length"),
        description="A run-out groove reaches this far below the tooth root.",
    )
    riser_margin: PositiveLength = Field(
        default=parse("10 mm", "length"),
        description="Free height below a cutter that runs out under the part.",
    )
    crossed_axes_from: Angle = Field(
        default=parse("10 deg", "angle"), description="Least crossed-axes angle in skiving."
    )
    crossed_axes_to: Angle = Field(
        default=parse("30 deg", "angle"), description="Largest crossed-axes angle in skiving."
    )
    skiving_tooth_relation: float = Field(
        default=0.7, gt=0.2, lt=1.0, description="Largest cutter teeth over internal gear teeth."
    )
    skiving_clearance: Angle = Field(
        default=parse("1 deg", "angle"),
        description="Least clearance that the flanks of a skiving cutter keep in motion.",
    )
    end_mill_slenderness: float = Field(
        default=5.0, gt=1.0, le=12.0, description="Largest length over diameter."
    )
    bar_slenderness: float = Field(
        default=4.0,
        gt=1.0,
        le=20.0,
        description="Largest overhang over diameter of a steel boring bar; 1.5 times that for heavy metal, "
        "1.75 times for carbide, 2.5 times for damped bars.",
    )
    life_use: float = Field(default=0.8, gt=0.1, le=1.0, description="Share of a tool life that is planned.")
    jaw_safety: float = Field(
        default=1.5, ge=1.5, le=5.0, description="Safety factors Sz and Ssp of jaw force."
    )
    jaw_friction: float = Field(default=0.15, gt=0.02, le=0.6, description="Friction between jaw and part.")
    thin_wall: float = Field(
        default=0.08, gt=0.0, le=0.3, description="A ring is thin below this wall over outside diameter."
    )
    close_grade: int = Field(default=8, ge=4, le=12, description="ISO 286 grades up to this one are close.")
    close_roughness: PositiveLength = Field(
        default=parse("1.6 um", "length"), description="Roughness up to this one is fine."
    )
    rough_from: NotNegativeLength = Field(
        default=parse("1.5 mm", "length"), description="Stock per side from which a roughing cut is planned."
    )
    coarse_module: PositiveLength = Field(
        default=parse("8 mm", "length"),
        description="Module from which teeth are gashed before finishing cuts.",
    )
    wall_by_hole: PositiveLength = Field(
        default=parse("3 mm", "length"), description="Least wall between a hole and a tooth root or groove."
    )


#: The trade's rules are R1 up to this one; they are listed in docs/rules.md.
LAST_RULE: Final = 53


class Forbidden(Record):
    """A way that this shop does not go: a method, a tool, or both, for one feature or for all."""

    method: str | None = Field(
        default=None, min_length=1, max_length=60, description="Method, such as power skiving."
    )
    tool: Name | None = Field(default=None, description="Tool.")
    feature: Name | None = Field(default=None, description="Only for this feature of the part.")
    reason: str = Field(default="", max_length=300, description="Why.")

    @model_validator(mode="after")
    def _names_a_way(self) -> Self:
        if self.method is None and self.tool is None:
            msg = "neither method nor tool is given; name what is forbidden"
            raise ValueError(msg)
        return self


class RuleChange(Record):
    """A change of one rule of the trade in this shop."""

    rule: str = Field(pattern=r"^R[0-9]{1,2}$", description=f"Rule, R1 to R{LAST_RULE}, such as R12.")
    action: Literal["off", "should"] = Field(description="Switch it off, or make a must a should.")
    owner: str = Field(min_length=1, max_length=60, description="Who decided it.")
    date: datetime.date = Field(description="When it was decided.")
    reason: str = Field(min_length=5, max_length=300, description="Why.")
    penalty: Penalty | None = Field(default=None, description="Minutes that a broken should costs.")


class OwnRule(Record):
    """A rule of this shop between named features."""

    name: str = Field(pattern=r"^H[0-9]{1,3}$", description="Name, H and a number, such as H1.")
    relation: Literal["before", "same clamping", "immediately after", "not same clamping", "same zero"] = (
        Field(description="What holds between the two.")
    )
    first: Name = Field(description="Feature that comes first.")
    second: Name = Field(description="Feature that comes second.")
    strength: Literal["must", "should"] = Field(default="must", description="Must or should.")
    owner: str = Field(min_length=1, max_length=60, description="Who decided it.")
    date: datetime.date = Field(description="When it was decided.")
    reason: str = Field(min_length=5, max_length=300, description="Why.")
    penalty: Penalty | None = Field(default=None, description="Minutes that a broken should costs.")


class HouseRules(Record):
    """Changes of the trade's rules, and own rules."""

    changes: tuple[RuleChange, ...] = Field(
        default=(), description="Rules of the trade that this shop changes."
    )
    own: tuple[OwnRule, ...] = Field(default=(), description="Rules between named features.")
    forbid: tuple[Forbidden, ...] = Field(
        default=(), description="Methods and tools that are not to be used, in general or for one feature."
    )


class Sheets(Record):
    """How the sheets of this shop are written."""

    language: str = Field(default="en", max_length=8, description="Language of the sheets: en or de.")
    paper: Literal["A4", "A3", "Letter"] = Field(default="A4", description="Paper of the sheets.")
    decimal: Literal["point", "comma"] = Field(default="point", description="Decimal sign of the sheets.")
    units: Literal["as the part", "mm", "in"] = Field(
        default="as the part",
        description="Unit of computed lengths; sizes and tolerances stay as the planner wrote them.",
    )

    @field_validator("language")
    @classmethod
    def _has_texts(cls, language: str) -> str:
        if language not in languages():
            msg = f'there are no texts in "{language}"; choose one of {", ".join(languages())}'
            raise ValueError(msg)
        return language


class Shop(Record):
    """One machine with everything that stands round it."""

    name: str = Field(min_length=1, max_length=80, description="Name of the shop.")
    machine: Machine = Field(description="The machine.")
    magazine: Magazine = Field(description="Its magazine.")
    clamping_means: tuple[ClampingMeans, ...] = Field(
        min_length=1, description="What holds parts on its table."
    )
    tools: tuple[AnyTool, ...] = Field(min_length=1, description="Tools of the shop.")
    materials: tuple[Material, ...] = Field(min_length=1, description="Work materials.")
    conditions: tuple[Condition, ...] = Field(
        min_length=1, description="Starting values of cutting conditions."
    )
    stock: Stock = Field(default=Stock(), description="Stock that each stage leaves.")
    limits: Limits = Field(default=Limits(), description="Choices of this house.")
    accuracy: Accuracy = Field(default=Accuracy(), description="Warmth, distortion and measuring.")
    rates: Rates = Field(description="Money.")
    effort: Effort = Field(default=Effort(), description="What a lot and a new part take beside the cutting.")
    risks: Risks = Field(default=Risks(), description="How often a step scraps the part.")
    working_time: WorkingTime = Field(default=WorkingTime(), description="When the shop works.")
    rules: HouseRules = Field(default=HouseRules(), description="House rules.")
    sheets: Sheets = Field(default=Sheets(), description="How the sheets are written.")
    general_tolerance: GeneralTolerance = Field(
        default=parse("0.2 mm", "length"), description="Half width of a size without a tolerance of its own."
    )

    @cached_property
    def tool_by_name(self) -> dict[str, AnyTool]:
        """Tools by name."""
        return {tool.name: tool for tool in self.tools}

    def tools_of(self, *kinds: str) -> tuple[AnyTool, ...]:
        """Tools of the given kinds, in file order.

        Parameters
        ----------
        kinds
            Names of tool kinds, such as "hob".
        """
        return tuple(tool for tool in self.tools if tool.kind in kinds)
