"""Stock on turned surfaces: from the blank to the finished size, stage by stage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from sequencer.operations.closeness import hard_finished
from sequencer.operations.context import Context
from sequencer.operations.operation import Stage
from sequencer.operations.pilot import raw_bore
from sequencer.part import AnyFeature
from sequencer.part.profile import SAME
from sequencer.part.turned import Face
from sequencer.shop import Shop
from sequencer.units import Mm

#: Smallest stock that counts as material to be cut [mm].
NO_STOCK: Final[Mm] = 0.02

Place = Literal["outside", "inside", "face"]


@dataclass(frozen=True)
class Surface:
    """A surface of revolution that is turned.

    Parameters
    ----------
    place
        "outside", "inside" or "face".
    z_from, z_to
        Ends on the axis; equal for a face [mm].
    inner, outer
        Finished ring of a face; of a cylinder its finished diameter twice [mm].
    raw_inner, raw_outer
        Ring of the raw face; of a cylinder its raw diameter twice [mm].
    stock
        Stock per side, of a face along the axis [mm].
    """

    place: Place
    z_from: Mm
    z_to: Mm
    inner: Mm
    outer: Mm
    raw_inner: Mm
    raw_outer: Mm
    stock: Mm

    @property
    def length(self) -> Mm:
        """Length along the axis [mm]."""
        return self.z_to - self.z_from

    def diameter_at(self, left: Mm) -> Mm:
        """Diameter of a cylinder with so much stock left per side [mm].

        Parameters
        ----------
        left
            Stock left per side [mm].
        """
        return self.inner - 2 * left if self.place == "inside" else self.outer + 2 * left


@dataclass(frozen=True)
class TurnStage:
    """One stage of a turned surface.

    Parameters
    ----------
    word
        "rough", "semi", "finish" or "hard".
    stage
        Stage of the operation.
    removed
        Stock that it takes off, per side [mm].
    left
        Stock that it leaves, per side [mm].
    hard
        Side of the hardening: True after, False before, None if there is none.
    """

    word: str
    stage: Stage
    removed: Mm
    left: Mm
    hard: bool | None

    @property
    def finishing(self) -> bool:
        """Whether it is the last stage, for which the planner's wishes hold."""
        return self.stage in (Stage.FINISH, Stage.HARD)

    @property
    def table_stage(self) -> str:
        """Stage as the shop's table of conditions calls it."""
        return "rough" if self.stage is Stage.ROUGH else "finish"


def cylinder_surface(context: Context, place: Place, z_from: Mm, z_to: Mm, diameter: Mm) -> Surface:
    """Make the surface of a cylinder with the stock of the blank.

    Parameters
    ----------
    context
        Part and shop.
    place
        "outside" or "inside".
    z_from, z_to
        Ends on the axis [mm].
    diameter
        Finished diameter [mm].
    """
    inside = place == "inside"
    raw = raw_bore(context, z_from, z_to) if inside else float(context.part.blank.diameter)
    stock = (diameter - raw) / 2 if inside else (raw - diameter) / 2
    return Surface(place, z_from, z_to, diameter, diameter, raw, raw, max(stock, 0.0))


def surface_of(context: Context, feature: AnyFeature) -> Surface:
    """Make the surface that turning gives to a face, a cylinder or a cone.

    Parameters
    ----------
    context
        Part and shop.
    feature
        A face, turned diameter, bore or taper.
    """
    extent = context.section.extent(feature.name)
    if isinstance(feature, Face):
        return _face_surface(context, feature, extent.inner, extent.outer)
    inside = feature.kind == "bore" or getattr(feature, "place", "") == "inside"
    # A cone is roughed down to its deeper end and reckoned at its mean diameter.
    deepest = extent.outer if inside else extent.inner
    made = cylinder_surface(context, "inside" if inside else "outside", extent.z_from, extent.z_to, deepest)
    middle = (extent.inner + extent.outer) / 2
    return Surface(
        made.place, made.z_from, made.z_to, middle, middle, made.raw_inner, made.raw_outer, made.stock
    )


def _face_surface(context: Context, face: Face, inner: Mm, outer: Mm) -> Surface:
    """End faces carry the blank's stock; shoulders what turning beside them leaves."""
    z, blank, section = float(face.z), context.part.blank, context.section
    end = section.z_to if face.side == "upper" else section.z_from
    if abs(z - end) > SAME:
        return Surface("face", z, z, inner, outer, inner, outer, float(context.shop.stock.face))
    stock = float(blank.z_to) - z if face.side == "upper" else z - float(blank.z_from)
    raw_inner = min(raw_bore(context, z, z), inner) if inner > 0 else 0.0
    raw_outer = max(float(blank.diameter), outer)
    return Surface("face", z, z, inner, outer, raw_inner, raw_outer, max(stock, 0.0))


def _left_for_finish(shop: Shop, place: Place) -> Mm:
    stock = shop.stock
    return float({"outside": stock.turning, "inside": stock.bore, "face": stock.face}[place])


def stages_of(context: Context, feature: AnyFeature, surface: Surface) -> tuple[TurnStage, ...]:
    """Plan the stages of a turned surface.

    Roughing is planned from the house's stock limit on, and always on the black skin of forgings and
    castings. Case hardened parts get their datums and close sizes once more after hardening.

    Source: common practice, no source

    Parameters
    ----------
    context
        Part and shop.
    feature
        The feature.
    surface
        Its surface with the stock.
    """
    part, shop = context.part, context.shop
    soft = False if part.case_hardened else None
    black = part.blank.form in ("forging", "casting")
    leave = _left_for_finish(shop, surface.place)
    again = hard_finished(feature, part, shop)
    leave += float(shop.stock.grinding) if again else 0.0
    rough = surface.stock > leave + NO_STOCK and (black or surface.stock >= shop.limits.rough_from)
    stages: list[TurnStage] = []
    before = surface.stock
    if rough:
        stages.append(TurnStage("rough", Stage.ROUGH, surface.stock - leave, leave, soft))
        before = leave
    if not again:
        return (*stages, TurnStage("finish", Stage.FINISH, before, 0.0, soft))
    grinding = float(shop.stock.grinding)
    if before > grinding + NO_STOCK:
        stages.append(TurnStage("semi", Stage.SEMI, before - grinding, grinding, soft))
        before = grinding
    return (*stages, TurnStage("hard", Stage.HARD, before, 0.0, True))
