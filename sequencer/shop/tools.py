"""Tools of the shop; dimensions by the symbols of ISO 13399 where it has one."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from sequencer.part.quantities import (
    Angle,
    CutLength,
    CuttingSpeed,
    Duration,
    Feed,
    Length,
    Life,
    Mass,
    ModuleField,
    Name,
    PositiveLength,
    Record,
    RotationSpeed,
)
from sequencer.part.toothed import Hand
from sequencer.units import parse

_TWENTY = parse("20 deg", "angle")
_EIGHT = parse("8 deg", "angle")


class Tool(Record):
    """Base of all tools: the assembly of holder and cutter as it stands in a pocket."""

    name: Name = Field(description="Tool number, such as T12; unique in the shop.")
    title: str = Field(min_length=1, max_length=100, description="Words for the tool list.")
    material: Literal["HSS", "HSS-PM", "carbide", "cermet", "ceramic", "CBN", "none"] = Field(
        default="carbide", description="Cutting material."
    )
    body_diameter: PositiveLength = Field(
        description="Largest diameter of the assembly (BD); decides the pocket."
    )
    functional_length: PositiveLength = Field(
        description="From gauge line to cutting point (LF), of a hob or disc to the middle of its teeth; "
        "decides reach."
    )
    overall_length: PositiveLength = Field(
        description="Length of the whole assembly (OAL); decides the pocket."
    )
    mass: Mass = Field(description="Mass of the assembly (WT).")
    centre_of_mass: Length = Field(
        default=parse(0, "length"), description="From gauge line to centre of mass; half of LF if left out."
    )
    highest_speed: RotationSpeed | None = Field(default=None, description="Highest speed (RPMX).")
    life: Life | None = Field(default=None, description="Life of an edge at the shop's conditions.")
    life_length: CutLength | None = Field(
        default=None, description="Life of a gear cutter as length of teeth cut."
    )
    owned: int = Field(default=1, ge=0, le=1000, description="Number that the shop owns.")
    lead_time: Duration = Field(default=parse(0, "time"), description="Time to buy one.")
    price: float = Field(default=0.0, ge=0.0, le=1e9, description="Price of one, in the shop's currency.")
    uses: int = Field(
        default=1, ge=1, le=1000000, description="Lives until it is scrap, resharpening counted."
    )
    renewal_price: float = Field(
        default=0.0,
        ge=0.0,
        le=1e9,
        description="Price of a fresh edge between two lives: resharpening, or an insert's share.",
    )
    regrind_time: Duration = Field(
        default=parse(0, "time"), description="Time that it is away for one resharpening."
    )
    cutting_speed: CuttingSpeed | None = Field(default=None, description="Cutting speed, over the tables.")
    feed: Feed | None = Field(default=None, description="Feed per revolution or per tooth, over the tables.")
    by_hand: bool = Field(default=False, description="Loaded by hand: never in the magazine.")


class TurningTool(Tool):
    """A turning tool with one insert."""

    kind: Literal["turning"]
    use: tuple[Literal["outside", "inside", "face"], ...] = Field(description="Where it turns.")
    stage: tuple[Literal["rough", "finish"], ...] = Field(description="What it is fit for.")
    corner_radius: PositiveLength = Field(description="Corner radius (RE).")
    depth: PositiveLength = Field(description="Largest depth of cut (APMX).")
    least_bore: PositiveLength | None = Field(
        default=None, description="Smallest bore that it enters (DMIN); needed for use inside."
    )
    reach: PositiveLength | None = Field(default=None, description="Usable length into a bore (LU).")
    bar_diameter: PositiveLength | None = Field(
        default=None, description="Diameter of a boring bar; its stiffness is looked at where it is given."
    )
    bar: Literal["steel", "heavy metal", "carbide", "damped"] = Field(
        default="steel", description="What a boring bar is made of, or that it is damped."
    )


class GroovingTool(Tool):
    """A grooving or parting blade."""

    kind: Literal["grooving"]
    use: tuple[Literal["outside", "inside", "face"], ...] = Field(description="Where it cuts.")
    width: PositiveLength = Field(description="Cutting width (CW).")
    depth: PositiveLength = Field(description="Largest groove depth (CDX).")
    corner_radius: PositiveLength = Field(
        default=parse("0.4 mm", "length"), description="Corner radius (RE)."
    )
    least_bore: PositiveLength | None = Field(
        default=None, description="Smallest bore that it enters (DMIN)."
    )
    face_diameter_from: PositiveLength | None = Field(
        default=None, description="Smallest face groove diameter for its curved blade (DAXN)."
    )
    face_diameter_to: PositiveLength | None = Field(
        default=None, description="Largest face groove diameter for its curved blade (DAXX)."
    )
    reach: PositiveLength | None = Field(default=None, description="Usable length into a bore (LU).")


class ThreadingTool(Tool):
    """A threading insert holder."""

    kind: Literal["threading"]
    use: tuple[Literal["outside", "inside"], ...] = Field(description="Where it cuts.")
    pitch_from: PositiveLength = Field(description="Smallest pitch.")
    pitch_to: PositiveLength = Field(description="Largest pitch.")
    least_bore: PositiveLength | None = Field(
        default=None, description="Smallest bore that it enters (DMIN)."
    )
    reach: PositiveLength | None = Field(default=None, description="Usable length into a bore (LU).")


class Drill(Tool):
    """A drill."""

    kind: Literal["drill"]
    diameter: PositiveLength = Field(description="Cutting diameter (DC).")
    depth: PositiveLength = Field(description="Usable length (LU).")
    point_angle: Angle = Field(default=parse("140 deg", "angle"), description="Point angle (SIG).")


class Tap(Tool):
    """A tap."""

    kind: Literal["tap"]
    diameter: PositiveLength = Field(description="Nominal thread diameter (TD).")
    pitch: PositiveLength = Field(description="Pitch (TP).")
    depth: PositiveLength = Field(description="Usable length (LU).")


class Reamer(Tool):
    """A reamer."""

    kind: Literal["reamer"]
    diameter: PositiveLength = Field(description="Cutting diameter (DC).")
    depth: PositiveLength = Field(description="Usable length (LU).")
    grade: int = Field(default=7, ge=5, le=12, description="ISO 286 grade that it holds.")


class BoringHead(Tool):
    """A fine-boring head with one edge that is set to size."""

    kind: Literal["boring head"]
    diameter_from: PositiveLength = Field(description="Smallest hole that it bores (DMIN).")
    diameter_to: PositiveLength = Field(description="Largest hole that it bores.")
    depth: PositiveLength = Field(description="Usable length (LU).")
    grade: int = Field(default=6, ge=5, le=12, description="ISO 286 grade that it holds.")


class TrepanningTool(Tool):
    """A hollow drill that cuts a ring and leaves a core."""

    kind: Literal["trepanning"]
    diameter: PositiveLength = Field(description="Cutting diameter (DC).")
    width: PositiveLength = Field(description="Width of the ring that it cuts (CW).")
    depth: PositiveLength = Field(description="Usable length (LU).")

    @property
    def core(self) -> float:
        """Diameter of the core that it leaves [mm]."""
        return float(self.diameter) - 2 * float(self.width)


class CounterboreTool(Tool):
    """A counterbore or spot facer."""

    kind: Literal["counterbore"]
    diameter: PositiveLength = Field(description="Cutting diameter (DC).")
    depth: PositiveLength = Field(description="Usable length (LU).")


class EndMill(Tool):
    """An end mill, also for teeth, keyways, pockets and thread milling."""

    kind: Literal["end mill"]
    diameter: PositiveLength = Field(description="Cutting diameter (DC).")
    teeth: int = Field(ge=1, le=30, description="Number of teeth (NOF).")
    corner_radius: Length = Field(default=parse(0, "length"), description="Corner radius (RE).")
    reach: PositiveLength = Field(description="Usable length (LU).")
    use: tuple[Literal["milling", "teeth", "turn-milling", "thread"], ...] = Field(
        default=("milling", "teeth"), description="What it is used for."
    )


class ChamferMill(Tool):
    """A chamfering or deburring mill for edges and tooth ends."""

    kind: Literal["chamfer mill"]
    diameter: PositiveLength = Field(description="Largest cutting diameter (DC).")
    teeth: int = Field(ge=1, le=20, description="Number of teeth (NOF).")
    reach: PositiveLength = Field(description="Usable length (LU).")
    use: tuple[Literal["edges", "teeth"], ...] = Field(
        default=("edges", "teeth"), description="What it is used for."
    )


class Hob(Tool):
    """A hob."""

    kind: Literal["hob"]
    module: ModuleField = Field(description="Normal module or normal diametral pitch.")
    pressure_angle: Angle = Field(default=_TWENTY, description="Normal pressure angle.")
    outside_diameter: PositiveLength = Field(description="Outside diameter.")
    length: PositiveLength = Field(description="Length of the toothed part.")
    starts: int = Field(default=1, ge=1, le=7, description="Number of starts.")
    gashes: int = Field(ge=6, le=40, description="Number of gashes.")
    hand: Hand = Field(description="Hand of the hob.")
    addendum: float = Field(default=1.25, gt=0.0, le=2.0, description="Addendum of the hob, in modules.")
    quality: Literal["AAA", "AA", "A", "B", "C"] = Field(default="A", description="Quality class of the hob.")
    stage: tuple[Literal["rough", "finish"], ...] = Field(
        default=("rough", "finish"), description="What it is fit for."
    )


class SkivingCutter(Tool):
    """A power-skiving cutter, made for one module, pressure angle and range of gears."""

    kind: Literal["skiving cutter"]
    module: ModuleField = Field(description="Normal module or normal diametral pitch.")
    pressure_angle: Angle = Field(default=_TWENTY, description="Normal pressure angle.")
    teeth: int = Field(ge=9, le=200, description="Number of teeth.")
    helix_angle: Angle = Field(default=parse(0, "angle"), description="Helix angle of the cutter.")
    hand: Hand | None = Field(default=None, description="Hand of its helix; none for a straight cutter.")
    outside_diameter: PositiveLength = Field(description="Outside diameter.")
    thickness: PositiveLength = Field(description="Length of the toothed part.")
    neck_diameter: PositiveLength = Field(description="Diameter of the neck behind the teeth (DN).")
    neck_length: PositiveLength = Field(description="Length of the neck up to the holder.")
    holder_diameter: PositiveLength = Field(description="Diameter of the holder behind the neck.")
    made_for: Literal["external", "internal", "both"] = Field(
        description="Gears that its profile is made for."
    )
    least_teeth: int = Field(default=1, ge=1, description="Smallest tooth number of the gear it is made for.")
    most_teeth: int = Field(
        default=2000, ge=1, description="Largest tooth number of the gear it is made for."
    )
    relief_angle: Angle = Field(default=_EIGHT, description="Relief of the tooth tips behind the edge.")
    flank_relief: Angle | None = Field(
        default=None,
        description="Relief of the flanks square to the edge; an estimate from that of the tips if left out.",
    )
    face: Literal["square to teeth", "square to axis"] = Field(
        default="square to teeth",
        description="Rake face: ground in steps square to each tooth, or one plane square to the axis.",
    )


class DiscCutter(Tool):
    """A disc cutter with the form of one tooth space, or a gashing disc for roughing."""

    kind: Literal["disc cutter"]
    module: ModuleField = Field(description="Module of the tooth space it cuts.")
    pressure_angle: Angle = Field(default=_TWENTY, description="Normal pressure angle.")
    outside_diameter: PositiveLength = Field(description="Outside diameter.")
    width: PositiveLength = Field(description="Width of the disc.")
    teeth: int = Field(ge=4, le=80, description="Number of effective teeth (ZEFP).")
    stage: tuple[Literal["rough", "finish"], ...] = Field(description="What it is fit for.")
    least_teeth: int = Field(default=12, ge=1, description="Smallest tooth number that its form is made for.")
    most_teeth: int = Field(default=2000, ge=1, description="Largest tooth number that its form is made for.")


class SlottingTool(Tool):
    """A slotting blade for keyways and internal splines, moved by the machine's slide."""

    kind: Literal["slotting"]
    width: PositiveLength = Field(description="Cutting width (CW).")
    least_bore: PositiveLength = Field(description="Smallest bore that it enters (DMIN).")
    reach: PositiveLength = Field(description="Usable length into a bore (LU).")


class EngravingTool(Tool):
    """A pointed mill or a scriber for text."""

    kind: Literal["engraving"]


class Probe(Tool):
    """A touch probe or a scanning probe."""

    kind: Literal["probe"]
    form: Literal["touch", "scanning"] = Field(default="touch", description="Touch or scanning.")
    ball_diameter: PositiveLength = Field(description="Diameter of the ball.")
    reach: PositiveLength = Field(description="Usable length (LU).")


class Nozzle(Tool):
    """A wash or chip-blowing nozzle in a tool holder."""

    kind: Literal["nozzle"]


AnyTool = Annotated[
    TurningTool
    | GroovingTool
    | ThreadingTool
    | Drill
    | Tap
    | Reamer
    | BoringHead
    | TrepanningTool
    | CounterboreTool
    | EndMill
    | ChamferMill
    | Hob
    | SkivingCutter
    | DiscCutter
    | SlottingTool
    | EngravingTool
    | Probe
    | Nozzle,
    Field(discriminator="kind"),
]
