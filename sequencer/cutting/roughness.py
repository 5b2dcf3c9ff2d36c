"""Roughness that the feed leaves, and the feed for a wanted roughness."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, not_negative
from sequencer.units import Micrometre, Mm


def turned_rt(feed: Mm, nose_radius: Mm) -> Micrometre:
    """Theoretical peak-to-valley height in turning, R_t = 1000 f^2 / (8 r).

    Source: Mitsubishi Materials, Technical information, theoretical surface roughness.

    Parameters
    ----------
    feed
        Feed per revolution [mm].
    nose_radius
        Nose radius of the insert [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("roughness", feed=feed, nose_radius=nose_radius)
    return 1000 * feed**2 / (8 * nose_radius)


def turned_ra(feed: Mm, nose_radius: Mm) -> Micrometre:
    """Theoretical mean roughness in turning, about a quarter of R_t: R_a = 1000 f^2 / (32 r).

    Source: handbook approximation, from memory.

    Parameters
    ----------
    feed
        Feed per revolution [mm].
    nose_radius
        Nose radius of the insert [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    return turned_rt(feed, nose_radius) / 4


def largest_feed_for_ra(ra: Micrometre, nose_radius: Mm) -> Mm:
    """Largest turning feed that keeps the theoretical R_a, f = sqrt(32 r R_a / 1000).

    Source: derived from R_a = 1000 f^2 / (32 r).

    Parameters
    ----------
    ra
        Mean roughness allowed [um].
    nose_radius
        Nose radius of the insert [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("feed for roughness", ra=ra, nose_radius=nose_radius)
    return math.sqrt(32 * nose_radius * ra / 1000)


def nose_radius_shift(old_radius: Mm, new_radius: Mm, factor: float) -> Mm:
    """Shift of the edge position when the nose radius changes, k (r_old - r_new).

    Source: Kyocera catalogue 2016, basic formulas of turning, page 952.

    Parameters
    ----------
    old_radius
        Nose radius before [mm].
    new_radius
        Nose radius after [mm].
    factor
        Factor of the insert shape and edge angle in this axis [-].

    Raises
    ------
    OutOfRange
        When a radius or the factor is negative.
    """
    not_negative("nose radius", old_radius=old_radius, new_radius=new_radius, factor=factor)
    return factor * (old_radius - new_radius)
