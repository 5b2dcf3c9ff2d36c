"""Errors of this shop, each with the place where it can be changed and whether it is an estimate."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.part.quantities import Record
from sequencer.shop import ClampingMeans, Shop
from sequencer.tolerancing.situation import Instrument, Reclamping
from sequencer.units import Deg, Micrometre, Mm, shown

_JAWS = 20.0
_BOLTS = 4.0


@dataclass(frozen=True)
class ShopValue:
    """A value of the shop.

    Parameters
    ----------
    value
        The value, in um, deg or K.
    place
        Key of the shop file that gives it or would give it.
    estimate
        True if the shop file does not give it.
    formula
        How it comes about; empty if it is given as it is.
    """

    value: float
    place: str
    estimate: bool
    formula: str = ""

    @property
    def source(self) -> str:
        """Source for a fact."""
        return f"estimate, {self.place} is not given" if self.estimate else f"shop file, {self.place}"

    @property
    def change(self) -> str:
        """Where to change it."""
        return f"shop file, key {self.place}"


def _of(record: Record, key: str, where: str, factor: float = 1000.0) -> ShopValue:
    given = key in record.model_fields_set
    return ShopValue(factor * float(getattr(record, key)), f"{where}.{key}", not given)


def linear_x(shop: Shop) -> ShopValue:
    """Positioning of the X axis [um].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    """
    return _axis(shop, "x")


def linear_z(shop: Shop) -> ShopValue:
    """Positioning of the Z axis [um].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    """
    return _axis(shop, "z")


def _axis(shop: Shop, axis: str) -> ShopValue:
    capability = shop.machine.capability
    if getattr(capability, axis) is not None:
        return _of(capability, axis, "machine.capability")
    return _of(capability, "linear", "machine.capability")


def repeatability(shop: Shop) -> ShopValue:
    """What stays of a size that is measured and corrected, per side [um].

    Source: shop file; half the positioning of X if it gives none, common practice, no source

    Parameters
    ----------
    shop
        The shop.
    """
    capability = shop.machine.capability
    if capability.repeatability is not None:
        return _of(capability, "repeatability", "machine.capability")
    half = linear_x(shop).value / 2
    return ShopValue(half, "machine.capability.repeatability", True, "half of the positioning of X")


def angular(shop: Shop) -> ShopValue:
    """Positioning of the table as C axis [deg].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    """
    return _of(shop.machine.capability, "angular", "machine.capability", 1.0)


def table_runout(shop: Shop) -> ShopValue:
    """Runout of the table [um].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    """
    return _of(shop.machine.capability, "spindle_runout", "machine.capability")


def squareness(shop: Shop) -> ShopValue:
    """Error of travel against the table axis over one metre [um].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    """
    return _of(shop.machine.capability, "squareness", "machine.capability")


def eccentricity(shop: Shop, reclamping: Reclamping) -> ShopValue:
    """Eccentricity that stays after re-clamping and indicating [um].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    reclamping
        What the part is put into; a raw surface that shows the axis leaves half of the blank's runout.
    """
    if reclamping.raw:
        raw = _of(shop.accuracy, "blank_runout", "accuracy", 500.0)
        return ShopValue(raw.value, raw.place, raw.estimate, "half of the runout of the raw blank")
    return _of_means(shop, reclamping.means, "reclamping")


def tilt(shop: Shop, reclamping: Reclamping) -> ShopValue:
    """Face wobble that stays after re-clamping, over one metre [um].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    reclamping
        What the part is put into; a raw seat leaves the runout of the blank.
    """
    if reclamping.raw:
        return _of(shop.accuracy, "blank_runout", "accuracy")
    return _of_means(shop, reclamping.means, "reclamping_tilt")


def _of_means(shop: Shop, means: ClampingMeans, key: str) -> ShopValue:
    if getattr(means, key) is not None:
        return _of(means, key, f"clamping_means.{means.name}")
    return _of(shop.machine.capability, key, "machine.capability")


def height_zero(shop: Shop) -> ShopValue:
    """Error of a zero along the axis that is set anew: the seat is probed [um].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    """
    return _of(shop.accuracy.measuring, "indicator", "accuracy.measuring")


def release_distortion(means: ClampingMeans, low_force: bool) -> ShopValue:
    """How far a diameter of one metre springs when the means lets go [um].

    Source: shop file; else common practice, no source: 20 um for jaws, 4 um for bolts and face plates

    Parameters
    ----------
    means
        What holds the part.
    low_force
        True if it is finished with the lower force; the spring follows the force.
    """
    if means.release_distortion is not None:
        full = _of(means, "release_distortion", f"clamping_means.{means.name}")
    else:
        usual = _JAWS if "jaws" in means.hold else _BOLTS
        full = ShopValue(usual, f"clamping_means.{means.name}.release_distortion", True)
    if not low_force or means.finishing_force is None:
        return full
    part = float(means.finishing_force) / float(means.force)
    formula = f"{shown(full.value, 1)} um at full force * {shown(means.finishing_force / 1000, 1)} kN/"
    return ShopValue(
        full.value * part, full.place, full.estimate, f"{formula}{shown(means.force / 1000, 1)} kN"
    )


def stress_distortion(shop: Shop) -> ShopValue:
    """How far a stressed blank of one metre moves when it is released after roughing [um].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    """
    return _of(shop.accuracy, "stress_distortion", "accuracy")


def heat_distortion(shop: Shop, kind: str) -> ShopValue:
    """How far a size of one metre moves in a heat treatment [um].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    kind
        Kind of heat treatment as the part file names it.
    """
    return _of(shop.accuracy.heat, kind.replace(" ", "_"), "accuracy.heat")


def temperature_difference(shop: Shop, warm: bool) -> ShopValue:
    """Difference of temperature that is left when a size is finished [K].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    warm
        True after heavy roughing without a wait.
    """
    return _of(shop.accuracy, "warm_difference" if warm else "temperature_difference", "accuracy", 1.0)


def uncertainty(shop: Shop, instrument: Instrument, size: Mm) -> ShopValue:
    """Expanded uncertainty of measuring, U = U0 + u L [um].

    Source: shop file; form as for measuring machines in ISO 10360-2, from memory

    Parameters
    ----------
    shop
        The shop.
    instrument
        What it is measured with.
    size
        Size that is measured; 0 for form, runout and teeth [mm].
    """
    key = {
        Instrument.PROBE: "probe",
        Instrument.HAND: "gauge",
        Instrument.INDICATOR: "indicator",
        Instrument.TEETH: "teeth",
        Instrument.INDEPENDENT: "independent",
    }[instrument]
    base = _of(shop.accuracy.measuring, key, "accuracy.measuring")
    if key in ("indicator", "teeth") or size == 0:
        return base
    slope = _of(shop.accuracy.measuring, f"{key}_per_metre", "accuracy.measuring")
    value: Micrometre = base.value + slope.value * size / 1000
    formula = f"U0 + u L = {shown(base.value, 2)} + {shown(slope.value, 2)}*{shown(size / 1000, 4)} m"
    return ShopValue(value, base.place, base.estimate or slope.estimate, formula)


def independent_teeth(shop: Shop) -> ShopValue:
    """Expanded uncertainty of an independent gear measuring machine [um].

    Source: shop file

    Parameters
    ----------
    shop
        The shop.
    """
    return _of(shop.accuracy.measuring, "independent_teeth", "accuracy.measuring")


def arc(angle: Deg) -> str:
    """Write a small angle in seconds of arc.

    Source: derived

    Parameters
    ----------
    angle
        The angle [deg].
    """
    return f"{shown(3600 * angle, 1)} arcsec"
