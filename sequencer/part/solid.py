"""Volume, centre and moment of inertia of turned bodies, as sums over cone frustums."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import pi

from sequencer.part.profile import Piece
from sequencer.units import Mm


@dataclass(frozen=True)
class Solid:
    """Integrals of a body round the axis; solids add and subtract.

    Parameters
    ----------
    volume
        Volume [mm3].
    moment
        Volume times height of its centre [mm4].
    polar
        Volume times square of the radius about the axis [mm5].
    """

    volume: float = 0.0
    moment: float = 0.0
    polar: float = 0.0

    def __add__(self, other: Solid) -> Solid:
        return Solid(self.volume + other.volume, self.moment + other.moment, self.polar + other.polar)

    def __sub__(self, other: Solid) -> Solid:
        return Solid(self.volume - other.volume, self.moment - other.moment, self.polar - other.polar)

    @property
    def centre(self) -> Mm:
        """Height of the centre [mm]; 0 for a body without volume."""
        return self.moment / self.volume if self.volume else 0.0

    def mass(self, density: float) -> float:
        """Give the mass [kg].

        Source: derived

        Parameters
        ----------
        density
            Density [kg/dm3].
        """
        return self.volume * density * 1e-6

    def inertia(self, density: float) -> float:
        """Give the moment of inertia about the axis [kg m2].

        Source: derived

        Parameters
        ----------
        density
            Density [kg/dm3].
        """
        return self.polar * density * 1e-12


def frustum(z_from: Mm, z_to: Mm, lower: Mm, upper: Mm) -> Solid:
    """Give the integrals of a cone frustum on the axis.

    Source: derived: V = pi h (R2 + R r + r2) / 3, J = pi h (R4 + R3 r + R2 r2 + R r3 + r4) / 10

    Parameters
    ----------
    z_from, z_to
        Ends on the axis [mm].
    lower, upper
        Diameters at the ends [mm].
    """
    height, below, above = z_to - z_from, lower / 2, upper / 2
    squares = below**2 + below * above + above**2
    volume = pi * height * squares / 3
    rise = pi * height**2 * (below**2 + 2 * below * above + 3 * above**2) / 12
    fourths = below**4 + below**3 * above + below**2 * above**2 + below * above**3 + above**4
    return Solid(volume, volume * z_from + rise, pi * height * fourths / 10)


def of_pieces(pieces: Iterable[Piece]) -> Solid:
    """Give the integrals of the body inside a profile; teeth count as solid up to their mean diameter.

    Source: derived

    Parameters
    ----------
    pieces
        Pieces of a profile.
    """
    total = Solid()
    for piece in pieces:
        lower = (piece.lower + piece.root_lower) / 2
        upper = (piece.upper + piece.root_upper) / 2
        total += frustum(piece.z_from, piece.z_to, lower, upper)
    return total


def ring(z_from: Mm, z_to: Mm, inner: Mm, outer: Mm) -> Solid:
    """Give the integrals of a cylindrical ring.

    Source: derived

    Parameters
    ----------
    z_from, z_to
        Ends on the axis [mm].
    inner, outer
        Diameters [mm].
    """
    return frustum(z_from, z_to, outer, outer) - frustum(z_from, z_to, inner, inner)


def lumps(count: int, volume: float, z: Mm, radius: Mm) -> Solid:
    """Give the integrals of equal small bodies round the axis, each taken as a point.

    Source: derived

    Parameters
    ----------
    count
        Number of bodies.
    volume
        Volume of one [mm3].
    z
        Height of their centres [mm].
    radius
        Distance of their centres from the axis [mm].
    """
    total = count * volume
    return Solid(total, total * z, total * radius**2)
