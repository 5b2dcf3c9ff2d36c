"""Involute spline of any standard: its diameters, circular size and measurement over pins."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, pi, radians

from sequencer.errors import OutOfRange
from sequencer.gears import over_balls
from sequencer.gears._ranges import check_range
from sequencer.units import Deg, Mm


@dataclass(frozen=True)
class SplineLimits:
    """Limits of a toleranced spline.

    Parameters
    ----------
    effective_upper, effective_lower
        Limits of the effective space width or tooth thickness, which include form deviations [mm].
    actual_upper, actual_lower
        Limits of the actual space width or tooth thickness [mm].
    major_upper, major_lower
        Limits of the major diameter; None where only the widths are known [mm].
    minor_upper, minor_lower
        Limits of the minor diameter; None where only the widths are known [mm].
    """

    effective_upper: Mm
    effective_lower: Mm
    actual_upper: Mm
    actual_lower: Mm
    major_upper: Mm | None = None
    major_lower: Mm | None = None
    minor_upper: Mm | None = None
    minor_lower: Mm | None = None


@dataclass(frozen=True)
class PinSize:
    """Measurement over two pins, between them for an internal spline.

    Parameters
    ----------
    pin_diameter
        Diameter of the pins [mm].
    nominal
        Measurement at the basic size [mm].
    upper, lower
        Limits of the measurement; the nominal if the spline has no limits [mm].
    contact_diameter
        Diameter at which the pins touch at the basic size [mm].
    """

    pin_diameter: Mm
    nominal: Mm
    upper: Mm
    lower: Mm
    contact_diameter: Mm


@dataclass(frozen=True)
class SplineData:
    """What the drawing block of one involute spline says.

    Parameters
    ----------
    standard
        Standard of the spline.
    designation
        Designation after the standard.
    internal
        Whether it is the hub's spline.
    teeth
        Number of teeth [-].
    module
        Module [mm].
    pressure_angle
        Pressure angle at the pitch diameter [deg].
    profile_shift
        Profile shift factor, 0 in most standards [-].
    major_diameter
        Basic major diameter: least of a hub, greatest of a shaft [mm].
    minor_diameter
        Basic minor diameter: least of a hub, greatest of a shaft [mm].
    form_diameter
        Diameter to which the involute must reach at the root of the teeth [mm].
    circular_size
        Basic space width of a hub or basic tooth thickness of a shaft at the pitch diameter [mm].
    pins
        Pin diameters that the standard prefers, first the best; may be empty [mm].
    limits
        Limits by class and fit; None if the drawing gives none.
    """

    standard: str
    designation: str
    internal: bool
    teeth: int
    module: Mm
    pressure_angle: Deg
    profile_shift: float
    major_diameter: Mm
    minor_diameter: Mm
    form_diameter: Mm
    circular_size: Mm
    pins: tuple[Mm, ...] = ()
    limits: SplineLimits | None = None

    def __post_init__(self) -> None:
        if not 0.0 < self.minor_diameter < self.major_diameter:
            raise OutOfRange(
                f"minor diameter {self.minor_diameter:.6g} mm, major diameter {self.major_diameter:.6g} mm",
                where=self.designation,
                limit="the minor diameter is above 0 and below the major diameter",
                remedy="Correct the teeth, the module or the reference diameter",
            )

    @property
    def pitch(self) -> Mm:
        """Circular pitch [mm]."""
        return pi * self.module

    @property
    def base_pitch(self) -> Mm:
        """Base pitch [mm]."""
        return self.pitch * cos(radians(self.pressure_angle))

    @property
    def pitch_diameter(self) -> Mm:
        """Pitch diameter [mm]."""
        return self.module * self.teeth

    @property
    def base_diameter(self) -> Mm:
        """Base diameter [mm]."""
        return self.pitch_diameter * cos(radians(self.pressure_angle))

    @property
    def tooth_depth(self) -> Mm:
        """Radial distance from minor to major diameter [mm]."""
        return (self.major_diameter - self.minor_diameter) / 2.0

    def pin_size(
        self,
        pin_diameter: Mm | None = None,
        *,
        upper_allowance: Mm | None = None,
        lower_allowance: Mm | None = None,
    ) -> PinSize:
        """Give the measurement over pins, between them for a hub, with its limits.

        Parameters
        ----------
        pin_diameter
            Pin diameter of the drawing; None to take the standard's or the best of the stock sizes [mm].
        upper_allowance, lower_allowance
            Allowances of the actual space width or tooth thickness; None for the limits of the class [mm].

        Raises
        ------
        OutOfRange
            When the pin, or every pin of the stock sizes, does not touch the flanks.
        """
        sizes = self._sizes(upper_allowance, lower_allowance)
        if pin_diameter is not None:
            check_range("pin diameter", pin_diameter, 0.0, float("inf"), unit="mm", where=self.designation)
            return self._over_pin(pin_diameter, sizes)
        for pin in self.pins:
            try:
                return self._over_pin(pin, sizes)
            except OutOfRange:
                continue
        return self._best_pin(sizes)

    def _sizes(self, upper: Mm | None, lower: Mm | None) -> tuple[Mm, Mm, Mm]:
        """Give basic, upper and lower circular size."""
        basic, limits = self.circular_size, self.limits
        high = limits.actual_upper if limits is not None else basic
        low = limits.actual_lower if limits is not None else basic
        high = high if upper is None else basic + upper
        low = low if lower is None else basic + lower
        if not 0.0 < low <= high < self.pitch:
            raise OutOfRange(
                f"circular size from {low:.6g} to {high:.6g} mm",
                where=self.designation,
                limit=f"lower at most upper, both above 0 and below the pitch {self.pitch:.6g} mm",
                remedy="Correct the allowances",
            )
        return basic, high, low

    def _best_pin(self, sizes: tuple[Mm, Mm, Mm]) -> PinSize:
        target = self.pitch_diameter + 2.0 * self.profile_shift * self.module
        found = list(self._fitting_pins(sizes))
        if not found:
            raise OutOfRange(
                "no pin of the stock sizes touches both flanks and stands out over the teeth",
                where=self.designation,
                limit=f"stock sizes {over_balls.BALL_DIAMETERS[0]:g} to {over_balls.BALL_DIAMETERS[-1]:g} mm",
                remedy="Give the pin diameter of the drawing or a gauge",
            )
        return min(found, key=lambda size: abs(size.contact_diameter - target))

    def _fitting_pins(self, sizes: tuple[Mm, Mm, Mm]) -> Iterable[PinSize]:
        for pin in over_balls.BALL_DIAMETERS:
            if 0.8 * self.module <= pin <= 4.0 * self.module:
                try:
                    yield self._over_pin(pin, sizes)
                except OutOfRange:
                    continue

    def _over_pin(self, pin: Mm, sizes: tuple[Mm, Mm, Mm]) -> PinSize:
        (nominal, contact), (upper, _), (lower, _) = (self._measure(pin, size) for size in sizes)
        tip = self.minor_diameter if self.internal else self.major_diameter
        inner, outer = sorted((self.form_diameter, tip))
        inner = max(inner, self.base_diameter)
        if not inner <= contact <= outer:
            raise OutOfRange(
                f"a pin of {pin:g} mm touches at diameter {contact:.3f} mm",
                where=self.designation,
                limit=f"on the flank, {inner:.3f} to {outer:.3f} mm",
                remedy="Use another pin",
            )
        return PinSize(pin, nominal, max(upper, lower), min(upper, lower), contact)

    def _measure(self, pin: Mm, circular_size: Mm) -> tuple[Mm, Mm]:
        """Give the measurement and the diameter of contact."""
        thickness = self.pitch - circular_size if self.internal else circular_size
        centre_involute = over_balls.ball_centre_involute(
            self.module, self.teeth, pin, thickness, self.pressure_angle, internal=self.internal
        )
        base = self.base_diameter
        contact = over_balls.ball_contact_diameter(base, centre_involute, pin, internal=self.internal)
        centre = over_balls.ball_centre_diameter(base, centre_involute)
        self._check_stands_out(pin, centre)
        return over_balls.measurement_over_balls(centre, pin, self.teeth, internal=self.internal), contact

    def _check_stands_out(self, pin: Mm, centre: Mm) -> None:
        """Refuse a pin that is hidden below the tips or rests on the root."""
        tip = self.minor_diameter if self.internal else self.major_diameter
        root = self.major_diameter if self.internal else self.minor_diameter
        at_tip = centre - pin if self.internal else centre + pin
        at_root = centre + pin if self.internal else centre - pin
        hidden = at_tip >= tip if self.internal else at_tip <= tip
        on_root = at_root > root if self.internal else at_root < root
        if hidden or on_root:
            fault = "does not stand out over the tips" if hidden else "rests on the root"
            raise OutOfRange(
                f"a pin of {pin:g} mm {fault}",
                where=self.designation,
                limit=f"tip diameter {tip:.3f} mm, root diameter {root:.3f} mm",
                remedy="Use a larger pin",
            )
